"""The lines of a piece: cut line, sewing lines, fold, darts, notches, inner lines."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ..finish.finished import FinishedPiece
from ..finish.notching import dart_snips, legs_to_the_cut, notch_strokes, reach
from ..finish.stated import HEMS, allowance_of
from ..geometry.curve import parallel
from ..geometry.length import length
from ..geometry.path import CHORDS, Path, flatten_fixed, thinned
from ..geometry.tolerances import FLAT, SEW
from ..pattern.darts import is_open_below
from ..pattern.piece import Dart, Hole, Piece, Side
from .marks import Circle, Curve, Label, Layer, Line, Mark, Reals
from .signs import HOLE, across, drill_hole

RUN_ON = 4.0
"""A fold line that would run on for more than this many of the widest allowance does not meet the edge beside it."""

CUT_SHORT = 6.0
"""A cut up to the end of a seam inside the cloth stops so far (mm) before it (common practice, no source)."""

BETWEEN = float(np.cos(np.radians(30.0)))
"""The cosine of the angle to the middle of an opened dart in which the corner of its cut line lies."""



def curve(layer: Layer, path: Path, source: str) -> Curve:
    return Curve(layer, path.controls[0], path.straight, source)


def flat(path: Path) -> Reals:
    points: Reals = flatten_fixed(path, CHORDS)[0]
    return points


def ring_points(sides: tuple[Side, ...]) -> Reals:
    """A closed ring (n, 2), first point not repeated."""
    return np.concatenate([flat(side.drawn)[:-1] for side in sides])


def on_fold(piece: Piece, side: Side) -> bool:
    return piece.fold is not None and piece.fold in side.names


def cut_lines(cloth: FinishedPiece) -> list[Mark]:
    """The cut line; open along a fold, which is not cut."""
    piece = cloth.piece
    folds = [side for side in piece.ring if on_fold(piece, side)]
    ring = thinned(cloth.cut[0])
    if np.allclose(ring[0], ring[-1], atol=1e-9):
        ring = ring[:-1]
    folded = np.zeros(len(ring), dtype=bool)
    for side in folds:
        folded |= _lies_on(ring, side)
    if not folded.any():
        return [Line("cut", ring, closed=True)]
    first = int(np.flatnonzero(folded)[0]) + 1
    ring, folded = np.roll(ring, -first, axis=0), np.roll(folded, -first)
    marks: list[Mark] = []
    start = 0
    for end in np.flatnonzero(folded):
        if end > start:
            marks.append(Line("cut", ring[start : end + 1]))
        start = int(end) + 1
    return marks


def _lies_on(ring: Reals, side: Side) -> NDArray[np.bool_]:
    """Which steps of a closed ring (n, 2), each from its point to the next, lie on the straight line of a fold."""
    start, end = side.drawn.start[0], side.drawn.end[0]
    off = np.abs((ring - start) @ across(_unit(end - start))) < FLAT
    lies: NDArray[np.bool_] = off & np.roll(off, -1)
    return lies


def _part(points: Reals | None) -> Reals:
    if points is None:
        raise AssertionError("a leg of a dart has no cut line")
    row: Reals = points[0]
    return row


def fold_lines(cloth: FinishedPiece) -> Iterator[tuple[Reals, Reals, str]]:
    """Ends of each fold, as far as the cut line, and its name."""
    ring = cloth.cut[0]
    for side in cloth.piece.ring:
        if on_fold(cloth.piece, side):
            way = _unit(side.drawn.end[0] - side.drawn.start[0])
            lies = _lies_on(ring, side)
            points = ring[lies | np.roll(lies, 1)]
            along = points @ way
            yield points[int(np.argmin(along))], points[int(np.argmax(along))], side.edge


def sewing_lines(cloth: FinishedPiece) -> list[Mark]:
    """The sewing line of every side but folds and legs of darts; that of a hem turned up on it is a fold line, and where
    it is folded twice there is a second. Fold lines run on to the cut edge."""
    piece = cloth.piece
    marks: list[Mark] = []
    for number, (side, along) in enumerate(zip(piece.ring, cloth.sides, strict=True)):
        if along is None or on_fold(piece, side):
            continue
        stated = allowance_of(piece, side)
        hem = stated.corner in HEMS
        marks.append(curve("hem_fold" if hem else "sew", side.drawn, side.names[-1]))
        if hem:
            marks += [Line("hem_fold", end, source=side.names[-1]) for end in _to_cut_edge(cloth, number, flat(side.drawn))]
        if stated.under is not None:
            points = parallel(side.drawn, stated.under - stated.width, CHORDS)[0]
            ends = _to_cut_edge(cloth, number, points)
            marks += [Line("hem_fold", one, source=side.names[-1]) for one in (points, *ends)]
    return marks


def _to_cut_edge(cloth: FinishedPiece, number: int, points: Reals) -> list[Reals]:
    """What is missing (2, 2) of a fold line of points (n, 2) along a side, at its ends, as far as the cut edge beside it."""
    ring, found = cloth.piece.ring, []
    sewn = [dart for dart in cloth.piece.darts if not is_open_below(cloth.piece, dart)]
    legs = {name for dart in sewn for name in (dart.first, dart.second)}
    for beside, end, before in ((number - 1, points[0], points[1]), (number + 1, points[-1], points[-2])):
        neighbour = ring[beside % len(ring)]
        if on_fold(cloth.piece, neighbour) or neighbour.edge == ring[number].edge or legs & set(neighbour.names):
            continue  # a fold ends at a dart, whose legs go on to the cut edge
        way = _unit(end - before)
        gap = reach(cloth.cut[0], end, way)
        if gap is not None and gap < RUN_ON * max(float(width[0]) for width in cloth.widths):
            found.append(np.stack([end, end + gap * way]))
    return found


def dart_marks(cloth: FinishedPiece, dart: Dart, drill_back: float) -> list[Mark]:
    """Legs, in a hem on to the cut edge, the middle line along which the dart is folded, the circle at the apex and the drill
    hole before it.

    A dart opened to an edge is a seam: its sides are drawn as such, and the circle says where it ends.
    """
    piece = cloth.piece
    if is_open_below(piece, dart):
        return [Circle("dart", piece.sides(dart.first)[-1].drawn.end[0], HOLE, dart.name)]
    legs = [side for name in (dart.first, dart.second) for side in piece.sides(name)]
    marks: list[Mark] = [curve("dart", side.drawn, side.names[-1]) for side in legs]
    hem = allowance_of(piece, piece.sides(dart.edge)[0]).corner in HEMS
    if hem:
        marks += [Line("dart", leg, source=dart.name) for leg in legs_to_the_cut(cloth, dart)]
    apex = piece.sides(dart.first)[-1].drawn.end[0]
    first, second = legs[0].drawn.start[0], legs[-1].drawn.end[0]
    middle = _unit(_unit(first - apex) + _unit(second - apex))
    before = (piece.run(dart.first)[0] - 1) % len(piece.ring)
    capping = _part(cloth.closing[before]) - apex
    peak = capping[int(np.argmin(np.abs(capping @ np.array([-middle[1], middle[0]]))))]
    along = None if hem else reach(cloth.cut[0], apex, middle)  # a cap that could not be folded has no peak on the middle
    peak = peak if along is None else along * middle
    bend = [(first + second) / 2.0] if hem else []
    marks.append(Line("hem_fold", np.stack([apex + peak, *bend, apex + middle * HOLE]), source=dart.name))
    marks.append(Circle("dart", apex, HOLE, dart.name))
    if drill_back > 0.0:
        marks += drill_hole(apex + drill_back * middle, dart.name)
    return marks


def _unit(v: Reals) -> Reals:
    unit: Reals = v / np.linalg.norm(v)
    return unit


def dart_cut(cloth: FinishedPiece, dart: Dart) -> list[Mark]:
    """What is still to be cut between the sides of a dart opened to an edge, where one is gathered or eased to the other: it
    cannot be folded and sewn as a dart, so the cut runs on from where the allowances meet nearly to the apex."""
    piece = cloth.piece
    first, second = (piece.sides(name) for name in (dart.first, dart.second))
    longs = [sum(float(length(side.drawn)[0]) for side in sides) for sides in (first, second)]
    if not is_open_below(piece, dart) or abs(longs[0] - longs[1]) <= SEW:
        return []
    apex = first[-1].drawn.end[0]
    into = _unit(_unit(flat(first[-1].drawn)[-2] - apex) + _unit(flat(second[0].drawn)[1] - apex))
    away = cloth.cut[0] - apex
    between = away[away @ into > BETWEEN * np.linalg.norm(away, axis=1)]
    meet = apex + min(between, key=lambda one: float(np.linalg.norm(one)))
    end = apex + CUT_SHORT * _unit(meet - apex)
    return [Line("cut", np.stack([meet, end]), source=dart.name)] if np.linalg.norm(meet - apex) > CUT_SHORT else []


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


def notch_marks(cloth: FinishedPiece) -> list[Mark]:
    """Snips of notches and at the mouths of darts; where seams share a notch it is drawn once."""
    marks: list[Mark] = []
    drawn: list[Reals] = []
    for notch in sorted(cloth.piece.notches, key=lambda one: -one.strokes):
        for stroke in notch_strokes(cloth, notch):
            if all(np.abs(stroke - other).max() > SEW for other in drawn):
                drawn.append(stroke)
                marks.append(Line("notch", stroke, source=notch.seam or cloth.piece.ring[notch.side].names[-1]))
    return marks


def dart_snip_marks(cloth: FinishedPiece, dart: Dart) -> list[Mark]:
    """Snips at the mouth of a dart that is sewn, in line with its legs."""
    return [] if is_open_below(cloth.piece, dart) else [Line("notch", one, source=dart.name) for one in dart_snips(cloth, dart)]


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
