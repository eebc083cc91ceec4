"""A style drawn on many bodies, and what is measured on its pieces: lengths, corners, bends, widths."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from godet.bodies.body import Body
from godet.geometry.length import direction_at, length, point_at
from godet.geometry.path import Path as Drawn
from godet.geometry.path import chain
from godet.graph.evaluate import evaluate
from godet.pattern.edges import edge_path
from godet.pattern.piece import Piece
from godet.pattern.truing import angle_at, corner_at
from godet.verbs.values import Value

from .style_runs import prepared
from .widths import width_at

Reals = np.ndarray[Any, np.dtype[np.float64]]


@dataclass(frozen=True)
class Drawings:
    """A style on many bodies: the values of its names, (L, ...) over the bodies that were drawn, and those bodies."""

    values: dict[str, list[Value]]
    lanes: list[np.ndarray[Any, np.dtype[np.intp]]]
    bodies: Sequence[Body]
    failed: int

    def numbers(self, name: str) -> Reals:
        """Lengths, angles or points of a name."""
        parts = []
        for value, lanes in zip(self.values[name], self.lanes, strict=True):
            numbers = np.asarray(value, dtype=np.float64)
            parts.append(np.broadcast_to(numbers, (lanes.size, *numbers.shape[1:])))
        return np.concatenate(parts)

    def of_edge(self, piece: str, edge: str) -> Reals:
        """Lengths of an edge, mm."""
        return self._each(piece, lambda one: length(whole(one, edge)))

    def corner(self, piece: str, edge: str, by: str) -> Reals:
        """Angle of the cloth where two edges meet, degrees."""
        return self._each(piece, lambda one: np.degrees(angle_at(one, corner_at(one, edge, by))))

    def bending(self, piece: str, edge: str) -> tuple[Reals, Reals]:
        """How often an edge changes from hollow to round, and its least radius, mm."""
        both = self._each(piece, lambda one: np.stack(bending(whole(one, edge)), axis=1))
        return both[:, 0], both[:, 1]

    def ends(self, piece: str, edge: str) -> tuple[Reals, Reals]:
        """Start and end of an edge as the outline runs."""
        both = self._each(piece, lambda one: np.stack([whole(one, edge).start, whole(one, edge).end], axis=1))
        return both[:, 0], both[:, 1]

    def middle(self, piece: str, edge: str) -> Reals:
        """The point halfway along an edge."""
        return self._each(piece, lambda one: point_at(whole(one, edge), length(whole(one, edge)) / 2))

    def width_at(self, piece: str, level: Reals) -> Reals:
        """Width of a piece on a level line (of all bodies, in their order here), without its darts, mm."""
        parts, first = [], 0
        for value, lanes in zip(self.values[piece], self.lanes, strict=True):
            assert isinstance(value, Piece)
            parts.append(width_at(value, lanes.size, level[first : first + lanes.size]))
            first += lanes.size
        return np.concatenate(parts)

    def body(self, measure: str) -> Reals:
        """A measure of the bodies, mm."""
        return np.concatenate([[self.bodies[lane].measures[measure] for lane in lanes] for lanes in self.lanes])

    def _each(self, piece: str, ask: Any) -> Reals:
        parts = []
        for value, lanes in zip(self.values[piece], self.lanes, strict=True):
            assert isinstance(value, Piece)
            found = np.asarray(ask(value), dtype=np.float64)
            parts.append(np.broadcast_to(found, (lanes.size, *found.shape[1:])))
        return np.concatenate(parts)


def drawings(style: Path, bodies: Sequence[Body], settings: Sequence[str] = (), of: tuple[str, ...] = ("",)) -> Drawings:
    """A style on bodies, with what its own sentences and its recipes' name, of the names that begin so."""
    made = prepared(style, bodies, settings)
    assert made.style is not None
    wanted = {name: node for name, node in made.style.names.items() if name.startswith(of)}
    evaluated = evaluate(made.style, made.population, wanted.values())
    values = {name: [part.values[node] for part in evaluated.parts] for name, node in wanted.items()}
    return Drawings(values, [part.lanes for part in evaluated.parts], bodies, len(evaluated.failures))


def whole(piece: Piece, edge: str) -> Drawn:
    """An edge without darts as one path."""
    return chain(edge_path(piece, edge))


STEPS = 240


def turning(path: Drawn) -> tuple[Reals, Reals]:
    """By how much a path turns from step to step (L, STEPS), radians, to the left positive; and the length of a step (L,) mm."""
    total = length(path)
    ways = np.stack([direction_at(path, total * ((k + 0.5) / STEPS)) for k in range(STEPS)], axis=1)
    first, second = ways[:, :-1], ways[:, 1:]
    cross = first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]
    return np.asarray(np.arcsin(np.clip(cross, -1, 1))), total / STEPS


def bending(path: Drawn) -> tuple[Reals, Reals]:
    """Changes of sign of the turning (L,), where what turns by less than a hundredth of a degree a step counts as straight; and
    the least radius (L,) mm."""
    turns, step = turning(path)
    counts = []
    for row in turns:
        signs = np.sign(row[np.abs(row) > np.radians(0.01)])
        counts.append(int(np.sum(signs[1:] != signs[:-1])))
    radius = step / np.maximum(np.abs(turns).max(axis=1), 1e-9)
    return np.asarray(counts, dtype=np.float64), np.broadcast_to(radius, (len(counts),))
