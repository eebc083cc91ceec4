"""The one registry of verbs: signature, doc, example and function of each, read by checker, reference and evaluator.

A word of a verb has a *want*: the kind of value it takes, or a name looked up in the subject's piece:

- `number length area angle flag text point direction path piece dart edge cuts seam`: a value;
- `quantity`: a length, angle or number; `alike`: one of the subject's kind;
- `weight`, `sewing`, `seam or edge`: values too;
- `cloth`: the name of a cloth, declared where any is;
- `listed NAME`: a word or number of a list in `standards.toml`;
- `named piece`, `named edge`: a piece, or an edge; what the piece is called is told too, as `WORD called`;
- `named edges`: edges of several pieces with `+`, as `WORD 0`, `WORD 1` …, and what the pieces are called;
- `count`: a whole number known without a body (a literal or a choice);
- `own edge`, `own end`, `own dart`: a bare name of the subject's piece: an edge or line; an end of the subject's edge, named by
  what it touches; a dart;
- `own point`: a point of the piece; `own mark`: any of the three;
- `new name`: a name that is made here; `level`: the name of a level of pieces;
- `sewable`: an edge or a run of edges; `pieces`: a piece, or several with `+`;
- `mark`: an edge, a dart or a point with the piece it is on, or two edges with `+`, told as `marks`; `marks`: any number;
- `several WANT`: one or more of these, with commas: `WORD_0`, `WORD_1` …, bare names as a tuple;
- `one of a b c`: one of the words listed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from .kinds import Kind

Names = Callable[[Mapping[str, Any]], Kind]


@dataclass(frozen=True)
class PlacedEdge:
    """That an edge stands with a place on it, as in `side at 7 cm from hem`, and as what the verb is given the place: `at` a
    length, or `share` a number, with `end` the name of the end these are measured from, or the end alone; `near` a point.
    With `last`, a part of the edge may stand too, as in `side between 7 cm from hem and armhole`: that is its second place."""

    at: str = ""
    share: str = ""
    end: str = "from"
    near: str = ""
    required: bool = True
    last: PlacedEdge | None = None


@dataclass(frozen=True)
class Word:
    """A word of a verb and the value that follows it. `default` is text of the language, or None when the word may be left
    out and the verb is told so; `required` words must be written; `place` where an edge has a place on it."""

    name: str
    want: str
    meaning: str
    required: bool = True
    default: str | None = None
    place: PlacedEdge | None = None


@dataclass(frozen=True)
class Verb:
    """One entry: `subject` first, then `words` in any order; `gives` the kind of the result, or the names map that tells it."""

    name: str
    family: str
    doc: str
    subject: Word | None
    words: tuple[Word, ...]
    gives: Kind | Names
    run: Callable[..., Any]
    example: str
    statement: bool = False  # a sentence of a piece's block; it works on that piece
    either: tuple[tuple[str, ...], ...] = ()  # of each group of words exactly one is written

    def word(self, name: str) -> Word | None:
        return next((word for word in self.words if word.name == name), None)

    def kind(self, static: Mapping[str, Any]) -> Kind:
        """Kind of the result from the kinds (and static names) of the arguments."""
        return self.gives if isinstance(self.gives, Kind) else self.gives(static)


_VERBS: dict[str, Verb] = {}


def word(
    name: str,
    want: str,
    meaning: str,
    *,
    default: str | None = None,
    optional: bool = False,
    place: PlacedEdge | None = None,
) -> Word:
    """A word of a signature; optional when it has a default or is said to be."""
    return Word(name, want, meaning, default is None and not optional, default, place)


def verb(
    name: str,
    *,
    family: str,
    doc: str,
    gives: Kind | Names,
    example: str,
    subject: Word | None = None,
    words: tuple[Word, ...] = (),
    statement: bool = False,
    either: tuple[tuple[str, ...], ...] = (),
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Enter a function on lanes into the registry. It is called with `subject` and each word as keyword arguments
    (a word that is a Python keyword gets `_` after it); it raises `Trouble` when lanes fail."""

    def enter(run: Callable[..., Any]) -> Callable[..., Any]:
        if name in _VERBS:
            raise AssertionError(f"verb {name} is entered twice")
        _VERBS[name] = Verb(name, family, doc, subject, words, gives, run, example, statement, either)
        return run

    return enter


@cache
def verbs() -> Mapping[str, Verb]:
    """All verbs by name, the families loaded."""
    from . import families  # noqa: F401  (entering happens on import; here, since families import this module)

    return _VERBS


def words_taken(verb: str) -> tuple[str, ...]:
    """The words a verb takes, `at` where it has none but works on a place of an edge; none where there is no such verb."""
    entry = verbs().get(verb)
    if entry is None:
        return ()
    placed = not entry.words and entry.subject is not None and entry.subject.place is not None
    return ("at",) if placed else tuple(word.name for word in entry.words)
