"""A small picture of what a sentence does: what there was in short dashes, what it gives in full, and the names that matter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from types import MappingProxyType

import numpy as np
import shapely

from ..finish.finished import finished
from ..geometry.length import direction_at, length, nearest, point_at
from ..geometry.motion import apply_path, translation
from ..geometry.path import Path
from ..geometry.tolerances import COINCIDE
from ..pattern.darts import is_open_below
from ..pattern.piece import Piece, Side
from .lettering import LEADING, text_room, wrapped
from .lines import curve, flat, fold_lines, obstacles, on_fold, ring_points
from .marks import Circle, Curve, Drawing, Label, Layer, Line, Mark, Reals, Sheet, extent
from .piece import cloth_marks, folds, inner_marks
from .room import Room
from .signs import across, centred
from .texts import EDGE_HEIGHT, GAPS, MIDDLE, Block, edge_name, grain_marks, point_name

SCALES = (1, 2, 5, 10, 20, 50)
"""Reductions of ISO 5455, of which the largest picture that fits is taken."""

WIDEST, HIGHEST = 155.0, 125.0
"""What is drawn fits into this, mm."""

NARROWEST = 90.0
"""The sentence below may be as wide as what is drawn, and always as wide as this, mm."""

MARGIN = 32.0
"""Round what is drawn, mm: room for names outside it."""

EDGE = 4.0
"""Left free round the picture, mm."""

NEAR = 0.7
"""No letter of a figure comes nearer than this to a line, mm."""

DOT = 0.7
"""Radius of a point, mm."""

LOOSE = 1.15
"""A level text may come out so much wider than it is measured."""

MANY, ROUGH = 12, 0.01
"""A line of more points than this may be drawn so much (mm) off its true place."""

NAME_HEIGHT = 3.5
HEAD = 4.0
"""Length of the arrow head that tells which way a line runs, mm."""

APART = 60.0
"""Between pieces in a row, mm of cloth."""

DRILL_BACK = 10.0
POINT_GAPS = (1.5, 3.0, 5.0)
"""How far off it the name of a point stands, mm, the best first."""


@dataclass(frozen=True)
class FigureContent:
    """What a figure shows, at true size in mm, all of one lane.

    `old` pieces there were; `new` those given, `cutting` tells whether with all that is stated for cutting; `guides` and
    `points` (2,) what the sentence names, `made_lines` and `made_points` what it gives; `cuts` (n, 2) lines to slash
    along; `names` the edges, darts and points of pieces to be named, the most wanted first; `words` rows to be written
    inside; `called` names of the new pieces; `sewn` the edges of a seam, beside which the others are drawn thin; `caption`
    the sentence.
    """

    caption: str
    old: tuple[Piece, ...] = ()
    new: tuple[Piece, ...] = ()
    cutting: bool = False
    guides: Mapping[str, Path] = field(default_factory=lambda: MappingProxyType({}))
    points: Mapping[str, Reals] = field(default_factory=lambda: MappingProxyType({}))
    made_lines: Mapping[str, Path] = field(default_factory=lambda: MappingProxyType({}))
    made_points: Mapping[str, Reals] = field(default_factory=lambda: MappingProxyType({}))
    cuts: tuple[Reals, ...] = ()
    names: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    called: tuple[str, ...] = ()
    sewn: tuple[str, ...] = ()


def figure(shown: FigureContent, title: str) -> Sheet:
    """The picture, its sentence below it."""
    true = _marks(shown)
    every = np.concatenate([extent(mark) for mark in true])
    size = np.ptp(every, axis=0)
    scale = next((one for one in SCALES if size[0] <= WIDEST * one and size[1] <= HIGHEST * one), SCALES[-1])
    view = _View(scale, every.min(axis=0))
    marks = [_shrunk(mark, view) for mark in true]
    marks += [_way_along(path, view) for path in shown.made_lines.values()]
    marks += _words(shown, view, marks, size / scale)
    lowest = min(float(extent(mark)[:, 1].min()) for mark in marks)
    marks += _caption(shown.caption, f"1 : {scale}", lowest, max(float(size[0]) / scale, NARROWEST))
    # Faces wider than the one measured by are common, and not every viewer sets a text to its width.
    room = [mark.at + np.array([LOOSE * mark.width, 0.0]) for mark in marks if isinstance(mark, Label) and not mark.angle]
    box = np.concatenate([*(extent(mark) for mark in marks), np.array(room)])
    corner = box.min(axis=0) - EDGE
    width, height = (float(one) for one in box.max(axis=0) + EDGE - corner)
    return Sheet(title, width, height, (Drawing("", tuple(marks), box).moved(-corner),))


@dataclass(frozen=True)
class _View:
    """From true size to the paper: divided by `scale`, the corner `low` (2,) at the origin."""

    scale: int
    low: Reals

    def at(self, points: Reals) -> Reals:
        placed: Reals = (points - self.low) / self.scale
        return placed


def side_by_side(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces in a row, each right of the one before, their lowest points level."""
    found: list[Piece] = []
    reach = 0.0
    for piece in pieces:
        low, high = _box(piece)
        found.append(_moved(piece, np.array([[reach, 0.0]]) - low))
        reach += float((high - low)[0, 0]) + APART
    return tuple(found)


