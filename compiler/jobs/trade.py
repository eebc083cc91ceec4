"""The words of the trade: its terms with the entries of the reference that mean them (`terms.toml`), and what is said at the
cutting table with the sentence that is written then (`said.toml`). The page of the reference that leads from one to the other."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

_ENDINGS = ("ing", "ed", "es", "s")
_SHORTEST = 3  # letters that are left of a word without its ending
_WHOLE = frozenset({"cape"})  # words that are others without their ending


@dataclass(frozen=True)
class Term:
    """A term of the trade, other words for it, and why each entry of the reference is meant, the nearest first."""

    name: str
    also: tuple[str, ...]
    entries: Mapping[str, str]

    @property
    def said(self) -> tuple[str, ...]:
        """All that it is called."""
        return (self.name, *self.also)


@lru_cache(maxsize=1)
def terms() -> Mapping[str, Term]:
    """All terms by name."""
    return {name: Term(name, tuple(row.pop("also", ())), row) for name, row in _table("terms.toml").items()}


@lru_cache(maxsize=1)
def said() -> Mapping[str, Mapping[str, str]]:
    """What is said at the cutting table and what is written then, by heading."""
    return _table("said.toml")


def _table(name: str) -> Mapping[str, dict[str, str]]:
    return tomllib.loads(resources.files(__package__).joinpath(name).read_text("utf-8"))


@lru_cache(maxsize=1024)
def stems(text: str) -> tuple[str, ...]:
    """The words of a text without their endings, so that `gathers` and `gathered` are one."""
    return tuple(_stem(word) for word in re.findall(r"[a-z0-9]+", text.lower()))


def _stem(word: str) -> str:
    if word.removesuffix("s") in _WHOLE:
        return word.removesuffix("s")
    ending = next((one for one in _ENDINGS if word.endswith(one) and not word.endswith("ss")), "")
    kept = word.removesuffix(ending) if len(word) - len(ending) >= _SHORTEST else word
    if len(kept) > _SHORTEST and kept[-1] == kept[-2]:
        kept = kept[:-1]
    return kept.removesuffix("e") if len(kept) > _SHORTEST else kept


@lru_cache(maxsize=1)
def _called() -> Mapping[tuple[str, ...], Term]:
    return {stems(one): term for term in terms().values() for one in term.said}


def term_of(words: Sequence[str]) -> Term | None:
    """The term that these stems of words are, where they are one."""
    return _called().get(tuple(words))


def page() -> list[str]:
    """From words to sentences, as Markdown."""
    rows = [
        "## From words to sentences",
        "",
        "On the cutting table lie a half `front` and a half `back` to the waist, a `skirt` panel, a `sleeve` and a `band`. "
        "What is said stands first, and under it what is written.",
        "",
    ]
    for heading, sentences in said().items():
        rows += [f"### {heading[0].upper()}{heading[1:]}", ""]
        for aloud, written in sentences.items():
            rows += [aloud, "", "```", *written.split("\n"), "```", ""]
    return [*rows, "### Terms of the trade", "", "`godet words TERM` shows a sentence of each.", "", *_index(), ""]


def _index() -> Iterator[str]:
    for term in sorted(terms().values(), key=lambda term: term.name):
        others = f" ({', '.join(term.also)})" if term.also else ""
        yield f"- {term.name}{others}"
        yield from (f"  - `{name}`: {why}" for name, why in term.entries.items())
