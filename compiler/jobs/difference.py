"""What changes from one side to the other: style by style, sentence by sentence, and on bodies, as records."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from ..diagnostics import difference_errors as words
from ..diagnostics.diagnostic import Diagnostic
from ..difference.left_behind import left_behind
from ..difference.pairs import Pair
from ..difference.roots import PieceRoot, Roots, piece_proof
from ..difference.sentences import Sentence
from ..geometry.tolerances import SEW
from ..output import difference_records as r
from ..syntax.one_line import one_line
from .difference_bodies import Drawn, on_bodies
from .difference_each import NOT_EACH, EachAlone, each_alone
from .difference_sentences import Sentences
from .difference_styles import Compared, Finding
from .prepare import Prepared
from .sides import Side, Sides
from .workspace import LIBRARY


@dataclass(frozen=True)
class Asked:
    """What a difference is asked for: bodies (files and folders) or the sizes of a chart, choices, the least move that is told
    (mm), whether overlays are drawn, and whether of many changes each is told alone too."""

    bodies: tuple[str, ...] = ()
    sizes: str = ""
    only: str = ""
    settings: tuple[str, ...] = ()
    least: float = SEW
    overlays: bool = False
    each: bool = False


@dataclass(frozen=True)
class Wrong:
    """What is wrong on one side, or on both, and the texts this points into."""

    side: str
    diagnostics: tuple[Diagnostic, ...]
    texts: Mapping[str, str]


@dataclass(frozen=True)
class Difference:
    """A difference as a record, what is wrong on either side, and the overlays as files by name."""

    record: r.DifferenceRecord
    wrong: tuple[Wrong, ...] = ()
    overlays: Mapping[str, bytes] = field(default_factory=dict)


def difference(sides: Sides, asked: Asked) -> tuple[Difference | None, Diagnostic | None]:
    """All that differs between two sides; or what is wrong where there is nothing to compare."""
    old, new = sides
    if not old.styles and not new.styles:
        return None, words.no_styles(new.what)
    finding = Finding(old, new, asked.settings)
    styles = list(finding.styles())
    comparing = _Comparing(old, new, asked)
    sentences = Sentences([*styles, *finding.unused(styles)])
    records = tuple(comparing.record(one, sentences) for one in styles)
    whole = r.DifferenceRecord(
        schema=r.DIFFERENCE_SCHEMA,
        old=r.SideRecord(old.what, old.own_library is not None),
        new=r.SideRecord(new.what, new.own_library is not None),
        library_differs=finding.library_differs,
        same=_same(records),
        styles=records,
        sentences=sentences.records(),
    )
    return Difference(whole, tuple(comparing.wrong), comparing.overlays), None


def _same(styles: Sequence[r.StyleDifference]) -> r.Same:
    """What is true of all that was asked for."""
    changed = [one for one in styles if one.listed and not (one.status == "same" or one.cloth_proved)]
    if any(one.errors or (one.cloth is not None and one.cloth.undrawn) for one in styles if one.listed):
        return "unread"
    if not changed:
        return "proved"
    if any(one.status in ("new", "gone") or (one.cloth is not None and not one.cloth.same) for one in changed):
        return "no"
    return "bodies" if all(one.cloth is not None for one in changed) else "open"


class _Comparing:
    """Compares the styles of two sides one after the other."""

    def __init__(self, old: Side, new: Side, asked: Asked) -> None:
        self.old, self.new, self.asked = old, new, asked
        self.wrong: list[Wrong] = []
        self.overlays: dict[str, bytes] = {}
        self.told: set[object] = set()

    def record(self, one: Compared, sentences: Sentences) -> r.StyleDifference:
        old, new = one.roots
        broken = self._broken(one)
        pieces = tuple(_pieces(old, new, one.renamed("piece")))
        proved = one.same or (old is not None and new is not None and old.cloth == new.cloth)
        drawn = Drawn(None)
        if one.listed and not proved and old is not None and new is not None:
            drawn = self._drawn(one)
        each = NOT_EACH if proved or not one.listed else self._each(one, sentences, drawn)
        told = Counter(one.pairs)
        return r.StyleDifference(
            title=one.title,
            file=one.file,
            old_file=one.old_file,
            status=_status(one, bool(broken)),
            built_from=one.new.style.built_from if one.new is not None and one.new.style is not None else (),
            listed=one.listed,
            cloth_proved=proved,
            promises_same=one.same or (old is not None and new is not None and old.promised == new.promised),
            words_same=one.same or (old is not None and new is not None and old.words == new.words),
            pieces=pieces,
            seams=_names(old.seams if old else {}, new.seams if new else {}, one.renamed("seam")),
            rows=_names(old.rows if old else {}, new.rows if new else {}, {}),
            sentences=sentences.of(one),
            follows=told.follows,
            otherwise=told.otherwise,
            left_behind=tuple(_left_behind(one)),
            cloth=drawn.record,
            changes=each.records,
            changes_untold=each.untold,
            errors=(*broken, *(_error("both", error, drawn.texts) for error in drawn.wrong)),
        )

    def _drawn(self, one: Compared) -> Drawn:
        assert one.old is not None
        assert one.new is not None
        drawn = on_bodies((one.old, one.new), (self.old.workspace, self.new.workspace), self.asked, one)
        self.overlays |= drawn.overlays
        self.wrong += [Wrong("", drawn.wrong, drawn.texts)] if drawn.wrong else []
        return drawn

    def _each(self, one: Compared, sentences: Sentences, drawn: Drawn) -> EachAlone:
        if one.old is None or one.new is None or drawn.wrong or None in one.roots:
            return NOT_EACH
        numbers = set(sentences.of(one))

        def number(pair: Pair) -> int | None:
            found = sentences.number(pair)
            return found if found in numbers else None

        return each_alone(one, self.new.workspace, self.asked, drawn, number)

    def _broken(self, one: Compared) -> list[r.ErrorRecord]:
        """The errors of a style, those of both sides once, each told once of all styles."""
        before, after = (_errors(side) for side in (one.old, one.new))
        rows: tuple[tuple[r.Which, Prepared | None, list[Diagnostic]], ...] = (
            ("both", one.new, [error for key, error in after.items() if key in before]),
            ("old", one.old, [error for key, error in before.items() if key not in after]),
            ("new", one.new, [error for key, error in after.items() if key not in before]),
        )
        found = []
        for which, prepared, errors in rows:
            found += [_error(which, error, prepared.texts if prepared else {}) for error in errors]
            fresh = tuple(error for error in errors if (which, error.span, error.message) not in self.told)
            self.told |= {(which, error.span, error.message) for error in errors}
            if prepared is not None and fresh:
                called = {"both": "both sides", "old": self.old.what, "new": self.new.what}[which]
                self.wrong.append(Wrong(called, fresh, prepared.texts))
        return found


def _errors(prepared: Prepared | None) -> dict[tuple[str, str, str], Diagnostic]:
    """Errors by what they say, and of which words."""
    found = {}
    for one in prepared.diagnostics if prepared is not None else ():
        if one.is_error:
            file = "" if one.span is None else one.span.file
            text = prepared.texts.get(file, "") if prepared is not None else ""
            found[one.message, file, "" if one.span is None else text[one.span.start : one.span.end]] = one
    return found


def _error(which: r.Which, one: Diagnostic, texts: Mapping[str, str]) -> r.ErrorRecord:
    file = "" if one.span is None else one.span.file
    line = texts[file].count("\n", 0, one.span.start) + 1 if one.span is not None and file in texts else 0
    return r.ErrorRecord(which, file, line, one.message)


def _status(one: Compared, broken: bool) -> r.Status:
    if one.same:
        return "same"
    if one.old is None or one.new is None:
        return "new" if one.old is None else "gone"
    if broken:
        return "unread"
    old, new = one.roots
    return "same" if old is not None and new is not None and old.whole == new.whole else "changed"


def _pieces(old: Roots | None, new: Roots | None, renamed: Mapping[str, str]) -> Iterator[r.PieceProofRecord]:
    before: dict[str, tuple[str, PieceRoot | None]] = {}
    for name, own in (old.pieces if old else {}).items():
        before[renamed.get(name, name)] = name, own
    after = new.pieces if new else {}
    for name in dict.fromkeys((*after, *before)):
        was, root = before.get(name, (name, None))
        yield r.PieceProofRecord(name, was if was != name else None, piece_proof(root, after.get(name)))


def _names(old: Mapping[str, str], after: Mapping[str, str], renamed: Mapping[str, str]) -> r.ChangedNames:
    before = {_now(name, renamed): root for name, root in old.items()}
    return r.ChangedNames(
        tuple(sorted(name for name in after if name in before and before[name] != after[name])),
        tuple(sorted(after.keys() - before.keys())),
        tuple(sorted(before.keys() - after.keys())),
    )


def _now(name: str, renamed: Mapping[str, str]) -> str:
    """What a seam is called now, of one that is sewn on both sides each."""
    base, dot, half = name.partition(".")
    return renamed.get(base, base) + dot + half


@dataclass
class Counter:
    """How many sentences are no changes, and yet not as they were."""

    pairs: Iterable[Pair]

    @property
    def follows(self) -> int:
        return sum(one.status == "follows" for one in self.pairs)

    @property
    def otherwise(self) -> int:
        return sum(one.status == "otherwise" for one in self.pairs)


def _left_behind(one: Compared) -> Iterator[r.LeftBehindRecord]:
    if one.new is None:
        return
    for found in left_behind(one.pairs):
        if not found.sentence.node.span.file.startswith(f"{LIBRARY}/"):
            here, there = (_called(each, one.new.texts) for each in (found.sentence, found.changed))
            yield r.LeftBehindRecord(here, found.text.strip('"'), found.number, there)


def _called(one: Sentence, texts: Mapping[str, str]) -> str:
    """A sentence by its kind and its name; where it has none by all it says, behind what it is of."""
    if one.name:
        return f"{one.head} {one.name}"
    span = one.node.span
    return ": ".join((*one.place, one_line(texts[span.file][span.start : span.end])))
