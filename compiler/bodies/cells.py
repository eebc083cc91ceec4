"""A table as text (CSV with comma, semicolon or tab) -> lines of cells, each with its place in the text."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from ..diagnostics.diagnostic import Span

SEPARATORS = ",;\t"


@dataclass(frozen=True)
class Cell:
    """What is written in a cell, without its quotes; `unclosed` where one of these is missing."""

    text: str
    span: Span
    unclosed: bool = False


@dataclass(frozen=True)
class Line:
    """A row of a table: the number of the line it begins on, from 1, and its cells, without empty ones at its end."""

    number: int
    cells: tuple[Cell, ...]


def lines_of(text: str, file: str) -> tuple[str, list[Line]]:
    """The separator of a table, which is the commonest of its first line, and its lines but the empty ones. `file` is its name
    in places."""
    separator = max(SEPARATORS, key=text.lstrip("\n").partition("\n")[0].count)
    return separator, [line for line in _lines(text, file, separator) if line.cells]


def _lines(text: str, file: str, separator: str) -> Iterator[Line]:
    cell = re.compile(rf' *"((?:[^"]|"")*)" *(?=[{separator}\n]|\Z)|([^{separator}\n]*)')
    at, first, number, cells = 0, 0, 1, list[Cell]()
    while at <= len(text):
        found = cell.match(text, at)
        assert found is not None  # the second way of it takes anything, and nothing
        cells.append(_cell(found, file))
        end = found.end()
        if text[end : end + 1] != separator:
            yield Line(number, _filled(cells))
            number += text.count("\n", first, end + 1)
            cells, first = [], end + 1
        at = end + 1


def _cell(found: re.Match[str], file: str) -> Cell:
    quoted, bare = found.groups()
    written = bare if quoted is None else quoted.replace('""', '"')
    words = unicodedata.normalize("NFC", " ".join(written.split()))  # one letter is written in one way
    return Cell(words, Span(file, *found.span()), quoted is None and words.startswith('"'))


def _filled(cells: list[Cell]) -> tuple[Cell, ...]:
    last = max((at for at, cell in enumerate(cells, 1) if cell.text), default=0)
    return tuple(cells[:last])
