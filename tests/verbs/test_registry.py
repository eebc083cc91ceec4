"""What every entry of the registry has, so that the reference, the checker and the evaluator can rely on it."""

from __future__ import annotations

import inspect
import keyword
import re
from itertools import chain

import pytest
from godet.syntax.words import HEADINGS, RESERVED, UNITS, WORDED
from godet.verbs.measuring import OF
from godet.verbs.registry import Verb, Word, verbs

VERBS = sorted(verbs().values(), key=lambda verb: verb.name)
WORD = re.compile(r"[a-z]+(_[a-z]+)*")
WANTS = frozenset((
    *("number", "length", "area", "angle", "flag", "text", "point", "direction", "path", "piece", "dart", "edge", "cuts"),
    *("seam", "count", "own edge", "own end", "own dart", "own point", "own mark", "new name", "level", "sewable"),
    *("quantity", "alike", "weight", "mark", "marks", "pieces", "sewing", "named piece", "cloth", "listed stitch", "listed seam"),
    *("named edge", "named edges", "trim"),
    *(f"listed {one}" for one in ("washing", "bleaching", "tumbling", "drying", "ironing", "cleaning")),
))


def all_words(verb: Verb) -> list[Word]:
    return [*verb.words, *([] if verb.subject is None else [verb.subject])]


each_verb = pytest.mark.parametrize("verb", VERBS, ids=lambda verb: verb.name)


@each_verb
def test_its_name_is_one_lower_case_word_that_is_not_reserved(verb: Verb) -> None:
    """But for those that make a thing and bear its kind's name: `line side from … to …`."""
    assert verbs()[verb.name] is verb
    assert WORD.fullmatch(verb.name)
    assert verb.name not in RESERVED - {"line", "curve", "dart", "edge", "seam"}


@each_verb
def test_it_is_told_with_an_example_in_which_it_stands(verb: Verb) -> None:
    assert len(verb.doc.split()) >= 3
    assert not verb.doc.endswith((" ", "\n"))
    assert re.search(rf"\b{verb.name}\b", verb.example)
    assert WORD.fullmatch(verb.family)


@each_verb
def test_each_of_its_words_is_told_and_is_named_once(verb: Verb) -> None:
    names = [word.name for word in verb.words]
    assert len(names) == len(set(names))
    for word in verb.words:
        assert all(WORD.fullmatch(part) for part in word.name.split()), word.name
        assert word.name not in WORDED  # a line that goes on with it would begin a sentence
    for word in all_words(verb):
        assert word.meaning, word.name
        assert not (word.required and word.default is not None)


@each_verb
def test_each_of_its_words_takes_a_known_kind_of_value(verb: Verb) -> None:
    for word in all_words(verb):
        listed = word.want.removeprefix("one of ").split() if word.want.startswith("one of ") else []
        assert listed or set(re.split(r" or |\|", word.want.removeprefix("several "))) <= WANTS, (word.name, word.want)
        assert not listed or (len(listed) == len(set(listed)) and (word.default is None or word.default in listed))


@each_verb
def test_its_function_takes_the_words_it_is_called_with(verb: Verb) -> None:
    """The evaluator passes subject and words by name; a word that may be left out without a default is None there."""
    taken = inspect.signature(verb.run).parameters
    names = [word.name.replace(" ", "_") for word in verb.words]
    names = [f"{name}_" if keyword.iskeyword(name) else name for name in names]
    if not any(one.kind is one.VAR_KEYWORD for one in taken.values()):
        assert set(names) <= set(taken), set(names) - set(taken)
        assert verb.subject is None or "subject" in taken


def test_a_name_is_a_verb_or_a_word_before_of_never_both() -> None:
    assert not set(verbs()) & set(OF)
    assert all(one.doc and one.wants for one in OF.values())


def test_defaults_are_words_of_the_language() -> None:
    told = chain.from_iterable(verb.words for verb in VERBS)
    assert all(re.fullmatch(r"[\w/. -]+", word.default) for word in told if word.default is not None)


@each_verb
def test_an_option_can_be_written(verb: Verb) -> None:
    """A word of the language that wants a value after it would never be read as an option."""
    for word in all_words(verb):
        if word.want.startswith("one of "):
            assert not set(word.want.split()[2:]) & (HEADINGS | set(UNITS)), word.name
