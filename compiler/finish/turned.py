"""Corners of an allowance that is folded back along its own sewing line: hems, and seams pressed to one side."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ..geometry.curve import parallel
from ..geometry.lanes import BoolArray, FloatArray, join, norm, unit
from ..geometry.motion import mirror_points
from ..geometry.path import CUT_CHORDS, Path, end_direction, start_direction
from .corners import BEFORE, YES, Joint, Meeting, choose, mitred, outward
from .strip import Strip, at, between, meet, ray, run_on

HEM_POINTS = 33
"""Points on the turned-back end of a hem where the side next to it is curved: about a millimetre apart."""


FARTHEST = 4.0
"""An end that would reach further from its corner than this many of both allowances is not folded back: it would be a spike."""


@dataclass(frozen=True)
class Turning:
    """How the end of an allowance is cut at a corner.

    Folded along its sewing line it lies, mirrored, over the cloth: it ends there on the neighbour's cut line; with
    `stepped`, the neighbour's sewing line (a path), on that one, so that the neighbour's allowance ends at the fold; with
    `laid`, a line (L, n, 2) from the corner outward, on the cloth that lies beyond the seam. `under` (L,) mm of its `width`
    are folded in once more.
    """

    width: FloatArray
    stepped: Path | None = None
    laid: FloatArray | None = None
    under: FloatArray | None = None


def turned(m: Meeting, first: bool, how: Turning) -> Joint:
    """The joint where the first or the second side's allowance is folded back; a mitre where that cannot be."""
    hem, side, way = (m.first, m.second, m.arriving) if first else (m.second, m.first, m.leaving)
    on_hem, on_side = (m.first.end, np.full(1, -BEFORE)) if first else (np.full(1, -BEFORE), m.first.end)
    crease = ray(m.corner, way)
    on_side, _, reaches = meet(side, crease, on_side, np.zeros(1))
    guide, on_guide = _guide(m, first, how, side, on_side)
    ok = reaches
    if how.stepped is not None or how.laid is not None:
        on_guide, _, found = meet(guide, crease, on_guide, np.zeros(1))
        ok = ok & found
    count = 2 if guide.is_straight else HEM_POINTS
    back, on_cut, ends = meet(guide, hem, on_guide, on_hem)
    points = between(guide, back, on_guide, count)
    if how.under is not None:
        inner, turn, found = _second_fold(m, way, how, guide, on_guide)
        back, on_cut, ends = meet(inner, hem, turn, on_hem)
        points = join([between(inner, back, turn, count), between(guide, turn, on_guide, count)], 1)
        ok = ok & found
    if how.stepped is not None:
        points = join([points, at(side, on_side)[:, None]], 1)
    far = norm(points - m.corner[:, None]).max(axis=1)
    ok = ok & ends & (m.turn > 0.0) & (far <= FARTHEST * (m.first_width + m.second_width))
    joint = Joint(on_cut, points, on_side, ok) if first else Joint(on_side, points[:, ::-1], on_cut, ok)
    return joint if ok.all() else choose(ok, replace(joint, ok=ok), replace(mitred(m), as_asked=~YES))


def _guide(m: Meeting, first: bool, how: Turning, side: Strip, on_side: FloatArray) -> tuple[Strip, FloatArray]:
    """The line the allowance ends on, unfolded, and the mark on it from which to look for the fold."""
    way = m.arriving if first else m.leaving
    if how.laid is not None:
        points = how.laid
        return run_on(points, unit(points[:, 1] - points[:, 0]), unit(points[:, -1] - points[:, -2])), np.zeros(1)
    if how.stepped is not None:
        path = how.stepped
        sewn = run_on(parallel(path, 0.0, CUT_CHORDS), start_direction(path), end_direction(path))
        side, on_side = sewn, np.full(1, -BEFORE) if first else sewn.end
    return Strip(mirror_points(m.corner, m.corner + way, side.points), side.marks), on_side


def _second_fold(
    m: Meeting, way: FloatArray, how: Turning, guide: Strip, on_guide: FloatArray
) -> tuple[Strip, FloatArray, BoolArray]:
    """The guide beyond the second fold, mirrored at it, the mark (L,) where it is folded, and whether it is."""
    assert how.under is not None
    at_fold = m.corner + (how.width - how.under)[:, None] * outward(way)
    turn, _, found = meet(guide, ray(at_fold, way), on_guide, np.zeros(1))
    return Strip(mirror_points(at_fold, at_fold + way, guide.points), guide.marks), turn, found
