"""Whether a piece is the same shape turned over: a matter of its outline, not of how that is parted into edges."""

from __future__ import annotations

import numpy as np
import pytest
from godet.geometry.path import Path, line
from godet.pattern.piece import Piece, Side
from godet.pattern.turned_over import alike_turned_over

Points = list[tuple[float, float]]

TRAPEZE: Points = [(0, 0), (300, 0), (250, 200), (50, 200)]
SLANTED: Points = [(0, 0), (300, 0), (250, 200), (120, 200)]
SQUARE: Points = [(0, 0), (200, 0), (200, 200), (0, 200)]
ROUND = 0.5522847498  # of a quarter of a circle as one cubic


def drawn(points: Points, turned: float = 0.0, also: Points | None = None) -> Piece:
    """Points joined by lines, turned about the first; on a second body others."""
    bodies = np.array([points, also or points], dtype=float) @ np.array([1.0, 1j]) * np.exp(1j * turned)
    at = np.stack([bodies.real, bodies.imag], axis=-1)
    count = len(points)
    return Piece(tuple(Side((f"side{k}",), line(at[:, k], at[:, (k + 1) % count])) for k in range(count)))


@pytest.mark.parametrize(("points", "alike"), [(TRAPEZE, True), (SQUARE, True), (SLANTED, False)])
@pytest.mark.parametrize("turned", [0.0, 0.7])
def test_a_shape_with_an_axis_is_the_same_turned_over(points: Points, alike: bool, turned: float) -> None:
    assert alike_turned_over(drawn(points, turned)).all() == alike


@pytest.mark.parametrize("spot", [(275.0, 100.0), (100.0, 0.0), (60.0, 200.0)])
def test_an_edge_that_is_two_on_one_side_alone_is_one_shape_all_the_same(spot: tuple[float, float]) -> None:
    known = next(k for k in range(4) if np.isclose(_off(TRAPEZE[k], TRAPEZE[(k + 1) % 4], spot), 0.0))
    assert alike_turned_over(drawn([*TRAPEZE[: known + 1], spot, *TRAPEZE[known + 1 :]])).all()


def test_each_body_has_its_own_shape() -> None:
    assert alike_turned_over(drawn(TRAPEZE, also=SLANTED)).tolist() == [True, False]


def oval(wide: float, high: float, lean: float) -> Piece:
    """An oval of quarters, leaning over: without a corner."""
    ways = np.array([1, 1j, -1, -1j])
    sides: list[Side] = []
    for one, two in zip(ways, np.roll(ways, -1), strict=True):
        z = np.array([one, one + ROUND * two, two + ROUND * one, two])
        x, y = z.real * wide, z.imag * high
        sides.append(Side((f"q{len(sides)}",), Path(np.stack([x + lean * y, y], axis=-1)[None, None], (False,))))
    return Piece(tuple(sides))


def test_a_shape_without_corners_is_turned_about_its_own_axes() -> None:
    assert alike_turned_over(oval(100, 60, 0.0)).all()
    assert alike_turned_over(oval(100, 60, 0.4)).all()  # which is an oval again
    assert alike_turned_over(oval(80, 80, 0.0)).all()


def test_an_egg_that_hangs_is_another_shape() -> None:
    egg = oval(100, 60, 0.0)
    bent = [side.drawn.controls.copy() for side in egg.ring]
    for controls in bent:
        controls[..., 0] += np.where(controls[..., 1] > 0, 0.004 * controls[..., 1] ** 2, 0.0)
    ring = tuple(Side(side.names, Path(one, (False,))) for side, one in zip(egg.ring, bent, strict=True))
    assert not alike_turned_over(Piece(ring)).any()


def _off(one: tuple[float, float], two: tuple[float, float], spot: tuple[float, float]) -> float:
    """How far a place lies off a line."""
    a, b, c = (complex(*each) for each in (one, two, spot))
    return float(((c - a) / (b - a)).imag)
