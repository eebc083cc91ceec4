"""The library's blocks and every bundled style on real women and men.

Bodies: US Army survey of 1988, Gordon and others, NATICK/TR-89/044 (tests/data/README.md). Every failure must be a clear
diagnostic or a failed check with its numbers; at least 97 of 100 must draw with all
seams and checks, 95 where only the library is run.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from godet.bodies.body import Body
from godet.jobs.files import Disk
from godet.jobs.outcome import BodyResult
from godet.jobs.prepare import prepare
from godet.meaning.recipes import written
from support.real_bodies import real_men, real_women
from support.style_runs import PATTERNS, prepared, results

STYLES = Path(__file__).parent
DEMOS = sorted(PATTERNS.glob("*.style"))
WANTED = dict.fromkeys(DEMOS, 97)  # of 100 bodies; of a block of the library alone, 95
FITTED = 90  # of 100 men, of a style cut over a bust, whose text says that it is for women
OF_THE_OTHER = 65  # of 100 bodies on whom a block is drawn that is not for them
OVER_A_BUST = ("concert_top", "cowl_top", "long_top", "princess_dress_bodice", "puff_sleeve")
FOR_WOMEN, FOR_MEN = ("bodices", "finished_bodice", "trued_bodice"), ("torsos",)


def least(style: Path, men: bool) -> int:
    """How many of 100 bodies must draw, sew and fit."""
    if style.stem in (FOR_WOMEN if men else FOR_MEN):
        return OF_THE_OTHER
    return FITTED if men and style.stem in OVER_A_BUST else WANTED.get(style, 95)


def sound(one: BodyResult) -> bool:
    return not one.errors and one.holds


@pytest.mark.parametrize(("people", "seed"), [(real_women, 1), (real_women, 1988), (real_men, 1)])
@pytest.mark.parametrize("style", [*sorted(STYLES.glob("*.style")), *DEMOS], ids=lambda path: path.stem)
def test_at_least_so_many_of_100_draw(style: Path, people: Callable[[int, int], list[Body]], seed: int) -> None:
    made = results(style, people(100, seed))
    assert sum(sound(one) for one in made) >= least(style, people is real_men)
    for one in made:
        told = [check.figures for check in one.checks if not check.holds] + [fit.wrong for fit in one.fits if not fit.holds]
        assert sound(one) or one.errors or any(told)
        assert all(error.fix and error.span is not None and error.body == one.name for error in one.errors)


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
