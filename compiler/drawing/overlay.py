"""Pieces as they were and as they are, laid on one another, on paper smaller than they are; and of each its worst place at true
scale. Not to be cut by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from .arrange import GAP, LINE_HEIGHT, SAMPLE_LINE, legend_line, legend_room, on_shelves
from .lettering import text_room, wrapped
from .marks import Drawing, Label, Layer, Line, Mark, Reals, Sheet
from .signs import arrow, centred

SCALES = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0)
WIDEST = 380.0
"""Pieces side by side, each with its circle, are drawn so small that they are about as wide as this (mm) together."""

HIGHEST = 230.0
RADIUS = 22.0
"""Of the circle, mm on paper."""

SHOWN = 0.6
"""A move longer than this share of the circle's diameter is shown smaller in it than it is."""

PATCH = 1.6
"""Radius (mm on paper) of the mark on the piece where its circle was taken."""

SHORTEST = 5.0
"""An arrow is drawn at least so long (mm on paper)."""

APART = 60.0
"""Of arrows nearer to each other than this (mm on the piece) the one that tells most stays."""

HEAD = 3.0
NAME, NUMBER, WORDS = 5.0, 2.5, 2.5
"""Heights of capitals, mm: of a piece's name, of numbers, of words beneath."""

CLEAR = 0.7
"""No letter of a number comes nearer than this (mm) to a line."""

REACH = (2.0, 4.0, 7.0, 11.0, 16.0, 22.0)
"""So far (mm) beside its arrow a number may stand, the nearest that is free."""

ROUND = 96
LEGEND: tuple[tuple[Layer, str], ...] = (
    ("was", "cut line as it was"),
    ("now", "cut line now"),
    ("was_sewn", "sewing line as it was"),
    ("still", "sewing line now"),
    ("moved", "sewing line that moved, where it is now"),
    ("was_notch", "notch that moved, where it was"),
)


@dataclass(frozen=True, eq=False)
class Arrow:
    """The most an edge moved: from where (2,) to where (2,) on the piece, mm, and its number in words."""

    at: Reals
    to: Reals
    text: str

    @property
    def most(self) -> float:
        return float(np.hypot(*(self.to - self.at)))


@dataclass(frozen=True, eq=False)
class Overlay:
    """A piece on a body, as its old side is drafted, all points mm: cut lines (n, 2) old and new, closed, None where it is new or
    gone; sewing lines and lines inside old and new; the stretches of the new sewing line that moved; the most of each edge;
    notches that moved, as strokes (2, 2), old and new; and what is told of it, line by line."""

    name: str
    old_cut: Reals | None
    new_cut: Reals | None
    old_sewn: tuple[Reals, ...]
    new_sewn: tuple[Reals, ...]
    moved: tuple[Reals, ...]
    arrows: tuple[Arrow, ...]
    old_notches: tuple[Reals, ...]
    new_notches: tuple[Reals, ...]
    told: tuple[str, ...]

    @property
    def outline(self) -> Reals:
        """Points (n, 2) that hold it."""
        found = [points for points in (self.old_cut, self.new_cut) if points is not None]
        return np.concatenate(found)


def overlay_sheet(title: str, pieces: Sequence[Overlay], less: Sequence[str] = ()) -> Sheet:
    """Pieces that changed, in their order, at one scale; beneath them how the lines are read, and what is told of others."""
    scale = _scale(pieces)
    letters = iter("abcdefghijklmnopqrstuvwxyz" * 4)
    drawings = [_drawing(one, scale, next(letters) if one.arrows else "") for one in pieces]
    rows = [
        *((line, 7.0) for line in wrapped(title, 7.0, WIDEST)),
        (f"Finished pieces laid on one another, scale 1:{scale:g}. Not to be cut by. Numbers are the most each edge moved.", 3.5),
        ("In a circle is the place of its letter, larger. Short arrows are drawn 5 mm long.", 3.5),
    ]
    rows += [(line, 3.5) for told in less for line in wrapped(told, 3.5, WIDEST)]
    marks: list[Mark] = []
    y = 2.0 * LINE_HEIGHT * (len(LEGEND) + 1)
    for k, (layer, text) in enumerate(LEGEND):
        marks += legend_line(layer, text, np.array([GAP, GAP + 2.0 * LINE_HEIGHT * (len(LEGEND) - 1 - k)]))
    wide = legend_room("was") + SAMPLE_LINE + max(text_room(text, LINE_HEIGHT) for _, text in LEGEND)
    for text, height in rows[::-1]:
        marks.append(Label(text, np.array([GAP, GAP + y]), height, source="title"))
        y, wide = y + 2.0 * height, max(wide, text_room(text, height))
    return on_shelves(drawings, title, (marks, wide, y))


