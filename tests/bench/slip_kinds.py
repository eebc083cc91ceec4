"""The slips themselves: how a sentence is made, and each way in which one word of it may go wrong. Used by `slips.py`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from random import Random

from godet.syntax.layout import Group, laid_out
from godet.syntax.lexer import lex
from godet.syntax.tokens import Token
from godet.syntax.words import RESERVED
from godet.verbs.registry import verbs

UNITS = ("mm", "cm", "m", "inch", "deg", "percent", "gsm")
WANTING = (
    "no value", "must follow", "not finished", "is wanted", "is missing", "has no", "needs", "not said", "none is named",
    "says no",
)
"""A message that says so tells that something is left out."""
LANGUAGE = frozenset(word.name for verb in verbs().values() for word in verb.words) | frozenset(verbs()) | RESERVED
KINDS = ("point", "length", "angle", "number", "line", "curve", "shape")
"""Kinds of definitions that are taken for one another."""


@dataclass(frozen=True)
class Slip:
    """A text with a slip: what kind, from where to where its sentence stands in it, and what a good message names: any of these.
    Where nothing is wanted, nobody can know what was meant."""

    kind: str
    text: str
    start: int
    end: int
    wanted: tuple[str, ...]


@dataclass(frozen=True)
class Sentence:
    """The tokens of a sentence without its block, its braces where it has them, and where it stands."""

    tokens: Sequence[Token]
    braces: tuple[Token, ...]

    @property
    def start(self) -> int:
        return self.tokens[0].start

    @property
    def end(self) -> int:
        return self.tokens[-1].end

    @property
    def reach(self) -> int:
        """Where its block ends, or itself."""
        return max(self.end, *(one.end for one in self.braces), self.start)


@cache
def sentences(text: str) -> tuple[Sentence, ...]:
    """Every sentence of a text but its head, those in braces too."""
    found: list[Sentence] = []

    def walk(groups: Sequence[Group]) -> None:
        for group in groups:
            found.append(Sentence(group.tokens, tuple(one for one in (group.opened, group.closed) if one is not None)))
            walk(group.block or ())

    walk(laid_out(lex(text, "").lines)[0])
    return tuple(one for one in found if one.tokens[0].text not in ("language", "style"))


@cache
def all_names(text: str, type: str) -> tuple[str, ...]:
    """The names a text writes behind the beginnings of its sentences."""
    return tuple(sorted({token.text for one in sentences(text) for token in one.tokens[1:] if token.type == type}))


@cache
def defined(text: str) -> frozenset[str]:
    """The names that a text defines."""
    return frozenset(b.text for one in sentences(text) for a, b in pairwise(one.tokens) if a.type == "KIND" and b.type == "NAME")


def replaced(text: str, sentence: Sentence, kind: str, start: int, end: int, by: str, wanted: Sequence[str]) -> Slip:
    """The text with a part of a sentence replaced."""
    made = text[:start] + by + text[end:]
    return Slip(kind, made, sentence.start, max(sentence.end, end) + len(made) - len(text), tuple(wanted))


def is_word(token: Token) -> bool:
    return token.text.isidentifier() and token.type != "STRING"


def word_missing(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """A word behind the first is left out."""
    words = [one for one in sentence.tokens[1:] if is_word(one)]
    if not words:
        return None
    one = random.choice(words)
    before = sentence.tokens[sentence.tokens.index(one) - 1].text
    named = one.type == "NAME" and (one.text not in LANGUAGE or one.text in defined(text))
    # What a name was, or which of its values a word had, nobody can tell; that one is missing can be told.
    lost = (one.text, *WANTING) if named else (one.text, f"`{before}` has no value", f"`{before}` says no")
    return replaced(text, sentence, "word missing", one.start, one.end, "", lost)


def word_doubled(text: str, sentence: Sentence, random: Random) -> Slip | None:
    words = [one for one in sentence.tokens if is_word(one)]
    one = random.choice(words)
    return replaced(text, sentence, "word doubled", one.end, one.end, f" {one.text}", (one.text,))


def words_swapped(text: str, sentence: Sentence, random: Random) -> Slip | None:
    pairs = [(a, b) for a, b in pairwise(sentence.tokens) if is_word(a) and is_word(b)]
    if not pairs:
        return None
    a, b = random.choice(pairs)
    return replaced(text, sentence, "words swapped", a.start, b.end, f"{b.text} {a.text}", (a.text, b.text))


def misspelt(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """Two letters of a word change places."""
    words = [one for one in sentence.tokens if is_word(one) and len(one.text) > 3]
    if not words:
        return None
    one = random.choice(words)
    at = random.randrange(1, len(one.text) - 1)
    wrong = one.text[:at] + one.text[at + 1] + one.text[at] + one.text[at + 2 :]
    return None if wrong == one.text else replaced(text, sentence, "misspelt", one.start, one.end, wrong, (one.text,))


def unit_lost(text: str, sentence: Sentence, random: Random) -> Slip | None:
    found = [one for one in sentence.tokens if one.type == "QUANTITY"]
    if not found:
        return None
    one = random.choice(found)
    number = text[one.start : one.end].rstrip("abcdefghijklmnopqrstuvwxyz").rstrip()
    return replaced(text, sentence, "unit lost", one.start, one.end, number, ("unit", *UNITS))


def bracket_lost(text: str, sentence: Sentence, random: Random) -> Slip | None:
    found = [one for one in sentence.tokens if one.type in ("LPAR", "RPAR")]
    if not found:
        return None
    one = random.choice(found)
    return replaced(text, sentence, "bracket lost", one.start, one.end, "", ("bracket", "`(`", "`)`", "("))


def brace_lost(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """A brace is left out: its sentence goes from its beginning to where its block ends."""
    if len(sentence.braces) < 2:
        return None
    one = random.choice(sentence.braces)
    lost = replaced(text, sentence, "brace lost", one.start, one.end, "", ("brace", "`{`", "`}`"))
    return Slip(lost.kind, lost.text, lost.start, sentence.braces[1].end, lost.wanted)


def end_left_out(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """`at 7 cm from hem` without its end."""
    pairs = [(a, b) for a, b in pairwise(sentence.tokens[1:]) if a.text == "from" and b.type == "NAME"]
    if not pairs:
        return None
    a, b = random.choice(pairs)
    return replaced(text, sentence, "end left out", a.start, b.end, "", ("from", b.text))


def other_name(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """A name of the text in the place of another, often one of another kind."""
    mine = [one for one in sentence.tokens[1:] if one.type == "NAME"]
    if not mine:
        return None
    one, other = random.choice(mine), random.choice(all_names(text, "NAME"))
    return None if other == one.text else replaced(text, sentence, "another name", one.start, one.end, other, ())


def other_piece(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """An edge is asked of another piece: `back.hem` for `front.hem`."""
    mine = [one for one in sentence.tokens[1:] if one.type == "DOTTED"]
    if not mine:
        return None
    one, other = random.choice(mine), random.choice(all_names(text, "DOTTED"))
    piece, wrong = one.text.partition(".")[0], other.partition(".")[0]
    if wrong == piece:
        return None
    end = one.start + len(piece)
    return replaced(text, sentence, "another piece", one.start, end, wrong, ())


def wrong_kind(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """A definition under the kind of another, or an angle for a length."""
    kinds = [one for one in sentence.tokens[:2] if one.text in KINDS and one.type == "KIND"]
    sizes = [one for one in sentence.tokens if one.type == "QUANTITY" and one.text.endswith(("cm", "deg"))]
    if not kinds and not sizes:
        return None
    one = random.choice([*kinds, *sizes])
    if one.type == "KIND":
        wrong = random.choice([kind for kind in KINDS if kind != one.text])
        return replaced(text, sentence, "wrong kind", one.start, one.end, wrong, (one.text, "kind", wrong))
    unit, wrong = ("cm", "deg") if one.text.endswith("cm") else ("deg", "cm")
    return replaced(text, sentence, "wrong kind", one.end - len(unit), one.end, wrong, ("length", "angle", unit))


Generator = Callable[[str, Sentence, Random], Slip | None]
GENERATORS: tuple[Generator, ...] = (
    word_missing,
    word_doubled,
    words_swapped,
    misspelt,
    unit_lost,
    bracket_lost,
    brace_lost,
    end_left_out,
    other_name,
    other_piece,
    wrong_kind,
)


def drawn(text: str, among: Sequence[Sentence], random: Random) -> Slip:
    """A slip in one of the sentences. The kind is drawn first and the sentence to it, so that no kind is rare; one that none of
    the sentences has place for is drawn anew."""
    while True:
        generator = random.choice(GENERATORS)
        for _ in range(3 * len(among)):
            slip = generator(text, random.choice(among), random)
            if slip is not None:
                return slip
