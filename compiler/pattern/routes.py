"""Finding the route a piece is divided along: a drawn line from edge to edge, or through darts from mouth to mouth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from ..geometry.crossing import paths
from ..geometry.lanes import agree, norm
from ..geometry.length import length, nearest, part
from ..geometry.meet import line_path
from ..geometry.path import Path, flatten_fixed, line, reverse
from ..geometry.tolerances import COINCIDE, TRUED
from .darts import apex_of, move_apex, no_such_dart, open_to_edge
from .divide import Crossed, Route, cut_names, part_of, sketched
from .drawn import from_apex, met_on
from .edges import OFF
from .panels import ThroughDart, must_lie_on_cloth
from .piece import Dart, Hole, OperationNote, Piece, Reals, Side, Trouble
from .pivot import ONE_APEX
from .ring import NOWHERE, RingPlace, edge_run, edge_total, place_on, point_of, record, settled, with_ends
from .rounding import rounded


def divide(
    piece: Piece,
    drawn: Path | None,
    ends: tuple[str, str],
    *,
    keep: str,
    called: str,
    across: Sequence[str] = (),
    absorbing: Sequence[str] = (),
) -> Piece:
    """The part with the edge `keep` of a piece divided along a drawn line from one edge to another; see `part_of`.

    The line meets the two edges `ends` once each (0.1 mm may be lacking); what is drawn beyond them does not count. It
    runs `across` the legs of darts as far from the apex on both (differences to 2 mm are evened, and told), or through
    the apex of darts it is `absorbing`; there are none to cross on a body that needs no such dart. Trouble with lanes where
    it does not, or runs off the cloth.
    """
    _must_be_new(piece, called)
    unneeded = {name: piece.removed[name] for name in (*across, *absorbing) if name in piece.removed}
    piece = record(piece, {f"{name}.closed": why for name, why in unneeded.items()})
    across, absorbing = ([name for name in names if name not in unneeded] for names in (across, absorbing))
    for name in (*across, *absorbing):
        _must_cross(piece, name, ends, called)
    if piece.is_sketch or drawn is None:
        crossed = tuple(_unplaced(name, name in absorbing) for name in (*across, *absorbing))
        return sketched(piece, Route(called, ends, (RingPlace(0), RingPlace(0)), crossed=crossed), keep)
    places, marks, drawn = _from_edge_to_edge(piece, drawn, ends, called)
    found = [_across(piece, drawn, name) for name in across]
    found += [_absorbed(piece, drawn, name, called) for name in absorbing]
    found = [found[k] for k in _order([one.marks[0] for one in found])]
    stretches, start, first = [], point_of(piece, places[0]), marks[0]
    for one in found:
        stretches.append(_stretch(drawn, first, one.marks[0], start, one.spots[0], called))
        first, start = one.marks[1], one.spots[1]
    stretches.append(_stretch(drawn, first, marks[1], start, point_of(piece, places[1]), called))
    _must_be_cloth(piece, stretches, called)
    route = Route(called, ends, places, tuple(stretches), tuple(one.crossed for one in found))
    return part_of(piece, route, keep).with_note(*_evened(found, called))


@dataclass(frozen=True)
class _Found:
    """A dart on the way of a line: where along the line its first and its last place lie (L,), the points (L, 2) there,
    and by how much (L,) mm their distances from its apex differed."""

    crossed: Crossed
    marks: tuple[Reals, Reals]
    spots: tuple[Reals, Reals]
    uneven: Reals = field(default_factory=lambda: NOWHERE)


def _must_be_new(piece: Piece, called: str) -> None:
    if called in (*piece.edge_names(), *piece.dart_names(), *piece.points):
        again = f"go on with `then rename new_{called} as {called}`"
        fix = f"give the new edge another name, such as `new_{called}`; where the old one is cut away, {again}"
        raise Trouble(f"there is a `{called}` already", fix)


def _must_cross(piece: Piece, name: str, ends: tuple[str, str], called: str) -> None:
    dart = piece.dart(name)
    if dart is None and piece.hole(name) is None:
        raise no_such_dart(piece, name)
    if dart is not None and dart.edge in cut_names(piece, ends):
        fix = "move the dart to another edge first, or leave it unsewn"
        raise Trouble(f"`{name}` stands on `{dart.edge}`, where `{called}` ends", fix)


def _unplaced(name: str, whole: bool) -> Crossed:
    return Crossed(name, (RingPlace(0), RingPlace(0)), whole)


def _from_edge_to_edge(
    piece: Piece, drawn: Path, ends: tuple[str, str], called: str
) -> tuple[tuple[RingPlace, RingPlace], tuple[Reals, Reals], Path]:
    """The places on both edges, where along the line they lie (L,), and the line, turned to run from the first to the last."""
    if ends[0] == ends[1]:
        first, last = _met(piece, drawn, ends[0], called), _met(piece, drawn, ends[0], called, last=True)
    else:
        first, last = (_met(piece, drawn, edge, called) for edge in ends)
    if agree((first[1] > last[1]).astype(np.int64)):
        total = length(drawn)
        return (first[0], last[0]), (total - first[1], total - last[1]), reverse(drawn)
    return (first[0], last[0]), (first[1], last[1]), drawn


def _met(piece: Piece, drawn: Path, edge: str, called: str, *, last: bool = False) -> tuple[RingPlace, Reals]:
    """Where the line of a new edge meets an edge, which must have something left on both sides of it."""
    place, mark = met_on(piece, drawn, edge, f"the line of `{called}`", last=last)
    _must_leave_some(piece, place, edge, called)
    return settled(piece, place), mark


def _must_leave_some(piece: Piece, place: RingPlace, edge: str, called: str) -> None:
    """Trouble where a line ends at a corner, and one part would have nothing of the edge."""
    numbers = edge_run(piece, edge)
    total = length(piece.ring[place.side].drawn)
    low, high = (np.array([place.side == numbers[k]]) for k in (0, -1))
    off = (low & (place.at <= COINCIDE)) | (high & (place.at >= total - COINCIDE))
    if off.any():
        fix = f"let it end a little way along `{edge}`, or make one edge of both that meet there: `rename piece.{edge} + …`"
        raise Trouble(f"the line of `{called}` ends at a corner of `{edge}`: one part would have none of it", fix, off)


def _across(piece: Piece, drawn: Path, name: str) -> _Found:
    """Where a line runs across a dart."""
    dart, hole = piece.dart(name), piece.hole(name)
    if dart is None:
        assert hole is not None
        return _across_hole(hole, drawn)
    _must_reach(piece, dart, drawn)
    legs = [_on_leg(piece, leg, drawn, name) for leg in (dart.first, dart.second)]
    away = [edge_total(piece, dart.first) - legs[0][0], legs[1][0]]
    uneven = np.abs(away[0] - away[1])
    if (uneven > TRUED).any():
        apart = {f"on `{leg}`": far for leg, far in zip((dart.first, dart.second), away, strict=True)}
        fix = "end the line as far from the apex on both legs: as it runs with the dart folded shut"
        raise Trouble(f"the line meets the legs of `{name}` at two distances from its apex", fix, uneven > TRUED, apart)
    mean = (away[0] + away[1]) / 2.0
    places = place_on(piece, dart.first, mean, "end"), place_on(piece, dart.second, mean, "start")
    places = settled(piece, places[0]), settled(piece, places[1])
    marks, spots = (legs[0][1], legs[1][1]), (_spot(piece, places[0]), _spot(piece, places[1]))
    if agree((marks[0] > marks[1]).astype(np.int64)):
        marks, spots = marks[::-1], spots[::-1]
    return _Found(Crossed(name, places), marks, spots, uneven)


def _spot(piece: Piece, place: RingPlace) -> Reals:
    point = point_of(piece, place)
    assert point is not None
    return point


def _must_reach(piece: Piece, dart: Dart, drawn: Path) -> None:
    """Trouble where a dart ends before a line: on bodies that need a shorter one it may, and none of it is crossed."""
    apex = apex_of(piece, dart.name)
    crossed = [paths(side.drawn, drawn)[3] for leg in dart.leg_names for side in piece.sides(leg)]
    short = np.asarray(~np.stack(np.broadcast_arrays(*crossed)).any(axis=0))
    if apex is not None and short.any():
        mouth = (piece.sides(dart.first)[0].drawn.start + piece.sides(dart.second)[-1].drawn.end) / 2.0
        raise _ends_before(dart.name, short, _short_of(drawn, apex, apex - mouth))


def _short_of(drawn: Path, apex: Reals, way: Reals) -> Reals:
    """How far (L,) mm from an apex, the way of its dart, a line runs; from its nearest place where it does not run there."""
    _, met, ok = line_path(apex, way, drawn)
    return np.where(ok, norm(met - apex), nearest(drawn, apex)[1])


def _ends_before(name: str, short: NDArray[np.bool_], apart: Reals) -> Trouble:
    fix = (
        f"leave `{name}` out of `across`: it stays whole on its part; where on other bodies it reaches the line, make it longer "
        f"first, `then extend {name} by …`, a little more than it is short of the line"
    )
    return Trouble(f"`{name}` ends before the line, and nothing of it is crossed", fix, short, {"short of it by": apart})


def _on_leg(piece: Piece, leg: str, drawn: Path, name: str) -> tuple[Reals, Reals]:
    """How far along a leg, as travelled, a line crosses it, and where along the line (L,)."""
    at, on_line, met, passed = [], [], [], NOWHERE
    for i in edge_run(piece, leg):
        s, along, _, ok = paths(piece.ring[i].drawn, drawn)
        at.append(passed + s)
        on_line.append(along)
        met.append(ok)
        passed = passed + length(piece.ring[i].drawn)
    table = np.stack(np.broadcast_arrays(*met), axis=1)
    k = np.argmax(table, axis=1)[:, None]
    found = np.take_along_axis(np.stack(np.broadcast_arrays(*at), axis=1), k, axis=1)[:, 0]
    inside = table.any(axis=1) & (found > COINCIDE) & (found < passed - COINCIDE)
    if not inside.all():
        fix = "draw it across both legs, or make the dart longer; where it runs through the apex, write `absorbing`"
        raise Trouble(f"the line does not run across `{leg}`", fix, ~inside)
    return found, np.take_along_axis(np.stack(np.broadcast_arrays(*on_line), axis=1), k, axis=1)[:, 0]


def _across_hole(hole: Hole, drawn: Path) -> _Found:
    """Where a line runs across a dart with two ends: it enters over one leg and leaves over the other."""
    rows = [paths(side.drawn, drawn) for side in hole.sides]
    met = np.stack(np.broadcast_arrays(*(ok for _, _, _, ok in rows)), axis=1)
    along = np.stack(np.broadcast_arrays(*(mark for _, mark, _, _ in rows)), axis=1)
    near, far = np.where(met, along, np.inf).min(axis=1), np.where(met, along, -np.inf).max(axis=1)
    missed, aside = ~(far - near > COINCIDE), np.asarray(~met.any(axis=1))
    if aside.any():
        corners = [side.drawn.start for side in hole.sides]
        apart = np.min(np.stack(np.broadcast_arrays(*(nearest(drawn, corner)[1] for corner in corners))), axis=0)
        raise _ends_before(hole.name, aside, apart)
    if missed.any():
        raise Trouble(f"the line does not run across `{hole.name}`", "draw it across both legs", missed)
    places, spots = [], []
    for mark in (near, far):
        here = met & (np.abs(along - mark[:, None]) <= COINCIDE)
        k = agree(np.argmax(here, axis=1))
        at, long = rows[k][0], length(hole.sides[k].drawn)
        spots.append(rows[k][2])
        if agree((at >= long - COINCIDE).astype(np.int64)):
            k, at = (k + 1) % len(hole.sides), np.zeros(1)
        places.append(RingPlace(k, np.where(at <= COINCIDE, 0.0, at)))
    return _Found(Crossed(hole.name, (places[0], places[1])), (near, far), (spots[0], spots[1]))


def _absorbed(piece: Piece, drawn: Path, name: str, called: str) -> _Found:
    """Where a line runs through the apex of a dart."""
    dart, apex = piece.dart(name), apex_of(piece, name)
    if dart is None or apex is None:
        raise Trouble(f"`{name}` has two ends: a line takes in only one of them", f"write `across {name}`")
    mark, gap = nearest(drawn, apex)
    off = gap > OFF
    if off.any():
        fix = f"let it pass through the apex, or move that onto the line with `repoint`; or write `across {name}`"
        raise Trouble(f"the line of `{called}` passes the apex of `{name}`", fix, off, {"apart": gap})
    place = RingPlace(edge_run(piece, dart.second)[0])
    return _Found(Crossed(name, (place, place), whole=True), (mark, mark), (apex, apex))


def _order(marks: Sequence[Reals]) -> list[int]:
    """The order of places along a line. Raises Disagreement when lanes have another."""
    if len(marks) < 2:
        return list(range(len(marks)))
    orders = np.argsort(np.stack(np.broadcast_arrays(*marks), axis=1), axis=1)
    keys = (orders * len(marks) ** np.arange(len(marks))).sum(axis=1)
    agree(keys.astype(np.int64))
    return [int(k) for k in orders[0]]


def _stretch(drawn: Path, first: Reals, last: Reals, start: Reals | None, end: Reals | None, called: str) -> Side:
    """A stretch of a line as a side of the new edge, its ends on the very points it was found to have."""
    return with_ends(Side((called,), part(drawn, first, last)), start=start, end=end)


def _must_be_cloth(piece: Piece, stretches: Sequence[Side], called: str) -> None:
    cuts = []
    for side in stretches:
        flat = flatten_fixed(side.drawn, 16)
        cuts.append([flat[:, k] for k in range(flat.shape[1])])
    try:
        must_lie_on_cloth(piece, cuts, [f"`{called}`"] * len(cuts))
    except ThroughDart as trouble:
        name = trouble.dart
        fix = f"write `across {name}` where it crosses its legs, `absorbing {name}` where it runs through its apex"
        raise replace(trouble, fix=fix) from None


def _evened(found: Sequence[_Found], called: str) -> list[OperationNote]:
    """What is told of darts whose legs the line met at two distances from the apex."""
    what = "distances from the apex of `{}` evened"
    return [
        OperationNote(what.format(one.crossed.dart), called, {"differed": one.uneven})
        for one in found
        if agree((one.uneven > COINCIDE).astype(np.int64))
    ]


def divide_through(
    piece: Piece,
    darts: Sequence[str],
    *,
    keep: str,
    called: str,
    start: str | None = None,
    end: str | None = None,
    drawn: Path | None = None,
    is_drawn: bool = False,
    rounding: Reals | None = None,
) -> Piece:
    """The part with the edge `keep` of a piece divided through darts: their legs become the new edge; see `part_of`.

    Two darts: from mouth to mouth, between their apexes straight or along the drawn line. One dart: from its apex along
    the drawn line to an edge (`start` or `end`). A dart with two ends is opened to its edge first: the first of two to
    `start`, the last to `end`. `is_drawn` says in a sketch whether there is a line. With `rounding` (L,) mm the edge is
    rounded so far on both sides of an apex, which it runs through. Trouble with lanes where the line misses an apex or the
    edge (by 0.1 mm), or leaves the cloth.
    """
    _must_be_new(piece, called)
    piece, start, end = _opened(piece, darts, start, end)
    edge = _goes_on_to(darts, start, end, is_drawn, called)
    ends = (darts[0], darts[1] if edge is None else edge)
    if piece.is_sketch:
        return sketched(piece, Route(called, ends, (RingPlace(0), RingPlace(0))), keep)
    apexes = [_apex(piece, name) for name in darts]
    places = [RingPlace(edge_run(piece, _dart(piece, name).second)[0]) for name in darts]
    if edge is None:
        piece = _one_apex(piece, darts, apexes)
        stretches = _between(apexes[0], apexes[1], drawn, darts, called)
    else:
        assert drawn is not None
        drawn = from_apex(drawn, apexes[0], darts[0], f"the line of `{called}`")
        place, mark = _met(piece, drawn, edge, called)
        places.append(place)
        stretches = [_stretch(drawn, np.zeros(1), mark, apexes[0], point_of(piece, place), called)]
    _must_be_cloth(piece, stretches, called)
    route = Route(called, ends, (places[0], places[1]), tuple(stretches))
    made = part_of(piece, route, keep)
    if rounding is None:
        return made
    apexes = apexes if len(stretches) and edge is None else apexes[:1]
    return rounded(made, called, apexes, rounding)


def _goes_on_to(darts: Sequence[str], start: str | None, end: str | None, is_drawn: bool, called: str) -> str | None:
    """The edge the new edge goes on to from its only dart; None where it runs from dart to dart."""
    edge = start if end is None else end
    if len(darts) == 2 and edge is not None:
        raise Trouble(f"`{called}` runs from dart to dart: it does not end on `{edge}`", "take that away, or one of the darts")
    if len(darts) == 1 and (edge is None or (start is not None and end is not None)):
        fix = "name the edge it goes on to, with `meeting`, and the line there with `along`; or a second dart behind `through`"
        raise Trouble(f"`{darts[0]}` alone does not divide the piece", fix)
    if len(darts) == 1 and not is_drawn:
        raise Trouble(f"the way from the apex of `{darts[0]}` to `{edge}` is not said", "write `along` and a line drawn there")
    return edge


def _opened(piece: Piece, darts: Sequence[str], start: str | None, end: str | None) -> tuple[Piece, str | None, str | None]:
    """The piece with its darts of two ends opened to the edges named, and the edges that are not used up by that."""
    for name in darts:
        if piece.hole(name) is None:
            continue
        if end is not None and name == darts[-1]:
            piece, end = open_to_edge(piece, name, end), None
        elif start is not None and name == darts[0]:
            piece, start = open_to_edge(piece, name, start), None
        else:
            fix = "write `meeting` and the edge there"
            raise Trouble(f"`{name}` has two ends, and it is not said where its lower one goes on", fix)
    return piece, start, end


def _dart(piece: Piece, name: str) -> Dart:
    dart = piece.dart(name)
    if dart is None:
        raise no_such_dart(piece, name)
    return dart


def _apex(piece: Piece, name: str) -> Reals:
    _dart(piece, name)
    apex = apex_of(piece, name)
    assert apex is not None
    return apex


def _one_apex(piece: Piece, darts: Sequence[str], apexes: Sequence[Reals]) -> Piece:
    """The piece with two apexes that are nearly one made one."""
    close = agree((norm(apexes[0] - apexes[1]) <= ONE_APEX).astype(np.int64))
    return move_apex(piece, darts[1], apexes[0]) if close else piece


def _between(a: Reals, b: Reals, drawn: Path | None, darts: Sequence[str], called: str) -> list[Side]:
    """The new edge from apex to apex: nothing where they are one."""
    if agree((norm(a - b) <= ONE_APEX).astype(np.int64)):
        return []
    if drawn is None:
        return [Side((called,), line(a, b))]
    drawn = from_apex(drawn, a, darts[0], f"the line of `{called}`")
    gap = norm(drawn.end - b)
    if (gap > OFF).any():
        fix = "let it run from apex to apex, or leave `along` away"
        raise Trouble(f"the line of `{called}` does not end at the apex of `{darts[1]}`", fix, gap > OFF, {"apart": gap})
    return [with_ends(Side((called,), drawn), start=a, end=b)]
