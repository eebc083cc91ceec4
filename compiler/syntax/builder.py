"""The parser's reductions -> tree nodes. Every method is one rule or alternative of grammar/style.lark.

The methods keep nothing between calls; a slip ends the sentence at hand (`turns.Slip`).
"""

from __future__ import annotations

from typing import Any

from ..diagnostics import recipe_words
from ..diagnostics import sentence_words as say
from ..diagnostics.diagnostic import Span
from .tokens import Token
from .tree import (
    Add,
    Bounds,
    Change,
    ChangeValues,
    Check,
    Clause,
    Condition,
    Definition,
    Each,
    EachPiece,
    Expr,
    Gives,
    GivesAll,
    Language,
    Needs,
    Recipe,
    Solve,
    Statement,
    Takes,
    TakesAll,
    Text,
    Title,
    Use,
    Without,
    Word,
)
from .turns import SentenceError, VerbTail, as_condition, as_expr, bounded, sentence_span, word_of
from .values import ValueBuilder
from .words import WORDED


def _text(token: Token | None) -> Text | None:
    return Text(token.text, token.span) if token else None


class Builder(ValueBuilder):
    """Callbacks for the parser, named as in the grammar; each takes the children of its rule."""

    def language(self, c: list[Token]) -> Language:
        return Language(word_of(c[1]), sentence_span(c[0], c[-1]))

    def title(self, c: list[Any]) -> Title:
        return Title(Text(c[1].text, c[1].span), c[3], sentence_span(c[0], c[-1]))

    def names(self, c: list[Any]) -> tuple[Word, ...]:
        return (word_of(c[0]),) if isinstance(c[0], Token) else c[0]

    def several(self, c: list[Token]) -> tuple[Word, ...]:
        return tuple(word_of(token) for token in c[::2])

    def folder(self, c: list[Token]) -> Word:
        return Word("".join(token.text for token in c), c[0].span.to(c[-1].span))

    def use(self, c: list[Any]) -> Use:
        return Use(c[1], c[3], sentence_span(c[0], c[-1]))

    def range(self, c: list[Any]) -> Bounds:
        return Bounds(c[1], c[3], c[0].span.to(c[3].span))

    # ---- definitions ---------------------------------------------------------------------------

    def bare(self, c: list[Any]) -> Definition:
        when = _when(c[0].text, c[2], c[3])
        return _definition(c[0], c[1], None, (), _text(c[4]), c[-1], when)

    def listed(self, c: list[Any]) -> Definition:
        when = _when(c[0].text, c[3], c[4])
        return _definition(c[0], c[1], None, c[2].clauses, _text(c[5]), c[-1], when)

    def defined(self, c: list[Any]) -> Definition:
        kind, name, value, when, bounds = c[0], c[1], c[3], None, None
        if isinstance(value, tuple):  # what is defined is there only when that holds
            when, value = _when(kind.text, value[1], value[2]), value[0]
        value = as_expr(value)
        if kind.text == "choice":
            value, bounds = bounded(value)
        return _definition(kind, name, value, (), _text(c[4]), c[-1], when, bounds)

    def gives(self, c: list[Any]) -> Gives:
        definition: Definition = c[1]
        return Gives(definition, c[0].span.to(definition.span))

    def takes(self, c: list[Any]) -> Takes:
        if isinstance(c[4], tuple):
            raise SentenceError(say.otherwise_missing(c[4][1].span))
        value, bounds = bounded(as_expr(c[4]))
        return Takes(word_of(c[1]), word_of(c[2]), value, bounds, _text(c[5]), sentence_span(c[0], c[-1]))

    def takes_without(self, c: list[Any]) -> Takes:
        return Takes(word_of(c[1]), word_of(c[2]), None, c[3], _text(c[4]), sentence_span(c[0], c[-1]))

    def gives_all(self, c: list[Any]) -> GivesAll:
        _must_be_all(c)
        return GivesAll(c[3], sentence_span(c[0], c[-1]))

    def takes_all(self, c: list[Any]) -> TakesAll:
        _must_be_all(c)
        return TakesAll(Word(c[3].text, c[3].span), sentence_span(c[0], c[-1]))

    def needs(self, c: list[Any]) -> Needs:
        return Needs(c[1], _text(c[2]), sentence_span(c[0], c[-1]))

    # ---- sentences -----------------------------------------------------------------------------

    def check(self, c: list[Any]) -> Check:
        when = as_condition(c[5]) if c[4] else None
        return Check(word_of(c[1]), as_condition(c[3]), _text(c[6]), sentence_span(c[0], c[-1]), when)

    def tell(self, c: list[Any]) -> Check:
        return Check(word_of(c[1]), as_condition(c[3]), _text(c[4]), sentence_span(c[0], c[-1]), tells=True)

    def solve(self, c: list[Any]) -> Solve:
        if c[2] is not None and c[2].text != "kept":
            raise SentenceError(say.solve_not_kept(c[2].span, c[1].text, c[2].text))
        span = sentence_span(c[0], c[-1])
        return Solve(word_of(c[1]), c[3], as_condition(c[5]), _text(c[6]), span, c[2] is not None)

    def recipe(self, c: list[Any]) -> Recipe:
        return Recipe(word_of(c[0]), word_of(c[1]), _text(c[2]), (), sentence_span(c[0], c[-1]))

    def each(self, c: list[Any]) -> Each:
        span = sentence_span(c[0], c[-1])
        if c[6] is not None and c[6].text != "up_to":
            raise SentenceError(say.each_unclear(span))
        return Each(word_of(c[1]), c[3], c[5], c[7], (), span)

    def each_of(self, c: list[Any]) -> EachPiece:
        if c[1].text != "piece":
            raise SentenceError(say.each_of_what(c[1].text, c[1].span))
        return EachPiece(word_of(c[1]), (), sentence_span(c[0], c[-1]))

    def stated(self, c: list[Any]) -> Statement:
        told: VerbTail = c[1] if len(c) > 2 else VerbTail(None, ())
        return Statement(word_of(c[0]), told.subject, told.clauses, sentence_span(c[0], c[-1]))

    def stated_with(self, c: list[Any]) -> Statement:
        return Statement(word_of(c[0]), None, c[2].clauses, sentence_span(c[0], c[-1]))

    # ---- a style built from another --------------------------------------------------------------

    def add(self, c: list[Any]) -> Add:
        return Add(c[1], c[0].span.to(c[1].span))

    def change(self, c: list[Any]) -> Change:
        return Change(c[1], c[0].span.to(c[1].span))

    def alike(self, c: list[Any]) -> ChangeValues:
        return ChangeValues(None, c[1], None, c[3], _text(c[4]), sentence_span(c[0], c[-1]))

    def alike_of_kind(self, c: list[Any]) -> ChangeValues:
        return ChangeValues(word_of(c[1]), c[2], None, c[4], _text(c[5]), sentence_span(c[0], c[-1]))

    def alike_stated(self, c: list[Any]) -> ChangeValues:
        return ChangeValues(None, (word_of(c[1]),), c[2], c[4], None, sentence_span(c[0], c[-1]))

    def alike_inside(self, c: list[Any]) -> ChangeValues:
        return ChangeValues(None, c[1], None, (), None, sentence_span(c[0], c[-1]))

    def alike_inside_of_kind(self, c: list[Any]) -> ChangeValues:
        return ChangeValues(word_of(c[1]), c[2], None, (), None, sentence_span(c[0], c[-1]))

    def without(self, c: list[Any]) -> Without:
        return Without(c[1], None, sentence_span(c[0], c[-1]))

    def without_stated(self, c: list[Any]) -> Without:
        return Without((word_of(c[1]),), c[2], sentence_span(c[0], c[-1]))


def _definition(
    kind: Token,
    name: Token,
    value: Expr | None,
    clauses: tuple[Clause, ...],
    text: Text | None,
    end: Token,
    when: Condition | None,
    bounds: Bounds | None = None,
) -> Definition:
    span = Span(kind.file, kind.start, end.end)
    return Definition(word_of(kind), word_of(name), value, clauses, bounds, text, None, span, when)


def _must_be_all(c: list[Any]) -> None:
    """`takes all of …`, `gives all of …`: no other word stands there."""
    if c[1].text != "all":
        raise SentenceError(recipe_words.not_all(c[1].span, c[0].text, c[1].text))


def _when(kind: str, word: Token | None, condition: Expr | Condition | None) -> Condition | None:
    """The condition of a whole sentence; a value needs its `otherwise`."""
    if word is None or condition is None:
        return None
    if kind not in ("shape", "piece", "seam") and kind not in WORDED:
        raise SentenceError(say.otherwise_missing(word.span))
    return as_condition(condition)
