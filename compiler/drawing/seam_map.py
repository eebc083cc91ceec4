"""The seam map: every piece once, much reduced, with a letter on each edge for the seam it goes into, and the key below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Literal

import numpy as np

from .lettering import LEADING, text_room, wrapped
from .marks import Drawing, Label, Layer, Line, Mark, Reals, Sheet
from .seam_signs import RING, Signs, line_marks, ring, ring_marks
from .signs import centred

Finish = Literal["faced", "hemmed", "closed", "left", "folded", "nothing"]
"""How an edge ends that is in no seam, or is in one besides."""

SAID: dict[Finish, str] = {
    "faced": "faced, or ends with its facing",
    "hemmed": "hemmed, bound or turned in",
    "closed": "opens and closes",
    "left": "left as it is cut",
    "folded": "on the fold",
    "nothing": "ENDS IN NOTHING",
}

SEAMS: tuple[Layer, ...] = ("seam_1", "seam_2", "seam_3", "seam_4", "seam_5", "seam_6", "seam_7", "seam_8")
"""The lines of seams, in turn."""

SCALES = (4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100)
"""A piece is drawn at one of so much, all of a map at the same: the first at which they fit the page."""

MARGIN = 10.0
TITLE_HEIGHT = 5.0
TEXT_HEIGHT = 2.5
APART = 5.0
"""Between pieces, mm."""

ROW = 2 * RING + 1.2
SAMPLE = 16.0
"""How long a line is in the key, mm."""

BEFORE = 2 * RING + SAMPLE + 4.0
"""Before the words of a row of the key, mm."""

MOST_COLUMNS = 4

NARROWEST = 46.0
"""The words below a piece are broken at its width, but no narrower than this (mm)."""

LEGEND = (
    "A letter in a ring is a seam, the same on both its sides, in the order of sewing: lay dot on dot. Edges are drawn along "
    "the sewing line; on an edge with several lines the outermost is sewn first."
)


@dataclass(frozen=True, eq=False)
class MapEdge:
    """An edge of a piece: the letters of the seams it goes into, in the order of sewing, and how else it ends; its parts (n, 2) in
    mm from dart to dart, the cloth on their left; for each letter whose seam begins at an end of it, which: 0 its start, 1 its
    end. `opens`: from where to where (mm) along its only part it is closed by something; None: all along. `inner`: a line inside
    the piece."""

    name: str
    letters: tuple[str, ...]
    finishes: tuple[Finish, ...]
    lines: tuple[Reals, ...]
    dots: tuple[tuple[str, int], ...] = ()
    opens: tuple[float, float] | None = None
    inner: bool = False

    def reduced(self, scale: int) -> MapEdge:
        """The same at one of so much."""
        opens = None if self.opens is None else (self.opens[0] / scale, self.opens[1] / scale)
        return replace(self, lines=tuple(line / scale for line in self.lines), opens=opens)


@dataclass(frozen=True, eq=False)
class MapPiece:
    """A piece: its name and how often it is cut, its edges, and the legs (n, 2) of its darts."""

    name: str
    words: tuple[str, ...]
    edges: tuple[MapEdge, ...]
    darts: tuple[Reals, ...] = ()


@dataclass(frozen=True)
class MapSeam:
    """A row of the key: a seam, how often it is sewn, and the closures in it."""

    letter: str
    name: str
    times: int
    closures: tuple[str, ...] = ()

    @property
    def said(self) -> str:
        often = {0: "cannot be sewn", 1: "once", 2: "twice"}.get(self.times, f"{self.times} times")
        return ", ".join([self.name, often, *(f"with {one}" for one in self.closures)])


@dataclass(frozen=True, eq=False)
class SeamMap:
    """What a map shows of a style on a body: its pieces, and its seams in the order of sewing."""

    style: str
    body: str
    version: str
    pieces: tuple[MapPiece, ...]
    seams: tuple[MapSeam, ...]

    @property
    def layers(self) -> dict[str, Layer]:
        """The line of each letter: never that of the letters before and behind it."""
        return {one.letter: SEAMS[k % len(SEAMS)] for k, one in enumerate(self.seams)}

    @property
    def finishes(self) -> tuple[Finish, ...]:
        """How edges of it end beside seams, as the key tells of them."""
        found = {one for piece in self.pieces for edge in piece.edges for one in edge.finishes}
        return tuple(one for one in SAID if one in found)


def map_sheet(drawn: SeamMap, width: float, height: float) -> Sheet:
    """The map on one page of a width and height in mm."""
    key, high = _key(drawn, width - 2 * MARGIN)
    for scale in SCALES:
        head = [*_head(drawn, scale, width, height)]
        room = (width - 2 * MARGIN, head[-1].at[1] - 2 * APART - MARGIN - high - APART)
        placed = _placed(drawn, scale, *room)
        if placed is not None or scale == SCALES[-1]:
            break
    base = np.array([MARGIN, MARGIN + high + APART])
    moved = tuple(one.moved(base) for one in placed or ())
    rule = Line("frame", np.array([[MARGIN, base[1] - APART / 2], [width - MARGIN, base[1] - APART / 2]]), source="key")
    return Sheet(f"{drawn.style}, {drawn.body}: seam map", width, height, moved, (*head, rule, *key))


def _head(drawn: SeamMap, scale: int, width: float, height: float) -> Iterator[Label]:
    """What the page is, from the top."""
    y = height - MARGIN - TITLE_HEIGHT
    room = width - 2 * MARGIN
    for line in wrapped(f"{drawn.style}, {drawn.body}: seam map", TITLE_HEIGHT, room):
        yield Label(line, np.array([MARGIN, y]), TITLE_HEIGHT, source="title")
        y -= LEADING * TITLE_HEIGHT
    text = f"Scale 1:{scale}, not to be cut by. {LEGEND} Version {drawn.version}."
    for line in wrapped(text, TEXT_HEIGHT, room / 1.15):
        yield Label(line, np.array([MARGIN, y]), TEXT_HEIGHT, source="title")
        y -= LEADING * TEXT_HEIGHT


# ---- the pieces ------------------------------------------------------------------------------------


def _placed(drawn: SeamMap, scale: int, width: float, height: float) -> list[Drawing] | None:
    """The pieces on shelves in a room of a width and height, its lower left corner at (0, 0); None where it is too small."""
    area = 0.0
    for piece in drawn.pieces:
        wide, high = np.ptp(np.concatenate([line for edge in piece.edges for line in edge.lines]), axis=0) / scale
        area += wide * high
        if wide > width or high > height:
            return None
    if area > width * height:
        return None
    shelves: list[_Shelf] = []
    placed: list[Drawing] = []
    found = [_piece(piece, scale, drawn.layers) for piece in drawn.pieces]
    boxes = {one.name: one.bounds for one in found}
    for one in sorted(found, key=lambda one: (boxes[one.name][1] - boxes[one.name][3], one.name)):
        left, bottom, right, top = boxes[one.name]
        size = (right - left, top - bottom)
        corner = next((spot for shelf in shelves if (spot := shelf.place(*size, width)) is not None), None)
        if corner is None:
            shelves.append(_Shelf(shelves[-1].bottom - APART if shelves else height, size[1]))
            corner = shelves[-1].place(*size, width)
        if corner is None or shelves[-1].bottom < 0.0:
            return None
        placed.append(one.moved(corner - np.array([left, top])))
    return placed


class _Shelf:
    """Pieces beside each other, smaller ones below each other: columns with their left side, their width, and how far down they
    are full."""

    def __init__(self, top: float, height: float) -> None:
        self.top, self.bottom = top, top - height
        self.columns: list[tuple[float, float, float]] = []

    def place(self, wide: float, high: float, width: float) -> Reals | None:
        """The upper left corner (2,) for what is so large, or None."""
        for k, (x, column, low) in enumerate(self.columns):
            may_grow = k == len(self.columns) - 1 and x + wide <= width
            if low - APART - high >= self.bottom and (wide <= column or may_grow):
                self.columns[k] = (x, max(wide, column), low - APART - high)
                return np.array([x, low - APART])
        x = self.columns[-1][0] + self.columns[-1][1] + APART if self.columns else 0.0
        if x + wide > width or high > self.top - self.bottom:
            return None
        self.columns.append((x, wide, self.top - high))
        return np.array([x, self.top])


def _piece(piece: MapPiece, scale: int, layers: dict[str, Layer]) -> Drawing:
    """A piece with its signs and the words below it."""
    edges = [edge.reduced(scale) for edge in piece.edges]
    signs = Signs()
    marks: list[Mark] = [Line("dart", line / scale, source=piece.name) for line in piece.darts]
    signs.take(marks)
    for edge in edges:
        marks += line_marks(edge.lines, [layers[one] for one in edge.letters], edge.finishes, edge.name, edge.opens)
        signs.take(marks)
    for edge in edges:
        for sign, end in edge.dots:
            marks.append(signs.dot(edge.lines, layers[sign], edge.letters.index(sign), end, edge.name))
    asked = [(edge, sign) for edge in edges for sign in edge.letters]
    for edge, sign in sorted(asked, key=lambda one: sum(map(_long, one[0].lines))):  # those with the least choice first
        others = [line for other in edges if other is not edge for line in other.lines]
        depth = len(edge.letters) + len(edge.finishes)
        marks += ring_marks(signs, sign, edge.lines, others, depth, f"{piece.name}.{edge.name}")
    outline = np.concatenate([line for edge in edges if not edge.inner for line in edge.lines])
    bare = Drawing(piece.name, tuple(marks), outline)
    return replace(bare, marks=(*marks, *_words(piece.words, bare.bounds)))


def _long(line: Reals) -> float:
    return float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())


def _words(rows: Sequence[str], bounds: tuple[float, float, float, float]) -> Iterator[Label]:
    left, bottom, right, _ = bounds
    y = bottom - 1.5 - TEXT_HEIGHT / 2
    for row in rows:
        for line in wrapped(row, TEXT_HEIGHT, max(NARROWEST, right - left)):
            yield centred(line, np.array([(left + right) / 2, y]), TEXT_HEIGHT, 0.0, "name")
            y -= LEADING * TEXT_HEIGHT


# ---- the key ---------------------------------------------------------------------------------------


def _key(drawn: SeamMap, width: float) -> tuple[list[Mark], float]:
    """The key with its lower left corner at the margin, and how high it is."""
    rows = [_Row(f"{number}  {one.said}", one.letter, drawn.layers[one.letter]) for number, one in enumerate(drawn.seams, 1)]
    rows += [_Row(SAID[one], finish=one) for one in drawn.finishes]
    columns = _columns(rows, width)
    x, top = MARGIN, MARGIN + len(columns[0]) * ROW
    marks: list[Mark] = []
    for column in columns:
        for k, row in enumerate(column):
            marks += row.marks(np.array([x, top - (k + 0.5) * ROW]))
        x += max(row.width for row in column) + APART
    return marks, len(columns[0]) * ROW


@dataclass(frozen=True)
class _Row:
    """A row of the key."""

    text: str
    letter: str = ""
    layer: Layer | None = None
    finish: Finish | None = None

    @property
    def width(self) -> float:
        return BEFORE + text_room(self.text, TEXT_HEIGHT)

    def marks(self, at: Reals) -> Iterator[Mark]:
        """The row with its left end, half its height up, at a place (2,)."""
        start = at + np.array([2 * RING + 2.0, 0.0])
        line = np.stack([start, start + np.array([SAMPLE, 0.0])])
        yield from ring(self.letter, at + np.array([RING, 0.0]), "key") if self.letter else ()
        yield from line_marks([line], [self.layer] if self.layer else [], [self.finish] if self.finish else [], "key")
        yield Label(self.text, at + np.array([BEFORE, -TEXT_HEIGHT / 2]), TEXT_HEIGHT, source="key")


def _columns(rows: Sequence[_Row], width: float) -> list[Sequence[_Row]]:
    """The rows in as many columns as a width (mm) holds."""
    for count in range(MOST_COLUMNS, 0, -1):
        long = ceil(len(rows) / count)
        columns = [rows[k : k + long] for k in range(0, len(rows), long)]
        if sum(max(row.width for row in column) + APART for column in columns) - APART <= width:
            break
    return columns
