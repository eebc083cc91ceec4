"""How slips are told: `python tests/bench/slips.py [COUNT] [SEED]`. Nothing here is a test.

Styles that come with the compiler get one slip each, drawn by a generator that knows how a sentence is made; of every slip that
is no longer a sound style it is counted whether all errors lie in the sentence with the slip, whether there is one, and whether
message or fix names what was lost. Scores by kind of slip, of a hundred; `-v` prints what missed.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from random import Random

import godet
from godet.diagnostics.diagnostic import Diagnostic, Severity
from godet.syntax.layout import laid_out
from godet.syntax.lexer import lex
from godet.syntax.tokens import Token
from godet.syntax.words import RESERVED
from godet.verbs.registry import verbs

PATTERNS = Path(__file__).resolve().parents[2] / "patterns"
UNITS = ("mm", "cm", "m", "inch", "deg")
WANTING = ("no value", "must follow", "not finished", "is wanted", "is missing", "has no", "needs")
"""A message that says so tells that something is left out."""
LANGUAGE = frozenset(word.name for verb in verbs().values() for word in verb.words) | frozenset(verbs()) | RESERVED


@dataclass(frozen=True)
class Slip:
    """A text with a slip: what kind, from where to where its sentence stands in it, and what a good fix names: any of these."""

    kind: str
    text: str
    start: int
    end: int
    wanted: tuple[str, ...]


@dataclass(frozen=True)
class Sentence:
    """The tokens of a sentence without its braces, and where it stands."""

    tokens: Sequence[Token]

    @property
    def start(self) -> int:
        return self.tokens[0].start

    @property
    def end(self) -> int:
        return self.tokens[-1].end


def sentences(text: str) -> list[Sentence]:
    """Every sentence of a text but its head, those in braces too."""
    found: list[Sentence] = []

    def walk(groups: Sequence[object]) -> None:
        for group in groups:
            found.append(Sentence(group.tokens))  # type: ignore[attr-defined]
            walk(group.block or ())  # type: ignore[attr-defined]

    walk(laid_out(lex(text, "").lines)[0])
    return [one for one in found if one.tokens[0].text not in ("language", "style")]


def replaced(text: str, sentence: Sentence, kind: str, start: int, end: int, by: str, wanted: Sequence[str]) -> Slip:
    """The text with a part of a sentence replaced."""
    made = text[:start] + by + text[end:]
    return Slip(kind, made, sentence.start, sentence.end + len(made) - len(text), tuple(wanted))


def names(tokens: Sequence[Token]) -> list[Token]:
    return [one for one in tokens[1:] if one.type == "NAME"]


def word_missing(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """A word behind the first is left out."""
    words = [one for one in sentence.tokens[1:] if one.text.isidentifier()]
    if not words:
        return None
    one = random.choice(words)
    lost = (one.text,) if one.type != "NAME" or one.text in LANGUAGE else (one.text, *WANTING)  # what a name was nobody can tell
    return replaced(text, sentence, "word missing", one.start, one.end, "", lost)


def word_doubled(text: str, sentence: Sentence, random: Random) -> Slip | None:
    words = [one for one in sentence.tokens if one.text.isidentifier()]
    one = random.choice(words)
    return replaced(text, sentence, "word doubled", one.end, one.end, f" {one.text}", (one.text,))


def words_swapped(text: str, sentence: Sentence, random: Random) -> Slip | None:
    pairs = [(a, b) for a, b in pairwise(sentence.tokens) if a.text.isidentifier() and b.text.isidentifier()]
    if not pairs:
        return None
    a, b = random.choice(pairs)
    return replaced(text, sentence, "words swapped", a.start, b.end, f"{b.text} {a.text}", (a.text, b.text))


def misspelt(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """Two letters of a word change places."""
    words = [one for one in sentence.tokens if one.text.isidentifier() and len(one.text) > 3]
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
    found = [one for one in sentence.tokens if one.text in "()" and one.text]
    if not found:
        return None
    one = random.choice(found)
    return replaced(text, sentence, "bracket lost", one.start, one.end, "", ("bracket", "`(`", "`)`", "("))


def end_left_out(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """`at 7 cm from hem` without its end."""
    pairs = [(a, b) for a, b in pairwise(sentence.tokens[1:]) if a.text == "from" and b.type == "NAME"]
    if not pairs:
        return None
    a, b = random.choice(pairs)
    return replaced(text, sentence, "end left out", a.start, b.end, "", ("from", b.text))


def other_name(text: str, sentence: Sentence, random: Random) -> Slip | None:
    """A name of the style in the place of another: one of another kind, or of another piece."""
    mine = names(sentence.tokens)
    others = sorted({one.text for other in sentences(text) for one in names(other.tokens)})
    if not mine:
        return None
    one, other = random.choice(mine), random.choice(others)
    return None if other == one.text else replaced(text, sentence, "another name", one.start, one.end, other, ())


GENERATORS: tuple[Callable[[str, Sentence, Random], Slip | None], ...] = (
    word_missing,
    word_doubled,
    words_swapped,
    misspelt,
    unit_lost,
    bracket_lost,
    end_left_out,
    other_name,
)


@cache
def read(path: Path) -> tuple[str, list[Sentence]]:
    text = path.read_text("utf-8")
    return text, sentences(text)


def drawn(paths: Sequence[Path], random: Random) -> Iterator[tuple[Path, Slip]]:
    """Slips without end."""
    while True:
        path = random.choice(paths)
        text, all_of = read(path)
        slip = random.choice(GENERATORS)(text, random.choice(all_of), random)
        if slip is not None:
            yield path, slip


def inside(problem: Diagnostic, slip: Slip) -> bool:
    """Whether an error points into the sentence with the slip."""
    span = problem.span
    return span is not None and slip.start <= span.start <= slip.end + 1


def main(count: int, seed: int, verbose: bool) -> None:
    paths = sorted(PATTERNS.glob("*.style"))
    random = Random(seed)
    total: Counter[str] = Counter()
    place: Counter[str] = Counter()
    single: Counter[str] = Counter()
    fixed: Counter[str] = Counter()
    slips = drawn(paths, random)
    while total.total() < count:
        path, slip = next(slips)
        style = godet.open_style(path, text=slip.text)
        errors = [one for one in style.diagnostics if one.severity is Severity.ERROR]
        if not errors:
            continue
        total[slip.kind] += 1
        right = [all(inside(one, slip) for one in errors), len(errors) == 1]
        told = " ".join(f"{one.message} {one.note} {one.fix}" for one in errors)
        right.append(not slip.wanted or any(one in told for one in slip.wanted))
        for counter, good in zip((place, single, fixed), right, strict=True):
            counter[slip.kind] += good
        if verbose and not all(right):
            lines = " ".join(slip.text[slip.start : slip.end].split())
            print(f"--- {slip.kind} in {path.name}: {right}, wanted {slip.wanted}\n    {lines}")
            for one in errors[:4]:
                print(f"    {one.code} {one.message} | {one.fix}")
    print(f"{'':14} {'slips':>6} {'place':>7} {'one':>7} {'fix':>7}")
    for kind in (*sorted(total), ""):
        rows = [counter.total() if not kind else counter[kind] for counter in (total, place, single, fixed)]
        shares = " ".join(f"{100 * one / rows[0]:6.1f}%" for one in rows[1:])
        print(f"{kind or 'all':14} {rows[0]:6d} {shares}")


if __name__ == "__main__":
    numbers = [int(one) for one in sys.argv[1:] if one != "-v"]
    main(numbers[0] if numbers else 1000, numbers[1] if len(numbers) > 1 else 1, "-v" in sys.argv)
