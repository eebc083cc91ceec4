"""Looking over a size chart: slips of a cell, told by its row; of a row, by bodies; of its place, by names. Warnings only."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from statistics import median

from ..diagnostics import chart_words as words
from ..diagnostics.diagnostic import Diagnostic
from .cautions import cautions
from .chart import Chart, ChartRow
from .plausibility import review
from .slips import slips
from .units import shown
from .vocabulary import vocabulary

COARSE = 1.25
"""A cell may lie off its row by this many of the unit in which the row is written."""

LEAST = 3.0
"""What is off by less (mm) is no slip."""

OF_STEP, OF_STEP_AT_END = 0.6, 0.9
"""A cell may lie off its row by this share of a step."""

OF_OTHERS = 3.0
"""A cell may lie off its row by this many times what the others do."""

NEAREST = 4
"""So many other cells tell what a cell should be."""

FITS = 0.35
"""A likely value fits where it lies within this share of how far the cell is off."""


def review_chart(chart: Chart, sizes: Sequence[str] = ()) -> list[Diagnostic]:
    """What is doubtful about a chart, each cause once: rows first, then the sizes as bodies, then their names. `sizes` are those
    that are wanted; rows are held against all of them."""
    by_row = [one for row in chart.rows.values() for one in _row(chart, row)]
    told = {(one.data.get("row"), one.data.get("size")) for one in by_row}
    by_size = [one for one in _columns(chart, sizes or chart.sizes) if (one.data.get("word"), _only(one)) not in told]
    return [*by_row, *by_size, *_names(chart), *_two_surveys(chart)]


def _only(told: Diagnostic) -> str | None:
    sizes = told.data.get("sizes")
    return sizes[0] if isinstance(sizes, tuple) and len(sizes) == 1 else None


def _progress(chart: Chart) -> list[float]:
    """How far along the chart each size stands, 0 to 1: the median over girths, so that steps of 4 and then of 6 are no slip."""
    girths = [row.values for name, row in chart.rows.items() if vocabulary()[name].is_girth]
    shares = [[(value - one[0]) / (one[-1] - one[0]) for value in one] for one in girths if abs(one[-1] - one[0]) > LEAST]
    if not shares:
        return [k / max(len(chart.sizes) - 1, 1) for k in range(len(chart.sizes))]
    return [median(each) for each in zip(*shares, strict=True)]


def _row(chart: Chart, row: ChartRow) -> Iterator[Diagnostic]:
    """A cell that lies off its row; where none does, a step against the row's direction."""
    if len(row.values) < NEAREST:
        return
    along = _progress(chart)
    led = [_expected(along, row.values, k) for k in range(len(row.values))]
    off = [abs(value - one) for value, one in zip(row.values, led, strict=True)]
    step = median(abs(b - a) for a, b in pairwise(row.values))
    last = len(row.values) - 1
    worst = max(range(len(off)), key=lambda k: off[k])
    share = OF_STEP_AT_END if worst in (0, last) else OF_STEP
    others = median([one for k, one in enumerate(off) if k != worst])
    if off[worst] > max(COARSE * row.step, LEAST, share * step, OF_OTHERS * others):
        yield _slip(chart, row, worst, led[worst], off[worst])
        return
    yield from _against(chart, row)


def _expected(along: Sequence[float], values: Sequence[float], at: int) -> float:
    """Where the nearest other cells lead to: the median of the lines through two of them each."""
    near = sorted((k for k in range(len(values)) if k != at), key=lambda k: (abs(k - at), k))[:NEAREST]
    lines = [
        values[a] + (values[b] - values[a]) * (along[at] - along[a]) / (along[b] - along[a])
        for a, b in combinations(near, 2)
        if abs(along[b] - along[a]) > 1e-9
    ]
    return median(lines) if lines else values[at]


def _slip(chart: Chart, row: ChartRow, at: int, led: float, off: float) -> Diagnostic:
    measure, value = vocabulary()[row.name], row.values[at]
    fits = ""
    for one in slips(value, chart.unit, measure.is_girth) if measure.kind == "length" else ():
        if abs(one.value - led) < min(FITS * off, max(LEAST, COARSE * row.step)):
            fits = f"{shown(one.value, measure.kind, chart.unit)} would fit: {one.words}"
            break
    now, there = (shown(number, measure.kind, chart.unit) for number in (value, led))
    return words.out_of_row(row.cells[at], row.name, chart.sizes[at], row.line, now, there, fits)


def _against(chart: Chart, row: ChartRow) -> Iterator[Diagnostic]:
    """Steps against the direction of a row that grows, or falls, by more than three of the units it is written in."""
    whole, kind = row.values[-1] - row.values[0], vocabulary()[row.name].kind
    if abs(whole) <= OF_OTHERS * row.step:
        return
    sign = 1.0 if whole > 0 else -1.0
    steps = [b - a for a, b in pairwise(row.values)]
    usual = median(abs(one) for one in steps if one * sign > 0)
    for k, one in enumerate(steps):
        if -one * sign > row.step:
            between = chart.sizes[k], chart.sizes[k + 1]
            here, there = (shown(abs(number), kind, chart.unit) for number in (one, usual))
            yield words.changes_sign(row.cells[k + 1], row.name, between, here, there, one < 0)


def _columns(chart: Chart, sizes: Sequence[str]) -> Iterator[Diagnostic]:
    """The sizes as bodies; what is told of several of them in the same measurements, once."""
    found: dict[tuple[object, ...], list[tuple[str, Diagnostic]]] = {}
    for size in sizes:
        body = chart.body(size)
        for one in (*review(body), *cautions(body)):
            word = one.data.get("word") or one.data.get("first")
            found.setdefault((one.code, word, one.data.get("second")), []).append((size, one))
    for some in found.values():
        yield words.in_sizes(some[0][1], [size for size, _ in some], len(chart.sizes))


def _two_surveys(chart: Chart) -> Iterator[Diagnostic]:
    """Sizes of children and of adults side by side: what is not in the chart is estimated of each by other rules."""
    children = [size for size in chart.sizes if chart.body(size).is_child]
    if children and len(children) < len(chart.sizes):
        adults = [size for size in chart.sizes if size not in children]
        row = chart.rows.get("age") or chart.rows["stature"]
        yield words.two_surveys(row.span, children, adults)


def _names(chart: Chart) -> Iterator[Diagnostic]:
    """The girth that sizes are called by, held against their names: only this finds a row that is shifted by a size."""
    row = chart.rows.get(chart.named_for)
    try:
        names = [float(size) for size in chart.sizes]
    except ValueError:
        return
    if row is None or len(names) < NEAREST:
        return
    # In whatever unit and from whatever start sizes are counted, each is called by its girth where most are.
    for factor in (10.0, 1.0, 25.4, 5.0, 20.0):
        off = [value - name * factor for name, value in zip(names, row.values, strict=True)]
        step = median(b - a for a, b in pairwise(row.values))
        if all(abs(abs(one) - step) <= LEAST and one * off[0] > 0 for one in off):
            yield words.shifted(row.span, row.name, 1 if off[0] > 0 else -1)
            return
        wrong = [k for k, one in enumerate(off) if abs(one) > LEAST]
        if len(wrong) * 2 < len(off):
            for k in wrong:
                text = shown(row.values[k], "length", chart.unit)
                yield words.not_its_name(row.cells[k], row.name, chart.sizes[k], text)
            return
