"""Reading a size chart from the text of a CSV file: a head of `key,value`, the line of sizes, a row for each measurement.

Every message has the place of the cell it is about. Numbers are summed as fractions, so that a chart of steps is, to the bit, the
chart of values it stands for.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import PurePath
from types import MappingProxyType
from typing import Any

from ..diagnostics import body_words
from ..diagnostics import chart_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from .body_file import LIMITS
from .chart import Chart, ChartRow, chosen_sizes
from .units import FINEST_INCH, MM_PER, Unit, parse_inches, shown
from .vocabulary import Kind, Sex, canonical, meanings, suggestions, vocabulary

BESIDE = ("unit", "note")
"""Columns that are no sizes."""

OTHER_UNITS: Mapping[Kind, str] = MappingProxyType({"angle": "degrees", "mass": "kg", "years": "years"})

CHOICE_UNITS: Mapping[str, Mapping[Any, float]] = MappingProxyType(
    {"length": MM_PER, "angle": {"degrees": math.radians(1.0)}, "number": {"": 1.0}}
)
"""What a choice of each kind is written in, and what one of that is in mm, radians or bare; of other kinds there is no row."""


@dataclass(frozen=True)
class _Cell:
    text: str
    span: Span


@dataclass(frozen=True)
class _Row:
    """A line of the file that is no note, as cells."""

    number: int
    span: Span
    cells: tuple[_Cell, ...]

    @property
    def key(self) -> str:
        return self.cells[0].text


@dataclass
class _Head:
    """What stands above the sizes; `places` are those of the entries."""

    texts: dict[str, str] = field(default_factory=dict)
    places: dict[str, Span] = field(default_factory=dict)
    ranges: list[_Row] = field(default_factory=list)


def read_chart(
    text: str, file: str, choices: Mapping[str, str] | None = None
) -> tuple[Chart | None, tuple[Diagnostic, ...]]:
    """The chart of a file's text, or None with the errors. `file` is the name for messages; `choices` are those of the style,
    each with its kind: rows that set one are passed over where no style is known."""
    reader = _Reader(text, file, choices)
    chart = reader.read()
    problems = tuple(sorted(reader.problems, key=lambda one: one.span.start if one.span else 0))
    return (None if problems else chart), problems


class _Reader:
    def __init__(self, text: str, file: str, choices: Mapping[str, str] | None) -> None:
        self.text, self.file, self.choices = text, file, choices
        self.problems: list[Diagnostic] = []
        self.start = Span(file, 0, min(1, len(text)))
        found = re.search(r'(?m)^[ \t]*"?measurement"?[ \t]*([,;\t])', text)
        self.separator = found.group(1) if found else ","

    def read(self) -> Chart | None:
        rows = list(self._rows())
        at = next((k for k, row in enumerate(rows) if row.key == "measurement"), None)
        if at is None:
            self.problems.append(words.no_measurements(self.start))
            return None
        head, sizes = self._head(rows[:at]), self._sizes(rows[at])
        unit, sex, sample = self._unit(head), self._sex(head), self._sample(head, [*sizes])
        form = head.texts.get("form", "values")
        if form not in ("values", "steps"):
            self._bad(head, "form", "write `form,steps` where each size gives the step from its neighbour, or leave it out")
        if unit is None or not sizes or sample is None:
            return None
        reading = _Numbers(self, rows[at], sizes, unit, [*sizes].index(sample) if form == "steps" else None)
        if len(rows) == at + 1:
            self.problems.append(words.no_rows(rows[at].span))
        for row in rows[at + 1 :]:
            reading.row(row)
        title = head.texts.get("chart") or PurePath(self.file).stem
        bare = Chart(title, head.texts.get("source", ""), self.file, unit, sex, sample, tuple(sizes), reading.found, {})
        ranges = self._ranges(bare, head.ranges)
        return replace(bare, rows=MappingProxyType(reading.found), ranges=ranges, choices=MappingProxyType(reading.choices))

    def _rows(self) -> Iterator[_Row]:
        start = 0
        for number, line in enumerate(self.text.split("\n"), 1):
            if line.strip(f" \t{self.separator}") and not line.lstrip(' "').startswith("#"):
                yield self._row(number, line, start)
            start += len(line) + 1

    def _row(self, number: int, line: str, start: int) -> _Row:
        span = Span(self.file, start, start + max(len(line), 1))
        apart = re.escape(self.separator)
        written = [*re.finditer(rf'(?:^|{apart})( *"(?:[^"]|"")*" *|[^{apart}]*)', line)]
        try:
            texts = next(csv.reader([line], delimiter=self.separator, skipinitialspace=True, strict=True))
        except csv.Error:
            texts = []
        if len(texts) != len(written):
            self.problems.append(words.unclosed_quote(span))
            return _Row(number, span, (_Cell("#", span),))
        places = (Span(self.file, start + one.start(1), start + max(one.end(1), one.start(1) + 1)) for one in written)
        cells = [_Cell(text.strip(), place) for text, place in zip(texts, places, strict=True)]
        while len(cells) > 1 and not cells[-1].text:  # a spreadsheet ends every row alike
            cells.pop()
        return _Row(number, span, tuple(cells))

    def _head(self, rows: Sequence[_Row]) -> _Head:
        head = _Head()
        for row in rows:
            if row.key == "range":
                head.ranges.append(row)
            elif row.key in words.ENTRIES and row.key not in head.texts:
                head.texts[row.key] = f"{self.separator} ".join(cell.text for cell in row.cells[1:] if cell.text)
                head.places[row.key] = row.span
            elif row.key != "#":
                self.problems.append(words.unknown_entry(row.cells[0].span, row.key))
        return head

    def _bad(self, head: _Head, entry: str, fix: str) -> None:
        self.problems.append(words.bad_entry(head.places[entry], entry, head.texts[entry], fix))

    def _unit(self, head: _Head) -> Unit | None:
        if "unit" not in head.texts:
            self.problems.append(words.entry_missing(self.start, "unit", "unit,cm"))
            return None
        for known in MM_PER:
            if head.texts["unit"] == known:
                return known
        self._bad(head, "unit", f"the unit is {body_words.UNITS}")
        return None

    def _sex(self, head: _Head) -> Sex | None:
        given = head.texts.get("sex")
        if given is None or given == "F" or given == "M":
            return None if given is None else "F" if given == "F" else "M"
        self._bad(head, "sex", "write `sex,F` or `sex,M`; leave it out of a chart for children")
        return None

    def _sample(self, head: _Head, sizes: Sequence[str]) -> str | None:
        if "sample" not in head.texts:
            self.problems.append(words.entry_missing(self.start, "sample", f"sample,{sizes[len(sizes) // 2] if sizes else 92}"))
            return None
        if sizes and head.texts["sample"] not in sizes:
            self._bad(head, "sample", f"it is one of the sizes: {', '.join(sizes)}")
        return head.texts["sample"] if head.texts["sample"] in sizes else None

    def _sizes(self, row: _Row) -> dict[str, int]:
        """The sizes, each with the number of its column."""
        found: dict[str, int] = {}
        for column, cell in enumerate(row.cells[1:], 1):
            if cell.text.lower() in {size.lower() for size in found}:  # their files would have one name
                self.problems.append(words.size_twice(cell.span, cell.text))
            elif cell.text and cell.text not in BESIDE:
                found[cell.text] = column
        if not found:
            self.problems.append(words.no_sizes(row.span))
        return found

    def _ranges(self, chart: Chart, rows: Sequence[_Row]) -> dict[str, tuple[str, ...]]:
        found: dict[str, tuple[str, ...]] = {}
        for row in rows:
            name = row.cells[1].text if len(row.cells) > 1 else ""
            asked = ",".join(cell.text for cell in row.cells[2:])
            if not asked:
                self.problems.append(words.bad_entry(row.span, "range", name, "write `range,small,80..92`"))
                continue
            some, problem = chosen_sizes(chart, asked if ".." in asked else ",".join(asked.split()))
            if problem is not None:
                self.problems.append(words.bad_entry(row.span, "range", name, f"{problem.message}; {problem.fix}"))
            found[name] = some
        return found


@dataclass
class _Numbers:
    """Reads rows into measurements; `sample` is the sample's place where the others hold steps."""

    reader: _Reader
    columns: _Row
    sizes: Mapping[str, int]
    unit: Unit
    sample: int | None
    found: dict[str, ChartRow] = field(default_factory=dict)
    choices: dict[str, ChartRow] = field(default_factory=dict)

    def row(self, row: _Row) -> None:
        first, _, rest = row.key.partition(" ")
        if first == "choice" and rest:
            self._choice(row, rest.strip())
        else:
            self._measurement(row)

    def _choice(self, row: _Row, name: str) -> None:
        """What a choice of the style is set to in each size."""
        known, place = self.reader.choices, row.cells[0].span
        if known is None:
            return
        if name not in known:
            self.reader.problems.append(words.unknown_choice(place, name, [*known]))
        elif known[name] not in CHOICE_UNITS:
            self.reader.problems.append(words.choice_without_size(place, name, known[name]))
        elif name in self.choices:
            self.reader.problems.append(body_words.given_twice(place, row.key, self.choices[name].span, row.key))
        elif self._is_whole(row, is_choice=True):
            self._numbers(row, name, CHOICE_UNITS[known[name]], self.choices, signed=True)

    def _measurement(self, row: _Row) -> None:
        problems, name = self.reader.problems, canonical(row.key)
        if name is None:
            unclear, place = meanings(row.key), row.cells[0].span
            near = suggestions(row.key)
            if row.key != "#":
                problems.append(
                    body_words.unclear_measure(place, row.key, unclear)
                    if unclear
                    else body_words.unknown_measure(place, row.key, near)
                )
        elif name in self.found:
            problems.append(body_words.given_twice(row.cells[0].span, row.key, self.found[name].span, name))
        elif self._is_whole(row):
            kind = vocabulary()[name].kind
            units = MM_PER if kind == "length" else {OTHER_UNITS[kind]: 1.0}
            if self._numbers(row, name, units, self.found, signed=False):
                self._held_to_bodies(row, self.found[name], kind)

    def _is_whole(self, row: _Row, is_choice: bool = False) -> bool:
        """Whether a row has a number for each size, and no more; told where not."""
        if len(row.cells) > len(self.columns.cells):
            told = words.too_many_cells(row.span, row.key, len(row.cells), len(self.columns.cells))
            self.reader.problems.append(told)
            return False
        blank = [size for size, at in self.sizes.items() if at >= len(row.cells) or not row.cells[at].text]
        if blank:
            self.reader.problems.append(words.blank_cell(row.span, row.key, blank, is_choice))
        return not blank

    def _numbers(self, row: _Row, name: str, units: Mapping[Any, float], rows: dict[str, ChartRow], signed: bool) -> bool:
        """Read the cells of a row into one of `rows`, and whether they could be read."""
        unit = self._unit_of(row, units)
        cells = [row.cells[at] for at in self.sizes.values()]
        numbers = [self._number(row.key, size, cell, unit, signed) for size, cell in zip(self.sizes, cells, strict=True)]
        if unit is None or any(one is None for one in numbers):
            return False
        sums = _summed([one for one in numbers if one is not None], self.sample)
        factor = units[unit]
        values = tuple(float(one) * factor for one in sums)
        step = factor * float(max(_finest(cell.text, unit) for cell in cells))
        rows[name] = ChartRow(name, values, row.cells[0].span, tuple(cell.span for cell in cells), row.number, step)
        return True

    def _held_to_bodies(self, row: _Row, read: ChartRow, kind: Kind) -> None:
        low, high = LIMITS[kind]
        for size, span, value in zip(self.sizes, read.cells, read.values, strict=True):
            if not low <= value <= high:
                self.reader.problems.append(words.impossible(span, row.key, size, shown(value, kind, self.unit)))

    def _unit_of(self, row: _Row, units: Mapping[Any, float]) -> str | None:
        """The unit of a row: its own, or that of the chart, where that is one of `units`, or else the first of these."""
        at = next((k for k, cell in enumerate(self.columns.cells) if cell.text == "unit"), None)
        given = row.cells[at].text if at is not None and at < len(row.cells) else ""
        if given in units or not given:
            return given or (self.unit if self.unit in units else next(iter(units)))
        fix = f"it is measured in {' or '.join(units)}" if any(units) else "it is a bare number: leave it out"
        self.reader.problems.append(words.bad_entry(row.cells[at or 0].span, f"unit of {row.key}", given, fix))
        return None

    def _number(self, row: str, size: str, cell: _Cell, unit: str | None, signed: bool) -> Fraction | None:
        signed = signed or self.sample is not None
        text = cell.text.removeprefix("+") if signed else cell.text
        minus = text.startswith("-") and signed
        plain = text.removeprefix("-").strip() if minus else text
        if self.reader.separator != ",":
            plain = re.sub(r"^(\d+),(\d+)$", r"\1.\2", plain)
        inches = parse_inches(plain) if unit == "in" else None
        if re.fullmatch(r"\d{1,6}(\.\d{1,9})?|\.\d{1,9}", plain):
            return Fraction(plain) * (-1 if minus else 1)
        if inches is not None and plain:
            return Fraction(inches) * (-1 if minus else 1)
        fix = 'write "36", "36 1/2" or "5/8"' if unit == "in" else "write the number alone, as 92.5"
        self.reader.problems.append(words.not_a_number(cell.span, row, size, cell.text, fix))
        return None


def _summed(numbers: Sequence[Fraction], sample: int | None) -> list[Fraction]:
    """Measurements of every size; of a chart of steps those that add up from the sample outward."""
    found = [*numbers]
    if sample is not None:
        for k in range(sample + 1, len(found)):
            found[k] = found[k - 1] + numbers[k]
        for k in range(sample - 1, -1, -1):
            found[k] = found[k + 1] - numbers[k]
    return found


def _finest(text: str, unit: str | None) -> Fraction:
    """What the last decimal of a number as written is worth: 0.1 of `36.5`; of inches an eighth at the finest."""
    if "/" in text:
        return Fraction(1, min(8, int(text.rpartition("/")[2]) or FINEST_INCH))
    _, point, rest = text.replace(",", ".").partition(".")
    return Fraction(1, 10 ** len(rest)) if point else Fraction(1)
