"""What each change does alone: hybrids of two sides, in which some sentences are as they were and some as they are now, compared
by what is proved, then on bodies."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from ..diagnostics.diagnostic import Diagnostic
from ..difference.changes import Made, changes_of
from ..difference.cloth import BodyCloth, ClothDifference, compare
from ..difference.effects import agree
from ..difference.pairs import Pair
from ..difference.roots import Roots, piece_proof
from ..output import difference_records as r
from .difference_bodies import Asked, Drawn, cloth_record, cloths_of, on_asked
from .difference_hybrids import Hybrid, Making, Style
from .workspace import Workspace

MOST = 12
"""Of more changes each alone is told only where that is asked for: each takes two styles more (ours)."""

Number = Callable[[Pair], int | None]
"""By which a sentence is named."""


class AskedEach(Asked, Protocol):
    @property
    def each(self) -> bool: ...


@dataclass(frozen=True)
class EachAlone:
    """Changes in the order of their sentences, or why they are not told."""

    records: tuple[r.ChangeRecord, ...] = ()
    untold: str = ""


NOT_EACH = EachAlone()
IN_ORDER = "what sentences do depends on their order here, which is another"


def each_alone(style: Style, place: Workspace, asked: AskedEach, drawn: Drawn, number: Number) -> EachAlone:
    """What each change of a style does alone and last, where there are several."""
    making = Making(style, place, asked.settings)
    edits = making.hybrids.edits
    groups = changes_of(edits)

    def ids(change: Made) -> tuple[int, ...]:
        """Of what is told as changed, where something is."""
        found = {(not pair.told, number(pair)) for edit in change for pair in edits[edit].pairs}
        untold = all(one for one, _ in found)
        return tuple(sorted(one for is_untold, one in found if one is not None and is_untold == untold))

    told = [one for one in groups if any(pair.told and number(pair) for edit in one for pair in edits[edit].pairs)]
    if len(told) < 2:
        return NOT_EACH
    if len(told) > MOST and not asked.each:
        return EachAlone(untold=f"there are {len(told)} changes; --each tells them")
    silent = frozenset[int]().union(*(one for one in groups if one not in told))
    if not making.keeps_both_ends(silent):  # written otherwise, they rest on what changed
        told, silent = [*told, *(frozenset({edit}) for edit in silent)], frozenset()
        if not making.keeps_both_ends(silent):
            return EachAlone(untold=IN_ORDER)
    changes = sorted(_Joining(making, silent).joined(told), key=ids)
    if len(changes) < 2:
        return EachAlone(untold="none can be made without the others")
    effects = _Effects(making, asked, drawn)
    return EachAlone(tuple(effects.record(ids(one), one, silent) for one in changes))


# ---- what cannot be made without another ---------------------------------------------------------


@dataclass
class _Joining:
    """Puts changes together of which one cannot be read where the other is not made."""

    making: Making
    silent: Made

    def joined(self, changes: Sequence[Made]) -> list[Made]:
        known = list(changes)
        while len(known) > 1:
            pair = next(self._needing(known), None)
            if pair is None:
                break
            one, other = pair
            known = [each for each in known if each not in pair] + [one | other]
        return known

    def _needing(self, changes: Sequence[Made]) -> Iterator[tuple[Made, Made]]:
        for one in changes:
            others = [other for other in changes if other is not one]
            for made in (self.silent | one, self.making.all - one):
                error = self.making.hybrid(made).error
                other = None if error is None else self._named(error, made, one, others)
                if other is not None:
                    yield one, other

    def _named(self, error: Diagnostic, made: Made, one: Made, others: Sequence[Made]) -> Made | None:
        """The change that an error is of: its place stands in it, or what it names comes or goes with it."""
        edits = self.making.hybrids.edits
        at = self.making.edit_at(error, made)
        names = {name.partition(".")[0] for name in re.findall(r"`([\w.]+)", error.message)}
        for other in others:
            if at in other:
                return other
        for other in others:
            if not names.isdisjoint({name for edit in other for name in edits[edit].names}):
                return other
        return None


# ---- what they do --------------------------------------------------------------------------------


class _Effects:
    """Compares hybrids, each drawn once on the bodies that are asked for."""

    def __init__(self, making: Making, asked: Asked, drawn: Drawn) -> None:
        self.making, self.asked, self.keeping = making, asked, drawn.keeping
        self.cloths: dict[str, Sequence[BodyCloth]] = {}
        self.on_bodies = drawn.cloths is not None
        for roots, cloths in zip((making.old.roots, making.new.roots), drawn.cloths or (), strict=False):
            self.cloths[roots.whole if roots else ""] = cloths

    def record(self, ids: tuple[int, ...], change: Made, silent: Made) -> r.ChangeRecord:
        alone, once = self._effect(self.making.old, self.making.hybrid(silent | change))
        last, again = self._effect(self.making.hybrid(self.making.all - change), self.making.new)
        same = alone.proved == last.proved and not (alone.error or last.error)
        if once is not None or again is not None:
            same = agree(once or ClothDifference(), again or ClothDifference())
        return r.ChangeRecord(ids, alone, last, same)

    def _effect(self, before: Hybrid, after: Hybrid) -> tuple[r.EffectRecord, ClothDifference | None]:
        old, new = before.roots, after.roots
        if old is None or new is None:
            error = before.error or after.error
            return r.EffectRecord("open", (), (), None, error.message if error else ""), None
        if old.cloth == new.cloth:
            return r.EffectRecord("same" if old.whole == new.whole else "cloth", (), (), None, ""), None
        pieces, others = tuple(_pieces(old, new)), tuple(_others(old, new))
        if not self.on_bodies:
            return r.EffectRecord("open", pieces, others, None, ""), None
        names = (self._renamed(kind, getattr(old, f"{kind}s"), getattr(new, f"{kind}s")) for kind in ("piece", "seam"))
        found = compare(self._cloths(before), self._cloths(after), *names)
        return r.EffectRecord("open", pieces, others, cloth_record(found, self.asked.least), ""), found

    def _renamed(self, kind: str, before: Mapping[str, object], after: Mapping[str, object]) -> dict[str, str]:
        known = self.making.style.renamed(kind).items()
        return {old: new for old, new in known if old in before and old not in after and new in after}

    def _cloths(self, hybrid: Hybrid) -> Sequence[BodyCloth]:
        key = hybrid.roots.whole if hybrid.roots else ""
        if key not in self.cloths:
            prepared = on_asked(hybrid.prepared, self.making.workspace(hybrid.made), self.making.style.file, self.asked)
            self.keeping = self.keeping.later()
            self.cloths[key] = cloths_of(prepared, self.keeping)
        return self.cloths[key]


def _pieces(old: Roots, new: Roots) -> Iterator[str]:
    for name in dict.fromkeys((*new.pieces, *old.pieces)):
        if piece_proof(old.pieces.get(name), new.pieces.get(name)) != "same":
            yield name


def _others(old: Roots, new: Roots) -> Iterator[str]:
    for before, after in ((old.seams, new.seams), (old.rows, new.rows)):
        yield from (name for name in dict.fromkeys((*after, *before)) if before.get(name) != after.get(name))
