"""A difference as text to read, as JSON, and as Markdown for a review."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from textwrap import wrap

from .columns import table
from .difference_each import each_alone
from .difference_records import (
    ChangedNames,
    ClothRecord,
    DifferenceRecord,
    PieceProofRecord,
    SaidRow,
    SentenceRecord,
    StyleDifference,
    WordRecord,
)

PROVED = {"outline": "outline proved, the notches of their seams not", "same": "same, proved", "new": "new", "gone": "gone"}
WIDEST = 44
"""A column of names is no wider; a longer name pushes its line."""

NAMES_WIDE, TOLD_WIDE = 24, 66
"""The columns of pieces and of what is told of them in the table of the cloth."""

MOST_NAMES = 6

SHORT = 60
"""A value no longer than this is written whole, before and now."""


def difference_text(record: DifferenceRecord, whole: bool = False) -> str:
    """With `whole` also sentences that are no changes: they rest on what changed, or are only written otherwise."""
    return "\n".join(_Telling(record, whole).lines()).rstrip() + "\n"


def verdict(record: DifferenceRecord) -> str:
    """The first line: from what to what, and whether it is the same cloth."""
    told = {
        "proved": "the same cloth on every body, proved",
        "bodies": "the same cloth on these bodies",
        "no": "the cloth changes",
        "open": "the cloth may change; --body FILE tells whether, and how far",
        "unread": "not all of it can be compared",
    }[record.same]
    return f"{record.old.what} to {record.new.what}: {told}"


class _Telling:
    """Lines of a difference: what concerns all of it, what is shared, then style by style."""

    def __init__(self, record: DifferenceRecord, whole: bool) -> None:
        self.record, self.whole = record, whole
        self.sentences = {one.id: one for one in record.sentences}
        self.files = {file for style in record.styles if style.listed for file in _files(style)}
        self.shown = [style for style in record.styles if style.listed and self._is_shown(style)]
        shared = {one.id for one in record.sentences if self._is_shared(one) and self._is_told(one)}
        self.above = len(self.shown) != 1 or not shared <= set(self.shown[0].sentences)

    def lines(self) -> Iterator[str]:
        yield verdict(self.record)
        yield _library(self.record)
        shared = [one for one in self.record.sentences if self._is_shared(one) and self._is_told(one)]
        if shared and self.above:
            yield from ("", "In the library and in what styles are built from")
            yield from self._rows(shared)
        for style in self.shown:
            yield ""
            yield from self._style(style)
        same = [one.title for one in self.record.styles if one.listed and one not in self.shown]
        if same:
            yield from ("", f"{_list(same)}: same, proved.")

    def _is_shown(self, style: StyleDifference) -> bool:
        """A style that is the same is named alone, unless something is told of its own sentences."""
        own = [self.sentences[number] for number in style.sentences]
        return style.status != "same" or any(one.file in _files(style) and self._is_told(one) for one in own)

    def _is_shared(self, one: SentenceRecord) -> bool:
        return one.file not in self.files

    def _is_told(self, one: SentenceRecord) -> bool:
        return self.whole or one.status not in ("follows", "otherwise")

    # ---- a style -------------------------------------------------------------------------------

    def _style(self, style: StyleDifference) -> Iterator[str]:
        yield from _underlined(f"{style.title} ({style.file})")
        if style.status in ("new", "gone"):
            yield f"It is {style.status}: {_list([one.name for one in style.pieces]) or 'no piece can be read'}."
            return
        yield from _errors(style)
        if style.status != "unread":
            yield from _proofs(style)
            yield from self._built_from(style)
        yield from self._sentences(style)
        if style.cloth is not None:
            yield from _cloth(style.cloth)
        yield from each_alone(style)
        for one in style.left_behind:
            yield from ("", f'Left behind? {one.sentence} says "{one.text}"; no longer {one.number} is: {one.changed}')

    def _built_from(self, style: StyleDifference) -> Iterator[str]:
        others = [one for one in self.record.styles if not one.listed and style.title in one.built_from]
        for one in others:
            if one.status == "same" or one.cloth_proved:
                yield f"Built from it: {one.title}, the same cloth, proved."
            else:
                yield f"Built from it: {one.title} may change too ({_list(_open(one.pieces)) or 'what is said of it'})."
        for one in self.record.styles:
            if not one.listed and one.status == "unread":
                yield f"Built from it: {one.title}, which cannot be read: {one.errors[0].message}."

    def _sentences(self, style: StyleDifference) -> Iterator[str]:
        own = [self.sentences[number] for number in style.sentences]
        told = [one for one in own if self._is_told(one)]
        here = [one for one in told if one.file in _files(style) or (self._is_shared(one) and not self.above)]
        if told:
            yield from ("", "Sentences")
            yield from self._rows(here)
        if shared := [one for one in told if self._is_shared(one) and self.above]:
            yield f"  From above: {_numbers(shared)}."
        for other in self.record.styles:
            if others := [one for one in told if one.file == other.file != style.file]:
                yield f"  Of {other.title}: {_numbers(others)}."
        if style.otherwise and not self.whole:
            yield f"  {_count(style.otherwise)} only written otherwise (--all lists them)."
        if style.follows and not self.whole:
            yield f"  {_count(style.follows)} as before, resting on what changed (--all lists them)."

    def _rows(self, some: Sequence[SentenceRecord]) -> Iterator[str]:
        """Number, name and telling in columns; those of a recipe of the library below it and where it is used."""
        width = min(WIDEST, max((len(self._label(one)) for one in some), default=0))
        above = ""
        for one in some:
            head = _home(one) if self._is_shared(one) else ""
            if head and head != above:
                yield f"  {head}{_uses([other for other in some if _home(other) == head])}"
            above = head
            yield f"  {one.id:>3}  {self._label(one):<{width}}  {_telling(one)}"

    def _label(self, one: SentenceRecord) -> str:
        """What a sentence is called: `piece front`, `front: allow on sleeve_hem`."""
        inside = ".".join(one.place[1:] if self._is_shared(one) else one.place)
        head = f"{one.kind} {one.old_name}, now" if one.old_name else one.kind
        own = " ".join(filter(None, (head, one.name or one.of)))
        return f"{inside}: {own}" if inside else own


def _files(style: StyleDifference) -> tuple[str, ...]:
    """Where a style stands now, and stood."""
    return style.file, style.old_file or style.file


def _home(one: SentenceRecord) -> str:
    """The module, and the recipe of it, that a sentence stands in."""
    return ": ".join((one.file.removesuffix(".style"), *one.place[:1]))


def _uses(some: Sequence[SentenceRecord]) -> str:
    found: dict[str, dict[str, None]] = {}
    for one in some:
        for use in one.used_by:
            found.setdefault(use.style, {}).update(dict.fromkeys(use.names))
    told = [f"{style} ({', '.join(sorted(names))})" if names else style for style, names in sorted(found.items())]
    return f", used by {'; '.join(told) or 'no style here'}"


def _errors(style: StyleDifference) -> Iterator[str]:
    """How many errors hinder, on which side; they themselves are told beside."""
    for side, called in (("both", "on both sides"), ("old", "in OLD"), ("new", "in NEW")):
        some = [one for one in style.errors if one.side == side]
        if some:
            more = f", and {_count_of(len(some) - 1, 'other error')}" if some[1:] else ""
            where = f" ({some[0].file}:{some[0].line})" if some[0].file else ""
            yield f"Not compared as cloth: {called} {some[0].message}{where}{more}."


def _numbers(some: Sequence[SentenceRecord]) -> str:
    return ", ".join(str(number) for number in sorted(one.id for one in some))


def _count(number: int) -> str:
    return f"{_count_of(number, 'sentence')} {'is' if number == 1 else 'are'}"


def _count_of(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _library(record: DifferenceRecord) -> str:
    owns = {True: "that of each side", False: "that of this compiler"}
    old, new = record.old.own_library, record.new.own_library
    whose = owns[old] if old == new else f"{'OLD' if old else 'NEW'} holds its own, the other side is read with this compiler's"
    differs = f"differs in {_list(record.library_differs)}" if record.library_differs else "the same"
    return f"Library: {whose}; {differs}."


def _underlined(text: str) -> tuple[str, str]:
    return text, "=" * len(text)


def _proofs(style: StyleDifference) -> Iterator[str]:
    """What is proved, and what is not."""
    if style.cloth_proved:
        yield "Same cloth for every body, proved."
        if not style.promises_same:
            yield "What is checked or promised differs."
        elif not style.words_same:
            yield "Only words differ: names, texts, or what may be asked."
        return
    by = {what: [one.name for one in style.pieces if one.proved == what] for what in ("open", "outline", "same", "new", "gone")}
    if by["open"]:
        word = "may change" if style.cloth is None else "not proved the same"
        yield f"{len(by['open'])} of {_count_of(len(style.pieces) - len(by['gone']), 'piece')} {word}: {_list(by['open'])}."
    for what, told in PROVED.items():
        if by[what]:
            yield f"{_list(by[what])}: {told}."
    moved = {piece for row in style.cloth.rows for piece in row.pieces} if style.cloth is not None else set(by["open"])
    if still := [name for name in by["open"] if name not in moved]:
        yield f"{_list(still)}: the same on these bodies."
    yield from (f"{one.name} was called {one.old_name}." for one in style.pieces if one.old_name is not None)
    yield from _changed_names("Seams", style.seams, style.cloth is None)
    yield from _changed_names("Rows of the specification", style.rows, style.cloth is None)


def _changed_names(called: str, some: ChangedNames, without_body: bool) -> Iterator[str]:
    """What may change is told where no body tells whether it does."""
    parts = (("may change", some.open if without_body else ()), ("new", some.new), ("gone", some.gone))
    told = [f"{word}: {_some(names)}" for word, names in parts if names]
    if told:
        yield f"{called} {'; '.join(told)}."


def _open(pieces: Sequence[PieceProofRecord]) -> list[str]:
    return [one.name for one in pieces if one.proved != "same"]


# ---- a sentence ----------------------------------------------------------------------------------


def _telling(one: SentenceRecord) -> str:
    match one.status:
        case "added":
            return f"new: {one.text}"
        case "removed":
            return f"gone: {one.text}"
        case "renamed":
            return "only its name is another"
        case "follows":
            return "follows"
        case "otherwise":
            return f"the same, written otherwise: {'; '.join(map(_word, one.words))}"
        case _:
            return "; ".join(map(_word, one.words))


def _word(one: WordRecord) -> str:
    """A word and its value now, and what it was, in the form of the language."""
    word = "" if one.word in ("=", "") else f"{one.word} "
    if one.old is None or one.new is None:
        return f"{word}{one.new or one.old or ''}".rstrip() + (" (new)" if one.old is None else " (gone)")
    new, old = _apart(one.new, one.old)
    return f"{word}{new}, was {old}" + (", what may be asked" if one.role == "bounds" else "")


def _apart(new: str, old: str) -> tuple[str, str]:
    """Two values, the words at their beginnings and ends that are the same left out where they are long."""
    if max(len(new), len(old)) <= SHORT:
        return new, old
    now, was = new.split(" "), old.split(" ")
    first = 0
    while first < min(len(now), len(was)) - 1 and now[first] == was[first]:
        first += 1
    last = 0
    while last < min(len(now), len(was)) - first - 1 and now[-1 - last] == was[-1 - last]:
        last += 1
    first, last = max(0, first - 2), max(0, last - 1)
    return _cut(now, first, last), _cut(was, first, last)


def _cut(words: Sequence[str], first: int, last: int) -> str:
    middle = " ".join(words[first : len(words) - last])
    return f"{'… ' if first else ''}{middle}{' …' if last else ''}"


# ---- cloth ---------------------------------------------------------------------------------------


def _cloth(cloth: ClothRecord) -> Iterator[str]:
    yield ""
    for undrawn in cloth.undrawn:
        yield f"{undrawn.body} is drawn on neither side, so that nothing is compared on it: {'; '.join(undrawn.errors)}"
    if cloth.same:
        yield f"Cloth: the same on {_list(cloth.bodies)}, to 0.01 mm."
        return
    if cloth.table:
        yield f"Cloth, mm, on {_list(cloth.bodies)}"
        yield from table([cloth.heads, *(part for row in cloth.table for part in _folded(row))], (0, 1))
        yield from (f"  {told}" for row in cloth.rows for told in row.otherwise)
    else:
        yield "Cloth: no line of any piece moves on these bodies."
    if cloth.finished:
        yield from ("", "Finished, mm more than it was")
        yield from table([*_measured(cloth)], (0, 1, 3))
    if cloth.said:
        yield from ("", "Seams, checks, specification")
        yield from _said(cloth)
    else:
        yield from ("", "Seams and checks: the same said before and after.")


def _folded(row: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """A row whose names and words are too long for a screen as several, the numbers in the first."""
    pieces, told = (wrap(cell, wide, break_on_hyphens=False) for cell, wide in zip(row, (NAMES_WIDE, TOLD_WIDE), strict=False))
    for number, (piece, words) in enumerate(zip_longest(pieces, told, fillvalue="")):
        yield piece, words, *(cell if number == 0 else "" for cell in row[2:])


def _measured(cloth: ClothRecord) -> Iterator[tuple[str, ...]]:
    """Each with its tolerance, the least and the most over the bodies where these are many, and on whom it is beyond."""
    for one in cloth.finished:
        known = [mm for mm in one.more_mm.values() if mm is not None]
        many = len(known) > MOST_NAMES
        numbers = f"{min(known):+.1f} to {max(known):+.1f}" if many else ", ".join(f"{mm:+.1f}" for mm in known)
        beyond = f"beyond its tolerance on {_some(one.beyond)}" if one.beyond else ""
        yield one.name, one.tolerance, numbers or "new or gone", beyond


def _said(cloth: ClothRecord) -> Iterator[str]:
    """Lines that say the same with other numbers once, in those of the first body."""
    alike: dict[tuple[str, str, str], list[SaidRow]] = {}
    for row in cloth.said:
        alike.setdefault((row.kind, row.name, re.sub(r"\d", "", row.told)), []).append(row)
    for first, *others in alike.values():
        rest = list(dict.fromkeys(body for row in others for body in row.bodies))
        told = [] if len(first.bodies) == len(cloth.bodies) else [_some(first.bodies)]
        told += [f"in other numbers on {_some(rest)}"] if rest else []
        on = f"  ({'; '.join(told)})" if told else ""
        yield f"  {first.told}{on}"


def _some(names: Sequence[str]) -> str:
    """The first of many names, and how many there are more."""
    more = len(names) - MOST_NAMES
    return _list(names) if more < 2 else f"{_list(names[:MOST_NAMES])} and {more} more"


def _list(names: Sequence[str]) -> str:
    return ", ".join(names)


# ---- for a review --------------------------------------------------------------------------------


def difference_markdown(record: DifferenceRecord) -> str:
    """The verdict, and what changes as it stands on the screen; it ends with a mark by which one
    comment can be found again and renewed."""
    changed = any(one.listed and one.status != "same" for one in record.styles)
    lines = [f"**{verdict(record)}**", ""]
    body = difference_text(record).split("\n", 1)[1].strip("\n")
    lines += ["```", body, "```"] if changed else [body]
    return "\n".join([*lines, "", "<!-- godet diff -->"]) + "\n"
