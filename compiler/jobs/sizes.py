"""Sizes a value holds for: the conditions and tables by which a value of the specification differs from body to body."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..meaning.payloads import Chosen, Fallback, Measure, Table
from ..meaning.style import CheckedStyle
from ..verbs.kinds import QUANTITIES

Sizes = Mapping[str, tuple[str, ...]]
"""By the name of a sentence of the specification, what chooses its values by a measurement, as written in the style."""


def sizes(style: CheckedStyle) -> Sizes:
    """The rules of every sentence of the specification.

    What recipes choose for themselves is theirs, and what an edge's length rests on is the piece's.
    """
    return {name: tuple(dict.fromkeys(_rules(style, node))) for name, node in style.attached.items()}


def _rules(style: CheckedStyle, start: int) -> Iterator[str]:
    waiting, seen = [*style.nodes[start].args.values()], set[int]()
    while waiting:
        index = waiting.pop(0)
        node = style.nodes[index]
        if index in seen or node.kind not in QUANTITIES or style.origins[index].trace:
            continue
        seen.add(index)
        span = style.origins[index].span
        text = style.texts.get(span.file, "")
        if isinstance(node.payload, Chosen) and _by_measure(style, node.args["test"]):
            yield " ".join(text[span.start : span.end].split())
        elif isinstance(node.payload, Table) and _by_measure(style, node.args["by"]):
            yield " ".join(text[span.start : text.index("}", span.end) + 1].split())
        waiting += node.args.values()


def _by_measure(style: CheckedStyle, start: int) -> bool:
    """Whether a value rests on a measurement of the body."""
    waiting, seen = [start], set[int]()
    while waiting:
        index = waiting.pop()
        if isinstance(style.nodes[index].payload, Measure | Fallback):
            return True
        if index not in seen:
            seen.add(index)
            waiting += style.nodes[index].args.values()
    return False
