"""A batch gives what one body at a time gives, to 1e-9 mm, through the verbs of two styles and a solve."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.jobs.outcome import BodyResult
from support.real_bodies import real_women
from support.style_runs import PATTERNS, results

STYLES = (PATTERNS / "concert_top.style", Path(__file__).parent / "trued_bodice.style")


def corners(one: BodyResult) -> dict[tuple[str, int], np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    """Control points of every side of every piece of one body."""
    found = {}
    for made in one.pieces:
        alone = made.piece.take(np.array([made.lane]))
        for number, side in enumerate(alone.ring):
            found[made.name, number] = side.drawn.controls
    return found


@pytest.mark.parametrize("style", STYLES, ids=lambda path: path.stem)
def test_a_batch_equals_one_by_one(style: Path) -> None:
    women = real_women(12, 7)
    for together, woman in zip(results(style, women), women, strict=True):
        (alone,) = results(style, [woman])
        assert [error.message for error in together.errors] == [error.message for error in alone.errors]
        first, second = corners(together), corners(alone)
        assert first.keys() == second.keys()
        for key, points in first.items():
            assert np.abs(points - second[key]).max() < 1e-9, key
