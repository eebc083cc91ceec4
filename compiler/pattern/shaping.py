"""Darts made shorter, and their legs bowed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ..geometry.curve import bowed
from ..geometry.lanes import norm, unit
from ..geometry.length import length
from ..geometry.path import Path, line
from ..geometry.tolerances import COINCIDE
from .darts import apex_of, move_apex, no_such_dart
from .piece import Hole, HoleEnd, OperationNote, Piece, Reals, Side, Trouble
from .ring import edge_run, end_of, rebuilt, replace_side, runs_of, start_of

DEEPEST = 0.25
"""How far a leg may be bowed, as a share of its length: beyond that it is a half round, no dart's leg."""


def shorten(piece: Piece, name: str, by: Reals | None, end: HoleEnd = "upper") -> Piece:
    """The dart with its apex drawn back by `by` (L,) mm toward the middle of its opening (longer by a negative length).

    The legs there are drawn anew, straight. Of a dart with two ends the apex at `end` moves. Trouble with lanes where
    nothing of the dart would be left.
    """
    middle, apex = _middle(piece, name, end), apex_of(piece, name, end)
    if middle is None or apex is None or by is None:
        return piece
    long = norm(middle - apex)
    removed = by >= long - COINCIDE
    if removed.any():
        raise Trouble(f"nothing is left of `{name}`", "shorten it by less", removed, {"length of the dart": long, "asked": by})
    return move_apex(piece, name, apex + by[:, None] * unit(middle - apex), end)


def long_of(piece: Piece, name: str, end: HoleEnd = "upper") -> Reals:
    """How long (L,) mm a dart is, from the middle of its opening to its apex; zero in a sketch."""
    middle, apex = _middle(piece, name, end), apex_of(piece, name, end)
    return np.zeros(1) if middle is None or apex is None else norm(middle - apex)


def _middle(piece: Piece, name: str, end: HoleEnd) -> Reals | None:
    """The middle (L, 2) of the opening of a dart; None in a sketch."""
    mouth = _mouth(piece, name, end)
    return None if mouth is None else (mouth[0] + mouth[1]) / 2.0


def _mouth(piece: Piece, name: str, end: HoleEnd) -> tuple[Reals, Reals] | None:
    """The ends (L, 2) of the two legs away from the apex; None in a sketch."""
    dart, hole = piece.dart(name), piece.hole(name)
    if dart is not None:
        a = start_of(piece.ring[edge_run(piece, dart.first)[0]])
        b = end_of(piece.ring[edge_run(piece, dart.second)[-1]])
        return None if a is None or b is None else (a, b)
    if hole is None:
        raise no_such_dart(piece, name)
    apex = apex_of(piece, name, end)
    if apex is None:
        return None
    ends = [_other_end(side, apex) for side in hole.sides]
    spots = [spot for spot in ends if spot is not None]
    return spots[0], spots[1]


def _other_end(side: Side, apex: Reals) -> Reals | None:
    """The end of a leg that is not the apex, if the leg touches that."""
    path = side.drawn
    if bool((norm(path.start - apex) <= COINCIDE).all()):
        return path.end
    return path.start if bool((norm(path.end - apex) <= COINCIDE).all()) else None


def bow(piece: Piece, name: str, by: Reals | None) -> Piece:
    """The dart with every leg bowed at its middle by `by` (L,) mm out into the cloth, so that it takes in more there
    (less where negative); both legs are mirror images, and sew to each other.

    Legs that were bowed are drawn anew; by nothing they are straight. Trouble with lanes where they are bowed by more
    than a quarter of their length, or into each other. How much longer the legs are is told.
    """
    dart, hole = piece.dart(name), piece.hole(name)
    if dart is None and hole is None:
        raise no_such_dart(piece, name)
    if by is None or piece.is_sketch:
        return piece
    if hole is not None:
        sides = tuple(_bowed(side, by, name) for side in hole.sides)
        bent = Hole(name, sides)
        for k in (0, 1):  # a pair of legs meets at either apex
            _must_stay_apart(name, sides[k].drawn, sides[3 - k].drawn, by)
        return replace(piece, holes=tuple(bent if other is hole else other for other in piece.holes))
    assert dart is not None
    numbers = edge_run(piece, dart.first), edge_run(piece, dart.second)
    if len(numbers[0]) != 1 or len(numbers[1]) != 1:
        raise Trouble(f"the legs of `{name}` have corners", "bow them before anything else is done to them")
    runs = runs_of(piece)
    legs = [_bowed(piece.ring[n[0]], by, name) for n in numbers]
    _must_stay_apart(name, legs[0].drawn, legs[1].drawn, by)
    for n, leg in zip(numbers, legs, strict=True):
        runs[n[0]] = replace_side(runs[n[0]], leg.drawn)
    was, now = length(piece.ring[numbers[0][0]].drawn), length(legs[0].drawn)
    return rebuilt(piece, runs).with_note(OperationNote("legs bowed", dart.first, {"before": was, "after": now}))


def _bowed(side: Side, by: Reals, name: str) -> Side:
    """A leg with its middle out in the cloth, which lies on the left of its travel."""
    start, end = side.drawn.start, side.drawn.end
    long = norm(end - start)
    deep = np.abs(by) > DEEPEST * long
    if deep.any():
        figures = {"bowed by": by, "length of the leg": long}
        raise Trouble(f"the legs of `{name}` are bowed too far", "by a quarter of their length at most", deep, figures)
    return replace(side, path=bowed(start, end, by) if by.any() else line(start, end))


def _must_stay_apart(name: str, first: Path, last: Path, by: Reals) -> None:
    """Trouble where two legs bowed inward meet: at the apex first, where each leaves its chord by 2 atan(2 depth / chord)."""
    long, wide = norm(first.end - first.start), norm((first.start + first.end - last.start - last.end) / 2.0)
    met = 2.0 * np.arctan(-2.0 * by / long) >= np.arcsin(wide / long)
    if met.any():
        figures = {"bowed by": by, "width": 2.0 * wide}
        raise Trouble(f"the legs of `{name}` run into each other", "bow them inward by less", met, figures)
