"""Rates as records: on bodies, each by itself, or on the sizes of a chart with its growth by cause."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from ..bodies.body import Body
from ..graph.resting import arms_of
from ..meaning.payloads import Extreme, Setting
from ..meaning.style import CheckedStyle, Node
from ..output.rates_records import (
    RATES_SCHEMA,
    BodyRatesRecord,
    CausedPieceRecord,
    PieceRatesRecord,
    PointRatesRecord,
    RateRecord,
    RatesReport,
    SourceRecord,
    SwitchedRecord,
)
from ..pattern.piece import Reals
from .causes import caused, places_of
from .nest import Run
from .nudged import Source
from .prepare import Prepared
from .rates import STILL, PieceRates, Rates, rates_on
from .switches import Choice, arm_of, sentence_of, switches

DIGITS = 6

NO_PIECE = "no length of a piece rests on it, only what there is of it, or a seam, a check or the specification"


def rated(prepared: Prepared) -> RatesReport:
    """The rates on each body."""
    rates = rates_on(prepared, prepared.bodies)
    return _report(prepared, rates, range(len(prepared.bodies)), prepared.bodies)


def rated_run(prepared: Prepared, run: Run) -> RatesReport:
    """The rates in each size, and growth by cause."""
    found, _ = switches(prepared, run)  # where a piece is not drawn between sizes, `grade` tells
    places = places_of(run, found)
    rates = rates_on(prepared, places.bodies, places.of_size(run, run.sample))
    sizes = [places.of_size(run, size) for size in run.sizes]
    return _report(prepared, rates, sizes, run.bodies, run, caused(run, places, rates, found))


def _report(
    prepared: Prepared,
    rates: Rates,
    at: Sequence[int],
    bodies: Sequence[Body],
    run: Run | None = None,
    growth: tuple[CausedPieceRecord, ...] = (),
) -> RatesReport:
    style = prepared.style
    assert style is not None
    rows = tuple(_body(style, rates, k, body) for k, body in zip(at, bodies, strict=True))
    sized = {one.name for one in rates.sources if one.is_choice}
    return RatesReport(
        RATES_SCHEMA,
        style.title,
        prepared.fingerprint,
        run.chart.title if run else None,
        run.sample if run else None,
        rows,
        growth,
        tuple(name for name in style.chosen if name not in sized),
    )


def _body(style: CheckedStyle, rates: Rates, at: int, body: Body) -> BodyRatesRecord:
    stands = np.zeros(len(rates.sources), dtype=bool)
    for piece in rates.pieces:
        for point in piece.points:
            stands |= rates.switches(piece, point)[at] & ~np.isnan(piece.points[point][at]).any()
    sources = tuple(_source(style, rates, at, number, bool(stands[number])) for number in range(len(rates.sources)))
    return BodyRatesRecord(body.name, sources, tuple(_piece(rates, piece, at) for piece in rates.pieces))


def _source(style: CheckedStyle, rates: Rates, at: int, number: int, stands: bool) -> SourceRecord:
    one = rates.sources[number]
    moves = rates.moves(at, number)
    given = one.is_choice or bool(rates.nudged.people.value(one.name)[1][at])
    why = _held_by(style, rates, at, one) if one.is_choice and not moves else ""
    found = _switched(style, rates, at, number) if stands else ()
    value = round(float(rates.values[at, number]), DIGITS)
    return SourceRecord(one.name, one.is_choice, one.per, value, given, moves, why, tuple(found))


def _piece(rates: Rates, piece: PieceRates, at: int) -> PieceRatesRecord:
    points = []
    for point, places in piece.points.items():
        if not np.isnan(places[at]).any():
            points.append(PointRatesRecord(point, tuple(_rates(rates, piece, point, at))))
    return PieceRatesRecord(piece.name, piece.laid_at, piece.stated, tuple(points))


def _rates(rates: Rates, piece: PieceRates, point: str, at: int) -> Iterator[RateRecord]:
    switches = rates.switches(piece, point)[at]
    for number, source in enumerate(rates.sources):
        more, less = piece.ahead[point][at, number], piece.behind[point][at, number]
        if (np.abs(np.stack([more, less])) <= STILL).all():
            continue
        across, up = _said((more + less) / 2)
        yield RateRecord(source.name, across, up, bool(switches[number]), *_said(less), *_said(more))


def _said(rate: Reals) -> tuple[float | None, float | None]:
    across, up = (None if np.isnan(one) else round(float(one), DIGITS) + 0.0 for one in rate)
    return across, up


def _switched(style: CheckedStyle, rates: Rates, at: int, number: int) -> Iterator[SwitchedRecord]:
    """The sentences that take another arm with a little more, or less, of a source; each once."""
    own, more, less = (rates.nudged.lane(at, *which) for which in ((), (number, 1), (number, -1)))
    told: set[str] = set()
    for node, one in rates.choosing.items():
        if len({int(one.arms[lane]) for lane in (own, more, less) if one.arms[lane] >= 0}) > 1:
            sentence, place = sentence_of(style, node)
            if place not in told:
                told.add(place)
                yield SwitchedRecord(place, sentence)


def _held_by(style: CheckedStyle, rates: Rates, at: int, source: Source) -> str:
    """Why a choice moves nothing: the sentences that take another value than the one it is in, or that nothing rests on it."""
    setting = next(k for k, one in enumerate(style.nodes) if isinstance(one.payload, Setting) and one.payload.name == source.name)
    lane = rates.nudged.lane(at)
    arms = {node: int(chosen.arms[lane]) for node, chosen in rates.choosing.items() if chosen.arms[lane] >= 0}
    reached = _resting_on(style, setting, arms)
    found: dict[str, None] = {}
    for node, arm in arms.items():
        if node not in reached and not reached.isdisjoint(style.nodes[node].inputs()):
            sentence, place = sentence_of(style, node)
            found[f"`{sentence}` ({place}) takes `{arm_of(style, Choice(node, 0.0, arm, arm), arm)}`"] = None
    if found:
        return ", ".join(found)
    return NO_PIECE if _resting_on(style, setting, {}).isdisjoint(style.pieces.values()) else ""


def _resting_on(style: CheckedStyle, start: int, arms: Mapping[int, int]) -> set[int]:
    """All nodes that rest on one; those of which it is known which of their `arms` they take, by this one alone."""
    inputs = [_taken(node, arms[index]) if index in arms else node.inputs() for index, node in enumerate(style.nodes)]
    found, grown = {start}, True
    while grown:  # once more where a solve stands before what it is measured on
        before = len(found)
        found.update(index for index, some in enumerate(inputs) if not found.isdisjoint(some))
        grown = len(found) > before
    return found


def _taken(node: Node, arm: int) -> Sequence[int]:
    """What a node that chooses rests on where it takes an arm: what it is chosen by moves nothing by a little."""
    args = [*node.args.values()] if isinstance(node.payload, Extreme) else [node.args[name] for name in arms_of(node)]
    return args[arm : arm + 1]