def _box(piece: Piece) -> tuple[Reals, Reals]:
    points = ring_points(piece.ring)
    return points.min(axis=0)[None], points.max(axis=0)[None]


def _moved(piece: Piece, by: Reals) -> Piece:
    """What a figure shows of a piece, moved by (1, 2) mm."""

    def shifted(sides: Sequence[Side]) -> tuple[Side, ...]:
        return tuple(replace(side, path=apply_path(translation(by), side.drawn)) for side in sides)

    points = {name: None if at is None else at + by for name, at in piece.points.items()}
    holes = tuple(replace(hole, sides=shifted(hole.sides)) for hole in piece.holes)
    return replace(piece, ring=shifted(piece.ring), holes=holes, lines=shifted(piece.lines), points=MappingProxyType(points))


def _marks(shown: FigureContent) -> list[Mark]:
    """All that lies at a place of its own, at true size."""
    marks: list[Mark] = []
    for piece in shown.old:
        rings = (*piece.ring, *(side for hole in piece.holes for side in hole.sides), *piece.lines)
        marks += [curve("old", side.drawn, side.names[-1]) for side in rings]
    marks += [curve("sew", path, name) for name, path in shown.guides.items()]
    marks += [Line("old", points, source="cut") for points in shown.cuts]
    for made in shown.made_points.values():
        places = list(shown.points.values())
        near = [_nearer_end(path, made) for path in shown.guides.values()]
        ends = [*pairwise(places), *((place, made) for place in places), *((end, made) for end in near if end is not None)]
        marks += [Line("old", np.stack(two)) for two in ends]
    for path in shown.made_lines.values():
        marks += [Line("old", np.stack([at, end])) for at in shown.points.values() for end in _swept_from(path, at)]
    for piece in shown.new:
        marks += cloth_marks(finished(piece), DRILL_BACK) if shown.cutting else _outline(piece, shown.sewn)
        marks += [Circle("dart", at[0], DOT, name) for name, at in piece.points.items() if name in shown.names and at is not None]
    marks += [curve("new", path, name) for name, path in shown.made_lines.items()]
    marks += [Circle("dart", at, DOT, name) for name, at in shown.points.items()]
    return marks + [Circle("new", at, DOT, name) for name, at in shown.made_points.items()]


def _swept_from(path: Path, point: Reals) -> Sequence[Reals]:
    """Both ends of a line about its centre; none where the point is not equally far from them."""
    ends = (path.start[0], path.end[0])
    one, other = (float(np.linalg.norm(end - point)) for end in ends)
    return ends if abs(one - other) < COINCIDE else ()


def _nearer_end(path: Path, point: Reals) -> Reals | None:
    """The end (2,) of a line from which it is run on to a point beyond it; None where the point lies on it."""
    at, place = nearest(path, point[None])
    if float(np.linalg.norm(place[0] - point)) < COINCIDE:
        return None
    end: Reals = path.start[0] if float(at[0]) < float(length(path)[0]) / 2 else path.end[0]
    return end


def _way_along(path: Path, view: _View) -> Mark:
    """A small arrow head on a line that is given, a little before its end: which way it runs."""
    points = view.at(point_at(path, np.array([0.75]) * length(path)))[0]
    way = direction_at(path, np.array([0.75]) * length(path))[0]
    wing = across(way) * HEAD / 3.5
    tail = points - way * HEAD / 2
    return Line("new", np.stack([points + way * HEAD / 2, tail + wing, tail - wing]), closed=True, filled=True)


def _outline(piece: Piece, sewn: Sequence[str]) -> list[Mark]:
    """The sewing line in full, legs of darts thin, and what lies inside; of a seam only the `sewn` edges in full."""
    legs = {leg for dart in piece.darts if not is_open_below(piece, dart) for leg in (dart.first, dart.second)}
    marks: list[Mark] = []
    for side in piece.ring:
        layer: Layer = "dart" if legs.intersection(side.names) else "fold" if on_fold(piece, side) else "new"
        if sewn and not set(sewn).intersection(side.names):
            layer = "dart"
        marks.append(curve(layer, side.drawn, side.names[-1]))
    marks += [curve("dart", side.drawn, side.names[-1]) for hole in piece.holes for side in hole.sides]
    return marks + inner_marks(piece)


