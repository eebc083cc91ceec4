"""Edges of blocks and panels that run on smoothly once their darts and seams are sewn, on real women (tests/data/README.md)."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest
from godet.geometry.path import Path as Drawn
from godet.pattern.piece import Piece
from godet.pattern.truing import Seamed, kink, kink_over_dart
from support.drawn_styles import Drawings, drawings, whole
from support.real_bodies import real_women
from support.style_runs import INVENTED, invented

STYLE = Path(__file__).parent / "trued_edges.style"
SEEN = 1.0  # degrees


@lru_cache(maxsize=1)
def made() -> Drawings:
    women = [one for one in map(invented, INVENTED) if one.sex == "F"]
    return drawings(STYLE, [*women, *real_women(60, 23)], of=("front", "back", "long_", "centre_", "side_"))


def pieces(name: str) -> list[Piece]:
    found = [value for value in made().values[name] if isinstance(value, Piece)]
    assert found
    return found


@pytest.mark.parametrize("name", ["front", "back"])
def test_the_waistline_runs_on_over_every_dart(name: str) -> None:
    darts = [(one, dart.name) for one in pieces(name) for dart in one.darts if dart.edge == "waistline"]
    assert {dart for _, dart in darts} == {"waist_dart", "second_waist_dart"}
    for one, dart in darts:
        assert np.degrees(kink_over_dart(one, "waistline", dart)).max() < SEEN, dart


@pytest.mark.parametrize("part", ["front", "back"])
def test_the_waistline_runs_on_over_the_seam_of_panels(part: str) -> None:
    for middle, side in zip(pieces(f"centre_{part}"), pieces(f"side_{part}"), strict=True):
        break_ = kink(Seamed(middle, "waistline", "princess"), Seamed(side, "waistline", "princess"))
        assert np.degrees(break_).max() < SEEN


@pytest.mark.parametrize("name", ["long_front", "long_back"])
def test_the_side_has_no_corner_at_the_waist(name: str) -> None:
    for one in pieces(name):
        assert corners(whole(one, "side")).max() < SEEN


def corners(path: Drawn) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """By how much (L, n) degrees a path turns from one of its curves to the next."""
    arriving, leaving = path.controls[:, :-1, 3] - path.controls[:, :-1, 2], path.controls[:, 1:, 1] - path.controls[:, 1:, 0]
    cross = arriving[..., 0] * leaving[..., 1] - arriving[..., 1] * leaving[..., 0]
    return np.asarray(np.abs(np.degrees(np.arctan2(cross, (arriving * leaving).sum(axis=-1)))))
