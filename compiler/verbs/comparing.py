"""What the comparing words of the language mean, for a number known without a body and for lanes of numbers alike."""

from __future__ import annotations

from typing import Any

from ..geometry.tolerances import DECIDES


def compared(word: str, left: Any, right: Any, extra: Any = None) -> Any:
    """Whether `left` compares to `right` as the word says, for floats or (L,) arrays; `extra` is the tolerance of `equals`
    and the upper bound of `between`."""
    match word:
        case "at_least":
            return left >= right - DECIDES
        case "at_most":
            return left <= right + DECIDES
        case "more_than":
            return left > right
        case "less_than":
            return left < right
        case "equals":
            return abs(left - right) <= extra + DECIDES
        case _:
            return (left >= right - DECIDES) & (left <= extra + DECIDES)
