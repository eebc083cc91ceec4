"""Rows of words as lines with their columns under each other."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence


def table(rows: Sequence[tuple[str, ...]], words: tuple[int, ...] = (0,)) -> list[str]:
    """Rows of equally many cells, indented by two; the columns `words` begin under each other, the others end so."""
    widths = [max((len(row[k]) for row in rows), default=0) for k in range(len(rows[0]))] if rows else []
    lines = []
    for row in rows:
        cells = [
            cell.ljust(width) if k in words else cell.rjust(width)
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append("  " + "  ".join(cells).rstrip())
    return lines


def edges_by_name(names: Iterable[str], joint: str = " + ") -> str:
    """Edges by name; a part without one is named as it is written, but for its decimal points, which it has again here."""
    return re.sub(r"(?<=\d),(?=\d)", ".", joint.join(names))
