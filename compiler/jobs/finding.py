"""Finding words of the language by what a cutter calls them, by what a sentence does, or by a part of a name."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from ..bodies.vocabulary import vocabulary
from ..diagnostics.suggest import did_you_mean
from ..output.command_records import FoundWord as Found
from ..syntax import tree as t
from ..verbs.measuring import EXTREMES, OF
from ..verbs.registry import verbs
from .forms import FORMS
from .trade import Term, said, stems, term_of, terms
from .vocabulary import KINDS, all_words, recipes
from .writing import WRITTEN

SHOWN = 8  # more than that nobody reads
_LONGEST_TERM = 4  # words
_LEFT_OUT = frozenset({"a", "an", "the", "of", "on", "in", "to", "and", "with", "for", "at", "by", "how", "do", "i"})

# What it counts that a word stands in a place: more than all places after it together, so that the order is that of this list.
_AS_TERM, _AS_NAME, _IN_NAME, _IN_LINE, _IN_SENTENCE, _IN_WORDS = 1000, 400, 160, 60, 20, 8


@dataclass(frozen=True)
class Entry:
    """An entry of the reference as it is searched: its name, what it is, its first line, sentences that show it with what is
    said for them, what its words mean, and the sentence that brings it in, where one does."""

    name: str
    kind: str
    line: str
    sentences: tuple[tuple[str, str], ...]
    words: str
    use: str = ""

    def counts(self, stem: str) -> int:
        """How much it speaks for this entry that a word was asked for."""
        if stems(self.name) == (stem,):
            return _AS_NAME
        spoken = " ".join(f"{aloud} {written}" for written, aloud in self.sentences)
        places = ((self.name, _IN_NAME), (self.line, _IN_LINE), (spoken, _IN_SENTENCE), (self.words, _IN_WORDS))
        return sum(weight for text, weight in places if stem in stems(text))


@dataclass(frozen=True)
class Search:
    """What a search comes to: rows, best first; whether they answer to all that was asked; and where a word is not known, it."""

    rows: tuple[Found, ...]
    whole: bool = True
    unknown: str = ""
    near: str = ""


@dataclass(frozen=True)
class _Asked:
    """One thing that was asked for, as it was written: the term it is, if it is one, and its words without their endings."""

    written: str
    term: Term | None
    words: tuple[str, ...]

    def counts(self, entry: Entry) -> int:
        if self.term is not None and entry.name in self.term.entries:
            return _AS_TERM - list(self.term.entries).index(entry.name)
        each = [entry.counts(word) for word in self.words]
        return sum(each) if all(each) else 0


def search(words: Sequence[str]) -> Search:
    """The entries that answer to all words, or, where none does, to most of them."""
    asked = tuple(_asked(words))
    counted = [(entry, [one.counts(entry) for one in asked]) for entry in entries()]
    for number, one in enumerate(asked):
        if not any(counts[number] for _, counts in counted):
            unknown = " ".join(words) if len(asked) == 1 else one.written
            return Search((), unknown=unknown, near=did_you_mean(unknown, _candidates()))
    most = max((sum(map(bool, counts)) for _, counts in counted), default=0)
    best = sorted((row for row in counted if sum(map(bool, row[1])) == most), key=lambda row: -sum(row[1]))
    return Search(tuple(_found(entry, asked) for entry, _ in best), whole=most == len(asked))


def beside(word: str) -> tuple[Found, ...]:
    """What a term of the trade names beside the entry that is called so itself."""
    term = term_of(stems(word))
    known = {entry.name: entry for entry in entries()}
    asked = (_Asked(word, term, stems(word)),)
    return tuple(_found(known[name], asked) for name in (term.entries if term else ()) if name != word)


def _asked(words: Sequence[str]) -> Iterator[_Asked]:
    """The longest terms among the words, and the other words that say something."""
    left = [one for word in words for one in re.findall(r"[a-z0-9]+", word.lower())]
    while left:
        longest = range(min(_LONGEST_TERM, len(left)), 0, -1)
        length = next((count for count in longest if term_of(stems(" ".join(left[:count])))), 1)
        written = " ".join(left[:length])
        said_so = stems(written)
        if term_of(said_so) or not (left[0] in _LEFT_OUT or left[0].isdigit()):
            yield _Asked(written, term_of(said_so), said_so)
        left = left[length:]


def _candidates() -> list[str]:
    return [*all_words(), *(one for term in terms().values() for one in term.said)]


def _found(entry: Entry, asked: Sequence[_Asked]) -> Found:
    why = "; ".join(one.term.entries[entry.name] for one in asked if one.term is not None and entry.name in one.term.entries)
    written = {word for quoted in re.findall("`([^`]*)`", why) for word in stems(quoted)}
    wanted = {word for one in asked for word in one.words} | written
    reasons = {word for word in stems(why) if word not in _LEFT_OUT}

    def shows(row: tuple[str, str]) -> tuple[int, int]:
        held = set(stems(" ".join(row)))
        return len(wanted & held), len(reasons & held)

    best = max(entry.sentences, key=shows, default=("", ""))
    return Found(entry.name, entry.kind, why or entry.line, "\n".join(one for one in (entry.use, best[0]) if one))


@lru_cache(maxsize=1)
def entries() -> tuple[Entry, ...]:
    """Every entry of the reference; verbs and recipes with what is said at the cutting table for them."""
    spoken = [(written, aloud) for sentences in said().values() for aloud, written in sentences.items()]
    shown = (replace(one, sentences=(*one.sentences, *_holding(one.name, spoken))) for one in (*_of_verbs(), *_of_recipes()))
    return (*shown, *_of_sentences(), *_of_measures())


def _of_verbs() -> Iterator[Entry]:
    for verb in verbs().values():
        subject = "" if verb.subject is None else verb.subject.meaning
        words = " ".join([verb.doc, subject, *(f"{word.name} {word.meaning}" for word in verb.words)])
        kind = "in a piece's braces" if verb.statement else "verb"
        yield Entry(verb.name, kind, _line(verb.doc), tuple(_sentences(verb.name, verb.example)), words)


def _of_sentences() -> Iterator[Entry]:
    for name, (doc, examples) in FORMS.items():
        yield Entry(name, "sentence", _line(doc), tuple((one, "") for one in examples), doc)
    titles = [one.title for one in WRITTEN if one.title not in verbs()]  # else it is told with the verb
    for one in WRITTEN:
        if one.title not in titles:
            continue
        yield Entry(one.title, "how it is written", _line(one.said), tuple((row, "") for row in one.examples), one.said)
    for name, doc in KINDS.items():
        if name not in {*verbs(), *FORMS, *titles}:
            yield Entry(name, "kind", doc, (), "")


def _of_measures() -> Iterator[Entry]:
    for name, of in OF.items():
        yield Entry(name, "measuring", f"`{name} of …`: {of.doc}", (), "")
    for name, (_, doc) in EXTREMES.items():
        yield Entry(name, "before a list", doc, ((f"length taken = {name} of (reach, 3 cm)", ""),), "")
    for name, one in vocabulary().items():
        yield Entry(name, "measurement", one.what, (), f"{one.how} {' '.join(one.short_forms)}")


def _of_recipes() -> Iterator[Entry]:
    for one in recipes():
        text = one.recipe.text.value if one.recipe.text else ""
        takes = [taken for taken in one.recipe.block if isinstance(taken, t.Takes)]
        words = [f"{taken.name.text} {taken.text.value if taken.text else ''}" for taken in takes]
        sentences = tuple(_sentences(one.name, one.example))
        yield Entry(one.name, one.recipe.kind.text, text, sentences, " ".join([one.module, *words]), one.use)


def _line(doc: str) -> str:
    """The first sentence of a text."""
    return re.split(r"(?<=[a-z`)])[.:;] ", doc, maxsplit=1)[0].rstrip(".")


def _sentences(name: str, example: str) -> Iterator[tuple[str, str]]:
    """The sentences of an example in which a name stands."""
    rows: list[str] = []
    for line in example.split("\n"):
        if rows and line[:1] in (" ", "}"):
            rows[-1] += f"\n{line}"
        else:
            rows.append(line)
    yield from _holding(name, ((row, "") for row in rows))


def _holding(name: str, sentences: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """The sentences in which a name is written, with what is said for them."""
    yield from (row for row in sentences if name in re.findall(r"\w+", row[0]))


def printed(search: Search) -> list[str]:
    """The rows of a search as they are printed."""
    rows = [] if search.whole else ["Nothing answers to all of these; nearest:"]
    for row in search.rows[:SHOWN]:
        rows += [f"{row.name} ({row.kind}): {row.why}", *(f"    {line}" for line in row.sentence.split("\n") if line)]
    more = len(search.rows) - SHOWN
    rest = f"{more} more: another word beside these narrows them. " if more > 0 else ""
    return [*rows, "", f"{rest}`godet words {search.rows[0].name}` gives the whole entry."]
