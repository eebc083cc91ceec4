"""What building for clients came to, as a table to read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from .summary import counted

SHOWN = 3
"""So many measurements are named that were not taken; of more the number is told."""
HEAD = ("client", "", "holds", "warnings", "not measured")


class Row(Protocol):
    """What is told of a client."""

    @property
    def label(self) -> str: ...
    @property
    def state(self) -> str: ...
    @property
    def holds(self) -> bool: ...
    @property
    def failing(self) -> str: ...
    @property
    def warnings(self) -> int: ...
    @property
    def estimated(self) -> Sequence[str]: ...


def clients_text(rows: Sequence[Row]) -> str:
    """A line for each client, and one for all."""
    cells = [HEAD, *(_cells(row) for row in rows)]
    widths = [max(len(row[at]) for row in cells) for at in range(len(HEAD))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in cells]
    return "\n".join([*lines, _of_all(rows)]) + "\n"


def _cells(row: Row) -> tuple[str, ...]:
    if row.state == "not made":
        return row.label, row.state, "", "", ""
    holds = "yes" if row.holds else f"FAILS{f': {row.failing}' if row.failing else ''}"
    more = len(row.estimated) - SHOWN
    missing = ", ".join(row.estimated[:SHOWN]) + (f" and {more} more" if more > 0 else "")
    return row.label, row.state, holds, str(row.warnings or ""), missing


def _of_all(rows: Sequence[Row]) -> str:
    """`12 clients: 10 made, 1 unchanged, 1 not made; of these 2 warned, 1 fails`."""
    states = [f"{count} {state}" for state in ("made", "unchanged", "not made") if (count := _count(rows, state))]
    drawn = [row for row in rows if row.state != "not made"]
    warned, failing = sum(row.warnings > 0 for row in drawn), sum(not row.holds for row in drawn)
    of_these = [f"{warned} warned"] if warned else []
    of_these += [f"{failing} {'fails' if failing == 1 else 'fail'}"] if failing else []
    return f"{counted(len(rows), 'client')}: {', '.join(states)}" + (f"; {', '.join(of_these)}" if of_these else "")


def _count(rows: Sequence[Row], state: str) -> int:
    return sum(row.state == state for row in rows)
