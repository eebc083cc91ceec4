"""The words of errors that concern a table of bodies. Codes E52x, E55x, W52x."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Severity

NAMED = 6
"""So many columns are named; of more the number is told."""


def _listed(names: Sequence[str]) -> str:
    more = len(names) - NAMED
    told = ", ".join(f"`{name}`" for name in names[:NAMED])
    return told if more <= 0 else f"{told} and {more} more"


def empty(path: str) -> Diagnostic:
    return Diagnostic("E520", f"`{path}` holds no bodies", fix="a line of column names, then a line for each body")


def unreadable(path: str, reason: str) -> Diagnostic:
    fix = "a population is a table: CSV (also `.csv.gz`), or Parquet (`.parquet`)"
    return Diagnostic("E521", f"`{path}` cannot be read as a table: {reason}", fix=fix)


def no_measures(path: str, columns: Sequence[str]) -> Diagnostic:
    message = f"no column of `{path}` is a measurement: it has {_listed(columns)}"
    fix = "name them by our words (`godet measures`), or say what they mean with `--columns FILE`"
    return Diagnostic("E522", message, fix=fix)


def no_unit(path: str, columns: Sequence[str]) -> Diagnostic:
    message = f"nothing says in which unit {_listed(columns)} of `{path}` {'is' if len(columns) == 1 else 'are'}"
    fix = "add a column `unit` (mm, cm or in), or the unit of each with `--columns FILE`"
    return Diagnostic("E523", message, fix=fix)


def twice(path: str, ours: str, columns: Sequence[str]) -> Diagnostic:
    message = f"{_listed(columns)} of `{path}` are all read as `{ours}`"
    return Diagnostic("E524", message, fix="keep one, or give the others an empty `ours` in the file of `--columns`")


def no_such_column(path: str, column: str, near: str) -> Diagnostic:
    fix = f"write `{near}`" if near else "a line of the file of `--columns` names a column as the table does"
    return Diagnostic("E525", f"`{path}` has no column `{column}`", fix=fix)


def bad_mapping(path: str, line: int, what: str, fix: str) -> Diagnostic:
    return Diagnostic("E526", f"line {line} of `{path}`: {what}", fix=fix)


def no_parquet(path: str) -> Diagnostic:
    fix = 'install it with `pip install "godet[parquet]"`, or give the table as CSV'
    return Diagnostic("E527", f"`{path}` is Parquet, and what reads that (pyarrow) is not installed", fix=fix)


def not_read(path: str, count: int, rows: int, first: Sequence[int]) -> Diagnostic:
    """Rows that are no body, after the first of them have been told."""
    lines = ", ".join(map(str, first)) + (" …" if count > len(first) else "")
    message = f"{count} of {rows} rows of `{path}` could not be read and were left out (row {lines})"
    return Diagnostic("E528", message, fix="mend or remove them: the others were drawn")


def ragged(path: str, line: int, cells: int, columns: int) -> Diagnostic:
    """A row whose cells cannot be told apart: one too many moves all behind it into the next column."""
    message = f"line {line} of `{path}` has {cells} cell{'s' if cells > 1 else ''}, and {columns} columns are named"
    fix = "what is not measured stays an empty cell; where commas part the cells, a decimal takes a point (`92.5`)"
    return Diagnostic("E550", message, fix=fix)


def row_without_unit(path: str, line: int) -> Diagnostic:
    fix = "write mm, cm or in there: a row without it is not read as millimetres"
    return Diagnostic("E551", f"line {line} of `{path}` has nothing in its column `unit`", fix=fix)


def process_ended(path: str) -> Diagnostic:
    message = f"a process that drew bodies of `{path}` was ended before it was done: as a rule there was too little memory"
    return Diagnostic("E552", message, fix="take fewer processes, as `--jobs 1`; nothing was counted")


def population_wanted() -> Diagnostic:
    return Diagnostic("E529", "`godet prove` needs a population", fix="add `--population FILE`, a table of bodies")


def left_aside(path: str, columns: Sequence[str], near: str) -> Diagnostic:
    """Columns that are no words of ours: not silently."""
    counted = "1 column" if len(columns) == 1 else f"{len(columns)} columns"
    message = f"{counted} of `{path}` {'is' if len(columns) == 1 else 'are'} not read: {_listed(columns)}"
    fix = f"{near}; " if near else ""
    fix += "say what a column means with `--columns FILE`, lines of `theirs,ours,unit` (`ours` empty: left out on purpose)"
    return Diagnostic("W520", message, fix=fix, severity=Severity.WARNING)