def _shrunk(mark: Mark, view: _View) -> Mark:
    match mark:
        case Line():
            points = view.at(mark.points)
            if len(points) > MANY:  # a cut line follows its curve more closely than a small picture shows
                points = shapely.get_coordinates(shapely.simplify(shapely.LineString(points), ROUGH))
            return replace(mark, points=points)
        case Curve():
            return replace(mark, spans=view.at(mark.spans))
        case Circle():
            return replace(mark, centre=view.at(mark.centre), radius=min(mark.radius, DOT))
        case Label():
            return replace(mark, at=view.at(mark.at))


def _words(shown: FigureContent, view: _View, marks: list[Mark], size: Reals) -> list[Mark]:
    """The names, each where there is room for it; a name for which there is none is left out."""
    frame = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]) * (size + 2 * MARGIN) - MARGIN
    room = Room(frame)
    room.take(obstacles(marks), NEAR)
    found: list[Mark] = []

    def put(label: Label | None) -> None:
        if label is not None:
            found.append(label)
            room.take_area(label.box, NEAR)

    if shown.cutting:
        for piece in shown.new:
            found += _inside(piece, shown.words, view, marks)
        room.take(obstacles(found), NEAR)
    for name, at in [*shown.made_points.items(), *shown.points.items()]:
        put(_beside(room, view.at(at), name))
    for name, path in [*shown.made_lines.items(), *shown.guides.items()]:
        put(_along(room, view.at(flat(path)), name))
    for name, piece in zip(shown.called, shown.new, strict=False):
        inner = Room(view.at(ring_points(piece.ring)))
        inner.take(obstacles(marks), NEAR)
        for height in (NAME_HEIGHT, EDGE_HEIGHT):
            level = inner.level(0.0)
            middle = None if level is None else level.place(text_room(name, height), height)
            if middle is not None:
                put(centred(name, middle, height, 0.0, name))
                break
    for name in shown.names:
        for piece in _holders(shown, name):
            point = piece.points.get(name)
            if point is not None:
                put(_beside(room, view.at(point[0]), name))
            else:
                runs = [flat(side.drawn) for side in _sides(piece, name)]
                put(_along(room, view.at(max(runs, key=_length)), name))
    return found


def _holders(shown: FigureContent, name: str) -> list[Piece]:
    """The pieces a name is written on: those given, or where none has it the first there was."""
    made = [piece for piece in shown.new if name in piece.points or _sides(piece, name)]
    return made or [piece for piece in shown.old if name in piece.points or _sides(piece, name)][:1]


def _sides(piece: Piece, name: str) -> Sequence[Side]:
    """The sides of an edge, or of the first leg of a dart."""
    dart, hole = piece.dart(name), piece.hole(name)
    if dart is not None:
        return piece.sides(dart.second)
    return hole.sides if hole is not None else piece.sides(name)


def _length(points: Reals) -> float:
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def _along(room: Room, points: Reals, name: str) -> Label | None:
    """The name on the one side of a line, or on the other; near its middle on either before elsewhere, where it may be nearer to
    another line."""
    places = ((MIDDLE[:1], GAPS[:2]), (MIDDLE, GAPS))
    tried = (edge_name(room, way, name, name, *where) for where in places for way in (points, points[::-1]))
    return next((label for label in tried if label is not None), None)


def _beside(room: Room, at: Reals, name: str) -> Label | None:
    return point_name(room, at, name, POINT_GAPS, name)


def _inside(piece: Piece, words: Sequence[str], view: _View, marks: list[Mark]) -> list[Mark]:
    """Bracket of the fold, arrow of the grain and rows of words inside a piece for cutting."""
    room = Room(view.at(ring_points(piece.ring)))
    room.take(obstacles(marks), NEAR)
    found = folds(room, [(view.at(a), view.at(b), edge) for a, b, edge in fold_lines(finished(piece))])
    if words:
        block = Block(tuple((row, EDGE_HEIGHT) for row in words))
        level = room.level(0.0)
        middle = None if level is None else level.place(block.width, block.height)
        if middle is not None:
            found += block.labels(middle, 0.0, "words")
            room.take(obstacles(found))
    grain = piece.finish.grain
    if grain is not None:
        found += grain_marks(room, np.array([grain[0].real, grain[0].imag]), room.heart)
    return found


def _caption(sentence: str, scale: str, top: float, width: float) -> list[Mark]:
    """The sentence in rows below `top`, broken to a width where it must be, and the scale."""
    rows: list[tuple[str, float]] = []
    for line in sentence.split("\n"):
        indent = float(len(line) - len(line.lstrip()))
        rows += [(row, indent + 4.0 * (k > 0)) for k, row in enumerate(wrapped(line, EDGE_HEIGHT, width - indent))]
    found: list[Mark] = []
    for number, (row, indent) in enumerate([*rows, (scale, 0.0)], 2):
        found.append(Label(row, np.array([indent, top - LEADING * EDGE_HEIGHT * number]), EDGE_HEIGHT, source="caption"))
    return found
