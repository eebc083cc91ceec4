"""Necklines of the library on real women (tests/data/README.md): they run on over the shoulder, and bend one way."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.geometry.path import Path as Drawn
from godet.geometry.path import flatten_fixed
from godet.pattern.piece import Reals
from support.real_bodies import real_women
from support.style_runs import results

STYLE = Path(__file__).parent / "necklines.style"
STRAIGHT = 1e-6  # radians: what rounding turns between two chords of a straight line


def turns(path: Drawn) -> Reals:
    """By how much (L, n) each chord of a path turns from the one before, radians."""
    ways = np.diff(flatten_fixed(path, 40), axis=1)
    a, b = ways[:, :-1], ways[:, 1:]
    turned: Reals = np.arctan2(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0], (a * b).sum(axis=-1))
    return turned


@pytest.mark.parametrize("settings", [[], ["wider=2 cm"], ["wider=4 cm"], ["rounding=0.5 cm"], ["rounding=10 cm"]])
def test_necklines_run_on_over_the_shoulder_whatever_their_width(settings: list[str]) -> None:
    made = results(STYLE, real_women(25, 8), settings)
    assert not any(one.errors for one in made)
    of_necklines = ("round_runs_on", "vee_runs_on", "back_is_square", "round_is_square")
    assert all(check.holds for one in made for check in one.checks if check.name in of_necklines)


@pytest.mark.parametrize("settings", [[], ["wider=4 cm"], ["rounding=10 cm"]])
def test_necklines_have_no_wave(settings: list[str]) -> None:
    for one in results(STYLE, real_women(25, 8), settings):
        for piece in one.pieces:
            bent = np.concatenate([turns(side.drawn).ravel() for side in piece.piece.sides("neckline")])
            assert (bent > -STRAIGHT).all() or (bent < STRAIGHT).all(), (one.name, piece.name)
