"""What holds by its numbers and goes wrong at the machine: edges that turn back, darts sewn to the bust point, unlike allowances
or none, steps, unlike hems, too much ease, threads across each other, facings too narrow or too short, sleeves sewn to the lining
alone."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

import numpy as np

from ..diagnostics import collar_words
from ..diagnostics import sewing_words as words
from ..diagnostics.assembly_words import TURNED_ROUND
from ..diagnostics.diagnostic import Diagnostic, Span
from ..finish import behind, bindings, cap_halves, collars, hang, linings, over_folds, threads, turning_back, unlike
from ..finish.seams import SewnSeam
from ..finish.together import Garment
from ..geometry.lanes import Lanes, cross, dot, in_groups, norm, unit
from ..meaning.style import CheckedStyle
from ..pattern.darts import is_open_below
from ..pattern.piece import Dart, Piece, Reals
from ..pattern.which_ends import Sewn, edge_named
from .fullness import GATHERED
from .numbers import column, digits_in
from .results import BodyResult

LaneWarning = tuple[int, Diagnostic]
"""The lane of a body, and what is told of it."""

Found = TypeVar("Found")
Doubt = Callable[[CheckedStyle, Garment, Sequence[BodyResult]], Iterator[LaneWarning]]

ENDS_SHORT = 3.0
"""A dart ends 2 to 3 cm short of the bust point (common practice, no source); one that ends as near to it as this (mm) was drawn
to the point and not shortened. In between a block may let a short one end."""

BESIDE_IT, FAR_BEYOND = 20.0, 60.0
"""A dart that passes a point nearer than the first (mm) is drawn to it; one that ends farther beyond than the second is not."""

SUPERIMPOSED, BOUND = "1.", "3."
"""Seams of the first class of ISO 4916 are sewn with both cut edges together, of others one may stand out; in those of the second
a strip binds an edge."""


def _turning_back(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for name, piece in garment.sewn.pieces.items():
        for edge, degrees in turning_back.hooks(piece):
            for lane, bent in enumerate(column(degrees, len(results))):
                if bent:
                    yield lane, words.turns_back(style.definitions[name], name, edge, bent)


def _to_the_point(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Darts of a front of the bodice that run to a point marked on it, as the bust point, or beyond it."""
    for name, piece in garment.sewn.pieces.items():
        marked = {point: at for point, at in piece.points.items() if at is not None and "." not in point}
        closed = [dart for dart in piece.darts if not is_open_below(piece, dart)] if piece.covers == "bodice_front" else []
        for dart, (point, at) in itertools.product(closed, marked.items()):
            ends = (column(mm, len(results)) for mm in _ends_of(piece, dart, at))
            for lane, (short, beyond) in enumerate(zip(*ends, strict=True)):
                span, say = style.definitions[name], digits_in(results[lane].unit)
                if short < ENDS_SHORT:
                    yield lane, words.to_the_point(span, name, dart.name, point, short, say)
                elif ENDS_SHORT < beyond < FAR_BEYOND:
                    yield lane, words.beyond_the_point(span, name, dart.name, point, beyond, say)


def _ends_of(piece: Piece, dart: Dart, at: Reals) -> tuple[Reals, Reals]:
    """How near (L,) mm a dart ends to a point, and how far it runs on behind that where it passes near it."""
    first, second = piece.sides(dart.first), piece.sides(dart.second)
    apex = first[-1].drawn.end
    way = unit(apex - (first[0].drawn.start + second[-1].drawn.end) / 2.0)
    past = np.where(np.abs(cross(way, apex - at)) < BESIDE_IT, dot(way, apex - at), 0.0)
    return norm(at - apex), np.asarray(past)


