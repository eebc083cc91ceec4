"""Which sentence of one side is which of the other, and whether it says, and comes to, the same."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from .said import ORDER, Called, Form, Part, Role
from .sentences import Place, Sentence, SideOfStyle

Status = Literal["same", "follows", "otherwise", "changed", "bounds", "texts", "added", "removed", "renamed"]
"""`same`: says the same and comes to the same. `follows`: says the same, and rests on what has changed. `otherwise`: says it
otherwise, and comes to the same. `bounds`, `texts`: only what may be asked, or what is said to the sewer. `renamed`: only its
name is another."""

UNTOLD: frozenset[Status] = frozenset({"same", "follows", "otherwise"})
"""These are no changes."""

Scoped = tuple[str, Place, str]
"""Where a name is that of a definition: module, place, name."""


@dataclass(frozen=True)
class Word:
    """A word of a sentence whose value is another: as it is written now and was, None where it was, or is, not said."""

    word: str
    old: str | None
    new: str | None
    role: Role


@dataclass(frozen=True)
class Pair:
    """A sentence of both sides, or of one: what became of it, and which of its words have other values."""

    old: Sentence | None
    new: Sentence | None
    status: Status
    words: tuple[Word, ...] = ()

    @property
    def either(self) -> Sentence:
        """The sentence as it is now; what it was, where it is gone."""
        found = self.new or self.old
        assert found is not None
        return found

    @property
    def is_renamed(self) -> bool:
        one, other = self.old, self.new
        return one is not None and other is not None and one.name != other.name

    @property
    def told(self) -> bool:
        return self.status not in UNTOLD


def pairs_of(old: SideOfStyle, new: SideOfStyle) -> tuple[Pair, ...]:
    """All sentences of both sides: those of the new side in their order, then those that are gone.

    What stands in the braces of a sentence that is itself new or gone is told with it.
    """
    found = all_pairs(old, new)
    inside = _inside([one.new for one in found if one.new and one.status == "added"], new.sentences)
    inside |= _inside([one.old for one in found if one.old and one.status == "removed"], old.sentences)
    return tuple(one for one in found if id(one.either) not in inside)


def all_pairs(old: SideOfStyle, new: SideOfStyle) -> tuple[Pair, ...]:
    """As `pairs_of`, with what stands in the braces of a sentence that is new or gone."""
    pairing = _Pairing(old, new)
    pairing.run()
    kept = {id(one) for one in pairing.old_of.values()}
    gone = (Pair(one, None, "removed") for one in old.sentences if id(one) not in kept)
    return (*(_judged(pairing, pairing.old_of.get(id(one)), one) for one in new.sentences), *gone)


def _inside(owners: Iterable[Sentence], sentences: Iterable[Sentence]) -> set[int]:
    """What stands in the braces of some sentences."""
    places = {(one.module, (*one.place, one.name or one.head)) for one in owners}
    return {id(one) for one in sentences if any((one.module, one.place[: n + 1]) in places for n in range(len(one.place)))}


Found = tuple[tuple[str, Place], object]
"""Where a sentence is looked for, and what tells it there; None: nothing does."""


@dataclass
class _Pairing:
    """Pairs that were found so far: the old sentence of a new one, and the place in it that an old place is now."""

    old: SideOfStyle
    new: SideOfStyle
    old_of: dict[int, Sentence] = field(default_factory=dict)
    places: dict[tuple[str, Place], tuple[str, Place]] = field(default_factory=dict)
    names: dict[Scoped, str] = field(default_factory=dict)

    def run(self) -> None:
        """From outside inwards, since what stands in braces is looked for where these are now."""
        for depth in range(1 + max((len(one.place) for one in (*self.old.sentences, *self.new.sentences)), default=0)):
            self._at_depth(depth)

    def _at_depth(self, depth: int) -> None:
        def here(one: Sentence) -> bool:
            return len(one.place) == depth

        self._match(_named, here)
        self._match(_exactly, here, self._said)
        self._match(_by_subject, here)
        self._match(_by_identity, here, once=True)
        found = -1
        while found != len(self.old_of):  # a name that is found to be another makes more sentences the same
            found = len(self.old_of)
            self._match(_alike, here, self._said, once=True)
        self._match(_by_verb, here, once=True)

    def _match(
        self,
        key: Callable[[Sentence, Form], object],
        here: Callable[[Sentence], bool],
        said: Callable[[Sentence, bool], Form] | None = None,
        once: bool = False,
    ) -> None:
        """Pair what has one key on both sides, in order; with `once` only where a single one is left of each."""
        kept = {id(one) for one in self.old_of.values()}
        before: dict[Found, list[Sentence]] = {}
        after: dict[Found, list[Sentence]] = {}
        for one in self.old.sentences:
            if id(one) not in kept and here(one):
                before.setdefault((self._now(one), key(one, said(one, True) if said else ())), []).append(one)
        for one in self.new.sentences:
            if id(one) not in self.old_of and here(one):
                after.setdefault(((one.module, one.place), key(one, said(one, False) if said else ())), []).append(one)
        for what, some in after.items():
            others = before.get(what, [])
            if what[1] is None or (once and (len(some), len(others)) != (1, 1)):
                continue
            for one, other in zip(others, some, strict=False):
                self._pair(one, other)

    def _now(self, one: Sentence) -> tuple[str, Place]:
        return self.places.get((one.module, one.place), (one.module, one.place))

    def _pair(self, old: Sentence, new: Sentence) -> None:
        self.old_of[id(new)] = old
        within = (old.module, (*old.place, old.name or old.head))
        self.places[within] = (new.module, (*new.place, new.name or new.head))
        if old.name != new.name and not old.braces:
            self.names[old.module, old.place, old.name] = new.name

    def _said(self, one: Sentence, is_old: bool) -> Form:
        called = self.called(one) if is_old else None
        parts = one.called(called) if called else one.parts
        return tuple(sorted(((part.word, part.form) for part in parts if part.role != "text"), key=repr))

    def called(self, one: Sentence) -> Called:
        """What the names in a sentence of the old side are called now: that of the innermost place that has such a name."""

        def now(name: str) -> str:
            for depth in range(len(one.place), -1, -1):
                at = (one.module, one.place[:depth], name)
                if at in self.old.defined:
                    return self.names.get(at, name)
            return name

        return now


# ---- what two sentences that are one have in common, the surest first ----------------------------


def _named(one: Sentence, _: Form) -> object:
    return (one.head.removeprefix("change "), one.name) if one.name or one.head in ("style", "language", "each piece") else None


def _exactly(one: Sentence, said: Form) -> object:
    return None if one.name else (one.head, said)


def _by_subject(one: Sentence, _: Form) -> object:
    return None if one.name else (one.head, repr(one.subject))


def _by_identity(one: Sentence, _: Form) -> object:
    return (one.head, one.identities) if one.name and one.identities and not one.braces else None


def _alike(one: Sentence, said: Form) -> object:
    return (one.head, said) if said and one.head != "use" else None


def _by_verb(one: Sentence, _: Form) -> object:
    return None if one.name else one.head


# ---- what became of them -------------------------------------------------------------------------


def _judged(pairing: _Pairing, old: Sentence | None, new: Sentence) -> Pair:
    if old is None:
        return Pair(None, new, "added")
    words = tuple(_words(old.called(pairing.called(old)), old.parts, new.parts))
    roles = {one.role for one in words}
    known = bool(old.identities and new.identities)
    is_one = known and old.identities == new.identities
    found = Pair(old, new, "same", words)
    status: Status
    if "default" in roles or ("value" in roles and not is_one):
        status = "changed"
    elif "value" in roles:
        status = "otherwise"
    elif "bounds" in roles:
        status = "bounds"
    elif "text" in roles:
        status = "texts"
    elif found.is_renamed:
        status = "renamed"
    else:
        status = "same" if is_one or not known or old.braces else "follows"
    return Pair(old, new, status, words)


def _words(called: tuple[Part, ...], old: tuple[Part, ...], new: tuple[Part, ...]) -> list[Word]:
    """The words whose values differ; `called` are the old ones with names as they are now."""
    before = _by_word(zip(called, old, strict=True))
    after = _by_word(zip(new, new, strict=True))
    found = []
    for key in dict.fromkeys((*before, *after)):
        one, other = before.get(key), after.get(key)
        either = other or one
        if either is not None and (one is None or other is None or one[0].form != other[0].form):
            found.append(Word(key[0], one and one[1].text, other and other[1].text, either[0].role))
    rest = [one for one in found if one.word != ORDER]
    return rest if any(one.role == "value" for one in rest) else found


def _by_word(parts: Iterable[tuple[Part, Part]]) -> Mapping[tuple[str, object], tuple[Part, Part]]:
    """Parts by their word; of one that comes several times by its value too."""
    found: dict[tuple[str, object], tuple[Part, Part]] = {}
    rows = list(parts)
    words = [part.word for part, _ in rows]
    for part, written in rows:
        several = words.count(part.word) > 1
        found[part.word, part.form if several else None] = part, written
    return found
