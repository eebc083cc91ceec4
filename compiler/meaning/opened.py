"""Edges that are said to open levels of the body, and at which none runs on, since what lay beyond was cut off the piece."""

from __future__ import annotations

from ..diagnostics import meaning_words as words
from .checker import Checker, Scope
from .style import CheckedStyle


def opens_nothing(checker: Checker, scope: Scope, style: CheckedStyle) -> None:
    """A warning for each edge of a piece that is cut along which it was cropped or divided, and which is said to open levels."""
    for name, index in style.pieces.items():
        opens: dict[str, int] = {}
        at: int | None = index
        while at is not None:
            node = style.nodes[at]
            if node.verb == "opens":
                opens.setdefault(node.words["subject"], at)
            edge = node.words.get("calling_the_new_edge", "")
            if edge in opens:
                checker.report(scope, words.opens_nothing(style.origins[opens.pop(edge)].span, edge, name, node.verb))
            at = node.before
