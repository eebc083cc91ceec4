"""What is told of several bodies as a table: a column for each body while there are few, else the least and the most, and on whom
it is the most."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..diagnostics import difference_words as words
from ..geometry.tolerances import FLAT, SEW
from .figures import Figures
from .telling import Row

MOST_COLUMNS = 6
"""More bodies have no column each."""


@dataclass(frozen=True)
class Table:
    """Rows of cells under their heads; the first two are the piece and what is told."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def table(rows: Sequence[Row], bodies: Mapping[str, Figures], least: float = SEW) -> Table:
    """The rows in their order, with a column for each of these bodies, or for the least, the most and on whom."""
    many = len(bodies) > MOST_COLUMNS
    heads = ("least", "most", "most on") if many else tuple(bodies)
    return Table(("", "", *heads), tuple(_cells(row, bodies, many, least) for row in rows))


def _cells(row: Row, bodies: Mapping[str, Figures], many: bool, least: float) -> tuple[str, ...]:
    first = ", ".join(words.spoken(name) for name in row.pieces), row.told
    if row.mm is None:
        some = row.bodies and len(row.bodies) < len(bodies)
        on = [("yes" if body in row.bodies else "") if some else "" for body in bodies]
        return (*first, "", "", ", ".join(row.bodies) if some else "") if many else (*first, *on)
    if many:
        worst, most = row.worst
        lightest = min(bodies, key=lambda body: abs((row.mm or {}).get(body, 0.0)))
        return (*first, bodies[lightest].bare(row.mm.get(lightest, 0.0)), bodies[worst].bare(most), worst)
    return (*first, *(_cell(row.mm.get(body, 0.0), figures, least) for body, figures in bodies.items()))


def _cell(mm: float, figures: Figures, least: float) -> str:
    """What is less than is told stands in brackets."""
    return f"({figures.bare(mm)})" if FLAT < abs(mm) < least else figures.bare(mm)
