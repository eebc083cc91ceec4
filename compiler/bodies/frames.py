"""A table that a program holds (pandas, polars, pyarrow, a numpy array with names) as text, so that it is read as one.

None of these is imported: a table has names of columns, and gives a column by its name.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from itertools import zip_longest

_LISTED = ("to_pylist", "to_list", "tolist")
"""How a column is made a list: in pyarrow, polars, pandas and numpy."""


def is_table(value: object) -> bool:
    """Whether it is a table with columns."""
    return not isinstance(value, (str, Mapping)) and _names(value) is not None


def table_text(table: object) -> str:
    """A table as CSV: its names, then a line for each row; what is missing is empty.

    >>> import numpy as np
    >>> table_text(np.array([("anna", 92.5), ("berta", float("nan"))], dtype=[("name", "U9"), ("bust_girth", float)]))
    'name,bust_girth\\nanna,92.5\\nberta,\\n'
    """
    names = _names(table) or ()
    columns = [_cells(table, name) if names.count(name) == 1 else [] for name in names]  # one named twice is told as such
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(names)
    writer.writerows([[_written(cell) for cell in row] for row in zip_longest(*columns)])
    return out.getvalue()


def _names(table: object) -> list[str] | None:
    named = getattr(getattr(table, "dtype", None), "names", None)
    for names in (named, getattr(table, "column_names", None), getattr(table, "columns", None)):
        if names is not None:
            return [str(name) for name in names]
    return None


def _cells(table: object, name: str) -> Sequence[object]:
    column = table[name]  # type: ignore[index]  # it has columns
    how = next(getattr(column, each) for each in _LISTED if hasattr(column, each))
    cells: Sequence[object] = how()
    return cells


def _written(cell: object) -> str:
    """Numbers to a thousand-millionth, as people and no machine write them."""
    if cell is None or type(cell).__name__ in ("NAType", "NaTType") or cell != cell:
        return ""
    if isinstance(cell, float):
        return f"{cell:.9f}".rstrip("0").rstrip(".")
    return str(cell)
