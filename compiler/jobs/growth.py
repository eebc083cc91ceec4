"""Grade: how a style grows over the sizes of a chart, as records."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from functools import partial
from itertools import pairwise
from math import ceil

import numpy as np

from ..bodies.units import Unit
from ..drawing.growth import growth_drawing, growth_sheet
from ..grading.growth import PointGrowth, growth
from ..grading.lines import crossings
from ..output.growth_records import (
    GROWTH_SCHEMA,
    ChoosingRecord,
    CrossingRecord,
    EdgeGrowthRecord,
    FinishedGrowthRecord,
    GrowthReport,
    PieceGrowthRecord,
    PointRecord,
    StepRecord,
    SwitchRecord,
    TurnedRecord,
    UnseenRecord,
)
from ..output.svg import svg_text
from .nest import Run, Sized
from .numbers import bare
from .prepare import Prepared
from .results import BodyResult
from .switches import Choice, Switch, Unseen, arm_of, sentence_of, switches

NOTHING = 0.05
"""Less than this (mm) grows by nothing."""

Turns = Mapping[tuple[str, str], frozenset[int]]
"""By piece and point the steps of the run in which it turns."""


def graded(prepared: Prepared, run: Run) -> GrowthReport:
    """The growth of every piece, the finished measurements, and why steps are uneven."""
    assert prepared.style is not None
    chart, (found, unseen) = run.chart, switches(prepared, run)
    turns = _turns(run, found)
    rests = [one for result in run.results for one in result.estimated]
    return GrowthReport(
        GROWTH_SCHEMA,
        prepared.style.title,
        prepared.fingerprint,
        chart.title,
        chart.source,
        run.sample,
        run.sizes,
        tuple(_piece(run, one, turns) for one in run.pieces),
        _finished(run.results),
        tuple(_switch(prepared, run, one) for one in found),
        _unseen(run, unseen),
        tuple(dict.fromkeys(one.name for one in rests)),
    )


def growth_picture(prepared: Prepared, run: Run) -> str:
    """The pieces of the sample with an arrow at each corner, as an SVG."""
    assert prepared.style is not None
    unit = run.chart.unit
    said = partial(grown, unit=unit)
    drawings = [growth_drawing(one.name, one.sizes[run.sample].piece, one.corners, run.at, said) for one in run.pieces]
    title = f"{prepared.style.title}: growth over {run.whom}, not to be cut by"
    return svg_text(growth_sheet(title, drawings, run.sizes, run.at, called_unit(unit)))


def grown(mm: float, unit: Unit) -> str:
    """What something grows by, as a cutter reads it."""
    return bare(0.0 if abs(mm) < NOTHING else mm, unit)  # no nought with a minus


def called_unit(unit: Unit) -> str:
    """What such a length is told in."""
    return "inches" if unit == "in" else "mm"


def _turns(run: Run, found: Sequence[Switch]) -> Turns:
    at = [run.chart.sizes.index(size) for size in run.sizes]
    steps: dict[tuple[str, str], set[int]] = {}
    known = {(piece.name, point) for piece in run.pieces for point in piece.points}
    for switch in found:
        for one in switch.points:
            if (one.piece, one.point) in known:
                steps.setdefault((one.piece, one.point), set()).add(bisect_right(at, switch.step) - 1)
    return {key: frozenset(some) for key, some in steps.items()}


def _piece(run: Run, one: Sized, turns: Turns) -> PieceGrowthRecord:
    points = growth(one.points)
    estimated = dict.fromkeys(each.name for result in run.results for each in result.estimated if one.name in each.pieces)
    cross = [
        CrossingRecord(each.edge, each.size_from, each.size_to, round(each.by_mm, 3)) for each in crossings(one.sizes, one.laid)
    ]
    return PieceGrowthRecord(
        one.name,
        one.laid.told,
        one.laid.stated,
        tuple(estimated),
        tuple(_point(run, each, turns.get((one.name, each.name), frozenset())) for each in points),
        _edges(run, one.name),
        tuple(cross),
    )


def _point(run: Run, one: PointGrowth, turns: frozenset[int]) -> PointRecord:
    steps = [
        StepRecord(size_from, size_to, float(step[0]), float(step[1]), k in turns)
        for k, ((size_from, size_to), step) in enumerate(zip(pairwise(run.sizes), one.steps, strict=True))
    ]
    away = one.from_sample(run.at)
    return PointRecord(one.name, tuple(steps), tuple(away[:, 0].tolist()), tuple(away[:, 1].tolist()))


def _edges(run: Run, piece: str) -> tuple[EdgeGrowthRecord, ...]:
    """The lengths of edges that every size has."""
    made = [next(one for one in result.pieces if one.name == piece) for result in run.results]
    rows = [{edge.name: edge.length_mm for edge in one.edges} for one in made]
    names = [name for name in rows[0] if all(name in row for row in rows)]
    return tuple(EdgeGrowthRecord(name, tuple(round(row[name], 3) for row in rows)) for name in names)


def _finished(results: Sequence[BodyResult]) -> tuple[FinishedGrowthRecord, ...]:
    found = []
    for k, row in enumerate(results[0].specification.finished):
        rows = [result.specification.finished[k] for result in results]
        overlaps = [
            min(a.measures_mm, b.measures_mm) + (a if a.measures_mm <= b.measures_mm else b).over_mm
            >= max(a.measures_mm, b.measures_mm) - (b if a.measures_mm <= b.measures_mm else a).under_mm
            for a, b in pairwise(rows)
        ]
        measures, over, under = (
            tuple(round(float(getattr(one, key)), 3) for one in rows) for key in ("measures_mm", "over_mm", "under_mm")
        )
        found.append(FinishedGrowthRecord(row.name, measures, over, under, tuple(overlaps)))
    return tuple(found)


def _switch(prepared: Prepared, run: Run, switch: Switch) -> SwitchRecord:
    sizes = run.chart.sizes
    points = [
        TurnedRecord(one.piece, one.point, *(round(each, 3) for each in (*one.before, *one.after))) for one in switch.points
    ]
    sentences = tuple(_choosing(prepared, run, one) for one in switch.choices)
    return SwitchRecord(sizes[switch.step], sizes[switch.step + 1], sentences, tuple(points))


def _unseen(run: Run, places: Sequence[Unseen]) -> tuple[UnseenRecord, ...]:
    """The places step by step; those at sizes with the step before."""
    sizes = run.chart.sizes
    steps: dict[int, list[Unseen]] = {}
    for one in places:
        steps.setdefault(max(ceil(one.at) - 1, 0), []).append(one)
    return tuple(
        UnseenRecord(
            sizes[step],
            sizes[step + 1],
            tuple(round(one.at, 4) for one in some),
            tuple(dict.fromkeys(name for one in some for name in one.pieces)),
        )
        for step, some in steps.items()
    )


def _choosing(prepared: Prepared, run: Run, choice: Choice) -> ChoosingRecord:
    style = prepared.style
    assert style is not None
    sentence, where = sentence_of(style, choice.node)
    girth = run.chart.rows.get(run.chart.named_for)
    at_mm = None if girth is None else float(np.interp(choice.at, np.arange(len(girth.values)), girth.values))
    arms = (arm_of(style, choice, arm) for arm in (choice.before, choice.after))
    return ChoosingRecord(where, sentence, round(choice.at, 4), None if at_mm is None else round(at_mm, 1), *arms)


