"""Clients: the rows of a table, each with a name, an identity, a body, and choices of a style.

A row becomes the text of a body file, so that there is one reader; what is wrong is told at the cell it comes of.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from ..diagnostics import client_words as words
from ..diagnostics.diagnostic import Diagnostic, Label, Span
from .body import Body
from .body_file import read_body
from .cautions import cautions
from .cells import Cell, Line
from .chart_file import OTHER_UNITS
from .columns import CHOICE, Column, is_measure
from .plausibility import review
from .rows import body_text
from .units import MM_PER, Unit, parse_inches
from .vocabulary import vocabulary

BESIDE_BODIES = ("id", "note", "why")
"""What a table of people holds beside their bodies: `note` and `why` are for whoever reads it."""
BESIDE = (*BESIDE_BODIES, CHOICE)
"""The same of clients, each with choices of a style."""

LabelledBy = Literal["name", "id"]
"""What stands on paper, and in the names of files."""

_NUMBER = re.compile(r"[-+]?(\d{1,9}(\.\d{0,9})?|\.\d{1,9})")


@dataclass(frozen=True)
class Client:
    """A row: where it stands (a place for messages, and in words), what is written in it, who it is, and what is told of it. With
    an error it has no body. `choices` are what is written in columns of choices, by their names."""

    span: Span
    where: str
    given: tuple[str, ...]
    id: str
    label: str
    body: Body | None
    told: tuple[Diagnostic, ...] = ()
    choices: Mapping[str, Cell] = field(default_factory=dict)

    @property
    def file_name(self) -> str:
        """What stands for it in the names of its files."""
        return self.body.file_name if self.body else Body(self.label, "mm", None, {}).file_name


def of_body_file(path: str, text: str) -> Client:
    """A client whose body stands in a file of its own."""
    body, problems = read_body(text, path)
    told = _looked_over(body, problems)
    label = body.name if body else ""
    return Client(Span(path, 0, 1), path, (path,), label, label, None if body is None else replace(body, spans={}), told)


def _looked_over(body: Body | None, problems: Sequence[Diagnostic]) -> tuple[Diagnostic, ...]:
    return (*problems, *(() if body is None else (*review(body), *cautions(body))))


def of_lines(file: str, lines: Sequence[Line], columns: Sequence[Column], separator: str, label: LabelledBy) -> Iterator[Client]:
    """The clients of a table's lines, without that of its columns."""
    reader = _Reader(file, columns, separator, label)
    for line in lines:
        yield reader.client(line)


@dataclass(frozen=True)
class _Reader:
    file: str
    columns: Sequence[Column]
    separator: str
    label: LabelledBy

    def client(self, line: Line) -> Client:
        cells = {column.ours: cell for column, cell in zip(self.columns, line.cells, strict=False) if column.ours and cell.text}
        name, own = (cells[key].text if key in cells else "" for key in ("name", "id"))
        label = (own or name) if self.label == "id" else (name or own)
        given = tuple(cell.text for cell in line.cells)
        span = line.cells[0].span.to(line.cells[-1].span)
        found = Client(span, f"line {line.number}", given, own or name, label, None)
        wrong = self._refused(line, cells, found)
        if wrong is not None:
            return replace(found, told=(replace(wrong, note=found.where, body=label or None),))
        text, wrong = self._as_body(cells, label, span)
        if wrong is not None:
            return replace(found, told=(replace(wrong, note=found.where, body=label),))
        body, problems = read_body(text, self.file)
        placed = _Placed(text, self.columns, cells, found)
        told = tuple(placed.told(one) for one in _looked_over(body, problems))
        choices = {ours.removeprefix(CHOICE).strip(): cell for ours, cell in cells.items() if ours.startswith(CHOICE)}
        return replace(found, body=None if body is None else replace(body, spans={}, lines={}), told=told, choices=choices)

    def _refused(self, line: Line, cells: Mapping[str, Cell], found: Client) -> Diagnostic | None:
        for cell in line.cells:
            if cell.unclosed:
                return words.unclosed_quote(cell.span)
        if len(line.cells) > len(self.columns):
            return words.too_many_cells(found.span, len(line.cells), len(self.columns))
        if not found.label:
            return words.no_name(found.span)
        if len(found.file_name.encode()) > words.LONGEST:
            return words.long_name(found.span, found.label)
        return None

    def _as_body(self, cells: Mapping[str, Cell], label: str, span: Span) -> tuple[str, Diagnostic | None]:
        """A row as the text of a body file, all lengths in its one unit: that of the row, else that of the columns."""
        own = {one.unit for one in self.columns if one.unit}
        has_unit = any(one.ours == "unit" for one in self.columns)
        if has_unit and ("unit" not in cells or cells["unit"].text not in MM_PER):
            return "", words.no_unit(cells["unit"].span if "unit" in cells else span)
        unit = cells["unit"].text if has_unit else own.pop() if len(own) == 1 else "cm"
        row: dict[str, object] = {"name": label, "unit": unit}
        row |= {"sex": cells["sex"].text} if "sex" in cells else {}
        for column in self.columns:
            if column.ours in cells and is_measure(column.ours, BESIDE):
                cell, other = cells[column.ours], OTHER_UNITS.get(vocabulary()[column.ours].kind)
                written_in = other or column.unit or unit
                number = self._number(cell.text, written_in)
                if number is None:
                    return "", words.no_number(cell.span, column.theirs, cell.text, written_in)
                row[column.ours] = number if other or written_in == unit else number * (_mm(written_in) / _mm(unit))
        return body_text(row), None

    def _number(self, text: str, unit: str) -> float | None:
        """A number as it is written; of inches also with a fraction."""
        plain = text if self.separator == "," else re.sub(r"^([-+]?\d+),(\d+)$", r"\1.\2", text)
        if _NUMBER.fullmatch(plain):
            return float(plain)
        return parse_inches(plain) if unit == "in" else None


def _mm(unit: str) -> float:
    known: Mapping[str, float] = {str(name): size for name, size in MM_PER.items()}
    return known[unit]


@dataclass(frozen=True)
class _Placed:
    """Puts what is told of the text of a body at the cells of its row."""

    text: str
    columns: Sequence[Column]
    cells: Mapping[str, Cell]
    found: Client

    def told(self, one: Diagnostic) -> Diagnostic:
        column, span = self._of(one.span)
        labels = tuple(Label(self._of(label.span)[1], label.text) for label in one.labels)
        written = f"{self.found.where}, column `{column}`" if column else self.found.where
        note = f"{one.note}; {written}" if one.note else written
        return replace(one, span=span, labels=labels, note=note, body=one.body or self.found.label)

    def _of(self, span: Span | None) -> tuple[str, Span]:
        """The column a place comes of, as the table calls it ("": none), and its cell, or the row."""
        if span is None:
            return "", self.found.span
        start = self.text.rfind("\n", 0, span.start) + 1
        key = self.text[start:].partition("=")[0].strip()
        called = next((column.theirs for column in self.columns if column.ours == key), "")
        return (called, self.cells[key].span) if called and key in self.cells else ("", self.found.span)


def in_words(text: str, unit: Unit, is_length: bool, separator: str) -> str:
    """The value of a choice as the language writes it: a number alone is a length in the unit of the row, where one is wanted."""
    plain = text if separator == "," else re.sub(r"(\d),(\d)", r"\1.\2", text)
    bare = _NUMBER.fullmatch(plain) or (unit == "in" and parse_inches(plain) is not None)
    return f"{plain} {'inch' if unit == 'in' else unit}" if is_length and bare else plain

