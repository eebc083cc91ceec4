"""What a cutter would not cut: pieces without a grain, on a fold that no cloth can be folded along, or wider than their cloth,
allowances that cannot be folded back, edges that break over a seam or a dart, darts too narrow to be sewn or of unlike legs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from ..bodies.units import Unit
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..finish.breadth import unfolded_breadth
from ..finish.finished import FinishedPiece
from ..finish.judge import BENT, bend_of_fold
from ..finish.running_on import over_darts, over_seams
from ..finish.stated import HEMS, corner_at
from ..finish.together import Garment
from ..geometry.lanes import norm
from ..geometry.path import chain
from ..geometry.tolerances import SEW
from ..meaning.style import CheckedStyle
from ..pattern.darts import is_open_below
from ..pattern.edges import edge_length, edge_path
from .closing_doubts import CLOSING
from .fit import without_ease
from .numbers import bare, column, digits_in
from .results import BodyResult
from .sewing_doubts import SEWN, LaneWarning
from .trimming_doubts import TRIMMING

FOLDED = 45.0
"""Cloth is folded along the thread, across it or on the bias: at a multiple of this many degrees (common practice, no source)."""

OFF = 0.5
"""A fold this many degrees off is laid true by hand."""


LEAST_DART = 6.0
"""A dart narrower than this at its edge, mm, is not sewn: its cloth is eased in (common practice, no source)."""


def warnings_on(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> list[tuple[Diagnostic, ...]]:
    """For each body of a group the warnings of its pieces, and where nothing that is promised of it asks for ease."""
    found: list[list[Diagnostic]] = [[] for _ in results]
    units = [result.unit for result in results]
    for name, cloth in garment.pieces.items():
        span = style.definitions[name]
        for doubt in (_bent, _off_grain, unturned, _narrow):
            for lane, told in doubt(span, name, cloth, units):
                found[lane].append(told)
    of_all = (_too_wide, _broken, _unlike, _unsettled, *SEWN, *TRIMMING, *CLOSING)
    for lane, told in (*(one for doubt in of_all for one in doubt(style, garment, results)), *_unasked(style, results)):
        found[lane].append(told)
    return [tuple(told.on(result.name) for told in row) for row, result in zip(found, results, strict=True)]


def _unasked(style: CheckedStyle, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for lane, result in enumerate(results):
        if told := without_ease(style, result.fits):
            yield lane, told[0]


def _broken(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Edges that do not run on over a seam or over a dart."""
    for one in over_seams(garment.sewn, garment.seams):
        span = style.origins[style.seams[one.over]].span
        for lane, degrees in enumerate(column(one.degrees, len(results))):
            if degrees:
                yield lane, words.breaks_over_seam(span, one.over, one.edges, degrees)
    for name, piece in garment.sewn.pieces.items():
        for one in over_darts(name, piece):
            for lane, degrees in enumerate(column(one.degrees, len(results))):
                if degrees:
                    yield lane, words.breaks_over_dart(style.definitions[name], one.edges[0], one.over, degrees)


def _unlike(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Darts whose legs are not as long as each other; of those that are a seam of their own, the seam tells."""
    sewn = {edge for seam in results[0].seams for edge in (*seam.left, *seam.right)}
    for name, cloth in garment.pieces.items():
        for dart in cloth.piece.darts:
            legs = dart.first, dart.second
            if is_open_below(cloth.piece, dart) or sewn.intersection(f"{name}.{leg}" for leg in legs):
                continue
            differ = np.abs(edge_length(cloth.piece, legs[0]) - edge_length(cloth.piece, legs[1]))
            for lane, by in enumerate(column(differ, len(results))):
                if by > SEW:
                    yield lane, words.unlike_legs(style.definitions[name], name, dart.name, by, digits_in(results[lane].unit))


def _unsettled(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Seams of which nothing tells which ends meet: they get no notches."""
    for name in garment.unsettled:
        told = words.ends_unsettled(style.origins[style.seams[name]].span, name)
        yield from ((lane, told) for lane in range(len(results)))


def _bent(span: Span, name: str, cloth: FinishedPiece, units: Sequence[Unit]) -> Iterator[LaneWarning]:
    """Pieces on a fold that is bent, of whose cut line nothing more can be said."""
    for lane, bend in enumerate(column(bend_of_fold(cloth), len(units))):
        if bend > BENT:
            yield lane, words.fold_bent(span, name, str(cloth.piece.fold), bend, digits_in(units[lane]))


def _off_grain(span: Span, name: str, cloth: FinishedPiece, units: Sequence[Unit]) -> Iterator[LaneWarning]:
    """Pieces that cannot be laid on their cloth as they say: without a grain, or on a fold off all ways cloth is folded in."""
    piece = cloth.piece
    if piece.finish.grain is None:
        yield from ((lane, words.no_grain(span, name)) for lane in range(len(units)))
    elif piece.fold is not None:
        path = chain(edge_path(piece, piece.fold))
        along = path.end - path.start
        way = np.degrees(np.arctan2(along[:, 1], along[:, 0]) - np.angle(piece.finish.grain))
        off = np.abs((way + FOLDED / 2) % FOLDED - FOLDED / 2)
        for lane, (bend, turned) in enumerate(zip(column(bend_of_fold(cloth), len(units)), column(off, len(units)), strict=True)):
            if turned > OFF and bend <= BENT:
                yield lane, words.fold_off_grain(span, name, piece.fold, turned)


def _too_wide(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Pieces that take more width than their cloth has."""
    widths = [{cloth.name: cloth.width_mm for cloth in result.specification.cloths} for result in results]
    for name, cloth in garment.pieces.items():
        if cloth.piece.finish.grain is None:
            continue
        for lane, wide in enumerate(column(unfolded_breadth(cloth), len(results))):
            for cut in cloth.piece.finish.cuts:
                usable = widths[lane].get(cut.cloth, np.inf)
                if wide > usable:
                    say = _of_cloth(results[lane].unit)
                    yield lane, words.wider_than_cloth(style.definitions[name], name, wide, cut.cloth, usable, say)


def _of_cloth(unit: Unit) -> Callable[[float], str]:
    """Widths of cloth are said in cm, or in inches."""
    return lambda mm: f"{mm / 10:.1f} cm" if unit != "in" else f"{bare(mm, unit)} in"


def unturned(span: Span, name: str, cloth: FinishedPiece, units: Sequence[Unit]) -> Iterator[LaneWarning]:
    """Allowances that cannot be folded back as stated."""
    piece = cloth.piece
    for index, lanes in cloth.unturned:
        a, b = (piece.ring[(index + k) % len(piece.ring)] for k in (0, 1))
        hem, beside = (a, b) if corner_at(piece, a, b) in HEMS else (b, a)
        if corner_at(piece, hem, beside) in HEMS:
            told = words.not_turned(span, name, hem.edge, beside.edge)
            yield from ((int(lane), told) for lane in np.flatnonzero(np.broadcast_to(lanes, (len(units),))))


def _narrow(span: Span, name: str, cloth: FinishedPiece, units: Sequence[Unit]) -> Iterator[LaneWarning]:
    """Darts that are too narrow to be sewn."""
    piece = cloth.piece
    for dart in (dart for dart in piece.darts if not is_open_below(piece, dart)):
        mouths = piece.sides(dart.first)[0].drawn.start, piece.sides(dart.second)[-1].drawn.end
        for lane, wide in enumerate(column(norm(mouths[1] - mouths[0]), len(units))):
            if wide < LEAST_DART - SEW:
                yield lane, words.narrow_dart(span, name, dart.name, wide, LEAST_DART, digits_in(units[lane]))
