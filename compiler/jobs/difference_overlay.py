"""The overlay of what changed on a body: its pieces, old and new, as one sheet."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..diagnostics import difference_words as words
from ..difference.cloth import BodyCloth, ClothDifference, PieceDifference, PieceOnBody
from ..difference.distance import moved_runs
from ..difference.edges import edge_pairs
from ..difference.figures import Figures
from ..difference.moves import runs_on
from ..difference.notches import NotchChange
from ..difference.outline import Laying, outline
from ..difference.telling import lines_of, small_lines
from ..drawing.lines import flat
from ..drawing.marks import Sheet
from ..drawing.overlay import Arrow, Overlay, overlay_sheet
from ..finish.finished import FinishedPiece
from ..finish.notching import notch_strokes
from ..geometry.lanes import FloatArray
from ..geometry.length import length, point_at
from ..geometry.path import thinned
from ..geometry.tolerances import COINCIDE, SEW


def overlay_of(
    title: str, difference: ClothDifference, old: BodyCloth, new: BodyCloth, only: str = "", least: float = SEW
) -> Sheet | None:
    """All pieces that changed on a body, or one by its name, as a sheet; None where none did."""
    figures = Figures(new.unit)
    found: list[Overlay] = []
    same: list[str] = []
    less: list[str] = []
    for piece in difference.pieces:
        here = next((one for one in piece.bodies if one.body == new.name), None)
        if only and piece.name != only:
            continue
        if here is not None and here.is_same:
            same.append(words.spoken(piece.name))
        elif here is not None and len(lines_of(here, figures, least)) == len(small := small_lines(here, figures, least)):
            less += [f"{words.spoken(piece.name)}, {line}" for line in small]
        else:
            found += _overlay(piece, here, old, new, figures, least)
    if not found:
        return None
    return overlay_sheet(title, found, [*less, *([words.same_pieces(same)] if same else [])])


def _overlay(
    piece: PieceDifference, here: PieceOnBody | None, old: BodyCloth, new: BodyCloth, figures: Figures, least: float
) -> Iterator[Overlay]:
    before, after = old.pieces.get(piece.old_name), new.pieces.get(piece.name)
    if here is None:
        cloth = before or after
        if cloth is not None:
            told = words.piece_gone() if after is None else words.piece_new()
            yield _alone(piece.name, cloth, after is not None, told)
        return
    if before is not None and after is not None:
        yield _both(piece.name, before, after, here, figures, least)


def _alone(name: str, cloth: FinishedPiece, is_new: bool, told: str) -> Overlay:
    cut, sewn = thinned(cloth.cut[0]), tuple(_sewn(cloth, Laying()))
    if is_new:
        return Overlay(name, None, cut, (), sewn, (), (), (), (), (told,))
    return Overlay(name, cut, None, sewn, (), (), (), (), (), (told,))


def _both(
    name: str, old: FinishedPiece, new: FinishedPiece, here: PieceOnBody, figures: Figures, least: float
) -> Overlay:
    laying = here.laying
    pairs = edge_pairs(outline(old), outline(new).laid(laying))
    both = [(pair.old, pair.new) for pair in pairs if pair.old and pair.new and pair.new.kind != "level"]
    moved = [run for one, other in both for run in moved_runs(one.sampled, other.sampled, least)]
    moved += [pair.new.sampled.points for pair in pairs if pair.new and not pair.old and pair.new.kind != "level"]
    return Overlay(
        name,
        thinned(old.cut[0]),
        laying.points(thinned(new.cut[0])),
        tuple(_sewn(old, Laying())),
        tuple(_sewn(new, laying)),
        tuple(moved),
        tuple(_arrows(here, figures, least)),
        tuple(_strokes(old, Laying(), [at for change in here.notches for at in _from(change)])),
        tuple(_strokes(new, laying, [at for change in here.notches for at in _to(change)])),
        tuple(lines_of(here, figures, least)),
    )


def _sewn(cloth: FinishedPiece, laying: Laying) -> Iterator[FloatArray]:
    """The sewing lines, and those of holes and lines inside that are sewn or folded."""
    piece = cloth.piece
    inner = [side for side in piece.lines if not piece.has_sign(side, "level")]
    for side in (*piece.ring, *(side for hole in piece.holes for side in hole.sides), *inner):
        points = thinned(flat(side.drawn))
        if points.shape[0] > 1:
            yield laying.points(points)


def _arrows(here: PieceOnBody, figures: Figures, least: float) -> Iterator[Arrow]:
    for edge in here.edges:
        if edge.apart is not None and edge.kind != "level" and edge.most >= least and not runs_on(edge):
            at = np.array(edge.apart.at)
            yield Arrow(at, at + np.array(edge.apart.vector), figures.moved(edge.most))


def _from(change: NotchChange) -> list[tuple[float, float]]:
    return _moved(change, change.old_at)


def _to(change: NotchChange) -> list[tuple[float, float]]:
    return _moved(change, change.new_at)


def _moved(change: NotchChange, places: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    if change.is_recounted:
        return [*places]
    return [at for at, far in zip(places, change.moved, strict=True) if far >= SEW or change.old_strokes != change.new_strokes]


def _strokes(cloth: FinishedPiece, laying: Laying, places: list[tuple[float, float]]) -> Iterator[FloatArray]:
    """The strokes of the notches that stand at these places, as they are laid."""
    wanted = np.array(places).reshape(-1, 2)
    for notch in cloth.piece.notches:
        at = laying.points(_foot(cloth, notch.side, notch.at))
        if wanted.size and np.abs(wanted - at).max(axis=1).min() < COINCIDE:
            yield from (laying.points(stroke) for stroke in notch_strokes(cloth, notch))


def _foot(cloth: FinishedPiece, side: int, at: FloatArray) -> FloatArray:
    path = cloth.piece.ring[side].drawn
    foot: FloatArray = point_at(path, np.clip(at[:1], 0.0, length(path)))[0]
    return foot
