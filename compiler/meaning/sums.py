"""What `+` means of things that are no numbers: they are put end to end. And what a comma may not list."""

from __future__ import annotations

from ..diagnostics import chain_words, turn_words
from ..diagnostics import meaning_words as words
from ..pattern.piece import Trouble
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.measuring import EXTREMES
from ..verbs.sums import kind_of_sum
from . import payloads as p
from .checker import Checker, Scope
from .style import Typed

SEWN = (k.EdgeKind, k.PathKind)


def put_end_to_end(checker: Checker, scope: Scope, expr: t.Arithmetic, left: Typed, right: Typed) -> Typed | None:
    """The node of two things put end to end; None where they are added as numbers are."""
    span = expr.span
    try:
        kind = kind_of_sum(left.kind, right.kind)
    except Trouble as trouble:
        return checker.report(scope, words.names_forbid(span, trouble.message, trouble.fix))
    if kind is not None:
        return checker.node(scope, p.EndToEnd(), kind, span, {"left": left, "right": right})
    drawn = [isinstance(one.kind, SEWN) or one.kind == k.RUN for one in (left, right)]
    if any(drawn) and k.LENGTH in (left.kind, right.kind):
        return checker.report(scope, chain_words.sum_of_edges(span, _measured_whole(checker, expr)))
    return None


def _measured_whole(checker: Checker, expr: t.Arithmetic) -> str:
    """`length of a + b` with its brackets; empty where none are missing."""
    if not isinstance(expr.left, t.Of):
        return ""
    target, other = (checker.written(one.span) for one in (expr.left.target, expr.right))
    return f"{expr.left.word.text} of ({target} + {other})"


def one_wanted(checker: Checker, scope: Scope, expr: t.Listed, verb: str = "") -> Typed:
    """Told, that several things stand where one is wanted; behind `larger of` they lack their brackets, and each may have a
    sentence of a piece's block, of this verb."""
    first = expr.items[0]
    if len(expr.items) == 2 and all(isinstance(one, t.Quantity) for one in expr.items):
        across, up = (checker.written(one.span) for one in expr.items)
        return checker.report(scope, chain_words.coordinates(expr.span, across, up))
    if not isinstance(first, t.Of) or first.word.text not in EXTREMES:
        each = [f"{verb} {checker.written(one.span)}" for one in expr.items if verb]
        return checker.report(scope, chain_words.one_wanted(expr.span, each))
    listed = first.target.items if isinstance(first.target, t.Listed) else (first.target,)
    items = ", ".join(checker.written(one.span) for one in (*listed, *expr.items[1:]))
    return checker.report(scope, turn_words.measured_list(first.word.text, items, expr.span))
