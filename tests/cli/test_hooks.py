"""The hooks of `.pre-commit-hooks.yaml`, in a fresh clone: what they say, and what they do with the files that are staged."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest
import yaml
from godet.cli.arguments import parser
from godet.cli.main import main
from support.commands import TEXTS
from support.style_runs import PATTERNS, ROOT

HOOKS = ROOT / ".pre-commit-hooks.yaml"
PAGE = ROOT / "compiler" / "cli" / "TEAMS.md"
KEYS = {"id", "name", "description", "entry", "language", "files"}
"""Keys of the standard that are used here; `id`, `name`, `entry` and `language` must be there."""


def hooks() -> dict[str, dict[str, str]]:
    """Each hook by its id."""
    return {one["id"]: one for one in yaml.safe_load(HOOKS.read_text("utf-8"))}


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


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", PAGE.read_text("utf-8"), re.S)


def test_the_page_for_teams_names_hooks_that_are_there_and_has_a_workflow_that_is_one() -> None:
    config, more, workflow = (yaml.safe_load(one) for one in blocks("yaml"))
    asked = [one["id"] for one in (*config["repos"][0]["hooks"], *more)]
    assert set(asked) == set(hooks())
    assert [step for step in workflow["jobs"]["check"]["steps"] if "run" in step]


@pytest.mark.parametrize("page", ["README.md", "compiler/cli/TEAMS.md"])
def test_every_command_of_a_page_is_one(page: str) -> None:
    text = (ROOT / page).read_text("utf-8")
    told = re.findall(r"^(?:      - run: )?godet (.*)$", text, re.M)
    assert len(told) > 5
    for one in told:
        arguments = shlex.split(one.partition(" > ")[0], comments=True)
        assert parser().parse_args(arguments).command == arguments[0]


def test_what_ci_is_told_to_run_holds_on_the_styles_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    strict, layout, check, *_ = blocks("sh")[1].splitlines()
    assert strict == "set -e"
    few = {"patterns/*.style": ["patterns/gored_skirt.style", "patterns/long_top.style"]}
    for line in (layout, check):
        assert main([part for one in shlex.split(line)[1:] for part in few.get(one, [one])]) == 0
