"""What the comparing words of the language mean, for a number known without a body and for lanes of numbers alike."""

from __future__ import annotations

from typing import Any

SLACK = 1e-6  # millimetres or radians: rounding does not decide a check


def compared(word: str, left: Any, right: Any, extra: Any = None) -> Any:
    """Whether `left` compares to `right` as the word says, for floats or (L,) arrays; `extra` is the tolerance of `equals`
    and the upper bound of `between`."""
    match word:
        case "at_least":
            return left >= right - SLACK
        case "at_most":
            return left <= right + SLACK
        case "more_than":
            return left > right
        case "less_than":
            return left < right
        case "equals":
            return abs(left - right) <= extra + SLACK
        case _:
            return (left >= right - SLACK) & (left <= extra + SLACK)
