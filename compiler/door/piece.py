"""A finished piece of one body, as coordinates and polygons."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

import shapely

from ..finish.finished import FinishedPiece
from ..geometry.lanes import FloatArray
from ..jobs.coordinates import cut_points, edge_points, holes, outline
from ..jobs.results import PieceResult
from ..output.records import EdgeLength


class Piece:
    """A piece of one body. Coordinates are float64 in mm, x right, y up; arrays are handed out read-only.

    Curves are followed to 0.05 mm. Lengths of `edges` are those of the curves themselves, darts closed.
    """

    def __init__(self, result: PieceResult, draw: Callable[[str], str]) -> None:
        self._result = result
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
        if edge not in self._cloth.piece.edge_names():
            raise KeyError(edge)
        return _kept(edge_points(self._cloth.piece, edge))

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


def _kept(points: FloatArray) -> FloatArray:
    points.flags.writeable = False
    return points
