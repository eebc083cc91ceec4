"""The levels of a garment between its openings, as its waist: how far it is round there, closed and with its closures open."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..assembly.closures import Closing
from ..assembly.whole import Whole
from ..geometry.length import length, nearest
from ..geometry.tolerances import SEW
from ..meaning.payloads import Known
from ..meaning.style import CheckedStyle
from ..output.records import ClosureRow
from ..pattern.marks import OFF_CLOTH
from ..pattern.piece import Piece, Reals
from .fit import FitResult
from .numbers import column


@dataclass(frozen=True)
class Crossing:
    """A closure beside a level on some bodies: how far (mm) below the upper end of its run it meets that; infinite where the
    level lies below the run, NaN where it is not known. Whether there is an opening at its upper and at its lower end."""

    closure: str
    below: Sequence[float]
    open_at: tuple[bool, bool]


@dataclass(frozen=True)
class LevelOnBody:
    """A level on one body, at which the body measures `word`: how far the garment is round, mm, closed and open, and whether a
    closure opens it; `piece` is one that lies there."""

    name: str
    word: str
    piece: str
    girth_mm: float
    opened_mm: float
    closed_by: bool


@dataclass(frozen=True)
class LevelOnAll:
    """A level that a `fit` promises a girth at, on some bodies."""

    fit: str
    name: str
    word: str
    piece: str
    crossings: Sequence[Crossing]

    def of(self, k: int, fits: Mapping[str, FitResult], rows: Mapping[str, ClosureRow]) -> LevelOnBody | None:
        """The level on one of the bodies; None where no piece lies there. What is open round a closure is the cloth to its nearer
        end, twice."""
        girth = fits[self.fit].garment_mm if self.fit in fits else None
        if girth is None:
            return None
        more = max((_opened_by(one, k, rows[one.closure]) for one in self.crossings), default=0.0)
        return LevelOnBody(self.name, self.word, self.piece, girth, girth + 2.0 * more, more > 0.0)


def _opened_by(one: Crossing, k: int, row: ClosureRow) -> float:
    """How far (mm) a closure is open beyond a level, to that end which is nearer; infinite also where it is not known."""
    below, (upper, lower) = one.below[k], one.open_at
    if math.isnan(below):
        return math.inf
    through = lower and row.long_mm >= row.place_mm - SEW
    ends = (math.inf if upper else below, math.inf if through else row.long_mm - below)
    return max(min(ends), 0.0)


def levels_on_all(style: CheckedStyle, made: Whole, cloth: Mapping[str, Piece], count: int) -> list[LevelOnAll]:
    """The levels round the body that a style promises girths at over measurements of the body, on some bodies."""
    found = []
    for name, index in style.fits.items():
        node = style.nodes[index]
        level, over = node.words.get("at_level"), style.nodes[node.args["over"]].payload
        bearers = [one for one, piece in cloth.items() if any(True for _ in _ends(piece, level or ""))]
        if node.words["round"] == "body" and bearers and level and isinstance(over, Known) and len(over.asks) == 1:
            closings = [one for one in made.closings if one.reaches or one.within]
            crossings = [_crossing(one, cloth, level, count) for one in closings]
            found.append(LevelOnAll(name, level, over.asks[0], bearers[0], crossings))
    return found


def _crossing(closing: Closing, cloth: Mapping[str, Piece], level: str, count: int) -> Crossing:
    """How far below the upper end of a closure's run it meets a level."""
    downward = [(atom, not forward) for atom, forward in reversed(closing.run)] if closing.climbs else closing.run
    gone, least = np.zeros(1), np.full(1, np.inf)
    below, beyond = np.full(1, np.nan), np.full(1, np.nan)
    foot = np.min(np.stack(np.broadcast_arrays(*(_low(cloth[atom.piece], atom.side) for atom, _ in downward))), axis=0)
    for atom, forward in downward:
        drawn = cloth[atom.piece].ring[atom.side].drawn
        long = length(drawn)
        for end in _ends(cloth[atom.piece], level):
            along, away = nearest(drawn, end)
            at, nearer = gone + (along if forward else long - along), away < least
            below = np.where(nearer, np.where(away <= OFF_CLOTH, at, np.nan), below)
            beyond = np.where(nearer, np.where(end[:, 1] < foot, np.inf, np.nan), beyond)
            least = np.minimum(least, away)
        gone = gone + long
    reached = column(np.where(np.isnan(below), beyond, below), count)
    return Crossing(closing.closure.name, reached, (bool(closing.upper), bool(closing.lower)))


def _low(piece: Piece, side: int) -> Reals:
    drawn = piece.ring[side].drawn
    return np.minimum(drawn.start[:, 1], drawn.end[:, 1])


def _ends(piece: Piece, level: str) -> Iterator[Reals]:
    """The ends (L, 2) of the lines and edges of a piece that are a level."""
    names = {name for name, sign in piece.signs.items() if sign.kind == "level" and sign.level == level}
    for side in (*piece.lines, *piece.ring):
        if names.intersection(side.names):
            yield side.drawn.start
            yield side.drawn.end
