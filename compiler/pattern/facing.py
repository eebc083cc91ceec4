"""Facings: the strip of a piece within a depth of a run of its edges, traced from the piece itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry import crossing
from ..geometry.curve import min_clearance, parallel_curve, smallest_radius
from ..geometry.lanes import agree, cross, dot, left_of, norm, unit
from ..geometry.length import cut_at, direction_at, joints, length, nearest, part, point_at
from ..geometry.path import Path, chain, end_direction, line, reverse, start_direction
from ..geometry.tolerances import COINCIDE
from .darts import leg_run
from .flat import flat_around, flat_line
from .piece import Finish, Piece, Reals, Side, Trouble
from .ring import RingPart, edge_run, rebuilt, with_ends
from .shutting import shut_along

SMOOTH = 1e-3
"""Two sides that turn by less than this (radians) run smoothly into each other."""

REACH = 4.0
"""An inner line is carried on by this many depths to meet its neighbour: enough for corners up to 150 degrees, and for half
a V neck that meets the centre at no less than 15 degrees."""

SNAP = 10.0 * COINCIDE
"""A crossing this near (mm) to a joint of an inner line is that joint."""

APART = 0.01
"""Ends of an inner edge that lie further (mm) from each other were cut apart."""

PIECES = 8
"""Cubics for each curve of an inner edge: it follows the true parallel of an armhole to a hundredth of a millimetre."""

DOUBLED = np.cos(np.radians(15.0))
"""Edges that meet at less than 15 degrees run back on each other: no strip within them has two sides (ours)."""

BLUNT = 1.5
"""An inner edge that would run to a point further than this many depths away, as in a V neck, is cut off there, square to the
edge it meets or to the middle of its corner: a longer point only gets in the way (common practice, no source)."""

INSIDE = 0.05
"""A dart that reaches less than this (mm) into a strip lies beside it."""


@dataclass(frozen=True)
class _Inner:
    """The inner line of a side, carried on at both ends by REACH depths, of which marks `since` to `upto` (L,) are kept."""

    side: Side
    path: Path
    since: Reals
    upto: Reals


@dataclass(frozen=True)
class _Beside:
    """The edge beside a run: its ring numbers going away from the run, ahead of it or behind, and the names all share."""

    numbers: tuple[int, ...]
    ahead: bool
    names: tuple[str, ...]


def facing(
    piece: Piece, first: str, last: str, over: str | None = None, *, depth: Reals | None, called: str = "inner_edge"
) -> Piece:
    """The strip of a piece within `depth` (L,) mm of its edges from `first` to `last`, and all between them.

    Of the two ways round, the one with fewer edges, or the one that passes `over`. The edges are the piece's own, to the
    bit; darts that stand on them are shut, what lies beyond them turned about their apexes. The inner edge `called` runs
    parallel to them, mitred at corners, long points cut off; an edge too close to its neighbours has no part of it. The
    edges beside the run are cut where the inner edge meets them and keep their names; fold, worn half, grain and the
    allowances by name stay; darts, inner lines, points and the names of strips and gaps go. Trouble where another dart
    reaches into the strip, one that is shut ends there, the depth swallows an edge, or the inner edge would fold over itself.
    """
    if depth is not None and (depth <= COINCIDE).any():
        raise Trouble("the facing has no depth", "make it deeper than nothing", depth <= COINCIDE, {"depth": depth})
    numbers, told = _run_of(piece, first, last, over), len(piece.told)
    if depth is not None:
        _is_clear(piece, numbers, depth)
    piece = shut_along(piece, numbers, _beside(piece, numbers[0], ahead=False).numbers, depth)
    numbers = _run_of(piece, first, last, over)
    before, after = _beside(piece, numbers[0], ahead=False), _beside(piece, numbers[-1], ahead=True)
    taken = {n for i in numbers for n in piece.ring[i].names}
    if called in taken.union(before.names, after.names):
        raise Trouble(f"there is an edge `{called}` already", "call the inner edge something else with `called`")
    outer = [RingPart(piece.ring[i], i) for i in numbers]
    if piece.is_sketch or depth is None:
        return _strip(piece, [*outer, RingPart(Side(after.names)), RingPart(Side((called,))), RingPart(Side(before.names))], 0)
    inner = _inner_line(piece, numbers, depth, (_away(piece, before), _away(piece, after)))
    behind, start = _cut(piece, before, inner[0].path, depth)
    onward, stop = _cut(piece, after, inner[-1].path, depth)
    inner[0] = replace(inner[0], since=start)
    inner[-1] = replace(inner[-1], upto=stop)
    made = [RingPart(Side((called,), reverse(_kept(one, depth)), one.side.turn)) for one in reversed(inner)]
    strip = _strip(piece, [*outer, *onward, *_joined(made, onward[-1], behind[-1]), *reversed(behind)], told)
    over_itself = ~np.atleast_1d(shapely.is_valid(flat_around(strip.ring)))
    if over_itself.any():
        raise Trouble("the facing runs over itself", "make it less deep", over_itself, {"depth": depth})
    return strip


def _run_of(piece: Piece, first: str, last: str, over: str | None) -> tuple[int, ...]:
    """Ring numbers from edge to edge, in ring order."""
    one, other = edge_run(piece, first), edge_run(piece, last)
    ways = list(dict.fromkeys((_way(piece, one, other), _way(piece, other, one))))
    if over is not None:
        edge_run(piece, over)
        ways = [way for way in ways if any(over in piece.ring[i].names for i in way)]
    if not ways:
        raise Trouble(f"`{over}` lies on no way from `{first}` to `{last}`", "name an edge that lies between them")
    legs = piece.dart_sides()
    sizes = [len({piece.ring[i].edge for i in way if i not in legs}) for way in ways]
    if sizes.count(min(sizes)) > 1:
        raise Trouble(f"there are two ways from `{first}` to `{last}`", "say with `passing` which edge the facing passes")
    numbers = ways[sizes.index(min(sizes))]
    if len(numbers) == len(piece.ring):
        raise Trouble("the facing runs all round the piece", "face it in parts")
    return numbers


def _way(piece: Piece, one: Sequence[int], other: Sequence[int]) -> tuple[int, ...]:
    """Ring numbers from the start of one edge to the end of another, darts between included."""
    count = len(piece.ring)
    return tuple((one[0] + k) % count for k in range((other[-1] - one[0]) % count + 1))


def _beside(piece: Piece, number: int, *, ahead: bool) -> _Beside:
    """The edge beside a side, as far as no dart and no other edge breaks it."""
    count, step, legs = len(piece.ring), 1 if ahead else -1, piece.dart_sides()
    here = (number + step) % count
    # Its most special name that is no part of an edge: `left_hem` of ("hem", "left_hem", "left_hem.gap_k1").
    name = next((n for n in reversed(piece.ring[here].names) if "." not in n), piece.ring[here].edge)
    found: list[int] = []
    while here not in legs and name in piece.ring[here].names and len(found) < count:
        found.append(here)
        here = (here + step) % count
    if not found:
        raise Trouble(f"a dart stands at the end of `{piece.ring[number].edge}`", "move it, close it or leave it first")
    names = tuple(n for n in piece.ring[found[0]].names if all(n in piece.ring[i].names for i in found))
    return _Beside(tuple(found), ahead, names)


def _inner_line(
    piece: Piece, numbers: Sequence[int], depth: Reals, beside: tuple[Path, Path]
) -> list[_Inner]:
    """The parts of the inner edge in ring order, each cut where it meets the next; the first and last are open still.

    A part that its neighbours, or a neighbour and the edge beside the run, leave no room is left out: these meet.
    """
    kept: list[_Inner] = []
    for i in numbers:
        made = _parallel(piece.ring[i], depth)
        while kept:
            upto, since, ok = _meeting(kept[-1], made, depth)
            if len(kept) > 1:
                lost = ~ok | (upto <= kept[-1].since + SNAP)
                removed = bool(agree(lost.astype(np.int64)))
            else:
                lost, removed = ~ok, _has_no_part(kept[0], upto, beside[0], made)
            if removed:
                kept.pop()
                continue
            if lost.any():
                figures = {"depth": depth, f"length of {kept[-1].side.edge}": length(kept[-1].side.drawn)}
                raise Trouble("the inner edge does not hold together", "make the facing less deep", lost, figures)
            kept[-1] = replace(kept[-1], upto=upto)
            made = replace(made, since=since)
            break
        kept.append(made)
    while len(kept) > 1:
        last = replace(kept[-1], path=reverse(kept[-1].path))
        if not _has_no_part(last, length(last.path) - last.since, beside[1], kept[-2]):
            break
        kept.pop()
    return kept


def _has_no_part(one: _Inner, upto: Reals, beside: Path, other: _Inner) -> bool:
    """Whether the edge beside the run meets the inner line of `other` before that of `one`, which ends at mark `upto` (L,)."""
    _, since, _, met = crossing.paths(beside, one.path)
    _, _, _, instead = crossing.paths(beside, other.path)
    return bool(agree((instead & (~met | (upto <= since + SNAP))).astype(np.int64)))


def _parallel(side: Side, depth: Reals) -> _Inner:
    """The true parallel of a side, carried on straight at both ends."""
    path = side.drawn
    cusp = min_clearance(path, depth) <= 0.0
    if cusp.any():
        figures = {"smallest radius": smallest_radius(path), "depth": depth}
        raise Trouble(f"`{side.edge}` bends too sharply to be faced so deep", "make it less deep", cusp, figures)
    made = parallel_curve(path, depth, PIECES)
    far = (REACH * depth)[:, None]
    first, last = made.start - far * start_direction(path), made.end + far * end_direction(path)
    ends = REACH * depth
    return _Inner(side, chain([line(first, made.start), made, line(made.end, last)]), ends, ends + length(made))


def _meeting(a: _Inner, b: _Inner, depth: Reals) -> tuple[Reals, Reals, NDArray[np.bool_]]:
    """Marks (L,) at which one inner line is left and the next begins, and whether they meet; a long point is cut off."""
    arriving, leaving = end_direction(a.side.drawn), start_direction(b.side.drawn)
    turn = np.arctan2(cross(arriving, leaving), dot(arriving, leaving))
    if agree((np.abs(turn) < SMOOTH).astype(np.int64)):
        return a.upto, b.since, np.ones(1, dtype=np.bool_)
    upto, since, _, ok = crossing.paths(a.path, b.path)
    corner = a.side.drawn.end
    out = point_at(a.path, np.where(ok, upto, 0.0)) - corner
    beside = norm(b.side.drawn.start - corner) < COINCIDE
    if agree((ok & beside & (turn < 0.0) & (norm(out) > BLUNT * depth + SNAP)).astype(np.int64)):
        upto, since = (_across(inner.path, corner + BLUNT * depth[:, None] * unit(out), unit(out), depth) for inner in (a, b))
    return _snapped(a.path, upto), _snapped(b.path, since), ok


def _across(inner: Path, through: Reals, square_to: Reals, depth: Reals) -> Reals:
    """The mark (L,) at which an inner line meets the line through a point square to a direction (L, 2)."""
    arm = (REACH * depth)[:, None] * left_of(square_to)
    mark, _, _, _ = crossing.paths(inner, line(through - arm, through + arm))
    return mark


def _snapped(path: Path, at: Reals) -> Reals:
    """The mark (L,), or the joint it is at: a crossing is good to less than SNAP only."""
    marks = joints(path)
    away = np.abs(marks - at[:, None])
    nearest = np.take_along_axis(np.broadcast_to(marks, away.shape), np.argmin(away, axis=1)[:, None], axis=1)[:, 0]
    return np.asarray(np.where(away.min(axis=1) <= SNAP, nearest, at))


def _kept(one: _Inner, depth: Reals) -> Path:
    """What is kept of an inner line: the parallel of that part of the side, carried on straight where it must be."""
    path, ends = one.side.drawn, REACH * depth
    total, whole = length(path), length(one.path)
    short = ~(one.upto - one.since > SNAP)
    if short.any():
        figures = {f"length of {one.side.edge}": total, "depth": depth}
        raise Trouble(f"the facing swallows `{one.side.edge}`", "make it less deep", short, figures)
    # Cut on the side, not on its parallel: that has several spans for one, and bodies would differ in which is cut.
    from_, to = ends - one.since, one.upto - (whole - ends)
    marks = [np.zeros(1), total]
    senses = [agree(np.where(np.abs(by) <= SNAP, 0, np.sign(by)).astype(np.int64)) for by in (from_, to)]
    for k, (sense, at) in enumerate(zip(senses, (one.since, one.upto), strict=True)):
        if sense < 0:
            marks[k] = nearest(path, point_at(one.path, at))[0]
    body = path if min(senses) >= 0 else part(path, *marks)
    made = parallel_curve(body, depth, PIECES)
    spans = [made]
    if senses[0] > 0:
        spans.insert(0, line(made.start - from_[:, None] * start_direction(path), made.start))
    if senses[1] > 0:
        spans.append(line(made.end, made.end + to[:, None] * end_direction(path)))
    return chain(spans)


def _away(piece: Piece, beside: _Beside) -> Path:
    """The edge beside the run, going away from it."""
    return chain([piece.ring[i].drawn if beside.ahead else reverse(piece.ring[i].drawn) for i in beside.numbers])


def _cut(piece: Piece, beside: _Beside, inner: Path, depth: Reals) -> tuple[list[RingPart], Reals]:
    """What stays of the edge beside the run, going away from it, and the mark (L,) on the inner line that meets it, or that
    is met by the cut square to that edge where the inner line would run on to a long point."""
    paths = [piece.ring[i].drawn if beside.ahead else reverse(piece.ring[i].drawn) for i in beside.numbers]
    whole = _away(piece, beside)
    at, on_inner, _, ok = crossing.paths(whole, inner)
    total, most = length(whole), BLUNT * depth
    back = -end_direction(inner) if beside.ahead else start_direction(inner)
    blunt = (dot(back, start_direction(whole)) < 0.0) & (~ok | (at > most + SNAP))
    if agree((blunt & (most < total - SNAP)).astype(np.int64)):
        on_inner = _across(inner, point_at(whole, most), direction_at(whole, most), depth)
        at, ok = np.broadcast_to(most, on_inner.shape), np.isfinite(on_inner)
    swallowed = ~ok | (at >= total - SNAP)
    edge = piece.ring[beside.numbers[0]].edge
    doubled = swallowed & (dot(unit(back), unit(start_direction(whole))) > DOUBLED)
    if doubled.any():
        fix = f"open the corner of the piece at `{edge}`: the facing only follows it"
        raise Trouble(f"`{edge}` doubles back on the edge that is faced, where they meet", fix, doubled)
    if swallowed.any():
        figures = {f"length of {edge}": total, "depth": depth}
        fix = f"make it less deep, or let it run on over `{edge}`"
        raise Trouble(f"the facing swallows `{edge}`, or meets a dart on it", fix, swallowed, figures)
    runs: list[RingPart] = []
    passed = np.zeros(1)
    for i, path in zip(beside.numbers, paths, strict=True):
        side, long = replace(piece.ring[i], names=beside.names), length(path)
        where = agree(np.where(at - passed <= SNAP, 0, np.where(at - passed >= long - SNAP, 2, 1)))
        if where == 0:
            break
        if where == 1:
            keep, _ = cut_at(path, at - passed)
            side = replace(side, path=keep if beside.ahead else reverse(keep))
        runs.append(RingPart(side, i, np.zeros(1) if beside.ahead or where == 2 else long - (at - passed)))
        passed = passed + long
    return runs, _snapped(inner, on_inner)


def _joined(made: Sequence[RingPart], before: RingPart, after: RingPart) -> list[RingPart]:
    """The inner edge, each part starting where the one before ends, the last ending where the next begins; straight lines
    where points were cut off."""
    joined: list[RingPart] = []
    for run in made:
        ends = (joined[-1] if joined else before).side.drawn.end
        joined += _bridge(ends, run.side.drawn.start, run)
        joined.append(replace(run, side=with_ends(run.side, start=joined[-1].side.drawn.end if joined else ends)))
    bridge = _bridge(joined[-1].side.drawn.end, after.side.drawn.start, joined[-1])
    if not bridge:
        joined[-1] = replace(joined[-1], side=with_ends(joined[-1].side, end=after.side.drawn.start))
    return joined + bridge


def _bridge(start: Reals, end: Reals, like: RingPart) -> list[RingPart]:
    """A straight run from a point to another that lies apart from it; no run where they are one."""
    apart = norm(end - start) > APART
    return [RingPart(replace(like.side, path=line(start, end)))] if agree(apart.astype(np.int64)) else []


def _strip(piece: Piece, runs: Sequence[RingPart], told: int) -> Piece:
    """The piece of these runs, without what does not lie on the strip, and what was told of the piece before it."""
    alive = {n for run in runs for n in run.side.names}
    why = "it is not on the facing"
    names = (*piece.edge_names(), *piece.dart_names(), *piece.points)
    allowances = {name: a for name, a in piece.finish.allowances.items() if name in alive or name == "seams"}
    return rebuilt(
        piece,
        runs,
        lost={name: why for name in names if name not in alive},
        darts=(),
        holes=(),
        lines=(),
        points=MappingProxyType({}),
        signs=MappingProxyType({}),
        told=piece.told[told:],
        inside=True,
        fold=piece.fold if piece.fold in alive else None,
        finish=Finish(allowances=MappingProxyType(allowances), grain=piece.finish.grain),
    )


def _is_clear(piece: Piece, numbers: Sequence[int], depth: Reals) -> None:
    """Trouble where a dart that does not stand on the run comes nearer to it than its depth."""
    others = [dart for dart in piece.darts if not set(leg_run(piece, dart)) & set(numbers)]
    legs = [(dart.name, side) for dart in others for n in (dart.first, dart.second) for side in piece.sides(n)]
    legs += [(hole.name, side) for hole in piece.holes for side in hole.sides]
    if not legs:
        return
    lines = [flat_line(piece.ring[i].drawn) for i in numbers]
    within = [shapely.buffer(line, np.maximum(depth - INSIDE, 0.0), cap_style="flat") for line in lines]
    for name, side in legs:
        leg = flat_line(side.drawn)
        reaches = np.any(np.broadcast_arrays(*(np.atleast_1d(shapely.intersects(area, leg)) for area in within)), axis=0)
        if reaches.any():
            fix = "make the facing less deep, or pivot or leave the dart first"
            raise Trouble(f"the dart `{name}` reaches into the facing", fix, reaches, {"depth": depth})
