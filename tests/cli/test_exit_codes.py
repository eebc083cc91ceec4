"""Exit codes of every command: those that README tells, and no others."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from godet.cli.main import main
from support.commands import ALTO, SKIRT, commands, styles
from support.style_runs import ROOT

CODES: dict[str, dict[int, list[str]]] = {
    "new": {0: ["new", "mine", "--of", "skirt"], 2: ["new", "No name", "--of", "skirt"]},
    "build": {0: ["build", "ALTO_SKIRT", "--out", "out"], 1: ["build", "FAILS", "--out", "out"], 2: ["build", "BAD"]},
    "check": {0: ["check", "ALTO_SKIRT"], 1: ["check", "FAILS"], 2: ["check", "BAD"]},
    "report": {0: ["report", "ALTO_SKIRT"], 1: ["report", "FAILS"], 2: ["report", "BAD"]},
    "grade": {0: ["grade", "SIZES"], 2: ["grade", "BAD"]},
    "prove": {1: ["prove", "FAILS_OF_TWO"], 2: ["prove", "BAD"]},
    "diff": {0: ["diff", "SKIRT", "SKIRT"], 1: ["diff", "SKIRT", "UGLY"], 2: ["diff", "BAD", "SKIRT"]},
    "explain": {0: ["explain", "SKIRT", "front.hem", "--body", ALTO], 2: ["explain", "SKIRT", "nothing", "--body", ALTO]},
    "fmt": {0: ["fmt", "--check", "SKIRT"], 1: ["fmt", "--check", "UGLY"], 2: ["fmt", "--check", "BAD"]},
    "measures": {0: ["measures", "SKIRT"], 2: ["measures", "BAD"]},
    "words": {0: ["words", "pivot"], 2: ["words", "qqqqq"]},
    "completion": {0: ["completion", "bash"], 2: ["completion", "no_shell"]},
}
"""By command a way to each exit code that it may end with."""
ALWAYS = {"new", "explain", "grade", "measures", "words", "completion"}
"""Commands in which nothing is held against anything: they end with 0, or with 2."""


CASES = [(command, code, way) for command, ways in CODES.items() for code, way in ways.items()]


@pytest.mark.parametrize(("command", "code", "way"), CASES, ids=[f"{command}-{code}" for command, code, _ in CASES])
def test_each_command_ends_with_the_codes_that_are_told(
    command: str, code: int, way: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = styles(tmp_path)
    monkeypatch.chdir(tmp_path)
    arguments = [part for one in way for part in known.get(one, [one])]
    try:
        ended = main(arguments)
    except SystemExit as refused:  # by the parser
        ended = int(str(refused.code))
    assert ended == code


@pytest.mark.parametrize("command", commands())
def test_every_command_is_helped_with_0_and_refuses_an_option_nobody_has_with_2(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    for option, code in (("--help", 0), ("--no-such-option", 2)):
        with pytest.raises(SystemExit) as ended:
            main([command, option])
        assert ended.value.code == code
    told = capsys.readouterr()
    assert f"usage: godet {command}" in told.out
    assert "usage:" in told.err


@pytest.mark.parametrize("command", commands())
def test_readme_tells_the_codes_of_every_command(command: str) -> None:
    text = (ROOT / "README.md").read_text("utf-8").partition("\n## Exit codes\n")[2].partition("\n## ")[0]
    rows = dict(re.findall(r"^\| `(\w+)` \|(.*)\|$", text, re.M))
    cells = [cell.strip() for cell in rows[command].split("|")]
    told = {code for code, cell in enumerate(cells) if cell}
    assert told == ({0, 2} if command in ALWAYS else {0, 1, 2})
    assert set(CODES[command]) <= told


def test_of_several_styles_the_worst_code_counts_and_all_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    known = styles(tmp_path)
    bad, fails = known["BAD"][0], known["FAILS"][0]
    assert main(["check", SKIRT, fails]) == 0
    assert main(["check", SKIRT, fails, "--body", ALTO]) == 1
    assert main(["check", bad, SKIRT, fails, "--body", ALTO]) == 2
    told = capsys.readouterr()
    assert "bad.style" in told.err
    assert f"{SKIRT}:\nalto 3: " in told.out
    assert f"{fails}:\nalto 3: " in told.out
