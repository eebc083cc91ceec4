"""The numbers of a body in a text on a piece."""

from __future__ import annotations

from ..diagnostics import chain_words, value_words
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.values import numbered
from .checker import Checker, Scope
from .in_text import numbers_in, span_in
from .places import Arguments


def worded(checker: Checker, scope: Scope, given: Arguments, name: str, text: t.Text) -> None:
    """The texts before, between and behind the numbers as `NAME`, the numbers in their order, and their kinds."""
    texts: list[str] = []
    kinds: list[str] = []
    at = 0
    for start, end, expr in numbers_in(text):
        if expr is None:
            checker.report(scope, chain_words.braces_in_text(span_in(text, start, end)))
            given.broken = True
            continue
        found = checker.value(scope, expr)
        if found.kind is not k.BROKEN and found.kind not in k.QUANTITIES:
            found = checker.report(scope, value_words.wrong_kind(expr.span, "length, angle or number", found.kind.word))
        given.add(numbered("number", len(kinds)), found)
        texts.append(text.value[at:start])
        kinds.append(found.kind.word)
        at = end
    given.fixed[name] = given.static[name] = (*texts, text.value[at:])
    given.fixed["kinds"] = tuple(kinds)
