"""The words of errors about names that a piece has on both sides. Code E283."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Span
from .suggest import either


def sewn_to_one(span: Span, single: str, both: str, sides: Sequence[str]) -> Diagnostic:
    fix = f"write a seam for each, with {either(sides)}; or cut the other piece as a pair"
    message = f"`{both}` is there on the left and on the right, and `{single}` only once"
    return Diagnostic("E283", message, span, fix=fix)


def sewn_to_itself(span: Span, edge: str, sides: Sequence[str]) -> Diagnostic:
    message = f"`{edge}` would be sewn left to itself and right to itself"
    return Diagnostic("E197", message, span, fix=f"write which is sewn to which: `joins {sides[0]} to {sides[1]}`")


def on_both_sides(name: str) -> str:
    """Why a piece has no bare name."""
    return f"it is on both sides, `left_{name}` and `right_{name}`, and one is wanted here"
