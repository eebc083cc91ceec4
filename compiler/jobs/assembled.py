"""What a style comes to as a garment: its structure, proved once, and what is wrong with it in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal, assert_never

from ..assembly.faults import Fault
from ..assembly.proof import prove
from ..assembly.whole import Whole, whole
from ..diagnostics import assembly_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..meaning.style import CheckedStyle
from ..pattern.which_ends import Name
from .assembly import is_draft, said


@dataclass(frozen=True)
class Assembly:
    """The garment a style makes, as far as names tell; `judged` is whether the style says how it is sewn, without which nothing
    is wrong with it."""

    whole: Whole
    judged: bool
    diagnostics: tuple[Diagnostic, ...] = field(repr=False)

    @property
    def holds(self) -> bool:
        return not any(one.is_error for one in self.diagnostics)

    @property
    def told(self) -> str:
        """In one line what is told of a style that is not judged."""
        return words.not_judged(sum(len(one.edges) for one in self.whole.structure.loose))


def assembled(style: CheckedStyle) -> Assembly:
    """The garment that a style makes. No body is needed."""
    made, judged = whole(prove(said(style))), not is_draft(style)
    return Assembly(made, judged, tuple(in_words(style, made.faults)) if judged else ())


def in_words(style: CheckedStyle, faults: Sequence[Fault]) -> Iterator[Diagnostic]:
    """Each fault at its sentence."""
    for one in faults:
        places = [_place(style, name) for name in one.sentences]
        yield _told(one, places, [named(edge) for edge in one.edges])


def _place(style: CheckedStyle, name: str) -> Span:
    return style.definitions[name]


def named(edge: Name) -> str:
    return ".".join(edge)


OfAll = Literal[
    "wrong_hand", "wrong_name", "twist", "unmet", "which_side", "not_reached", "too_soon", "between", "in_two", "no_sheet",
    "hem_not_sewn", "way_idle", "no_trim", "not_closed_by", "exchanged",
]
"""What is wrong with the garment as a whole."""


def _told(one: Fault, places: Sequence[Span], edges: Sequence[str]) -> Diagnostic:
    first, kind = places[0], one.kind
    match kind:
        case "ends_in_nothing":
            return words.ends_in_nothing(first, edges, one.half, _hint(one))
        case "sewn_twice":
            return words.sewn_twice(first, places[1], edges[0], one.sentences)
        case "seam_and_hem":
            way = one.sentences[0] if len(one.sentences) > 1 else ""
            return words.seam_and_hem(first, places[-1], edges[0], way, one.sentences[-1])
        case "left_to_right":
            return words.left_to_right(first, one.sentences[0], edges)
        case "no_other":
            return words.no_other(first, one.sentences[0], edges[0])
        case "cut_once":
            return words.cut_once(first, one.sentences[0], edges[0], one.pieces, *one.counts)
        case "half_counted":
            return words.half_counted(first, one.sentences[0], edges)
        case "too_few":
            return words.too_few(first, one.sentences[0], edges[0], *one.counts)
        case "on_fold":
            return words.on_fold(first, one.sentences[0], edges[0])
        case "two_things":
            return words.two_things(first, one.pieces, one.counts[0], edges, one.sentences[1:])
        case "not_fastened":
            return words.not_fastened(places, one.pieces, edges)
        case "sewn_shut":
            return words.sewn_shut(first, places[1], one.sentences, edges)
        case "facing_shut":
            return words.facing_shut(first, places[1], one.sentences, edges[0])
        case "facing_whole":
            return words.facing_whole(first, places[1], one.sentences, edges[0])
        case "opening_shut":
            return words.opening_shut(first, one.sentences[0], edges)
        case "strip_open":
            return words.strip_open(first, places[1], one.sentences, edges)
        case "closed_bag":
            return words.closed_bag(places, one.sentences, one.pieces)
        case "spare":
            return words.spare(first, places[1], one.pieces[0], one.sentences[1], *one.counts)
        case _:
            return _told_of_all(kind, one, places, edges)


def _told_of_all(kind: OfAll, one: Fault, places: Sequence[Span], edges: Sequence[str]) -> Diagnostic:
    first, *others = places
    match kind:
        case "wrong_hand" | "wrong_name":
            wrong, right = one.pieces
            return words.wrong_hand(first, others[0], wrong, right, kind == "wrong_name")
        case "twist":
            return words.twist(places, one.sentences, one.pieces)
        case "unmet":
            return words.unmet(first, one.sentences[0], edges[0], edges[1])
        case "which_side":
            return words.which_side(first, others[0], *one.sentences)
        case "not_reached":
            return words.not_reached(first, one.sentences[0])
        case "too_soon":
            return words.too_soon(first, others[0], *one.sentences)
        case "between":
            return words.between(first, others, one.sentences[0], one.sentences[1:])
        case "in_two":
            return words.written_in_two(first, others[0], one.sentences[:2], one.sentences[2])
        case "no_sheet":
            return words.no_sheet(first, one.sentences[0])
        case "hem_not_sewn":
            return words.hem_not_sewn(first, edges, "".join(one.sentences[1:]))
        case "way_idle":
            return words.way_idle(places, one.sentences)
        case "exchanged":
            return words.exchanged(places, one.sentences, edges, one.pieces)
        case "no_trim":
            return words.no_trim(places, one.sentences, bool(one.pieces))
        case "not_closed_by":
            return words.not_closed_by(places, one.sentences)
        case _:
            assert_never(kind)


def _hint(one: Fault) -> str:
    if one.twin_in:
        return words.its_twin_is_sewn(named(one.edges[0]), one.twin_in)
    return words.lies_on_sewn(named(one.across), one.across_in) if one.across is not None else ""
