"""The lines of a piece: cut line, sewing lines, fold, darts, notches, inner lines."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..geometry.curve import parallel
from ..geometry.path import Path, flatten_fixed
from ..pattern.darts import is_open_below
from ..pattern.finish.allowance import Cloth, allowance_of
from ..pattern.finish.notching import notch_strokes
from ..pattern.piece import Dart, Hole, Piece, Side
from .marks import Circle, Curve, Label, Layer, Line, Mark, Reals
from .signs import HOLE, drill_hole

PER_CURVE = 32
"""Chords for a curve where only room for text is looked for."""


def curve(layer: Layer, path: Path, source: str) -> Curve:
    return Curve(layer, path.controls[0], path.straight, source)


def flat(path: Path) -> Reals:
    points: Reals = flatten_fixed(path, PER_CURVE)[0]
    return points


def ring_points(sides: tuple[Side, ...]) -> Reals:
    """A closed ring (n, 2), first point not repeated."""
    return np.concatenate([flat(side.drawn)[:-1] for side in sides])


def on_fold(piece: Piece, side: Side) -> bool:
    return piece.fold is not None and piece.fold in side.names


def thinned(points: Reals) -> Reals:
    """The points without those that repeat the one before them."""
    apart = np.linalg.norm(np.diff(points, axis=0), axis=1) > 1e-9
    kept: Reals = points[np.concatenate([[True], apart])]
    return kept


def cut_lines(cloth: Cloth) -> list[Mark]:
    """The cut line; open along a fold, which is not cut."""
    piece = cloth.piece
    kept = [i for i, side in enumerate(cloth.sides) if side is not None]
    folds = [k for k, i in enumerate(kept) if on_fold(piece, piece.ring[i])]
    if not folds or bool(cloth.patched[0]):
        ring = thinned(cloth.cut[0])
        return [Line("cut", ring[:-1] if np.allclose(ring[0], ring[-1], atol=1e-9) else ring, closed=True)]
    marks: list[Mark] = []
    run: list[Reals] = []
    for k in range(folds[0], folds[0] + len(kept) + 1):
        i = kept[k % len(kept)]
        along, corner = _part(cloth.sides[i]), _part(cloth.closing[i])
        if on_fold(piece, piece.ring[i]):
            if len(run) > 1:
                marks.append(Line("cut", thinned(np.concatenate(run))))
            run = [corner]
        else:
            run += [along, corner]
    return marks


def _part(points: Reals | None) -> Reals:
    if points is None:
        raise AssertionError("a leg of a dart has no cut line")
    row: Reals = points[0]
    return row


def fold_lines(cloth: Cloth) -> Iterator[tuple[Reals, Reals, str]]:
    """Ends of each fold, as far as the cut line, and its name."""
    piece = cloth.piece
    kept = [i for i, side in enumerate(cloth.sides) if side is not None]
    for k, i in enumerate(kept):
        if on_fold(piece, piece.ring[i]):
            yield _part(cloth.closing[kept[k - 1]])[-1], _part(cloth.closing[i])[0], piece.ring[i].edge


def sewing_lines(cloth: Cloth) -> list[Mark]:
    """The sewing line of every side but folds and legs of darts; that of a hem turned up on it is a fold line, and where
    it is folded twice there is a second."""
    marks: list[Mark] = []
    for side, along in zip(cloth.piece.ring, cloth.sides, strict=True):
        if along is None or on_fold(cloth.piece, side):
            continue
        stated = allowance_of(cloth.piece, side)
        marks.append(curve("hem_fold" if stated.corner in ("folded", "stepped") else "sew", side.drawn, side.names[-1]))
        if stated.under is not None:
            points = parallel(side.drawn, stated.under - stated.width, PER_CURVE)[0]
            marks.append(Line("hem_fold", points, source=side.names[-1]))
    return marks


def dart_marks(cloth: Cloth, dart: Dart, drill_back: float) -> list[Mark]:
    """Legs, the middle line along which the dart is folded, the circle at the apex and the drill hole before it.

    A dart opened to an edge is a seam: its sides are drawn as such, and the circle says where it ends.
    """
    piece = cloth.piece
    if is_open_below(piece, dart):
        return [Circle("dart", piece.sides(dart.first)[-1].drawn.end[0], HOLE, dart.name)]
    legs = [side for name in (dart.first, dart.second) for side in piece.sides(name)]
    marks: list[Mark] = [curve("dart", side.drawn, side.names[-1]) for side in legs]
    apex = piece.sides(dart.first)[-1].drawn.end[0]
    first, second = legs[0].drawn.start[0], legs[-1].drawn.end[0]
    middle = _unit(_unit(first - apex) + _unit(second - apex))
    before = (piece.run(dart.first)[0] - 1) % len(piece.ring)
    capping = _part(cloth.closing[before]) - apex
    peak = capping[int(np.argmin(np.abs(capping @ np.array([-middle[1], middle[0]]))))]
    marks.append(Line("hem_fold", np.stack([apex + peak, apex + middle * HOLE]), source=dart.name))
    marks.append(Circle("dart", apex, HOLE, dart.name))
    if drill_back > 0.0:
        marks += drill_hole(apex + drill_back * middle, dart.name)
    return marks


def _unit(v: Reals) -> Reals:
    unit: Reals = v / np.linalg.norm(v)
    return unit


def hole_marks(hole: Hole, drill_back: float) -> list[Mark]:
    """A dart with two ends: four legs, a circle at each end, a drill hole before each."""
    marks: list[Mark] = [curve("dart", side.drawn, side.names[-1]) for side in hole.sides]
    middle = np.mean([side.drawn.start[0] for side in hole.sides], axis=0)
    lower = [".lower_" in side.edge for side in hole.sides]
    for k, side in enumerate(hole.sides):
        if lower[k] != lower[k - 1]:
            continue
        tip = side.drawn.start[0]
        marks.append(Circle("dart", tip, HOLE, hole.name))
        if drill_back > 0.0:
            marks += drill_hole(tip + drill_back * _unit(middle - tip), hole.name)
    return marks


def notch_marks(cloth: Cloth) -> list[Mark]:
    return [
        Line("notch", stroke, source=notch.seam or cloth.piece.ring[notch.side].names[-1])
        for notch in cloth.piece.notches
        for stroke in notch_strokes(cloth, notch)[0]
    ]


def obstacles(marks: list[Mark]) -> list[Reals]:
    """Runs of points that text keeps clear of."""
    runs: list[Reals] = []
    for mark in marks:
        match mark:
            case Line():
                runs.append(np.concatenate([mark.points, mark.points[:1]]) if mark.closed else mark.points)
            case Curve():
                runs.append(flat(Path(mark.spans[None], mark.straight)))
            case Circle():
                reach = np.array([mark.radius, 0.0])
                runs.append(np.stack([mark.centre - reach, mark.centre + reach]))
            case Label():
                runs.append(np.concatenate([mark.box, mark.box[:1]]))
    return runs
