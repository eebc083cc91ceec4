"""What is made of words and values that take turns: conditions, bounds, clauses; and the slip that ends a sentence."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..diagnostics import sentence_words as say
from ..diagnostics import turn_words
from ..diagnostics.diagnostic import Diagnostic, Span
from .tokens import Token
from .tree import Between, Bounds, Chosen, Clause, Comparison, Condition, Expr, Inverse, Joint, Listed, Name, Of, Plain, Word

COMPARED = frozenset(("larger", "smaller"))
"""Words that stand with `of` before a list in brackets."""

CONDITIONS = (Comparison, Plain, Joint, Inverse)


class SentenceError(Exception):
    """An error that ends the reading of one sentence. It never leaves the parser."""

    def __init__(self, diagnostic: Diagnostic) -> None:
        super().__init__(diagnostic.message)
        self.diagnostic = diagnostic


@dataclass(slots=True)
class VerbTail:
    """What follows a verb: what it works on, or nothing, and its words with their values."""

    subject: Expr | None
    clauses: tuple[Clause, ...]


def word_of(token: Token) -> Word:
    return Word(token.text, token.span)


def as_expr(item: Expr | Condition) -> Expr:
    """The item as a value; a slip when it is a condition."""
    if isinstance(item, Joint) and isinstance(item.left, Plain) and isinstance(item.left.value, Of):
        of = item.left.value
        if of.word.text in COMPARED:
            raise SentenceError(turn_words.measured_list(of.word.text, "a, b", item.span))
    if isinstance(item, CONDITIONS):
        raise SentenceError(say.condition_as_value(item.span))
    return item


def as_condition(item: Expr | Condition) -> Condition:
    """The item as a condition: `x between a and b` tests where a condition stands."""
    if isinstance(item, Between):
        return Comparison(item.word, item.value, item.low, item.high, item.span)
    return item if isinstance(item, CONDITIONS) else Plain(item, item.span)


def bounded(value: Expr) -> tuple[Expr, Bounds | None]:
    """A value and the bounds behind it."""
    if isinstance(value, Between):
        return value.value, Bounds(value.low, value.high, value.word.span.to(value.high.span))
    if isinstance(value, Chosen):
        otherwise, bounds = bounded(value.otherwise)
        return replace(value, otherwise=otherwise), bounds
    return value, None


def handed_on(word: Word, value: Expr) -> tuple[Clause, ...]:
    """`using reach, shoulder`: each is a word of the recipe, and what is called so here its value."""
    items = value.items if isinstance(value, Listed) else (value,)
    names = [item.parts[0] for item in items if isinstance(item, Name) and len(item.parts) == 1]
    if len(names) < len(items):
        raise SentenceError(turn_words.given_without_names(word.span.to(value.span)))
    return tuple(Clause(name, Name((name,), name.span)) for name in names)


def sentence_span(first: Token, end: Token) -> Span:
    """From the first word to the end mark, which lies at the sentence's end."""
    return Span(first.file, first.start, end.end)
