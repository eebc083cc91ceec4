"""Words of the language found by what a cutter calls them: terms of the trade, several words, slips of the pen."""

from __future__ import annotations

import pytest
from godet.cli.main import main
from godet.jobs.finding import SHOWN, entries, search
from godet.jobs.trade import stems, terms
from godet.jobs.vocabulary import entry


@pytest.mark.parametrize(
    ("asked", "meant"),
    [
        ("gather", ["seam", "slash", "slash_lines", "puff"]),
        ("zip", ["closure", "trim", "trousers"]),
        ("band round the neck", ["plain_band", "seam"]),
        ("bar tack", ["sewing"]),
        ("size label", ["trim"]),
        ("threading opening", ["trim", "turn_under"]),
        ("band", ["waistband", "straight_band", "cuff"]),
        ("cap", ["sleeve_draft", "set_in", "raise"]),
        ("elastic", ["trim", "drawn_length"]),
        ("shoulder", ["shoulder_slope", "forward_yoke", "shift_seam"]),
        ("hem", ["allow", "turn_under", "level_off"]),
        ("pocket", ["place", "mark"]),
        ("bias", ["grain", "binding"]),
        ("button", ["buttons", "buttonholes", "button_stand"]),
        ("zipper", ["closure"]),
        ("cut 2 on fold", ["fold", "cut"]),
        ("hem level", ["level_off", "trued_hems"]),
        ("fly front", ["closure", "facing"]),
        ("sleeve head", ["sleeve_draft"]),
        ("gathered sleeves", ["puff", "puff_by_cuts"]),
        ("neckline V", ["vee_neck"]),
        ("shoulder princess seam", ["shoulder_princess"]),
        ("move a dart", ["pivot"]),
        ("closes a dart", ["pivot", "slash_in"]),
        ("mirror image", ["mirror"]),
        ("shirt collar", ["collar_fall"]),
        ("trued over panels", ["smooth_over"]),
        ("pintuck", ["pleat"]),
        ("ease stitch", ["seam"]),
        ("casing", ["turn_under", "trim"]),
        ("patch pocket", ["place"]),
        ("pocket flap", ["place", "straight_band"]),
        ("belt loop", ["binding", "trim"]),
        ("strap", ["straight_band", "binding"]),
        ("hood", ["curve", "head_girth"]),
        ("hem facing", ["facing"]),
        ("wrap", ["button_stand", "off_fold"]),
        ("tiered skirt", ["ruffle", "seam"]),
        ("walk the seam", ["blend", "smooth_over"]),
        ("match notches", ["notch", "seam"]),
        ("interfacing", ["cut", "cloth"]),
        ("symmetric", ["mirror", "cut"]),
        ("shawl collar", ["collar_fall", "flat_collar"]),
    ],
)
def test_what_is_meant_is_among_the_first(asked: str, meant: list[str]) -> None:
    first = [row.name for row in search(asked.split()).rows[:SHOWN]]
    assert set(meant) <= set(first)


@pytest.mark.parametrize(
    ("asked", "beside"), [("princess", "shoulder_princess"), ("waistband", "straight_band"), ("vent", "side_vent")]
)
def test_a_word_of_the_language_is_told_with_what_the_trade_calls_so_too(
    asked: str, beside: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["words", asked]) == 0
    told = capsys.readouterr().out
    assert told.startswith(entry(asked) or "nothing")
    assert f"\n{beside} (" in told


@pytest.mark.parametrize("name", terms())
def test_every_entry_a_term_names_is_one(name: str) -> None:
    known = {one.name for one in entries()}
    assert [one for one in terms()[name].entries if one not in known or entry(one) is None] == []


def test_no_term_is_said_twice() -> None:
    said = [stems(one) for term in terms().values() for one in term.said]
    assert sorted(one for one in set(said) if said.count(one) > 1) == []


def test_every_entry_that_is_found_can_be_asked_for() -> None:
    assert [one.name for one in entries() if entry(one.name) is None] == []


@pytest.mark.parametrize(
    ("asked", "near"),
    [("gathr", "`gather`"), ("zippr", "`zip"), ("elastc", "`elastic`"), ("shouldr", "`shoulder"), ("crve", "`curve`")],
)
def test_a_slip_is_told_with_what_is_near(asked: str, near: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", asked]) == 2
    told = capsys.readouterr().err
    assert f"no word `{asked}`; did you mean" in told
    assert near in told


def test_among_several_words_the_one_that_is_not_known_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", "gathr", "sleeve"]) == 2
    assert "no word `gathr`; did you mean `gather`" in capsys.readouterr().err
    assert main(["words", "rolling", "sleeve"]) == 2
    assert "no word `rolling`" in capsys.readouterr().err


def test_words_that_nothing_answers_together_give_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", "care", "princess"]) == 0
    told = capsys.readouterr().out
    assert told.startswith("Nothing answers to all of these; nearest:")
    assert "\ncare (verb)" in told


def test_a_row_shows_a_sentence_that_holds_what_was_asked(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", "gather"]) == 0
    told = capsys.readouterr().out
    assert "seam (verb): `gathers A to B`" in told
    assert "\n    seam waist_seam gathers gathered.waistline to banded.lower_edge\n" in told
    assert len(told.splitlines()) < 40


def test_a_recipe_is_shown_with_the_sentence_that_brings_it_in() -> None:
    first = search(["puff", "sleeve"]).rows[0]
    assert first.name == "puff"
    assert first.sentence.split("\n")[0] == "use puff from sleeves/puff"
    assert " = puff " in first.sentence


def test_a_use_of_a_word_is_shown_by_the_sentence_that_uses_it_so() -> None:
    (found,) = (row for row in search(["slit"]).rows if row.name == "mark")
    assert found.sentence == "mark centre called back_opening as opening"


def test_a_cape_is_no_cap_of_a_sleeve() -> None:
    assert [one.name for one in search(["cape"]).rows][:1] == ["mark"]
    assert stems("capes") != stems("caps")
