"""A style edited does only what is new, and comes to what it comes to afresh, to the byte."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from random import Random

import godet
import pytest
from godet.drawing.lettering import VERSION
from godet.jobs import keeping
from godet.jobs.keeping import Work
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from support.edited import edited_at_random, replaced, text_of
from support.style_runs import PATTERNS

PATH = str(PATTERNS / "concert_top.style")
SKIRT = str(PATTERNS / "pleated_skirt.style")
BODIES = [str(PATTERNS / "bodies" / f"{name}.toml") for name in ("alto_3", "mezzo_2", "soprano_1")]
Drawn = dict[str, tuple[object, str]]


def drawn(style: godet.Style, bodies: list[str]) -> Drawn:
    """The row of the report and the sheet of every body; of one that cannot be drawn why."""
    return {one.name: (one.report(), str(one.errors) if one.errors else one.svg()) for one in style.on(bodies)}


def afresh(text: str, bodies: list[str], chosen: Mapping[str, str] | None = None, path: str = PATH) -> Drawn:
    return drawn(godet.open_style(path, text=text, settings=chosen or {}), bodies)


EVERYTHING = Work(finished=4, notched=1, drawn=4, worded=4, written=1)
EDITS = {
    "a comment": ("language 1\n", "language 1\n# as fitted in May\n", 0.0, Work()),
    "a hem allowance": (
        "    allow 3 cm on hem with_corners shaped_to_fold",
        "    allow 4 cm on hem with_corners shaped_to_fold",
        0.07,
        Work(finished=2, notched=1, drawn=2, worded=2, written=1),
    ),
    "the ease of the bust": (
        "bust_ease 8 cm",
        "bust_ease 9 cm",
        0.6,
        EVERYTHING,
    ),
}


@pytest.fixture(scope="module")
def opened() -> godet.Style:
    style = godet.open_style(PATH)
    drawn(style, BODIES[:1])
    return style


@pytest.mark.parametrize("edit", EDITS)
def test_an_edit_does_only_what_is_new(opened: godet.Style, edit: str) -> None:
    """Of four pieces front and back have the hem; the ease of the bust is at the beginning of all."""
    assert opened.work == replace(EVERYTHING, evaluated=opened.work.evaluated)
    old, new, share, work = EDITS[edit]
    text = replaced(text_of("concert_top"), old, new)
    later = opened.edited(text)
    assert drawn(later, BODIES[:1]) == afresh(text, BODIES[:1])
    assert later.work == replace(work, evaluated=later.work.evaluated)
    assert share / 2 * opened.work.evaluated <= later.work.evaluated <= share * opened.work.evaluated
    again = later.edited(text)
    drawn(again, BODIES[:1])
    assert again.work == Work()


def test_a_choice_set_anew_draws_what_it_moves(opened: godet.Style) -> None:
    later = opened.edited(settings={"opening": "16 cm"})
    assert drawn(later, BODIES[:1]) == afresh(text_of("concert_top"), BODIES[:1], {"opening": "16 cm"})
    assert 0 < later.work.evaluated < 150
    assert (later.work.finished, later.work.drawn) == (2, 2)  # the back and its facing


def test_what_is_printed_of_the_version_is_that_of_the_edit(opened: godet.Style) -> None:
    """A check says nothing on a piece: only the version on the sheets is another."""
    later = opened.edited(text_of("concert_top").replace("tolerance 8 mm", "tolerance 9 mm"))
    (result,) = later.on(BODIES[:1])
    assert opened.fingerprint != later.fingerprint
    assert later.fingerprint in result.svg()
    assert opened.fingerprint not in result.svg()


def test_a_body_that_is_called_as_the_version_keeps_its_name(tmp_path: Path) -> None:
    """An order may have any eight digits."""
    before = text_of("pleated_skirt")
    after = replaced(before, "ease of waist_ease tolerance 1 mm", "ease of waist_ease tolerance 2 mm")
    style = godet.open_style(SKIRT, text=before)
    order = tmp_path / "order.toml"
    order.write_text(Path(BODIES[0]).read_text("utf-8").replace("alto 3", f"order {style.fingerprint}"), "utf-8")
    drawn(style, [str(order)])
    later = style.edited(after)
    assert drawn(later, [str(order)]) == afresh(after, [str(order)], path=SKIRT)
    assert later.work.drawn == later.work.written == 0
    (kept,), (fresh,) = (one.on(order) for one in (later, godet.open_style(SKIRT, text=after)))
    assert f"order {style.fingerprint}" in kept.svg()
    assert f"version {later.fingerprint}" in kept.svg()
    assert (kept.pdf(), kept._repr_svg_()) == (fresh.pdf(), fresh._repr_svg_())


def test_what_stands_for_the_version_can_be_written_by_nobody(opened: godet.Style, tmp_path: Path) -> None:
    assert godet.open_style(PATH, text=replaced(text_of("concert_top"), 'style "', f'style "{VERSION}')).has_errors
    order = tmp_path / "order.toml"
    order.write_text(Path(BODIES[0]).read_text("utf-8").replace("alto 3", "alto\\u007f"), "utf-8")
    people = opened.on(order)
    assert ["name" in one.message for one in people.diagnostics if one.is_error] == [True]


def held(style: godet.Style) -> list[int]:
    return [len(shelf) for shelf in style._keeping.shelves]


def test_edits_of_one_number_keep_no_more_than_two() -> None:
    text, style, counts = text_of("pleated_skirt"), godet.open_style(SKIRT), []
    for ease in range(4):
        style = style.edited(replaced(text, "hip_ease = 5 cm", f"hip_ease = {5 + ease / 10:g} cm"))
        drawn(style, BODIES[:1])
        counts.append(held(style))
    assert counts[0] == [3, 1, 3, 3, 1]
    assert counts[1:] == [[6, 2, 6, 6, 2]] * 3


def test_bodies_one_after_the_other_keep_no_more_than_two() -> None:
    style = godet.open_style(SKIRT)
    for body in BODIES:
        drawn(style, [body])
    assert held(style) == [6, 2, 6, 6, 2]


def test_an_edit_with_errors_loses_nothing(opened: godet.Style) -> None:
    broken = opened.edited(text_of("concert_top") + "length = \n")
    assert broken.has_errors
    mended = broken.edited(text_of("concert_top"))
    drawn(mended, BODIES[:1])
    assert mended.work == Work()


@pytest.mark.parametrize("bodies", [BODIES[1:2], BODIES[:2]])
def test_other_bodies_and_other_company_are_drawn_as_they_are_afresh(opened: godet.Style, bodies: list[str]) -> None:
    text = replaced(text_of("concert_top"), "drape = 3 cm", "drape = 2.5 cm")
    later = opened.edited(text)
    assert drawn(later, bodies) == afresh(text, bodies)


def test_of_many_bodies_nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("godet.door.style.MOST_BODIES", 2)
    style = godet.open_style(SKIRT)
    drawn(style, BODIES)
    assert style.work == Work()
    assert keeping.MOST_BODIES == 50


@settings(max_examples=2, deadline=None, phases=[Phase.generate], suppress_health_check=[HealthCheck.too_slow])
@given(name=st.sampled_from(["gored_skirt", "plain_trousers", "pleated_skirt", "yoke_shirt"]), seed=st.integers(0, 2**32))
def test_kept_is_fresh_to_the_byte(name: str, seed: int) -> None:
    """Two edits, one after the other, of a width, a choice or a place anywhere in a style, on one body (what
    several give is held to the same in `tests/graph/test_kept.py`, without the drawing)."""
    random, text, path = Random(seed), text_of(name), str(PATTERNS / f"{name}.style")
    style = godet.open_style(path)
    drawn(style, BODIES[:1])
    for _ in range(2):
        text = edited_at_random(text, random)
        style = style.edited(text)
        assert drawn(style, BODIES[:1]) == afresh(text, BODIES[:1], path=path)
