"""The parser's reductions of values, conditions and what follows a verb -> tree nodes."""

from __future__ import annotations

import re
from typing import Any

from ..diagnostics import sentence_words as say
from ..diagnostics import syntax_words as spell
from ..diagnostics import turn_words
from ..diagnostics.diagnostic import Span
from .tokens import Token
from .tree import (
    Arithmetic,
    Between,
    Chain,
    Chosen,
    Clause,
    Comparison,
    Condition,
    Direction,
    Expr,
    Flag,
    Heading,
    Inverse,
    Joint,
    Listed,
    Moves,
    Name,
    Negative,
    Number,
    Of,
    Operation,
    Quantity,
    SoFar,
    Spot,
    Text,
    Word,
)
from .turns import SentenceError, VerbTail, as_condition, as_expr, handed_on, word_of

_QUANTITY = re.compile(r"(?:([0-9]+) )?([0-9]+)/([0-9]+) ([a-z]+)|([0-9.]+) ([a-z]+)")


class ValueBuilder:
    """Callbacks for the parser, named as in the grammar; each takes the children of its rule."""

    # ---- values --------------------------------------------------------------------------------

    def name(self, c: list[Token]) -> Name:
        span = c[0].span
        return Name((Word(c[0].text, span),), span)

    def dotted(self, c: list[Token]) -> Name:
        token, words, at = c[0], [], c[0].start
        for part in token.text.split("."):
            words.append(Word(part, Span(token.file, at, at + len(part))))
            at += len(part) + 1
        return Name(tuple(words), token.span)

    def number(self, c: list[Token]) -> Number:
        return Number(float(c[0].text), c[0].text, c[0].span)

    def quantity(self, c: list[Token]) -> Quantity:
        token = c[0]
        match = _QUANTITY.fullmatch(token.text)
        assert match is not None  # the lexer writes quantities in this form only
        whole, top, bottom, unit, decimal, decimal_unit = match.groups()
        if decimal:
            return Quantity(float(decimal), decimal, decimal_unit, token.span)
        if not float(bottom):
            raise SentenceError(spell.odd_fraction(f"{top}/{bottom}", token.span))
        value = float(whole or 0) + float(top) / float(bottom)
        return Quantity(value, f"{whole} {top}/{bottom}" if whole else f"{top}/{bottom}", unit, token.span)

    def text(self, c: list[Token]) -> Text:
        return Text(c[0].text, c[0].span)

    def flag(self, c: list[Token]) -> Flag:
        return Flag(c[0].text == "yes", c[0].span)

    def direction(self, c: list[Token]) -> Direction:
        return Direction(word_of(c[0]), c[0].span)

    def heading(self, c: list[Any]) -> Heading:
        return Heading(word_of(c[0]), as_expr(c[1]), c[0].span.to(c[1].span))

    def bracketed(self, c: list[Any]) -> Expr | Condition:
        if isinstance(c[1], tuple):
            raise SentenceError(say.otherwise_missing(c[1][1].span))
        made: Expr | Condition = c[1]
        return made

    def negative(self, c: list[Any]) -> Negative:
        value = as_expr(c[1])
        return Negative(value, c[0].span.to(value.span))

    def of(self, c: list[Any]) -> Of:
        target = as_expr(c[2])
        return Of(word_of(c[0]), target, c[0].span.to(target.span))

    def arithmetic(self, c: list[Any]) -> Arithmetic:
        left, right = as_expr(c[0]), as_expr(c[2])
        return Arithmetic(c[1].text, left, right, left.span.to(right.span))

    def so_far(self, c: list[Any]) -> SoFar:
        value, end = as_expr(c[0]), as_expr(c[2])
        return SoFar(value, end, value.span.to(end.span))

    def spot(self, c: list[Any]) -> Spot:
        edge, place = as_expr(c[0]), as_expr(c[2])
        return Spot(edge, place, edge.span.to(place.span))

    def ranged(self, c: list[Any]) -> Between:
        value, low, high = as_expr(c[0]), as_expr(c[2]), as_expr(c[4])
        return Between(value, word_of(c[1]), low, high, value.span.to(high.span))

    def step(self, c: list[Any]) -> Moves:
        start, length = as_expr(c[0]), as_expr(c[2])
        made = (Direction(word_of(c[1]), c[1].span), length)
        if isinstance(start, Moves):
            return Moves(start.start, (*start.steps, made), start.span.to(length.span))
        return Moves(start, (made,), start.span.to(length.span))

    def step_by(self, c: list[Any]) -> Moves:
        return self.step([c[0], c[1], c[3]])

    def several_values(self, c: list[Any]) -> Listed:
        items = tuple(as_expr(item) for item in c[::2])
        return Listed(items, items[0].span.to(items[-1].span))

    # ---- words and values in turns ---------------------------------------------------------------

    def clause(self, c: list[Any]) -> tuple[Clause, ...]:
        return (Clause(word_of(c[0]), as_expr(c[1])),)

    def clause_of(self, c: list[Any]) -> tuple[Clause, ...]:
        return (Clause(word_of(c[0]), as_expr(c[2])),)

    def joined(self, c: list[Any]) -> tuple[Clause, ...]:
        word, value = word_of(c[0]), as_expr(c[1])
        return handed_on(word, value) if word.text == "using" else (Clause(word, value),)

    def clauses(self, c: list[Any]) -> tuple[Clause, ...]:
        return tuple(clause for clauses in c for clause in clauses)

    def without_subject(self, c: list[Any]) -> VerbTail:
        return VerbTail(None, c[0])

    def opened_by_from(self, c: list[Any]) -> VerbTail:
        return VerbTail(None, (Clause(word_of(c[0]), as_expr(c[1])), *(c[2] or ())))

    def opened_by_joiner(self, c: list[Any]) -> VerbTail:
        return VerbTail(None, (*c[0], *(c[1] or ())))

    def with_subject(self, c: list[Any]) -> VerbTail:
        return VerbTail(as_expr(c[0]), c[1] or ())

    def with_direction(self, c: list[Any]) -> VerbTail:
        return VerbTail(self.direction(c), c[1] or ())

    def with_text(self, c: list[Any]) -> VerbTail:
        return VerbTail(self.text(c), c[1] or ())

    def operation(self, c: list[Any]) -> Operation:
        return _operation(c[0], VerbTail(as_expr(c[1]), c[2] or ()), c[1].span)

    def operation_without_subject(self, c: list[Any]) -> Operation:
        return _operation(c[0], c[1], c[0].span)

    def operation_with(self, c: list[Any]) -> Operation:
        return _operation(c[0], c[2], c[1].span)

    def verb_alone(self, c: list[Token]) -> Operation:
        return Operation(word_of(c[0]), None, (), c[0].span)

    def chain(self, c: list[Any]) -> Chain:
        start, link = as_expr(c[0]), c[2]
        if isinstance(start, Chain):
            return Chain(start.start, (*start.links, link), start.span.to(link.span))
        return Chain(start, (link,), start.span.to(link.span))

    # ---- conditions and choices ------------------------------------------------------------------

    def inverse(self, c: list[Any]) -> Inverse:
        value = as_condition(c[1])
        return Inverse(value, c[0].span.to(value.span))

    def joint(self, c: list[Any]) -> Joint:
        left, right = as_condition(c[0]), as_condition(c[2])
        return Joint(word_of(c[1]), left, right, left.span.to(right.span))

    def comparison(self, c: list[Any]) -> Comparison:
        left, right = as_expr(c[0]), as_expr(c[2])
        return Comparison(word_of(c[1]), left, right, None, left.span.to(right.span))

    def equals(self, c: list[Any]) -> Comparison:
        left, right, near = as_expr(c[0]), as_expr(c[2]), as_expr(c[4])
        if c[3].text != "tolerance":
            raise SentenceError(turn_words.tolerance_missing(left.span.to(right.span)))
        return Comparison(word_of(c[1]), left, right, near, left.span.to(near.span))

    def equals_of(self, c: list[Any]) -> Comparison:
        return self.equals([*c[:4], c[5]])

    def there_when(self, c: list[Any]) -> tuple[Expr, Token, Expr | Condition]:
        """What is there only then: a definition takes it, a value lacks its `otherwise`."""
        return as_expr(c[0]), c[1], c[2]

    def chosen(self, c: list[Any]) -> Chosen:
        value, otherwise = as_expr(c[0]), _chosen(c[4])
        return Chosen(value, as_condition(c[2]), otherwise, value.span.to(otherwise.span))

    def fallback(self, c: list[Any]) -> Chosen:
        value, otherwise = as_expr(c[0]), _chosen(c[2])
        return Chosen(value, None, otherwise, value.span.to(otherwise.span))


def _operation(verb: Token, told: VerbTail, last: Span) -> Operation:
    end = told.clauses[-1].span if told.clauses else last
    return Operation(word_of(verb), told.subject, told.clauses, verb.span.to(end))


def _chosen(item: Expr | Condition | tuple[Expr, Token, Expr | Condition]) -> Expr:
    if isinstance(item, tuple):
        raise SentenceError(say.otherwise_missing(item[1].span))
    return as_expr(item)
