"""Solve: the length within stated bounds that makes two measured things equal, on every body at once.

False position with the Illinois step (M. Dowell, P. Jarratt, BIT 11 (1971) 168-174), which keeps its bracket. A lane
rests once it is within a tenth of the tolerance, so a body's answer does not depend on the others.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ..pattern.piece import Reals, Trouble

ROUNDS = 60
SHARE = 0.1  # of the stated tolerance: what follows may lose the rest


def solved(surplus: Callable[[Reals], Reals], low: Reals, high: Reals, within: Reals, name: str) -> Reals:
    """The value (L,) between `low` and `high` at which `surplus` (L,) is zero to a tenth of `within`.

    Trouble with lanes, and the surplus at both bounds, where it does not change sign between them.
    """
    at_low, at_high = surplus(low), surplus(high)
    close = SHARE * within
    same = (np.sign(at_low) == np.sign(at_high)) & (np.abs(at_low) > close) & (np.abs(at_high) > close)
    if same.any():
        figures = {"lowest": low, "too long by": at_low, "highest": high, "there too long by": at_high}
        raise Trouble(
            f"no `{name}` within its bounds makes this hold", "widen the bounds, or move a point", same, figures
        )
    found = np.where(np.abs(at_low) <= np.abs(at_high), low, high)
    rest = np.minimum(np.abs(at_low), np.abs(at_high)) <= close
    kept = np.zeros(found.shape)  # which end the last step kept: the low one -1, the high one 1
    for _ in range(ROUNDS):
        if rest.all():
            return found
        steep = np.where(at_high == at_low, 1.0, at_high - at_low)
        trial = np.where(
            rest, found, np.where(at_high == at_low, (low + high) / 2, (low * at_high - high * at_low) / steep)
        )
        value = surplus(trial)
        found, settled = trial, rest | (np.abs(value) <= close)
        upper = (np.sign(value) == np.sign(at_high)) & ~settled
        lower = ~upper & ~settled
        at_low = np.where(upper & (kept == -1), at_low / 2, np.where(lower, value, at_low))
        at_high = np.where(lower & (kept == 1), at_high / 2, np.where(upper, value, at_high))
        low, high = np.where(lower, trial, low), np.where(upper, trial, high)
        kept = np.where(upper, -1.0, np.where(lower, 1.0, kept))
        rest = settled
    raise Trouble(f"`{name}` did not settle", "state a wider tolerance", ~rest, {"still off by": surplus(found)})
