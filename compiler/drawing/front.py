"""The page in front of a set: what it is, the test squares, and a map of the pages with the pieces drawn in it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .arrange import CAUTION, LINE_HEIGHT, SQUARE_INCH, SQUARE_MM, TITLE_HEIGHT, Title, legend_line, legend_room, square
from .lettering import LEADING, SPARE, wrapped
from .marks import Drawing, Label, Layer, Line, Mark, Reals
from .nest_signs import NestSign
from .signs import centred
from .tiling import Cell, Grid

GAP = 8.0
MAP_HEIGHTS = (120.0, 95.0, 70.0)
"""How high the map is at most, mm, the best first."""

LIST_HEIGHT = 2.5
HATCH = 2.0
"""Between the lines that hatch an empty page in the map, mm."""

CELL_NAME = 0.28
"""Height of a page's name in the map as a share of its field."""


def front_marks(
    drawings: Sequence[Drawing],
    names: dict[Cell, str],
    grid: Grid,
    title: Title,
    paper: tuple[float, float, float],
    notes: Sequence[str],
) -> list[list[Mark]]:
    """Marks on sheets of paper of (width, height, margin) mm: title above, squares on the left, map and notes on the right; the
    list of the pieces below, and where that is too long it goes on, below the notes and on a further sheet. For a few lines no
    further sheet is printed: the map gives way first."""
    for high in MAP_HEIGHTS:
        sheets = _front(drawings, names, grid, title, paper, notes, high)
        if len(sheets) == 1:
            return sheets
    return _front(drawings, names, grid, title, paper, notes, MAP_HEIGHTS[0])


def _front(
    drawings: Sequence[Drawing],
    names: dict[Cell, str],
    grid: Grid,
    title: Title,
    paper: tuple[float, float, float],
    notes: Sequence[str],
    high: float,
) -> list[list[Mark]]:
    """The same with a map at most so high."""
    width, height, margin = paper
    head = _Pen(np.array([margin, height - margin]), width - 2 * margin, margin)
    head.write(title.line, TITLE_HEIGHT)
    head.write(f"{CAUTION}; scale 1:1, {title.units}", LINE_HEIGHT)
    top = head.at[1] - GAP
    marks = square(np.array([margin, top - SQUARE_MM]), SQUARE_MM, "100 mm")
    marks += square(np.array([margin, top - SQUARE_MM - GAP - SQUARE_INCH]), SQUARE_INCH, "4 in")
    column = margin + SQUARE_INCH + GAP
    drawn, used = _map(drawings, names, grid, np.array([column, top]), (width - margin - column, high))
    beside = _Pen(np.array([column, top - used - GAP / 2]), width - margin - column, margin)
    for layer, text in title.legend:
        beside.show(layer, text)
    below = _Pen(np.array([margin, top - SQUARE_MM - GAP - SQUARE_INCH - GAP / 2]), SQUARE_INCH, margin)
    further = _Pen(np.array([margin, height - margin]), width - 2 * margin, margin)
    pen = beside
    for note in notes:
        if note.rstrip(".") != CAUTION:
            pen = pen if pen.room_for(note, LINE_HEIGHT) else further  # once turned over, no note stands before it
            pen.write(note, LINE_HEIGHT)
    _list([drawing.listed for drawing in drawings if drawing.listed], [below, beside, further])  # as a page is read
    first = [*head.marks, *marks, *drawn, *beside.marks, *below.marks]
    return [first, further.marks] if further.marks else [first]


def _list(rows: Sequence[str], pens: Sequence[_Pen]) -> None:
    """The list of the pieces, from one pen to the next where there is no room left; the last has room for all."""
    turn = iter(pens)
    pen = next(turn)
    for number, row in enumerate(("Pieces", *rows) if rows else ()):
        height, before = (LINE_HEIGHT, LINE_HEIGHT) if number == 0 else (LIST_HEIGHT, LIST_HEIGHT / 2)
        needed = before + (4 * LIST_HEIGHT if number == 0 else 0.0)  # no heading without a row
        while pen is not pens[-1] and not pen.room_for(row, height, needed):
            pen = next(turn)
            if number > 0 and pen is not pens[-1]:
                pen.write("Pieces, gone on", LINE_HEIGHT, LINE_HEIGHT)
        pen.write(row, height, before)


class _Pen:
    """Writes lines of text one below the other, broken to a width, as far down as `floor` mm above the paper's edge."""

    def __init__(self, at: Reals, width: float, floor: float) -> None:
        self.at, self.width, self.floor = at, width, floor
        self.marks: list[Mark] = []

    def _lines(self, text: str, height: float) -> tuple[str, ...]:
        return wrapped(text, height, self.width / SPARE)

    def room_for(self, text: str, height: float, before: float = 0.0) -> bool:
        used = before + LEADING * height * len(self._lines(text, height))
        return bool(self.at[1] - used >= self.floor + 0.3 * height)

    def show(self, layer: Layer | NestSign, text: str) -> None:
        """A line or a sign of the legend, its words in as many rows as they need."""
        aside = legend_room(layer)
        first, *more = wrapped(text, LINE_HEIGHT, (self.width - aside) / SPARE)
        self.at = self.at - np.array([0.0, LEADING * LINE_HEIGHT])
        self.marks += legend_line(layer, first, self.at)
        for row in more:
            self.at = self.at - np.array([0.0, LEADING * LINE_HEIGHT])
            self.marks.append(Label(row, self.at + np.array([aside, 0.0]), LINE_HEIGHT, source="legend"))

    def write(self, text: str, height: float, before: float = 0.0) -> None:
        """The text, `before` mm below the last."""
        self.at = self.at - np.array([0.0, before])
        for line in self._lines(text, height):
            self.at = self.at - np.array([0.0, LEADING * height])
            self.marks.append(Label(line, self.at, height, source="front"))


def _map(
    drawings: Sequence[Drawing], names: dict[Cell, str], grid: Grid, corner: Reals, most: tuple[float, float]
) -> tuple[list[Mark], float]:
    """The map with its upper left corner at `corner`, at most so wide and high, and its height, mm. Empty pages are hatched."""
    rows = 1 + max((row for row, _ in names), default=0)
    columns = 1 + max((column for _, column in names), default=0)
    scale = min(most[0] / (columns * grid.width), most[1] / (rows * grid.height))
    size = scale * np.array([grid.width, grid.height])
    marks: list[Mark] = []
    for drawing in drawings:
        marks.append(Line("sew", corner + scale * drawing.outline, closed=True, source=drawing.name))
    for row in range(rows):
        for column in range(columns):
            low = corner + scale * np.array(grid.corner((row, column)))
            marks.append(Line("frame", low + _box(size), closed=True, source="map"))
            if (row, column) not in names:
                marks += _hatched(low, size)
                continue
            height = min(LINE_HEIGHT, CELL_NAME * float(size.min()))
            place = low + np.array([size[0] - 1.4 * height, 1.0 * height])
            marks.append(centred(names[row, column], place, height, 0.0, "map", boxed=True))
    return marks, rows * float(size[1])


def _box(size: Reals) -> Reals:
    return np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]) * size


def _hatched(low: Reals, size: Reals) -> list[Mark]:
    """Lines at 45 degrees across a box from its lower left corner `low` (2,)."""
    width, height = float(size[0]), float(size[1])
    marks: list[Mark] = []
    for offset in np.arange(HATCH - height, width, HATCH):
        start = np.array([max(offset, 0.0), max(-offset, 0.0)])
        run = min(width - start[0], height - start[1])
        marks.append(Line("frame", low + np.stack([start, start + run]), source="map"))
    return marks
