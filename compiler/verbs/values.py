"""Values on lanes: what kinds become once bodies are known. Every array has a leading axis of bodies, of size L or 1."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from ..geometry import length as lengths
from ..geometry.lanes import take
from ..geometry.path import Path, end_direction, start_direction
from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Dart, Hole, Piece, Reals, Side
from ..pattern.ring import End
from .attached import Attached

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Edge:
    """An edge of a piece, by name."""

    piece: Piece
    name: str

    def take(self, lanes: NDArray[np.intp]) -> Edge:
        return replace(self, piece=self.piece.take(lanes))

    @property
    def sides(self) -> tuple[Side, ...]:
        return self.piece.sides(self.name)

    def length(self) -> Reals:
        """Sewn length (L,) mm: the sides one after the other, darts closed."""
        total: Reals = np.zeros(1)
        for side in self.sides:
            total = total + lengths.length(side.drawn)
        return total


@dataclass(frozen=True)
class Run:
    """Several edges sewn as one, in order."""

    edges: tuple[Edge, ...]

    def take(self, lanes: NDArray[np.intp]) -> Run:
        return Run(tuple(edge.take(lanes) for edge in self.edges))

    def length(self) -> Reals:
        total: Reals = np.zeros(1)
        for edge in self.edges:
            total = total + edge.length()
        return total


@dataclass(frozen=True)
class DartOf:
    """A dart of a piece, by name."""

    piece: Piece
    name: str

    def take(self, lanes: NDArray[np.intp]) -> DartOf:
        return replace(self, piece=self.piece.take(lanes))

    @property
    def dart(self) -> Dart | Hole | None:
        return self.piece.dart(self.name) or self.piece.hole(self.name)


@dataclass(frozen=True)
class Heading:
    """A direction, settled where it is used.

    `word` is `fixed` (a unit vector (L, 2)), `toward`, `away_from` (a point (L, 2)), `along` or `square` (a path).
    """

    word: str
    vector: Reals | None = None
    path: Path | None = None

    def take(self, lanes: NDArray[np.intp]) -> Heading:
        vector = None if self.vector is None else take(self.vector, lanes)
        return replace(self, vector=vector, path=None if self.path is None else self.path.take(lanes))

    def at(self, place: Reals, chord: Reals) -> Reals:
        """Unit vector (L, 2) at `place`; of the two senses of a line the one that goes with `chord` (L, 2)."""
        if self.path is not None:
            tangent = _tangent_near(self.path, place)
            if self.word == "square_to":
                tangent = np.stack([-tangent[..., 1], tangent[..., 0]], axis=-1)
            forward = np.sum(tangent * chord, axis=-1, keepdims=True) >= 0
            return np.asarray(np.where(forward, tangent, -tangent))
        assert self.vector is not None
        if self.word == "fixed":
            return self.vector
        way = self.vector - place if self.word == "toward" else place - self.vector
        return np.asarray(way / np.linalg.norm(way, axis=-1, keepdims=True))


def _tangent_near(path: Path, place: Reals) -> Reals:
    """Direction of travel at the point of the path nearest to `place`: exact at its ends, where a draft uses it."""
    if path.straight == (True,):
        return start_direction(path)
    at, _ = lengths.nearest(path, place)
    total = lengths.length(path)
    inner = lengths.direction_at(path, np.clip(at, 0.0, total))
    at_start = (np.asarray(at) <= COINCIDE)[..., None]
    at_end = (np.asarray(at) >= total - COINCIDE)[..., None]
    found = np.where(at_start, start_direction(path), inner)
    return np.asarray(np.where(at_end, end_direction(path), found))


@dataclass(frozen=True)
class Opened:
    """An edge cut open by darts: its `parts` one after the other as drawn, and between two of them a dart of `darts` with its
    two `legs`, to the apex and from it. Darts that a body does not need are left out."""

    parts: tuple[Path, ...]
    darts: tuple[str, ...]
    legs: tuple[tuple[Path, Path], ...]

    def take(self, lanes: NDArray[np.intp]) -> Opened:
        parts = tuple(part.take(lanes) for part in self.parts)
        return Opened(parts, self.darts, tuple((one.take(lanes), other.take(lanes)) for one, other in self.legs))


@dataclass(frozen=True)
class CutLine:
    """A slash line from an edge to another, or to the apex of the dart `far` names where it is `to_apex`.

    `share` (L,) is the fraction of the way along the first edge, counted from its `from_end` as travelled; `far_share` that
    along the far edge, from its opposite end, so that even cuts do not cross. `through` are points (L, 2) on the way.
    """

    edge: str
    far: str
    share: Reals
    far_share: Reals
    from_end: End = "start"
    to_apex: bool = False
    through: tuple[Reals, ...] = ()

    def take(self, lanes: NDArray[np.intp]) -> CutLine:
        through = tuple(take(point, lanes) for point in self.through)
        return replace(self, share=take(self.share, lanes), far_share=take(self.far_share, lanes), through=through)


@dataclass(frozen=True)
class Cuts:
    """Slash lines of a piece, in the order of their numbers."""

    piece: Piece
    lines: tuple[CutLine, ...]

    @property
    def count(self) -> int:
        return len(self.lines)

    def take(self, lanes: NDArray[np.intp]) -> Cuts:
        return Cuts(self.piece.take(lanes), tuple(line.take(lanes) for line in self.lines))


@dataclass(frozen=True)
class Seam:
    """Two runs of edges that are sewn together: lengths (L,) mm, `how` (joins, eases, gathers), tolerance (L,) mm."""

    left: Edge | Run
    right: Edge | Run
    left_mm: Reals
    right_mm: Reals
    how: str
    within: Reals

    def take(self, lanes: NDArray[np.intp]) -> Seam:
        return replace(
            self,
            left=self.left.take(lanes),
            right=self.right.take(lanes),
            left_mm=take(self.left_mm, lanes),
            right_mm=take(self.right_mm, lanes),
            within=take(self.within, lanes),
        )


@dataclass(frozen=True)
class Verdict:
    """A check on lanes: whether it holds (L,) and the numbers compared, for the words."""

    holds: Mask
    figures: Mapping[str, Reals] = field(default_factory=lambda: MappingProxyType({}))

    def take(self, lanes: NDArray[np.intp]) -> Verdict:
        figures = {name: take(value, lanes) for name, value in self.figures.items()}
        return Verdict(take(self.holds, lanes), MappingProxyType(figures))


def numbered(word: str, number: int) -> str:
    """The argument that is one of those listed behind a word of a verb."""
    return f"{word}_{number}"


Held = TypeVar("Held")


def listed(given: Mapping[str, Held], word: str) -> list[Held]:
    """What is listed behind a word of a verb, in order; none where it is not said."""
    names = (numbered(word, number) for number in range(len(given)))
    return [given[name] for name in names if name in given]


Lanes = NDArray[np.intp]
Value = (
    Reals
    | Mask
    | str
    | Path
    | Opened
    | Piece
    | Edge
    | Run
    | DartOf
    | Heading
    | Cuts
    | Seam
    | Attached
    | Verdict
    | Mapping[str, "Value"]
    | None
)


def value_at(value: Value, lanes: Lanes) -> Value:
    """A value for some of the bodies."""
    if value is None or isinstance(value, str):
        return value
    if isinstance(value, np.ndarray):
        return take(value, lanes)
    if isinstance(value, Mapping):
        return {name: value_at(inner, lanes) for name, inner in value.items()}
    return value.take(lanes)
