"""The growth of a piece as a picture: the sample's outline, and from each of its points an arrow to the largest and the smallest
size, drawn longer than it is. Not to be cut by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from ..pattern.piece import Piece
from .lines import curve, flat
from .marks import Circle, Drawing, Label, Line, Mark, Reals
from .signs import arrow

TIMES = 3.0
"""So many times as long as growth arrows are drawn."""

HEIGHT = 5.0
HEAD = 4.0
DOT = 0.7
LEAST = 0.5
"""What grows by less in all (mm) has no arrow."""


def growth_drawing(name: str, piece: Piece, points: Mapping[str, Reals], sample: int, sizes: Sequence[str]) -> Drawing:
    """A piece of one lane with the arrows of its points, each (sizes, 2) mm as they are laid on the sample."""
    marks: list[Mark] = [curve("sew", side.drawn, side.names[-1]) for side in piece.ring]
    for point, rows in points.items():
        marks += _arrows(point, rows, sample)
    outline = np.concatenate([flat(side.drawn)[:-1] for side in piece.ring])
    left, top = outline[:, 0].min(), outline[:, 1].max()
    text = f"{name.replace('_', ' ')}: growth from {sizes[sample]} to {sizes[0]} and to {sizes[-1]}, {TIMES:g} times as long"
    marks.append(Label(text, np.array([left, top + 12.0]), 7.0, source=name))
    return Drawing(name, tuple(marks), outline)


def _arrows(name: str, rows: Reals, sample: int) -> Iterator[Mark]:
    """From the sample outward through every size, with a dot at each, and what it grows in all beside the larger end."""
    for ends in (rows[sample:], rows[sample::-1]):
        away = rows[sample] + TIMES * (ends - rows[sample])
        if float(np.abs(ends[-1] - ends[0]).max()) < LEAST:
            continue
        if len(away) > 2:
            yield Line("trail", away[:-1], source=name)
            for at in away[1:-1]:
                yield Circle("trail", at, DOT, name)
        head = min(HEAD, 0.9 * float(np.linalg.norm(away[-1] - away[-2])))
        yield from arrow("grain", away[-2], away[-1], source=name, head=head)
        if len(ends) > 1 and np.array_equal(ends[-1], rows[-1]):
            grown = np.round(rows[-1] - rows[0], 1) + 0.0  # no nought with a minus
            yield Label(f"{grown[0]:.1f}, {grown[1]:.1f}", away[-1] + np.array([1.5, 1.0]), HEIGHT, source=name, boxed=True)
