"""The growth of pieces as a picture: the sample's outlines, and from each of their points an arrow to the largest size and a line
to the smallest, drawn longer than they are. Not to be cut by."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np
import shapely

from ..pattern.piece import Piece
from .arrange import GAP, on_shelves
from .lettering import text_room
from .lines import curve, flat
from .marks import Circle, Drawing, Label, Line, Mark, Reals, Sheet, extent
from .signs import arrow

TIMES = 3.0
"""So many times as long as it is growth is drawn."""

HEIGHT, TITLE, KEY = 5.0, 7.0, 5.0
"""Of the capitals of numbers, of the name of a piece, and of the words that explain the picture, mm."""
HEAD = 4.0
DOT, RING = 0.7, 1.4
LEAST = 0.5
"""What grows by less in all (mm) has no arrow."""
NEAR = (2.0, 6.0, 12.0, 20.0, 30.0)
"""So far (mm) from the tip of its arrow a number may stand: the nearest that is free."""
EXAMPLE = 60.0
"""Length (mm) of the arrow that is explained."""

Said = Callable[[float], str]


def growth_drawing(name: str, piece: Piece, points: Mapping[str, Reals], sample: int, said: Said) -> Drawing:
    """A piece of one lane with the arrows of its points, each (sizes, 2) mm as they are laid on the sample; lengths as `said`."""
    outline = np.concatenate([flat(side.drawn)[:-1] for side in piece.ring])
    grow = {point: rows for point, rows in points.items() if float(np.ptp(rows, axis=0).max()) >= LEAST}
    marks: list[Mark] = [curve("sew", side.drawn, side.names[-1]) for side in piece.ring]
    for point, rows in grow.items():
        marks += _growth(rows[sample] + TIMES * (rows - rows[sample]), sample, point)
    marks += _numbers(grow, sample, said, outline)
    corners = np.concatenate([outline, *(extent(mark) for mark in marks)])
    at = np.array([outline[:, 0].min(), corners[:, 1].max() + TITLE])
    return Drawing(name, (*marks, Label(name.replace("_", " "), at, TITLE, source=name)), outline)


def growth_sheet(title: str, drawings: Sequence[Drawing], sizes: Sequence[str], sample: int, unit: str) -> Sheet:
    """The pieces of a style, and beneath them how an arrow and the numbers at it are read."""
    smallest, largest = sizes[0], sizes[-1]
    rows = [
        (title, TITLE),
        (f"Arrow head: {largest}, the largest size. Ring: {smallest}, the smallest. Dots: those between.", KEY),
        (f"The outline is the sewing line of {sizes[sample]}. From there all is drawn {TIMES:g} times as long as it is.", KEY),
        (f"Numbers: growth from {smallest} to {largest}, across, up, in {unit}; less than nothing is to the left, or down.", KEY),
    ]
    marks: list[Mark] = []
    y = 2 * KEY
    for text, height in rows[::-1]:
        marks.append(Label(text, np.array([GAP, GAP + y]), height, source="title"))
        y += 2 * height
    if len(sizes) > 1:
        away = np.stack([np.linspace(0.0, EXAMPLE, len(sizes)), np.zeros(len(sizes))], axis=1) + np.array([GAP + 2 * TITLE, GAP])
        marks += [*_growth(away, sample, "legend"), *_ends(away, smallest, largest)]
    wide = max(text_room(text, height) for text, height in rows)
    return on_shelves(drawings, title, (marks, wide, y))


def _ends(away: Reals, smallest: str, largest: str) -> Iterator[Mark]:
    left, right = away[0] - np.array([RING + 1.0, KEY / 2]), away[-1] + np.array([2.0, -KEY / 2])
    yield Label(smallest, left - np.array([text_room(smallest, KEY), 0.0]), KEY, source="legend")
    yield Label(largest, right, KEY, source="legend")


def _growth(away: Reals, sample: int, name: str) -> Iterator[Mark]:
    """A point in all sizes (n, 2) as it is drawn: a line from the smallest to the largest, a dot at each between, a head at the
    largest, a ring at the smallest."""
    last = float(np.linalg.norm(away[-1] - away[-2]))
    if len(away) > 2:
        yield Line("trail", away[:-1], source=name)
    for k, at in enumerate(away[1:-1], 1):
        if k != sample:
            yield Circle("trail", at, DOT, name)
    if last > 0.0:
        yield from arrow("grain", away[-2], away[-1], source=name, head=min(HEAD, 0.9 * last))
    yield Circle("trail", away[0], RING, name)


def _numbers(grow: Mapping[str, Reals], sample: int, said: Said, outline: Reals) -> Iterator[Label]:
    """What each point grows in all, across and up, beside its largest size: over no arrow and no other number, and, where
    there is room, not over the outline."""
    drawn = [rows[sample] + TIMES * (rows - rows[sample]) for rows in grow.values()]
    taken: list[shapely.Geometry] = [shapely.LineString(away).buffer(RING) for away in drawn]
    ring = shapely.LinearRing(outline)
    for (name, rows), away in zip(grow.items(), drawn, strict=True):
        text = ", ".join(said(float(one)) for one in rows[-1] - rows[0])
        tries = [Label(text, at, HEIGHT, source=name, boxed=True) for at in _places(text, away[-1])]
        boxes = [shapely.Polygon(label.box).buffer(0.5) for label in tries]
        hit = [(sum(box.intersects(one) for one in taken), box.intersects(ring)) for box in boxes]
        best = hit.index(min(hit))
        taken.append(boxes[best])
        yield tries[best]


def _places(text: str, tip: Reals) -> Iterator[Reals]:
    """Where a number may begin, nearest first: right and left of a tip, above it and below."""
    wide = text_room(text, HEIGHT)
    for off in NEAR:
        for left in (off, -off - wide, -wide / 2):
            for low in (-HEIGHT / 2, off, -off - HEIGHT):
                if left != -wide / 2 or low != -HEIGHT / 2:
                    yield tip + np.array([left, low])
