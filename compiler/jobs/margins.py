"""The numbers by which checks and seams hold, on many bodies: whole thousandths, with the bounds they must keep."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np

from ..graph.evaluate import Evaluated, Part
from ..meaning.payloads import Comparison
from ..meaning.style import CheckedStyle
from ..pattern.piece import Reals
from ..population.moments import Ints, Mask
from ..population.tally import Number
from ..verbs.values import Seam

SCALES: Mapping[str, float] = {"length": 1000.0, "angle": 1000.0 * 180.0 / np.pi, "area": 10.0}
"""By kind, what makes whole numbers of a value: thousandths of a mm, of a degree, of a cm2; others are told to a millionth."""
BARE = 1e6

Bounds = tuple[Reals, Reals | None, Reals | None]
"""A value and between what it must lie, each (L,)."""


def whole(values: Sequence[float | None]) -> tuple[Ints, Mask]:
    """Lengths in mm as thousandths, and which there are."""
    numbers = np.array([np.nan if one is None else one for one in values], dtype=np.float64)
    has = ~np.isnan(numbers)
    return np.rint(np.where(has, numbers, 0.0) * SCALES["length"]).astype(np.int64), has


def check_number(style: CheckedStyle, evaluated: Evaluated, node: int, drawn: Mask) -> Number | None:
    """What a check that compares two things comes to; None of one that joins several, or compares no numbers."""
    payload, args = style.nodes[node].payload, style.nodes[node].args
    if not isinstance(payload, Comparison):
        return None

    def of(part: Part) -> Bounds | None:
        sides = {name: part.values[arg] for name, arg in args.items() if arg in part.values}
        if not all(isinstance(one, np.ndarray) for one in sides.values()):
            return None
        return _compared(payload.word, **sides)  # type: ignore[arg-type]

    return _number(evaluated, of, SCALES.get(style.nodes[args["left"]].kind.word, BARE), drawn)


def _compared(word: str, left: Reals, right: Reals, extra: Reals | None = None) -> Bounds:
    none = np.zeros(1)
    match word:
        case "at_least" | "more_than":
            return left - right, none, None
        case "at_most" | "less_than":
            return right - left, none, None
        case "equals":
            assert extra is not None
            return left - right, -extra, extra
        case _:
            assert extra is not None
            return left - right, none, extra - right


def seam_number(style: CheckedStyle, evaluated: Evaluated, node: int, drawn: Mask) -> Number:
    """By how much the first side of a seam is longer than the second."""

    def of(part: Part) -> Bounds | None:
        value = part.values[node]
        assert isinstance(value, Seam)
        return value.left_mm - value.right_mm, -value.within, value.within if value.how == "joins" else None

    found = _number(evaluated, of, SCALES["length"], drawn)
    assert found is not None
    return found


def _number(evaluated: Evaluated, of: Callable[[Part], Bounds | None], scale: float, drawn: Mask) -> Number | None:
    """The number on all bodies of all parts that are drawn."""
    columns = np.full((3, drawn.size), np.nan)
    given = [False, False, False]
    for part, bounds in _each(evaluated, of):
        if bounds is None:
            return None
        for at, one in enumerate(bounds):
            if one is not None:
                columns[at, part.lanes] = one
                given[at] = True
    has = drawn & ~np.isnan(columns[0])
    value, low, high = np.rint(np.where(has, np.nan_to_num(columns), 0.0) * scale).astype(np.int64)
    return Number(value, has, low if given[1] else None, high if given[2] else None)


def _each(evaluated: Evaluated, of: Callable[[Part], Bounds | None]) -> Iterator[tuple[Part, Bounds | None]]:
    for part in evaluated.parts:
        yield part, of(part)
