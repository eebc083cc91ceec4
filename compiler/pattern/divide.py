"""Dividing a piece along a route across it: the part that holds a stated edge, with a new edge along the route.

Darts the route runs across are closed out on the part that holds their mouth (its panels are turned together); what is
left of them towards the apex stands on the new edge of the other part.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import agree, norm
from ..geometry.length import length, point_at
from ..geometry.motion import Motion, apply_points, identity, inverse, rotation, then
from ..geometry.path import CHORDS, flatten_fixed, reverse
from ..geometry.tolerances import COINCIDE
from .darts import apex_of, leg_run
from .flat import Shapes, flat_ring
from .inner import left_out, parted_by
from .panels import home_of, motions_at
from .piece import Dart, Hole, OperationNote, Piece, Reals, Side, Trouble, leg_names
from .pivot import closing_angle
from .ring import RingPart, RingPlace, edge_run, end_of, moved, rebuilt, split, split_ring, start_of, with_ends


@dataclass(frozen=True)
class Crossed:
    """A dart a route runs across.

    Of a dart of the ring, `places` are where the route meets its first and its second leg (both its apex, where the
    route runs through that). Of a dart with two ends they are the sides of its inner ring and the places there, in the
    order of the route. `whole`: the route runs through the apex, and nothing of the dart stays.
    """

    dart: str
    places: tuple[RingPlace, RingPlace]
    whole: bool = False


@dataclass(frozen=True)
class Route:
    """Where a piece is divided, from one place of the ring to another; the new edge is `called` so.

    `stretches` are the new sides from the first place to the last (reals, no sketch), with one of `crossed` between each
    two. `ends` name what it starts and ends on: an edge, or a dart whose legs become part of the new edge.
    """

    called: str
    ends: tuple[str, str]
    places: tuple[RingPlace, RingPlace]
    stretches: tuple[Side, ...] = ()
    crossed: tuple[Crossed, ...] = ()


@dataclass
class _Panel:
    """A panel of a part: its stretch of the ring, the legs at its ends that close, and its stretch of the new edge."""

    lead: list[RingPart] = field(default_factory=list)
    body: list[RingPart] = field(default_factory=list)
    tail: list[RingPart] = field(default_factory=list)
    seam: list[RingPart] = field(default_factory=list)

    def shape(self) -> Shapes:
        return flat_ring([flatten_fixed(run.side.drawn, CHORDS) for run in (*self.lead, *self.body, *self.tail, *self.seam)])


def part_of(piece: Piece, route: Route, keep: str) -> Piece:
    """The part of a piece of cloth, divided along a route, that holds the edge `keep`.

    Kept: the edges it holds; an edge the route starts or ends on keeps its name on both parts; both get the new edge.
    Points, inner lines and darts go with the part they lie on; inner lines are split where the route crosses them. Of a
    part whose darts close, the panel with the fold stays, else that of `keep`. Trouble when `keep` is itself divided.
    """
    dart_places = [place for one in route.crossed if piece.dart(one.dart) for place in one.places]
    runs, starts = split_ring(piece, [*route.places, *dart_places])
    arcs = (_arc(starts[0], starts[1], len(runs)), _arc(starts[1], starts[0], len(runs)))
    which = _holds(piece, runs, arcs, route, keep)
    tips = dict(zip([one.dart for one in route.crossed if piece.dart(one.dart)], _pairs(starts[2:]), strict=True))
    panels, closed = _panels(piece, route, runs, arcs, tips, which)
    others, _ = _panels(piece, route, runs, arcs, tips, 1 - which)
    motions = _motions(piece, panels, closed, keep)
    ring = [run for panel, motion in zip(panels, motions, strict=True) for run in _moved(panel.body, motion)]
    for panel, motion in zip(reversed(panels), reversed(motions), strict=True):
        ring += _moved(panel.seam, motion)
    ring = met_halfway([replace(run, side=_renamed(piece, route, run.side)) for run in ring])
    shapes = [panel.shape() for panel in panels]
    inside = _inside(piece, route, shapes, [panel.shape() for panel in others], motions)
    spots = {f"{name}.closed": _mouth(piece, name, motions[k]) for k, name in enumerate(reversed(closed))}
    made = _finished(piece, route, ring, closed, {**inside.points, **spots}, inside.holes, inside.lines)
    return made.with_note(_lengths(piece, route, made))


def _arc(start: int, stop: int, count: int) -> list[int]:
    """Numbers of the runs from one to before another, in travelling order."""
    return [(start + k) % count for k in range((stop - start) % count)]


def _pairs(numbers: Sequence[int]) -> list[tuple[int, int]]:
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _holds(piece: Piece, runs: Sequence[RingPart], arcs: Sequence[Sequence[int]], route: Route, keep: str) -> int:
    """Which of the two arcs the kept part has."""
    found = [k for k, arc in enumerate(arcs) if any(keep in runs[i].side.names for i in arc)]
    if len(found) == 1:
        return found[0]
    if route.ends == (keep, keep):  # cut out of one edge: the part that has nothing else of the outline
        legs = {leg for dart in piece.darts for leg in dart.leg_names}
        names = [[{keep, *legs}.intersection(runs[i].side.names) for i in arc] for arc in arcs]
        return next(k for k, each in enumerate(names) if all(each))
    edge_run(piece, keep)
    raise Trouble(f"`{keep}` is itself divided by `{route.called}`", "keep an edge that lies on one part")


def _panels(
    piece: Piece,
    route: Route,
    runs: Sequence[RingPart],
    arcs: Sequence[Sequence[int]],
    tips: Mapping[str, tuple[int, int]],
    which: int,
) -> tuple[list[_Panel], list[str]]:
    """The panels of one part in ring order, before they are turned, and the darts that close, in the order of its seam.

    A part's seam runs against the route when its arc runs from the start of the route to its end.
    """
    forward, arc = which == 1, arcs[which]
    stretches = route.stretches if forward else tuple(_back(side) for side in reversed(route.stretches))
    crossed = route.crossed if forward else tuple(reversed(route.crossed))
    seams: list[list[RingPart]] = [[]]
    closed: list[str] = []
    for k, side in enumerate(stretches):
        seams[-1].append(RingPart(side))
        if k == len(crossed):
            break
        hole = piece.hole(crossed[k].dart)
        if hole is not None:
            seams[-1] += _round_hole(hole, crossed[k].places if forward else crossed[k].places[::-1])
        elif (tips[crossed[k].dart][0] - 1) % len(runs) in arc:
            closed.append(crossed[k].dart)
            seams.append([])
        else:
            seams[-1] += [runs[i] for i in _arc(*tips[crossed[k].dart], len(runs))]
    panels = [_Panel()]
    rest = list(arc)
    for name in reversed(closed):
        before, panels[-1].tail, lead, rest = _parted(piece, runs, rest, name, tips[name], route)
        panels[-1].body = before
        panels.append(_Panel(lead=lead))
    panels[-1].body = [runs[i] for i in rest]
    for panel, seam in zip(reversed(panels), seams, strict=True):
        panel.seam = seam
    return panels, closed


def _parted(
    piece: Piece, runs: Sequence[RingPart], arc: list[int], name: str, tip: tuple[int, int], route: Route
) -> tuple[list[RingPart], list[RingPart], list[RingPart], list[int]]:
    """The arc before a dart that closes, its first leg up to the route, its second leg from there, and the arc after it."""
    dart = piece.dart(name)
    assert dart is not None
    legs = [k for k, i in enumerate(arc) if set(dart.leg_names).intersection(runs[i].side.names)]
    if not legs:
        raise Trouble(f"`{route.called}` runs across darts in another order than they stand in", "draw it anew")
    first, second = arc[legs[0] : arc.index(tip[0])], arc[arc.index(tip[1]) : legs[-1] + 1]
    before, tail, lead = ([runs[i] for i in numbers] for numbers in (arc[: legs[0]], first, second))
    return before, tail, lead, arc[legs[-1] + 1 :]


def _back(side: Side) -> Side:
    return replace(side, path=reverse(side.drawn))


def _round_hole(hole: Hole, places: tuple[RingPlace, RingPlace]) -> list[RingPart]:
    """The legs of a dart with two ends from one place on its ring to another; lower legs are then legs like others."""
    (first, last), made = places, []
    number, at = first.side, first.at
    while True:
        run = RingPart(hole.sides[number])
        if number == last.side:
            if bool((last.at > COINCIDE).all()):
                made.append(split(run, last.at)[0] if number != first.side else run)
            break
        made.append(split(run, at)[1] if bool((at > COINCIDE).all()) else run)
        number, at = (number + 1) % len(hole.sides), np.zeros(1)
    upper = dict(zip(hole.leg_names[2:], hole.leg_names, strict=False))
    sides = [replace(run.side, names=(upper.get(run.side.edge, run.side.edge),)) for run in made]
    if len({side.names for side in sides}) != 2:
        raise Trouble(f"the line does not run across both legs of `{hole.name}`", "let it run from one leg to the other")
    return [RingPart(side) for side in sides]


def _motions(piece: Piece, panels: Sequence[_Panel], closed: Sequence[str], keep: str) -> list[Motion]:
    """The motion of every panel of a part, from the one that stays."""
    motions = [identity()]
    for name in reversed(closed):
        dart, apex = piece.dart(name), apex_of(piece, name)
        assert dart is not None
        assert apex is not None
        motions.append(then(rotation(apex, -closing_angle(piece, dart, name)), motions[-1]))
    still = 0
    for edge in (keep, piece.fold):
        found = [k for k, panel in enumerate(panels) if any(edge in run.side.names for run in panel.body)]
        still = found[0] if found else still
    back = inverse(motions[still])
    return [identity() if k == still else then(motion, back) for k, motion in enumerate(motions)]


def _moved(runs: Sequence[RingPart], motion: Motion) -> list[RingPart]:
    if bool((motion.turn == 1.0).all()) and bool((motion.shift == 0.0).all()):
        return list(runs)
    return [replace(run, side=moved(run.side, motion)) for run in runs]


def _renamed(piece: Piece, route: Route, side: Side) -> Side:
    """The side, part of the new edge if it is a leg of a dart at an end of the route."""
    ends = [piece.dart(name) for name in route.ends]
    legs = {leg for dart in ends if dart is not None for leg in dart.leg_names}
    return replace(side, names=(route.called,)) if legs.intersection(side.names) else side


def met_halfway(runs: list[RingPart]) -> list[RingPart]:
    """The runs of a ring with ends that lie a little apart, after darts were closed, drawn to the middle between them."""
    for k, run in enumerate(runs):
        a, b = end_of(runs[k - 1].side), start_of(run.side)
        if a is not None and b is not None and bool((norm(a - b) > COINCIDE).any()):
            middle = (a + b) / 2.0
            runs[k - 1] = replace(runs[k - 1], side=with_ends(runs[k - 1].side, end=middle))
            runs[k] = replace(runs[k], side=with_ends(run.side, start=middle))
    return runs


def _mouth(piece: Piece, name: str, motion: Motion) -> Reals:
    """Where the mouth of a closed dart ends up: the start of its first leg, on the panel before it."""
    dart = piece.dart(name)
    assert dart is not None
    return apply_points(motion, piece.ring[leg_run(piece, dart)[0]].drawn.start)


@dataclass(frozen=True)
class _Inside:
    points: Mapping[str, Reals | None]
    holes: tuple[Hole, ...]
    lines: tuple[Side, ...]


def _inside(
    piece: Piece, route: Route, own: Sequence[Shapes], other: Sequence[Shapes], motions: Sequence[Motion]
) -> _Inside:
    """What lies on the part, moved with its panels. What lies on the new edge belongs to both parts."""

    def motion(point: Reals) -> Motion | None:
        home = home_of([*own, *other], point)
        return motions_at(own, motions, [point])[0] if agree((home < len(own)).astype(np.int64)) else None

    points = {name: spot for name, p in piece.points.items() if p is not None and (spot := _carried(p, motion(p))) is not None}
    crossed = {one.dart for one in route.crossed}
    holes = []
    for hole in piece.holes:
        middle = np.stack(np.broadcast_arrays(*(side.drawn.start for side in hole.sides))).mean(axis=0)
        if hole.name not in crossed and (turn := motion(middle)) is not None:
            holes.append(Hole(hole.name, tuple(moved(side, turn) for side in hole.sides)))
    lines = []
    crossing = [side.drawn for side in (*route.stretches, *_first_legs(piece, route))]
    parts = [part for line in piece.lines for part in parted_by(piece, line, crossing)]
    middles = [point_at(part.drawn, length(part.drawn) / 2.0) for part in parts]
    for part, middle, turn in zip(parts, middles, motions_at(own, motions, middles), strict=True):
        mine = home_of([*own, *other], middle) < len(own)
        kept = left_out(part, mine if piece.has_sign(part, "level") else np.full(1, bool(agree(mine.astype(np.int64)))))
        lines += [] if kept is None else [moved(kept, turn)]
    return _Inside(points, tuple(holes), tuple(lines))


def _first_legs(piece: Piece, route: Route) -> list[Side]:
    """The legs up to the apex of each dart at an end of the route: a level that runs through where it takes nothing is whole."""
    darts = [dart for name in route.ends if (dart := piece.dart(name)) is not None]
    runs = [(leg_run(piece, dart), edge_run(piece, dart.first)[-1]) for dart in darts]
    return [piece.ring[i] for run, last in runs for i in run[: run.index(last) + 1]]


def _carried(point: Reals, motion: Motion | None) -> Reals | None:
    return None if motion is None else apply_points(motion, point)


def _finished(
    piece: Piece,
    route: Route,
    ring: Sequence[RingPart],
    closed: Sequence[str],
    points: Mapping[str, Reals | None],
    holes: tuple[Hole, ...],
    lines: tuple[Side, ...],
) -> Piece:
    """The part with its ring, darts and names; serves sketches too."""
    names = {name for run in ring for name in run.side.names}
    darts = [dart for dart in piece.darts if {dart.first, dart.second} <= names]
    crossed = {one.dart for one in route.crossed}
    darts = [replace(dart, edge=route.called) if dart.name in crossed else dart for dart in darts]
    for hole in piece.holes:
        if hole.name in crossed:
            inner, outer, *_ = hole.leg_names
            first = next(run.side.edge for run in ring if run.side.edge in (inner, outer))
            darts.append(Dart.named(hole.name, route.called, first == inner))
    drawn = names.union(*(line.names for line in lines))
    signs = {name: sign for name, sign in piece.signs.items() if name in points or name in drawn}
    lost = dict.fromkeys((*piece.edge_names(), *piece.dart_names(), *piece.points), f"it is not on this side of `{route.called}`")
    for name in (*closed, *(end for end in route.ends if piece.dart(end))):
        why = f"the dart `{name}` was {'closed out' if name in closed else 'taken'} in the seam `{route.called}`"
        lost |= dict.fromkeys((name, *(leg for leg in leg_names(name) if leg in piece.edge_names())), why)
    return rebuilt(
        piece,
        ring,
        lost=lost,
        darts=tuple(darts),
        holes=holes,
        lines=lines,
        points=MappingProxyType(dict(points)),
        signs=MappingProxyType(signs),
        fold=piece.fold if piece.fold in names else None,
    )


def _lengths(piece: Piece, route: Route, made: Piece) -> OperationNote:
    """The length of the new edge on this part and on the other."""
    mine = sum((length(made.ring[i].drawn) for i in made.run(route.called)), np.zeros(1))
    drawn = sum((length(side.drawn) for side in route.stretches), np.zeros(1))
    legs = np.zeros(1)
    for name in route.ends:
        dart = piece.dart(name)
        for i in () if dart is None else leg_run(piece, dart):
            legs = legs + length(piece.ring[i].drawn)
    return OperationNote("divided", route.called, {"this part": mine, "other part": 2.0 * drawn + legs - mine})


def sketched(piece: Piece, route: Route, keep: str) -> Piece:
    """The names of the part: those that lie on an edge the route starts or ends on, and all points, are on both."""
    if keep in route.ends and route.ends[0] != route.ends[1]:
        raise Trouble(f"`{keep}` is itself divided by `{route.called}`", "keep an edge that lies on one part")
    edge_run(piece, keep)
    ahead, behind = _to_end(piece, route, keep, 1), _to_end(piece, route, keep, -1)
    arc = [(behind + k) % len(piece.ring) for k in range((ahead - behind) % len(piece.ring) + 1)]
    if route.ends[0] == route.ends[1] != keep:
        arc = list(range(len(piece.ring)))
    seam = [Side((route.called,))]
    closed = []
    for one in route.crossed:
        dart = piece.dart(one.dart)
        if dart is not None and any(dart.first in piece.ring[i].names for i in arc):
            closed.append(one.dart)
            arc = [i for i in arc if not set(dart.leg_names).intersection(piece.ring[i].names)]
            continue
        legs = (dart.first, dart.second) if dart is not None else leg_names(one.dart)[:2]
        seam += [Side((name,)) for name in (*legs, route.called)] if not one.whole else []
    ring = [RingPart(_renamed(piece, route, piece.ring[i]), i) for i in arc]
    piece = replace(piece, uncertain=piece.uncertain | _unsure(piece, route))
    points = {**piece.points, **{f"{name}.closed": None for name in closed}}
    crossed = {one.dart for one in route.crossed}
    holes = tuple(hole for hole in piece.holes if hole.name not in crossed)
    return _finished(piece, route, [*ring, *(RingPart(side) for side in seam)], closed, points, holes, piece.lines)


def _unsure(piece: Piece, route: Route) -> frozenset[str]:
    """Names of what lies inside, of darts on the edges a route starts or ends on, and of parts of these."""
    cut, crossed = cut_names(piece, route.ends), {one.dart for one in route.crossed}
    names = {*piece.points, *(name for line in piece.lines for name in line.names), *cut}
    for hole in piece.holes:
        names |= set() if hole.name in crossed else {hole.name, *hole.leg_names}
    for dart in piece.darts:
        names |= {dart.name, *dart.leg_names} if dart.edge in cut else set()
    return frozenset(names - set(route.ends))


def cut_names(piece: Piece, ends: tuple[str, str]) -> frozenset[str]:
    """All names of the sides of two edges."""
    return frozenset(name for side in piece.ring if set(ends).intersection(side.names) for name in side.names)


def _to_end(piece: Piece, route: Route, keep: str, step: int) -> int:
    """Number of the last side of a part, from `keep` on in a direction: of the edge or the leg the route ends on."""
    numbers, count = edge_run(piece, keep), len(piece.ring)
    if route.ends == (keep, keep):
        return numbers[-1] if step > 0 else numbers[0]
    i = numbers[0]
    for _ in range(count):
        i = (i + step) % count
        for end in route.ends:
            dart = piece.dart(end)
            if dart is not None:
                leg = dart.first if step > 0 else dart.second
                if leg in piece.ring[i].names:
                    return edge_run(piece, leg)[-1 if step > 0 else 0]
            elif end in piece.ring[i].names:
                return edge_run(piece, end)[-1 if step > 0 else 0]
    raise Trouble(f"`{keep}` is not on a part beside `{route.called}`", "keep an edge that the new edge runs out to")
