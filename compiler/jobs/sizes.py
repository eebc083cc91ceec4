"""Sizes a value holds for: the conditions and tables by which a value of the specification differs from body to body."""

from __future__ import annotations

from collections.abc import Iterator

from ..meaning.style import CheckedStyle
from ..verbs.kinds import QUANTITIES


def holds_for(style: CheckedStyle, name: str) -> tuple[str, ...]:
    """What chooses the values of a sentence of the specification by a measurement, as written in the style, each once.

    What recipes choose for themselves is theirs, and what an edge's length rests on is the piece's.
    """
    node = style.nodes[style.attached[name]]
    found = (rule for arg in node.args.values() for rule in _rules(style, arg))
    return tuple(dict.fromkeys(found))


def _rules(style: CheckedStyle, index: int) -> Iterator[str]:
    node = style.nodes[index]
    if node.kind not in QUANTITIES or node.origin.trace:
        return
    span, text = node.origin.span, style.texts.get(node.origin.span.file, "")
    if node.op == "chosen" and _by_measure(style, node.args["test"]):
        yield " ".join(text[span.start : span.end].split())
    elif node.op == "table" and _by_measure(style, node.args["by"]):
        yield " ".join(text[span.start : text.index("}", span.end) + 1].split())
    for arg in node.args.values():
        yield from _rules(style, arg)


def _by_measure(style: CheckedStyle, index: int) -> bool:
    node = style.nodes[index]
    return node.op in ("measure", "fallback") or any(_by_measure(style, arg) for arg in node.args.values())
