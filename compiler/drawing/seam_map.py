"""The seam map: every piece once, much reduced, with a letter on each edge for the seam it goes into, and the key below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Literal

import numpy as np

from .lettering import LEADING, text_room, wrapped
from .marks import Drawing, Label, Layer, Line, Mark, Reals, Sheet
from .seam_signs import RING, Signs, line_marks, ring_marks
from .signs import centred

Finish = Literal["faced", "hemmed", "closed", "left", "folded", "nothing"]
"""How an edge ends that is in no seam, or is in one besides."""

SAID: dict[Finish, str] = {
    "faced": "faced, or ends with its facing",
    "hemmed": "hemmed, bound or turned in",
    "closed": "closed by what fastens it",
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

NARROWEST = 30.0
"""The words below a piece are broken at its width, but no narrower than this (mm)."""

LEGEND = (
    "A letter in a ring is a seam, the same on both its sides, in the order of sewing: lay dot on dot. Edges are drawn along "
    "the sewing line; on an edge with several lines the outermost is sewn first."
)


@dataclass(frozen=True, eq=False)
class MapEdge:
    """An edge of a piece: the letters of the seams it goes into, in the order of sewing, and how else it ends; its parts (n, 2) in
    mm from dart to dart, the cloth on their left; for each letter whose seam begins at an end of it, which: 0 its start, 1 its
    end. `inner`: a line inside the piece."""

    name: str
    letters: tuple[str, ...]
    finishes: tuple[Finish, ...]
    lines: tuple[Reals, ...]
    dots: tuple[tuple[str, int], ...] = ()
    inner: bool = False


@dataclass(frozen=True, eq=False)
class MapPiece:
    """A piece: its name and how often it is cut, its edges, and the lines (n, 2) inside it that nothing is sewn on."""

    name: str
    words: tuple[str, ...]
    edges: tuple[MapEdge, ...]
    inside: tuple[Reals, ...] = ()


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
    found = [_piece(piece, scale, drawn.layers) for piece in drawn.pieces]
    boxes = {one.name: one.bounds for one in found}
    order = sorted(found, key=lambda one: (boxes[one.name][1] - boxes[one.name][3], one.name))
    placed: list[Drawing] = []
    x, y, low = 0.0, height, 0.0
    for one in order:
        left, bottom, right, top = boxes[one.name]
        if placed and x + right - left > width:
            x, y = 0.0, low - APART
        if right - left > width or y - (top - bottom) < 0.0:
            return None
        low = y - (top - bottom) if x == 0.0 else low
        placed.append(one.moved(np.array([x - left, y - top])))
        x += right - left + APART
    return placed


def _piece(piece: MapPiece, scale: int, layers: dict[str, Layer]) -> Drawing:
    """A piece with its signs and the words below it."""
    edges = [replace(edge, lines=tuple(line / scale for line in edge.lines)) for edge in piece.edges]
    signs = Signs()
    marks: list[Mark] = [Line("inner", line / scale, source=piece.name) for line in piece.inside]
    signs.take(marks)
    for edge in edges:
        marks += line_marks(edge.lines, [layers[one] for one in edge.letters], edge.finishes, edge.name)
        signs.take(marks)
    for edge in edges:
        marks += signs.dots(edge.lines, [(edge.letters.index(sign), end) for sign, end in edge.dots], edge.name)
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
    layers = drawn.layers
    rows: list[tuple[str, Layer | None, Finish | None, str]] = [
        (one.letter, layers[one.letter], None, f"{number}  {one.said}") for number, one in enumerate(drawn.seams, 1)
    ]
    rows += [("", None, one, SAID[one]) for one in drawn.finishes]
    before = 2 * RING + SAMPLE + 4.0
    widest = max((before + text_room(row[3], TEXT_HEIGHT) for row in rows), default=width)
    columns = max(1, int((width + APART) // (widest + APART)))
    long = ceil(len(rows) / columns)
    marks: list[Mark] = []
    for k, (sign, layer, finish, text) in enumerate(rows):
        column, row = divmod(k, long)
        at = np.array([MARGIN + column * (widest + APART), MARGIN + (long - row - 0.5) * ROW])
        start = at + np.array([2 * RING + 2.0, 0.0])
        line = np.stack([start, start + np.array([SAMPLE, 0.0])])
        marks += Signs.ring(sign, at + np.array([RING, 0.0]), "key") if sign else []
        marks += line_marks([line], [layer] if layer else [], [finish] if finish else [], "key")
        marks.append(Label(text, at + np.array([before, -TEXT_HEIGHT / 2]), TEXT_HEIGHT, source="key"))
    return marks, long * ROW
