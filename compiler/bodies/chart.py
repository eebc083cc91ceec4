"""A size chart: measurements over sizes, each size a body with a place in a row of them, one of them the sample."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from types import MappingProxyType

from ..diagnostics import chart_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from .body import Body
from .units import Unit
from .vocabulary import Sex

BETWEEN = ".."
"""Stands between the first and the last of several sizes: `84..104`."""


@dataclass(frozen=True)
class ChartRow:
    """A measurement in every size, small to large: `values` in mm, degrees, kg or years, each with the place of its cell.

    `step` is what one step of the last written decimal is worth, in the same unit as the values: so coarsely the row is written.
    """

    name: str
    values: tuple[float, ...]
    span: Span
    cells: tuple[Span, ...]
    line: int
    step: float

    def between(self, low: int, share: float) -> float:
        """The value a share of the way from a size, by its place, to the next."""
        return self.values[low] + share * (self.values[low + 1] - self.values[low])


@dataclass(frozen=True)
class Chart:
    """A chart as it was read: sizes from small to large, the sample among them, its rows by body word, ranges by name,
    and by name the choices of a style that each size has its own value of, in mm, radians or as a bare number."""

    title: str
    source: str
    file: str
    unit: Unit
    sex: Sex | None
    sample: str
    sizes: tuple[str, ...]
    rows: Mapping[str, ChartRow]
    ranges: Mapping[str, tuple[str, ...]]
    choices: Mapping[str, ChartRow] = field(default_factory=lambda: MappingProxyType({}))

    def body(self, size: str) -> Body:
        """A size as a body: what stands in its column, with the places of its cells."""
        at = self.sizes.index(size)
        return Body(
            size,
            self.unit,
            self.sex,
            MappingProxyType({name: row.values[at] for name, row in self.rows.items()}),
            self.file,
            MappingProxyType({name: row.cells[at] for name, row in self.rows.items()}),
            MappingProxyType({name: row.line for name, row in self.rows.items()}),
            choices=MappingProxyType({name: row.values[at] for name, row in self.choices.items()}),
        )

    def bodies(self) -> tuple[Body, ...]:
        """Every size as a body."""
        return tuple(self.body(size) for size in self.sizes)

    def between(self, at: float, name: str = "") -> Body:
        """A body between two sizes, at a place along the chart: 1.25 is a quarter of the way from the second to the third.

        No such body is drawn: it shows where, between sizes, a sentence of the style switches.
        """
        low = min(int(at), len(self.sizes) - 2)
        share = at - low
        body = self.body(self.sizes[low])
        values, choices = ({one: row.between(low, share) for one, row in rows.items()} for rows in (self.rows, self.choices))
        return replace(body, name=name or f"{at:g}", measures=MappingProxyType(values), choices=MappingProxyType(choices))

    @property
    def named_for(self) -> str:
        """The girth that sizes with numbers are named for."""
        return "chest_girth" if self.sex == "M" or "bust_girth" not in self.rows else "bust_girth"


def chosen_sizes(chart: Chart, asked: str) -> tuple[tuple[str, ...], Diagnostic | None]:
    """The sizes that are asked for, in the order of the chart: all of them by nothing, some by `84,96`, `84..104`, the name of a
    range, or several of these with commas; or what of it is no size."""
    if not asked:
        return chart.sizes, None
    parts = [one.strip() for one in asked.split(",") if one.strip()]
    if not parts:
        return (), words.no_size_named(chart.sizes, [*chart.ranges])
    found: set[str] = set()
    for part in parts:
        some, problem = _sizes_of(chart.sizes, chart.ranges, part)
        if problem is not None:
            return (), problem
        found.update(some)
    return tuple(size for size in chart.sizes if size in found), None


def _sizes_of(
    sizes: Sequence[str], ranges: Mapping[str, tuple[str, ...]], part: str
) -> tuple[tuple[str, ...], Diagnostic | None]:
    if part in sizes:
        return (part,), None
    if part in ranges:
        return ranges[part], None
    first, dots, last = (one.strip() for one in part.partition(BETWEEN))
    for size in (first, last) if dots else (part,):
        if size not in sizes:
            return (), words.no_such_size(size, neighbours(sizes, size), sizes, [*ranges])
    low, high = sizes.index(first), sizes.index(last)
    return (tuple(sizes[low : high + 1]), None) if low <= high else ((), words.range_backwards(first, last))


def neighbours(sizes: Sequence[str], size: str) -> tuple[str, str] | None:
    """The two sizes a number lies between, where sizes are numbers; None where it lies beside all of them, or is no number."""
    try:
        wanted, numbers = float(size), [float(one) for one in sizes]
    except ValueError:
        return None
    pairs = pairwise(zip(numbers, sizes, strict=True))
    return next(((low[1], high[1]) for low, high in pairs if low[0] < wanted < high[0]), None)
