"""The seam map: every piece once, much reduced, with a letter on each edge for the seam it goes into, and the key below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from .lettering import LEADING, wrapped
from .mapped import MapEdge, MapPiece, SeamMap, long_of
from .marks import Drawing, Label, Layer, Line, Mark, Reals, Sheet, moved
from .seam_key import MARGIN, ROW, TEXT_HEIGHT, Row, key_of, rows_of
from .seam_signs import Signs, line_marks, ring_marks
from .shelves import APART, Shelf
from .signs import centred

SCALES = (4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100)
"""A piece is drawn at one of so much, all of a map at the same: the first at which they fit the page."""

SMALLEST = 20
"""At less than one of so much pieces are not told apart: they go on a page without the key."""

USUAL = 8
"""No more of it than one of so much is shown of pieces on several pages."""

TITLE_HEIGHT = 5.0

NARROWEST = 46.0
"""The words below a piece are broken at its width, but no narrower than this (mm)."""

LEGEND = (
    "A letter in a ring is a seam, the same on both its sides, in the order of sewing: lay dot on dot. Edges are drawn along "
    "the sewing line; on an edge with several lines the outermost is sewn first."
)


def map_sheets(drawn: SeamMap, width: float, height: float) -> tuple[Sheet, ...]:
    """The map on paper of a width and height in mm: on one page, and where it would be too small there the pieces on some and the
    key on others."""
    rows = rows_of(drawn)
    key, high = key_of(rows, width - 2 * MARGIN)
    for scale in SCALES:
        if scale <= SMALLEST and (placed := _placed(drawn, scale, *_room(drawn, scale, width, height, high), most=1)):
            base = np.array([MARGIN, MARGIN + high + APART])
            rule = np.array([[MARGIN, base[1] - APART / 2], [width - MARGIN, base[1] - APART / 2]])
            marks = (Line("frame", rule, source="key"), *key)
            return (_page(drawn, scale, width, height, placed[0], base, marks),)
    return (*_pieces_apart(drawn, width, height), *_key_apart(drawn, rows, width, height))


def _pieces_apart(drawn: SeamMap, width: float, height: float) -> Iterator[Sheet]:
    for scale in SCALES:
        placed = _placed(drawn, scale, *_room(drawn, scale, width, height, -APART), most=len(drawn.pieces))
        if placed is not None and scale >= USUAL:
            break
    for page in placed or ():
        yield _page(drawn, scale, width, height, page, np.array([MARGIN, MARGIN]))


def _key_apart(drawn: SeamMap, rows: Sequence[Row], width: float, height: float) -> Iterator[Sheet]:
    many = int(_room(drawn, 1, width, height, 0.0)[1] / ROW)
    while rows:
        count = len(rows)
        while key_of(rows[:count], width - 2 * MARGIN)[1] > many * ROW:
            count -= 1
        yield _page(drawn, 0, width, height, (), np.zeros(2), tuple(key_of(rows[:count], width - 2 * MARGIN)[0]))
        rows = rows[count:]


def beneath(pages: Sequence[Sheet]) -> Sheet:
    """Pages as one sheet, each below the one before it."""
    high = sum(page.height for page in pages)
    drawings: list[Drawing] = []
    frame: list[Mark] = []
    top = high
    for page in pages:
        top -= page.height
        drawings += [one.moved(np.array([0.0, top])) for one in page.drawings]
        frame += [moved(one, np.array([0.0, top])) for one in page.frame]
    return Sheet(pages[0].title, pages[0].width, high, tuple(drawings), tuple(frame))


def _room(drawn: SeamMap, scale: int, width: float, height: float, key: float) -> tuple[float, float]:
    """The width and height (mm) for the pieces on a page, above a key so high."""
    *_, last = _head(drawn, scale, width, height)
    return width - 2 * MARGIN, float(last.at[1]) - 2 * APART - MARGIN - key


def _page(
    drawn: SeamMap, scale: int, width: float, height: float, pieces: Sequence[Drawing], base: Reals, marks: Sequence[Mark] = ()
) -> Sheet:
    frame = (*_head(drawn, scale, width, height), *marks)
    return Sheet(drawn.title, width, height, tuple(one.moved(base) for one in pieces), frame)


def _head(drawn: SeamMap, scale: int, width: float, height: float) -> Iterator[Label]:
    """What the page is, from the top; of one with the key alone the scale is 0."""
    y = height - MARGIN - TITLE_HEIGHT
    room = width - 2 * MARGIN
    for line in wrapped(drawn.title, TITLE_HEIGHT, room):
        yield Label(line, np.array([MARGIN, y]), TITLE_HEIGHT, source="title")
        y -= LEADING * TITLE_HEIGHT
    said = f"Scale 1:{scale}, not to be cut by. " if scale else ""
    text = f"{said}{LEGEND} Version {drawn.version}."
    for line in wrapped(text, TEXT_HEIGHT, room / 1.15):
        yield Label(line, np.array([MARGIN, y]), TEXT_HEIGHT, source="title")
        y -= LEADING * TEXT_HEIGHT


# ---- the pieces ------------------------------------------------------------------------------------


def _placed(drawn: SeamMap, scale: int, width: float, height: float, most: int) -> list[list[Drawing]] | None:
    """The pieces on shelves, on as many pages as are needed, each a room of a width and height with its lower left corner at
    (0, 0); None where these are more than `most`, or a piece is too large for one."""
    if sum(_least(piece, scale) for piece in drawn.pieces) > most * (width + APART) * (height + APART):
        return None
    pages: list[list[Drawing]] = []
    shelves: list[Shelf] = []
    found = [_piece(piece, scale, drawn.layers) for piece in drawn.pieces]
    boxes = {one.name: one.bounds for one in found}
    for one in sorted(found, key=lambda one: (boxes[one.name][1] - boxes[one.name][3], one.name)):
        left, bottom, right, top = boxes[one.name]
        wide, high = right - left, top - bottom
        corner = next((spot for shelf in shelves if (spot := shelf.place(wide, high, width)) is not None), None)
        if corner is None:
            if wide > width or high > height:
                return None
            begin = shelves[-1].bottom - APART if shelves else 0.0
            if begin - high < 0.0:
                shelves, begin = [], height
                pages.append([])
            shelves.append(Shelf(begin, high))
            corner = shelves[-1].place(wide, high, width)
        assert corner is not None
        pages[-1].append(one.moved(corner - np.array([left, top])))
    return pages if len(pages) <= most else None


def _least(piece: MapPiece, scale: int) -> float:
    """The area (mm2) that a piece takes at the least, with its words and what is left free beside and below it."""
    wide, high = np.ptp(np.concatenate([line for edge in piece.edges for line in edge.lines]), axis=0) / scale
    return float((wide + APART) * (high + APART + LEADING * TEXT_HEIGHT * len(piece.words)))


def _piece(piece: MapPiece, scale: int, layers: dict[str, Layer]) -> Drawing:
    """A piece with its signs and the words below it."""
    edges = [edge.reduced(scale) for edge in piece.edges]
    signs = Signs()
    marks: list[Mark] = [Line("dart", line / scale, source=piece.name) for line in piece.darts]
    signs.take(marks)
    for edge in edges:
        seams = [layers[one] for one in edge.sewn]
        unsewn = [layers[one] for one in edge.unsewn]
        marks += line_marks(edge.lines, seams, edge.finishes, edge.name, edge.opens, _beside(edges, edge), unsewn)
        signs.take(marks)
    for edge in edges:
        for sign, end in edge.dots:
            marks.append(signs.dot(edge.lines, layers[sign], edge.line_of(sign), end, edge.name))
    asked = [(edge, sign) for edge in edges for sign in edge.sewn]
    for edge, sign in sorted(asked, key=lambda one: sum(map(long_of, one[0].lines))):  # those with the least choice first
        others = _beside(edges, edge)
        depth = len(edge.sewn) + len(edge.finishes)
        where = (sign, edge.sewn.index(sign), len(edge.sewn))
        marks += ring_marks(signs, where, edge.lines, others, depth, f"{piece.name}.{edge.name}")
    outline = np.concatenate([line for edge in edges if not edge.inner for line in edge.lines])
    bare = Drawing(piece.name, tuple(marks), outline)
    return replace(bare, marks=(*marks, *_words(piece.words, bare.bounds)))


def _beside(edges: Sequence[MapEdge], edge: MapEdge) -> list[Reals]:
    """The lines of all other edges."""
    return [line for other in edges if other is not edge for line in other.lines]


def _words(rows: Sequence[str], bounds: tuple[float, float, float, float]) -> Iterator[Label]:
    left, bottom, right, _ = bounds
    y = bottom - 1.5 - TEXT_HEIGHT / 2
    for row in rows:
        for line in wrapped(row, TEXT_HEIGHT, max(NARROWEST, right - left)):
            yield centred(line, np.array([(left + right) / 2, y]), TEXT_HEIGHT, 0.0, "name")
            y -= LEADING * TEXT_HEIGHT
