"""A style on the rows of a table that a program holds."""

from __future__ import annotations

from dataclasses import replace

from ..bodies.frames import table_text
from .client_table import read_clients
from .files import Files, Overlaid
from .prepare import Prepared, same_bodies

NAME = "table"
"""What messages call it: `table:3` is its third line, below the names of the columns the second row."""


def with_table(files: Files, prepared: Prepared, table: object, columns: str = "") -> Prepared:
    """The style with the bodies of a table, each reviewed for slips; rows that are no body are told with line and column.
    `columns` is the path of what columns mean ("": our words)."""
    found = read_clients(Overlaid(files, {NAME: table_text(table)}), NAME, columns, has_choices=False)
    people = tuple(one.body for one in found.clients if one.body is not None)
    told = (*found.told, *(each for one in found.clients for each in one.told), *same_bodies(people))
    texts = {**prepared.texts, **found.texts}
    return replace(prepared, bodies=people, diagnostics=(*prepared.diagnostics, *told), texts=texts)
