"""How far the points of pieces move with each measurement and each choice, on bodies as they stand.

Beside each body stand bodies that differ from it in one thing by a tenth of a mm; all are drawn at once. Where more and less do
not move a point alike, the body stands where a sentence switches, and both are told.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..bodies.body import Body
from ..bodies.lanes import Population
from ..finish.together import finish
from ..geometry.lanes import Lanes
from ..grading.laying import rule_of
from ..grading.run import Places, complexes, edges_in_order, named_points
from ..graph.evaluate import Evaluated, evaluate
from ..graph.switching import Choosing, choosing
from ..meaning.style import CheckedStyle
from ..pattern.piece import Piece, Reals
from ..pattern.which_ends import Sides
from ..verbs.values import Mask
from .keeping import KEEP_NOTHING
from .nudged import Nudged, Per, Source, sources_of
from .prepare import Prepared
from .sewn import declared

SHARE = 1e-7
"""Solves settle within this share of their tolerance: what they leave over at other times is more than a point moves."""

BENDS: Mapping[Per, float] = {"mm": 0.05, "degree": 0.1, "number": 5.0, "kg": 0.5}
"""A point that moves so much otherwise (mm) with more of a thing than with less stands on a switch."""


STILL = 1e-4
"""A point that moves by less per one of a thing does not move: it is what is left of rounding."""


@dataclass(frozen=True, eq=False)
class PieceRates:
    """The points of a piece by name (bodies, 2), mm, and how far each moves, mm, per one of each source where that becomes more,
    `ahead`, and less, `behind` (bodies, sources, 2); NaN where it cannot be drawn there, or not of the same edges. Where bodies
    are laid, in words, and whether the style says so."""

    name: str
    laid_at: str
    stated: bool
    points: Mapping[str, Reals]
    ahead: Mapping[str, Reals]
    behind: Mapping[str, Reals]


@dataclass(frozen=True, eq=False)
class Rates:
    """What acts on a style on bodies, the values of these (bodies, sources), and the pieces; `choosing` are the nodes that
    choose, on all lanes of `nudged`."""

    nudged: Nudged
    values: Reals
    pieces: tuple[PieceRates, ...]
    choosing: Mapping[int, Choosing]

    @property
    def sources(self) -> tuple[Source, ...]:
        return self.nudged.sources

    def switches(self, piece: PieceRates, point: str) -> Mask:
        """On which bodies, and with which sources, a point stands on a switch (bodies, sources)."""
        apart = np.abs(piece.ahead[point] - piece.behind[point]).max(axis=2)
        alike: Mask = apart <= np.array([BENDS[one.per] for one in self.sources])
        return ~alike  # what is known on one side only is not alike on both

    def moves(self, body: int, source: int) -> bool:
        """Whether a source moves any point of a body."""
        rows = (one[body, source] for piece in self.pieces for some in (piece.ahead, piece.behind) for one in some.values())
        return any(not (np.abs(one) <= STILL).all() for one in rows)


def rates_on(prepared: Prepared, bodies: Sequence[Body], sample: int | None = None) -> Rates:
    """The rates on bodies, all laid on one of them, the `sample`, or each on itself. What of a body cannot be drawn is NaN."""
    style = prepared.style
    assert style is not None
    people = Population.of(bodies)
    nudged = Nudged(people, sources_of(style, people))
    evaluated = evaluate(style, nudged, share=SHARE)
    pieces, seams = _finished(style, evaluated)
    rows = [_piece(name, some, nudged, seams, sample) for name, some in pieces.items()]
    return Rates(nudged, nudged.values(style), tuple(rows), choosing(style, evaluated, nudged, style.pieces.values()))


@dataclass(frozen=True, eq=False)
class _Cloth:
    """A piece with its notches on some of the lanes."""

    lanes: Lanes
    piece: Piece
    edges: tuple[str, ...]


def _finished(style: CheckedStyle, evaluated: Evaluated) -> tuple[dict[str, list[_Cloth]], Sequence[Sides]]:
    """Each piece on every lane on which it can be drawn, and the seams as they are said."""
    found: dict[str, list[_Cloth]] = {name: [] for name in style.pieces}
    said: Sequence[Sides] = ()
    for part in evaluated.parts:
        seams = declared(style, part)
        said = [seam.said for seam in seams]
        cloth = {name: value for name, node in style.pieces.items() if isinstance(value := part.values[node], Piece)}
        for lanes, garment in finish(cloth, [one.to_finish() for one in seams], part.lanes.size, KEEP_NOTHING):
            for name, made in garment.pieces.items():
                found[name].append(_Cloth(part.lanes[lanes], made.piece, edges_in_order(made.piece)))
    return found, said


def _piece(name: str, made: Sequence[_Cloth], nudged: Nudged, seams: Sequence[Sides], sample: int | None) -> PieceRates:
    lead = next(one for one in made if nudged.lane(sample or 0) in one.lanes)
    rules = {one.edges: rule_of(name, one.piece, seams) for one in (*made, lead)}
    kinds = {edges: number for number, edges in enumerate(rules)}
    count, block = len(nudged.people.lane_names), nudged.block
    kind, at, way = np.full(count * block, -1), np.zeros(count * block, dtype=complex), np.ones(count * block, dtype=complex)
    drawn: dict[str, Places] = {}
    for one in made:
        rule = rules[one.edges]
        kind[one.lanes], at[one.lanes], way[one.lanes] = kinds[one.edges], rule.point(one.piece), rule.way(one.piece)
        for point, places in named_points(one.piece).items():
            drawn.setdefault(point, np.full(count * block, np.nan + 0j))[one.lanes] = complexes(places)
    own = np.repeat(np.arange(count) * block, block)
    on = own if sample is None else np.full(count * block, nudged.lane(sample))
    alike = (kind >= 0) & (kind == kind[own]) & (kind == kind[on])
    turn = way[on] / way
    turn /= np.abs(turn)
    laid_at = rules[lead.edges]
    here, ahead, behind = dict[str, Reals](), dict[str, Reals](), dict[str, Reals]()
    steps = np.array([one.step for one in nudged.sources]).reshape(1, -1, 1)
    for point, there in drawn.items():
        lie = np.where(alike, at[on] + turn * (there - at), np.nan)
        rows = np.stack([lie.real, lie.imag], axis=-1).reshape(count, block, 2)
        here[point], ahead[point] = rows[:, 0], (rows[:, 1::2] - rows[:, :1]) / steps
        behind[point] = (rows[:, :1] - rows[:, 2::2]) / steps
    return PieceRates(name, laid_at.told, laid_at.stated, here, ahead, behind)
