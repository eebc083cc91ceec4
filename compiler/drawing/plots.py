"""Pictures of many bodies: how a number is spread, and two measurements of those that pass and those that fail.

Black on white: a band that is allowed is hatched, who passes is an open dot, who fails a filled one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from .lettering import SPARE, text_room, wrapped
from .marks import Circle, Drawing, Label, Line, Mark, Reals, Sheet, extent
from .signs import arrow, centred

WIDE, HIGH = 110.0, 18.0
"""Of the bars of one number, mm."""
BESIDE, BELOW = 22.0, 25.0
"""Between two of these, mm: the words above and below stand there."""
SIDE = 120.0
"""Of the square of two measurements, mm."""
MARGIN = 8.0
TEXT, HEAD = 2.5, 3.5
GAP = 0.5
"""Between bars, mm."""
EDGE = 6.0
"""Length of the arrow to those who lie beyond the bars, mm."""
HATCH = 2.0
"""Between the strokes of a hatched band, mm."""
DOT, SPOT = 0.6, 0.9
"""Radius of who passes, and of who fails, mm."""
SPOT_CORNERS = 16
FEW = 5
"""More numbers than these on the upright are too near to each other: then every other stands there."""
READ = (
    "Hatched: what is allowed. Bars: how many bodies, on the upright, have so much more or less than is asked; 0 is as asked. "
    "Arrows at an edge: so many lie beyond it."
)


@dataclass(frozen=True)
class Spread:
    """A number of many bodies in bars of one width from `low` on, what is allowed of it (`None`: any, on that side), the words
    above and below, and how many bodies lie beyond the bars, left and right."""

    title: str
    told: str
    low: float
    width: float
    counts: tuple[int, ...]
    band: tuple[float | None, float | None]
    beyond: tuple[int, int]

    @property
    def high(self) -> float:
        return self.low + self.width * len(self.counts)


@dataclass(frozen=True, eq=False)
class Pair:
    """Two measurements of bodies that pass (n, 2) and that fail (m, 2), and lines on which a x + b y = c."""

    title: str
    told: str
    names: tuple[str, str]
    passed: Reals
    failed: Reals
    lines: tuple[tuple[float, float, float], ...]


def spreads(title: str, rows: Sequence[Spread]) -> Sheet:
    """Numbers in two columns, read row by row, each on its own scale."""
    drawings = []
    for at, row in enumerate(rows):
        drawn = Drawing(row.title, tuple(_spread(row)), np.array([[0.0, 0.0]]))
        drawings.append(drawn.moved(np.array([(at % 2) * (WIDE + BESIDE), -(at // 2) * (HIGH + BELOW) - HIGH - 3 * TEXT])))
    rows_of = [(HEAD, title), (TEXT, READ)]
    lines = [(height, line) for height, text in rows_of for line in wrapped(text, height, (2 * WIDE + BESIDE) / SPARE)]
    head = (Label(text, np.array([0.0, 1.7 * HEAD * (len(lines) - at)]), height) for at, (height, text) in enumerate(lines))
    return _sheet(title, [Drawing("", tuple(head), np.array([[WIDE, 0.0]])), *drawings])


def _spread(row: Spread) -> list[Mark]:
    """The bars of a number, its band hatched behind them, a stroke where it is as asked."""
    scale, most = WIDE / (row.high - row.low), max(*row.counts, 1)
    marks: list[Mark] = [Label(row.title, np.array([0.0, HIGH + TEXT * 2.4]), TEXT)]
    marks += _hatched(*(_within(end, row, scale, beyond) for end, beyond in zip(row.band, (0.0, WIDE), strict=True)))
    each = WIDE / len(row.counts)
    for at, count in enumerate(row.counts):
        left, right, top = at * each + GAP / 2, (at + 1) * each - GAP / 2, HIGH * count / most
        marks += [_filled(np.array([[left, 0.0], [right, 0.0], [right, top], [left, top]]))] if count else []
    marks.append(Line("inner", np.array([[0.0, 0.0], [WIDE, 0.0]])))
    for value in ticks(row.low, row.high):
        marks += _tick(f"{value:g}", (value - row.low) * scale)
    marks.append(Label(row.told, np.array([0.0, -TEXT * 3.6]), TEXT))
    return [*marks, *_upright(most), *_beyond(row)]


def _upright(most: int) -> list[Mark]:
    """How many bodies a bar of some height is."""
    marks: list[Mark] = [Line("inner", np.array([[0.0, 0.0], [0.0, HIGH]]))]
    whole = [value for value in ticks(0.0, float(most)) if value == int(value)]
    for value in whole[:: 2 if len(whole) > FEW else 1]:
        marks += _tick_beside(f"{value:,.0f}", HIGH * value / most)
    return marks


def _beyond(row: Spread) -> list[Mark]:
    """At each edge an arrow to those beyond it, and how many they are."""
    marks: list[Mark] = []
    y = HIGH + TEXT
    for count, edge, way in zip(row.beyond, (0.0, WIDE), (-1.0, 1.0), strict=True):
        if count:
            tip, tail = np.array([edge, y]), np.array([edge - way * EDGE, y])
            text = f"{count:,} beyond"
            left = tail[0] + 1.0 if way < 0 else tail[0] - 1.0 - text_room(text, TEXT)
            marks += [*arrow("inner", tail, tip, head=EDGE / 2), Label(text, np.array([left, y - TEXT / 2]), TEXT)]
    return marks


def _within(end: float | None, row: Spread, scale: float, beyond: float) -> float:
    """Where an end of a band stands, mm from the left."""
    return beyond if end is None else min(max((end - row.low) * scale, 0.0), WIDE)


def _hatched(left: float, right: float) -> list[Mark]:
    """Strokes at 45 degrees between two places, and the ends of the band."""
    box = shapely.box(left, 0.0, right, HIGH)
    marks: list[Mark] = []
    for start in np.arange(left - HIGH, right, HATCH).tolist():
        stroke = shapely.intersection(shapely.LineString([(start, 0.0), (start + HIGH, HIGH)]), box)
        if stroke.geom_type == "LineString" and not stroke.is_empty:
            marks.append(Line("frame", np.array(stroke.coords)))
    ends = (end for end in (left, right) if 0.0 < end < WIDE)
    return [*marks, *(Line("inner", np.array([[end, 0.0], [end, HIGH]])) for end in ends)]


def _tick(text: str, x: float) -> list[Mark]:
    return [Line("inner", np.array([[x, 0.0], [x, -1.2]])), centred(text, np.array([x, -1.2 - TEXT]), TEXT, 0.0)]


def _tick_beside(text: str, y: float) -> list[Mark]:
    label = Label(text, np.zeros(2), TEXT)
    at = np.array([-2.2 - label.width, y - TEXT / 2])
    return [Line("inner", np.array([[0.0, y], [-1.2, y]])), Label(text, at, TEXT)]


def _filled(points: Reals) -> Mark:
    return Line("inner", points, closed=True, filled=True)


def ticks(low: float, high: float) -> list[float]:
    """Round numbers between two, four to nine of them."""
    step = 10.0 ** np.floor(np.log10(high - low))
    step = next(one for one in (step, step / 2, step / 5, step / 10) if (high - low) / one >= 4)
    first, last = int(np.ceil(low / step - 1e-9)), int(np.floor(high / step + 1e-9))
    return [round(at * step, 9) + 0.0 for at in range(first, last + 1)]


def pair(shown: Pair) -> Sheet:
    """Bodies by two measurements: who passes, who fails, and where the number by which it fails is at its bound."""
    every = np.concatenate([shown.passed, shown.failed])
    low, high = every.min(axis=0), every.max(axis=0)
    spare = np.maximum(0.04 * (high - low), 0.5)
    low, high = low - spare, high + spare
    scale = SIDE / (high - low)
    marks: list[Mark] = [Line("inner", np.array([[0.0, 0.0], [SIDE, 0.0], [SIDE, SIDE], [0.0, SIDE]]), closed=True)]
    marks += [Circle("ring", at, DOT) for at in (shown.passed - low) * scale]
    turns = np.linspace(0.0, 2 * np.pi, SPOT_CORNERS, endpoint=False)
    round_ = SPOT * np.stack([np.cos(turns), np.sin(turns)], axis=1)
    marks += [Line("ring", at + round_, closed=True, filled=True) for at in (shown.failed - low) * scale]
    marks += [mark for line in shown.lines for mark in _line(line, low, high, scale)]
    for value in ticks(low[0], high[0]):
        marks += _tick(f"{value:g}", float((value - low[0]) * scale[0]))
    for value in ticks(low[1], high[1]):
        marks += _tick_beside(f"{value:g}", float((value - low[1]) * scale[1]))
    marks.append(centred(shown.names[0], np.array([SIDE / 2, -3.4 * TEXT]), TEXT, 0.0))
    marks.append(centred(shown.names[1], np.array([-7.0 * TEXT, SIDE / 2]), TEXT, 90.0))
    rows = ((HEAD, shown.title), (TEXT, shown.told))
    told = [(height, row) for height, text in rows for row in wrapped(text, height, SIDE / SPARE)]
    for at, (height, row) in enumerate(told):
        marks.append(Label(row, np.array([0.0, SIDE + TEXT + (len(told) - 1 - at) * 1.7 * HEAD]), height))
    return _sheet(shown.title, [Drawing("", tuple(marks), np.zeros((1, 2)))])


def _line(line: tuple[float, float, float], low: Reals, high: Reals, scale: Reals) -> list[Mark]:
    """The part of a line a x + b y = c that lies in the square."""
    a, b, c = line[0] / scale[0], line[1] / scale[1], line[2] - line[0] * low[0] - line[1] * low[1]
    foot, way = np.array([a, b]) * c / (a * a + b * b), np.array([-b, a]) / np.hypot(a, b)
    ends = shapely.LineString([foot - 4 * SIDE * way, foot + 4 * SIDE * way])
    kept = shapely.intersection(ends, shapely.box(0.0, 0.0, SIDE, SIDE))
    return [Line("fold", np.array(kept.coords), solid=False)] if kept.geom_type == "LineString" and not kept.is_empty else []


def _sheet(title: str, drawings: Sequence[Drawing]) -> Sheet:
    """As much paper as they take."""
    every = np.concatenate([extent(mark) for one in drawings for mark in one.marks])
    corner = every.min(axis=0) - MARGIN
    width, height = (float(one) for one in every.max(axis=0) + MARGIN - corner)
    return Sheet(title, width, height, tuple(one.moved(-corner) for one in drawings))
