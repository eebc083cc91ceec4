"""Solve: the value within stated bounds that makes two measured things equal, on every body at once.

False position with the Illinois step (M. Dowell, P. Jarratt, BIT 11 (1971) 168-174), which keeps its bracket. A lane
rests once it is within a tenth of the tolerance, so a body's answer does not depend on the others.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..pattern.piece import Reals, Trouble

ROUNDS = 60
SHARE = 0.1  # of the stated tolerance: what follows may lose the rest
BETWEEN = 4  # values tried between the bounds where these do not bracket an answer
Tries = tuple[tuple[Reals, Reals], ...]


@dataclass
class Unsolved(Trouble):
    """No answer for some lanes; `tries` are the values tried and what was left over at each, (L,) both."""

    tries: Tries = ()


def solved(
    surplus: Callable[[Reals], Reals],
    low: Reals,
    high: Reals,
    within: Reals,
    name: str,
    kept: bool = False,
    share: float = SHARE,
) -> Reals:
    """The value (L,) between `low` and `high` at which `surplus` (L,) is zero to a `share` of `within`, a tenth of it where
    nothing else is asked.

    Where it has one sign at both bounds, values between them are tried for the first change of sign. Where there is none,
    Unsolved with lanes and what was tried; or, when `kept`, the bound at which less is left over.
    """
    at_low, at_high = surplus(low), surplus(high)
    close = SHARE * within
    alike = _alike(at_low, at_high, close)
    if alike.any():
        tries = _tried(surplus, low, high, at_low, at_high)
        low, high, at_low, at_high = _bracketed(tries, alike, close)
        alike = _alike(at_low, at_high, close)
        if kept:  # both bounds and what is left over there become those of the nearer one, and the lane rests
            nearer = np.abs(at_low) <= np.abs(at_high)
            bound = np.where(nearer, low, high)
            low, high = np.where(alike, bound, low), np.where(alike, bound, high)
            at_low, at_high = np.where(alike, 0.0, at_low), np.where(alike, 0.0, at_high)
        elif alike.any():
            fix = "widen the bounds on the side where least is left over, or move a point"
            raise Unsolved(f"no `{name}` within its bounds makes this hold", fix, alike, tries=tries)
    return _narrowed(surplus, (low, high), (at_low, at_high), share * within, name)


def _alike(one: Reals, other: Reals, close: Reals) -> NDArray[np.bool_]:
    """Lanes on which the two have one sign and neither is near enough to nothing."""
    return np.asarray((np.sign(one) == np.sign(other)) & (np.abs(one) > close) & (np.abs(other) > close))


def _tried(surplus: Callable[[Reals], Reals], low: Reals, high: Reals, at_low: Reals, at_high: Reals) -> Tries:
    """The bounds and values evenly between them, in order, with what is left over at each."""
    places = [low + (high - low) * (k / (BETWEEN + 1)) for k in range(1, BETWEEN + 1)]
    return ((low, at_low), *((place, surplus(place)) for place in places), (high, at_high))


def _bracketed(tries: Tries, alike: NDArray[np.bool_], close: Reals) -> tuple[Reals, Reals, Reals, Reals]:
    """The first neighbours of the tries between which the sign changes, on the lanes asked for; else the bounds."""
    (low, at_low), (high, at_high) = tries[0], tries[-1]
    open_ = alike
    for (left, at_left), (right, at_right) in pairwise(tries):
        here = open_ & ~_alike(at_left, at_right, close)
        low, high = np.where(here, left, low), np.where(here, right, high)
        at_low, at_high = np.where(here, at_left, at_low), np.where(here, at_right, at_high)
        open_ = open_ & ~here
    return low, high, at_low, at_high


def _narrowed(
    surplus: Callable[[Reals], Reals], bounds: tuple[Reals, Reals], ends: tuple[Reals, Reals], close: Reals, name: str
) -> Reals:
    """The Illinois step on every lane until all rest."""
    (low, high), (at_low, at_high) = bounds, ends
    found = np.where(np.abs(at_low) <= np.abs(at_high), low, high)
    least = np.minimum(np.abs(at_low), np.abs(at_high))
    rest = (least <= close) | (np.sign(at_low) == np.sign(at_high))  # a bound that is near enough stays
    kept = np.zeros(found.shape)  # which end the last step kept: the low one -1, the high one 1
    tries: list[tuple[Reals, Reals]] = []
    for _ in range(ROUNDS):
        if rest.all():
            return found
        steep = np.where(at_high == at_low, 1.0, at_high - at_low)
        trial = np.where(
            rest, found, np.where(at_high == at_low, (low + high) / 2, (low * at_high - high * at_low) / steep)
        )
        value = surplus(trial)
        tries = [*tries[-BETWEEN:], (trial, value)]
        found, settled = trial, rest | (np.abs(value) <= close)
        upper = (np.sign(value) == np.sign(at_high)) & ~settled
        lower = ~upper & ~settled
        at_low = np.where(upper & (kept == -1), at_low / 2, np.where(lower, value, at_low))
        at_high = np.where(lower & (kept == 1), at_high / 2, np.where(upper, value, at_high))
        low, high = np.where(lower, trial, low), np.where(upper, trial, high)
        kept = np.where(upper, -1.0, np.where(lower, 1.0, kept))
        rest = settled
    raise Unsolved(f"`{name}` did not settle: what is measured jumps", "state a wider tolerance", ~rest, tries=tuple(tries))
