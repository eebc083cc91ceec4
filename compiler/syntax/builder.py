"""The parser's reductions -> tree nodes. Every method is one rule or alternative of grammar/style.lark.

The methods keep nothing between calls; a slip ends the sentence at hand (`pairing.Slip`).
"""

from __future__ import annotations

import re
from typing import Any

from ..diagnostics import recipe_words
from ..diagnostics import sentence_words as say
from ..diagnostics import syntax_words as spell
from ..diagnostics.diagnostic import Span
from .pairing import (
    Chained,
    Item,
    Slip,
    as_condition,
    as_expr,
    chain_of,
    pair,
    pair_statement,
    pair_with_text,
    value_of,
    word_of,
)
from .tokens import Token
from .tree import (
    Add,
    Alike,
    Arithmetic,
    Bounds,
    Change,
    Check,
    Chosen,
    Comparison,
    Condition,
    Definition,
    Direction,
    Each,
    EachPiece,
    Expr,
    Flag,
    Gives,
    GivesAll,
    Inverse,
    Joint,
    Language,
    Measured,
    Name,
    Needs,
    Negative,
    Number,
    Of,
    Quantity,
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
from .words import WORDED

_QUANTITY = re.compile(r"(?:([0-9]+) )?([0-9]+)/([0-9]+) ([a-z]+)|([0-9.]+) ([a-z]+)")


def _sentence_span(children: list[Any]) -> Span:
    """From the first word to the end mark, which lies at the sentence's end."""
    first, end = children[0], children[-1]
    return Span(first.file, first.start, end.end)


def _text(token: Token | None) -> Text | None:
    return Text(token.text, token.span) if token else None


class Builder:
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
            raise Slip(spell.odd_fraction(f"{top}/{bottom}", token.span))
        value = float(whole or 0) + float(top) / float(bottom)
        return Quantity(value, f"{whole} {top}/{bottom}" if whole else f"{top}/{bottom}", unit, token.span)

    def text(self, c: list[Token]) -> Text:
        return Text(c[0].text, c[0].span)

    def flag(self, c: list[Token]) -> Flag:
        return Flag(c[0].text == "yes", c[0].span)

    def direction(self, c: list[Token]) -> Direction:
        return Direction(word_of(c[0]), c[0].span)

    def bracketed(self, c: list[Any]) -> Any:
        return chain_of(c[1])[0] if isinstance(c[1], Chained) else c[1]

    def negative(self, c: list[Any]) -> Negative:
        value = as_expr(c[1])
        return Negative(value, c[0].span.to(value.span))

    def of(self, c: list[Any]) -> Of:
        target = as_expr(c[2])
        return Of(word_of(c[0]), target, c[0].span.to(target.span))

    def arithmetic(self, c: list[Any]) -> Arithmetic:
        left, right = as_expr(c[0]), as_expr(c[2])
        return Arithmetic(c[1].text, left, right, left.span.to(right.span))

    def first(self, c: list[Item]) -> list[Item]:
        return c

    def more(self, c: list[Any]) -> list[Item]:
        items: list[Item] = c[0]
        items.append(c[1])
        return items

    def beside(self, c: list[Any]) -> list[Item]:
        items: list[Item] = c[0]
        items += c[1:]
        return items

    def chain(self, c: list[Any]) -> Chained:
        return Chained(c[0], [(c[1], c[2])])

    def link(self, c: list[Any]) -> Chained:
        chained: Chained = c[0]
        chained.links.append((c[1], c[2]))
        return chained

    def as_value(self, c: list[list[Item]]) -> list[Item]:
        return c[0]

    def chosen(self, c: list[Any]) -> Chosen:
        value, otherwise = _value(c[0]), _value(c[4])
        return Chosen(value, as_condition(c[2]), otherwise, value.span.to(otherwise.span))

    def fallback(self, c: list[Any]) -> Chosen:
        value, otherwise = _value(c[0]), _value(c[2])
        return Chosen(value, None, otherwise, value.span.to(otherwise.span))

    # ---- conditions ----------------------------------------------------------------------------

    def as_test(self, c: list[list[Item]]) -> Expr | Condition:
        items = c[0]
        only = items[0]
        if len(items) == 1 and not isinstance(only, Token):
            return only
        return value_of(items)[0]

    def inverse(self, c: list[Any]) -> Inverse:
        value = as_condition(c[1])
        return Inverse(value, c[0].span.to(value.span))

    def joint(self, c: list[Any]) -> Joint:
        left, right = as_condition(c[0]), as_condition(c[2])
        return Joint(word_of(c[1]), left, right, left.span.to(right.span))

    def comparison(self, c: list[Any]) -> Comparison:
        left, right = _value(c[0]), _value(c[2])
        return Comparison(word_of(c[1]), left, right, None, left.span.to(right.span))

    def in_between(self, c: list[Any]) -> Comparison:
        left, low, high = _value(c[0]), _value(c[2]), _value(c[4])
        return Comparison(word_of(c[1]), left, low, high, left.span.to(high.span))

    def equals(self, c: list[Any]) -> Comparison:
        """The last `tolerance` outside of brackets belongs to the comparison; earlier ones are words of an operation."""
        items: list[Item] = c[2]
        places = [i for i, item in enumerate(items) if isinstance(item, Token) and item.type == "TOLERANCE"]
        at = places[-1] if places else len(items)
        if not 0 < at < len(items) - 1:
            raise Slip(say.tolerance_missing(c[0][0].span.to(items[-1].span)))
        left, right, tolerance = _value(c[0]), _value(items[:at]), _value(items[at + 1 :])
        return Comparison(word_of(c[1]), left, right, tolerance, left.span.to(tolerance.span))

    def equals_sign(self, c: list[Any]) -> Comparison:
        raise Slip(say.equals_sign_in_check(c[1].span))

    def measured(self, c: list[Any]) -> Measured:
        return Measured(c[1], c[0].span.to(c[1].span))

    # ---- sentences -----------------------------------------------------------------------------

    def language(self, c: list[Token]) -> Language:
        return Language(word_of(c[1]), _sentence_span(c))

    def title(self, c: list[Any]) -> Title:
        return Title(Text(c[1].text, c[1].span), c[3], _sentence_span(c))

    def names(self, c: list[Any]) -> tuple[Word, ...]:
        return (word_of(c[0]),) if isinstance(c[0], Token) else c[0]

    def several(self, c: list[Token]) -> tuple[Word, ...]:
        return tuple(word_of(token) for token in c[::2])

    def folder(self, c: list[Token]) -> Word:
        return Word("".join(token.text for token in c), c[0].span.to(c[-1].span))

    def use(self, c: list[Any]) -> Use:
        return Use(c[1], c[3], _sentence_span(c))

    def bounds(self, c: list[Any]) -> Bounds:
        low, high = _value(c[1]), _value(c[3])
        return Bounds(low, high, c[0].span.to(high.span))

    def bare(self, c: list[Any]) -> Definition:
        kind, when = word_of(c[0]), _when(c[0].text, c[2], c[3])
        return Definition(kind, word_of(c[1]), None, (), None, _text(c[4]), None, _sentence_span(c), when=when)

    def listed(self, c: list[Any]) -> Definition:
        paired, text = pair_with_text(c[2], _text(c[5]), False)
        kind, when, span = word_of(c[0]), _when(c[0].text, c[3], c[4]), _sentence_span(c)
        return Definition(kind, word_of(c[1]), None, paired.clauses, None, text, None, span, paired.stray, when)

    def defined_when(self, c: list[Any]) -> Definition:
        kind, when = word_of(c[0]), _when(c[0].text, c[4], c[5])
        return Definition(kind, word_of(c[1]), _value(c[3]), (), None, _text(c[6]), None, _sentence_span(c), when=when)

    def defined(self, c: list[Any]) -> Definition:
        value, text = _value_and_text(c[3], None if c[4] else _text(c[5]))
        text = _text(c[5]) if c[4] else text
        return Definition(word_of(c[0]), word_of(c[1]), value, (), c[4], text, None, _sentence_span(c))

    def gives(self, c: list[Any]) -> Gives:
        definition: Definition = c[1]
        return Gives(definition, c[0].span.to(definition.span))

    def takes(self, c: list[Any]) -> Takes:
        default = _value(c[4]) if c[4] else None
        return Takes(word_of(c[1]), word_of(c[2]), default, c[5], _text(c[6]), _sentence_span(c))

    def gives_all(self, c: list[Any]) -> GivesAll:
        _must_be_all(c)
        return GivesAll(c[3], _sentence_span(c))

    def takes_all(self, c: list[Any]) -> TakesAll:
        _must_be_all(c)
        return TakesAll(Word(c[3].text, c[3].span), _sentence_span(c))

    def needs(self, c: list[Any]) -> Needs:
        return Needs(c[1], _text(c[2]), _sentence_span(c))

    def check(self, c: list[Any]) -> Check:
        when = as_condition(c[5]) if c[4] else None
        return Check(word_of(c[1]), as_condition(c[3]), _text(c[6]), _sentence_span(c), when)

    def tell(self, c: list[Any]) -> Check:
        return Check(word_of(c[1]), as_condition(c[3]), _text(c[4]), _sentence_span(c), tells=True)

    def solve(self, c: list[Any]) -> Solve:
        if c[2] is not None and c[2].text != "kept":
            raise Slip(say.solve_not_kept(c[2].span, c[1].text, c[2].text))
        return Solve(word_of(c[1]), c[3], as_condition(c[5]), _text(c[6]), _sentence_span(c), c[2] is not None)

    def recipe(self, c: list[Any]) -> Recipe:
        return Recipe(word_of(c[0]), word_of(c[1]), _text(c[2]), (), _sentence_span(c))

    def each(self, c: list[Any]) -> Each:
        paired, span = pair(c[2], False), _sentence_span(c)
        words = {clause.word.text: clause.value for clause in paired.clauses}
        complete = not paired.stray and len(words) == len(paired.clauses)
        if not complete or not {"from", "to"} <= words.keys() <= {"from", "to", "up_to"}:
            raise Slip(say.each_unclear(span))
        return Each(word_of(c[1]), words["from"], words["to"], words.get("up_to"), (), span)

    def each_of(self, c: list[Any]) -> EachPiece:
        if c[1].text != "piece":
            raise Slip(say.each_of_what(c[1].text, c[1].span))
        return EachPiece(word_of(c[1]), (), _sentence_span(c))

    def statement(self, c: list[Any]) -> Statement:
        paired = pair_statement(c[1] if len(c) > 2 else [])
        return Statement(word_of(c[0]), paired.subject, paired.clauses, _sentence_span(c), paired.stray)

    # ---- a style built from another --------------------------------------------------------------

    def add(self, c: list[Any]) -> Add:
        return Add(c[1], c[0].span.to(c[1].span))

    def change(self, c: list[Any]) -> Change:
        return Change(c[1], c[0].span.to(c[1].span))

    def alike(self, c: list[Any]) -> Alike:
        paired, text = pair_with_text(c[4], _text(c[5]), False)
        kind = word_of(c[1]) if c[1] else None
        return Alike(kind, c[2], None, paired.clauses, text, _sentence_span(c), paired.stray)

    def alike_stated(self, c: list[Any]) -> Alike:
        paired, text = pair_with_text(c[4], _text(c[5]), False)
        return Alike(None, (word_of(c[1]),), _value(c[2]), paired.clauses, text, _sentence_span(c), paired.stray)

    def alike_inside(self, c: list[Any]) -> Alike:
        return Alike(word_of(c[1]) if c[1] else None, c[2], None, (), None, _sentence_span(c))

    def without(self, c: list[Any]) -> Without:
        return Without(c[1], None, _sentence_span(c))

    def without_stated(self, c: list[Any]) -> Without:
        return Without((word_of(c[1]),), _value(c[2]), _sentence_span(c))


def _must_be_all(c: list[Any]) -> None:
    """`takes all of …`, `gives all of …`: no other word stands there."""
    if c[1].text != "all":
        raise Slip(recipe_words.not_all(c[1].span, c[0].text, c[1].text))


def _when(kind: str, word: Token | None, condition: Expr | Condition | None) -> Condition | None:
    """The condition of a whole sentence; a value needs its `otherwise`."""
    if word is None or condition is None:
        return None
    if kind not in ("shape", "piece", "seam") and kind not in WORDED:
        raise Slip(say.otherwise_missing(word.span))
    return as_condition(condition)


def _value(items: list[Item] | Chained | Chosen) -> Expr:
    """A value from what stands in its place: the list of its parts, a chain, or a choice made already."""
    return _value_and_text(items, None)[0]


def _value_and_text(items: list[Item] | Chained | Chosen, text: Text | None) -> tuple[Expr, Text | None]:
    if isinstance(items, Chosen):
        return items, text
    return chain_of(items, text) if isinstance(items, Chained) else value_of(items, text)


