"""What tells sentences of a style and its base apart: their name and their kind."""

from __future__ import annotations

from ..syntax import tree as t
from .units import UNITS

EDGES = ("line", "curve", "edge")


def name_of(sentence: t.Sentence) -> t.Word | None:
    if isinstance(sentence, t.Broken):
        return next(iter(sentence.names), None)
    return sentence.name if isinstance(sentence, (t.Definition, t.Solve, t.Check, t.Recipe)) else None


def kind_of(sentence: t.Sentence) -> str:
    match sentence:
        case t.Definition() | t.Recipe():
            return sentence.kind.text
        case t.Check():
            return "tell" if sentence.tells else "check"
        case t.Solve():
            return "solve"
        case t.Each():
            return "each"
        case _:
            return ""


def head_of(sentence: t.Sentence) -> str:
    """The word a sentence begins with."""
    match sentence:
        case t.Statement():
            return sentence.verb.text
        case t.Takes() | t.TakesAll():
            return "takes"
        case t.Gives() | t.GivesAll():
            return "gives"
        case t.Each() | t.EachPiece():
            return "each"
        case t.Definition() | t.Check() | t.Recipe() | t.Solve():
            return kind_of(sentence)
        case t.Broken():
            return sentence.head
        case _:
            return type(sentence).__name__.lower()


def kinds_apart(old: t.Sentence, new: t.Sentence) -> tuple[str, str]:
    """The kinds of two sentences, of the new one first; equal where one may stand in place of the other."""
    now, before = kind_of(new), kind_of(old)
    if {now, before} <= set(EDGES) or {now, before} == {"length", "solve"}:
        return before, before
    if isinstance(old, t.Recipe) != isinstance(new, t.Recipe):
        return f"{now} recipe" if isinstance(new, t.Recipe) else now, f"{before} recipe" if isinstance(old, t.Recipe) else before
    if now == before == "choice" and isinstance(old, t.Definition) and isinstance(new, t.Definition):
        ours, theirs = _literal(new.value), _literal(old.value)
        if ours and theirs and ours != theirs:
            return f"choice of {ours}", f"choice of {theirs}"
    return now, before


def _literal(value: t.Expr | None) -> str:
    """What a written default is, where that shows without looking a name up."""
    match value:
        case t.Negative():
            return _literal(value.value)
        case t.Quantity():
            return UNITS[value.unit][0].word
        case t.Number():
            return "number"
        case t.Flag():
            return "yes or no"
        case _:
            return ""
