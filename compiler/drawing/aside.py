"""What finds no room in a piece stands beside it: its words at the end of a leader, and the grain."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

import numpy as np
import shapely

from .lettering import wrapped
from .marks import Circle, Label, Line, Mark, Reals
from .room import Level
from .signs import arrow
from .texts import Block

ASIDE = 4.0
"""How far beside the piece (mm) the nearest mark stands."""

HEIGHTS = (3.5, 2.5)
"""Of the name and of the rows below it, mm."""

WIDTHS = (60.0, 45.0, 80.0, 34.0)
"""Widths in mm to which rows are broken, the best first."""

PAGES = ((178.0, 265.0), (183.0, 247.0))
"""So much (mm) of a piece and its words a page of A4 and of letter holds."""

DOT = 0.6
"""Radius of the end of a leader, mm."""

GRAIN_ASIDE = 40.0
"""Length (mm) of an arrow of the grain that finds no room in the piece."""


def words_aside(
    outline: Reals, labels: Sequence[Label], clear: shapely.Geometry, name: str, rows: Sequence[str]
) -> list[Mark]:
    """Name and rows beside a piece with a cut line (n, 2) and labels on it, and a leader to what is `clear` of marks in it: in a
    hollow of the outline, that takes no more paper, before on its right or below it, where fewer pages hold both."""
    taken = [shapely.make_valid(shapely.Polygon(outline)), *(shapely.Polygon(label.box) for label in labels)]
    cloth = shapely.union_all(taken) if labels else taken[0]
    hollow = shapely.box(*cloth.bounds).difference(cloth.buffer(ASIDE))
    blocks = [*_blocks(name, rows)]
    level = None if hollow.is_empty else Level(hollow, 0.0)
    for block in blocks if level is not None else ():
        middle = level.place(block.width, block.height) if level is not None else None
        if middle is not None:
            return _led(block, middle, clear, name)
    left, bottom, right, top = cloth.bounds
    places: list[tuple[int, float, Block, Reals]] = []
    for block in blocks:
        beside = np.array([right + ASIDE + block.width / 2, (bottom + top) / 2])
        below = np.array([(left + right) / 2, bottom - ASIDE - block.height / 2])
        places += [(*_paper(cloth.bounds, block, middle), block, middle) for middle in (beside, below)]
    _, _, block, middle = min(places, key=lambda place: place[:2])
    return _led(block, middle, clear, name)


def _paper(bounds: tuple[float, float, float, float], block: Block, middle: Reals) -> tuple[int, float]:
    """Pages of both papers, and area (mm2), that a piece with its bounds and the words beside it take."""
    half = np.array([block.width, block.height]) / 2
    corner, other = np.minimum(bounds[:2], middle - half), np.maximum(bounds[2:], middle + half)
    width, height = (other - corner).tolist()
    return sum(ceil(width / wide) * ceil(height / high) for wide, high in PAGES), round(width * height, 3)


def _blocks(name: str, rows: Sequence[str]) -> Iterator[Block]:
    high, low = HEIGHTS
    for width in WIDTHS:
        named = [(line, high) for line in wrapped(name, high, width)]
        yield Block((*named, *((line, low) for row in rows for line in wrapped(row, low, width))))


def _led(block: Block, middle: Reals, clear: shapely.Geometry, name: str) -> list[Mark]:
    """The block with its middle at `middle` (2,), and the leader from it into the piece."""
    half = np.array([block.width, block.height]) / 2
    box = shapely.box(*(middle - half - 1.0), *(middle + half + 1.0))
    ends = shapely.get_coordinates(shapely.shortest_line(box, clear))
    return [*block.labels(middle, 0.0, name), Line("frame", ends, source=name), Circle("frame", ends[1], DOT, name)]


def grain_aside(corner: Reals, beside: Sequence[Mark], way: Reals, nap: bool) -> list[Mark]:
    """The arrow beside a piece that has no room for it, below the point `corner` (2,) and right of the words beside the piece,
    parallel to its place in the piece."""
    half = GRAIN_ASIDE / 2 * way
    words = [mark.box for mark in beside if isinstance(mark, Label)]
    right = max(float(corner[0]), float(np.concatenate(words)[:, 0].max()) if words else -np.inf)
    middle = np.array([right + ASIDE + abs(half[0]), corner[1] - abs(half[1]) - ASIDE])
    return arrow("grain", middle - half, middle + half, both=not nap, source="grain")
