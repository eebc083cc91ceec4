"""Where the words of a piece stand: its label, the names along its edges and lines, the grain."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from .lettering import LEADING, text_room, text_width, wrapped
from .marks import Label, Mark, Reals, turned
from .room import CLEAR, Room
from .signs import across, arrow, centred, readable

SETS = ((7.0, 3.5), (5.0, 3.5), (5.0, 2.5), (3.5, 2.5))
"""Heights of a piece's name and of the rows below it, mm, the best first. Nothing is smaller than the last."""

WIDTHS = (80.0, 60.0, 110.0, 45.0, 34.0)
"""Widths in mm to which rows are broken, the best first."""

HANGING = 0.35
"""So much of its height a title keeps free below it, above smaller rows."""

EDGE_HEIGHT = 2.5
RUN_ON = "; "

MIDDLE = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Shares of an edge at whose places its name may stand, the best first."""

NEAR_ENDS = (0.12, 0.88, 0.25, 0.75, 0.4, 0.6, 0.5)
"""The same for a line of the body, whose name stands near the edge it ends on."""

GAPS = (2.5, 4.0, 6.0, 9.0)
"""How far from its edge a name stands, mm, the best first."""

BAND_GAPS = (3.0, 5.0, 8.0)
"""How far from its edge a label stands that runs along it, mm."""

LONGEST_ROW = 150.0
"""Longer rows (mm) along an edge are not read at a glance, and run over where pages are joined."""

STRAIGHT = np.radians(0.5)
"""A row along an edge that turns by less than this is one straight text; else each word stands by itself."""

WAYS = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0))
"""The directions in which the name of a point stands beside it, the best first."""

GRAIN_LONGEST = 300.0
ON_LINE = 20.0
"""How far (mm) from the ends of a line of the piece the grain on it ends, clear of the edge."""


@dataclass(frozen=True)
class Block:
    """Rows of text with their heights, set flush left one below the other."""

    rows: tuple[tuple[str, float], ...]

    @property
    def width(self) -> float:
        return max(text_room(text, height) for text, height in self.rows)

    @property
    def height(self) -> float:
        return self.rows[0][1] + sum(self._steps()) + 0.3 * self.rows[-1][1]

    def _steps(self) -> list[float]:
        """From the base line of each row to that of the next, mm: below higher ones there is room for what hangs from them."""
        pairs = itertools.pairwise(height for _, height in self.rows)
        return [LEADING * below + (HANGING * above if above > below else 0.0) for above, below in pairs]

    def labels(self, middle: Reals, angle: float, source: str) -> list[Mark]:
        """The rows with the middle of the block at `middle` (2,)."""
        found: list[Mark] = []
        x, y = -self.width / 2, self.height / 2 - self.rows[0][1]
        for (text, height), step in zip(self.rows, (0.0, *self._steps()), strict=True):
            y -= step
            found.append(Label(text, middle + np.array([x, y]) @ turned(angle), height, angle, source))
        return found


@dataclass(frozen=True)
class Words:
    """What a label says: the name, how many are cut, of which style and for whom, and the rest. The last gives way first."""

    name: str
    cut: tuple[str, ...] = ()
    whose: tuple[str, ...] = ()
    rest: tuple[str, ...] = ()


def label_marks(room: Room, words: Words, along: Reals, edges: Sequence[Reals]) -> tuple[list[Mark], tuple[str, ...]]:
    """The label inside the piece, and the rows that found no room in it; no marks where not even the name did.

    Upright, that is as the piece is worn, before turned up or along the grain (2,); clear of where pages are joined before
    across; and in a narrow piece in rows along one of its `edges` (n, 2), the longest first. Along a curve stand few rows:
    many crowd each other where it is tight.
    """
    every = (words.cut, words.whose, words.rest)
    for count in (3, 2, 1, 0):
        rows, left = (sum(part, ()) for part in (every[:count], every[count:]))
        for whole in room.wholes:
            found = _block(room, words.name, rows, along, whole)
            for run in edges:
                if left or count == 0 or not words.rest or _is_straight(run):
                    found = found or _band(room, run, words.name, every[:count], whole)
            if found:
                return found, left
    return [], words.cut + words.whose + words.rest


def _block(room: Room, name: str, rows: Sequence[str], along: Reals, whole: bool) -> list[Mark]:
    turns = dict.fromkeys((0.0, 90.0, round(readable(along), 3)))
    levels = {angle: room.level(angle, whole) for angle in turns}
    for angle, level in levels.items():
        for high, low in SETS:
            for block in _blocks(name, rows, high, low):
                middle = None if level is None else level.place(block.width, block.height)
                if middle is not None:
                    return block.labels(middle, angle, name)
    return []


def _blocks(name: str, rows: Sequence[str], high: float, low: float) -> Iterator[Block]:
    for width in WIDTHS:
        named = [(line, high) for line in wrapped(name, high, width)]
        yield Block((*named, *((line, low) for row in rows for line in wrapped(row, low, width))))


def _band(room: Room, run: Reals, name: str, parts: Sequence[Sequence[str]], whole: bool) -> list[Mark]:
    """The label in rows along a run (n, 2) of an edge: a row for how it is cut, one for whose it is, and so on."""
    long = float(np.linalg.norm(np.diff(run, axis=0), axis=1).sum())
    inward = _normals(run)
    for high, low in SETS[1:]:
        if text_room(name, high) > 0.9 * long:
            continue
        wide = min(0.8 * long, LONGEST_ROW)
        said = [line for part in parts if part for line in wrapped(RUN_ON.join(part), low, wide)]
        lines = [(name, high), *((line, low) for line in said)]
        for gap in BAND_GAPS:
            for share in MIDDLE[:3]:
                found = _along(room, run, inward, lines, gap, share, name, whole)
                if found:
                    return found
    return []


def _along(
    room: Room,
    run: Reals,
    inward: Reals,
    lines: Sequence[tuple[str, float]],
    gap: float,
    share: float,
    source: str,
    whole: bool,
) -> list[Mark]:
    """Rows of text along a run (n, 2), the nearest `gap` mm inside it along `inward` (n, 2); none where there is no room."""
    way = run[len(run) // 2] - run[len(run) // 2 - 1]
    back = abs(readable(way) - np.degrees(np.arctan2(way[1], way[0]))) > 90.0
    found: list[Mark] = []
    depth = gap
    for text, height in lines if back else lines[::-1]:
        depth += height if back else 0.0
        line = run + depth * inward
        row = _words_along(line[::-1] if back else line, text, height, 1.0 - share if back else share, source)
        if not row or not room.holds(np.stack([label.box for label in row]), whole):
            return []
        found += row
        depth += (LEADING - 1.0) * height if back else LEADING * height
    return found


def _normals(run: Reals) -> Reals:
    """Unit directions (n, 2) to the left of a run at its points."""
    ways = np.gradient(run, axis=0)
    return across(ways / np.linalg.norm(ways, axis=1)[:, None])


def _words_along(line: Reals, text: str, height: float, share: float, source: str) -> list[Label]:
    """A text with its middle at a share of a line (n, 2), its base line on it; word by word where the line is curved."""
    marks = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    half = text_room(text, height) / 2
    start, stop = share * marks[-1] - half, share * marks[-1] + half
    if start < 0.0 or stop > marks[-1]:
        return []
    parts = [text] if _is_straight(_place(line, marks, np.linspace(start, stop, 9))) else text.split()
    wide = np.array([text_width(part, height) for part in parts])
    steps = np.array([text_room(f"{part} ", height) for part in parts])  # words that run into each other cannot be read
    spare = half - (float(steps[:-1].sum()) + float(wide[-1])) / 2
    begin = start + spare + np.concatenate([[0.0], np.cumsum(steps)[:-1]])
    a, b = _place(line, marks, begin), _place(line, marks, begin + wide)
    turns = np.degrees(np.arctan2(b[:, 1] - a[:, 1], b[:, 0] - a[:, 0]))
    return [Label(part, at, height, float(turn), source) for part, at, turn in zip(parts, a, turns, strict=True)]


def _is_straight(points: Reals) -> bool:
    steps = np.diff(points, axis=0)
    return bool(np.ptp(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))) < STRAIGHT)


def _place(line: Reals, marks: Reals, s: Reals) -> Reals:
    return np.stack([np.interp(s, marks, line[:, axis]) for axis in (0, 1)], axis=-1)


def edge_name(
    room: Room, points: Reals, text: str, source: str, shares: Sequence[float] = MIDDLE, gaps: Sequence[float] = GAPS
) -> Label | None:
    """The text along the run of points (n, 2) of an edge, inside and parallel, where there is room for it; or None."""
    marks = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    half = text_room(text, EDGE_HEIGHT) / 2
    if marks[-1] < 2 * half:
        return None

    def labels() -> Iterator[Label]:
        for share in shares:
            at = float(np.clip(share * marks[-1], half, marks[-1] - half))
            a, middle, b = _place(points, marks, np.array([at - half, at, at + half]))
            way = (b - a) / np.linalg.norm(b - a)
            for gap in gaps:
                place = middle + across(way) * (gap + EDGE_HEIGHT / 2)
                yield centred(text, place, EDGE_HEIGHT, readable(way), source)

    return _first_free(room, labels)


def point_name(room: Room, at: Reals, text: str, gaps: Sequence[float], source: str) -> Label | None:
    """The text level beside a point (2,), where there is room for it; or None."""
    half = np.array([text_room(text, EDGE_HEIGHT), EDGE_HEIGHT]) / 2

    def labels() -> Iterator[Label]:
        places = (at + np.array(way) * (half + gap) for gap in gaps for way in WAYS)
        return (centred(text, place, EDGE_HEIGHT, 0.0, source) for place in places)

    return _first_free(room, labels)


def _first_free(room: Room, labels: Callable[[], Iterator[Label]]) -> Label | None:
    return next((label for whole in room.wholes for label in labels() if room.holds(label.box, whole)), None)


def grain_on(start: Reals, end: Reals, nap: bool) -> list[Mark]:
    """The arrow along the grain on a line of the piece that runs so, from start to end (2,): in its upper part."""
    way = (end - start) / np.linalg.norm(end - start)
    tip = end - ON_LINE * way
    tail = tip - min(GRAIN_LONGEST, float(np.linalg.norm(tip - start)) - ON_LINE) * way
    return arrow("grain", tail, tip, both=not nap, source="grain")


def grain_marks(room: Room, way: Reals, near: Reals, nap: bool = False) -> list[Mark]:
    """The arrow along the grain next to the label, with one head where the cloth has a nap; none where no line of 20 mm is
    free."""
    ends = room.longest(way, near, GRAIN_LONGEST)
    if ends is None:
        ends = room.longest(way, near, GRAIN_LONGEST, clear=CLEAR)
    return [] if ends is None else arrow("grain", ends[0], ends[1], both=not nap, source="grain")

