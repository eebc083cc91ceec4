"""One-dimensional roots over lanes."""

from collections.abc import Callable

import numpy as np

from .lanes import FloatArray

_STEPS = 80


def bracketed(f: Callable[[FloatArray], FloatArray], low: FloatArray, high: FloatArray, near: float) -> FloatArray:
    """Root (L,) of f, with f(low) and f(high) of opposite sign; stops in each lane when |f| < near.

    False position with the Illinois correction, and a bisection every third step. A settled lane does not move, so the
    result does not depend on what else is in the batch. Lanes without a change of sign give the better of their ends.
    """
    f_low, f_high = f(low), f(high)
    root = np.where(np.abs(f_low) <= np.abs(f_high), low, high)
    searching = (np.minimum(np.abs(f_low), np.abs(f_high)) >= near) & (f_low * f_high < 0.0)
    was_low = np.zeros(searching.shape, dtype=bool)
    was_high = was_low
    for step in range(_STEPS):
        if not searching.any():
            break
        gap = f_high - f_low
        secant = high - f_high * (high - low) / np.where(gap == 0.0, 1.0, gap)
        middle = 0.5 * (low + high)
        there = middle if step % 3 == 2 else np.where((secant > low) & (secant < high), secant, middle)
        value = f(there)
        root = np.where(searching, there, root)
        to_low = value * f_low > 0.0
        # The end that stays twice running counts half, or it would never move.
        f_low, f_high = (
            np.where(to_low, value, np.where(was_high, 0.5 * f_low, f_low)),
            np.where(to_low, np.where(was_low, 0.5 * f_high, f_high), value),
        )
        low, high = np.where(to_low, there, low), np.where(to_low, high, there)
        was_low, was_high = to_low, ~to_low
        searching &= np.abs(value) >= near
    return root