def _scale(pieces: Sequence[Overlay]) -> float:
    sizes = [np.ptp(one.outline, axis=0) for one in pieces]
    wide, high = sum(float(size[0]) for size in sizes), max((float(size[1]) for size in sizes), default=0.0)
    wide = max(wide / max(1.0, np.ceil(len(sizes) / 4.0)), *(float(size[0]) for size in sizes), 1.0)
    return next((one for one in SCALES if wide / one <= WIDEST and high / one <= HIGHEST), SCALES[-1])


def _drawing(one: Overlay, scale: float, letter: str) -> Drawing:
    """A piece at its scale, its circle to the right, its name above and what is told of it below, all on paper."""
    corner = one.outline.min(axis=0)
    wide, high = (float(size) / scale for size in np.ptp(one.outline, axis=0))

    def there(points: Reals) -> Reals:
        return np.asarray((points - corner) / scale)

    marks: list[Mark] = [Line(layer, there(points), closed, source=one.name) for layer, points, closed in _lines(one)]
    kept = _apart(one.arrows)
    arrows = [mark for each in kept for mark in _arrow(there(each.at), there(each.to), one.name)]
    taken = [shapely.LineString(_closed(mark)).buffer(CLEAR) for mark in (*marks, *arrows) if isinstance(mark, Line)]
    marks += arrows
    right, low = wide, 0.0
    if letter:
        worst = kept[0]
        middle = there((worst.at + worst.to) / 2.0)
        patch = _circle(middle, PATCH)
        marks.append(Line("frame", patch, True, source=one.name))
        taken.append(shapely.Polygon(patch).buffer(CLEAR))
        centre = np.array([wide + GAP + RADIUS, high - RADIUS])
        shown = [*_enlarged(one, worst, centre, letter)]
        marks += shown
        taken += [shapely.Polygon(mark.box).buffer(2.0 * NUMBER) for mark in shown if isinstance(mark, Label)]
        taken.append(shapely.Polygon(_circle(centre, RADIUS)).buffer(CLEAR))
        right, low = float(centre[0]) + RADIUS, min(0.0, float(centre[1]) - RADIUS - 3.0 * NUMBER)
    labels = [(each.text, (there(each.at) + there(each.to)) / 2.0) for each in kept]
    if letter:
        labels.insert(0, (letter, labels[0][1]))
    for text, at in labels:
        label = _beside(text, at, taken)
        taken.append(shapely.Polygon(label.box).buffer(CLEAR))
        marks.append(label)
    top = max(high, *(float(mark.box[:, 1].max()) for mark in marks if isinstance(mark, Label)), 0.0)
    low = min(low, *(float(mark.box[:, 1].min()) for mark in marks if isinstance(mark, Label)), 0.0)
    name = one.name.replace("_", " ")
    marks.append(Label(name, np.array([0.0, top + NAME]), NAME, source=one.name))
    marks += _told(one.told, max(right, 90.0), low - 3.0 * WORDS, one.name)
    return Drawing(one.name, tuple(marks), there(one.outline))


def _closed(mark: Line) -> Reals:
    return np.concatenate([mark.points, mark.points[:1]]) if mark.closed else mark.points


