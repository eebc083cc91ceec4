"""The key of a seam map: each letter with its line and its seam, and how edges end beside seams."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np

from .lettering import text_room
from .mapped import SAID, Finish, SeamMap
from .marks import Label, Layer, Mark, Reals
from .seam_signs import RING, line_marks, ring
from .shelves import APART

MARGIN = 10.0
"""Round a page, mm."""

TEXT_HEIGHT = 2.5

ROW = 2 * RING + 1.2
SAMPLE = 16.0
"""How long a line is in the key, mm."""

BEFORE = 2 * RING + SAMPLE + 4.0
"""Before the words of a row of the key, mm."""

MOST_COLUMNS = 4


@dataclass(frozen=True)
class Row:
    """A row of the key."""

    text: str
    letter: str = ""
    layer: Layer | None = None
    finish: Finish | None = None

    @property
    def width(self) -> float:
        return BEFORE + text_room(self.text, TEXT_HEIGHT)

    def marks(self, at: Reals) -> Iterator[Mark]:
        """The row with its left end, half its height up, at a place (2,)."""
        start = at + np.array([2 * RING + 2.0, 0.0])
        line = np.stack([start, start + np.array([SAMPLE, 0.0])])
        yield from ring(self.letter, at + np.array([RING, 0.0]), "key") if self.letter else ()
        yield from line_marks([line], [self.layer] if self.layer else [], [self.finish] if self.finish else [], "key")
        yield Label(self.text, at + np.array([BEFORE, -TEXT_HEIGHT / 2]), TEXT_HEIGHT, source="key")


def rows_of(drawn: SeamMap) -> list[Row]:
    rows = [Row(f"{number}  {one.said}", one.letter, drawn.layers[one.letter]) for number, one in enumerate(drawn.seams, 1)]
    return rows + [Row(SAID[one], finish=one) for one in drawn.finishes]


def key_of(rows: Sequence[Row], width: float) -> tuple[list[Mark], float]:
    """Rows of the key with their lower left corner at the margin, and how high they are."""
    columns = _columns(rows, width)
    x, top = MARGIN, MARGIN + len(columns[0]) * ROW
    marks: list[Mark] = []
    for column in columns:
        for k, row in enumerate(column):
            marks += row.marks(np.array([x, top - (k + 0.5) * ROW]))
        x += max(row.width for row in column) + APART
    return marks, len(columns[0]) * ROW


def _columns(rows: Sequence[Row], width: float) -> list[Sequence[Row]]:
    """The rows in as many columns as a width (mm) holds."""
    for count in range(MOST_COLUMNS, 0, -1):
        long = ceil(len(rows) / count)
        columns = [rows[k : k + long] for k in range(0, len(rows), long)]
        if sum(max(row.width for row in column) + APART for column in columns) - APART <= width:
            break
    return columns
