"""Choices of a style that a size chart sets in each size: held to their bounds, and to one set of sentences for all sizes.

A choice is known before any body, so it may decide what there is. The style is therefore checked as each size has it: what is
wrong with one of them is told, and sizes of which one draws other sentences are refused; what differs only in numbers goes over
the lanes.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence

from ..bodies.chart import Chart
from ..diagnostics import chart_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..geometry.tolerances import ROUNDING
from ..meaning.recipes import written
from ..meaning.style import CheckedStyle, Choice
from ..verbs.kinds import Kind
from .prepare import Prepared

Sized = Mapping[str, tuple[Kind, float]]
"""Choices by name, each with its kind and what it is set to, mm, radians or bare."""


def with_choices(
    prepared: Prepared, chart: Chart, sizes: Sequence[str], settings: Sequence[str], again: Callable[[Sized], Prepared]
) -> tuple[Prepared, list[Diagnostic]]:
    """The style as the sample has it, or where that is not wanted the first of the sizes, and what is wrong with what the chart
    chooses; `again` checks the style with other choices."""
    style = prepared.style
    if style is None or not chart.choices or not sizes:
        return prepared, []
    known = {one.name: one for one in style.choices}
    problems = [*_set_twice(chart, settings), *_out_of_bounds(chart, sizes, known)]
    if problems:
        return prepared, problems
    base = chart.sample if chart.sample in sizes else sizes[0]
    by_values: dict[tuple[float, ...], Prepared] = {}
    made = {size: _checked(chart, size, known, by_values, again) for size in (base, *sizes)}
    sound = made[base].style is not None
    return made[base] if sound else prepared, [*_told(prepared, made, sizes), *_otherwise(chart, made, base)]


def _set_twice(chart: Chart, settings: Sequence[str]) -> Iterator[Diagnostic]:
    for name in {one.partition("=")[0].strip(): None for one in settings}:
        if name in chart.choices:
            yield words.choice_set_twice(chart.choices[name].span, name)


def _out_of_bounds(chart: Chart, sizes: Sequence[str], known: Mapping[str, Choice]) -> Iterator[Diagnostic]:
    for name, row in chart.choices.items():
        choice = known[name]
        for size, cell, value in zip(chart.sizes, row.cells, row.values, strict=True):
            if choice.low is None or choice.high is None or size not in sizes:
                continue
            if not choice.low - ROUNDING <= value <= choice.high + ROUNDING:
                said = (written(one, choice.kind) for one in (value, choice.low, choice.high))
                yield words.choice_out_of_bounds(cell, name, size, row.line, *said)


def _checked(
    chart: Chart,
    size: str,
    known: Mapping[str, Choice],
    by_values: dict[tuple[float, ...], Prepared],
    again: Callable[[Sized], Prepared],
) -> Prepared:
    """The style as a size has it; of sizes that have it alike, once."""
    chosen = chart.body(size).choices
    key = tuple(chosen.values())
    if key not in by_values:
        by_values[key] = again({name: (known[name].kind, value) for name, value in chosen.items()})
    return by_values[key]


def _told(prepared: Prepared, made: Mapping[str, Prepared], sizes: Sequence[str]) -> list[Diagnostic]:
    """What is told of the style as some sizes have it, and not of the style as it is."""
    old = {_what(one) for one in prepared.diagnostics}
    found: dict[Hashable, list[tuple[str, Diagnostic]]] = {}
    for size in sizes:
        for one in made[size].diagnostics:
            if _what(one) not in old:
                found.setdefault((one.code, one.span), []).append((size, one))
    return [words.in_sizes(some[0][1], [size for size, _ in some], len(sizes)) for some in found.values()]


def _what(told: Diagnostic) -> Hashable:
    return told.code, told.message, told.span


def _otherwise(chart: Chart, made: Mapping[str, Prepared], base: str) -> Iterator[Diagnostic]:
    same = made[base].style
    if same is None:
        return
    others = [size for size, one in made.items() if one.style is not None and _drawn(one.style) != _drawn(same)]
    if others:
        own, at = chart.sizes.index(base), [chart.sizes.index(size) for size in others]
        names = [name for name, row in chart.choices.items() if any(row.values[k] != row.values[own] for k in at)]
        yield words.choices_draw_otherwise(chart.choices[names[0]].span, names, others, base)


def _drawn(style: CheckedStyle) -> tuple[object, ...]:
    """What a style comes to, whatever numbers its choices are set to."""
    return style.identities, style.pieces, style.seams, style.attached, style.fits, style.checks, style.tidings
