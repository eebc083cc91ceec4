"""One piece of one body as marks on paper."""

from __future__ import annotations

import numpy as np

from ..geometry.path import chain
from ..pattern.finish.allowance import Cloth, finished
from ..pattern.piece import Piece
from .lines import (
    cut_lines,
    dart_marks,
    dart_snip_marks,
    flat,
    fold_lines,
    hole_marks,
    notch_marks,
    obstacles,
    ring_points,
    sewing_lines,
    thinned,
)
from .marks import Circle, Curve, Drawing, Label, Line, Mark, Reals, extent
from .pleats import pleat_arrows
from .room import Room
from .signed import line_marks, named_lines, point_marks, set_back, slits_through
from .signs import bracket_ends, fold_bracket, fold_words, gather_wave
from .texts import ASIDE, edge_name, grain_aside, grain_marks, label_marks
from .wording import PieceInfo, rows_of

UP = np.array([0.0, 1.0])


def draw_piece(piece: Piece, lane: int, info: PieceInfo) -> Drawing:
    """The drawing of a piece for the body of one lane. The piece must be cloth, not a sketch."""
    cloth = finished(piece.take(np.array([lane])))
    one = cloth.piece
    marks = cloth_marks(cloth, info.drill_back)
    room = Room(ring_points(one.ring))
    room.take(obstacles(marks))
    for hole in one.holes:
        room.take_area(ring_points(hole.sides))
    marks += folds(room, [(a, b, edge) for a, b, edge in fold_lines(cloth)])
    homeless: list[str] = []  # words that find no room at their edge: the label says them
    marks += _gathers(room, one, info, homeless)
    marks += _names(room, one, info, homeless)
    marks += _label(room, one, info, marks, homeless)
    return Drawing(info.name, tuple(marks), thinned(cloth.cut[0]))


def cloth_marks(cloth: Cloth, drill_back: float) -> list[Mark]:
    """The lines and signs of a finished piece of one lane, all that needs no room to be found for it."""
    one = cloth.piece
    marks = sewing_lines(cloth) + inner_marks(one) + slits_through(cloth) + cut_lines(cloth) + notch_marks(cloth)
    for dart in one.darts:
        marks += dart_snip_marks(cloth, dart)
        marks += dart_marks(cloth, dart, set_back(one, dart.name, drill_back))
    for hole in one.holes:
        marks += hole_marks(hole, set_back(one, hole.name, drill_back))
    return marks


def inner_marks(piece: Piece) -> list[Mark]:
    """Lines and signs inside a piece of one lane."""
    return line_marks(piece) + point_marks(piece) + pleat_arrows(piece)


def folds(room: Room, folds: list[tuple[Reals, Reals, str]]) -> list[Mark]:
    marks: list[Mark] = []
    for start, end, edge in folds:
        bracket, words = fold_bracket(start, end, edge), fold_words(start, end, edge)
        marks += [Line("fold", np.stack([start, end]), source=edge), *bracket]
        if room.holds(words.box):
            marks.append(words)
        room.take(obstacles(bracket))
        room.take_area(bracket_ends(start, end))
    return marks


def _edge_points(piece: Piece, edge: str) -> Reals:
    """The longest side of an edge as points (n, 2)."""
    runs = [flat(side.drawn) for side in piece.sides(edge)]
    return max(runs, key=lambda points: float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum()))


def _gathers(room: Room, piece: Piece, info: PieceInfo, homeless: list[str]) -> list[Mark]:
    marks: list[Mark] = []
    for edge, text in sorted(info.gathers.items()):
        if not piece.sides(edge):
            continue
        run = flat(chain([side.drawn for side in piece.sides(edge)]))
        waves = gather_wave(run, edge)
        marks += waves
        room.take(obstacles(waves))
        marks += _beside(room, run, text, edge, homeless)
    return marks


def _beside(room: Room, run: Reals, text: str, edge: str, homeless: list[str]) -> list[Mark]:
    """The text along an edge; where there is no room for it, it is put with the homeless."""
    label = edge_name(room, run, text, edge)
    if label is None:
        said = edge.replace("_", " ").replace(".", " ")
        homeless.append(f"at {said}: {text}" if said != text else text)
        return []
    room.take_area(label.box)
    return [label]


def _names(room: Room, piece: Piece, info: PieceInfo, homeless: list[str]) -> list[Mark]:
    """Names of seams along their edges, and of inner lines along these."""
    wanted = [(edge, text) for edge, text in sorted(info.seam_names.items()) if piece.sides(edge)]
    wanted += [(name, name.replace("_", " ")) for name in named_lines(piece)]
    marks: list[Mark] = []
    for edge, text in wanted:
        marks += _beside(room, _edge_points(piece, edge), text, edge, homeless)
    return marks


def _label(room: Room, piece: Piece, info: PieceInfo, drawn: list[Mark], homeless: list[str]) -> list[Mark]:
    """The piece's label along its grain, and the arrow of the grain beside it, or under it where the piece is too small."""
    grain = piece.finish.grain
    way = UP if grain is None else np.array([grain[0].real, grain[0].imag])
    right = max(float(extent(mark)[:, 0].max()) for mark in drawn)
    found = label_marks(room, info.name, (*rows_of(piece, info), *homeless), way, right)
    labels = [mark for mark in found if isinstance(mark, Label)]
    room.take_area(np.concatenate([label.box for label in labels]))
    if grain is None:
        return found
    outside = any(isinstance(mark, Line | Circle | Curve) for mark in found)
    near = room.heart if outside else np.mean([label.box.mean(axis=0) for label in labels], axis=0)
    inside = grain_marks(room, way, near, info.nap)
    if inside:
        return found + inside
    corner = np.concatenate([label.box for label in labels]).min(axis=0) if outside else np.array([right + ASIDE, near[1]])
    return found + grain_aside(corner, way, info.nap)
