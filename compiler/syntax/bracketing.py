"""Brackets around a sum, a product or `length of …` that stands bare between words and values, where a reader would stop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..diagnostics.diagnostic import Span
from .expressions import Arithmetic, Number, Of, SoFar
from .tokens import Token
from .tree import Definition, Sentence, held, within


def bracketed(tokens: Sequence[Token], sentence: Sentence) -> list[Token]:
    """The tokens of a sentence with these brackets, which leave nothing in the tree."""
    opened: dict[int, int] = {}
    closed: dict[int, int] = {}
    said = held(sentence)
    for span in () if isinstance(said, Definition) and said.kind.text == "seam" else _bare(said):  # there `to` parts two sums
        first, last = _whole(tokens, span)
        if not (first and last < len(tokens) and tokens[first - 1].type == "LPAR" and tokens[last].type == "RPAR"):
            opened[first] = opened.get(first, 0) + 1
            closed[last] = closed.get(last, 0) + 1
    made: list[Token] = []
    for i, token in enumerate(tokens):
        made += [Token("LPAR", "(", token.start, token.start, token.file)] * opened.get(i, 0)
        made.append(token)
        made += [Token("RPAR", ")", token.end, token.end, token.file)] * closed.get(i + 1, 0)
    return made


def _whole(tokens: Sequence[Token], span: Span) -> tuple[int, int]:
    """The first token of a value and the one behind it, with the brackets in which its first or its last part stands."""
    first = next(i for i, token in enumerate(tokens) if token.start >= span.start)
    last = next(i for i in range(len(tokens), 0, -1) if tokens[i - 1].end <= span.end)
    least = depth = 0
    for token in tokens[first:last]:
        depth += (token.type == "LPAR") - (token.type == "RPAR")
        least = min(least, depth)
    return first + least, last + depth - least


def _bare(node: object) -> Iterator[Span]:
    """Where such values stand: before another word of their operation or statement, or in a place before its end."""
    clauses = getattr(node, "clauses", None)
    if clauses is not None:
        values = [getattr(node, "subject", None), *(one.value for one in clauses)]
        for value in values[:-1]:
            yield from _span(value)
    if isinstance(node, SoFar):
        yield from _span(node.value)
    for one in within(node, braces=False):
        yield from _bare(one)


def _span(value: object) -> Iterator[Span]:
    if isinstance(value, Of) or (isinstance(value, Arithmetic) and not _is_fraction(value)):
        yield value.span


def _is_fraction(value: Arithmetic) -> bool:
    return value.operator == "/" and isinstance(value.left, Number) and isinstance(value.right, Number)
