"""Sentences that are not as they were, put together into changes which can be made one without the others, and texts in which
some of them are made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from ..syntax import tree as t
from ..syntax.lexer import lex
from .pairs import Pair, all_pairs
from .sentences import Sentence, SideOfStyle

Made = frozenset[int]
"""Edits that are made, by their numbers; all others are not."""
Written = Callable[[Sentence], str]
"""A sentence as it is written, without its braces."""
Inside = Mapping[int, list[Sentence]]
"""What stands in the braces of a sentence, by its id."""


@dataclass(frozen=True)
class Edit:
    """The least that can be made alone: a sentence is another, new or gone; what stands in its braces is edited by itself, unless
    it comes or goes with it. `pairs` are all it is about, `names` what it defines that the other side does not know, `said` the
    names it says."""

    module: str
    pairs: tuple[Pair, ...]
    names: frozenset[str]
    said: frozenset[str]
    replaces: tuple[object, ...]
    """Where a statement comes or goes, and its verb."""


@dataclass(frozen=True)
class Slot:
    """Where a sentence stands on both sides, or on one, by which edit it is another, and what stands in its braces."""

    old: str
    new: str
    edit: int | None
    braces: bool
    inside: tuple[Slot, ...]

    def written(self, made: Made) -> Iterator[tuple[str, int | None]]:
        """What is written one behind the other, and of which edit it is."""
        head = self.new if self.edit is None or self.edit in made else self.old
        if not head:
            return
        yield head, self.edit
        if self.braces:
            yield " {\n", None
            for one in self.inside:
                yield from one.written(made)
            yield "}", None
        yield "\n", None


@dataclass(frozen=True)
class Hybrids:
    """All edits between two sides, and the files both are made of, by module, as texts in which some are made. The order of the
    sentences is that of the new side; comments are left out."""

    edits: tuple[Edit, ...]
    modules: Mapping[str, tuple[Slot, ...]]

    def texts(self, made: Made) -> dict[str, str]:
        return {name: "".join(text for slot in slots for text, _ in slot.written(made)) for name, slots in self.modules.items()}

    def edit_at(self, module: str, made: Made, offset: int) -> int | None:
        """By which edit a place of such a text is as it is."""
        end = 0
        for slot in self.modules.get(module, ()):
            for text, edit in slot.written(made):
                end += len(text)
                if offset < end:
                    return edit
        return None


def hybrids_of(old: SideOfStyle, new: SideOfStyle, written: tuple[Written, Written]) -> Hybrids:
    """What can be made one without the other of all that differs in modules that both sides are made of."""
    shared = {one.module for one in old.sentences} & {one.module for one in new.sentences}
    finding = _Finding(old, new, written)
    modules = {module: finding.slots(module) for module in sorted(shared)}
    return Hybrids(tuple(finding.edits), modules)


@dataclass
class _Finding:
    """Walks both sides from outside inwards."""

    old: SideOfStyle
    new: SideOfStyle
    of: tuple[Written, Written]
    edits: list[Edit] = field(default_factory=list)

    def __post_init__(self) -> None:
        pairs = all_pairs(self.old, self.new)
        self.pair_of = {id(one): pair for pair in pairs for one in (pair.old, pair.new) if one is not None}
        self.before, self.after = _inside(self.old), _inside(self.new)
        self.numbers: dict[int, int] = {}
        self.one_sided = _defined(self.old) ^ _defined(self.new)

    def slots(self, module: str) -> tuple[Slot, ...]:
        return tuple(self._both(_outermost(self.old, module), _outermost(self.new, module)))

    def _both(self, before: Sequence[Sentence], after: Sequence[Sentence]) -> Iterator[Slot]:
        """In the order of the new side, what is gone behind what it stood behind."""
        here = {id(one) for one in before}
        behind: dict[int, list[Sentence]] = {}
        found = {id(self.pair_of[id(one)].old): id(one) for one in after}
        known = {was: now for was, now in found.items() if was in here}
        last = 0
        for one in before:
            last = known.get(id(one), last)
            if id(one) not in known:
                behind.setdefault(last, []).append(one)
        yield from (self._lone(one, False) for one in behind.get(0, ()))
        for one in after:
            was = self.pair_of[id(one)].old
            yield self._slot(was, one) if was is not None and id(was) in here else self._lone(one, True)
            yield from (self._lone(gone, False) for gone in behind.get(id(one), ()))

    def _slot(self, old: Sentence, new: Sentence) -> Slot:
        head, was = self.of[1](new), self.of[0](old)
        edit = None if _tokens(head) == _tokens(was) else self._edit((old, new), (self.pair_of[id(new)],), (was, head))
        inside = tuple(self._both(self.before.get(id(old), []), self.after.get(id(new), [])))
        return Slot(was, head, edit, _has_braces(old) or _has_braces(new), inside)

    def _lone(self, one: Sentence, is_new: bool) -> Slot:
        """A sentence that comes or goes, with all that stands in its braces."""
        held = self.after if is_new else self.before
        whole = list(_whole(one, held))
        pairs = tuple({id(pair): pair for pair in (self.pair_of[id(each)] for each in whole)}.values())
        edit = self._edit(whole, pairs, [self.of[is_new](each) for each in whole])
        return self._held(one, is_new, edit, held)

    def _held(self, one: Sentence, is_new: bool, edit: int, held: Inside) -> Slot:
        head = self.of[is_new](one)
        inside = tuple(self._held(each, is_new, edit, held) for each in held.get(id(one), ()))
        return Slot("" if is_new else head, head if is_new else "", edit, _has_braces(one), inside)

    def _edit(self, sentences: Sequence[Sentence], pairs: tuple[Pair, ...], texts: Sequence[str]) -> int:
        """The number of an edit; a sentence that moved from some braces to others comes and goes as one."""
        known = self.numbers.get(id(pairs[0]))
        first = sentences[0]
        names = frozenset(one.name for one in sentences if not one.braces and (one.module, one.name) in self.one_sided)
        said = frozenset(name for text in texts for name in _names(text))
        replaces = (first.place, first.head) if first.braces and len(sentences) == len(pairs) else ()
        made = Edit(first.module, pairs, names, said, replaces)
        if known is None:
            self.edits.append(made)
            known = self.numbers[id(pairs[0])] = len(self.edits) - 1
        else:
            also = self.edits[known]
            self.edits[known] = Edit(made.module, also.pairs, also.names | names, also.said | said, ())
        return known


def _defined(side: SideOfStyle) -> set[tuple[str, str]]:
    return {(one.module, one.name) for one in side.sentences if one.name and not one.braces}


def _outermost(side: SideOfStyle, module: str) -> list[Sentence]:
    return [one for one in side.sentences if one.module == module and not one.place]


def _inside(side: SideOfStyle) -> Inside:
    """A sentence stands behind that in whose braces it does."""
    found: dict[int, list[Sentence]] = {}
    above: list[Sentence] = []
    for one in side.sentences:
        del above[len(one.place) :]
        if above:
            found.setdefault(id(above[-1]), []).append(one)
        above.append(one)
    return found


def _whole(one: Sentence, held: Inside) -> Iterator[Sentence]:
    yield one
    for each in held.get(id(one), ()):
        yield from _whole(each, held)


def _has_braces(one: Sentence) -> bool:
    return getattr(t.held(one.node), "block", None) is not None


def _tokens(text: str) -> list[str]:
    return [token.text for line in lex(text, "").lines for token in line.tokens]


def _names(text: str) -> Iterator[str]:
    """The names that a sentence says, of what has parts the first."""
    for token in _tokens(text):
        if token[:1].isalpha() or token[:1] == "_":
            yield token.partition(".")[0]


# ---- changes -------------------------------------------------------------------------------------


def changes_of(edits: Sequence[Edit]) -> tuple[Made, ...]:
    """Edits by what cannot be made without the other: in one file what defines a name that comes or goes, and what says it; in
    the braces of one piece statements of a verb of which one comes for another that goes."""
    joined = list(range(len(edits)))
    for module in {one.module for one in edits}:
        here = [number for number, one in enumerate(edits) if one.module == module]
        for number in here:
            for other in here:
                one, two = edits[number], edits[other]
                if not one.names.isdisjoint(two.said) or (one.replaces and one.replaces == two.replaces and _swap(one, two)):
                    _join(joined, number, other)
    groups: dict[int, set[int]] = {}
    for number in range(len(edits)):
        groups.setdefault(_root_of(joined, number), set()).add(number)
    return tuple(frozenset(one) for one in groups.values())


def _swap(one: Edit, two: Edit) -> bool:
    return {one.pairs[0].status, two.pairs[0].status} == {"added", "removed"}


def _root_of(joined: list[int], number: int) -> int:
    while joined[number] != number:
        number = joined[number]
    return number


def _join(joined: list[int], one: int, other: int) -> None:
    first, second = sorted((_root_of(joined, one), _root_of(joined, other)))
    joined[second] = first
