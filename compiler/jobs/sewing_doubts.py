"""What holds by its numbers and goes wrong at the machine: edges that turn back, darts sewn to the bust point, unlike allowances
or none, steps, unlike hems, too much ease, threads across each other, facings too narrow or too short, sleeves sewn to the lining
alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np

from ..diagnostics import sewing_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..finish import behind, threads, turning_back, unlike
from ..finish.seams import SewnSeam
from ..finish.together import Garment
from ..geometry.lanes import norm
from ..meaning.style import CheckedStyle
from ..pattern.darts import is_open_below
from ..pattern.piece import Piece
from ..pattern.which_ends import Sewn
from .fullness import GATHERED
from .numbers import column, digits_in
from .results import BodyResult

LaneWarning = tuple[int, Diagnostic]
"""The lane of a body, and what is told of it."""

Doubt = Callable[[CheckedStyle, Garment, Sequence[BodyResult]], Iterator[LaneWarning]]

ENDS_SHORT = 3.0
"""A dart ends 2 to 3 cm short of the bust point (common practice, no source); one that ends as near to it as this (mm) was drawn
to the point and not shortened. In between a block may let a short one end."""

SUPERIMPOSED = "1."
"""Seams of this class of ISO 4916 are sewn with both cut edges together; of others one may stand out."""


def _turning_back(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for name, piece in _pieces(garment).items():
        for edge, degrees in turning_back.hooks(piece):
            for lane, bent in enumerate(column(degrees, len(results))):
                if bent:
                    yield lane, words.turns_back(style.definitions[name], name, edge, bent)


def _to_the_point(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Darts of a front of the bodice that run to a point marked on it, as the bust point."""
    for name, piece in _pieces(garment).items():
        marked = {point: at for point, at in piece.points.items() if at is not None and "." not in point}
        for dart in piece.darts if piece.covers == "bodice_front" else ():
            apex = piece.sides(dart.first)[-1].drawn.end
            for point, at in marked.items():
                for lane, short in enumerate(column(norm(at - apex), len(results))):
                    if short < ENDS_SHORT and not is_open_below(piece, dart):
                        span, say = style.definitions[name], digits_in(results[lane].unit)
                        yield lane, words.to_the_point(span, name, dart.name, point, short, say)


def _allowed_unlike(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in unlike.unlike_allowances(*_laid(garment, _superimposed(results))):
        for lane, (left, right) in enumerate(zip(*(column(side, len(results)) for side in (one.left, one.right)), strict=True)):
            if not np.isnan(left):
                say = digits_in(results[lane].unit)
                yield lane, words.unlike_allowances(_span(style, one.seam), one.seam, one.edges, left, right, say)


def _not_allowed(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Seams that have no allowance, each told once."""
    told: dict[str, set[int]] = {}
    for one in unlike.without_allowance(*_laid(garment, _superimposed(results))):
        for lane, none in enumerate(column(one.left, len(results))):
            if not np.isnan(none) and lane not in told.setdefault(one.seam, set()):
                told[one.seam].add(lane)
                yield lane, words.nothing_allowed(_span(style, one.seam), one.seam, one.edges)


def _hemmed_unlike(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in unlike.unlike_hems(*_laid(garment, _seams(results))):
        for lane, (left, right) in enumerate(zip(*(column(side, len(results)) for side in (one.left, one.right)), strict=True)):
            if not np.isnan(left):
                say = digits_in(results[lane].unit)
                yield lane, words.unlike_hems(_span(style, one.seam), one.seam, one.edges, left, right, say)


def _crossed(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in threads.crossed(_pieces(garment), _seams(results)):
        told = words.threads_crossed(style.definitions[one.across], one.seam, one.across, one.along)
        yield from ((lane, told) for lane in np.flatnonzero(np.broadcast_to(one.where, (len(results),))).tolist())


def _stepped(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in unlike.steps(*_laid(garment, _seams(results))):
        for lane, step in enumerate(column(np.abs(one.left - one.right), len(results))):
            if not np.isnan(step):
                say = digits_in(results[lane].unit)
                yield lane, words.makes_a_step(_span(style, one.seam), one.seam, one.edges, step, say)


def _eased(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for name, shares in unlike.eased_too_much(_seams(results)):
        for lane, share in enumerate(column(shares, len(results))):
            if share:
                yield lane, words.eased_too_much(_span(style, name), name, share)


def _not_gathered(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for lane, result in enumerate(results):
        for seam in result.seams:
            if seam.how == "gathers" and seam.holds and seam.ratio is not None and seam.ratio < GATHERED:
                yield lane, words.gathers_nothing(_span(style, seam.name), seam.name, seam.ratio)


def _narrow(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in behind.narrow(garment.sewn(results[0].seams)):
        for lane, (wide, allowed) in enumerate(zip(*(column(mm, len(results)) for mm in (one.wide, one.allowance)), strict=True)):
            if not np.isnan(wide):
                span, say = style.definitions[one.piece], digits_in(results[lane].unit)
                yield lane, words.narrower_than_allowed(span, one.piece, one.edge, wide, allowed, say)


def _short(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    finished = {place for way in results[0].specification.sewing for place in way.place}
    for one in behind.short(*_laid(garment, _seams(results)), finished):
        told = words.stops_short(style.definitions[one.piece], one.piece, one.faced, one.beyond, one.seam)
        yield from ((lane, told) for lane in np.flatnonzero(np.broadcast_to(one.where, (len(results),))).tolist())


def _sewn_behind(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in behind.sewn_behind(_pieces(garment), _seams(results)):
        told = words.sewn_behind(_span(style, one.seam), one.seam, one.piece, one.behind, one.before)
        yield from ((lane, told) for lane in range(len(results)))


SEWN: tuple[Doubt, ...] = (
    _turning_back,
    _to_the_point,
    _allowed_unlike,
    _not_allowed,
    _stepped,
    _hemmed_unlike,
    _eased,
    _not_gathered,
    _crossed,
    _narrow,
    _short,
    _sewn_behind,
)
"""All that is looked for."""


def _pieces(garment: Garment) -> Mapping[str, Piece]:
    return {name: cloth.piece for name, cloth in garment.pieces.items()}


def _laid(garment: Garment, seams: Sequence[SewnSeam]) -> tuple[Sewn, Sequence[SewnSeam]]:
    return garment.sewn(seams), seams


def _seams(results: Sequence[BodyResult]) -> list[SewnSeam]:
    """The seams of a group of bodies as finishing sees them."""
    rows = zip(*(result.seams for result in results), strict=True)
    lengths = [tuple(np.array([getattr(seam, one) for seam in row]) for one in ("left_mm", "right_mm")) for row in rows]
    return [
        SewnSeam(one.name, one.how, one.left, one.right, left, right, one.strokes)
        for one, (left, right) in zip(results[0].seams, lengths, strict=True)
    ]


def _superimposed(results: Sequence[BodyResult]) -> list[SewnSeam]:
    """The seams that are sewn with both cut edges together, as far as is said."""
    classes = {way.name: way.seam_type or "" for way in results[0].specification.sewing}
    ways = {seam.name: classes.get(seam.sewn, "") for seam in results[0].seams}
    return [seam for seam in _seams(results) if not ways[seam.name] or ways[seam.name].startswith(SUPERIMPOSED)]


def _span(style: CheckedStyle, seam: str) -> Span:
    return style.origins[style.seams[seam]].span
