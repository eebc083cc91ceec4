"""A population: a table of bodies, a row for each, read row by row so that a million take no more room than one.

CSV (comma, semicolon or tab; `.gz` too) and Parquet. Columns `name`, `sex`, `unit` and our words; others by a mapping.
"""

from __future__ import annotations

import csv
import gzip
import io
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import BinaryIO

from ..diagnostics import population_words as words
from ..diagnostics.diagnostic import Diagnostic
from .body import Body
from .body_file import read_body
from .columns import HEAD, Column, columns_of
from .rows import body_text, plain_body
from .units import MM_PER

AT_A_TIME = 4000
"""Rows of Parquet read at a time."""

Cell = str | float | None
Row = tuple[int, tuple[Cell, ...]]
"""The number of a row, from 1 below the names of the columns, and its cells in the order of these."""


class NoTable(Exception):
    """A file that is no table, or not one of bodies."""

    def __init__(self, problems: Sequence[Diagnostic]) -> None:
        super().__init__(problems)
        self.problems = tuple(problems)


@dataclass(frozen=True)
class Table:
    """An open table: its path, what its columns mean, what is to be told of these, and its rows, which are gone through once."""

    path: str
    columns: tuple[Column, ...]
    told: tuple[Diagnostic, ...]
    rows: Iterator[Row]


def open_table(path: str, file: BinaryIO, mapped: Sequence[Column] = ()) -> Table:
    """The table in an open file. NoTable where it is none."""
    names, rows, decimal = _parquet(path, file) if path.endswith((".parquet", ".pq")) else _csv(path, file)
    columns, told = columns_of(path, names, mapped)
    if any(one.is_error for one in told):
        raise NoTable(told)
    return Table(path, columns, told, _read_cells(columns, rows, decimal))


def _read_cells(columns: Sequence[Column], rows: Iterator[Row], decimal: str) -> Iterator[Row]:
    """Cells of measures as numbers, all others as they are written: `0012` is a name."""
    measures = [bool(column.ours) and column.ours not in HEAD for column in columns]
    for number, cells in rows:
        if len(cells) == len(columns):
            pairs = zip(cells, measures, strict=True)
            cells = tuple(_number(cell, decimal) if measure else _written(cell) for cell, measure in pairs)
        yield number, cells


def _csv(path: str, file: BinaryIO) -> tuple[tuple[str, ...], Iterator[Row], str]:
    opened: BinaryIO | gzip.GzipFile = gzip.GzipFile(fileobj=file) if path.endswith(".gz") else file
    text = io.TextIOWrapper(opened, encoding="utf-8-sig", newline="")
    with _as_table(path):
        first = text.readline()
        if not first.strip():
            raise NoTable([words.empty(path)])
        separator = max(",;\t", key=first.count)
        names = next(csv.reader([first], delimiter=separator))
    return tuple(name.strip() for name in names), _csv_rows(path, text, separator), "." if separator == "," else ","


def _csv_rows(path: str, text: io.TextIOWrapper, separator: str) -> Iterator[Row]:
    with _as_table(path):
        for number, cells in enumerate(csv.reader(text, delimiter=separator), 1):
            if any(cells):
                yield number, tuple(cell.strip() for cell in cells)


def _number(cell: Cell, decimal: str) -> Cell:
    """A cell as a number, with a decimal comma where cells are not parted by one; as it is written where it is none."""
    if not isinstance(cell, str):
        return float(cell) if isinstance(cell, int) and not isinstance(cell, bool) else cell
    try:
        return float(cell.replace(decimal, "."))
    except ValueError:
        return cell or None


def _written(cell: Cell) -> str | None:
    """A cell as text; a whole number of Parquet in all its digits, which is a float there as soon as one cell is empty."""
    if cell is None or cell != cell:  # NaN
        return None
    text = str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell)
    return text.strip() or None


class _as_table:
    """What a library raises of a file that is no table, as one error."""

    def __init__(self, path: str, raised: tuple[type[Exception], ...] = ()) -> None:
        self.path, self.raised = path, (UnicodeDecodeError, csv.Error, OSError, EOFError, zlib.error, *raised)

    def __enter__(self) -> None: ...

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, _: object) -> None:
        if isinstance(error, self.raised):
            reason = next(iter(str(error).splitlines()), "it is damaged")
            raise NoTable([words.unreadable(self.path, reason)]) from error


def _parquet(path: str, file: BinaryIO) -> tuple[tuple[str, ...], Iterator[Row], str]:
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError:
        raise NoTable([words.no_parquet(path)]) from None
    with _as_table(path, (pyarrow.ArrowException,)):
        opened = pyarrow.parquet.ParquetFile(file)
        return tuple(opened.schema_arrow.names), _parquet_rows(path, opened, pyarrow.ArrowException), "."


def _parquet_rows(path: str, opened: object, raised: type[Exception]) -> Iterator[Row]:
    number = 0
    with _as_table(path, (raised,)):
        for batch in opened.iter_batches(batch_size=AT_A_TIME):  # type: ignore[attr-defined]  # it has no types
            for cells in zip(*(column.to_pylist() for column in batch.columns), strict=True):
                number += 1
                yield number, cells


Read = tuple[int, Body | None, tuple[Diagnostic, ...], str]
"""The number of a row, its body, or why it is none, and the text in which the places of that stand."""


def read_rows(path: str, columns: Sequence[Column], rows: Sequence[Row]) -> list[Read]:
    """Each row; one of which anything is to be told is read as the text of a body file, so that there is one reader."""
    return [_read_row(path, number, columns, cells) for number, cells in rows]


def _read_row(path: str, number: int, columns: Sequence[Column], cells: Sequence[Cell]) -> Read:
    line = number + 1
    if len(cells) != len(columns):
        return number, None, (words.ragged(path, line, len(cells), len(columns)),), ""
    given = {column.ours: cell for column, cell in zip(columns, cells, strict=True) if column.ours and cell is not None}
    if "unit" not in given and any(column.ours == "unit" for column in columns):
        return number, None, (words.row_without_unit(path, line),), ""
    row, called = _as_body(number, columns, given), f"{path}:{line}"
    if (plain := plain_body(row, called)) is not None:
        return number, plain, (), ""
    text = body_text(row)
    body, problems = read_body(text, called)
    return number, body, problems, text


def _as_body(number: int, columns: Sequence[Column], cells: Mapping[str, Cell]) -> Mapping[str, Cell]:
    """A row by our words, all lengths in its one unit; without a name it is called by its number."""
    given = {"name": f"row {number}", "unit": "mm", **cells}
    own = MM_PER.get(str(given["unit"]))  # type: ignore[call-overload]  # the reader refuses what is no unit
    for column in columns:
        cell = given.get(column.ours)
        if column.unit in MM_PER and own is not None and isinstance(cell, float):
            given[column.ours] = cell * (MM_PER[column.unit] / own)
    return given
