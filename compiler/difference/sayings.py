"""What is said of a style on a body beside its pieces, as seams, checks and fit, and what of it is said otherwise; and finished
measurements."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..geometry.tolerances import FLAT, SEW

Kind = Literal["seam", "check", "fit", "assembly", "opening", "cloth", "trim", "closure", "sewing", "care", "told"]
Number = Literal["mm", "ratio"]

RATIO = 0.01
"""A ratio that changes by less is not told."""

LEAST: Mapping[Number, float] = {"mm": SEW, "ratio": RATIO}


@dataclass(frozen=True)
class Saying:
    """One thing that is said: whether it `holds` (None: nothing to hold), words by what they tell, numbers by what they are.
    `told` is what more is said of it, as the figures of a check: no difference by itself."""

    kind: Kind
    name: str
    holds: bool | None = None
    words: tuple[tuple[str, str], ...] = ()
    numbers: tuple[tuple[str, Number, float], ...] = ()
    told: str = ""


@dataclass(frozen=True)
class SayingChange:
    """What is said otherwise: new, gone, or words and numbers by what they are, before and now; `holds`, and what more is `told`,
    before and now."""

    kind: Kind
    name: str
    present: Literal["both", "new", "gone"]
    holds: tuple[bool | None, bool | None]
    words: tuple[tuple[str, str, str], ...] = ()
    numbers: tuple[tuple[str, Number, float, float], ...] = ()
    told: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class Finished:
    """A finished measurement and what it may be over and under, mm."""

    name: str
    mm: float
    over: float
    under: float


@dataclass(frozen=True)
class FinishedChange:
    """A finished measurement before and now, None where it was not or is no more, with the tolerance it has now, and had."""

    name: str
    old_mm: float | None
    new_mm: float | None
    over: float
    under: float
    was_over: float
    was_under: float

    @property
    def more(self) -> float:
        """By how much it is more now."""
        return 0.0 if self.old_mm is None or self.new_mm is None else self.new_mm - self.old_mm

    @property
    def beyond(self) -> bool:
        """Whether the difference is beyond its tolerance: who sewed the old one would send back the new."""
        return self.more > self.over or -self.more > self.under


def saying_changes(
    old: Sequence[Saying], new: Sequence[Saying], names: Mapping[str, str]
) -> Iterator[SayingChange]:
    """What is said otherwise; `names` tells what an old name of a seam is now."""
    before = {(one.kind, _now(one, names)): one for one in old}
    after = {(one.kind, one.name): one for one in new}
    for kind, name in dict.fromkeys((*before, *after)):
        one, other = before.get((kind, name)), after.get((kind, name))
        if one is None or other is None:
            here = one or other
            assert here is not None
            if one is None:
                yield SayingChange(kind, name, "new", (None, here.holds), told=("", here.told))
            else:
                yield SayingChange(kind, name, "gone", (here.holds, None), told=(here.told, ""))
            continue
        change = _change(replace(one, name=name), other)
        if change.holds[0] != change.holds[1] or change.words or change.numbers:
            yield change


def _now(one: Saying, names: Mapping[str, str]) -> str:
    base, dot, half = one.name.partition(".")
    return names.get(one.name, names.get(base, base) + dot + half) if one.kind == "seam" else one.name


def _change(old: Saying, new: Saying) -> SayingChange:
    before, after = dict(old.words), dict(new.words)
    words = tuple(
        (what, before.get(what, ""), after.get(what, ""))
        for what in dict.fromkeys((*before, *after))
        if before.get(what, "") != after.get(what, "")
    )
    were = {what: number for what, _, number in old.numbers}
    numbers = tuple(
        (what, kind, were[what], number)
        for what, kind, number in new.numbers
        if what in were and abs(number - were[what]) >= LEAST[kind]
    )
    return SayingChange(new.kind, new.name, "both", (old.holds, new.holds), words, numbers, (old.told, new.told))


def finished_changes(old: Sequence[Finished], new: Sequence[Finished]) -> Iterator[FinishedChange]:
    """Finished measurements that are new or gone, differ by a pencil line, or have another tolerance."""
    before, after = ({one.name: one for one in side} for side in (old, new))
    for name in dict.fromkeys((*before, *after)):
        one, other = before.get(name), after.get(name)
        was, now = before.get(name, after.get(name)), after.get(name, before.get(name))
        assert was is not None
        assert now is not None
        mm = None if one is None else one.mm, None if other is None else other.mm
        change = FinishedChange(name, *mm, now.over, now.under, was.over, was.under)
        held = max(abs(now.over - was.over), abs(now.under - was.under)) > FLAT
        if None in mm or abs(change.more) >= SEW or held:
            yield change
