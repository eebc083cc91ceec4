"""Choices of a style that a size chart sets in each size."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path

import godet
import numpy as np
import pytest
from godet.diagnostics.diagnostic import Diagnostic
from godet.diagnostics.printing import place
from godet.meaning.recipes import written
from godet.verbs.kinds import Kind
from test_rates import HERE, STYLE

HEAD = """chart,"Invented"
unit,cm
sex,F
sample,88
measurement,unit,80,84,88,92
bust_girth,,80,84,88,92
natural_waist_girth,,62,66,70,74
"""
HIGH = "choice high,,28,29,31,34\n"
FLARE = "choice flare,degrees,8,9,10.5,12\n"
TOP = "point top = low up high\n"
DECIDED = STYLE.replace(TOP, "point top = low up (high when high less_than 33 cm otherwise 33 cm)\n")


def sized(folder: Path, rows: str, style: str = STYLE, only: str = "", head: str = HEAD, **choices: str) -> godet.OnSizes:
    (folder / "invented.csv").write_text(head + rows)
    return godet.open_style(HERE, text=style, settings=choices).sizes(folder / "invented.csv", only=only)


def reports(on: godet.OnBodies) -> dict[str, str]:
    return {one.name: json.dumps(asdict(one.report())) for one in on}


def alone(size: str, bust: int, waist: int, **choices: str) -> str:
    row = {"name": size, "unit": "cm", "sex": "F", "bust_girth": bust, "natural_waist_girth": waist}
    return reports(godet.open_style(HERE, text=STYLE, settings=choices).on(row))[size]


def test_each_size_is_a_body_file_with_the_choices_set(tmp_path: Path) -> None:
    assert reports(sized(tmp_path, HIGH + FLARE)) == {
        "80": alone("80", 80, 62, high="28 cm", flare="8 deg"),
        "84": alone("84", 84, 66, high="29 cm", flare="9 deg"),
        "88": alone("88", 88, 70, high="31 cm", flare="10.5 deg"),
        "92": alone("92", 92, 74, high="34 cm", flare="12 deg"),
    }


def test_a_chart_of_steps_chooses_as_the_values_it_stands_for(tmp_path: Path) -> None:
    values = reports(sized(tmp_path, HIGH))
    head = HEAD.replace("sample,88", "sample,88\nform,steps").replace("80,84,88,92\nnat", "4,4,88,4\nnat")
    assert reports(sized(tmp_path, "choice high,,1,2,31,3\n", head=head.replace("62,66,70,74", "4,4,70,4"))) == values


def test_what_was_kept_of_one_chart_is_not_taken_for_another(tmp_path: Path) -> None:
    style = godet.open_style(HERE, text=STYLE)
    found = []
    for high in ("28,29,31,34", "28,30,31,33"):
        (tmp_path / "invented.csv").write_text(f"{HEAD}choice high,,{high}\n")
        found.append(reports(style.sizes(tmp_path / "invented.csv")))
    assert found[1] == reports(sized(tmp_path, "choice high,,28,30,31,33\n"))
    assert [size for size in found[0] if found[0][size] != found[1][size]] == ["84", "92"]


def test_growth_has_the_steps_of_the_choice_and_names_it_as_the_cause(tmp_path: Path) -> None:
    on = sized(tmp_path, HIGH)
    (piece,) = on.growth().pieces
    top = next(one for one in piece.points if one.name == "upper by centre")
    assert [(one.across_mm, one.up_mm) for one in top.steps] == [(0.0, 10.0), (0.0, 20.0), (0.0, 30.0)]
    (caused,) = on.rates().growth
    steps = next(one for one in caused.points if one.name == "upper by centre").steps
    assert [[(cause.of, cause.by) for cause in one.causes] for one in steps] == [[("high", by)] for by in (10.0, 20.0, 30.0)]
    assert [one.causes[0].up_mm for one in steps] == pytest.approx([10.0, 20.0, 30.0])


def test_a_choice_that_turns_a_sentence_is_told_between_its_sizes(tmp_path: Path) -> None:
    """The width is the larger of a quarter of the bust, 21 to 23 cm, and what the chart chooses."""
    (switch,) = sized(tmp_path, "choice least,,20,20.5,21.5,25\n").growth().switches
    assert (switch.size_from, switch.size_to, switch.sentences[0].after) == ("88", "92", "least")


BAD: Mapping[str, tuple[str, str, str, int, int]] = {
    "unknown": ("choice hihg,,1,1,1,1\n", "E438", "the style has no choice `hihg`", 8, 1),
    "bound": (
        "choice high,,28,29,310,34\n",
        "E440",
        "`choice high` in size 88 (line 8) is 310 cm: the style takes 10 cm to 60 cm",
        8,
        20,
    ),
    "angle": ("choice flare,degrees,8,-9,10,12\n", "E440", "is -9 deg: the style takes 0 deg to 20 deg", 8, 24),
    "blank": ("choice high,,28,,31,34\n", "E427", "`choice high` has no number in size `84`", 8, 1),
    "unit": ("choice flare,cm,8,9,10,12\n", "E424", "`unit of choice flare` is `cm`", 8, 14),
    "text": ("choice high,,28,short,31,34\n", "E428", "`choice high` in size 84 is `short`", 8, 17),
    "twice": (HIGH + HIGH, "E411", "`choice high`", 9, 1),
}


def told(on: godet.OnSizes) -> tuple[Diagnostic, tuple[int, int]]:
    (one,) = on.diagnostics
    assert one.span is not None
    text = on.texts[one.span.file]
    return one, place(text, one.span.start)


@pytest.mark.parametrize("case", BAD)
def test_what_is_wrong_is_told_by_row_and_column(tmp_path: Path, case: str) -> None:
    rows, code, message, line, column = BAD[case]
    one, where = told(sized(tmp_path, rows))
    assert (one.code, where) == (code, (line, column))
    assert message in one.message


def test_a_size_that_is_not_asked_for_may_lie_out_of_bounds(tmp_path: Path) -> None:
    assert [one.name for one in sized(tmp_path, "choice high,,28,29,31,340\n", only="80..88") if one.holds] == ["80", "84", "88"]


def test_what_is_set_for_all_is_not_set_for_each(tmp_path: Path) -> None:
    one, where = told(sized(tmp_path, HIGH, high="30 cm"))
    assert (one.code, where, one.fix) == ("E441", (8, 1), "leave out `--set high=…`, or take the row away")


def test_yes_or_no_is_one_for_all_sizes(tmp_path: Path) -> None:
    style = STYLE.replace("choice least", "choice long = yes\nchoice least")
    style = style.replace(TOP, "point top = low up (high when long otherwise 20 cm)\n")
    one, _ = told(sized(tmp_path, "choice long,,1,1,1,1\n", style))
    assert (one.code, one.message) == ("E439", "the choice `long` is yes or no: it is one for all sizes")


def test_what_decides_what_there_is_is_one_for_all_sizes_that_are_drawn_together(tmp_path: Path) -> None:
    one, where = told(sized(tmp_path, HIGH, DECIDED))
    assert (one.code, where) == ("E442", (8, 1))
    assert "`high` as in size `92`" in one.message
    for only, high in (("92", [330.0]), ("80..88", [280.0, 290.0, 310.0])):
        lines = [each.pieces["flap"].edge_line("centre") for each in sized(tmp_path, HIGH, DECIDED, only=only)]
        assert [np.ptp(line[:, 1]) for line in lines] == pytest.approx(high)


def test_a_choice_of_a_block_is_set_by_size_as_it_is_set_for_all(tmp_path: Path) -> None:
    block = "block inner {\n    takes length wide between 0 cm and 3 cm\n    choice deep = 3 cm between 1 cm and 5 cm\n"
    block += "    gives length out = deep + wide\n}\nblock made = inner with wide 1 cm\n"
    style = STYLE.replace("choice least", block + "choice least").replace("up high\n", "up (high + made.out)\n")
    on = sized(tmp_path, "choice deep,,2,3,4,4.5\n", style)
    heights = [np.ptp(each.pieces["flap"].edge_line("centre")[:, 1]) for each in on]
    assert heights == pytest.approx([330.0, 340.0, 350.0, 355.0])
    assert [len(sized(tmp_path, "choice deep,,2,3,4,6\n", style).diagnostics)] == [1]


def test_a_trim_may_be_counted_by_size(tmp_path: Path) -> None:
    style = STYLE.replace("choice least", "choice buttons = 2 between 1 and 4\nchoice least")
    on = sized(tmp_path, "choice buttons,,2,2,2,3\n", style + 'trim button count buttons "11 mm"\n')
    assert [trim.count for each in on for trim in each.specification.trims] == [2, 2, 2, 3]


def test_what_a_block_does_not_take_is_told_with_its_size(tmp_path: Path) -> None:
    style = STYLE.replace("choice least", "use plain_half from shapes\nchoice ease = 8 cm\nchoice least")
    style += "block base = plain_half with bust_ease ease\npiece front = base.front {\n    cut 1 on fold\n}\n"
    (one,) = (one for one in sized(tmp_path, "choice ease,,8,8,8,31\n", style).diagnostics if one.is_error)
    assert one.message.endswith("(in size 92)")
    assert "31 cm" in one.message


def test_a_value_is_written_with_its_unit_though_its_kind_was_kept_on_disk() -> None:
    assert [written(50.0, Kind("length")), written(1.0, Kind("flag"))] == ["5 cm", "yes"]
