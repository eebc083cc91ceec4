"""A finished piece on one body as what is compared of it: its edges, each with its line, its length and what is cut along it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np
import shapely

from ..finish.finished import FinishedPiece
from ..finish.stated import allowance_of
from ..geometry.lanes import FloatArray
from ..geometry.length import length
from ..geometry.path import Path, chain, polyline, reverse, thinned
from ..geometry.tolerances import COINCIDE, SEW
from ..pattern.darts import is_open_below
from ..pattern.piece import Piece, Side
from .sampling import Sampled, sampled

LineKind = Literal["ring", "line", "level"]


@dataclass(frozen=True)
class Laying:
    """How a piece is laid on another: points, as complex numbers, mirrored first where it is drawn so, are turned by `turn` and
    shifted by `shift`, mm; by which edge, "" as drafted."""

    turn: complex = 1.0 + 0.0j
    shift: complex = 0.0j
    mirrored: bool = False
    by: str = ""

    def points(self, points: FloatArray) -> FloatArray:
        """Points (…, 2) as they come to lie."""
        z = points[..., 0] + 1j * points[..., 1]
        z = (-np.conj(z) if self.mirrored else z) * self.turn + self.shift
        return np.stack([z.real, z.imag], axis=-1)

    def back(self, points: FloatArray) -> FloatArray:
        """Points (…, 2) of what it is laid on, as they lie in the draft of what is laid."""
        z = (points[..., 0] + 1j * points[..., 1] - self.shift) / self.turn
        z = -np.conj(z) if self.mirrored else z
        return np.stack([z.real, z.imag], axis=-1)

    def way(self, way: complex) -> complex:
        """A direction as it comes to lie."""
        return (-way.conjugate() if self.mirrored else way) * self.turn

    def path(self, path: Path) -> Path:
        """A path of one lane as it comes to lie; of a mirrored piece it runs the other way, so that cloth stays on its left."""
        moved = Path(self.points(path.controls), path.straight)
        return reverse(moved) if self.mirrored else moved

    @property
    def is_drafted(self) -> bool:
        return self.turn == 1.0 and self.shift == 0.0 and not self.mirrored


THINNED = 0.004
"""The cut line of a whole piece is compared without points that lie so near (mm) to the line through their neighbours."""

BEYOND_CENTRE = 40.0
"""A half piece may reach so far (mm) over its centre, as a button stand does."""

AS_DRAFTED = Laying()


@dataclass(frozen=True, eq=False)
class Edge:
    """An edge of the ring, a leg of a dart within it, or a line inside. `path` (1, k, 4, 2) mm, its parts one after the other
    where darts break it; `cut` its part of the cut line, None where none is cut along it; `kind` whether it is on the ring, a
    line inside, or one drawn at a level of the body; `ends` the edges it meets at its start and its end."""

    name: str
    path: Path
    cut: Path | None
    width: float
    under: float
    corner: str
    kind: LineKind
    ends: tuple[str, str]

    @cached_property
    def length(self) -> float:
        return float(length(self.path)[0])

    @cached_property
    def sampled(self) -> Sampled:
        return sampled(self.path)

    def laid(self, laying: Laying) -> Edge:
        ends = (self.ends[1], self.ends[0]) if laying.mirrored else self.ends
        cut = None if self.cut is None else laying.path(self.cut)
        return replace(self, path=laying.path(self.path), cut=cut, ends=ends)


@dataclass(frozen=True, eq=False)
class Outline:
    """A piece of one body: its edges by name in ring order, lines inside after them, the closed sewing line, the cut line; and
    points (x, y) of its centre, from below, none where it has no centre that runs up and down."""

    edges: dict[str, Edge]
    sewn: Path
    cut: Path
    centre: tuple[tuple[float, float], ...]

    def laid(self, laying: Laying) -> Outline:
        if laying.is_drafted:
            return self
        edges = {name: edge.laid(laying) for name, edge in self.edges.items()}
        centre = tuple((float(x), float(y)) for x, y in laying.points(np.array(self.centre).reshape(-1, 2)))
        return Outline(edges, laying.path(self.sewn), laying.path(self.cut), tuple(sorted(centre, key=lambda point: point[1])))

    @cached_property
    def ring(self) -> tuple[Edge, ...]:
        """The edges on the outline."""
        return tuple(edge for edge in self.edges.values() if edge.kind == "ring")

    @cached_property
    def side(self) -> float:
        """On which side of its centre all of it lies: 1 right, -1 left, 0 on both, or where it has none."""
        if not self.centre:
            return 0.0
        off = self.off_centre(self.sewn.controls[0].reshape(-1, 2))
        least, most = float(off.min()), float(off.max())
        return 0.0 if min(most, -least) > BEYOND_CENTRE else 1.0 if most > -least else -1.0

    def off_centre(self, points: FloatArray) -> FloatArray:
        """How far (n,) points (n, 2) lie to the right of the centre."""
        across, heights = np.array(self.centre).T
        return np.asarray(points[:, 0] - np.interp(points[:, 1], heights, across))


def edge_name(piece: Piece, side: Side) -> str:
    """The name by which a side of the ring is told: its most special one, but those of parts a slash made."""
    own = side.names[0]
    told = [name for name in side.names[1:] if name not in piece.parts and not name.startswith(f"{own}.")]
    return told[-1] if told else own


def outline(cloth: FinishedPiece) -> Outline:
    """The outline of a finished piece of one lane."""
    piece = cloth.piece
    edges = {name: _edge(cloth, name, run) for name, run in ring_runs(piece).items()}
    edges |= {name: _inner(piece, name, sides) for name, sides in _inner_runs(piece).items() if name not in edges}
    points = thinned(cloth.cut[0])
    ring = shapely.simplify(shapely.LinearRing(points), THINNED, preserve_topology=False)
    cut = polyline(shapely.get_coordinates(ring)[None])
    return Outline(edges, chain([side.drawn for side in piece.ring]), cut, _centre(piece))


def ring_runs(piece: Piece) -> dict[str, tuple[int, ...]]:
    """For each edge the numbers of its sides in travelling order, edges in ring order."""
    named = [edge_name(piece, side) for side in piece.ring]
    return {name: tuple(k for k in piece.run(name) if named[k] == name) for name in dict.fromkeys(named)}


def _edge(cloth: FinishedPiece, name: str, run: tuple[int, ...]) -> Edge:
    piece = cloth.piece
    sides = [piece.ring[k] for k in run]
    cuts = [points for points in (cloth.sides[k] for k in run) if points is not None]
    stated = allowance_of(piece, sides[0])
    folded = {leg for dart in piece.darts if not is_open_below(piece, dart) for leg in (dart.first, dart.second)}
    under = 0.0 if stated.under is None else float(stated.under[0])
    wide = 0.0 if folded.intersection(sides[0].names) else float(cloth.widths[run[0]][0])
    cut = _polyline(cuts) if cuts and not cloth.patched.any() else None
    ends = _beside(piece, run[0], -1, name), _beside(piece, run[-1], 1, name)
    return Edge(name, chain([side.drawn for side in sides]), cut, wide, under, stated.corner, "ring", ends)


def _polyline(parts: list[FloatArray]) -> Path | None:
    """Points (1, m, 2) of several runs as one path; None where they are a point."""
    runs = [thinned(part[0]) for part in parts]
    paths = [polyline(run[None]) for run in runs if run.shape[0] > 1]
    return chain(paths) if paths else None


def _beside(piece: Piece, number: int, step: int, name: str) -> str:
    """The edge at an end of another: what has no length and what is sewn shut has none there."""
    shut, count = piece.dart_sides(), len(piece.ring)
    for k in range(1, count):
        at = (number + step * k) % count
        side = piece.ring[at]
        if at not in shut and edge_name(piece, side) != name and float(length(side.drawn)[0]) > COINCIDE:
            return edge_name(piece, side)
    return ""


def _inner_runs(piece: Piece) -> dict[str, list[Side]]:
    found: dict[str, list[Side]] = {}
    for side in _inner_sides(piece):
        found.setdefault(side.names[-1], []).append(side)
    return found


def _inner_sides(piece: Piece) -> Iterator[Side]:
    for hole in piece.holes:
        yield from hole.sides
    yield from piece.lines


def _inner(piece: Piece, name: str, sides: list[Side]) -> Edge:
    kind: LineKind = "level" if piece.has_sign(sides[0], "level") else "line"
    return Edge(name, chain([side.drawn for side in sides]), None, 0.0, 0.0, "", kind, ("", ""))


def _centre(piece: Piece) -> tuple[tuple[float, float], ...]:
    """Points of the centre; of a half piece that does not reach it the origin of its draft, from which it is drawn outward."""
    names = (piece.fold, piece.was_fold, *(name for name in piece.edge_names() if name.split("_")[0] == "centre"))
    for name in names:
        sides = piece.sides(name) if name else ()
        points = [end[0] for side in sides for end in (side.drawn.start, side.drawn.end)]
        ends = sorted({(float(x), float(y)) for x, y in points}, key=lambda end: end[1])
        if sides:
            rise, reach = ends[-1][1] - ends[0][1], max(x for x, _ in ends) - min(x for x, _ in ends)
            return tuple(ends) if rise > max(reach, SEW) else ()
    return ((0.0, 0.0),) if piece.worn is not None else ()
