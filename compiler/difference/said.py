"""What a sentence says: its words and values, and a form of each that is the same for the same said otherwise.

Units, fractions, the order of words and of the edges it is `on` are no difference; nor is the name of a definition, which is
replaced by what it is called now.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass
from typing import Any, Literal

from ..diagnostics.diagnostic import Span
from ..meaning.units import measured
from ..syntax import tree as t
from ..syntax.rendered import rendered

Role = Literal["value", "default", "bounds", "text"]
"""What a part of a sentence is for: what is done, what a choice is where nobody sets it, what may be asked of it, what is said
to the sewer."""

Form = tuple[Any, ...]
"""The same for the same."""
Called = Callable[[str], str]
"""What a name of a definition is called now."""

ORDER = "then"
"""The word under which the verbs of a chain stand in their order."""


def as_called(name: str) -> str:
    return name


@dataclass(frozen=True)
class Part:
    """A word of a sentence and its value as it is written on one line; `word` is "" where the value stands alone."""

    word: str
    text: str
    form: Form
    role: Role = "value"


def parts_of(sentence: t.Sentence, called: Called = as_called) -> tuple[Part, ...]:
    """What a sentence says beside its kind and its name, but for what stands in its braces."""
    return tuple(_Saying(called).of(t.held(sentence)))


def form_of(node: object, called: Called = as_called) -> Form:
    """The form of a value, a condition, or anything that stands in a tree."""
    return _Saying(called).form(node)


class _Saying:
    """Reads sentences whose names of definitions are called so."""

    def __init__(self, called: Called) -> None:
        self.called = called

    # ---- sentences -----------------------------------------------------------------------------

    def of(self, one: t.Sentence) -> Iterator[Part]:
        match one:
            case t.Definition():
                yield from self._definition(one)
            case t.Check():
                yield self._condition("that", one.condition)
                yield from self._when(one.when)
                yield from self._text(one.text)
            case t.Solve():
                yield from self._solve(one)
            case t.Takes():
                default = () if one.default is None else (self.part("=", one.default, "default"),)
                yield from (*default, *self._bounds(one.bounds), *self._text(one.text))
            case t.Statement():
                yield from self._operation(one.verb, one.subject, one.clauses)
            case t.ChangeValues():
                yield from (() if one.subject is None else (self.part("", one.subject),))
                yield from (*self._clauses(one.clauses), *self._text(one.text))
            case _:
                yield from self._other(one)

    def _other(self, one: t.Sentence) -> Iterator[Part]:
        match one:
            case t.Title():
                yield from self._text(one.text)
                yield from _word("from", one.base)
            case t.Language():
                yield from _word("", one.version)
            case t.Use():
                yield from _word("from", one.module)
            case t.Recipe() | t.Needs():
                yield from self._text(one.text)
            case t.Each():
                yield self.part("from", one.low)
                yield self.part("to", one.high)
                yield from () if one.limit is None else (self.part("up_to", one.limit),)
            case _:
                return

    def _definition(self, one: t.Definition) -> Iterator[Part]:
        role: Role = "default" if one.kind.text == "choice" else "value"
        if one.value is not None:
            yield from self._value(one.value, role)
        yield from self._clauses(one.clauses)
        yield from (*self._when(one.when), *self._bounds(one.bounds), *self._text(one.text))

    def _solve(self, one: t.Solve) -> Iterator[Part]:
        yield from self._bounds(one.bounds, "value")  # where the answer is looked for
        yield self._condition("that", one.condition)
        if one.kept:
            yield Part("kept", "", ())
        yield from self._text(one.text)

    # ---- what stands in them -------------------------------------------------------------------

    def _value(self, value: t.Expr, role: Role) -> Iterator[Part]:
        if isinstance(value, t.Chain):
            verbs = [link.verb.text for link in (value.start, *value.links) if isinstance(link, t.Operation)]
            yield Part(ORDER, " then ".join(verbs), tuple(verbs))
            times: dict[str, int] = {}
            for link in (value.start, *value.links):
                if isinstance(link, t.Operation):
                    times[link.verb.text] = times.get(link.verb.text, 0) + 1
                    yield from self._link(link, times[link.verb.text])
                else:
                    yield self.part("=", link, role)
        elif isinstance(value, t.Operation):
            yield from self._operation(value.verb, value.subject, value.clauses)
        else:
            yield self.part("=", value, role)

    def _link(self, link: t.Operation, time: int) -> Iterator[Part]:
        """A link of a chain: its words behind its verb, which is counted where it comes again."""
        verb = link.verb.text if time == 1 else f"{link.verb.text} ({time})"
        for part in self._operation(link.verb, link.subject, link.clauses):
            word = verb if part.word == link.verb.text else f"{verb} {part.word}"
            yield Part(word, part.text, part.form, part.role)

    def _operation(self, verb: t.Word, subject: t.Expr | None, clauses: Sequence[t.Clause]) -> Iterator[Part]:
        yield Part(verb.text, "", ()) if subject is None else self.part(verb.text, subject)
        yield from self._clauses(clauses)

    def _clauses(self, clauses: Sequence[t.Clause]) -> Iterator[Part]:
        for clause in clauses:
            if clause.word.span == clause.value.span:  # handed on under its own name
                yield Part("using", clause.word.text, self._clause(clause))
            else:
                yield Part(clause.word.text, rendered(clause.value), self._clause(clause))

    def _clause(self, clause: t.Clause) -> Form:
        """The edges a statement is `on` have no order."""
        form = self.form(clause.value)
        if clause.word.text == "on" and isinstance(clause.value, t.Listed):
            form = ("all of", *sorted((self.form(one) for one in clause.value.items), key=repr))
        return clause.word.text, form

    def _condition(self, word: str, condition: t.Condition) -> Part:
        return Part(word, rendered(condition), self.form(condition))

    def _when(self, condition: t.Condition | None) -> Iterator[Part]:
        if condition is not None:
            yield self._condition("when", condition)

    def _bounds(self, bounds: t.Bounds | None, role: Role = "bounds") -> Iterator[Part]:
        if bounds is not None:
            text = f"{rendered(bounds.low)} and {rendered(bounds.high)}"
            yield Part("between", text, (self.form(bounds.low), self.form(bounds.high)), role)

    def _text(self, text: t.Text | None) -> Iterator[Part]:
        if text is not None:
            yield Part("says", f'"{text.value}"', ("text", text.value), "text")

    def part(self, word: str, value: t.Expr, role: Role = "value") -> Part:
        return Part(word, rendered(value), self.form(value), role)

    # ---- forms ---------------------------------------------------------------------------------

    def form(self, node: object) -> Form:
        number = _number(node)
        if number is not None:
            return number
        match node:
            case t.Name():
                first, *rest = (part.text for part in node.parts)
                return ("name", ".".join((self.called(first), *rest)))
            case t.Word():
                return ("word", node.text)
            case t.Text():
                return ("text", node.value)
            case t.Plain():
                return self.form(node.value)
            case t.Operation():
                clauses = sorted((self._clause(one) for one in node.clauses), key=repr)
                return ("do", node.verb.text, self.form(node.subject), *clauses)
            case tuple():
                return tuple(self.form(one) for one in node)
        if is_dataclass(node) and not isinstance(node, (Span, type)):
            held = (getattr(node, one.name) for one in fields(node) if one.name != "span")
            return (type(node).__name__, *(self.form(one) for one in held))
        return ("as it is", node)


def _number(node: object) -> Form | None:
    """A number that is written: in mm, radians, or bare."""
    match node:
        case t.Quantity():
            kind, value = measured(node)
            return ("quantity", kind.word, value)
        case t.Number():
            return ("quantity", "number", node.value)
        case t.Negative():
            found = _number(node.value)
            return None if found is None else (*found[:2], -found[2])
        case t.Arithmetic(operator="/", left=t.Number(value=over), right=t.Number(value=under)) if under:
            return ("quantity", "number", over / under)
    return None


def _word(word: str, value: t.Word | None) -> Iterator[Part]:
    if value is not None:
        yield Part(word, value.text, ("word", value.text))
