"""What each change does alone and last: hybrids of two sides of a style."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from random import Random

import pytest
from godet.difference.changes import changes_of
from godet.jobs.difference import Asked, difference
from godet.jobs.difference_each import MOST
from godet.jobs.difference_hybrids import Making
from godet.jobs.difference_styles import Compared
from godet.jobs.files import Disk
from godet.jobs.prepare import Prepared, prepare_style
from godet.jobs.sides import sides
from godet.jobs.workspace import Workspace
from godet.output.difference import difference_text
from godet.output.difference_records import StyleDifference
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from support.edited import edited_at_random, replaced, shuffled, text_of
from support.small_skirt import SKIRT, YOKES
from support.style_runs import PATTERNS

BODY = PATTERNS / "bodies" / "alto_3.toml"
STYLE = str(PATTERNS / "edited.style")
Texts = Mapping[str, str]
Told = Callable[..., tuple[list[str], StyleDifference]]


@lru_cache(maxsize=8)
def prepared(text: str) -> Prepared:
    return prepare_style(Workspace(Disk(), {STYLE: text}), STYLE)


def making(old: str, new: str) -> Making:
    return Making(Compared(STYLE, "edited", prepared(old), prepared(new), STYLE), Workspace(Disk(), {STYLE: new}), ())


@pytest.fixture
def told(tmp_path: Path) -> Told:
    """The lines under `Each alone`, and the record of the style."""

    def run(old: Texts, new: Texts, *bodies: Path, each: bool = False) -> tuple[list[str], StyleDifference]:
        for side, texts in (("old", old), ("new", new)):
            (tmp_path / side).mkdir()
            for name, text in texts.items():
                (tmp_path / side / f"{name}.style").write_text(text, "utf-8")
        found, _ = sides(str(tmp_path / "old"), str(tmp_path / "new"))
        assert found is not None
        made, _ = difference(found, Asked(tuple(map(str, bodies)), each=each))
        assert made is not None
        text = difference_text(made.record).partition("Each alone")[2].partition("\n\n")[0]
        return text.strip().splitlines(), made.record.styles[0]

    return run


def skirt(text: str, yokes: str = YOKES) -> Texts:
    return {"skirt": text, "yokes": yokes}


# ---- effects that are known by arithmetic --------------------------------------------------------


def test_each_of_two_numbers_of_the_concert_top_is_told_with_its_own_effect(told: Told) -> None:
    old = text_of("concert_top")
    new = replaced(replaced(old, "hip_to_hem 4 cm", "hip_to_hem 6 cm"), "allow 3 cm on hem", "allow 2 cm on hem")
    lines, style = told({"concert_top": old}, {"concert_top": new}, BODY)
    longer, narrower = style.changes
    assert longer.alone.cloth is not None
    rows = {(*row.pieces, row.told): row.mm for row in longer.alone.cloth.rows}
    assert rows["back", "hem down, along the whole edge"]["alto 3"] == pytest.approx(20.0, abs=0.05)
    assert not any("allowed" in row[-1] for row in rows)
    for effect in (narrower.alone, narrower.last):
        assert effect.cloth is not None
        assert all("hem allowed 2 cm, was 3 cm: cut edge moves" in row.told for row in effect.cloth.rows)
        assert [row.mm["alto 3"] for row in effect.cloth.rows] == pytest.approx([10.0] * 3, abs=0.3)
    assert (longer.agree, narrower.agree) == (True, True)
    assert [line.split()[0] for line in lines] == ["1", "2"]


def test_where_one_takes_back_what_another_did_both_are_told(told: Told) -> None:
    """The longer of two lengths is taken: 30 and 20 mm more alone, 10 and nothing after the other."""
    deep = 'choice deep = 60 cm between 40 cm and 90 cm "from waist to hem"'
    one, two = (f"length {name} = larger of (60 cm, head_girth / 9)" for name in ("one", "two"))
    old = replaced(SKIRT, deep, f"{one}\n{two}\nlength deep = larger of (one, two)")
    new = replaced(replaced(old, one, one.replace("60", "63")), two, two.replace("60", "62"))
    lines, _ = told(skirt(old), skirt(new), BODY)
    assert [line.split()[:2] for line in lines] == [["1", "alone"], ["last", "front:"], ["2", "alone"], ["last", "nothing"]]
    for line, moved in zip(lines, ("30.0", "10.0", "20.0"), strict=False):
        assert f"hem down, along the whole edge {moved} mm" in line
    assert lines[3].endswith("nothing on these bodies")


# ---- proved --------------------------------------------------------------------------------------


def test_what_has_no_effect_is_told_so_and_taking_it_back_leaves_the_root(told: Told) -> None:
    old = SKIRT + "length spare = 4 cm\n"
    half = replaced(old, "allow 3 cm", "allow 2 cm")
    new = replaced(half, "spare = 4 cm", "spare = 5 cm")
    lines, _ = told(skirt(old), skirt(new))
    assert [line.split() for line in lines] == [["1", "may", "change", "front"], ["2", "nothing,", "proved"]]


@settings(max_examples=3, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.integers(0, 2**32).map(Random))
def test_what_is_proved_to_do_nothing_can_be_taken_back(random: Random) -> None:
    """By hand, in the text itself: neither root is another."""
    old = text_of("gored_skirt")
    new = edited_at_random(old, random) + "length spare = 4 cm\n"
    there = making(old, new)
    spare = next(one for one in changes_of(there.hybrids.edits) if "spare" in there.hybrids.edits[min(one)].names)
    assert there.hybrid(there.all - spare).roots == there.new.roots
    assert making(old, new.removesuffix("length spare = 4 cm\n")).new.roots == there.new.roots


def test_of_many_changes_each_is_told_only_where_that_is_asked_for(told: Told) -> None:
    spare = "".join(f"length spare_{k} = {k} cm\n" for k in range(MOST))
    lines, style = told(skirt(SKIRT), skirt(replaced(SKIRT, "allow 3 cm", "allow 2 cm") + spare))
    assert lines == [f": not told, there are {MOST + 1} changes; --each tells them."]
    assert style.changes == ()


def test_each_is_told_of_many_changes_where_that_is_asked_for(told: Told) -> None:
    spare = "".join(f"length spare_{k} = {k} cm\n" for k in range(MOST))
    lines, _ = told(skirt(SKIRT), skirt(replaced(SKIRT, "allow 3 cm", "allow 2 cm") + spare), each=True)
    assert sum(line.endswith("nothing, proved") for line in lines) == MOST


def test_of_one_change_nothing_is_told_twice(told: Told) -> None:
    lines, style = told(skirt(SKIRT), skirt(replaced(SKIRT, "allow 3 cm", "allow 2 cm")))
    assert (lines, style.changes, style.changes_untold) == ([], (), "")


# ---- what needs another --------------------------------------------------------------------------


def test_a_change_that_needs_another_of_another_file_is_told_with_it(told: Told) -> None:
    new = replaced(replaced(SKIRT, "allow 3 cm", "allow 2 cm"), "wide 12 cm", "wide 12 cm flare 1 cm")
    flared = replaced(YOKES, "takes length deep", "takes length deep\n    takes length flare")
    flared = replaced(flared, "point far = low outward by wide", "point far = low outward by (wide + flare)")
    lines, _ = told(skirt(SKIRT), skirt(new, flared), BODY)
    assert len(lines) == 2
    assert sum("together" in line for line in lines) == 1
    assert sum("cut edge moves 10.0 mm" in line for line in lines) == 1


def test_a_name_that_comes_and_the_sentences_that_say_it_are_one_change(told: Told) -> None:
    new = replaced(replaced(SKIRT, "allow 3 cm", "allow turn"), "piece front", "length turn = 2 cm\npiece front")
    lines, _ = told(skirt(SKIRT), skirt(replaced(new, "stitch 103", "stitch 301")), BODY)
    assert lines[0].startswith("1, 2 together")
    assert "cut edge moves 10.0 mm" in lines[0]
    assert "no line of any piece; sewing hemmed: stitch 301, was 103" in lines[1]


def test_one_statement_that_comes_for_another_of_its_verb_is_one_change() -> None:
    old = replaced(SKIRT, "    allow 1 cm\n", "    allow 1 cm\n    allow 2 cm on side\n")
    new = replaced(SKIRT, "    allow 1 cm\n", "    allow 1 cm\n    allow 2 cm on centre\n")
    here = str(PATTERNS / "yokes.style")
    places = [Workspace(Disk(), {STYLE: text, here: YOKES}) for text in (old, new)]
    before, after = (prepare_style(place, STYLE) for place in places)
    made = Making(Compared(STYLE, "edited", before, after, STYLE), places[1], ())
    assert len(changes_of(made.hybrids.edits)) == 1


# ---- in any order --------------------------------------------------------------------------------


@settings(max_examples=3, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(("gored_skirt", "pleated_skirt", "cowl_top")), st.integers(0, 2**32).map(Random))
def test_changes_made_one_after_the_other_in_any_order_give_the_new_side(name: str, random: Random) -> None:
    old = text_of(name)
    new = shuffled(edited_at_random(edited_at_random(old, random), random) + "length spare = 4 cm\n", random)
    goal = making(old, new).new.roots
    left = 9
    while (changes := changes_of((step := making(old, new)).hybrids.edits)) and left:
        old = step.hybrids.texts(random.choice(changes))[""]
        left -= 1
    assert left
    assert step.old.roots == goal
