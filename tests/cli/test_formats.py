"""What commands print for other programs keeps to the schema that they print."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

import pytest
from godet import schema
from godet.cli.main import main
from godet.output.schema import RECORDS
from support.commands import ALTO, CHART, SKIRT, TEXTS, commands, styles
from support.schemas import keeps_to
from support.style_runs import INVENTED, PATTERNS

PLEATED = str(PATTERNS / "pleated_skirt.style")
SIZES = ["--sizes", CHART, "--only", "88,92"]
WAYS = {
    "build": [["build", SKIRT, "--body", ALTO, "--out", "out"], ["build", "BAD"], ["build", SKIRT, "--clients", "two.csv"]],
    "check": [["check", SKIRT, "BAD", "--body", ALTO], ["check", "FAILS", "--body", ALTO], ["check", SKIRT]],
    "diff": [["diff", SKIRT, PLEATED, "--body", ALTO], ["diff", SKIRT, SKIRT], ["diff", "BAD", SKIRT]],
    "explain": [["explain", SKIRT, "front.hem", "--body", ALTO], ["explain", SKIRT, "nothing", "--body", ALTO]],
    "fmt": [["fmt", "--check", SKIRT, "UGLY", "BAD"]],
    "grade": [["grade", SKIRT, *SIZES]],
    "measures": [["measures"], ["measures", SKIRT, "--body", ALTO], ["measures", "BAD"]],
    "prove": [["prove", "FAILS", "--population", "two.csv"]],
    "rates": [["grade", SKIRT, *SIZES, "--rates"]],
    "report": [["report", SKIRT, "--body", ALTO]],
    "words": [["words"], ["words", "pivot"], ["words", "puff", "sleeve"]],
}


def offers(command: argparse.ArgumentParser) -> bool:
    return any("--format" in one.option_strings for one in command._actions)


def test_every_command_with_a_format_has_a_schema_and_a_test() -> None:
    assert {name for name, one in commands().items() if offers(one)} | {"rates"} == set(RECORDS) == set(WAYS)


@pytest.mark.parametrize("command", RECORDS)
def test_every_command_prints_its_schema(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    given = ["grade", "--rates"] if command == "rates" else [command]
    with pytest.raises(SystemExit) as ended:
        main([*given, "--schema"])
    assert ended.value.code == 0
    assert json.loads(capsys.readouterr().out) == schema(command)


def test_what_is_never_json_is_refused_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for option in (["--all"], ["--figures", str(tmp_path)]):
        assert main(["words", *option, "--format", "json"]) == 2
        assert option[0] in capsys.readouterr().err
    assert not [*tmp_path.iterdir()]


def ran(way: list[str], folder: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, Any, str]:
    """The exit code of a command, its JSON, and what it tells beside."""
    known = styles(folder)
    code = main([*(known[one][0] if one in known else one for one in way), "--format", "json"])
    told = capsys.readouterr()
    return code, json.loads(told.out), told.err


@pytest.mark.parametrize("command", WAYS)
def test_what_is_printed_keeps_to_it(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    for way in WAYS[command]:
        code, printed, _ = ran(way, tmp_path, capsys)
        keeps_to(printed, schema(command), schema(command), " ".join(way))
        assert printed.get("exit_code", code) == code


def test_an_error_has_its_code_place_fix_and_bodies(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, printed, beside = ran(["check", "BAD"], tmp_path, capsys)
    assert (code, beside) == (2, "")
    (style,) = printed["styles"]
    (told,) = style["diagnostics"]
    assert told["severity"] == "error"
    assert told["code"].startswith("E")
    assert told["message"]
    assert told["fix"]
    place = told["place"]
    assert place["file"] == style["file"] == str(tmp_path / "bad.style")
    assert (place["line"], place["end_line"]) == (2, 2)
    assert 1 <= place["column"] <= place["end_column"] <= len("length wide = 3 cm +") + 1
    assert told["bodies"] == []


def test_one_trouble_of_all_bodies_is_told_once_with_all_their_names(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "no_grain.style").write_text(TEXTS["FAILS"].replace("    grain up\n", ""), "utf-8")
    _, printed, _ = ran(["check", str(tmp_path / "no_grain.style"), "--body", str(PATTERNS / "bodies")], tmp_path, capsys)
    (told,) = (one for one in printed["styles"][0]["diagnostics"] if "grain" in one["message"])
    assert told["severity"] == "warning"
    assert told["bodies"] == [one.replace("_", " ") for one in INVENTED]


def test_what_fails_is_in_the_rows_of_its_body(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, printed, _ = ran(["check", "FAILS", "--body", ALTO], tmp_path, capsys)
    (body,) = printed["styles"][0]["bodies"]
    assert (code, body["holds"], body["drawn"]) == (1, False, True)
    assert [(one["name"], one["holds"]) for one in body["checks"]] == [("small", False)]
