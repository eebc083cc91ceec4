"""The library's blocks and every bundled style on real women and men.

Bodies: US Army survey of 1988, Gordon and others, NATICK/TR-89/044 (patterns/populations/README.md). Every bundled style draws,
sews and fits on 995 of 1000 of all whom it is for: on all of them, `tests/bench/survey.py`, which writes down who is left out;
here every sixteenth, each style on others, is held to that. On others it fits whom it may: all that is claimed is that it draws.
Every failure must be a clear diagnostic or a failed check with its numbers.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from godet.bodies.body import Body
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from godet.meaning.recipes import written
from support.real_bodies import all_men, all_women, real_men, real_women
from support.style_runs import PATTERNS, prepared, results
from support.survey import DEMOS, FOR_WOMEN, MOST, is_for, is_told, not_held, sound, worn

STYLES = Path(__file__).parent
LIBRARY = sorted(STYLES.glob("*.style"))
ALONE = 97  # of 100 of whom it is for: texts of these tests that draw several blocks at once, each with its own failures
EVERY = 16  # bodies of the survey a style is tried on here, each style on others
WORN = worn()
PUT_ON = ("W620", "W652")  # what does not pass an opening, and what is narrower than its limb


@pytest.mark.parametrize(("style", "men"), WORN, ids=[f"{style.stem}-{'men' if men else 'women'}" for style, men in WORN])
def test_a_style_holds_for_995_of_1000_of_those_whom_it_is_for(style: Path, men: bool) -> None:
    people, known = all_men() if men else all_women(), not_held()[style.stem, men]
    assert len(known) <= (1.0 - MOST) * len(people)
    made = results(style, people[WORN.index((style, men)) % EVERY :: EVERY])
    assert {one.name for one in made if not sound(one)} == known & {one.name for one in made}
    assert all(is_told(one) for one in made)
    assert [(one.name, wrong.message) for one in made for wrong in one.assembly.wrong if wrong.code in PUT_ON] == []


@pytest.mark.parametrize(("people", "seed"), [(real_women, 1), (real_men, 1)])
@pytest.mark.parametrize("style", LIBRARY, ids=lambda path: path.stem)
def test_the_library_on_100_bodies(style: Path, people: Callable[[int, int], list[Body]], seed: int) -> None:
    made = results(style, people(100, seed))
    assert all(is_told(one) for one in made)
    if is_for(style, people is real_men):
        assert sum(sound(one) for one in made) >= ALONE
    else:
        assert sum(not one.errors for one in made) >= len(made) - 1


@pytest.mark.parametrize("style", [style for style in DEMOS if style.stem in FOR_WOMEN], ids=lambda path: path.stem)
def test_a_style_cut_for_women_is_drawn_on_men_and_what_does_not_fit_is_told(style: Path) -> None:
    made = results(style, real_men(40, 1))
    assert all(is_told(one) for one in made)
    assert sum(not one.errors for one in made) >= len(made) - 1


def bounds(style: Path) -> list[str]:
    """Every choice set to its least and to its greatest value, one at a time, as settings."""
    made = prepared(style).style
    assert made is not None
    ends = [(one, end) for one in made.choices for end in (one.low, one.high)]
    return [f"{one.name}={written(end, one.kind)}" for one, end in ends if end is not None]


@pytest.mark.parametrize("style", DEMOS, ids=lambda path: path.stem)
def test_every_bound_of_a_choice_holds_on_the_invented_bodies(style: Path) -> None:
    bodies = prepare(Disk(), str(style), [str(PATTERNS / "bodies")]).bodies
    assert len(bodies) >= 3
    for setting in ["", *bounds(style)]:
        made = results(style, bodies, [setting] if setting else [])
        assert all(sound(one) for one in made), (setting, [one.name for one in made if not sound(one)])
