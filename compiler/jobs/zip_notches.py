"""Notches that are to mark where a closure ends, and do not."""

from __future__ import annotations

from collections.abc import Iterator

from ..bodies.body import Body
from ..diagnostics import assembly_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..drawing.wording import Ending
from ..geometry.length import length
from ..geometry.tolerances import SEW
from ..meaning.style import CheckedStyle
from ..pattern.piece import Piece
from ..pattern.which_ends import Sewn
from .numbers import in_unit
from .openings import closes_in_part, endings
from .results import BodyResult

BESIDE = 30.0
"""A notch with a name that stands no farther (mm) from where a closure ends, where no other marks that, is
taken to mark it (ours)."""


def misplaced(style: CheckedStyle, result: BodyResult, body: Body) -> Iterator[Diagnostic]:
    """Of each closure that ends within an edge the notch with a name beside its end, where there is none at it."""
    if not any(notch.name for one in result.pieces for notch in one.piece.notches):
        return
    if not any(closes_in_part(row) for row in result.specification.closures):
        return
    pieces = {one.name: one.alone().piece for one in result.pieces}
    told, say = set[str](), in_unit(body.unit)
    for owner, ends in endings(result, Sewn(pieces, result.seams)).items():
        for end in ends:
            near = _nearest(pieces[owner], end)
            if near is not None and SEW < near[0] <= BESIDE and near[1] not in told:
                told.add(near[1])
                edge = f"{owner}.{end.edge}"
                yield words.notch_beside(style.definitions[owner], near[1], edge, end.text, say(near[0]))


def _nearest(piece: Piece, end: Ending) -> tuple[float, str] | None:
    """How far (mm) from where a closure ends the nearest notch of its edge with a name is, and this; None where one without a
    name is nearer, or there is none."""
    found, before = list[tuple[float, str]](), 0.0
    for side in piece.run(end.edge):
        here = (notch for notch in piece.notches if notch.side == side)
        found += [(abs(before + float(notch.at[0]) - end.at), notch.name) for notch in here if notch.name or notch.stated]
        before += float(length(piece.ring[side].drawn)[0])
    nearest = min(found, default=None)
    return nearest if nearest is not None and nearest[1] else None
