"""How the sizes of a piece are laid on one another: a point they share, and a direction that is the same in all of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..finish.halves import centres_of
from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Piece
from ..pattern.which_ends import Sides
from .run import Reals, Sizes, called

UP = 1j
CROWN = "crown"


@dataclass(frozen=True)
class Laying:
    """A size laid on the sample: points of it, as complex numbers, are turned by `turn` and shifted by `shift`, mm."""

    turn: complex
    shift: complex

    def points(self, points: Reals) -> Reals:
        """Points (…, 2) of the size as they lie on the sample."""
        moved = (points[..., 0] + 1j * points[..., 1]) * self.turn + self.shift
        return np.stack([moved.real, moved.imag], axis=-1)


@dataclass(frozen=True)
class Laid:
    """The sizes of a piece as they lie on the sample: each `laying` by its size, where the sample's point is (2,), and in words
    where they are laid; `stated` where the style says so."""

    at: Reals
    told: str
    stated: bool
    by_size: Mapping[str, Laying]


@dataclass(frozen=True)
class _Rule:
    """What is the same in all sizes: a point, and a direction."""

    told: str
    point: Callable[[Piece], Reals]
    way: Callable[[Piece], complex]
    stated: bool = False


def laid(name: str, sizes: Sizes, sample: str, seams: Sequence[Sides] = ()) -> Laid:
    """How sizes of a piece lie on the sample: as its `align` says, else by what the piece is, never by how much it grows."""
    first = sizes[sample]
    rule = _stated(first) or _at_centre(name, sizes, first, seams) or _at_crown(first) or _at_first(first)
    point, way = rule.point(first), rule.way(first)
    at = complex(*point)
    by_size = {}
    for size, piece in sizes.items():
        turn = way / rule.way(piece)
        turn /= abs(turn)
        by_size[size] = Laying(turn, at - turn * complex(*rule.point(piece)))
    return Laid(point, rule.told, rule.stated, by_size)


def _grain(piece: Piece) -> complex:
    return UP if piece.finish.grain is None else complex(piece.finish.grain[0])


def _stated(piece: Piece) -> _Rule | None:
    said = piece.finish.aligned
    if said is None:
        return None

    def point(one: Piece) -> Reals:
        assert one.finish.aligned is not None
        at: Reals = one.finish.aligned.at[0]
        return at

    def way(one: Piece) -> complex:
        assert one.finish.aligned is not None
        turn = one.finish.aligned.way
        return _grain(one) if turn is None else complex(turn[0])

    return _Rule(said.told, point, way, stated=True)


def _at_centre(name: str, sizes: Sizes, piece: Piece, seams: Sequence[Sides]) -> _Rule | None:
    """At the upper end of the centre of a front or a back, or of any piece with a fold, or that was cut or unfolded from one; not
    where it has no direction in one of the sizes, being a point there."""
    named = (*centres_of(name, piece, seams), piece.fold, piece.was_fold)
    centre = next((one for one in named if one and piece.sides(one)), None)
    if centre is None:
        return None
    start, end = _ends(piece, centre)
    upward = ((end - start) * np.conj(_grain(piece))).real > 0.0
    beside = "" if centre not in {called(side) for side in piece.ring} else _beside(piece, centre, upward)
    where = f"the upper end of {_spoken(centre)}" if not beside else f"{_spoken(beside)} by {_spoken(centre)}"

    def point(one: Piece) -> Reals:
        ends = _ends(one, centre)
        at = ends[1] if upward else ends[0]
        return np.array([at.real, at.imag])

    def way(one: Piece) -> complex:
        """That of the part at its upper end: a slash may have turned the rest."""
        side = one.sides(centre)[-1 if upward else 0].drawn
        along = complex(*side.end[0]) - complex(*side.start[0])
        return along if upward else -along

    if not all(abs(way(one)) > COINCIDE for one in sizes.values()):
        return None
    return _Rule(f"{where}, along {_spoken(centre)}", point, way)


def _ends(piece: Piece, edge: str) -> tuple[complex, complex]:
    sides = piece.sides(edge)
    return complex(*sides[0].drawn.start[0]), complex(*sides[-1].drawn.end[0])


def _beside(piece: Piece, edge: str, at_end: bool) -> str:
    run = piece.run(edge)
    return called(piece.ring[(run[-1] + 1) % len(piece.ring)] if at_end else piece.ring[run[0] - 1])


def _at_crown(piece: Piece) -> _Rule | None:
    """At the crown of a sleeve, where it has a point of that name."""
    if piece.points.get(CROWN) is None:
        return None

    def point(one: Piece) -> Reals:
        at = one.points[CROWN]
        assert at is not None
        found: Reals = at[0]
        return found

    return _Rule("the crown, along the grain", point, _grain)


def _at_first(piece: Piece) -> _Rule:
    """At the first corner of the first edge."""
    before, after = called(piece.ring[-1]), called(piece.ring[0])

    def point(one: Piece) -> Reals:
        count = len(one.ring)
        pairs = ((called(one.ring[k - 1]), called(one.ring[k])) for k in range(count))
        at = next(k for k, pair in enumerate(pairs) if pair == (before, after))
        found: Reals = one.ring[at].drawn.start[0]
        return found

    return _Rule(f"{_spoken(before)} by {_spoken(after)}, along the grain", point, _grain)


def _spoken(name: str) -> str:
    return name.replace("_", " ").replace(".", " ")
