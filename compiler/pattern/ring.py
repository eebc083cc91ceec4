"""Work on the ring of a piece: finding an edge, cutting the ring at places, and carrying its notches along."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import agree, norm
from ..geometry.length import cut_at, length, point_at
from ..geometry.motion import Motion, apply_path
from ..geometry.path import Path, line
from ..geometry.tolerances import COINCIDE
from .piece import Notch, Piece, Reals, Side, Sign, Trouble

End = Literal["start", "end"]

NOWHERE: Reals = np.zeros(1)
NOWHERE.setflags(write=False)


@dataclass(frozen=True)
class RingPart:
    """A stretch of a new ring, cut from the old side `source` (None: drawn new) at `offset` (L,) mm along it."""

    side: Side
    source: int | None = None
    offset: Reals = field(default_factory=lambda: NOWHERE)


@dataclass(frozen=True)
class RingPlace:
    """A place on the ring: `at` (L,) mm from the start of side number `side`."""

    side: int
    at: Reals = field(default_factory=lambda: NOWHERE)


def runs_of(piece: Piece) -> list[RingPart]:
    """The ring as it stands, one run for each side."""
    return [RingPart(side, i) for i, side in enumerate(piece.ring)]


def rebuilt(
    piece: Piece,
    runs: Sequence[RingPart],
    *,
    lost: Mapping[str, str] | None = None,
    onto: Sequence[Notch] = (),
    **changes: Any,
) -> Piece:
    """The piece with a new ring: notches are carried, with those laid `onto` sides drawn anew; `lost` names are recorded, unless
    they exist (again), and places whose notch was taken away with them; a fold that is no edge of it any more is none."""
    ring = welded([run.side for run in runs])
    made = replace(piece, ring=ring, notches=(*carried(piece.notches, runs), *onto), **changes)
    if made.fold is not None and not made.run(made.fold):
        made = replace(made, fold=None)
    lost = lost or {}
    left = {notch.name for notch in made.notches}
    off = {notch.name: _why_off(piece, notch, lost) for notch in piece.notches if notch.name and notch.name not in left}
    return record(with_places(made, off), {**lost, **off})


def _why_off(piece: Piece, notch: Notch, lost: Mapping[str, str]) -> str:
    """Why the place of a notch is no more: as its edge is lost, or since the stretch it lay on was taken away."""
    names = piece.ring[notch.side].names
    return next((lost[name] for name in names if name in lost), f"that stretch of `{names[0]}` was taken away")


def with_places(piece: Piece, off: Collection[str] = ()) -> Piece:
    """The piece with the points of its named notches where these lie, and without those of the notches that are `off`."""
    here = {one.name: point_of(piece, RingPlace(one.side, one.at)) for one in piece.notches if one.name}
    if not here and not off:
        return piece
    points = {name: point for name, point in {**piece.points, **here}.items() if name not in off}
    signs = {name: sign for name, sign in piece.signs.items() if name not in off} | dict.fromkeys(here, Sign("notch"))
    return replace(piece, points=MappingProxyType(points), signs=MappingProxyType(signs))


def record(piece: Piece, lost: Mapping[str, str]) -> Piece:
    """The piece with `lost` added to the names that are gone; names that exist are never gone.

    The place `DART.closed` of a dart that is there again is forgotten.
    """
    darts = piece.dart_names()
    again = {f"{dart}.closed" for dart in darts}
    points = {name: point for name, point in piece.points.items() if name not in again}
    alive = {*piece.edge_names(), *darts, *points}
    removed = {name: why for name, why in {**piece.removed, **lost}.items() if name not in alive}
    return replace(piece, points=MappingProxyType(points), removed=MappingProxyType(removed))


def carried(notches: Sequence[Notch], runs: Sequence[RingPart]) -> tuple[Notch, ...]:
    """The notches on the runs that were cut from their sides; those whose stretch was taken away go with it."""
    kept = []
    for notch in notches:
        parts = [(k, run) for k, run in enumerate(runs) if run.source == notch.side]
        if parts and parts[0][1].side.path is None:  # on which of them it lies no sketch knows
            kept.append(replace(notch, side=parts[0][0]))
            continue
        parts.sort(key=lambda part: float(part[1].offset[0]))
        found = np.full(notch.at.shape, -1, dtype=np.int64)
        for k, (_, run) in enumerate(parts):
            on = (notch.at >= run.offset - COINCIDE) & (notch.at <= run.offset + length(run.side.drawn) + COINCIDE)
            found = np.where(on, k, found)
        chosen = agree(found)
        if chosen >= 0:
            number, run = parts[chosen]
            kept.append(replace(notch, side=number, at=np.maximum(notch.at - run.offset, 0.0)))
    return tuple(kept)


def replace_side(run: RingPart, path: Path) -> RingPart:
    """The run with its side drawn along another path."""
    return replace(run, side=replace(run.side, path=path))


def split(run: RingPart, at: Reals) -> tuple[RingPart, RingPart]:
    """The run before and after `at` (L,) mm along it; a sketch is split into two of the same names."""
    if run.side.path is None:
        return run, run
    before, after = cut_at(run.side.path, at)
    first = replace(run, side=replace(run.side, path=before))
    return first, replace(run, side=replace(run.side, path=after), offset=run.offset + at)


def moved(side: Side, motion: Motion) -> Side:
    """The side after a rigid motion of its panel."""
    return replace(side, path=apply_path(motion, side.drawn), turn=motion.turn * side.turn)


def straight(names: tuple[str, ...], a: Reals | None, b: Reals | None) -> Side:
    """A straight side from a to b (L, 2); in a sketch, its names."""
    return Side(names) if a is None or b is None else Side(names, line(a, b))


def start_of(side: Side) -> Reals | None:
    """First point (L, 2), None in a sketch."""
    return None if side.path is None else side.path.start


def end_of(side: Side) -> Reals | None:
    """Last point (L, 2), None in a sketch."""
    return None if side.path is None else side.path.end


def with_ends(side: Side, *, start: Reals | None = None, end: Reals | None = None) -> Side:
    """The side with its ends moved to given points (L, 2), the handle of a curve going with its end."""
    if side.path is None or (start is None and end is None):
        return side
    path = side.path
    if path.straight == (True,):
        return replace(side, path=line(path.start if start is None else start, path.end if end is None else end))
    first = NOWHERE[:, None] if start is None else start - path.start
    last = NOWHERE[:, None] if end is None else end - path.end
    lanes = np.broadcast_shapes(path.controls.shape[:1], first.shape[:1], last.shape[:1])
    controls = np.broadcast_to(path.controls, (*lanes, *path.controls.shape[1:])).copy()
    controls[:, 0, :2] += first[:, None]
    controls[:, -1, 2:] += last[:, None]
    for span, ours in ((0, start), (path.spans - 1, end)):
        if ours is not None and path.straight[span]:
            controls[:, span] = line(controls[:, span, 0], controls[:, span, 3]).controls[:, 0]
    return replace(side, path=Path(controls, path.straight))


def welded(sides: Sequence[Side]) -> tuple[Side, ...]:
    """The sides of a closed ring (a sketch as it is), each starting at the very bits where the one before ends.

    Turning panels leaves ends that differ in the last bit, enough for an outline to count as crossing itself.
    """
    made: list[Side] = []
    if any(side.path is None for side in sides):
        return tuple(sides)
    for before, side in zip((sides[-1], *sides[:-1]), sides, strict=True):
        path, joint = side.drawn, before.drawn.end
        apart = norm(path.start - joint)
        if bool(((apart > 0.0) & (apart <= COINCIDE)).any()):
            lanes = np.broadcast_shapes(path.controls.shape[:1], joint.shape[:1])
            controls = np.broadcast_to(path.controls, (*lanes, *path.controls.shape[1:])).copy()
            controls[:, 0, 0] = np.where((apart <= COINCIDE)[:, None], joint, path.start)
            side = replace(side, path=Path(controls, path.straight))
        made.append(side)
    return tuple(made)


def names_there(names: Iterable[str]) -> str:
    """What to write in place of a name that is not there."""
    listed = ", ".join(f"`{name}`" for name in [*names][:12])
    return f"it has {listed or 'none'}"


def edge_run(piece: Piece, name: str) -> tuple[int, ...]:
    """`Piece.run` of an edge that must be there: Trouble if there is none."""
    found = piece.run(name)
    if not found:
        why = piece.removed.get(name)
        raise Trouble(f"there is no edge `{name}`" + (f": {why}" if why else ""), names_there(piece.edge_names()))
    return found


def edge_total(piece: Piece, name: str) -> Reals:
    """Length (L,) mm of an edge of the ring, its darts closed: the sum of its sides."""
    total = NOWHERE
    for i in edge_run(piece, name):
        total = total + length(piece.ring[i].drawn)
    return total


def place_on(piece: Piece, name: str, at: Reals | None, end: End) -> RingPlace:
    """The place `at` (L,) mm along an edge from its `start` or `end` as travelled, darts closed.

    In a sketch it is on the edge's first side. Trouble with lanes when the edge is too short.
    """
    numbers = edge_run(piece, name)
    if at is None or piece.is_sketch:
        return RingPlace(numbers[0])
    total = edge_total(piece, name)
    off = (at < -COINCIDE) | (at > total + COINCIDE)
    if off.any():
        figures = {f"length of {name}": total, "asked": at}
        raise Trouble(
            f"the place asked for is beyond the end of `{name}`", "measure less, or from the other end", off, figures
        )
    along = np.clip(at if end == "start" else total - at, 0.0, total)
    passed, number = NOWHERE, np.zeros(along.shape, dtype=np.int64)
    marks = [passed]
    for i in numbers[:-1]:
        passed = passed + length(piece.ring[i].drawn)
        marks.append(passed)
        number = number + (along >= passed - COINCIDE)
    chosen = agree(number)
    return RingPlace(numbers[chosen], np.maximum(along - marks[chosen], 0.0))


def point_of(piece: Piece, place: RingPlace) -> Reals | None:
    """The point (L, 2) of a place; None in a sketch."""
    path = piece.ring[place.side].path
    return None if path is None else point_at(path, np.clip(place.at, 0.0, length(path)))


def settled(piece: Piece, place: RingPlace) -> RingPlace:
    """The place, moved to the start of the next side when it is the end of its own. Lanes must agree."""
    side = piece.ring[place.side]
    if side.path is None:
        return place
    total = length(side.path)
    where = agree(np.where(place.at <= COINCIDE, 0, np.where(place.at >= total - COINCIDE, 2, 1)))
    if where == 1:
        return place
    return RingPlace((place.side + where // 2) % len(piece.ring))


def split_ring(piece: Piece, places: Sequence[RingPlace]) -> tuple[list[RingPart], list[int]]:
    """The ring cut at places, and for each place the number of the run that starts there.

    Places within a millionth of a millimetre are one. Raises Disagreement when lanes have another order.
    """
    ends = [settled(piece, place) for place in places]
    runs: list[RingPart] = []
    starts = [0] * len(ends)
    for i, run in enumerate(runs_of(piece)):
        here = [k for k, place in enumerate(ends) if place.side == i]
        first = len(runs)
        rest, passed = run, NOWHERE
        for group in _groups([ends[k].at for k in here]):
            at = ends[here[group[0]]].at
            if not (piece.is_sketch or bool((at > COINCIDE).all())):
                starts_here = first
            else:
                before, rest = split(rest, at - passed)
                runs.append(before)
                passed, starts_here = at, len(runs)
            for k in group:
                starts[here[k]] = starts_here
        runs.append(rest)
    return runs, starts


def _groups(positions: Sequence[Reals]) -> list[list[int]]:
    """Positions (L,) in rising order, equal ones together. Raises Disagreement when lanes order them differently."""
    if len(positions) < 2:
        return [[k] for k in range(len(positions))]
    table = np.stack(np.broadcast_arrays(*positions), axis=1)
    order = np.argsort(table[0], kind="stable")
    steps = np.diff(table[:, order], axis=1)
    kinds = np.where(steps < -COINCIDE, 2, np.where(steps <= COINCIDE, 0, 1))
    if (kinds == 2).any() or (kinds != kinds[0]).any():
        agree(row_keys(np.concatenate([kinds, np.argsort(table, axis=1, kind="stable")], axis=1)))
    groups = [[int(order[0])]]
    for k, kind in zip(order[1:], kinds[0], strict=True):
        if kind == 0:
            groups[-1].append(int(k))
        else:
            groups.append([int(k)])
    return groups


def row_keys(rows: NDArray[np.int64]) -> NDArray[np.int64]:
    """A number (L,) for each row (L, n), the same for equal rows."""
    return np.unique(rows, axis=0, return_inverse=True)[1].reshape(-1).astype(np.int64)


def shared_names(before: Side, after: Side, edge: str) -> tuple[str, ...]:
    """Names for a side put between two sides of an edge: those both have, and the edge's own in any case."""
    both = tuple(name for name in before.names if name in after.names)
    return both if edge in both else (edge,)
