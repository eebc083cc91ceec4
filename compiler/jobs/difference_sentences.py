"""The sentences that are not as they were, of all styles that are compared: each once, with where it is used."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from ..difference.pairs import Pair
from ..difference.sentences import OWN, Sentence
from ..output import difference_records as r
from ..syntax import tree as t
from ..syntax.one_line import one_line

Key = tuple[object, ...]


class Style(Protocol):
    """A style, or a module that none uses, of both sides with the texts of each."""

    @property
    def title(self) -> str: ...
    @property
    def texts(self) -> tuple[Mapping[str, str], Mapping[str, str]]: ...
    @property
    def pairs(self) -> tuple[Pair, ...]: ...


class Sentences:
    """Numbers the sentences of styles: changes from 1 in the order they stand, then what follows or is said otherwise."""

    def __init__(self, styles: Sequence[Style]) -> None:
        self._ids: dict[Key, int] = {}
        self._found: dict[int, tuple[Pair, Style]] = {}
        self._uses: dict[int, dict[str, tuple[str, ...]]] = {}
        self._of: dict[int, dict[int, None]] = {}
        for told in (True, False):
            for style in styles:
                self._number(style, told)

    def _number(self, style: Style, told: bool) -> None:
        for pair in style.pairs:
            if pair.status == "same" or pair.told is not told:
                continue
            number = self._ids.setdefault(_key(pair), len(self._ids) + 1)
            self._found.setdefault(number, (pair, style))
            used = () if pair.either.module == OWN else _used(pair.either, style)
            if used is None or not style.title:
                continue
            self._of.setdefault(id(style), {})[number] = None
            if pair.either.module != OWN:
                self._uses.setdefault(number, {})[style.title] = used

    def of(self, style: Style) -> tuple[int, ...]:
        return tuple(self._of.get(id(style), ()))

    def number(self, pair: Pair) -> int | None:
        """By which a sentence is named; None of one that is as it was, or is told with another."""
        return self._ids.get(_key(pair))

    def records(self) -> tuple[r.SentenceRecord, ...]:
        return tuple(self._record(number, *found) for number, found in sorted(self._found.items()))

    def _record(self, number: int, pair: Pair, style: Style) -> r.SentenceRecord:
        one = pair.either
        was = pair.old.name if pair.old is not None and pair.old.name != one.name else None
        status = pair.status
        assert status != "same"
        return r.SentenceRecord(
            id=number,
            file=one.node.span.file,
            place=one.place,
            kind=one.head,
            name=one.name,
            old_name=was,
            of=_subject(pair),
            status=status,
            text=_text(pair, style),
            words=tuple(r.WordRecord(word.word, word.old, word.new, word.role) for word in pair.words),
            used_by=tuple(r.UseRecord(title, names) for title, names in sorted(self._uses.get(number, {}).items())),
        )


def _key(pair: Pair) -> Key:
    """Where it stands: a sentence of the library is one, whatever styles use it."""
    places = tuple(None if one is None else (one.node.span, one.name) for one in (pair.old, pair.new))
    return (*places, pair.told)


def _used(sentence: Sentence, style: Style) -> tuple[str, ...] | None:
    """What of a style comes of the recipe a sentence stands in, by the names of the style itself; None of a recipe that it does
    not use."""
    found = {_head(whole) for whole in sentence.whole}
    recipe = sentence.place[0] if sentence.place else sentence.name
    if not any(_is_recipe(pair.either, sentence.module, recipe) for pair in style.pairs):
        return tuple(sorted(found))
    for pair in style.pairs if recipe and not found else ():
        other = pair.new
        if other is None:
            continue
        if (other.module, other.place[:1]) == (sentence.module, (recipe,)):
            found |= {_head(whole) for whole in other.whole}
        elif not other.place and recipe in _verbs(other.node):
            found.add(other.name)
    return tuple(sorted(found)) or None


def _is_recipe(one: Sentence, module: str, name: str) -> bool:
    return not one.place and (one.module, one.name) == (module, name) and isinstance(t.held(one.node), t.Recipe)


def _head(whole: str) -> str:
    return whole.partition(".")[0]


def _verbs(sentence: t.Sentence) -> set[str]:
    """The verbs and recipes that a sentence uses, but for its braces."""
    return {one.verb.text for one in t.written(sentence) if isinstance(one, t.Operation)}


def _subject(pair: Pair) -> str:
    """What a statement is of that says the same of it as before: `on sleeve_hem`, `side`."""
    one = pair.either
    if one.name or pair.old is None or pair.new is None:
        return ""
    changed = {word.word for word in pair.words}
    found = {part.word: part.text for part in one.parts if part.word not in changed}
    return f"on {found['on']}" if "on" in found else found.get(one.head, "")


def _text(pair: Pair, style: Style) -> str:
    span = pair.either.node.span
    return one_line(style.texts[pair.new is not None][span.file][span.start : span.end])
