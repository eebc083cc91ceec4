"""The cap of a dart: its cut line is the one that lies on the neighbour's when the dart is folded and pressed over.

Fold the dart and press it towards the side A. The half of the cloth next to A's leg lies on A as its mirror image
across that leg; the other half lies on A turned back by the whole dart. Trimmed along A's cut line and unfolded, the
two halves meet in a peak on the middle of the dart.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..geometry.lanes import BoolArray, FloatArray, cross, dot, join, unit
from ..geometry.motion import apply_points, mirror_points, rotation
from .corners import BEFORE, Joint
from .strip import Strip, at, between, meet, ray

CAP_POINTS = 17
"""Points on each half of a cap along a curved edge: chords of a centimetre or less."""


@dataclass(frozen=True)
class Opening:
    """A dart's apex and the ends of its legs on the edge, (L, 2) each, in ring order."""

    apex: FloatArray
    first: FloatArray
    second: FloatArray

    @property
    def angle(self) -> FloatArray:
        """The angle of the dart (L,), radians, from the first leg to the second, anticlockwise."""
        a, b = self.first - self.apex, self.second - self.apex
        return np.arctan2(cross(a, b), dot(a, b))


@dataclass(frozen=True)
class _Half:
    """The cap as far as one neighbour settles it: its mark at its leg, points from its leg to the other, success."""

    mark: FloatArray
    points: FloatArray
    ok: BoolArray


def cap(opening: Opening, first: Strip, second: Strip, towards_first: bool) -> Joint:
    """From the first neighbour's cut line across the dart to the second's, pressed towards one of them."""
    on_first, on_second = first.end, np.full(1, -BEFORE)
    if towards_first:
        half = _pressed(opening.apex, opening.first, opening.angle, first, on_first)
        mark, _, ok = meet(second, ray(opening.apex, unit(opening.second - opening.apex)), on_second, np.zeros(1))
        points = join([half.points, at(second, mark)[:, None]], 1)
        return Joint(half.mark, points, mark, half.ok & ok)
    half = _pressed(opening.apex, opening.second, -opening.angle, second, on_second)
    mark, _, ok = meet(first, ray(opening.apex, unit(opening.first - opening.apex)), on_first, np.zeros(1))
    points = join([at(first, mark)[:, None], half.points[:, ::-1]], 1)
    return Joint(mark, points, half.mark, half.ok & ok)


@dataclass(frozen=True)
class Leg:
    """How a leg of a dart runs on through the allowance: its end (L, 2) on the edge, and the unit direction (L, 2) from there."""

    mouth: FloatArray
    way: FloatArray


def turned_up_cap(legs: tuple[Leg, Leg], first: Strip, second: Strip, towards_first: bool) -> Joint:
    """The cap of a dart in a hem: between its legs, which the hem mirrors, the cut line is that beside it as it lies folded over
    the leg it is pressed to, as far as the middle of the dart."""
    on_first, _, ok = meet(first, ray(legs[0].mouth, legs[0].way), first.end, np.zeros(1))
    on_second, _, meets = meet(second, ray(legs[1].mouth, legs[1].way), np.full(1, -BEFORE), np.zeros(1))
    ends = at(first, on_first), at(second, on_second)
    here = 0 if towards_first else 1
    corner, beside = ends[here], at(*((first, on_first - 1.0) if towards_first else (second, on_second + 1.0)))
    folded = mirror_points(corner, corner + legs[here].way, beside[:, None])[:, 0]
    middle = ray((legs[0].mouth + legs[1].mouth) / 2.0, unit(legs[0].way + legs[1].way))
    over = ray(corner, unit(folded - corner))
    mark, reach, crosses = meet(over, middle, np.zeros(1), np.zeros(1))
    points = np.stack(np.broadcast_arrays(ends[0], at(over, mark), ends[1]), axis=1)
    return Joint(on_first, points, on_second, ok & meets & crosses & (mark > 0.0) & (reach > 0.0))


def _pressed(apex: FloatArray, mouth: FloatArray, angle: FloatArray, side: Strip, start: FloatArray) -> _Half:
    """`angle` goes from this side's leg to the other; `start` is the mark on the side from which to look."""
    leg = unit(mouth - apex)
    mark, _, ok = meet(side, ray(apex, leg), start, np.zeros(1))
    middle = apply_points(rotation(np.zeros((1, 2)), -angle / 2), leg)
    middle_mark, reach, hit = meet(side, ray(apex, middle), mark, np.zeros(1))
    count = 2 if side.is_straight else CAP_POINTS
    lying = between(side, mark, middle_mark, count)
    near = mirror_points(apex, mouth, lying)
    far = apply_points(rotation(apex, angle), lying[:, ::-1])
    return _Half(mark, join([near, far[:, 1:]], 1), ok & hit & (reach > 0.0))