def _allowed_unlike(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in unlike.unlike_allowances(garment.sewn, _superimposed(garment, results)):
        for lane, (left, right) in enumerate(zip(*(column(side, len(results)) for side in (one.left, one.right)), strict=True)):
            if not np.isnan(left):
                say = digits_in(results[lane].unit)
                yield lane, words.unlike_allowances(_span(style, one.seam), one.seam, one.edges, left, right, say)


def _not_allowed(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Seams that have no allowance, each told once."""
    told: dict[str, set[int]] = {}
    for one in unlike.without_allowance(garment.sewn, _superimposed(garment, results)):
        for lane, none in enumerate(column(one.left, len(results))):
            if not np.isnan(none) and lane not in told.setdefault(one.seam, set()):
                told[one.seam].add(lane)
                yield lane, words.nothing_allowed(_span(style, one.seam), one.seam, one.edges)


def _hemmed_unlike(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in unlike.unlike_hems(garment.sewn, garment.seams):
        for lane, (left, right) in enumerate(zip(*(column(side, len(results)) for side in (one.left, one.right)), strict=True)):
            if not np.isnan(left):
                say = digits_in(results[lane].unit)
                yield lane, words.unlike_hems(_span(style, one.seam), one.seam, one.edges, left, right, say)


def _crossed(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in threads.crossed(garment.sewn, garment.seams):
        told = words.threads_crossed(style.definitions[one.across], one.seam, one.across, one.along)
        yield from ((lane, told) for lane in np.flatnonzero(np.broadcast_to(one.where, (len(results),))).tolist())


def _stepped(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in unlike.steps(garment.sewn, garment.seams):
        for lane, step in enumerate(column(np.abs(one.left - one.right), len(results))):
            if not np.isnan(step):
                say = digits_in(results[lane].unit)
                yield lane, words.makes_a_step(_span(style, one.seam), one.seam, one.edges, step, say)


def _eased(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for name, shares in unlike.eased_too_much(garment.seams):
        for lane, share in enumerate(column(shares, len(results))):
            if share:
                yield lane, words.eased_too_much(_span(style, name), name, share)


def _not_gathered(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for lane, result in enumerate(results):
        for seam in result.seams:
            if seam.how == "gathers" and seam.holds and seam.ratio is not None and seam.ratio < GATHERED:
                yield lane, words.gathers_nothing(_span(style, seam.name), seam.name, seam.ratio)


def _narrow(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in behind.narrow(garment.sewn):
        for lane, (wide, allowed) in enumerate(zip(*(column(mm, len(results)) for mm in (one.wide, one.allowance)), strict=True)):
            if not np.isnan(wide):
                span, say = style.definitions[one.piece], digits_in(results[lane].unit)
                yield lane, words.narrower_than_allowed(span, one.piece, one.edge, wide, allowed, say)


def _short(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    finished = {place for way in results[0].specification.sewing for place in way.place}
    for one in behind.short(garment.sewn, garment.seams, finished):
        told = words.stops_short(style.definitions[one.piece], one.piece, one.faced, one.beyond, one.seam)
        yield from ((lane, told) for lane in np.flatnonzero(np.broadcast_to(one.where, (len(results),))).tolist())


def _sewn_behind(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in behind.sewn_behind(garment.sewn.pieces, garment.seams):
        told = words.sewn_behind(_span(style, one.seam), one.seam, one.piece, one.behind, one.before)
        yield from ((lane, told) for lane in range(len(results)))


def _to_a_point_at_the_fold(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in over_folds.points(garment.sewn, garment.seams):
        span = _span(style, one.at) if one.is_seam else style.definitions[edge_named(one.edges[0])[0]]
        for lane, degrees in enumerate(column(one.degrees, len(results))):
            if degrees:
                yield lane, words.comes_to_a_point(span, one.edges, one.at, one.is_seam, degrees)
    for seam in over_folds.parted(garment.sewn, garment.seams):
        for lane, degrees in enumerate(column(seam.degrees, len(results))):
            if degrees:
                yield lane, words.fold_parted(_span(style, seam.seam), seam.seam, seam.pieces, degrees)


def _hung_unlike(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in hang.unlike_bias(garment.sewn, garment.seams):
        for lane, offs in enumerate(zip(*(column(off, len(results)) for off in one.off), strict=True)):
            if not np.isnan(offs[0]):
                yield lane, words.hung_unlike(_span(style, one.seam), one.seam, one.edges, offs)


def _unmirrored(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in hang.unmirrored(garment.sewn, garment.seams):
        for lane, offs in enumerate(zip(*(column(off, len(results)) for off in one.off), strict=True)):
            if not np.isnan(offs[0]):
                yield lane, words.unmirrored(_span(style, one.seam), one.seam, one.edges, offs, one.both)


def _bound_stiffly(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in bindings.stiff(garment.sewn, _bound(garment, results)):
        for lane, turns in enumerate(column(one.turns, len(results))):
            if not np.isnan(turns):
                yield lane, words.bound_stiffly(style.definitions[one.strip], one.seam, one.strip, one.edge, turns)


def _turned_round(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Where strokes tell it too, that is enough."""
    for one in cap_halves.turned_round(garment.sewn):
        told = words.cap_turned_round(style.definitions[one.piece], one.piece, one.at_front, one.at_back)
        for lane in np.flatnonzero(np.broadcast_to(one.where, (len(results),))).tolist():
            if not any(wrong.code == TURNED_ROUND for wrong in results[lane].assembly.wrong):
                yield lane, told


def _as_large(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in collars.as_large(garment.sewn, garment.seams):
        for lane, smaller in enumerate(column(one.smaller, len(results))):
            if not np.isnan(smaller):
                say = digits_in(results[lane].unit)
                yield lane, collar_words.as_large(_span(style, one.seam), one.seam, one.pieces, smaller, say)


def _standing(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for one in collars.standing(garment.sewn, garment.seams):
        for lane, mm in enumerate(zip(*(column(each, len(results)) for each in (one.high, one.outer, one.place)), strict=True)):
            if not np.isnan(mm[0]):
                span, say = style.definitions[one.piece], digits_in(results[lane].unit)
                yield lane, collar_words.stands(span, one.seam, one.piece, one.edge, mm, say)


def _lined_without_ease(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Of a lining in a cloth that stretches none is asked."""
    gives = {cloth.name for cloth in results[0].specification.cloths if cloth.stretch}
    for lanes, one in on_alike(garment, len(results), lambda sewn, _: linings.without_ease(sewn)):
        if gives.intersection(cut.cloth for cut in garment.sewn.pieces[one.lining].finish.cuts):
            continue
        span = style.definitions[one.lining]
        amounts = (column(mm, len(lanes)) for mm in (one.wider, one.longer))
        for lane, wider, longer in zip(lanes, *amounts, strict=True):
            if not (np.isnan(wider) and np.isnan(longer)):
                say = digits_in(results[lane].unit)
                yield lane, collar_words.lining_without_ease(span, (one.lining, one.shell), one.level, wider, longer, say)


SEWN: tuple[Doubt, ...] = (
    _turning_back,
    _to_a_point_at_the_fold,
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
    _turned_round,
    _hung_unlike,
    _unmirrored,
    _bound_stiffly,
    _as_large,
    _standing,
    _lined_without_ease,
)
"""All that is looked for."""


def on_alike(
    garment: Garment, count: int, find: Callable[[Sewn, Sequence[SewnSeam]], Iterable[Found]]
) -> Iterator[tuple[list[int], Found]]:
    """What is found on a garment of `count` bodies, each with the lanes of those that are alike in what decides it."""

    def on(lanes: Lanes) -> list[Found]:
        if lanes.size == count:
            return list(find(garment.sewn, garment.seams))
        seams = [seam.take(lanes) for seam in garment.seams]
        return list(find(Sewn({name: piece.take(lanes) for name, piece in garment.sewn.pieces.items()}, seams), seams))

    for lanes, found in in_groups(count, on):
        yield from ((lanes.tolist(), one) for one in found)


def _superimposed(garment: Garment, results: Sequence[BodyResult]) -> list[SewnSeam]:
    """The seams that are sewn with both cut edges together, as far as is said."""
    classes = _classes(results[0])
    return [seam for seam in garment.seams if not classes[seam.name] or classes[seam.name].startswith(SUPERIMPOSED)]


def _bound(garment: Garment, results: Sequence[BodyResult]) -> list[SewnSeam]:
    """The seams in which one side binds the other, as is said."""
    classes = _classes(results[0])
    return [seam for seam in garment.seams if classes[seam.name].startswith(BOUND)]


def _classes(result: BodyResult) -> dict[str, str]:
    """The seam types of ISO 4916 by seam, nothing where none is said."""
    types = {way.name: way.seam_type or "" for way in result.specification.sewing}
    return {seam.name: types.get(seam.sewn, "") for seam in result.seams}


def _span(style: CheckedStyle, seam: str) -> Span:
    return style.origins[style.seams[seam]].span
