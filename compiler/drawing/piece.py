"""One piece of one body as marks on paper: first its lines, which settle where it lies; then its words, clear of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..finish.finished import FinishedPiece
from ..geometry.length import length, part, point_at
from ..geometry.path import chain, thinned
from ..geometry.tolerances import SEW
from ..pattern.piece import Notch, Piece
from ..pattern.ring import place_on
from .aside import grain_aside, words_aside
from .levels import level_lines, level_names, level_ticks
from .lines import (
    cut_lines,
    dart_cut,
    dart_marks,
    dart_snip_marks,
    flat,
    fold_lines,
    hole_marks,
    notch_marks,
    obstacles,
    on_fold,
    ring_points,
    sewing_lines,
)
from .marks import Drawing, Label, Line, Mark, Reals
from .pleats import pleat_arrows
from .room import Room
from .signed import grain_line, landmarks_of, line_marks, named_lines, point_marks, set_back, slits_at, slits_through
from .signs import HOLE, bracket_ends, ending, fold_bracket, fold_words, gather_wave, landmark
from .texts import Words, edge_name, grain_marks, grain_on, label_marks, point_name
from .trimming import WORDS as TRIM_WORDS
from .trimming import is_trimmed, trim_marks
from .wording import Ending, Gather, PieceInfo, cut_words, rows_of, whose

UP = np.array([0.0, 1.0])

POINT_GAPS = (HOLE + 1.5, 5.0, 8.0)
"""How far beside a point its name stands, mm, the best first."""

ENDING_GAPS = (4.0, 7.0, 11.0)
"""The same for the end of an opening."""

ALONG = 60.0
"""It stands along the edge, within this (mm) of the end, where it has no room beside it."""

BRACKET_CLEAR = 1.5
"""Words inside the bracket of a fold stand this far (mm) from it."""

MOST_EDGES = 3
"""Along so many edges, the longest, a label may run in a narrow piece."""

FLAT_AT_SLIT = 10.0
"""Nothing is gathered nearer to a slit than this (mm) (common practice, no source)."""

FOLD_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7)


@dataclass(frozen=True, eq=False)
class Plain:
    """A piece drawn without words: its cloth, the marks of its lines, and the drawing these make."""

    cloth: FinishedPiece
    info: PieceInfo
    drawing: Drawing

    def worded(self, joints: Iterable[Reals] = ()) -> Drawing:
        """The drawing with its words, clear of the lines (2, 2) along which pages are joined where that can be."""
        return _worded(self, joints)


def plain_piece(cloth: FinishedPiece, info: PieceInfo) -> Plain:
    """The lines of a finished piece of one lane."""
    one = cloth.piece
    marks = cloth_marks(_snipped_at_endings(cloth, info.endings), info.drill_back)
    marks += level_ticks(one, info.seam_names, info.levels)
    for name, at in landmarks_of(one).items():
        marks += landmark(at, name)
    for opening in info.endings:
        marks += ending(_along_edge(one, opening.edge, opening.at), opening.edge)
    for gather in _gathers_on(one, info):
        for start, stop in _beside_slits(one, gather):
            marks += gather_wave(_part_of_edge(one, gather.edge, start, stop), gather.edge)
    return Plain(cloth, info, Drawing(info.name, tuple(marks), thinned(cloth.cut[0])))


def _snipped_at_endings(cloth: FinishedPiece, endings: Iterable[Ending]) -> FinishedPiece:
    """The piece with a notch where an opening ends, for the cross on the seam line is not seen on the cut edge."""
    places = (place_on(cloth.piece, one.edge, np.array([one.at]), "start") for one in endings)
    more = (Notch(place.side, place.at) for place in places)
    return replace(cloth, piece=replace(cloth.piece, notches=(*cloth.piece.notches, *more)))


def cloth_marks(cloth: FinishedPiece, drill_back: float) -> list[Mark]:
    """The lines and signs of a finished piece of one lane, all that needs no room to be found for it."""
    one = cloth.piece
    marks = sewing_lines(cloth) + inner_marks(one) + slits_through(cloth) + cut_lines(cloth) + notch_marks(cloth)
    for dart in one.darts:
        marks += dart_snip_marks(cloth, dart) + dart_cut(cloth, dart) + trim_marks(cloth, dart)
        marks += dart_marks(cloth, dart, set_back(one, dart.name, drill_back))
    for hole in one.holes:
        marks += hole_marks(hole, set_back(one, hole.name, drill_back))
    return marks


def inner_marks(piece: Piece) -> list[Mark]:
    """Lines and signs inside a piece of one lane."""
    return line_marks(piece) + point_marks(piece) + pleat_arrows(piece)


def folds(room: Room, folds: list[tuple[Reals, Reals, str]], called: str = "") -> list[Mark]:
    """The folds with their brackets, and in these what is `called` so and lies on the fold."""
    marks: list[Mark] = []
    for start, end, edge in folds:
        bracket = fold_bracket(start, end, edge)
        marks += [Line("fold", np.stack([start, end]), source=edge), *bracket]
        words = _fold_words(room, start, end, edge, called)
        marks += [] if words is None else [words]
        room.take(obstacles(bracket))
        room.take_area(bracket_ends(start, end))
    return marks


def _fold_words(room: Room, start: Reals, end: Reals, edge: str, called: str) -> Label | None:
    for text in (f"{called}, on the fold", "on the fold") if called else ("on the fold",):
        labels = [fold_words(start, end, text, height, share, edge) for height in (3.5, 2.5) for share in FOLD_SHARES]
        inner = shapely.Polygon(bracket_ends(start, end)).buffer(-BRACKET_CLEAR)
        for whole in room.wholes:
            for label in labels:
                if room.holds(label.box, whole) and inner.contains(shapely.Polygon(label.box)):
                    return label
    return None


def _worded(plain: Plain, joints: Iterable[Reals]) -> Drawing:
    one, info = plain.cloth.piece, plain.info
    room = Room(ring_points(one.ring), joints)
    room.take(obstacles([*plain.drawing.marks]))
    for hole in one.holes:
        room.take_area(ring_points(hole.sides))
    marks = [*plain.drawing.marks, *folds(room, [*fold_lines(plain.cloth)], info.fold)]
    homeless: list[str] = []  # words that find no room at their edge: the label says them
    marks += _names(room, one, info, homeless)
    marks += _label(room, plain, homeless)
    marks += level_names(room, one, info.levels, info.levels_called)
    marks += level_lines(one, [mark for mark in marks if isinstance(mark, Label)], info.levels)
    listed = f"{info.title}: {', '.join(cut_words(one))}" if one.finish.cuts else info.title
    return replace(plain.drawing, marks=tuple(marks), listed=listed)


def _longest_side(piece: Piece, edge: str) -> Reals:
    """The longest side of an edge as points (n, 2)."""
    return max((flat(side.drawn) for side in piece.sides(edge)), key=_long)


def _long(points: Reals) -> float:
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def _gathers_on(piece: Piece, info: PieceInfo) -> list[Gather]:
    """The gathered parts of edges the piece has."""
    return [one for one in info.gathers if piece.sides(one.edge)]


def _beside_slits(piece: Piece, gather: Gather) -> list[tuple[float, float]]:
    """A gathered part of an edge, mm, less what lies at slits: there the cloth lies flat under what finishes them."""
    total = sum(float(length(side.drawn)[0]) for side in piece.sides(gather.edge))
    parts = [(gather.start, min(gather.stop, total))]
    for at in slits_at(piece, gather.edge):
        parts = [
            run for a, b in parts for run in ((a, min(b, at - FLAT_AT_SLIT)), (max(a, at + FLAT_AT_SLIT), b)) if run[0] < run[1]
        ]
    return parts


def _part_of_edge(piece: Piece, edge: str, start: float, stop: float) -> Reals:
    """A part of an edge, from where to where along it (mm), as points (n, 2)."""
    whole = chain([side.drawn for side in piece.sides(edge)])
    total = float(length(whole)[0])
    return flat(part(whole, *(np.array([min(at, total)]) for at in (start, stop))))


def _longest_part(piece: Piece, edge: str, start: float, stop: float) -> Reals:
    """The longest run (n, 2) of a part of an edge that no dart breaks."""
    found: list[Reals] = []
    for side in piece.sides(edge):
        total = float(length(side.drawn)[0])
        a, b = max(start, 0.0), min(stop, total)
        if b - a > SEW:
            found.append(flat(part(side.drawn, np.array([a]), np.array([b]))))
        start, stop = start - total, stop - total
    return max(found, key=_long)


def _along_edge(piece: Piece, edge: str, at: float) -> Reals:
    """The point (2,) so far along an edge, mm, as its ring runs."""
    for side in piece.sides(edge):
        total = float(length(side.drawn)[0])
        if at <= total:
            break
        at -= total
    spot: Reals = point_at(side.drawn, np.array([min(at, total)]))[0]
    return spot


def _names(room: Room, piece: Piece, info: PieceInfo, homeless: list[str]) -> list[Mark]:
    """The ends of openings, names of seams along their edges and of inner lines along these, and landmarks."""
    marks: list[Mark] = []

    def put(label: Label | None, said: str) -> None:
        if label is not None:
            room.take_rows([label])
            marks.append(label)
        elif said:
            homeless.append(said)

    for opening in info.endings:
        label = point_name(room, _along_edge(piece, opening.edge, opening.at), opening.text, ENDING_GAPS, opening.edge)
        if label is None:
            run = _longest_part(piece, opening.edge, opening.at - ALONG, opening.at + ALONG)
            label = edge_name(room, run, opening.text, opening.edge)
        put(label, f"at {_spoken(opening.edge)}: {opening.text}")
    for gather in _gathers_on(piece, info):
        run = _part_of_edge(piece, gather.edge, gather.start, gather.stop)
        put(edge_name(room, run, gather.text, gather.edge), _at(gather.edge, gather.text))
    for ease in (one for one in info.eases if piece.run(one.edge)):
        run = _longest_part(piece, ease.edge, ease.start, ease.stop)
        put(edge_name(room, run, ease.text, ease.edge), _at(ease.edge, ease.text))
    for edge, text in sorted({**info.called, **info.seam_names}.items()):
        if piece.run(edge) and edge != piece.fold:
            put(edge_name(room, _longest_side(piece, edge), text, edge), _at(edge, text))
    for name in named_lines(piece):
        text, run = info.called.get(name, _spoken(name)), _longest_side(piece, name)
        put(edge_name(room, run, text, name) or edge_name(room, run[::-1], text, name), f"line inside: {text}")
    homeless += [f"{_spoken(dart.name)}: {TRIM_WORDS}" for dart in piece.darts if is_trimmed(piece, dart)]
    for name, at in landmarks_of(piece).items():
        put(point_name(room, at, _spoken(name), POINT_GAPS, name), "")
    return marks


def _spoken(name: str) -> str:
    return name.replace("_", " ").replace(".", " ")


def _at(edge: str, text: str) -> str:
    said = _spoken(edge)
    return f"at {said}: {text}" if said != text else text


def _label(room: Room, plain: Plain, homeless: Sequence[str]) -> list[Mark]:
    """The piece's label, what is homeless on it, and the arrow of its grain beside it; what has no room in the piece stands
    outside."""
    piece, info = plain.cloth.piece, plain.info
    grain = piece.finish.grain
    way = UP if grain is None else np.array([grain[0].real, grain[0].imag])
    words = Words(info.title, cut_words(piece), whose(info), (*rows_of(piece, info), *homeless))
    marks, left = label_marks(room, words, way, _edges(piece))
    labels = [mark for mark in marks if isinstance(mark, Label)]
    if labels:
        room.take_rows(labels)
    clear = room.inside if room.free.is_empty else room.free
    drawn = [mark for mark in plain.drawing.marks if isinstance(mark, Label)]
    aside = words_aside(plain.drawing.outline, drawn, clear, info.title, left) if left or not marks else []
    if grain is None:
        return marks + aside
    lying = grain_line(piece, way)
    if lying is not None:
        return marks + aside + grain_on(*lying, info.nap)
    near = np.mean([label.box.mean(axis=0) for label in labels], axis=0) if labels else room.heart
    corner = plain.drawing.outline.max(axis=0)
    return marks + aside + (grain_marks(room, way, near, info.nap) or grain_aside(corner, aside, way, info.nap))


def _edges(piece: Piece) -> list[Reals]:
    """Edges of the outline along which a label may run, the longest first, each as points (n, 2) without repeats."""
    shut = piece.dart_sides()
    runs = [thinned(flat(side.drawn)) for i, side in enumerate(piece.ring) if i not in shut and not on_fold(piece, side)]
    return sorted(runs, key=_long, reverse=True)[:MOST_EDGES]
