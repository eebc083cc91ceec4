"""Truing: corners set to an angle, edges blended over a seam or a joint, made straight or smooth. Ends stay where they are.

What is sewn together at a corner meets smoothly when the angles of both pieces there make up half a turn; nothing need be
laid together for that, and it does not matter which of two pieces is drawn mirrored.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.fit import smooth_fit, smooth_spans
from ..geometry.lanes import agree, cross, dot, left_of, unit
from ..geometry.length import cut_at, length
from ..geometry.meet import lines
from ..geometry.motion import apply_points, rotation
from ..geometry.path import CHORDS, Path, chain, end_direction, flatten_fixed, line, reverse, start_direction
from ..geometry.tolerances import COINCIDE
from ..geometry.turning import end_speed, turned_end, turned_start
from .anew import drawn_anew, onto_part, telling_moved
from .darts import leg_run
from .edges import edge_from
from .extend import extended
from .named import parts_in
from .piece import Piece, Reals, Trouble
from .ring import End, RingPart, edge_run, rebuilt, runs_of


@dataclass(frozen=True)
class Corner:
    """Where an edge meets what `mark` names: ring numbers of its side there and of the side beside it, and which end."""

    here: int
    beside: int
    end: End


def corner_at(piece: Piece, edge: str, mark: str) -> Corner:
    """The corner of an edge where a neighbour, dart or point lies. Trouble as `edge_from` gives it."""
    end, numbers, count = edge_from(piece, edge, mark), edge_run(piece, edge), len(piece.ring)
    here = numbers[0] if end == "start" else numbers[-1]
    return Corner(here, (here - 1) % count if end == "start" else (here + 1) % count, end)


def angle_at(piece: Piece, corner: Corner) -> Reals:
    """Angle (L,) of the cloth at a corner, radians, 0 to a full turn."""
    before, after = (corner.here, corner.beside) if corner.end == "end" else (corner.beside, corner.here)
    arriving, leaving = end_direction(piece.ring[before].drawn), start_direction(piece.ring[after].drawn)
    return np.asarray(np.pi - np.arctan2(cross(arriving, leaving), dot(arriving, leaving)))


def at_angle(
    piece: Piece,
    edge: str,
    mark: str,
    angle: Reals | None,
    reach: Reals | None = None,
    shift: Reals | None = None,
) -> tuple[Piece, Reals]:
    """The piece with an edge turned at its corner with `mark` so that the cloth there has `angle` (L,) radians.

    The edge is changed over `reach` (L,) mm from the corner, or the whole of its side there. With `shift` (L,) mm the edge
    beside it is first made so much longer, and the corner goes with its end. Returns also how far (L,) mm a point of the
    edge moves at most. Trouble with lanes where the side is shorter than the reach.
    """
    corner = corner_at(piece, edge, mark)
    if angle is None or piece.is_sketch:
        return piece, np.zeros(1)
    old = piece.ring[corner.here].drawn
    if shift is not None:
        piece = extended(piece, piece.ring[corner.beside].names[-1], edge, shift)
    return _at_corner(piece, corner, angle, reach, old, edge)


def _at_corner(
    piece: Piece, corner: Corner, angle: Reals, reach: Reals | None, old: Path, edge: str
) -> tuple[Piece, Reals]:
    """The piece with the side at a corner, `old` until now, turned there so that the cloth has an angle (L,)."""
    beside = piece.ring[corner.beside].drawn
    if corner.end == "end":
        way, tip = _turned(start_direction(beside), angle - np.pi), beside.start
    else:
        way, tip = _turned(end_direction(beside), np.pi - angle), beside.end
    turn = turned_end if corner.end == "end" else turned_start
    _must_reach(old, reach, edge)
    whole, moved = turn(old, way, tip)
    if reach is not None and agree((moved > 0.0).astype(np.int64)):
        parts, k = _reached(old, corner.end, reach)
        parts[k], moved = turn(parts[k], way, tip)
        whole = chain(parts)
    return with_paths(piece, {corner.here: whole}), moved


def _turned(way: Reals, angle: Reals) -> Reals:
    return apply_points(rotation(np.zeros((1, 2)), angle), way)


def _must_reach(path: Path, reach: Reals | None, edge: str) -> None:
    """Trouble with lanes where a path is shorter than the reach."""
    if reach is None:
        return
    total = length(path)
    bad = (reach > total + COINCIDE) | (reach <= COINCIDE)
    if bad.any():
        fix = "reach less far; or draw an edge of several parts as one line first, with `smooth`"
        raise Trouble(f"`{edge}` runs on less far than that before its next corner", fix, bad, {"runs on": total, "reach": reach})


def _reached(path: Path, end: End, reach: Reals) -> tuple[list[Path], int]:
    """The path in one part, or in two where the reach from an end is shorter, and which part lies at that end."""
    total = length(path)
    if agree((reach >= total - COINCIDE).astype(np.int64)):
        return [path], 0
    return list(cut_at(path, total - reach if end == "end" else reach)), 1 if end == "end" else 0


@dataclass(frozen=True)
class Seamed:
    """An edge, its piece, and the seam edge it meets: one of the two sides on which a line runs over a seam."""

    piece: Piece
    edge: str
    over: str

    def corner(self) -> Corner:
        return corner_at(self.piece, self.edge, self.over)

    def angle(self) -> Reals:
        return angle_at(self.piece, self.corner())


def blended(one: Seamed, other: Seamed, reach: Reals | None = None, *, shifted: bool = False) -> tuple[Piece, Reals]:
    """The piece of the first side with its edge running smoothly over the seam into the other's once they are sewn.

    Both sides give way, so that they move by as much; the other is blended likewise, from the old ones. `shifted`: the
    corner moves along the seam edge, by as much on both, so that straight lines become round and not wavy; else it stays.
    """
    corners = one.corner(), other.corner()
    if one.piece.is_sketch or other.piece.is_sketch:
        return one.piece, np.zeros(1)
    ours, theirs = angle_at(one.piece, corners[0]), angle_at(other.piece, corners[1])
    bent = [_bent(side.piece, corner, reach) for side, corner in zip((one, other), corners, strict=True)]
    gives = _given(np.pi - ours - theirs, *bent)
    shift = None
    if shifted:
        shift = (round_shift(one, gives[0], reach) + round_shift(other, gives[1], reach)) / 2.0
    return at_angle(one.piece, one.edge, one.over, ours + gives[0], reach, shift)


def _bent(piece: Piece, corner: Corner, reach: Reals | None) -> Path:
    """The part of the edge at a corner that is drawn anew, ending there."""
    side = piece.ring[corner.here]
    _must_reach(side.drawn, reach, side.edge)
    parts, k = ([side.drawn], 0) if reach is None else _reached(side.drawn, corner.end, reach)
    return parts[k] if corner.end == "end" else reverse(parts[k])


def _given(lacking: Reals, one: Path, other: Path) -> tuple[Reals, Reals]:
    """How an angle (L,) that two corners lack is shared out to the paths that end there, so that both move by as much."""
    speeds = end_speed(one), end_speed(other)
    both = speeds[0] + speeds[1]
    return lacking * speeds[1] / both, lacking * speeds[0] / both


def round_shift(side: Seamed, by: Reals, reach: Reals | None = None) -> Reals:
    """How much longer (L,) mm the seam edge must be for the corner to open by `by` (L,) radians and the edge to bend
    evenly: the way from where the reach begins to the corner turns by half as much."""
    corner = side.corner()
    bent, beside = _bent(side.piece, corner, reach), side.piece.ring[corner.beside].drawn
    along, sense = (-start_direction(beside), 1.0) if corner.end == "end" else (end_direction(beside), -1.0)
    _, _, found, _ = lines(bent.start, _turned(bent.end - bent.start, sense * by / 2.0), bent.end, along)
    return found


def kink(one: Seamed, other: Seamed) -> Reals:
    """Angle (L,) in radians by which a line fails to run on smoothly from one side of a seam to the other."""
    return np.abs(one.angle() + other.angle() - np.pi)


def mouth(piece: Piece, edge: str, name: str) -> tuple[Corner, Corner]:
    """The corners of an edge with the legs of a dart that stands on it, before and after the dart. Trouble without one."""
    dart, count = piece.dart(name), len(piece.ring)
    if dart is None:
        raise Trouble(f"`{name}` is no dart on an edge", "a dart with two ends meets no edge")
    legs = leg_run(piece, dart)
    before, after = (legs[0] - 1) % count, (legs[-1] + 1) % count
    if any(edge not in piece.ring[i].names for i in (before, after)):
        raise Trouble(f"`{name}` does not stand on `{edge}`", f"it stands on `{dart.edge}`")
    return Corner(before, legs[0], "end"), Corner(after, legs[-1], "start")


def over_dart(piece: Piece, edge: str, name: str, reach: Reals | None = None) -> tuple[Piece, Reals]:
    """The piece with an edge running smoothly over a dart that stands on it once that is sewn; both sides give way."""
    first, second = mouth(piece, edge, name)
    if piece.is_sketch:
        return piece, np.zeros(1)
    angles = angle_at(piece, first), angle_at(piece, second)
    gives = _given(np.pi - angles[0] - angles[1], _bent(piece, first, reach), _bent(piece, second, reach))
    made, moved = _at_corner(piece, first, angles[0] + gives[0], reach, piece.ring[first.here].drawn, edge)
    made, other = _at_corner(made, second, angles[1] + gives[1], reach, made.ring[second.here].drawn, edge)
    return made, np.maximum(moved, other)


def kink_over_dart(piece: Piece, edge: str, name: str) -> Reals:
    """Angle (L,) in radians by which an edge fails to run on smoothly over a dart once that is sewn."""
    first, second = mouth(piece, edge, name)
    return np.abs(angle_at(piece, first) + angle_at(piece, second) - np.pi)


def rounded_joint(piece: Piece, edge: str, into: str, reach: Reals | None = None) -> tuple[Piece, Reals]:
    """The piece with two edges that meet in a kink running smoothly into each other; both give way."""
    corner = corner_at(piece, edge, into)
    if piece.is_sketch:
        return piece, np.zeros(1)
    kinked = angle_at(piece, corner)
    other = Corner(corner.beside, corner.here, "start" if corner.end == "end" else "end")
    own, _ = _given(np.pi - kinked, _bent(piece, corner, reach), _bent(piece, other, reach))
    first, one = at_angle(piece, edge, into, kinked + own, reach)
    second, two = at_angle(first, into, edge, np.full(1, np.pi), reach)
    return second, np.maximum(one, two)


def true_edge(
    piece: Piece, name: str, leaving: Reals | None = None, arriving: Reals | None = None, spans: int = 1
) -> tuple[Piece, Reals]:
    """The piece with all sides of an edge replaced by one smooth side, and how far (L,) mm it lies from them at most.

    The edge keeps its ends and, unless told otherwise, its directions (L, 2) there. It is drawn in as many `spans` as told:
    one has no more than one bend each way. Trouble when a dart stands on it.
    """

    def smooth(old: Path) -> tuple[Path, Reals]:
        first = start_direction(old) if leaving is None else leaving
        last = end_direction(old) if arriving is None else arriving
        return smooth_fit(old, first, last) if spans == 1 else smooth_spans(old, spans, first, last)

    return _one_side(piece, name, smooth, "trued to one smooth line")


def straightened(piece: Piece, name: str) -> tuple[Piece, Reals]:
    """The piece with an edge replaced by the straight line between its ends, and how far (L,) mm it lay off that at most.

    Trouble when a dart stands on it.
    """

    def straight(old: Path) -> tuple[Path, Reals]:
        return line(old.start, old.end), off_chord(old)

    return _one_side(piece, name, straight, "made straight")


def drawn_as_one(piece: Piece, name: str, path: Path | None) -> tuple[Piece, Reals]:
    """The piece with all sides of an edge replaced by one along a path between its ends; None in a sketch.

    Trouble when a dart stands on it.
    """
    return _one_side(piece, name, lambda old: (path or old, np.zeros(1)), "trued over several panels")


def off_chord(path: Path) -> Reals:
    """How far (L,) mm a path lies off the straight line between its ends at most."""
    way = unit(path.end - path.start)
    points = flatten_fixed(path, CHORDS) - path.start[:, None]
    return np.asarray(np.abs(dot(points, left_of(way)[:, None])).max(axis=1))


def _one_side(piece: Piece, name: str, draw: Callable[[Path], tuple[Path, Reals]], how: str) -> tuple[Piece, Reals]:
    """The piece with all sides of an edge made one, and what `draw` says of the move."""
    numbers, count = edge_run(piece, name), len(piece.ring)
    if any((after - before) % count != 1 for before, after in itertools.pairwise(numbers)):
        raise Trouble(
            f"`{name}` is broken by a dart or a pleat: it cannot become one line",
            "close the dart or leave it first; true a pleated edge before it is pleated",
        )
    sides = [piece.ring[i] for i in numbers]
    parts = parts_in(piece)
    groups = [list(group) for _, group in itertools.groupby(sides, lambda side: [n for n in side.names if n in parts])]
    made, moved = drawn_anew(groups, draw, parts)
    kept = {n for side in made for n in side.names}
    lost = {n: f"`{name}` was {how}" for side in sides for n in side.names if n not in kept}
    runs = [run for i, run in enumerate(runs_of(piece)) if i not in numbers[1:]]
    at = next(k for k, run in enumerate(runs) if run.source == numbers[0])
    runs[at : at + 1] = [RingPart(side) for side in made]
    group_of = [k for k, group in enumerate(groups) for _ in group]
    on_it = [
        onto_part(piece, notch, groups[k], made[k], at + k)
        for notch in piece.notches
        if notch.side in numbers
        for k in [group_of[numbers.index(notch.side)]]
    ]
    return telling_moved(piece, rebuilt(piece, runs, lost=lost, onto=on_it)), moved


def with_paths(piece: Piece, paths: Mapping[int, Path]) -> Piece:
    """The piece with sides of its ring drawn along other paths between the same ends; notches lie on the nearest place."""
    runs = runs_of(piece)
    for i, path in paths.items():
        runs[i] = RingPart(replace(piece.ring[i], path=path))
    on_them = [
        onto_part(piece, notch, [piece.ring[notch.side]], runs[notch.side].side, notch.side)
        for notch in piece.notches
        if notch.side in paths
    ]
    return telling_moved(piece, rebuilt(piece, runs, onto=on_them))
