"""A batch gives what one body at a time gives in every style: pieces to 1e-9 mm, cut lines and notches to the last bit."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from godet.finish.finished import FinishedPiece
from godet.jobs.outcome import outcomes
from godet.jobs.results import BodyResult
from godet.pattern.piece import Reals
from support.real_bodies import all_women, real_men, real_women
from support.style_runs import PATTERNS, prepared

STYLES = [*sorted(PATTERNS.glob("*.style")), Path(__file__).parent / "trued_bodice.style"]


def corners(one: BodyResult) -> dict[tuple[str, int], np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    """Control points of every side of every piece of one body."""
    found = {}
    for made in one.pieces:
        alone = made.piece.take(np.array([made.lane]))
        for number, side in enumerate(alone.ring):
            found[made.name, number] = side.drawn.controls
    return found


def fitted(one: BodyResult) -> list[tuple[str, float | None, float, str, bool]]:
    """Every promise of fit, to a millionth of a millimetre."""
    return [(fit.name, fit.body_mm, round(fit.garment_mm or 0.0, 6), fit.wrong, fit.estimated) for fit in one.fits]


def sewn(one: BodyResult) -> tuple[object, ...]:
    """What is told of the garment, girths to a millionth of a millimetre."""
    girths = [
        replace(opening, girth_mm=round(opening.girth_mm, 6), opened_mm=round(opening.opened_mm, 6))
        for opening in one.assembly.openings
    ]
    return one.assembly.holds, girths, one.assembly.wrong


def without_repeats(points: Reals) -> Reals:
    return points[np.any(points != np.roll(points, -1, axis=0), axis=1)]


def notches(cloth: FinishedPiece) -> list[tuple[int, float, int, str]]:
    return [(one.side, float(one.at[0]), one.strokes, one.seam) for one in cloth.piece.notches]


@pytest.mark.parametrize("style", STYLES, ids=lambda path: path.stem)
def test_a_batch_equals_one_by_one(style: Path) -> None:
    ready = prepared(style, [*real_women(2, 7), *real_men(2, 7)])
    for together, body in zip(outcomes(ready)[0], ready.bodies, strict=True):
        (alone,), _ = outcomes(replace(ready, bodies=(body,)))
        assert [error.message for error in together.errors] == [error.message for error in alone.errors]
        assert [(check.holds, check.figures) for check in together.checks] == [
            (check.holds, check.figures) for check in alone.checks
        ]
        assert together.estimated == alone.estimated
        assert fitted(together) == fitted(alone)
        assert together.warnings == alone.warnings
        assert together.seams == alone.seams
        assert sewn(together) == sewn(alone)
        first, second = corners(together), corners(alone)
        assert first.keys() == second.keys()
        for key, points in first.items():
            assert np.abs(points - second[key]).max() < 1e-9, key
        for one, same in zip(together.pieces, alone.pieces, strict=True):
            here, there = one.alone(), same.alone()
            assert without_repeats(here.cut[0]).tobytes() == without_repeats(there.cut[0]).tobytes(), one.name
            assert notches(here) == notches(there), one.name


def test_a_level_in_two_parts_near_a_seam_is_measured_as_one() -> None:
    """Beside the second woman, whose waist dart reaches the level of the underarm, that of the first is in two parts, which meet
    within half a mm of the seam that is drawn anew; alone it is in one."""
    women = [one for one in all_women() if one.name in ("1988-470", "1988-354")]
    ready = prepared(PATTERNS / "princess_dress_bodice.style", women)
    for together, body in zip(outcomes(ready)[0], women, strict=True):
        assert fitted(together) == fitted(outcomes(replace(ready, bodies=(body,)))[0][0])
