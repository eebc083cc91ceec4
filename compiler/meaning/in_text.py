"""What a text writes in braces, to be read as a number: a name, or a word before `of` and a name."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..diagnostics.diagnostic import Span
from ..syntax import tree as t

_BRACES = re.compile(r"\{[^{}]*\}|[{}]")
_INSIDE = re.compile(r"\{\s*(?:([a-z]\w*)\s+of\s+)?([a-z]\w*(?:\.[a-z]\w*)*)\s*\}")


def names_in(text: t.Text) -> Iterator[t.Name]:
    """The names a text writes in braces."""
    for _, _, expr in numbers_in(text):
        named = expr.target if isinstance(expr, t.Of) else expr
        if isinstance(named, t.Name):
            yield named


def numbers_in(text: t.Text) -> Iterator[tuple[int, int, t.Of | t.Name | None]]:
    """Where braces stand in a text, and what is written in them; None where that is no number's name."""
    for braces in _BRACES.finditer(text.value):
        inside = _INSIDE.fullmatch(braces[0])
        yield braces.start(), braces.end(), None if inside is None else _read(text, braces.start(), inside)


def _read(text: t.Text, start: int, inside: re.Match[str]) -> t.Of | t.Name:
    at, parts = start + inside.start(2), []
    for part in inside[2].split("."):
        parts.append(t.Word(part, span_in(text, at, at + len(part))))
        at += len(part) + 1
    name = t.Name(tuple(parts), span_in(text, start + inside.start(2), start + inside.end(2)))
    if inside[1] is None:
        return name
    word = t.Word(inside[1], span_in(text, start + inside.start(1), start + inside.end(1)))
    return t.Of(word, name, word.span.to(name.span))


def span_in(text: t.Text, start: int, end: int) -> Span:
    """Where a part of a text stands in its file."""
    first = text.span.start + 1  # behind the quotes
    return Span(text.span.file, first + start, first + end)
