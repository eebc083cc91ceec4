"""A piece folded out or opened out along a line that runs across it, as where a back is too long at the waist."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import agree, cross, dot, left_of, unit
from ..geometry.length import length, nearest, point_at
from ..geometry.meet import line_path
from ..geometry.motion import Motion, apply_path, apply_points, rotation, translation
from ..geometry.path import Path, chain, line
from ..geometry.tolerances import COINCIDE
from .divide import met_halfway
from .edges import OFF, edge_from, edge_path
from .inner import parted_by
from .panels import ThroughDart, must_lie_on_cloth
from .piece import Hole, Piece, Reals, Side, Trouble
from .ring import (
    RingPart,
    RingPlace,
    edge_run,
    edge_total,
    moved,
    place_on,
    point_of,
    rebuilt,
    shared_names,
    split_ring,
    with_ends,
)
from .spread import Bridge, Chord, opened

NEAR = 1.0
"""A corner of a dart within so much (mm) of the line lies on it."""

OVER = 2
"""Where a dart lies that is on several parts."""


@dataclass(frozen=True)
class End:
    """An end of a line across a piece: the edge it meets, how far (L,) mm along that, and the point (L, 2)."""

    edge: str
    along: Reals
    point: Reals


def opened_out(piece: Piece, called: str, at: str | None, by: Reals, keeping: str | None) -> Piece:
    """The piece opened along its line `called` by `by` (L,) mm: at the end that meets `at`, to nothing at the other, or without
    `at` all the way. The gaps are bridged straight, as parts of the edges they lie in."""
    if piece.is_sketch or _is_nothing(by):
        return piece
    ends = _ends(piece, called, at)
    _must_pass_darts(piece, called, [[end.point for end in ends]])
    places = [place_on(piece, end.edge, end.along, "start") for end in ends]
    bridges = [Bridge((_shared(piece, end, place),)) for end, place in zip(ends, places, strict=True)]
    far = np.zeros(1) if at is not None else by
    chord = Chord(f"the line `{called}`", (places[0], places[1]), (bridges[0], None if at is not None else bridges[1]), (by, far))
    over = [hole for hole in piece.holes if _lies_over(hole, ends)]
    beside = NEAR * left_of(unit(ends[1].point - ends[0].point))
    spots = {
        f"{side.edge} {word}": side.drawn.start + off
        for hole in over
        for side in hole.sides
        for word, off in (("before", -beside), ("behind", beside))
    }
    rest = tuple(hole for hole in piece.holes if hole not in over)
    marked = replace(piece, holes=rest, points=MappingProxyType({**piece.points, **spots}))
    made = opened(marked, [chord], still=keeping)
    return _with_darts(piece, made, over)


def _lies_over(hole: Hole, ends: tuple[End, End]) -> bool:
    """Whether a dart with two ends lies on both sides of a line. Raises Disagreement."""
    one, two = (end.point for end in ends)
    off = np.stack(np.broadcast_arrays(*(cross(unit(two - one), side.drawn.start - one) for side in hole.sides)))
    return bool(agree(((off.min(axis=0) < -NEAR) & (off.max(axis=0) > NEAR)).astype(np.int64)))


def _with_darts(before: Piece, made: Piece, over: Sequence[Hole]) -> Piece:
    """The opened piece with the darts that lay over the line, their corners in the middle between where both sides of each have
    gone; the marks that tell where are taken away."""
    there = {}
    for hole in over:
        corners = []
        for side in hole.sides:
            spots = [made.points[f"{side.edge} {word}"] for word in ("before", "behind")]
            corners.append(sum((spot for spot in spots if spot is not None), np.zeros(1)) / 2.0)
        there[hole.name] = _drawn_to(hole, corners)
    holes = {hole.name: hole for hole in made.holes} | there
    points = {name: point for name, point in made.points.items() if name in before.points}
    in_order = tuple(holes[hole.name] for hole in before.holes)
    return replace(made, holes=in_order, points=MappingProxyType(points))


def _drawn_to(hole: Hole, corners: Sequence[Reals]) -> Hole:
    """The dart with its legs drawn to new corners (L, 2), each where a leg begins."""
    ends = [*corners[1:], corners[0]]
    sides = (with_ends(side, start=a, end=b) for side, a, b in zip(hole.sides, corners, ends, strict=True))
    return replace(hole, sides=tuple(sides))


def _shared(piece: Piece, end: End, place: RingPlace) -> tuple[str, ...]:
    side = piece.ring[place.side]
    return shared_names(side if bool((place.at > COINCIDE).all()) else piece.ring[place.side - 1], side, end.edge)


def _is_nothing(by: Reals) -> bool:
    """Whether there is nothing to do. Raises Disagreement where there is on some bodies only."""
    below = by < 0.0
    if below.any():
        raise Trouble("it goes by less than nothing", "write `fold_out` for `open_out`, or the other way", below, {"asked": by})
    return bool(agree((by <= COINCIDE).astype(np.int64)))


def _ends(piece: Piece, called: str, at: str | None) -> tuple[End, End]:
    """Both ends of a line, first that which meets `at`. Trouble where they do not lie on the outline."""
    paths = edge_path(piece, called)
    first, second = paths[0].start, paths[-1].end
    if at is not None and edge_from(piece, called, at) == "end":
        first, second = second, first
    return _end(piece, called, first), _end(piece, called, second)


def _end(piece: Piece, called: str, point: Reals) -> End:
    legs = piece.dart_sides()
    edges = dict.fromkeys(side.edge for i, side in enumerate(piece.ring) if i not in legs)
    met = {edge: nearest(chain([piece.ring[i].drawn for i in edge_run(piece, edge)]), point) for edge in edges}
    away = np.stack(np.broadcast_arrays(*(gap for _, gap in met.values())), axis=1)
    edge = list(edges)[agree(np.argmin(np.round(away, 6), axis=1))]
    along, gap = met[edge]
    if (gap > OFF).any():
        fix = "let it run from edge to edge, as a level does"
        raise Trouble(f"`{called}` does not end on the outline", fix, gap > OFF, {"short of it by": gap})
    return End(edge, along, point)


# ---- folded out --------------------------------------------------------------------------------


@dataclass(frozen=True)
class Strip:
    """What is folded out: between the two places on the first edge, and those (or the one) on the second. `ahead` is the part of
    the piece that is met next, travelling on from the first edge; `stays` tells whether it does."""

    places: tuple[RingPlace, RingPlace, RingPlace, RingPlace]
    points: tuple[Reals, Reals, Reals, Reals]
    hinge: bool
    by: Reals
    stays: bool = False

    @cached_property
    def motion(self) -> Motion:
        """That of the part that does not stay."""
        before, after, beyond, _ = self.points
        if self.hinge:
            here, there = (before, after) if self.stays else (after, before)
            one, two = here - beyond, there - beyond
            return rotation(beyond, np.arctan2(cross(one, two), dot(one, two)))
        way = left_of(unit(beyond - after))  # toward the part behind
        return translation((-1.0 if self.stays else 1.0) * self.by[:, None] * way)

    @cached_property
    def halfway(self) -> Motion:
        """That of what lies on the line itself."""
        before, after, beyond, _ = self.points
        if self.hinge:
            middle, there = (before + after) / 2.0 - beyond, (after if self.stays else before) - beyond
            return rotation(beyond, np.arctan2(cross(middle, there), dot(middle, there)))
        way = left_of(unit(beyond - after))
        return translation((-0.5 if self.stays else 0.5) * self.by[:, None] * way)

    def where(self, point: Reals) -> NDArray[np.int64]:
        """1 (L,) where a point (L, 2) lies on the part ahead, -1 behind, 0 on the strip."""
        before, after, beyond, last = self.points
        ahead = cross(beyond - after, point - after) <= 0.0
        behind = cross(last - before, point - before) >= 0.0
        return np.where(ahead, 1, np.where(behind, -1, 0)).astype(np.int64)

    def about(self, point: Reals) -> NDArray[np.int64]:
        """As `where`, with what lies near the line on it, however narrow the strip is."""
        before, after, beyond, last = self.points
        start, end = (before + after) / 2.0, (beyond + last) / 2.0
        near = np.abs(cross(unit(end - start), point - start)) <= NEAR
        return np.where(near, 0, self.where(point)).astype(np.int64)

    def motion_at(self, where: int) -> Motion | None:
        """The motion of a part; None for the one that stays."""
        if where == 0:
            return self.halfway
        return None if (where > 0) == self.stays else self.motion


def folded_out(piece: Piece, called: str, at: str | None, by: Reals, keeping: str | None) -> Piece:
    """The piece with a strip folded out along its line `called`, `by` (L,) mm wide: at the end that meets `at`, to nothing at the
    other, or without `at` all the way, measured square to the line. Where the edges do not meet over it they are drawn to the
    middle. The part with `keeping` stays, else the one with more outline.

    A dart with two ends may lie over the strip: its legs are drawn anew. Trouble where the strip runs through another. Raises
    Disagreement when bodies differ in what lies where.
    """
    if piece.is_sketch or _is_nothing(by):
        return piece
    strip = _strip(piece, called, _ends(piece, called, at), by, at is not None)
    runs, starts = split_ring(piece, strip.places)
    ahead, behind = _between(runs, starts[1], starts[2]), _between(runs, starts[3], starts[0])
    strip = replace(strip, stays=_ahead_stays(ahead, behind, keeping))
    _must_be_bare(piece, runs, (*ahead, *behind))
    parts = [run for where, part in ((1, ahead), (-1, behind)) for run in _carried(part, strip.motion_at(where))]
    return rebuilt(
        piece,
        met_halfway(parts),
        holes=tuple(_hole_folded(hole, strip) for hole in piece.holes),
        lines=tuple(part for side in piece.lines for part in _line_folded(piece, side, strip)),
        points=MappingProxyType({name: _landmark(point, strip) for name, point in piece.points.items()}),
    )


def _strip(piece: Piece, called: str, ends: tuple[End, End], by: Reals, hinge: bool) -> Strip:
    first, second = ends
    half = by / 2.0
    if hinge:
        alongs = [first.along - half, first.along + half, second.along, second.along]
    else:
        way = unit(second.point - first.point)
        behind, ahead = (half[:, None] * side * left_of(way) for side in (1.0, -1.0))
        alongs = [
            *(_meeting(piece, first.edge, first.point + off, way) for off in (behind, ahead)),
            *(_meeting(piece, second.edge, second.point + off, way) for off in (ahead, behind)),
        ]
    edges = (first.edge, first.edge, second.edge, second.edge)
    places = [place_on(piece, edge, along, "start") for edge, along in zip(edges, alongs, strict=True)]
    points = [point_of(piece, place) for place in places]
    known = [point for point in points if point is not None]
    _must_pass_darts(piece, called, [[known[0], known[3]], [known[1], known[2]]])
    return Strip((places[0], places[1], places[2], places[3]), (known[0], known[1], known[2], known[3]), hinge, by)


def _must_pass_darts(piece: Piece, called: str, lines: Sequence[Sequence[Reals]]) -> None:
    """Trouble where lines leave the cloth, as through a dart on an edge; over one with two ends they may lie."""
    try:
        must_lie_on_cloth(replace(piece, holes=()), lines, [f"the line `{called}`"] * len(lines))
    except ThroughDart as through:
        fix = f"do it before `{through.dart}` is drawn or opened to an edge, or along another line"
        raise Trouble(through.message, fix, through.lanes) from None


def _meeting(piece: Piece, edge: str, point: Reals, way: Reals) -> Reals:
    """How far (L,) mm along an edge a line beside the one across the piece meets it."""
    along, _, ok = line_path(point, way, chain(edge_path(piece, edge)))
    if not ok.all():
        raise Trouble(f"the strip runs beyond the end of `{edge}`", "fold out less, or along another line", ~ok)
    return along


def _between(runs: Sequence[RingPart], start: int, stop: int) -> list[RingPart]:
    """The runs from one number to before another, round the ring."""
    return [runs[(start + k) % len(runs)] for k in range((stop - start) % len(runs))]


def _ahead_stays(ahead: Sequence[RingPart], behind: Sequence[RingPart], keeping: str | None) -> bool:
    """Whether the part ahead stays: it holds the edge that is kept, or more of the outline."""
    if keeping is not None:
        held = [any(keeping in run.side.names for run in part) for part in (ahead, behind)]
        if held[0] != held[1]:
            return held[0]
        raise Trouble(f"`{keeping}` does not tell which part stays", "name an edge that lies on one side of the line")
    long = [sum((length(run.side.drawn) for run in part), np.zeros(1)) for part in (ahead, behind)]
    return bool(agree((long[0] > long[1] + COINCIDE).astype(np.int64)))


def _must_be_bare(piece: Piece, runs: Sequence[RingPart], kept: Sequence[RingPart]) -> None:
    """Trouble where a dart or a pleat stands in the strip."""
    shut = piece.dart_sides()
    if any(run.source in shut and not any(run is one for one in kept) for run in runs):
        raise Trouble("a dart or a pleat stands where it is folded out", "move it first, or fold out along another line")


def _carried(part: Sequence[RingPart], motion: Motion | None) -> list[RingPart]:
    return [run if motion is None else replace(run, side=moved(run.side, motion)) for run in part]


def _hole_folded(hole: Hole, strip: Strip) -> Hole:
    """A dart with two ends: on one part it is carried; over the line its legs are drawn to where its corners go."""
    corners = [side.drawn.start for side in hole.sides]
    homes = np.stack(np.broadcast_arrays(*(strip.about(corner) for corner in corners)))
    home = agree(np.where((homes == homes[0]).all(axis=0), homes[0], OVER))
    if home == OVER:
        return _drawn_to(hole, [_point(corner, at, strip) for corner, at in zip(corners, homes, strict=True)])
    motion = strip.motion_at(home)
    return hole if motion is None else replace(hole, sides=tuple(moved(side, motion) for side in hole.sides))


def _line_folded(piece: Piece, side: Side, strip: Strip) -> list[Side]:
    """An inner line carried by its cloth; what of it lies on the strip is left out, unless it lies there whole."""
    before, after, beyond, last = strip.points
    parts = parted_by(piece, side, [line(before, last), line(after, beyond)])
    homes = [agree(strip.where(_middle(part.drawn))) for part in parts]
    kept = [(part, home) for part, home in zip(parts, homes, strict=True) if home or not any(homes)]
    motions = [strip.motion_at(home) for _, home in kept]
    return [
        part if motion is None else replace(part, path=apply_path(motion, part.drawn), turn=motion.turn * part.turn)
        for (part, _), motion in zip(kept, motions, strict=True)
    ]


def _middle(path: Path) -> Reals:
    return point_at(path, length(path) / 2.0)


def _landmark(point: Reals | None, strip: Strip) -> Reals | None:
    return None if point is None else _point(point, strip.where(point), strip)


def _point(point: Reals, where: NDArray[np.int64], strip: Strip) -> Reals:
    """A point of the piece where its cloth goes, lane by lane, by the part it lies on."""
    found = point
    for one in (1, 0, -1):
        if (motion := strip.motion_at(one)) is not None:
            found = np.where((where == one)[:, None], apply_points(motion, point), found)
    return found


def lengths_of(before: Piece, after: Piece, called: str) -> list[tuple[str, Reals, Reals]]:
    """The edges a line ends on that got longer or shorter: name, length (L,) mm before and after."""
    edges = dict.fromkeys(end.edge for end in _ends(before, called, None))
    both = [(edge, edge_total(before, edge), edge_total(after, edge)) for edge in edges]
    return [(edge, one, two) for edge, one, two in both if (np.abs(two - one) > COINCIDE).any()]
