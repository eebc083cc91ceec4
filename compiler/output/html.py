"""A small table as HTML, for a notebook."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape


def html_table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table with a head, all cells as text."""
    written = [_row("th", head), *(_row("td", row) for row in rows)]
    return f"<table>{''.join(written)}</table>"


def _row(tag: str, cells: Sequence[str]) -> str:
    return f"<tr>{''.join(f'<{tag}>{escape(cell)}</{tag}>' for cell in cells)}</tr>"
