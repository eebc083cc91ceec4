"""Growth by cause: what each measurement moves a point by from size to size, and what is left over.

A rate is that of a place of the chart. Between two places it is taken as the mean of both; where a sentence switches between two
sizes the step is summed up before it and behind it. What then is left over is told, never shared out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..bodies.body import Body
from ..grading.growth import PointGrowth, growth
from ..output.rates_records import CausedPieceRecord, CausedPointRecord, CausedStepRecord, CauseRecord
from ..pattern.piece import Reals
from .nest import Run
from .rates import PieceRates, Rates
from .switches import FINER, SPLIT, Switch

DIGITS = 6
"""Decimals of a mm to which causes are told, so that they and the rest add up to the last digit."""

ASIDE = 1 / (2 * SPLIT * FINER)
"""So far beside a switch it is sure which arm is taken, as a share of a step."""

NOTHING = 0.5 * 10**-DIGITS


@dataclass(frozen=True, eq=False)
class Places:
    """Places along a chart at which rates are wanted, the sizes of the run among them, and their bodies."""

    at: Reals
    bodies: tuple[Body, ...]

    def of_size(self, run: Run, size: str) -> int:
        """The number of the place that is a size."""
        return int(np.flatnonzero(self.at == run.chart.sizes.index(size))[0])


def places_of(run: Run, found: Sequence[Switch]) -> Places:
    """The sizes of the chart, from the first of the run to its last, and a place before and behind each switch."""
    first, last = (run.chart.sizes.index(run.sizes[k]) for k in (0, -1))
    at = {float(k) for k in range(first, last + 1)}
    for switch in found:
        for one in switch.choices:
            at |= {round(one.at + side, DIGITS) for side in (-ASIDE, ASIDE) if first < one.at + side < last}
    own = {float(run.chart.sizes.index(body.name)): body for body in run.bodies}
    rows = sorted(at)
    return Places(np.array(rows), tuple(own.get(one) or run.chart.between(one, f"place {one:g}") for one in rows))


def caused(run: Run, places: Places, rates: Rates, found: Sequence[Switch]) -> tuple[CausedPieceRecord, ...]:
    """The growth of every piece of a run by cause."""
    pieces = {piece.name: piece for piece in rates.pieces}
    turned = {(point.piece, point.point, switch.step) for switch in found for point in switch.points}
    made = []
    for one in run.pieces:
        piece, points = pieces[one.name], []
        for each in growth(one.points):
            if each.name in piece.points:
                points.append(CausedPointRecord(each.name, tuple(_steps(run, places, rates, piece, each, turned))))
        made.append(CausedPieceRecord(one.name, tuple(points)))
    return tuple(made)


def _steps(
    run: Run, places: Places, rates: Rates, piece: PieceRates, point: PointGrowth, turned: set[tuple[str, str, int]]
) -> Iterator[CausedStepRecord]:
    for (size_from, size_to), grown in zip(pairwise(run.sizes), point.steps, strict=True):
        first, last = (places.of_size(run, size) for size in (size_from, size_to))
        here, there = (run.chart.sizes.index(size) for size in (size_from, size_to))
        sums = np.round(_summed(rates, piece, point.name, first, last), DIGITS)
        rest = grown - sums.sum(axis=0)
        by = rates.values[last] - rates.values[first]
        causes = tuple(
            CauseRecord(source.name, round(float(step), DIGITS), float(across), float(up))
            for source, step, (across, up) in zip(rates.sources, by, sums, strict=True)
            if max(abs(across), abs(up)) > NOTHING
        )
        turns = any((piece.name, point.name, k) in turned for k in range(here, there))
        across, up = (float(one) for one in grown)
        yield CausedStepRecord(size_from, size_to, across, up, turns, causes, *(round(float(one), DIGITS) for one in rest))


def _summed(rates: Rates, piece: PieceRates, point: str, first: int, last: int) -> Reals:
    """What each source moves a point by between two places (sources, 2), mm."""
    ahead, behind = piece.ahead[point], piece.behind[point]
    known = [k for k in range(first, last + 1) if not np.isnan(piece.points[point][k]).any()]
    found = np.zeros((len(rates.sources), 2))
    for a, b in pairwise(known):
        by = (rates.values[b] - rates.values[a])[:, None]
        more = by > 0.0
        leaving = _either(np.where(more, ahead[a], behind[a]), np.where(more, behind[a], ahead[a]))
        coming = _either(np.where(more, behind[b], ahead[b]), np.where(more, ahead[b], behind[b]))
        found += np.where(by == 0.0, 0.0, by * _either((leaving + coming) / 2, _either(leaving, coming)))
    return np.nan_to_num(found)


def _either(one: Reals, other: Reals) -> Reals:
    """One, or where it is not known the other."""
    return np.where(np.isnan(one), other, one)
