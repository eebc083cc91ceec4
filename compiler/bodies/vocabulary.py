"""The body words: every measurement a style may ask for, with its meaning and its plausible range.

The entries stand in `vocabulary.toml`, their sources in `DATA.md`. Nothing is read before it is asked for.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from types import MappingProxyType
from typing import Any, Literal, get_args

Kind = Literal["length", "angle", "mass", "years"]
Sex = Literal["F", "M"]
Wearer = Literal["woman", "man", "child"]

_LETTER: Mapping[Wearer, str] = MappingProxyType({"woman": "W", "man": "M", "child": "C"})

LEVELS: Mapping[Wearer, Mapping[str, str]] = MappingProxyType(
    {"man": MappingProxyType({"bust": "chest", "under_bust": "under_chest", "chest": "across_chest"})}
)
"""What levels of the body are called of a wearer of whom they are not called by their names."""


def level_of(wearer: Wearer, level: str) -> str:
    """What a level is called of a wearer."""
    return LEVELS.get(wearer, {}).get(level, level)


# How far beyond the least and the greatest body of the surveys a value is still plausible, as factors.
# The surveys hold service members, who are fitter and younger than customers: girths and weight get much room upward.
GIRTH_ROOM = (0.95, 1.3)
MASS_ROOM = (0.85, 1.8)
LENGTH_ROOM = (0.93, 1.08)


@dataclass(frozen=True, slots=True)
class Measure:
    """One body word. Ranges are in mm, degrees, kg or years, as the kind says.

    `iso` is its number in ISO 8559-1:2017 where it was read; `basis` says where the name comes from ("17", "89",
    "memory", "own"). `seen_women`, `seen_men`: least and greatest value of the surveys named in `seen`. `trunk`: a
    length of the trunk that no other measurement tells well, so that an estimate is hardly better than the mean.
    """

    name: str
    kind: Kind
    iso: str
    basis: str
    who: str
    what: str
    how: str
    seen_women: tuple[float, float] | None
    seen_men: tuple[float, float] | None
    seen: str
    trunk: bool
    short_forms: tuple[str, ...]

    @property
    def is_girth(self) -> bool:
        return self.name.endswith("_girth")

    def is_asked_of(self, wearer: Wearer) -> bool:
        """Whether such a wearer is measured for it: bust points are not asked of a man or a child."""
        return self.who == "A" or _LETTER[wearer] in self.who

    def plausible(self, sex: Sex) -> tuple[float, float] | None:
        """Plausible least and greatest value, or None where no survey holds the dimension."""
        seen = self.seen_women if sex == "F" else self.seen_men
        if seen is None:
            return None
        room = GIRTH_ROOM if self.is_girth else MASS_ROOM if self.kind == "mass" else LENGTH_ROOM
        return seen[0] * room[0], seen[1] * room[1]


@lru_cache(maxsize=1)
def _tables() -> Mapping[str, Any]:
    return tomllib.loads(resources.files(__package__).joinpath("vocabulary.toml").read_text("utf-8"))


@lru_cache(maxsize=1)
def short_forms() -> Mapping[str, str]:
    """Short form of the trade -> body word. Each has one meaning only."""
    return MappingProxyType(dict(_tables()["short_forms"]))


@lru_cache(maxsize=1)
def vocabulary() -> Mapping[str, Measure]:
    """Every body word, in the order of the vocabulary file: heights, girths, lengths, arms, legs."""
    shorts: dict[str, list[str]] = {}
    for short, name in short_forms().items():
        shorts.setdefault(name, []).append(short)
    return MappingProxyType(
        {name: _measure(name, entry, tuple(shorts.get(name, ()))) for name, entry in _tables()["measure"].items()}
    )


def _measure(name: str, entry: Mapping[str, Any], shorts: tuple[str, ...]) -> Measure:
    kind: Kind = entry["kind"]
    if kind not in get_args(Kind):
        raise ValueError(f"vocabulary.toml: {name} has the kind {kind}")
    return Measure(
        name=name,
        kind=kind,
        iso=entry.get("iso", ""),
        basis=entry["basis"],
        who=entry["who"],
        what=entry["what"],
        how=entry["how"],
        seen_women=_pair(entry.get("seen_women")),
        seen_men=_pair(entry.get("seen_men")),
        seen=entry.get("seen", ""),
        trunk=entry.get("trunk", False),
        short_forms=shorts,
    )


def _pair(ends: list[float] | None) -> tuple[float, float] | None:
    return None if ends is None else (float(ends[0]), float(ends[1]))


def canonical(word: str) -> str | None:
    """The body word that a word means: itself, or what its short form stands for; None if it is neither."""
    if word in vocabulary():
        return word
    return short_forms().get(word)


def meanings(word: str) -> tuple[str, ...]:
    """The body words that an unclear word may mean (`waist`: three levels), or none."""
    return tuple(_tables()["unclear"].get(word, ()))


def suggestions(word: str) -> tuple[str, ...]:
    """Up to three body words that may have been meant by an unknown word, the likeliest first."""
    plain = word.strip().lower().replace("-", "_").replace(" ", "_")
    if (known := canonical(plain)) is not None:
        return (known,)
    if clear := meanings(plain):
        return clear
    found: list[str] = []
    for near in difflib.get_close_matches(plain, [*vocabulary(), *short_forms()], n=3, cutoff=0.7):
        name = canonical(near)
        if name is not None and name not in found:
            found.append(name)
    return tuple(found)
