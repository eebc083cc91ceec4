"""What the screen and the report say of bodies: a summary first, what holds of the library in one line, estimates in short."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pypdfium2
import pytest
from godet.bodies.body import Body
from godet.bodies.cautions import CODES, cautions
from godet.cli.main import main
from godet.output.summary import counted, summary
from support.style_runs import PATTERNS

SHIRT = str(PATTERNS / "tenor_shirt.style")
ALTO = str(PATTERNS / "bodies" / "alto_3.toml")

STYLE = """language 1
style "Small"
use strip from blocks

choice long = 20 cm between 1 cm and 90 cm
shape drawn = strip with long long
piece cloth = drawn {
    grain up
    cut 1
    allow 1 cm
}
check own_one that length of cloth.lower at_most 30 cm
"""
BLOCKS = """language 1

recipe strip {
    takes length long
    gives shape whole {
        point far = starting_point outward long
        point low = far down 10 cm
        point end = starting_point down 10 cm
        line upper from starting_point to far
        line side from far to low
        line lower from low to end
        line inner from end to starting_point
    }
    check not_long that long at_most 40 cm "too long to cut"
    check not_short that long at_least 5 cm
}
"""


@pytest.mark.parametrize(
    ("held", "said"),
    [
        ({}, "1 piece"),
        ({"check": [True]}, "1 piece; 1 check holds"),
        ({"check": [True, True], "seam": [], "fit": [True]}, "1 piece; 2 checks and 1 fit hold"),
        ({"check": [True, False], "seam": [True]}, "1 piece; 1 of 2 checks FAILS, all else holds"),
        ({"check": [False], "seam": [False, True, False]}, "1 piece; 1 of 1 check and 2 of 3 seams FAIL, all else holds"),
        ({"closure": [False]}, "1 piece; 1 of 1 closure FAILS"),
    ],
)
def test_a_summary_counts_with_the_right_noun(held: dict[str, list[bool]], said: str) -> None:
    assert summary(1, held) == said
    assert counted(2, "piece") == "2 pieces"


@pytest.fixture
def small(tmp_path: Path) -> str:
    (tmp_path / "blocks.style").write_text(BLOCKS, "utf-8")
    (tmp_path / "small.style").write_text(STYLE, "utf-8")
    return str(tmp_path / "small.style")


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, list[str]]:
    code = main(arguments)
    return code, capsys.readouterr().out.splitlines()


def test_what_holds_of_a_recipe_is_one_line_and_its_checks_are_told_when_asked(
    small: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, told = run(capsys, "check", small, "--body", ALTO)
    assert code == 0
    assert told[:3] == [
        "alto 3: 1 piece; 3 checks hold",
        "  holds  own_one: length of cloth.lower at_most 30 cm  (200.0 mm, 300.0 mm)",
        "  holds  2 checks of its blocks and recipes",
    ]
    _, whole = run(capsys, "check", small, "--body", ALTO, "--all")
    assert "  holds  drawn.not_long: long at_most 40 cm  (200.0 mm, 400.0 mm)" in whole
    assert not any("blocks and recipes" in line for line in whole)


def test_a_check_of_a_recipe_that_fails_is_told_by_name_first(small: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = run(capsys, "check", small, "--body", ALTO, "--set", "long=50 cm")
    assert code == 1
    assert told[0] == "alto 3: 1 piece; 2 of 3 checks FAIL, all else holds"
    assert "  FAILS  drawn.not_long: long at_most 40 cm  (500.0 mm, 400.0 mm); too long to cut" in told[1:3]
    assert "  holds  1 check of its blocks and recipes" in told
    _, report = run(capsys, "report", small, "--body", ALTO, "--set", "long=50 cm")
    assert report[report.index("=" * 6) + 1] == "1 piece; 2 of 3 checks FAIL, all else holds"
    assert any(line.startswith("  FAILS  drawn.not_long: ") for line in report)


def test_json_has_every_check_and_says_whose_it_is(small: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", small, "--body", ALTO, "--format", "json"]) == 0
    (body,) = json.loads(capsys.readouterr().out)["bodies"]
    assert {one["name"]: one["own"] for one in body["checks"]} == {
        "own_one": True,
        "drawn.not_long": False,
        "drawn.not_short": False,
    }


def test_of_several_bodies_how_many_hold_is_told_at_the_end(
    small: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = Path(small).read_text("utf-8").replace("at_most 30 cm", "at_most bust_girth - 75 cm")
    Path(small).write_text(text, "utf-8")
    for name, girth in (("thin", 90), ("middling", 98), ("full", 120)):
        body = f'name = "{name}"\nunit = "cm"\nsex = "F"\n[measures]\nbust_girth = {girth}\n'
        (tmp_path / f"{name}.toml").write_text(body, "utf-8")
    _, told = run(capsys, "check", small, "--body", str(tmp_path))
    assert told[-1] == "3 bodies: 2 hold, 1 fails (thin)"
    (tmp_path / "thin.toml").unlink()
    _, told = run(capsys, "check", small, "--body", str(tmp_path))
    assert told[-1] == "2 bodies: all hold"


def test_an_estimate_is_a_few_words_and_explain_has_its_formula(capsys: pytest.CaptureFixture[str]) -> None:
    _, told = run(capsys, "check", SHIRT, "--body", ALTO)
    assert "  not measured  neck_girth: estimated 32.1 ± 1.1 cm" in told
    _, report = run(capsys, "report", SHIRT, "--body", ALTO)
    assert "  neck_girth: estimated 32.1 ± 1.1 cm" in report
    _, formula = run(capsys, "explain", SHIRT, "neck_girth", "--body", ALTO)
    assert re.search(r"0\.0462 bust_girth \+ .*least squares", " ".join(formula))


def test_a_body_in_inches_is_told_in_fractions_everywhere(small: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """20 cm are 7 7/8 inches, 50 cm 19 11/16, 1 cm 3/8; where a check fails a little may decide, so the mm stand behind."""
    body = str(tmp_path / "inches" / "anna.toml")
    Path(body).parent.mkdir()
    Path(body).write_text('name = "anna"\nunit = "in"\nsex = "F"\n[measures]\nbust_girth = "36 7/32"\n', "utf-8")
    _, told = run(capsys, "check", small, "--body", body)
    assert told[1] == "  holds  own_one: length of cloth.lower at_most 30 cm  (7 7/8 in, 11 13/16 in)"
    _, told = run(capsys, "check", small, "--body", body, "--set", "long=50 cm")
    assert "  FAILS  drawn.not_long: long at_most 40 cm  (19 11/16 in (500.0 mm), 15 3/4 in (400.0 mm)); too long to cut" in told
    _, told = run(capsys, "explain", small, "cloth.lower", "--body", body)
    assert told[1] == "  cloth.lower = 7 7/8 in long"
    _, told = run(capsys, "report", small, "--body", body)
    assert "cloth: cut 1, in shell, area 31.0 square in" in told
    assert "lower 7 7/8 allowance 3/8" in " ".join(" ".join(told).split())


@pytest.mark.parametrize("style", ["gored_skirt", "tenor_shirt"])
def test_no_number_of_a_body_in_inches_is_a_bare_decimal_of_mm(style: str, capsys: pytest.CaptureFixture[str]) -> None:
    mezzo = str(PATTERNS / "bodies" / "mezzo_2.toml")
    _, told = run(capsys, "check", str(PATTERNS / f"{style}.style"), "--body", mezzo, "--all")
    assert not [line for line in told if re.search(r"\d mm[,);]", line.partition("  (")[2])]
    _, report = run(capsys, "report", str(PATTERNS / f"{style}.style"), "--body", mezzo)
    own = report[report.index("mezzo 2") :]
    rows = [line for line in own if line.startswith("  ") and " to 1" not in line and "holds" not in line]
    assert not [line for line in rows if re.search(r"  \d+\.\d", line)]


def test_what_fails_and_what_is_doubtful_stands_on_the_sheet_and_in_json_too(
    small: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    body = tmp_path / "odd" / "odd.toml"
    body.parent.mkdir()
    body.write_text('name = "odd"\nunit = "cm"\nsex = "F"\n[measures]\nbust_girth = 29\nhip_girth = 99\nstature = 168\n', "utf-8")
    out = tmp_path / "out"
    arguments = ["--body", str(body), "--set", "long=50 cm"]
    assert main(["build", small, *arguments, "--out", str(out)]) == 1
    screen = capsys.readouterr().err
    (doubt,) = re.findall(r"warning\[W43\d\]: (.*)", screen)
    page = pypdfium2.PdfDocument(out / "small_odd.pdf")[0].get_textpage().get_text_range()
    for text in ((out / "small_odd.svg").read_text("utf-8"), page):
        said = " ".join(re.sub(r"<[^>]*>", " ", text).split())
        assert "Not to be cut so: 2 of 3 checks FAIL" in said
        assert doubt[:40] in said
    assert main(["report", small, *arguments, "--format", "json"]) == 1
    (row,) = json.loads(capsys.readouterr().out)["bodies"]
    assert [doubt in one for one in row["warnings"]] == [True]


def test_the_codes_of_cautions_are_those_that_are_given() -> None:
    child = Body("child", "cm", None, {"age": 2.0})
    assert {one.code for one in cautions(child)} == CODES


@pytest.mark.parametrize("style", ["concert_top", "tenor_shirt"])
def test_the_history_of_a_piece_is_of_edges_it_has(style: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The concert top's front was slashed at a dart that is no longer sewn; the yoke was once a back with a hem."""
    assert main(["report", str(PATTERNS / f"{style}.style"), "--body", ALTO, "--format", "json"]) == 0
    (body,) = json.loads(capsys.readouterr().out)["bodies"]
    told = 0
    for piece in body["pieces"]:
        edges = {edge["name"] for edge in piece["edges"]}
        assert {one["edge"] for one in piece["told"]} <= edges | {""}
        told += len(piece["told"])
    assert told > 3
