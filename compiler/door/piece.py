"""A finished piece of one body, as coordinates and polygons."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property

import numpy as np
import shapely

from ..finish.finished import FinishedPiece
from ..geometry.lanes import FloatArray
from ..jobs.coordinates import (
    Partner,
    PlacedDart,
    PlacedNotch,
    cut_points,
    darts_of,
    edge_points,
    holes,
    notches_of,
    outline,
    partners_of,
)
from ..jobs.results import PieceResult, SeamResult
from ..output.records import EdgeLength


class Piece:
    """A piece of one body. Coordinates are float64 in mm, x right, y up; arrays are handed out read-only.

    Curves are followed to 0.05 mm. Lengths of `edges` are those of the curves themselves, darts closed.

    >>> from godet import open_style
    >>> (result,) = open_style("patterns/puff_sleeve.style").on("patterns/bodies/alto_3.toml")
    >>> front = result.pieces["front"]
    >>> front.partners("shoulder")
    (Partner(seam='shoulders', edges=('back.shoulder',)),)
    >>> front.grain.tolist(), [(dart.name, dart.edge) for dart in front.darts]
    ([0.0, 1.0], [('waist_dart', 'waistline'), ('side_dart', 'side')])
    >>> front.notches[0].edge, front.notches[0].seam
    ('neckline', 'front_neck_edge')
    """

    def __init__(self, result: PieceResult, draw: Callable[[str], str], seams: Sequence[SeamResult]) -> None:
        self._result = result
        self._seams = seams
        self._draw = draw

    def __repr__(self) -> str:
        return f"<piece {self.name}, {len(self.edges)} edges>"

    @property
    def name(self) -> str:
        """The name of the piece in its style."""
        return self._result.name

    @property
    def edges(self) -> tuple[EdgeLength, ...]:
        """Every edge by its name: `length_mm` as sewn, `allowance_mm`, and `under_mm` of the allowance turned under again."""
        return self._result.edges

    @cached_property
    def outline(self) -> FloatArray:
        """The sewing line (n, 2), anticlockwise; the first point is not repeated."""
        return _kept(outline(self._cloth.piece))

    @cached_property
    def cut_line(self) -> FloatArray:
        """The line the cloth is cut along (n, 2), anticlockwise; the first point is not repeated."""
        return _kept(cut_points(self._cloth))

    def edge_line(self, edge: str) -> FloatArray:
        """An edge by its name (n, 2), from end to end as the outline runs; KeyError where the piece has none of that name."""
        return _kept(edge_points(self._cloth.piece, self._known(edge)))

    def partners(self, edge: str) -> tuple[Partner, ...]:
        """What an edge, or any part of it, is sewn to, in the order of sewing and as the seams are written: of one that is sewn
        on both halves the half it names. KeyError where the piece has none of that name."""
        return tuple(partners_of(self.name, self._cloth.piece, self._known(edge), self._seams))

    @cached_property
    def notches(self) -> tuple[PlacedNotch, ...]:
        """Its notches, as the outline runs."""
        return tuple(notches_of(self._cloth))

    @cached_property
    def darts(self) -> tuple[PlacedDart, ...]:
        """Its darts with their legs; one with two ends is two."""
        return tuple(darts_of(self._cloth.piece))

    @property
    def grain(self) -> FloatArray | None:
        """The direction (2,) of the thread on paper, of length 1; None where none is said."""
        grain = self._cloth.piece.finish.grain
        return None if grain is None else _kept(np.array([grain[0].real, grain[0].imag]))

    @cached_property
    def polygon(self) -> shapely.Polygon:
        """The piece within its sewing line, without what is folded or cut away inside it."""
        return shapely.Polygon(self.outline, holes(self._cloth.piece))

    @cached_property
    def cut_polygon(self) -> shapely.Polygon:
        """The cloth of the piece as it is cut, with its allowances."""
        return shapely.Polygon(self.cut_line)

    def _repr_svg_(self) -> str:
        """The piece as a notebook shows it, not to scale."""
        return self._draw(self.name)

    @cached_property
    def _cloth(self) -> FinishedPiece:
        return self._result.alone()

    def _known(self, edge: str) -> str:
        if edge not in self._cloth.piece.edge_names():
            raise KeyError(edge)
        return edge


def _kept(points: FloatArray) -> FloatArray:
    points.flags.writeable = False
    return points
