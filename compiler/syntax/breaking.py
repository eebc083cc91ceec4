"""Where a sentence that is too long for a line is broken: at its clauses; a clause that is too long itself at what it compares,
joins, lists or adds. A place, a part of an edge and limits stay whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain

from ..diagnostics.diagnostic import Span
from .expressions import Between, Clause, Comparison, Joint, Moves, SoFar, Spot
from .layout import begins_sentence
from .tokens import Line, Token
from .tree import Sentence, held, within

_OUTER = frozenset(("STRING", "WHEN", "OTHERWISE", "THAT"))
_OUTER_WORDS = frozenset(("using", "tolerance"))

Ranks = list[list[int]]
"""Tokens before which a sentence may be broken, the best places first; each list takes in those before it."""


def ranked(tokens: Sequence[Token], sentence: Sentence) -> Ranks:
    """Before its clauses; before what is compared, joined or limited; after commas; before what is added. In brackets later, the
    deeper the later."""
    found = _Found()
    found.see(held(sentence))
    ranks: dict[tuple[int, int], list[int]] = {}
    for i, depth in enumerate(_depths(tokens)):
        rank = _rank(tokens, i, found) if i else None
        if rank is not None and not _is_inside(tokens[i], found.whole) and not begins_sentence(Line(0, list(tokens[i:]))):
            ranks.setdefault((depth, rank), []).append(i)
    rows = [ranks[key] for key in sorted(ranks)]
    return [sorted(chain(*rows[: k + 1])) for k in range(len(rows))]


def _rank(tokens: Sequence[Token], i: int, found: _Found) -> int | None:
    token, before = tokens[i], tokens[i - 1]
    if token.type == "STRING" and (i < 2 or before.start in found.clauses):
        return None
    if token.start in found.clauses or token.type in _OUTER or token.text in _OUTER_WORDS:
        return 0
    if token.start in found.tests or token.type == "BETWEEN":
        return 1
    if before.type == "COMMA":
        return 2
    return 3 if token.type in ("PLUS", "MINUS") else None


def _is_inside(token: Token, whole: Sequence[Span]) -> bool:
    return any(one.start < token.start < one.end for one in whole)


def _depths(tokens: Sequence[Token]) -> Iterator[int]:
    """How many brackets each token stands in."""
    depth = 0
    for token in tokens:
        depth -= token.type == "RPAR"
        yield depth
        depth += token.type == "LPAR"


@dataclass
class _Found:
    """Where the words of clauses stand, those of comparisons, joints and steps, and what is not broken; blocks left out."""

    clauses: set[int] = field(default_factory=set)
    tests: set[int] = field(default_factory=set)
    whole: list[Span] = field(default_factory=list)

    def see(self, node: object) -> None:
        match node:
            case Clause() if node.word.span != node.value.span:  # else it is one of those behind `using`
                self.clauses.add(node.word.span.start)
            case Comparison() if node.extra is not None and node.word.text == "between":
                self.tests.add(node.word.span.start)
                self.whole.append(node.right.span.to(node.extra.span))
            case Comparison() | Joint():
                self.tests.add(node.word.span.start)
            case Moves():
                self.tests.update(direction.span.start for direction, _ in node.steps)
            case Between():
                self.whole.append(node.word.span.to(node.high.span))
            case Spot() | SoFar():
                self.whole.append(node.span)
        low, high = getattr(node, "low", None), getattr(node, "high", None)
        if low is not None and high is not None:
            self.whole.append(low.span.to(high.span))
        for one in within(node, braces=False):
            self.see(one)
