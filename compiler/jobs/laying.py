"""What a cutter would not cut: pieces without a grain, on a fold that no cloth can be folded along, or wider than their cloth,
allowances that cannot be folded back, and darts too narrow to be sewn."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..finish.breadth import unfolded_breadth
from ..finish.finished import FinishedPiece, finished
from ..finish.stated import HEMS, corner_at
from ..geometry.lanes import norm
from ..geometry.path import chain
from ..geometry.tolerances import COINCIDE
from ..pattern.darts import is_open_below
from ..pattern.edges import edge_path
from ..pattern.piece import Piece, Reals
from ..pattern.truing import off_chord
from .fit import without_ease
from .outcome import BodyResult, PieceResult
from .prepare import Prepared

FOLDED = 45.0
"""Cloth is folded along the thread, across it or on the bias: at a multiple of this many degrees (common practice, no source)."""

OFF = 0.5
"""A fold this many degrees off is laid true by hand."""

BENT = 1.0
"""An edge bent by this many mm is not laid on a fold: a line is cut no truer."""


LEAST_DART = 6.0
"""A dart narrower than this at its edge, mm, is not sewn: its cloth is eased in (common practice, no source)."""


def doubts(prepared: Prepared, results: Sequence[BodyResult]) -> tuple[Diagnostic, ...]:
    """All these warnings, and that of promises that ask for nothing."""
    return tuple(told for each in (off_grain, too_wide, unturned, narrow, unasked) for told in each(prepared, results))


def unasked(prepared: Prepared, results: Sequence[BodyResult]) -> tuple[Diagnostic, ...]:
    """A warning where nothing that is promised asks for ease, of the first body on which it does not."""
    assert prepared.style is not None
    for result in results:
        if told := without_ease(prepared.style, result.fits):
            return (told[0].on(result.name),)
    return ()


def off_grain(prepared: Prepared, results: Sequence[BodyResult]) -> tuple[Diagnostic, ...]:
    """A warning for each piece that cannot be laid on its cloth as it says, of the first body on which it cannot."""
    assert prepared.style is not None
    found: dict[str, Diagnostic] = {}
    for result in results:
        for one in result.pieces:
            span = prepared.style.definitions[one.name]
            if one.piece.finish.grain is None:
                found.setdefault(one.name, words.no_grain(span, one.name))
            elif one.piece.fold is not None and (told := _of_fold(span, one, one.piece.fold)) is not None:
                found.setdefault(one.name, told.on(result.name))
    return tuple(found.values())


def too_wide(prepared: Prepared, results: Sequence[BodyResult]) -> tuple[Diagnostic, ...]:
    """A warning for each piece that takes more width than its cloth has, of the first body on which it does."""
    assert prepared.style is not None
    found: dict[str, Diagnostic] = {}
    reach: dict[int, Reals] = {}  # the bodies of a group share their pieces
    for result in results:
        widths = {cloth.name: cloth.width_mm for cloth in result.specification.cloths}
        for one in result.pieces:
            if id(one.piece) not in reach:
                reach[id(one.piece)] = unfolded_breadth(one.piece, min(widths.values(), default=np.inf))
            across = reach[id(one.piece)]
            wide = float(across[one.lane if across.size > 1 else 0])
            for cut in one.piece.finish.cuts:
                if wide > widths.get(cut.cloth, np.inf):
                    span = prepared.style.definitions[one.name]
                    told = words.wider_than_cloth(span, one.name, wide, cut.cloth, widths[cut.cloth])
                    found.setdefault(one.name, told.on(result.name))
    return tuple(found.values())


def unturned(prepared: Prepared, results: Sequence[BodyResult]) -> tuple[Diagnostic, ...]:
    """A warning for each allowance that cannot be folded back as stated, of the first body on which it cannot."""
    assert prepared.style is not None
    cloths: dict[int, FinishedPiece] = {}  # the bodies of a group share their pieces
    found: dict[tuple[str, str], Diagnostic] = {}
    for result in results:
        for one in result.pieces:
            if not _turned_back(one.piece):
                continue
            span = prepared.style.definitions[one.name]
            cloth = cloths.get(id(one.piece)) or cloths.setdefault(id(one.piece), finished(one.piece))
            for index, lanes in cloth.unturned:
                a, b = (one.piece.ring[(index + k) % len(one.piece.ring)] for k in (0, 1))
                hem, beside = (a, b) if corner_at(one.piece, a, b) in HEMS else (b, a)
                if lanes[one.lane if lanes.size > 1 else 0] and corner_at(one.piece, hem, beside) in HEMS:
                    told = words.not_turned(span, one.name, hem.edge, beside.edge)
                    found.setdefault((one.name, hem.edge), told.on(result.name))
    return tuple(found.values())


def narrow(prepared: Prepared, results: Sequence[BodyResult]) -> tuple[Diagnostic, ...]:
    """A warning for each dart that is too narrow to be sewn, of the first body on which it is."""
    assert prepared.style is not None
    found: dict[tuple[str, str], Diagnostic] = {}
    for result in results:
        for one in result.pieces:
            for dart in (dart for dart in one.piece.darts if not is_open_below(one.piece, dart)):
                mouths = one.piece.sides(dart.first)[0].drawn.start, one.piece.sides(dart.second)[-1].drawn.end
                across = norm(mouths[1] - mouths[0])
                wide = float(across[one.lane if across.size > 1 else 0])
                if wide < LEAST_DART - COINCIDE:
                    told = words.narrow_dart(prepared.style.definitions[one.name], one.name, dart.name, wide, LEAST_DART)
                    found.setdefault((one.name, dart.name), told.on(result.name))
    return tuple(found.values())


def _turned_back(piece: Piece) -> bool:
    """Whether an allowance of the piece is folded back: only then is its cut line drawn to see whether it can be."""
    stated = (*piece.finish.corners.values(), *(one.corner for one in piece.finish.allowances.values()))
    return any(corner in HEMS for corner in stated)


def _of_fold(span: Span, one: PieceResult, fold: str) -> Diagnostic | None:
    """What is wrong with the fold of a piece: it is bent, or lies in no way in which cloth is folded."""
    piece = one.piece.take(np.array([one.lane]))
    path = chain(edge_path(piece, fold))
    assert piece.finish.grain is not None
    if (bend := float(off_chord(path)[0])) > BENT:
        return words.fold_bent(span, one.name, fold, bend)
    way = np.degrees(np.arctan2(*(path.end - path.start)[0][::-1]) - np.angle(piece.finish.grain[0]))
    off = float(abs((way + FOLDED / 2) % FOLDED - FOLDED / 2))
    return words.fold_off_grain(span, one.name, fold, off) if off > OFF else None
