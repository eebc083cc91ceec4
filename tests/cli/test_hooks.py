"""The hooks of `.pre-commit-hooks.yaml`, in a fresh clone: what they say, and what they do with the files that are staged."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest
from godet.cli.main import main
from support.commands import TEXTS
from support.style_runs import PATTERNS, ROOT

HOOKS = ROOT / ".pre-commit-hooks.yaml"
KEYS = {"id", "name", "description", "entry", "language", "files"}
"""Keys of the standard that are used here; `id`, `name`, `entry` and `language` must be there."""


def hooks() -> dict[str, dict[str, str]]:
    """Each hook by its id. The file is a list of flat mappings, each line a key and its text, which is all that is read here."""
    found: dict[str, dict[str, str]] = {}
    for line in HOOKS.read_text("utf-8").splitlines():
        dash, key, value = re.fullmatch(r"(- |  )(\w+): (\S.*)", line).groups()  # type: ignore[union-attr]
        if dash == "- ":
            assert key == "id"
            found[value] = {}
        one = found[[*found][-1]]
        assert key not in one
        one[key] = value
    return found


def test_the_file_says_what_a_hook_must_say() -> None:
    for one in hooks().values():
        assert set(one) == KEYS
        assert one["language"] == "python"
        assert one["entry"].startswith("godet ")
        assert re.search(one["files"], "patterns/concert_top.style")
        assert not re.search(one["files"], "patterns/concert_top_alto_3.svg")


def staged(folder: Path) -> list[str]:
    told = subprocess.run(["git", "diff", "--cached", "--name-only"], cwd=folder, capture_output=True, text=True, check=True)
    return told.stdout.split()


def ran(entry: str, files: list[str]) -> int:
    """The exit code of a hook that gets files behind its entry, in the folder one stands in."""
    program, *arguments = shlex.split(entry)
    assert program == "godet"
    return main([*arguments, *files])


@pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")
def test_hooks_in_a_fresh_clone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    origin, clone = tmp_path / "origin", tmp_path / "clone"
    (origin / "styles").mkdir(parents=True)
    shutil.copy(PATTERNS / "concert_top.style", origin / "styles")
    for command in (["init", "-q"], ["add", "-A"], ["-c", "user.name=a", "-c", "user.email=a@b", "commit", "-qm", "styles"]):
        subprocess.run(["git", *command], cwd=origin, check=True)
    subprocess.run(["git", "clone", "-q", str(origin), str(clone)], check=True)
    shutil.copy(PATTERNS / "long_top.style", clone / "styles")  # it is built from the one that is there
    shutil.copy(PATTERNS / "gored_skirt.style", clone / "styles")
    subprocess.run(["git", "add", "-A"], cwd=clone, check=True)
    monkeypatch.chdir(clone)  # where a hook is run, files being told from there
    entries = {name: one["entry"] for name, one in hooks().items()}
    assert len(staged(clone)) == 2
    assert {name: ran(entry, staged(clone)) for name, entry in entries.items()} == dict.fromkeys(entries, 0)
    (clone / "styles" / "ugly.style").write_text(TEXTS["UGLY"], "utf-8")
    (clone / "styles" / "bad.style").write_text(TEXTS["BAD"], "utf-8")
    assert ran(entries["godet-fmt"], ["styles/gored_skirt.style", "styles/ugly.style"]) == 1
    assert ran(entries["godet-check"], ["styles/bad.style", "styles/gored_skirt.style"]) == 2
