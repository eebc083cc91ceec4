"""What each operation of the graph is told without a body: one frozen type for each, which is the operation.

A field that messages alone read is `told`, one that is a node is a `reference`; neither is hashed as it stands (`identity.py`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any

from ..pattern.named import PartEnd
from ..verbs.opened import Drafted
from ..verbs.outlines import OutlineEdge

TOLD = {"told": True}
REFERENCE = {"reference": True}


@dataclass(frozen=True)
class Payload:
    """An operation. Those without a field of their own are told nothing."""


def marked(kind: type[Payload], mark: str) -> tuple[str, ...]:
    """The names of the fields of a type of payload that are `told`, or a `reference`."""
    if (kind, mark) not in _MARKED:
        _MARKED[kind, mark] = tuple(one.name for one in fields(kind) if one.metadata.get(mark))
    return _MARKED[kind, mark]


_MARKED: dict[tuple[type[Payload], str], tuple[str, ...]] = {}


# ---- what comes from outside, and numbers ----------------------------------------------------------


class Zero(Payload):
    """The origin of the plane."""


@dataclass(frozen=True)
class Constant(Payload):
    value: float | bool


@dataclass(frozen=True)
class Text(Payload):
    value: str


@dataclass(frozen=True)
class Setting(Payload):
    """What a choice is set to, by its whole name."""

    name: str
    is_flag: bool


@dataclass(frozen=True)
class Measure(Payload):
    name: str
    is_angle: bool


@dataclass(frozen=True)
class Fallback(Payload):
    """A measurement, and what stands in for it where it was not taken."""

    name: str
    is_angle: bool


@dataclass(frozen=True)
class Measured(Payload):
    """Whether a measurement was taken."""

    name: str


@dataclass(frozen=True)
class Known(Payload):
    """A value, where all these measurements are known."""

    asks: tuple[str, ...]


class Negative(Payload): ...


@dataclass(frozen=True)
class Arithmetic(Payload):
    operator: str


@dataclass(frozen=True)
class Extreme(Payload):
    word: str


@dataclass(frozen=True)
class Bounded(Payload):
    name: str = field(metadata=TOLD)
    kind: str = field(metadata=TOLD)


@dataclass(frozen=True)
class Table(Payload):
    keys: tuple[float, ...]
    rows: tuple[float, ...]
    between: str
    beyond: str
    unit: str = field(metadata=TOLD)


@dataclass(frozen=True)
class Solve(Payload):
    """The value that makes two things equal; these are settled when all that rests on it is made."""

    name: str = field(metadata=TOLD)
    advice: str = field(metadata=TOLD)
    kept: bool
    left: int = field(default=-1, metadata=REFERENCE)
    right: int = field(default=-1, metadata=REFERENCE)


# ---- conditions ------------------------------------------------------------------------------------


class Chosen(Payload): ...


class Inverse(Payload): ...


@dataclass(frozen=True)
class Joint(Payload):
    word: str


@dataclass(frozen=True)
class Comparison(Payload):
    word: str


# ---- points, ways and lines ------------------------------------------------------------------------


@dataclass(frozen=True)
class Moves(Payload):
    ways: tuple[str, ...]


@dataclass(frozen=True)
class Direction(Payload):
    word: str


@dataclass(frozen=True)
class Heading(Payload):
    word: str


@dataclass(frozen=True)
class Of(Payload):
    word: str


class EndToEnd(Payload): ...


class PointOn(Payload):
    """A point that lies on an edge."""


@dataclass(frozen=True)
class CornerWith(Payload):
    """The end of an edge at which it meets another; both as the sentence calls them."""

    meets: str
    written: tuple[str, str] = field(metadata=TOLD)


@dataclass(frozen=True)
class EndOf(Payload):
    end: str


@dataclass(frozen=True)
class SoFarFrom(Payload):
    """A point so far along an edge from an end of it, or such a share of it."""

    end: str


@dataclass(frozen=True)
class FarAlong(Payload):
    end: str


@dataclass(frozen=True)
class PartOf(Payload):
    first: PartEnd
    last: PartEnd


# ---- what a piece has, and pieces ------------------------------------------------------------------


@dataclass(frozen=True)
class EdgeOf(Payload):
    name: str


@dataclass(frozen=True)
class CutEdge(Payload):
    name: str


@dataclass(frozen=True)
class DartOn(Payload):
    name: str


@dataclass(frozen=True)
class Landmark(Payload):
    name: str


@dataclass(frozen=True)
class Apex(Payload):
    name: str
    end: str


class Uncut(Payload):
    """A piece without what is said of cutting it."""


@dataclass(frozen=True)
class Outline(Payload):
    edges: tuple[OutlineEdge, ...]


@dataclass(frozen=True)
class RingSide:
    """An edge of an outline: the argument that is its path, or the two that are its ends; and whether it is run as drawn."""

    arguments: tuple[str, ...]
    forward: bool


@dataclass(frozen=True)
class OpenedCurve(Payload):
    """`words` are the arguments that its own sentence says; each of the darts has its words, with the argument of each."""

    words: tuple[str, ...]
    darts: tuple[tuple[Drafted, tuple[tuple[str, str], ...]], ...]
    ring: tuple[RingSide, ...]


@dataclass(frozen=True)
class Followed(Payload):
    """How long an edge of a block's piece, the `owner`, is on the pieces that are cut."""

    name: str
    owner: int = field(metadata=REFERENCE)


@dataclass(frozen=True)
class Call(Payload):
    """A verb, with its words that are known without a body."""

    verb: str
    words: Mapping[str, Any]
