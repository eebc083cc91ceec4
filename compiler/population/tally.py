"""What is kept of a population: counts at four gates, all that fails with some of whom it fails on, and sums that tell why.

A tally of one part and a tally of another add up to that of both, whichever comes first.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

import numpy as np

from .bins import Bins, binned
from .moments import NOTHING, Ints, Mask, Moments, Sums
from .sample import Seen, least

GATES = ("draws", "sews", "goes together", "fits")
FAILED_KEPT = 500
"""Of the bodies something fails on so many are kept: a drawing shows no more."""
BODIES_KEPT = 2000
"""Of all bodies."""

Key: TypeAlias = tuple[Hashable, ...]
"""What was asked of the bodies, by a name: the same in every part of a population."""


@dataclass(frozen=True, eq=False)
class Bodies:
    """A part of a population: names, digests, measurements (L, M) in thousandths where `known`, and which gates each passes
    (L, 4), alone; without being drawn none."""

    names: Sequence[str]
    digests: Sequence[bytes]
    measures: Ints
    known: Mask
    passed: Mask


@dataclass(frozen=True, eq=False)
class Number:
    """The number (L,) by which something holds, where it `has` one, and between what (None: no bound on that side)."""

    value: Ints
    has: Mask
    low: Ints | None
    high: Ints | None

    def room(self) -> Ints:
        """How far it lies within the nearer bound; negative beyond; 0 where nothing bounds it."""
        sides = [self.value - self.low] if self.low is not None else []
        sides += [self.high - self.value] if self.high is not None else []
        return np.asarray(np.min(sides, axis=0) if sides else np.zeros_like(self.value))


@dataclass(frozen=True, eq=False)
class Answer:
    """What became of one thing on the bodies of a part: on whom it failed, at which gate it counts, the measurements behind it
    (`columns`), the number it rests on, and of a promise the ease asked, and that delivered less that asked, where it `has` one.
    `told` says what it is, where only that tells."""

    gate: int
    failed: Mask
    columns: tuple[int, ...]
    number: Number | None = None
    asked: Ints | None = None
    delivered: tuple[Ints, Mask] | None = None
    told: str = ""


@dataclass(frozen=True)
class Asked:
    """What became of one thing on all bodies so far."""

    gate: int
    columns: tuple[int, ...]
    failed: int = 0
    failed_drawn: int = 0
    some: tuple[Seen, ...] = ()
    nearest: Seen | None = None
    farthest: Seen | None = None
    low: Mapping[int, int] = field(default_factory=dict)
    high: Mapping[int, int] = field(default_factory=dict)
    moments: Moments | None = None
    room: Sums = NOTHING
    bins: Bins = field(default_factory=Counter)
    bounds: tuple[Sums, Sums] = (NOTHING, NOTHING)
    asked: Sums = NOTHING
    delivered: Sums = NOTHING
    told: tuple[bytes, str] = (b"\xff" * 16, "")

    def __add__(self, other: Asked) -> Asked:
        rooms = [one for one in (self.nearest, other.nearest) if one], [one for one in (self.farthest, other.farthest) if one]
        both = [one for one in (self.moments, other.moments) if one is not None]
        return Asked(
            self.gate,
            tuple(sorted({*self.columns, *other.columns})),
            self.failed + other.failed,
            self.failed_drawn + other.failed_drawn,
            least((*self.some, *other.some), FAILED_KEPT),
            max(rooms[0], key=_room, default=None),
            min(rooms[1], key=_room, default=None),
            _merged(min, self.low, other.low),
            _merged(max, self.high, other.high),
            both[0] + both[1] if len(both) == 2 else both[0] if both else None,
            self.room + other.room,
            self.bins + other.bins,
            (self.bounds[0] + other.bounds[0], self.bounds[1] + other.bounds[1]),
            self.asked + other.asked,
            self.delivered + other.delivered,
            min(self.told, other.told),
        )


def _room(one: Seen) -> tuple[int, bytes, str]:
    return one.by_room


def _merged(pick: Callable[[Iterable[int]], int], one: Mapping[int, int], other: Mapping[int, int]) -> Mapping[int, int]:
    return {at: pick(found[at] for found in (one, other) if at in found) for at in sorted({*one, *other})}


@dataclass(frozen=True)
class Tally:
    """All that is kept of the bodies so far: how many, how many pass each gate after those before it and alone, all that was
    asked of them, some of them, how often each measurement has each value (of all bodies, and of those that are drawn), and how
    many have something estimated, by what and how."""

    count: int = 0
    in_order: tuple[int, ...] = (0, 0, 0, 0)
    alone: tuple[int, ...] = (0, 0, 0, 0)
    asked: Mapping[Key, Asked] = field(default_factory=dict)
    some: tuple[Seen, ...] = ()
    bins: tuple[Mapping[int, Bins], Mapping[int, Bins]] = ({}, {})
    estimated: Counter[tuple[str, str]] = field(default_factory=Counter)

    def __add__(self, other: Tally) -> Tally:
        asked = dict(self.asked)
        for key, one in other.asked.items():
            asked[key] = asked[key] + one if key in asked else one
        return Tally(
            self.count + other.count,
            tuple(a + b for a, b in zip(self.in_order, other.in_order, strict=True)),
            tuple(a + b for a, b in zip(self.alone, other.alone, strict=True)),
            asked,
            least((*self.some, *other.some), BODIES_KEPT),
            (_added(self.bins[0], other.bins[0]), _added(self.bins[1], other.bins[1])),
            self.estimated + other.estimated,
        )


def _added(one: Mapping[int, Bins], other: Mapping[int, Bins]) -> Mapping[int, Bins]:
    return {at: one.get(at, Counter()) + other.get(at, Counter()) for at in sorted({*one, *other})}


def tally(bodies: Bodies, answers: Mapping[Key, Answer], estimated: Counter[tuple[str, str]]) -> Tally:
    """The tally of a part."""
    drawn = bodies.passed[:, 0]
    failing: list[set[object]] = [set() for _ in bodies.names]
    for key, answer in answers.items():
        for at in np.flatnonzero(answer.failed).tolist():
            failing[at].add(key)
    seen = [_seen(bodies, at, failing[at]) for at in range(len(bodies.names))]
    everybody = np.ones_like(drawn)
    in_order = np.logical_and.accumulate(bodies.passed, axis=1).sum(axis=0).tolist()
    return Tally(
        len(bodies.names),
        tuple(in_order),
        tuple(bodies.passed.sum(axis=0).tolist()),
        {key: _asked(bodies, answer, seen) for key, answer in answers.items()},
        least(seen, BODIES_KEPT),
        (_bins(bodies, everybody), _bins(bodies, drawn)),
        estimated,
    )


def _seen(bodies: Bodies, at: int, failing: set[object]) -> Seen:
    row = zip(bodies.measures[at].tolist(), bodies.known[at].tolist(), strict=True)
    measures = tuple(value if known else None for value, known in row)
    return Seen(bodies.digests[at], bodies.names[at], measures, None, frozenset(failing), bool(bodies.passed[at, 0]))


def _bins(bodies: Bodies, lanes: Mask) -> Mapping[int, Bins]:
    columns = ((at, bodies.measures[lanes & bodies.known[:, at], at]) for at in range(bodies.measures.shape[1]))
    return {at: binned(values) for at, values in columns if values.size}


def _asked(bodies: Bodies, answer: Answer, seen: Sequence[Seen]) -> Asked:
    number, failed = answer.number, answer.failed
    room = None if number is None or (number.low is None and number.high is None) else number.room()
    at_fault = [_with_room(seen[at], number, room, at) for at in np.flatnonzero(failed).tolist()]
    measured = [one for one in at_fault if one.room is not None]
    low, high = _ranges(bodies, answer)
    found = Asked(
        answer.gate,
        answer.columns,
        int(failed.sum()),
        int((failed & bodies.passed[:, 0]).sum()),
        least(at_fault, FAILED_KEPT),
        max(measured, key=_room, default=None),
        min(measured, key=_room, default=None),
        low,
        high,
        told=min(((one.digest, answer.told) for one in at_fault), default=Asked.told) if answer.told else Asked.told,
    )
    if answer.delivered is not None:
        values = answer.delivered[0][answer.delivered[1]]
        asked = NOTHING if answer.asked is None else Sums.of(answer.asked[answer.delivered[1]])
        found = replace(found, bins=binned(values), delivered=Sums.of(values), asked=asked)
    return found if number is None else _numbered(found, bodies, answer, number, room)


def _with_room(seen: Seen, number: Number | None, room: Ints | None, at: int) -> Seen:
    return seen if number is None or room is None or not number.has[at] else replace(seen, room=int(room[at]))


def _ranges(bodies: Bodies, answer: Answer) -> tuple[Mapping[int, int], Mapping[int, int]]:
    low, high = {}, {}
    for at in range(bodies.measures.shape[1]):
        values = bodies.measures[answer.failed & bodies.known[:, at], at]
        if values.size:
            low[at], high[at] = int(values.min()), int(values.max())
    return low, high


def _numbered(found: Asked, bodies: Bodies, answer: Answer, number: Number, room: Ints | None) -> Asked:
    has, columns = number.has, list(answer.columns)
    values, known = number.value[has], bodies.known[has][:, columns]
    bounds = [NOTHING if side is None else Sums.of(side[has]) for side in (number.low, number.high)]
    return replace(
        found,
        moments=Moments.of(values, np.where(known, bodies.measures[has][:, columns], 0), known),
        room=NOTHING if room is None else Sums.of(room[has]),
        bounds=(bounds[0], bounds[1]),
    )
