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
from .columns import Column, Mapped, columns_of
from .rows import body_text
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


def open_table(path: str, file: BinaryIO, mapped: Sequence[Mapped] = ()) -> Table:
    """The table in an open file. NoTable where it is none."""
    names, rows = _parquet(path, file) if path.endswith((".parquet", ".pq")) else _csv(path, file)
    columns, told = columns_of(path, names, mapped)
    if any(one.is_error for one in told):
        raise NoTable(told)
    return Table(path, columns, told, rows)


def _csv(path: str, file: BinaryIO) -> tuple[tuple[str, ...], Iterator[Row]]:
    opened: BinaryIO | gzip.GzipFile = gzip.GzipFile(fileobj=file) if path.endswith(".gz") else file
    text = io.TextIOWrapper(opened, encoding="utf-8-sig", newline="")
    with _as_table(path):
        first = text.readline()
        if not first.strip():
            raise NoTable([words.empty(path)])
        separator = max(",;\t", key=first.count)
        names = next(csv.reader([first], delimiter=separator))
    return tuple(name.strip() for name in names), _csv_rows(path, text, separator)


def _csv_rows(path: str, text: io.TextIOWrapper, separator: str) -> Iterator[Row]:
    with _as_table(path):
        for number, cells in enumerate(csv.reader(text, delimiter=separator), 1):
            if any(cells):
                yield number, tuple(_number(cell.strip(), separator) for cell in cells)


def _number(cell: str, separator: str) -> Cell:
    """A cell as a number, with a decimal comma where cells are not parted by one; as it is written where it is none."""
    if not cell:
        return None
    try:
        return float(cell if separator == "," else cell.replace(",", "."))
    except ValueError:
        return cell


class _as_table:
    """What a library raises of a file that is no table, as one error."""

    def __init__(self, path: str, raised: tuple[type[Exception], ...] = ()) -> None:
        self.path, self.raised = path, (UnicodeDecodeError, csv.Error, OSError, EOFError, zlib.error, *raised)

    def __enter__(self) -> None: ...

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, _: object) -> None:
        if isinstance(error, self.raised):
            raise NoTable([words.unreadable(self.path, str(error).splitlines()[0])]) from error


def _parquet(path: str, file: BinaryIO) -> tuple[tuple[str, ...], Iterator[Row]]:
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError:
        raise NoTable([words.no_parquet(path)]) from None
    with _as_table(path, (pyarrow.ArrowException,)):
        opened = pyarrow.parquet.ParquetFile(file)
        return tuple(opened.schema_arrow.names), _parquet_rows(path, opened, pyarrow.ArrowException)


def _parquet_rows(path: str, opened: object, raised: type[Exception]) -> Iterator[Row]:
    number = 0
    with _as_table(path, (raised,)):
        for batch in opened.iter_batches(batch_size=AT_A_TIME):  # type: ignore[attr-defined]  # it has no types
            for cells in zip(*(column.to_pylist() for column in batch.columns), strict=True):
                number += 1
                yield number, tuple(float(cell) if isinstance(cell, int) else cell for cell in cells)


Read = tuple[int, Body | None, tuple[Diagnostic, ...], str]
"""The number of a row, its body, or why it is none, and the text in which the places of that stand."""


def read_rows(path: str, columns: Sequence[Column], rows: Sequence[Row]) -> list[Read]:
    """Each row, read from the text of a body file: there is one reader."""
    found: list[Read] = []
    for number, cells in rows:
        text = body_text(_as_body(number, columns, cells))
        body, problems = read_body(text, f"{path}:{number + 1}")
        found.append((number, body, problems, text))
    return found


def _as_body(number: int, columns: Sequence[Column], cells: Sequence[Cell]) -> Mapping[str, Cell]:
    """A row by our words, all lengths in its one unit; without a name it is called by its number."""
    given = {column.ours: cell for column, cell in zip(columns, cells, strict=False) if column.ours and cell not in (None, "")}
    name = given.get("name", f"row {number}")
    unit = given.setdefault("unit", "mm")
    own = MM_PER.get(str(unit))  # type: ignore[call-overload]  # the reader refuses what is no unit
    for column in columns:
        cell = given.get(column.ours)
        if column.unit in MM_PER and own is not None and isinstance(cell, float):
            given[column.ours] = cell * (MM_PER[column.unit] / own)
    return {**given, "name": f"{name:g}" if isinstance(name, float) else name}
