"""Which page each piece lies on: a grid of pages, and a place for every piece that wastes few of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, floor

import numpy as np
import shapely

from .marks import Drawing, Label, extent

GAP = 8.0
"""Between pieces on pages, mm: less than on a plate, paper is the printer's."""

EDGE = 1.0
"""Between a piece and the line along which pages are joined, mm, so that no cut runs in the joint."""

FEWEST_COLUMNS = 4
"""Pieces are spread over at least so many columns before another row of pages is begun."""

Cell = tuple[int, int]


@dataclass(frozen=True)
class Grid:
    """Pages of which each shows a field `width` by `height` mm that no other shows.

    The field of row r and column c reaches from (c * width, -(r + 1) * height) to ((c + 1) * width, -r * height).
    """

    width: float
    height: float

    def corner(self, cell: Cell) -> tuple[float, float]:
        """Left and bottom of a field."""
        row, column = cell
        return column * self.width, -(row + 1) * self.height

    def cells(self, box: tuple[float, float, float, float]) -> set[Cell]:
        """The fields that a box (left, bottom, right, top) lies in."""
        left, bottom, right, top = box
        columns = range(floor(left / self.width), ceil(right / self.width))
        rows = range(floor(-top / self.height), ceil(-bottom / self.height))
        return set(product(rows, columns))


def place_pieces(drawings: Sequence[Drawing], grid: Grid) -> tuple[Drawing, ...]:
    """The drawings moved to places on the grid, the largest first: on as few fields as each needs and as few new ones
    as all need; as high and as far to the left as that allows."""
    boxes = [drawing.bounds for drawing in drawings]
    sizes = [(right - left, top - bottom) for left, bottom, right, top in boxes]
    columns = max([FEWEST_COLUMNS, *(ceil((width + 2 * EDGE) / grid.width) for width, _ in sizes)])
    order = sorted(range(len(drawings)), key=lambda i: (-sizes[i][0] * sizes[i][1], drawings[i].name, i))
    taken: list[tuple[float, float, float, float]] = []
    used: set[Cell] = set()
    placed: dict[int, Drawing] = {}
    for i in order:
        box = _best(sizes[i], taken, used, grid, columns)
        taken.append(box)
        used |= grid.cells(box)
        placed[i] = drawings[i].moved(np.array([box[0] - boxes[i][0], box[1] - boxes[i][1]]))
    return tuple(placed[i] for i in range(len(drawings)))


def _best(
    size: tuple[float, float],
    taken: list[tuple[float, float, float, float]],
    used: set[Cell],
    grid: Grid,
    columns: int,
) -> tuple[float, float, float, float]:
    """The best free box of a size, starting at a field's corner or beside or below a box that is taken."""
    width, height = size
    rows = 1 + max((row for row, _ in used), default=-1)
    lefts = {c * grid.width + EDGE for c in range(columns)} | {box[2] + GAP for box in taken}
    tops = {-r * grid.height - EDGE for r in range(rows + 1)} | {box[1] - GAP for box in taken}
    found = []
    for left, top in product(sorted(lefts), sorted(tops, reverse=True)):
        box = (left, top - height, left + width, top)
        if box[2] > columns * grid.width - EDGE or any(_near(box, other) for other in taken):
            continue
        cells = grid.cells((box[0] - EDGE, box[1] - EDGE + 1e-6, box[2] + EDGE - 1e-6, box[3] + EDGE))
        found.append((len(cells), len(cells - used), round(-box[3], 6), round(left, 6), box))
    return min(found)[-1]


def _near(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    slack = GAP - 1e-6
    return a[0] < b[2] + slack and b[0] < a[2] + slack and a[1] < b[3] + slack and b[1] < a[3] + slack


def printed_cells(drawings: Sequence[Drawing], grid: Grid) -> tuple[Cell, ...]:
    """The fields on which some piece or its label lies, row by row."""
    found: set[Cell] = set()
    for drawing in drawings:
        parts = [shapely.make_valid(shapely.Polygon(drawing.outline))]
        parts += [shapely.MultiPoint(extent(mark)).convex_hull for mark in drawing.marks if _aside(mark)]
        shape = shapely.union_all(parts)
        for cell in grid.cells(drawing.bounds):
            x, y = grid.corner(cell)
            if shape.intersects(shapely.box(x, y, x + grid.width, y + grid.height)):
                found.add(cell)
    return tuple(sorted(found))


def _aside(mark: object) -> bool:
    """May it lie outside the piece's outline?"""
    return isinstance(mark, Label) or getattr(mark, "layer", "") == "grain"
