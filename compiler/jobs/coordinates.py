"""Lines of a finished piece of one body as points (n, 2) in mm, x right, y up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..finish.finished import FinishedPiece
from ..finish.notching import notch_strokes
from ..geometry.lanes import FloatArray
from ..geometry.length import place_at
from ..geometry.path import Path, flatten_within, thinned
from ..geometry.tolerances import COINCIDE
from ..pattern.darts import apex_of, is_open_below
from ..pattern.edges import edge_path
from ..pattern.piece import HoleEnd, Piece
from .results import SeamResult

WITHIN = 0.05
"""How far a flattened line may lie from its curve, mm."""


@dataclass(frozen=True, eq=False)
class PlacedNotch:
    """A notch: the edge it is on, its place (2,) on the sewing line, its strokes (k, 2, 2) as they are cut, each from the cut
    line inward; its name ("": none) and the seam it was made for ("": it is stated, or of a pleat)."""

    edge: str
    at: FloatArray
    strokes: FloatArray
    name: str
    seam: str


@dataclass(frozen=True, eq=False)
class PlacedDart:
    """An end of a dart: its name, the edge it stands on ("": it has two ends, inside the piece), its apex (2,), and its inner and
    outer leg (n, 2), as the ring runs."""

    name: str
    edge: str
    apex: FloatArray
    inner: FloatArray
    outer: FloatArray


@dataclass(frozen=True)
class Partner:
    """What an edge is sewn to: the seam, and the edges on its other side as `piece.edge`."""

    seam: str
    edges: tuple[str, ...]


def notches_of(cloth: FinishedPiece) -> Iterator[PlacedNotch]:
    """The notches of a piece, in the order of its ring."""
    ring = cloth.piece.ring
    for one in sorted(cloth.piece.notches, key=lambda one: (one.side, float(one.at[0]))):
        at = place_at(ring[one.side].drawn, one.at)[0][0]
        yield PlacedNotch(ring[one.side].names[-1], _kept(at), _kept(notch_strokes(cloth, one)), one.name, one.seam)


def darts_of(piece: Piece) -> Iterator[PlacedDart]:
    """The darts of a piece that are sewn as darts; one with two ends is two, and one opened to an edge a seam."""
    for dart in piece.darts:
        if not is_open_below(piece, dart):
            inner, outer, *_ = dart.leg_names
            yield _dart(piece, dart.name, dart.edge, "upper", (inner, outer))
    ends: tuple[HoleEnd, HoleEnd] = ("upper", "lower")
    for hole in piece.holes:
        for end, names in zip(ends, (hole.leg_names[:2], hole.leg_names[2:]), strict=True):
            yield _dart(piece, hole.name, "", end, names)


def _dart(piece: Piece, name: str, edge: str, end: HoleEnd, legs: tuple[str, ...]) -> PlacedDart:
    apex = apex_of(piece, name, end)
    assert apex is not None  # it is cloth
    inner, outer = (_kept(edge_points(piece, leg)) for leg in legs)
    return PlacedDart(name, edge, _kept(apex[0]), inner, outer)


def partners_of(name: str, piece: Piece, edge: str, seams: Iterable[SeamResult]) -> Iterator[Partner]:
    """What an edge or an inner line of a piece, or any part of an edge, is sewn to."""
    sides = set(piece.run(edge))

    def is_on(places: Sequence[str]) -> bool:
        parted = [place.split(".", 1) for place in places]
        return any(owner == name and (part == edge or sides.intersection(piece.run(part))) for owner, part in parted)

    for seam in seams:
        if is_on(seam.left):
            yield Partner(seam.name, seam.right)
        if is_on(seam.right) and seam.left != seam.right:
            yield Partner(seam.name, seam.left)


def _kept(points: FloatArray) -> FloatArray:
    """A copy that cannot be written to."""
    points = np.array(points)
    points.flags.writeable = False
    return points


def outline(piece: Piece) -> FloatArray:
    """The sewing line, anticlockwise, first point not repeated."""
    return _closed([side.drawn for side in piece.ring])


def holes(piece: Piece) -> list[FloatArray]:
    """What is cut out of it or folded away inside it, each closed, clockwise."""
    return [_closed([side.drawn for side in hole.sides]) for hole in piece.holes]


def edge_points(piece: Piece, name: str) -> FloatArray:
    """An edge, an inner line or a dart's leg from end to end, as its ring runs; what folds or opens in it is left out."""
    parts = [flatten_within(path, WITHIN) for path in edge_path(piece, name)]
    return thinned(np.concatenate(parts))


def cut_points(cloth: FinishedPiece) -> FloatArray:
    """The cut line, anticlockwise, first point not repeated."""
    ring = thinned(cloth.cut[0])
    return ring[:-1] if np.abs(ring[0] - ring[-1]).max() < COINCIDE else ring


def _closed(paths: Sequence[Path]) -> FloatArray:
    return np.concatenate([flatten_within(path, WITHIN)[:-1] for path in paths])
