"""Texts that were left as they were, and hold a number that a sentence they are about no longer has."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..meaning.units import UNITS
from ..syntax import tree as t
from .pairs import Pair
from .said import parts_of
from .sentences import Sentence

_QUANTITY = re.compile(rf"(?<![\w.])\d+(?:\.\d+)?(?: \d+/\d+)?(?:/\d+)? (?:{'|'.join(UNITS)})\b")


@dataclass(frozen=True)
class LeftBehind:
    """A text as it is still written, the sentence it stands in, the number in it, and the sentence that no longer has this."""

    text: str
    sentence: Sentence
    number: str
    changed: Sentence


def left_behind(pairs: Sequence[Pair]) -> tuple[LeftBehind, ...]:
    """Of each text and number once."""
    gone = [(pair, number) for pair in pairs if pair.status == "changed" for number in _gone(pair)]
    found: dict[tuple[int, str], LeftBehind] = {}
    for other in pairs if gone else ():
        text = _text(other)
        for number in {*_QUANTITY.findall(text)} if text else ():
            for pair, was in gone:
                if was == number and other.new is not None and pair.new is not None and _is_about(other.new, pair.new):
                    found.setdefault((id(other), number), LeftBehind(text, other.new, number, pair.new))
    return tuple(found.values())


def _gone(pair: Pair) -> Iterator[str]:
    """The numbers that a sentence had and no longer has."""
    for word in pair.words:
        if word.role != "text" and word.old is not None and word.new is not None:
            yield from {*_QUANTITY.findall(word.old)} - {*_QUANTITY.findall(word.new)}


def _text(pair: Pair) -> str:
    """The text of a sentence of both sides that says the same still."""
    if pair.old is None or pair.new is None or any(word.role == "text" for word in pair.words):
        return ""
    parts = parts_of(pair.new.node)
    return next((part.text for part in parts if part.role == "text" or part.form[:1] == ("text",)), "")


def _is_about(one: Sentence, changed: Sentence) -> bool:
    """Whether a sentence is the changed one, stands in its braces or beside it in those of one piece, or names what it is of:
    the definition; or the piece and its edge, and of what all pieces have the edge alone."""
    if one is changed:
        return True
    if not changed.braces:
        return bool(changed.name) and changed.name in _heads(one)
    owner, edges = changed.place[-1], _edges(changed)
    if one.place == changed.place:
        return one.head == "remark"
    named = {(name.parts[0].text, name.parts[-1].text) for name in _names(one.node)}
    return any(owner in ("each piece", piece) and (not edges or edge in edges) for piece, edge in named)


def _heads(one: Sentence) -> set[str]:
    return {name.parts[0].text for name in _names(one.node)}


def _edges(one: Sentence) -> set[str]:
    return {name.parts[-1].text for name in _names(one.node)}


def _names(sentence: t.Sentence) -> Iterator[t.Name]:
    """The names that are written in a sentence, but for its braces."""
    return (one for one in t.written(sentence) if isinstance(one, t.Name))
