"""A flat list of words and values -> subject and clauses, by strict alternation.

The grammar hands on what stands behind a verb as a flat list: values as expressions, words of the language as tokens.
Whether a name is a word or a value is told by its turn alone, so no verb needs to be known here.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..diagnostics import sentence_words as say
from ..diagnostics.diagnostic import Diagnostic, Span
from .tokens import Token
from .tree import (
    Chain,
    Clause,
    Comparison,
    Condition,
    Direction,
    Expr,
    Heading,
    Inverse,
    Joint,
    Listed,
    Measured,
    Moves,
    Name,
    Number,
    Operation,
    Plain,
    Quantity,
    SoFar,
    Spot,
    Stray,
    Text,
    Word,
)
from .words import HEADINGS

CONDITIONS = (Comparison, Plain, Measured, Joint, Inverse)
Item = Expr | Condition | Token
_WRITTEN_NUMBERS = (Number, Quantity)


class Slip(Exception):
    """An error that ends the reading of one sentence. It never leaves the parser."""

    def __init__(self, diagnostic: Diagnostic) -> None:
        super().__init__(diagnostic.message)
        self.diagnostic = diagnostic


@dataclass(slots=True)
class Paired:
    """What a flat list was read as; `stray` when words and values do not take turns."""

    subject: Expr | None
    clauses: tuple[Clause, ...]
    stray: Stray | None = None


def word_of(token: Token) -> Word:
    return Word(token.text, token.span)


def as_expr(item: Item) -> Expr:
    """The item as a value; a slip when it is a word of the language or a condition."""
    if isinstance(item, Token):
        raise Slip(say.word_as_value(item.text, item.span))
    if isinstance(item, CONDITIONS):
        raise Slip(say.condition_as_value(item.span))
    return item


def as_condition(item: Expr | Condition) -> Condition:
    return item if isinstance(item, CONDITIONS) else Plain(item, item.span)


# ---- one value or one word out of the list -----------------------------------------------------


def take_value(items: list[Item], at: int) -> tuple[Expr, int] | None:
    """The value that begins at `at`, a list where commas follow it, and the index behind it; None when none begins there."""
    taken = _take_one(items, at)
    if taken is None:
        return None
    listed = [taken[0]]
    while taken[1] < len(items) and _is_comma(items[taken[1]]):
        more = _take_one(items, taken[1] + 1)
        if more is None:
            return None
        taken = more
        listed.append(taken[0])
    if len(listed) == 1:
        return taken
    return Listed(tuple(listed), listed[0].span.to(listed[-1].span)), taken[1]


def _is_comma(item: Item) -> bool:
    return isinstance(item, Token) and item.type == "COMMA"


def _take_one(items: list[Item], at: int) -> tuple[Expr, int] | None:
    if at >= len(items):
        return None
    item = items[at]
    if isinstance(item, Token):
        return _take_heading(items, at, item) if item.text in HEADINGS else None
    value = as_expr(item)
    if isinstance(value, Direction):
        return value, at + 1
    if is_word(items, at + 1, "at"):
        spot = _take_place(items, at + 2, value)
        return None if spot is None else _take_steps(items, spot[1], spot[0])
    return _take_steps(items, at + 1, value)


def is_word(items: list[Item], at: int, word: str) -> bool:
    """Whether that word of the language stands there."""
    item = items[at] if at < len(items) else None
    return isinstance(item, Token) and item.text == word


def _take_place(items: list[Item], at: int, edge: Expr) -> tuple[Expr, int] | None:
    """An edge and the place behind `at`: an end or a point, or so far from an end."""
    if at >= len(items) or isinstance(items[at], Token | Direction):
        return None
    place, behind = as_expr(items[at]), at + 1
    if is_word(items, behind, "from"):
        end = items[behind + 1] if behind + 1 < len(items) else None
        if end is None or isinstance(end, Token | Direction):
            return None
        last = as_expr(end)
        place, behind = SoFar(place, last, place.span.to(last.span)), behind + 2
    return Spot(edge, place, edge.span.to(place.span)), behind


def _take_heading(items: list[Item], at: int, token: Token) -> tuple[Expr, int] | None:
    target_at = at + 1
    if token.text == "square":
        to = items[target_at] if target_at < len(items) else None
        if not (isinstance(to, Token) and to.text == "to"):
            return None
        target_at += 1
    target = items[target_at] if target_at < len(items) else None
    if target is None or isinstance(target, Token | Direction):
        return None
    value = as_expr(target)
    return Heading(word_of(token), value, token.span.to(value.span)), target_at + 1


def _take_steps(items: list[Item], at: int, start: Expr) -> tuple[Expr, int]:
    """`start` and the steps behind it, if there are any: a direction and a length each."""
    steps: list[tuple[Direction, Expr]] = []
    while at + 1 < len(items) and isinstance(direction := items[at], Direction):
        if isinstance(items[at + 1], Token | Direction):
            break
        steps.append((direction, as_expr(items[at + 1])))
        at += 2
    if not steps:
        return start, at
    return Moves(start, tuple(steps), start.span.to(steps[-1][1].span)), at


def _take_word(items: list[Item], at: int) -> Word | None:
    item = items[at]
    if isinstance(item, Token):
        return None if item.type == "COMMA" else word_of(item)
    if isinstance(item, Name) and len(item.parts) == 1:
        return item.parts[0]
    return None


# ---- the whole list ----------------------------------------------------------------------------


def pair(items: list[Item], with_subject: bool) -> Paired:
    """The list read as word value word value …, after a subject if `with_subject`."""
    subject, at = None, 0
    if with_subject:
        taken = take_value(items, 0)
        if taken is None:
            return Paired(None, (), _stray(items, "value", 0))
        subject, at = taken
    clauses: list[Clause] = []
    while at < len(items):
        word = _take_word(items, at)
        if word is None:
            return Paired(subject, tuple(clauses), _stray(items, "word", at))
        taken = take_value(items, at + 1)
        if taken is None:
            return Paired(subject, tuple(clauses), _stray(items, "value", at + 1))
        clauses += _given(word, taken[0]) if word.text == "given" else [Clause(word, taken[0])]
        at = taken[1]
    return Paired(subject, tuple(clauses))


def _given(word: Word, value: Expr) -> list[Clause]:
    """`given reach, shoulder`: each is a word of the recipe, and what is called so here its value."""
    items = value.items if isinstance(value, Listed) else (value,)
    names = [item.parts[0] for item in items if isinstance(item, Name) and len(item.parts) == 1]
    if len(names) < len(items):
        raise Slip(say.given_without_names(word.span.to(value.span)))
    return [Clause(name, Name((name,), name.span)) for name in names]


def _stray(items: list[Item], expected: str, at: int) -> Stray:
    """What is left for the checker to word, unless it is a slip whatever the verb is."""
    item = items[at] if at < len(items) else None
    if expected == "word" and isinstance(item, Text):
        raise Slip(say.text_not_last(item.span))
    before = items[at - 1] if at else None
    if isinstance(item, _WRITTEN_NUMBERS) and isinstance(before, _WRITTEN_NUMBERS):
        raise two_numbers(before, item)
    return Stray(tuple(_as_written(item) for item in items), expected, at)


def two_numbers(first: Number | Quantity, second: Number | Quantity) -> Slip:
    return Slip(say.two_numbers(_written(first), _written(second), first.span.to(second.span)))


def _written(number: Number | Quantity) -> str:
    return f"{number.written} {number.unit}" if isinstance(number, Quantity) else number.written


def _as_written(item: Item) -> Expr:
    if isinstance(item, Token):
        return Name((word_of(item),), item.span)
    return as_expr(item)


def pair_statement(items: list[Item]) -> Paired:
    """The rest of a statement: a subject or none, whichever lets words and values take turns."""
    first = items[0] if items else None
    if first is None or isinstance(first, Token):
        return pair(items, False)
    subject = pair(items, True)
    if subject.stray is None:
        return subject
    plain = pair(items, False)
    if plain.stray is None:
        return plain
    if (counted := _counted(items)) is not None:
        return pair(counted, True)
    return plain if plain.stray.at > subject.stray.at else subject


def _counted(items: list[Item]) -> list[Item] | None:
    """`cut 2 in lining` where words and values take turns only if the 2 counts and `in` is a word, not inches."""
    first = items[0]
    if not isinstance(first, Quantity) or first.unit != "in" or not first.written.isdigit():
        return None
    file, start, end = first.span.file, first.span.start, first.span.end
    number = Number(first.value, first.written, Span(file, start, start + len(first.written)))
    counted: list[Item] = [number, Token("CONNECTIVE", "in", end - 2, end, file), *items[1:]]
    return counted if pair(counted, True).stray is None else None


def pair_with_text(items: list[Item], text: Text | None, with_subject: bool) -> tuple[Paired, Text | None]:
    """Pair, with the last text of the sentence as a value where the last word lacks one: `… saying "Front"`."""
    paired = pair(items, with_subject)
    if text and paired.stray and paired.stray.expected == "value" and paired.stray.at == len(items):
        return pair([*items, text], with_subject), None
    return paired, text


# ---- a value -----------------------------------------------------------------------------------


def value_of(items: list[Item], text: Text | None = None) -> tuple[Expr, Text | None]:
    """The list behind `=` or in brackets as one value: a value, a point with steps, a heading, or an operation."""
    first = items[0]
    if len(items) == 1:
        return as_expr(first), text
    if _is_comma(items[1]):
        raise Slip(say.stray_comma(items[1].span))
    if isinstance(first, Token):
        return _worded(items, first), text
    head = as_expr(first)
    if is_word(items, 1, "at"):
        return _whole(items), text
    if isinstance(items[1], Direction) and not isinstance(head, Direction):
        return _stepped(items), text
    if isinstance(head, Name) and len(head.parts) == 1:
        return operation(head, items[1:], text)
    second = items[1]
    if isinstance(head, _WRITTEN_NUMBERS) and isinstance(second, _WRITTEN_NUMBERS):
        raise two_numbers(head, second)
    if isinstance(second, Text):
        raise Slip(say.text_not_last(second.span))
    raise Slip(say.verb_missing(_shown(head), head.span))


def _shown(value: Expr) -> str:
    if isinstance(value, Name):
        return value.text
    return _written(value) if isinstance(value, Number | Quantity) else "this"


def _worded(items: list[Item], first: Token) -> Expr:
    taken = take_value(items, 0)
    if taken and taken[1] == len(items):
        return taken[0]
    second = items[1]
    if first.type == "KIND" and isinstance(second, Name):
        raise Slip(say.forgotten_of(first.text, second.text, first.span.to(second.span)))
    if first.type in ("CONNECTIVE", "FROM"):
        raise Slip(say.needless_equals(first.text, first.span))
    raise Slip(say.word_as_value(first.text, first.span))


def _whole(items: list[Item]) -> Expr:
    """A spot on an edge, with steps from it if there are any, and nothing behind it."""
    taken = _take_one(items, 0)
    if taken is None:
        raise Slip(say.place_unfinished(items[1].span))
    if taken[1] < len(items):
        left = items[taken[1]]
        raise Slip(say.after_place(left.text if isinstance(left, Token | Name) else "this", left.span))
    return taken[0]


def _stepped(items: list[Item]) -> Expr:
    value, at = _take_steps(items, 1, as_expr(items[0]))
    if at == len(items):
        return value
    left = items[at]
    if isinstance(left, Direction):
        raise Slip(say.step_unfinished(left.word.text, left.span))
    word = left.text if isinstance(left, Token | Name) else "this"
    raise Slip(say.after_steps(word, left.span))


@dataclass(slots=True)
class Chained:
    """A chain as read so far: what it starts with, and the items of each link with its `then`."""

    start: list[Item]
    links: list[tuple[Token, list[Item]]]


def chain_of(chained: Chained, text: Text | None = None) -> tuple[Chain, Text | None]:
    """The chain, with the last text of the sentence as a value where the last word of the last link lacks one."""
    start, links, last = value_of(chained.start)[0], [], len(chained.links) - 1
    for number, (then, items) in enumerate(chained.links):
        made, left = _link(then, items, text if number == last else None)
        links.append(made)
        text = left if number == last else text
    return Chain(start, tuple(links), start.span.to(links[-1].span)), text


def _link(then: Token, items: list[Item], text: Text | None) -> tuple[Operation, Text | None]:
    """One link: a verb, what of the piece it works on where it is a part of it, and words with values."""
    verb = items[0]
    if not isinstance(verb, Name) or len(verb.parts) > 1:
        raise Slip(say.link_without_verb(then.span.to(verb.span)))
    if len(items) == 1:
        return Operation(verb.parts[0], None, (), verb.span), text
    return operation(verb, items[1:], text)


def operation(verb: Name, rest: list[Item], text: Text | None) -> tuple[Operation, Text | None]:
    """`verb subject word value …`; behind `with`, or where a word of the language comes first, there is no subject: a heading
    is none, so `divide along line …` names the line."""
    first = rest[0]
    bare = isinstance(first, Token) and first.type == "WITH"
    if bare and len(rest) == 1:
        raise Slip(say.verb_without_values(verb.text, verb.span.to(first.span)))
    paired, left = pair_with_text(rest[1:] if bare else rest, text, not isinstance(first, Token))
    last = rest[-1] if left is text or text is None else text
    made = Operation(verb.parts[0], paired.subject, paired.clauses, verb.span.to(last.span), paired.stray)
    return made, left

