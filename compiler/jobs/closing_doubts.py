"""What holds by its numbers and does not close: buttons without an overlap, wraps that lap too little, ties too short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from ..diagnostics import closing_words as words
from ..finish.laps import buttoned_within, wraps
from ..finish.together import Garment
from ..meaning.style import CheckedStyle
from .numbers import column, digits_in
from .results import BodyResult
from .sewing_doubts import LaneWarning, on_alike

LEAST_WRAP = 150.0
"""The fronts of a wrap lap over each other by so much (mm) in all at least (ours; the custom is 15 to 30 cm)."""

BOW = 500.0
"""A bow takes so much (mm) of both ties (ours: two loops of 10 cm, ends of 5 cm and more, and the knot)."""


def without_overlap(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for lanes, one in on_alike(garment, len(results), lambda sewn, _: buttoned_within(sewn)):
        for lane, inset in zip(lanes, column(one.inset, len(lanes)), strict=True):
            if not np.isnan(inset):
                span, say = style.definitions[one.piece], digits_in(results[lane].unit)
                yield lane, words.buttoned_within(span, one.piece, one.mark, one.edge, one.level, inset, say)


def wrapped(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """A wrap whose edges nothing closes, and one whose ties do not go round it."""
    closed = {place for row in results[0].specification.closures for place in row.place}
    for lanes, one in on_alike(garment, len(results), wraps):
        signs = (sign for name, _ in one.edges for sign in garment.sewn.pieces[name].signs.values())
        marked = any(sign.kind in ("button", "buttonhole") for sign in signs)
        shut = marked or any(f"{name}.{edge}" in closed for name, edge in one.edges)
        laps = column(one.lap, len(lanes))
        for lane, lap in zip(lanes, laps, strict=True):
            if lap < LEAST_WRAP and not shut:
                span, say = style.definitions[one.edges[0][0]], digits_in(results[lane].unit)
                yield lane, words.wraps_too_little(span, one.edges, one.level, lap, LEAST_WRAP, say)
        if one.band_long is None or one.ties_long is None:
            continue
        lengths = (column(one.band_long, len(lanes)), column(one.ties_long, len(lanes)), laps)
        for lane, band, ties, lap in zip(lanes, *lengths, strict=True):
            if ties < band - lap + BOW:
                span, say = style.definitions[one.ties[0]], digits_in(results[lane].unit)
                yield lane, words.ties_too_short(span, one.ties, ties, band - lap, BOW, say)


CLOSING = (without_overlap, wrapped)
"""All that is looked for."""
