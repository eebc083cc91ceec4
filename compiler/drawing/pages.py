"""Pieces on pages of an ordinary printer: the pages, what stands round the pattern on each, and the page in front."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from math import ceil, floor
from typing import Literal

import numpy as np
import shapely

from .arrange import Title
from .front import front_marks
from .lines import obstacles
from .marks import Drawing, Label, Line, Mark, Reals
from .signs import centred
from .tiling import Cell, Grid, place_pieces, printed_cells

Paper = Literal["a4", "a3", "letter", "legal"]

PAPERS: dict[Paper, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "letter": (215.9, 279.4),
    "legal": (215.9, 355.6),
}
"""Width and height, mm: ISO 216, and the inch sizes 8 1/2 by 11 and 8 1/2 by 14."""

MARGIN = 10.0
"""Round the paper, mm: what most printers leave white."""

OVERLAP = 10.0
"""Neighbouring pages show this much (mm) of the same; they are joined along its middle."""

TO_JOINT = MARGIN + OVERLAP / 2
"""From the edge of the paper to the line along which pages are joined, mm."""

CROSS = 4.0
NAME_HEIGHT = 3.5

TRIES = 12
"""At how many places along the foot of a page its name is tried."""

STEPS = (0.0, 8.0, -8.0, 16.0, -16.0, 24.0, -24.0)
"""How far (mm) the name of a neighbour is moved along its joint, the best first."""


@dataclass(frozen=True, eq=False)
class Page:
    """A page of the pattern: `shift` (2,) takes points of the drawings to the paper, origin at its lower left; `marks`
    are those of the page itself, on the paper."""

    name: str
    cell: Cell
    shift: Reals
    marks: tuple[Mark, ...]


@dataclass(frozen=True, eq=False)
class Pages:
    """Paper of a width and height in mm, drawings in their places, the marks of the pages in front, and the pages."""

    title: Title
    width: float
    height: float
    drawings: tuple[Drawing, ...]
    front: tuple[tuple[Mark, ...], ...]
    pages: tuple[Page, ...]

    @property
    def window(self) -> tuple[float, float, float, float]:
        """The part of the paper that is printed on: left, bottom, width, height, mm."""
        return MARGIN, MARGIN, self.width - 2 * MARGIN, self.height - 2 * MARGIN


JOINING = (
    "To join the pages: cut each along the dashed line at its left and at its top, lay these edges on the dashed lines of the "
    "pages to the left and above, cross on cross, and glue."
)


def paginate(
    drawings: Sequence[Drawing], title: Title, paper: Paper = "a4", cautions: Sequence[str] = ()
) -> Pages:
    """The drawings laid out on pages of a paper, so that no piece crosses pages that fits on one."""
    width, height = PAPERS[paper]
    grid = _grid(paper)
    placed = place_pieces(drawings, grid)
    cells = printed_cells(placed, grid)
    names = {cell: page_name(cell) for cell in cells}
    lines = shapely.STRtree([shapely.LineString(run) for drawing in placed for run in obstacles([*drawing.marks])])
    pages = tuple(_page(cell, names, grid, title, (width, height), lines) for cell in cells)
    count = "1 page" if len(pages) == 1 else f"{len(pages)} pages"
    size = f"{count} {paper.upper() if paper[0] == 'a' else paper}, besides those in front"
    joining = (JOINING,) if any(mark.source == "joint" for page in pages for mark in page.marks) else ()
    notes = (size, *joining, *cautions)
    front = front_marks(placed, names, grid, title, (width, height, MARGIN), notes)
    return Pages(title, width, height, placed, tuple(tuple(marks) for marks in front), pages)


def joints(drawings: Sequence[Drawing], paper: Paper) -> list[list[Reals]]:
    """For each drawing, as it lies now, the lines (2, 2) along which the pages are joined that it will be printed on."""
    grid = _grid(paper)
    found = []
    for drawing, placed in zip(drawings, place_pieces(drawings, grid), strict=True):
        left, bottom, right, top = placed.bounds
        back = np.array(drawing.bounds[:2]) - np.array([left, bottom])
        columns = range(floor(left / grid.width) + 1, ceil(right / grid.width))
        rows = range(floor(bottom / grid.height) + 1, ceil(top / grid.height))
        upright = [np.array([[grid.width * c, bottom], [grid.width * c, top]]) + back for c in columns]
        found.append(upright + [np.array([[left, grid.height * r], [right, grid.height * r]]) + back for r in rows])
    return found


def _grid(paper: Paper) -> Grid:
    width, height = PAPERS[paper]
    return Grid(width - 2 * TO_JOINT, height - 2 * TO_JOINT)


def page_name(cell: Cell) -> str:
    """Row letter and column number: B3; rows beyond Z go on with AA."""
    row, column = cell
    letters = ""
    row += 1
    while row:
        row, last = divmod(row - 1, 26)
        letters = chr(ord("A") + last) + letters
    return f"{letters}{column + 1}"


def _page(
    cell: Cell, names: dict[Cell, str], grid: Grid, title: Title, paper: tuple[float, float], lines: shapely.STRtree
) -> Page:
    """A page with its name, and those of its neighbours, where these cover no line of the pattern, if there is such a place."""
    width, height = paper
    shift = TO_JOINT - np.array(grid.corner(cell))
    own = centred(f"{names[cell]}  {title.line}", np.zeros(2), NAME_HEIGHT, 0.0, "page", boxed=True)
    first, last = TO_JOINT + CROSS + own.width / 2, 0.75 * width - own.width / 2
    places = [np.array([x, MARGIN + OVERLAP / 4]) for x in np.linspace(first, max(first, last), TRIES)]
    marks = _crosses(width, height)
    marks.append(_clear_of(lines, shift, (centred(own.text, at, NAME_HEIGHT, 0.0, "page", boxed=True) for at in places)))
    return Page(names[cell], cell, shift, (*marks, *_neighbours(cell, names, width, height, lines, shift)))


def _clear_of(lines: shapely.STRtree, shift: Reals, labels: Iterator[Label]) -> Label:
    """The first label on a page that covers nothing drawn there; the first of all where each covers something."""
    first = next(labels)
    free = (one for one in chain((first,), labels) if not lines.query(shapely.Polygon(one.box - shift), "intersects").size)
    return next(free, first)


def _crosses(width: float, height: float) -> list[Mark]:
    """The match crosses, where the joints of four pages meet."""
    marks: list[Mark] = []
    for x in (TO_JOINT, width - TO_JOINT):
        for y in (TO_JOINT, height - TO_JOINT):
            for arm in (np.array([CROSS, 0.0]), np.array([0.0, CROSS])):
                marks.append(Line("frame", np.array([x, y]) + np.stack([-arm, arm]), source="match cross"))
    return marks


def _neighbours(
    cell: Cell, names: dict[Cell, str], width: float, height: float, lines: shapely.STRtree, shift: Reals
) -> list[Mark]:
    """Towards each printed neighbour the joint, and the neighbour's name beyond it."""
    row, column = cell
    low, near = TO_JOINT, MARGIN + OVERLAP / 4
    right, top, across, up = width - low, height - low, width - near, height - near
    # Neighbour, ends of the joint, middle and angle of the name; names on either side of a joint stand apart.
    sides = (
        ((row, column - 1), (low, low), (low, top), (near, 0.6 * height), 90.0),
        ((row, column + 1), (right, low), (right, top), (across, 0.4 * height), 90.0),
        ((row - 1, column), (low, top), (right, top), (0.6 * width, up), 0.0),
        ((row + 1, column), (low, low), (right, low), (0.8 * width, near), 0.0),
    )
    marks: list[Mark] = []
    for neighbour, start, end, middle, angle in sides:
        if neighbour in names:
            marks.append(Line("join", np.array([start, end]), source="joint"))
            along = np.array([0.0, 1.0]) if angle else np.array([1.0, 0.0])
            places = [np.array(middle) + step * along for step in STEPS]
            said = (centred(names[neighbour], at, NAME_HEIGHT, angle, "neighbour", boxed=True) for at in places)
            marks.append(_clear_of(lines, shift, said))
    return marks