def _lines(one: Overlay) -> Iterator[tuple[Layer, Reals, bool]]:
    if one.old_cut is not None:
        yield "was", one.old_cut, True
        yield from (("was_sewn", points, False) for points in one.old_sewn)
    yield from (("still", points, False) for points in one.new_sewn)
    if one.new_cut is not None:
        yield "now", one.new_cut, True
    yield from (("moved", points, False) for points in one.moved)
    yield from (("was_notch", points, False) for points in one.old_notches)
    yield from (("notch", points, False) for points in one.new_notches)


def _apart(arrows: Sequence[Arrow]) -> list[Arrow]:
    """The arrows that tell most, none near to one that tells more."""
    kept: list[Arrow] = []
    for one in sorted(arrows, key=lambda arrow: -round(arrow.most, 3)):
        if all(np.hypot(*(one.at - other.at)) >= APART for other in kept):
            kept.append(one)
    return kept


def _arrow(at: Reals, to: Reals, source: str) -> list[Mark]:
    """From the old place to the new one; a short one begins farther back."""
    long = float(np.hypot(*(to - at)))
    if long == 0.0:
        return []
    tail = at if long >= SHORTEST else to - SHORTEST * (to - at) / long
    return arrow("shift", tail, to, source=source, head=HEAD)


def _circle(centre: Reals, radius: float) -> Reals:
    turns = np.linspace(0.0, 2.0 * np.pi, ROUND, endpoint=False)
    return np.asarray(centre + radius * np.stack([np.cos(turns), np.sin(turns)], axis=-1))


def _enlarged(one: Overlay, worst: Arrow, centre: Reals, letter: str) -> Iterator[Mark]:
    """The worst place of a piece at true scale, or smaller where its move would not lie within the circle."""
    scale = next(one for one in SCALES if worst.most / one <= SHOWN * 2.0 * RADIUS or one == SCALES[-1])
    middle = (worst.at + worst.to) / 2.0
    disc = shapely.Polygon(_circle(centre, RADIUS))
    for layer, points, closed in _lines(one):
        there = (points - middle) / scale + centre
        run = shapely.LineString(np.concatenate([there, there[:1]]) if closed else there)
        for part in shapely.get_parts(shapely.intersection(run, disc)):
            if shapely.get_type_id(part) == 1 and not shapely.is_empty(part):
                yield Line(layer, shapely.get_coordinates(part), source=one.name)
    at, to = ((point - middle) / scale + centre for point in (worst.at, worst.to))
    yield from arrow("shift", at, to, source=one.name, head=min(HEAD, 0.8 * float(np.hypot(*(to - at)))))
    yield Line("frame", _circle(centre, RADIUS), True, source=one.name)
    size = "true size" if scale == 1.0 else f"scale 1:{scale:g}"
    yield centred(f"{letter}: {worst.text}, {size}", centre - np.array([0.0, RADIUS + 1.5 * NUMBER]), NUMBER, 0.0, one.name)


def _beside(text: str, at: Reals, taken: Sequence[shapely.Geometry]) -> Label:
    """A number beside its arrow, over no line and no other number, where there is room."""
    wide = text_room(text, NUMBER)
    tries = [
        at + np.array([(off + wide / 2.0) * np.cos(turn) - wide / 2.0, (off + NUMBER / 2.0) * np.sin(turn) - NUMBER / 2.0])
        for off in REACH
        for turn in np.linspace(0.0, 2.0 * np.pi, 16, endpoint=False)
    ]
    labels = [Label(text, corner, NUMBER, source="most", boxed=True) for corner in tries]
    boxes = shapely.polygons(np.stack([label.box for label in labels]))
    hit, _ = shapely.STRtree([*taken]).query(boxes, predicate="intersects")
    return labels[int(np.argmin(np.bincount(hit, minlength=len(labels))))]


def _told(lines: Sequence[str], width: float, top: float, source: str) -> Iterator[Mark]:
    y = top
    for line in lines:
        for k, part in enumerate(wrapped(line, WORDS, width)):
            yield Label(part, np.array([3.0 * WORDS if k else 0.0, y]), WORDS, source=source)
            y -= 1.7 * WORDS
