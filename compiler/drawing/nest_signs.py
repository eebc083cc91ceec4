"""The signs of a nest that no single size has: where its sizes are laid, corners and buttons in all of them; what each says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

import numpy as np

from ..pattern.piece import Piece
from .marks import Line, Mark, Reals
from .signs import across, centred, drill_hole, ending

APART = 1.3
"""What moves less than this (mm) over all sizes has no trail."""

DOT, SAMPLE_DOT = 0.5, 0.9
"""Radius (mm) of a corner on its trail, and of that of the sample."""

CROSS, SQUARE = 3.4, 2.2
"""Half the length of the cross where sizes are laid, and half the diagonal of the square in it, mm."""

BUTTON = 1.0
"""Half the length of the strokes of a cross in the middle of a button or a buttonhole, mm."""

HEIGHT, BEYOND, ASIDE = 2.5, 1.5, 8.0
"""Of the sizes written at the ends of a trail, and how far (mm) their middle lies beyond it and aside."""

NestSign = Literal["laid", "corner", "buttons", "drill", "opening"]
SAID: Mapping[NestSign, str] = {
    "laid": "the sizes are laid on one another here",
    "corner": "a corner in all sizes, the larger dot the sample's",
    "buttons": "middles of a button or buttonhole in the other sizes",
    "drill": "drill hole, of other sizes the cross alone; of a dart, short of its point",
    "opening": "an opening ends here",
}


def sign_sample(sign: NestSign, at: Reals) -> list[Mark]:
    """A sign as it is drawn, about `at` (2,)."""
    match sign:
        case "laid":
            return laid_here(at)
        case "corner":
            return trail(at + np.array([[-3.0, 0.0], [0.0, 0.0], [3.0, 0.0]]), 1)
        case "buttons":
            row = at + np.array([[-3.0, 0.0], [0.0, 0.0], [3.0, 0.0]])
            return [Line("trail", row), *(mark for each in row for mark in _cross(each, BUTTON, "legend"))]
        case "drill":
            return drill_hole(at, "legend")
        case "opening":
            return ending(at, "legend")


def laid_here(at: Reals) -> list[Mark]:
    """An upright cross through a square that stands on its corner: no drill hole."""
    corners = SQUARE * np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])
    return [*_cross(at, CROSS, "sizes laid here"), Line("trail", at + corners, closed=True, source="sizes laid here")]


def _cross(at: Reals, long: float, source: str) -> list[Mark]:
    arms = (np.array([long, 0.0]), np.array([0.0, long]))
    return [Line("trail", np.stack([at - arm, at + arm]), source=source) for arm in arms]


def trail(points: Reals, sample: int) -> list[Mark]:
    """A corner in all sizes (n, 2): a thin line through them with a dot each, the sample's larger."""
    if float(np.ptp(points, axis=0).max()) < APART:
        return []
    marks: list[Mark] = [Line("trail", points, source="trail")]
    turns = np.arange(8) * np.pi / 4
    ring = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    for k, at in enumerate(points):
        radius = SAMPLE_DOT if k == sample else DOT
        marks.append(Line("trail", at + radius * ring, closed=True, filled=True, source="trail"))
    return marks


def buttons_of(piece: Piece) -> dict[str, Reals]:
    """The middles (2,) of the buttons and buttonholes of a piece of one lane, by name."""
    found = {}
    for name, sign in piece.signs.items():
        point = piece.points.get(name)
        if sign.kind == "button" and point is not None:
            found[name] = point[0]
    for side in piece.lines:
        if piece.has_sign(side, "buttonhole"):
            found[side.names[-1]] = (side.drawn.start[0] + side.drawn.end[0]) / 2
    return found


def button_trails(names: Sequence[str], middles: Sequence[Mapping[str, Reals]], sample: int) -> list[Mark]:
    """Of each button and buttonhole, by name its middle (2,) in each size that has it: a line through all, a cross at each that
    is not the sample's, and at both ends what size it is. One for a button and a buttonhole in the same place."""
    marks: list[Mark] = []
    drawn: list[Reals] = []
    for name in dict.fromkeys(name for row in middles for name in row):
        having = [k for k, row in enumerate(middles) if name in row]
        points = np.stack([middles[k][name] for k in having])
        moves = float(np.ptp(points, axis=0).max()) >= APART or sample not in having
        if moves and not any(one.shape == points.shape and np.abs(one - points).max() < APART for one in drawn):
            sizes = [names[k] for k in having]
            marks += _crosses(name, points, sizes, [k == sample for k in having])
            if not any(np.abs(one[[0, -1]] - points[[0, -1]]).max() < ASIDE for one in drawn):
                marks += _ends_named(points, sizes)
            drawn.append(points)
    return marks


def _crosses(name: str, points: Reals, sizes: Sequence[str], is_sample: Sequence[bool]) -> list[Mark]:
    marks: list[Mark] = [Line("trail", points, source=name)] if len(points) > 1 else []
    for at, size, mine in zip(points, sizes, is_sample, strict=True):
        marks += [] if mine else _cross(at, BUTTON, f"size {size}")
    return marks


def _ends_named(points: Reals, sizes: Sequence[str]) -> list[Mark]:
    """The sizes at both ends of a trail, beside it, clear of the ring of a button."""
    way = points[-1] - points[0]
    long = float(np.linalg.norm(way))
    way = way / long if long > 0.0 else np.array([0.0, -1.0])
    aside, beyond = ASIDE * -across(way), BEYOND * way
    ends = {sizes[0]: points[0] + aside - beyond, sizes[-1]: points[-1] + aside + beyond}
    return [centred(size, at, HEIGHT, 0.0, f"size {size}", boxed=True) for size, at in ends.items()]
