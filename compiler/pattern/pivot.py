"""Pivoting a dart: the part of the piece between it and its new place turns about its apex."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import agree, norm
from ..geometry.length import length, part, point_at
from ..geometry.motion import apply_points, rotation
from ..geometry.path import Path, chain, flatten_fixed, reverse
from ..geometry.tolerances import ROUNDING
from .darts import apex_of, is_open_below, leg_lengths, leg_run, move_apex, no_such_dart
from .drawn import from_apex, met_on
from .edges import renamed
from .piece import Dart, Piece, Reals, Side, Trouble, leg_names
from .ring import (
    End,
    RingPlace,
    edge_run,
    end_of,
    place_on,
    point_of,
    rebuilt,
    runs_of,
    settled,
    start_of,
    with_ends,
)
from .spread import Bridge, Chord, opened

LEGS_AGREE = 0.1
"""Legs of a dart that closes may differ by this (mm): a plotter repeats to it."""

ONE_APEX = 0.01
"""Apexes of two darts closer than this (mm) are one: far below what a pencil marks."""

_CLOSING = "closing dart"  # no user's name: it has a space


@dataclass(frozen=True)
class Into:
    """A new dart on an edge, `at` (L,) mm along it from `from_end`, that takes a share (L,) of the angle.

    Or its legs run like a line `drawn` from the apex to the edge.
    """

    name: str
    edge: str
    at: Reals | None
    share: Reals | None
    from_end: End = "start"
    drawn: Path | None = None


@dataclass(frozen=True)
class IntoDart:
    """An existing dart with the same apex that takes a share (L,) of the angle."""

    dart: str
    share: Reals | None


def pivot(piece: Piece, name: str, into: Sequence[Into | IntoDart], *, still: str | None = None) -> Piece:
    """The dart `name` closed, wholly or in part, by opening others that share its apex; shares add up to 1 or less.

    Closed wholly it becomes the point `NAME.closed` on its edge. The part with the edge `still` stays (by default that
    with the fold, else that with most outline). The inner leg of a new dart is that nearer the fold along the outline,
    or, where there is no fold or both ways are alike, that on the side of `from_end`. Trouble when legs differ by more
    than 0.1 mm, shares exceed 1, or a cut leaves the cloth. In a sketch shares may be None: the dart closes.
    """
    closing = _single_ended(piece, name)
    _must_be_new(piece, name, into)
    whole = _closes_wholly(name, into)
    aside = dict(zip(_names_of(name), _names_of(_CLOSING), strict=True))
    back = {moved: own for own, moved in aside.items()}
    working = renamed(piece, lambda n: aside.get(n, n))
    dart = Dart.named(_CLOSING, closing.edge, closing.inner_first)
    if piece.is_sketch:
        made = _sketched(working, into)
    else:
        made = _turned(working, dart, name, into, still)
    if whole:
        return _without(made, dart, name)
    return renamed(made, lambda n: back.get(n, n))


def _names_of(dart: str) -> tuple[str, ...]:
    """All names that are made of that of a dart: when it closes they are out of the way of a new dart of the same name."""
    return dart, *leg_names(dart), f"{dart}.closed"


def _single_ended(piece: Piece, name: str) -> Dart:
    dart = piece.dart(name)
    if dart is not None:
        if is_open_below(piece, dart):
            fix = "pivot another dart into it, or leave it unsewn"
            raise Trouble(
                f"`{name}` is open from apex to `{dart.edge}`: closing its upper part would lap the lower", fix
            )
        return dart
    if piece.hole(name) is not None:
        fix = f"leave it unsewn, `leave … .{name} as ease`; or draft it with one end, on an edge"
        raise Trouble(f"the dart `{name}` has two ends: closing one would lap the other", fix)
    raise no_such_dart(piece, name)


def _must_be_new(piece: Piece, name: str, into: Sequence[Into | IntoDart]) -> None:
    taken = set(piece.dart_names()) - {name}
    for target in into:
        if isinstance(target, Into):
            if target.name in taken:
                raise Trouble(f"there is a dart `{target.name}` already", "give the new one another name")
            taken.add(target.name)
        elif target.dart == name:
            raise Trouble(f"`{name}` cannot be pivoted into itself", "pivot it into another dart, or into an edge")
    if not into:
        raise Trouble(f"`{name}` needs a place to go to", "pivot it into a dart, or into an edge")


def _closes_wholly(name: str, into: Sequence[Into | IntoDart]) -> bool:
    """Whether the shares add up to one. Raises Disagreement when they do in some lanes only."""
    total = np.zeros(1)
    for target in into:
        if target.share is None:
            return True
        off = ~(target.share > 0.0)
        if off.any():
            fix = "give every place a share above zero, or leave it out"
            raise Trouble(f"a share of `{name}` is not above zero", fix, off, {"share ratio": target.share})
        total = total + target.share
    over = total > 1.0 + ROUNDING
    if over.any():
        fix = "let the shares add up to 1 or less"
        raise Trouble(f"the shares of `{name}` add up to more than the whole", fix, over, {"shares ratio": total})
    closes = bool(agree((total > 1.0 - ROUNDING).astype(np.int64)))
    new_names = {target.name for target in into if isinstance(target, Into)}
    if not closes and name in new_names:
        raise Trouble(f"a part of `{name}` stays: the new dart needs another name", "say its name with `called`")
    return closes


def dart_angle(piece: Piece, dart: Dart, name: str = "") -> Reals:
    """Angle (L,) between the legs at the apex, radians. Trouble with lanes where it has none; `name` is what it is called."""
    apex = apex_of(piece, dart.name)
    first = start_of(piece.ring[edge_run(piece, dart.first)[0]])
    second = end_of(piece.ring[edge_run(piece, dart.second)[-1]])
    if apex is None or first is None or second is None:
        raise AssertionError("a sketch has no angles")
    a, b = first - apex, second - apex
    angle: Reals = np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(axis=1))
    shut = ~(angle > 0.0)
    if shut.any():
        fix = "let it take something in: look at the numbers its width comes from"
        raise Trouble(f"the legs of `{name or dart.name}` lie on each other or cross", fix, shut, {"angle": np.degrees(angle)})
    return angle


def closing_angle(piece: Piece, dart: Dart, name: str) -> Reals:
    """The angle (L,) by which a dart closes, radians. Trouble with lanes where its legs do not come to lie on each other."""
    lengths = np.broadcast_arrays(*leg_lengths(piece, dart))
    uneven = np.abs(lengths[0] - lengths[1]) > LEGS_AGREE
    if uneven.any():
        legs = {"inner leg": lengths[0], "outer leg": lengths[1]}
        fix = "make them alike with `equalise_legs` first, or move the apex with `repoint`"
        raise Trouble(f"`{name}` cannot close: its legs differ", fix, uneven, legs)
    angle = dart_angle(piece, dart, name)
    _must_lie_together(piece, dart, name, angle)
    return angle


def _must_lie_together(piece: Piece, dart: Dart, name: str, angle: Reals) -> None:
    """Trouble where legs that are not straight do not come to lie on each other: mirror images do not, copies do."""
    first, second = (chain([piece.ring[i].drawn for i in edge_run(piece, leg)]) for leg in (dart.first, dart.second))
    apex = apex_of(piece, dart.name)
    if apex is None or (first.straight == (True,) and second.straight == (True,)):
        return
    turn = rotation(apex, angle)
    ours, theirs = reverse(first), second
    places = np.linspace(0.0, 1.0, 17)
    gaps = [
        norm(apply_points(turn, point_at(ours, length(ours) * place)) - point_at(theirs, length(theirs) * place))
        for place in places
    ]
    gap = np.stack(np.broadcast_arrays(*gaps), axis=1).max(axis=1)
    if (gap > LEGS_AGREE).any():
        fix = "draw them straight first: `bow` it by 0 mm, or `repoint` it"
        raise Trouble(f"`{name}` cannot close flat: its legs are bowed", fix, gap > LEGS_AGREE, {"apart": gap})


def _turned(piece: Piece, dart: Dart, name: str, into: Sequence[Into | IntoDart], still: str | None) -> Piece:
    """The piece with its targets opened; the closing dart still has legs."""
    angle = closing_angle(piece, dart, name)
    home = RingPlace(edge_run(piece, dart.second)[0])
    piece = _with_one_apex(piece, dart, name, into)
    chords, made = [], list(piece.darts)
    for target in into:
        share = np.ones(1) if target.share is None else target.share
        if isinstance(target, Into):
            place, new = _new_dart(piece, target)
            way = None
            if target.drawn is not None:
                place, way = _along(piece, dart, name, target, target.drawn)
            bridge = Bridge(((new.first,), (new.second,)), way)
            through = () if way is None else _inner(way)
            made.append(new)
        else:
            through = ()
            place, bridge = RingPlace(edge_run(piece, _single(piece, target.dart).second)[0]), None
        called = f"the cut from `{name}` to `{target.edge if isinstance(target, Into) else target.dart}`"
        chords.append(Chord(called, (place, home), (bridge, None), angle=angle * share, through=through))
    return opened(piece, chords, still=still, darts=tuple(made))


def _along(piece: Piece, dart: Dart, name: str, target: Into, drawn: Path) -> tuple[RingPlace, Path]:
    """Where a drawn line meets the edge of a new dart, and the line from there to the apex."""
    apex, what = apex_of(piece, dart.name), f"the line to `{target.edge}`"
    assert apex is not None
    drawn = from_apex(drawn, apex, name, what)
    place, mark = met_on(piece, drawn, target.edge, what)
    place = settled(piece, place)
    whole = with_ends(Side((what,), part(drawn, np.zeros(1), mark)), start=apex, end=point_of(piece, place))
    return place, reverse(whole.drawn)


def _inner(way: Path) -> tuple[Reals, ...]:
    """Points (L, 2) on a line between its ends."""
    flat = flatten_fixed(way, 16)
    return tuple(flat[:, k] for k in range(1, flat.shape[1] - 1))


def _single(piece: Piece, name: str) -> Dart:
    dart = piece.dart(name)
    if dart is None:
        if piece.hole(name) is not None:
            raise Trouble(f"the dart `{name}` has two ends", "open it to an edge first")
        raise no_such_dart(piece, name)
    return dart


def _with_one_apex(piece: Piece, dart: Dart, name: str, into: Sequence[Into | IntoDart]) -> Piece:
    """The piece with the apexes of the target darts exactly on that of the closing one."""
    apex = apex_of(piece, dart.name)
    for target in into:
        if isinstance(target, Into):
            continue
        other = apex_of(piece, _single(piece, target.dart).name)
        if apex is None or other is None:
            continue
        away = norm(apex - other)
        apart = away > ONE_APEX
        if apart.any():
            fix = f"draw one to the apex of the other first: `repoint ….{target.dart} to ….{name}.apex`"
            raise Trouble(f"`{name}` and `{target.dart}` do not share an apex", fix, apart, {"apart": away})
        if bool((away > 0.0).any()):
            piece = move_apex(piece, target.dart, apex)
    return piece


def _new_dart(piece: Piece, target: Into) -> tuple[RingPlace, Dart]:
    """Where a new dart opens, and its names."""
    place = settled(piece, place_on(piece, target.edge, target.at, target.from_end))
    back, ahead = _edges_to_fold(piece, target.edge, -1), _edges_to_fold(piece, target.edge, 1)
    from_start = target.from_end == "start" if back == ahead else back < ahead
    return place, Dart.named(target.name, target.edge, from_start)


def _edges_to_fold(piece: Piece, edge: str, step: int) -> int:
    """How many edges lie on the way from an edge to the fold; 0 both ways where there is none."""
    if piece.fold is None or piece.fold == edge:
        return 0
    numbers, legs, count = edge_run(piece, edge), piece.dart_sides(), len(piece.ring)
    start, passed, last = numbers[-1] if step > 0 else numbers[0], 0, edge
    for k in range(1, count):
        i = (start + step * k) % count
        side = piece.ring[i]
        if piece.fold in side.names:
            return passed
        if i not in legs and side.edge != last:
            passed, last = passed + 1, side.edge
    return 0


def _sketched(piece: Piece, into: Sequence[Into | IntoDart]) -> Piece:
    """The names with the new darts on their edges."""
    for target in into:
        if isinstance(target, IntoDart):
            _single(piece, target.dart)
            continue
        place, new = _new_dart(piece, target)
        runs = runs_of(piece)
        legs = [
            replace(runs[place.side], side=replace(runs[place.side].side, names=(leg,)))
            for leg in (new.first, new.second)
        ]
        runs[place.side + 1 : place.side + 1] = [*legs, runs[place.side]]
        piece = rebuilt(piece, runs, darts=(*piece.darts, new))
    return piece


def _without(piece: Piece, dart: Dart, name: str) -> Piece:
    """The piece without the legs of a dart that lie on each other now; their edge meets at a point."""
    legs, count = leg_run(piece, dart), len(piece.ring)
    runs = runs_of(piece)
    a, b = start_of(piece.ring[legs[0]]), end_of(piece.ring[legs[-1]])
    closed = None if a is None or b is None else (a + b) / 2.0
    if a is not None and b is not None and bool((norm(a - b) > 0.0).any()):
        before, after = (legs[0] - 1) % count, (legs[-1] + 1) % count
        runs[before] = replace(runs[before], side=with_ends(runs[before].side, end=closed))
        runs[after] = replace(runs[after], side=with_ends(runs[after].side, start=closed))
    why = f"the dart `{name}` was closed; its place is the point `{name}.closed`"
    lost = {name: why, **dict.fromkeys(leg_names(name)[:2], why)}
    points = MappingProxyType({**piece.points, f"{name}.closed": closed})
    kept = tuple(other for other in piece.darts if other.name != dart.name)
    return rebuilt(piece, [r for k, r in enumerate(runs) if k not in legs], lost=lost, darts=kept, points=points)
