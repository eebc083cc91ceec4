"""The order in which what the braces of a piece state is taken: as written only where that can be seen on the cloth."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from typing import TypeVar

from ..diagnostics.diagnostic import Span
from ..syntax import tree as t
from .units import measured

Stated = t.Statement | t.Definition
"""What is said in the braces of a piece; a definition gives a part of an edge its name."""
Some = TypeVar("Some", bound=Stated)

# In this order, whatever the order written: later ones build on them.
FIRST = ("fold", "off_fold", "worn", "covers", "landmark", "notch", "edge", "mark_level", "mark", "allow", "turn_under")
LAST = ("buttons", "buttonholes", "place", "drill", "unsewn", "notch", "cut", "remark")
"""And these behind all others, those that give a name first; a notch that has none."""
NAMED = FIRST.index("allow")
"""Before this all edges that a statement may name are there."""
WIDTHS_AND_WAYS = ("allow", "turn_under", "cut_corner", "grain", "press", "lies", "opens", "unsewn")
"""Statements of which none reads what another of its kind did, and none takes another's place, which is an error: those that say
the same in another order are one piece."""


def rank(one: Stated) -> int:
    """When a statement is taken: what gives a name before what may use it."""
    verb = one.kind.text if isinstance(one, t.Definition) else one.verb.text
    if verb in FIRST and not _is_plain_notch(one):
        return FIRST.index(verb)
    return len(FIRST) + (1 + LAST.index(verb) if verb in LAST else 0)


def _is_plain_notch(one: Stated) -> bool:
    return isinstance(one, t.Statement) and one.verb.text == "notch" and all(part.word.text != "called" for part in one.clauses)


def in_turn(stated: Iterable[Some]) -> list[Some]:
    """Statements in the order they are taken: of marks, remarks, cloths and notches with a name each kind as written, since that
    is how they are told."""
    return sorted(stated, key=_turn)


def _turn(one: Stated) -> tuple[int, bool, tuple[str, ...]]:
    if not isinstance(one, t.Statement) or not (one.verb.text in WIDTHS_AND_WAYS or _is_plain_notch(one)):
        return rank(one), True, ()
    clauses = sorted(one.clauses, key=lambda clause: (clause.word.text != "on", clause.word.text))  # by the names of their edges
    return rank(one), False, (one.verb.text, *map(as_written, clauses), as_written(one.subject))


def as_written(part: object) -> str:
    """What is written there, wherever it stands: the same for the same words, and for a length in another unit."""
    if isinstance(part, t.Quantity):
        kind, value = measured(part)
        return f"{value!r} {kind.word}"
    if isinstance(part, tuple):
        return f"({' '.join(as_written(one) for one in part)})"
    if is_dataclass(part) and not isinstance(part, type):
        held = (getattr(part, one.name) for one in fields(part))
        return f"{type(part).__name__}({' '.join(as_written(one) for one in held if not isinstance(one, Span))})"
    return repr(part)
