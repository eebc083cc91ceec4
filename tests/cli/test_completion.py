"""What the shell offers behind TAB: every command and option of the parser, styles and folders. bash is asked itself."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from godet.cli.main import main
from support.commands import commands

SHELLS = ("bash", "zsh", "fish")


@pytest.fixture
def texts(capsys: pytest.CaptureFixture[str]) -> dict[str, str]:
    made = {}
    for shell in SHELLS:
        assert main(["completion", shell]) == 0
        made[shell] = capsys.readouterr().out
    return made


def offered(text: str, folder: Path, *words: str) -> set[str]:
    """What bash offers for the last of some words."""
    source = folder / "completion.bash"
    source.write_text(text, "utf-8")
    quoted = " ".join(f"'{word}'" for word in words)
    typed = f"COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}"
    asked = f"source {source}; {typed}; _shtab_godet; printf '%s\\n' \"${{COMPREPLY[@]}}\""
    ran = subprocess.run(["bash", "-c", asked], cwd=folder, capture_output=True, text=True, check=True)
    return set(ran.stdout.split())


@pytest.mark.skipif(shutil.which("bash") is None, reason="bash is not installed")
def test_bash_offers_commands_options_choices_styles_and_folders(texts: dict[str, str], tmp_path: Path) -> None:
    for name in ("skirt.style", "notes.txt", "anna.toml"):
        (tmp_path / name).touch()
    (tmp_path / "patterns").mkdir()
    bash = texts["bash"]
    assert set(commands()) <= offered(bash, tmp_path, "godet", "")
    assert {"skirt.style", "patterns"} == offered(bash, tmp_path, "godet", "check", "")
    assert {"--body", "--sizes", "--watch", "--format"} <= offered(bash, tmp_path, "godet", "check", "--")
    assert offered(bash, tmp_path, "godet", "build", "--paper", "") == {"a4", "a3", "letter", "legal"}
    assert offered(bash, tmp_path, "godet", "check", "skirt.style", "--body", "an") == {"anna.toml"}


@pytest.mark.parametrize("shell", SHELLS)
def test_every_command_and_option_stands_in_the_text_for_each_shell(shell: str, texts: dict[str, str]) -> None:
    for name, command in commands().items():
        assert name in texts[shell]
        for action in command._actions:
            for option in (one for one in action.option_strings if one.startswith("--")):
                assert option.removeprefix("--") in texts[shell]


@pytest.mark.parametrize("shell", SHELLS)
def test_a_shell_that_is_there_reads_its_text(shell: str, texts: dict[str, str], tmp_path: Path) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not installed")
    path = tmp_path / f"completion.{shell}"
    path.write_text(texts[shell], "utf-8")
    subprocess.run([shell, "-n", str(path)], check=True, env=os.environ)
