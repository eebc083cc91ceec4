"""Where the words of a piece stand: its label, the names along its edges, the grain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from .lettering import LEADING, text_room, wrapped
from .marks import Circle, Label, Line, Mark, Reals, turned
from .room import CLEAR, Room
from .signs import across, arrow, centred, readable

NAME_HEIGHTS = (7.0, 5.0, 3.5)
ROW_HEIGHT = 3.5
EDGE_HEIGHT = 2.5
RUN_ON = "; "
WIDTHS = (320.0, 220.0, 150.0, 110.0, 80.0, 60.0, 45.0)
"""Widths in mm to which run-on rows are broken, widest first: long narrow pieces take long rows."""

ASIDE = 10.0
"""How far beside the piece (mm) a label stands that does not fit into it."""

ASIDE_WIDTH = 80.0
"""Width (mm) to which the rows of such a label are broken."""

GRAIN_LONGEST = 300.0
GRAIN_ASIDE = 40.0
"""Length (mm) of an arrow of the grain that finds no room in the piece."""


@dataclass(frozen=True)
class Block:
    """Rows of text with their heights, set flush left one below the other."""

    rows: tuple[tuple[str, float], ...]

    @property
    def width(self) -> float:
        return max(text_room(text, height) for text, height in self.rows)

    @property
    def height(self) -> float:
        first = self.rows[0][1]
        return first + sum(LEADING * height for _, height in self.rows[1:]) + 0.3 * self.rows[-1][1]

    def labels(self, middle: Reals, angle: float, source: str) -> list[Mark]:
        """The rows with the middle of the block at `middle` (2,)."""
        found: list[Mark] = []
        x, y = -self.width / 2, self.height / 2 - self.rows[0][1]
        for k, (text, height) in enumerate(self.rows):
            y -= LEADING * height if k else 0.0
            found.append(Label(text, middle + np.array([x, y]) @ turned(angle), height, angle, source))
        return found


def _layouts(name: str, rows: tuple[str, ...]) -> Iterator[Block]:
    """Ways to set a label, the best first: the name as large as it may be, rows apart before rows run together."""
    joined = RUN_ON.join(rows)
    for height in NAME_HEIGHTS:
        yield Block(((name, height), *((row, ROW_HEIGHT) for row in rows)))
        for width in (80.0, 60.0):
            broken = [line for row in rows for line in wrapped(row, ROW_HEIGHT, width)]
            yield Block(((name, height), *((line, ROW_HEIGHT) for line in broken)))
        for width in WIDTHS:
            yield Block(((name, height), *((line, ROW_HEIGHT) for line in wrapped(joined, ROW_HEIGHT, width))))


def label_marks(room: Room, name: str, rows: tuple[str, ...], along: Reals, right: float) -> list[Mark]:
    """The label inside the piece along the direction `along`, or beside it, right of x = `right`, with a leader."""
    angle = readable(along)
    level = room.level(angle)
    for block in _layouts(name, rows):
        middle = level.place(block.width, block.height)
        if middle is not None:
            return block.labels(middle, angle, name)
    broken = [line for row in rows for line in wrapped(row, ROW_HEIGHT, ASIDE_WIDTH)]
    block = Block(((name, NAME_HEIGHTS[0]), *((line, ROW_HEIGHT) for line in broken)))
    end = room.right_side()
    middle = np.array([right + ASIDE + block.width / 2, end[1]])
    start = np.array([right + ASIDE - CLEAR, end[1]])
    leader: list[Mark] = [Line("leader", np.stack([start, end]), source=name), Circle("leader", end, 0.8, name)]
    return leader + block.labels(middle, 0.0, name)


def edge_name(room: Room, points: Reals, text: str, source: str) -> Label | None:
    """The text along the run of points (n, 2) of an edge, inside and parallel, where there is room for it; or None."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    marks = np.concatenate([[0.0], np.cumsum(steps)])
    half = text_room(text, EDGE_HEIGHT) / 2
    if marks[-1] < 2 * half:
        return None
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        s = np.array([-half, 0.0, half]) + share * marks[-1]
        if s[0] < 0 or s[2] > marks[-1]:
            continue
        a, middle, b = np.stack([np.interp(s, marks, points[:, axis]) for axis in (0, 1)], axis=1)
        way = (b - a) / np.linalg.norm(b - a)
        for gap in (2.5, 4.0, 6.0, 9.0):
            label = centred(text, middle + across(way) * (gap + EDGE_HEIGHT / 2), EDGE_HEIGHT, readable(way), source)
            if room.holds(label.box):
                return label
    return None


def grain_marks(room: Room, way: Reals, near: Reals, nap: bool = False) -> list[Mark]:
    """The arrow along the grain next to the label, with one head where the cloth has a nap; none where no line of 20 mm is
    free."""
    ends = room.longest(way, near, GRAIN_LONGEST)
    if ends is None:
        ends = room.longest(way, near, GRAIN_LONGEST, clear=CLEAR)
    return [] if ends is None else arrow("grain", ends[0], ends[1], both=not nap, source="grain")


def grain_aside(corner: Reals, way: Reals, nap: bool) -> list[Mark]:
    """The arrow beside a piece that has no room for it, below the point `corner` (2,), parallel to its place in the piece."""
    half = GRAIN_ASIDE / 2 * way
    middle = corner + np.array([abs(half[0]), -abs(half[1]) - ASIDE])
    return arrow("grain", middle - half, middle + half, both=not nap, source="grain")
