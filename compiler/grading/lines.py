"""The cut line of a piece edge by edge, so that the same stretch is found in every size."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from ..finish.finished import FinishedPiece
from ..geometry.lanes import left_of
from .laying import SizesLaid
from .run import Reals, called, first_side

PLACES = 33
"""At so many places of an edge, shared by length, sizes are held against each other."""

BEYOND = 0.2
"""Lines that change places by more than this (mm) cross."""

Stretch = tuple[str, int]
"""The name of a side, and its number among those of its name."""


@dataclass(frozen=True)
class Crossing:
    """An edge along which the lines of two neighbouring sizes cross, and by how much (mm) the larger lies within the smaller."""

    edge: str
    size_from: str
    size_to: str
    by_mm: float


def stretches(cloth: FinishedPiece) -> dict[Stretch, Reals]:
    """The cut line (n, 2) along each side of the outline but its fold."""
    piece, found, count = cloth.piece, dict[Stretch, Reals](), dict[str, int]()
    first = first_side(piece)
    for k in range(first, first + len(piece.ring)):
        side, points = piece.ring[k % len(piece.ring)], cloth.sides[k % len(piece.ring)]
        if points is None or (piece.fold is not None and piece.fold in side.names):
            continue
        name = called(side)
        count[name] = count.get(name, 0) + 1
        found[name, count[name]] = points[0]
    return found


def resampled(points: Reals, places: int) -> Reals:
    """Points (places, 2) at equal shares of the length of a run (n, 2)."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    marks = np.concatenate([[0.0], np.cumsum(steps)])
    at = np.linspace(0.0, 1.0, places) * marks[-1]
    return np.stack([np.interp(at, marks, points[:, 0]), np.interp(at, marks, points[:, 1])], axis=1)


def crossings(sizes: Mapping[str, FinishedPiece], laid: SizesLaid) -> Iterator[Crossing]:
    """Where the line of a size runs beyond that of the next on one part of an edge and within it on another."""
    names, rows = [*sizes], [stretches(cloth) for cloth in sizes.values()]
    for key in rows[0]:
        if not all(key in row for row in rows):
            continue
        lines = [laid.by_size[size].points(resampled(row[key], PLACES)) for size, row in zip(names, rows, strict=True)]
        for k in range(len(names) - 1):
            way = np.gradient(lines[k], axis=0)
            way /= np.maximum(np.linalg.norm(way, axis=1, keepdims=True), 1e-9)
            outward = np.einsum("ni,ni->n", lines[k + 1] - lines[k], -left_of(way))
            least, most = float(outward.min()), float(outward.max())
            if min(-least, most) > BEYOND:
                yield Crossing(key[0], names[k], names[k + 1], min(-least, most))
