"""Darts of a piece: moved, opened to an edge, pointed elsewhere, left unsewn, their legs made equal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..geometry.path import Path
from ..geometry.tolerances import COINCIDE
from ..pattern.darts import equal_legs, move_apex, open_to_edge
from ..pattern.edges import edge_from
from ..pattern.piece import HoleEnd, OperationNote, Piece, Reals, Trouble
from ..pattern.pivot import Into, IntoDart, pivot
from ..pattern.shaping import bow, long_of, shorten
from ..pattern.unsewn import Laying, Left, leave
from .kinds import DartKind, PieceKind, piece
from .places import along as along_edge
from .points import as_path
from .registry import PlacedEdge, verb, word
from .values import DartOf, Edge

DART = word("dart", "dart", "the dart")


def _sewn(subject: DartOf, verb: str) -> None:
    """The body has this dart at all; otherwise it fails by name."""
    if subject.dart is None:
        why = subject.piece.removed.get(subject.name, "there is nothing to take in")
        fix = (
            f"draw one shape with `{verb}` and one without, and choose: `shape chosen = with_it when dart_count of … at_least 1 "
            "otherwise without_it`; or let every body have one, with a least width where it is drafted: `larger of (…, 1 cm)`"
        )
        raise Trouble(f"`{subject.name}` is not there: {why}", fix)


INTO = PlacedEdge("at", "share_along", near="near", required=False)


def _targets(static: Mapping[str, Any]) -> list[Into | IntoDart]:
    """Where a dart goes, from the words of `pivot`, for a sketch or for cloth."""
    into, called = static["into"], static.get("called")
    share = static.get("share")
    if called is None:
        return [IntoDart(into, share)]
    return [Into(called, into, static.get("at"), share, static.get("from", "start"))]


def _pivot_names(static: Mapping[str, Any]) -> PieceKind:
    kind: DartKind = static["subject"]
    sketch, into = kind.sketch, static["into"]
    is_dart = into in sketch.dart_names()
    if is_dart == ("called" in static):
        new = "add `called` and a name for the new dart, and its place, as in `side at 5 cm from armhole`"
        fix = "take `called` away" if is_dart else new
        raise Trouble(f"`{into}` is {'a dart that exists' if is_dart else 'an edge: the dart there needs a name'}", fix)
    settled = dict(static)
    if not is_dart:
        said = [name for name in ("at", "share_along", "near", "along") if name in static]
        if len(said) != 1:
            fix = "write it behind the edge, as in `side at 5 cm from armhole`; or `along` and a line from the apex to the edge"
            raise Trouble("a new dart needs its place on the edge, once", fix)
        settled["from"] = edge_from(sketch, into, static["from"]) if "from" in static else "start"
    whole = None if "share" not in static else np.full(1, 0.5)
    return piece(pivot(sketch, kind.name, _targets(settled | {"share": whole, "at": None}), still=static.get("keeping")))


@verb(
    "pivot",
    family="darts",
    doc="Close a dart by opening another that shares its apex, or a new one on an edge; a share of it, or all.",
    gives=_pivot_names,
    subject=DART,
    words=(
        word("into", "own mark", "the dart it is moved into, or the edge at the place of the new one", place=INTO),
        word("along", "path", "a line from the apex to the edge that the new dart follows", optional=True),
        word("called", "new name", "name of the new dart", optional=True),
        word("share", "number", "how much of the dart's angle moves, where it is not all of it", optional=True),
        word("keeping", "own edge", "an edge of the part that stays where it is", optional=True),
    ),
    example="shape moved = pivot base.front.bust_dart into side at 5 cm from armhole called side_dart",
)
def pivot_dart(
    subject: DartOf,
    into: str,
    share: Reals | None = None,
    at: Reals | None = None,
    share_along: Reals | None = None,
    near: Reals | None = None,
    along: Path | Edge | None = None,
    from_: str | None = None,
    called: str | None = None,
    keeping: str | None = None,
) -> Piece:
    _sewn(subject, "pivot")
    one = subject.piece
    # Whether the dart disappears must be known without a body: it does where no share is written.
    if share is not None and (beyond := (share <= 0.0) | (share >= 1.0)).any():
        raise Trouble(
            "a share of a dart lies between 0 and 1",
            "leave `share` away to move all of it",
            beyond,
            {"share ratio": share},
        )
    if called is None:
        return pivot(one, subject.name, [IntoDart(into, share)], still=keeping)
    if along is not None:
        return pivot(one, subject.name, [Into(called, into, None, share, drawn=as_path(along))], still=keeping)
    place, end = along_edge(one, into, from_, at, share_along, near)
    return pivot(one, subject.name, [Into(called, into, place, share, end)], still=keeping)


@verb(
    "open",
    family="darts",
    doc="Open a dart with two ends down to an edge, so that its sides become a seam.",
    gives=lambda static: piece(open_to_edge(static["subject"].sketch, static["subject"].name, static["to"])),
    subject=DART,
    words=(word("to", "own edge", "the edge it is opened to"),),
    example="shape opened = open base.front.waist_dart to hem",
)
def open_dart(subject: DartOf, to: str) -> Piece:
    _sewn(subject, "open")
    return open_to_edge(subject.piece, subject.name, to)


@verb(
    "repoint",
    family="darts",
    doc="Draw the legs of a dart to another apex (of a dart with two ends: the upper one).",
    gives=lambda static: piece(move_apex(static["subject"].sketch, static["subject"].name, None)),
    subject=DART,
    words=(word("to", "point", "the new apex"),),
    example="shape sharper = repoint base.front.waist_dart to base.front.bust_point",
)
def repoint(subject: DartOf, to: Reals) -> Piece:
    if subject.dart is None:  # a body that needs no such dart
        return subject.piece
    return move_apex(subject.piece, subject.name, to)


DART_END = word("end", "one of upper lower", "of a dart with two ends: which of them", default="upper")


def _same_dart(static: Mapping[str, Any]) -> PieceKind:
    return piece(shorten(static["subject"].sketch, static["subject"].name, None))


def _by_how_much(dart: DartOf, by: Reals | None, to: Reals | None, end: HoleEnd, grows: bool) -> Reals:
    """By how much (L,) mm a dart is made shorter, or longer; told where that goes the other way."""
    long = long_of(dart.piece, dart.name, end)
    if by is None:
        assert to is not None
        by = to - long if grows else long - to
    other = by < -COINCIDE
    if other.any():
        way, verb = ("longer", "shorten") if grows else ("shorter", "extend")
        figures = {"long": long, "asked": long + by if grows else long - by}
        raise Trouble(f"`{dart.name}` is not made {way} so", f"write `{verb}` for the other way", other, figures)
    return by


RESIZED = (
    word("by", "length", "by how much", optional=True),
    word("to", "length", "how long it is then", optional=True),
    DART_END,
)


@verb(
    "shorten",
    family="darts",
    doc="A dart made shorter from its apex, by a length or to one, along its middle; its legs are drawn anew, straight. How "
    "long it is runs from the middle of its mouth to its apex.",
    gives=_same_dart,
    subject=DART,
    words=RESIZED,
    either=(("by", "to"),),
    example="shape shorter = shorten draft.bust_dart by 2 cm",
)
def shorten_dart(subject: DartOf, end: HoleEnd, by: Reals | None = None, to: Reals | None = None) -> Piece:
    if subject.dart is None:  # a body that needs no such dart
        return subject.piece
    return shorten(subject.piece, subject.name, _by_how_much(subject, by, to, end, False), end)


@verb(
    "extend",
    family="darts",
    doc="A dart made longer beyond its apex, by a length or to one, along its middle; its legs are drawn anew, straight, and it "
    "takes in as much as before.",
    gives=_same_dart,
    subject=DART,
    words=RESIZED,
    either=(("by", "to"),),
    example="shape longer = extend draft.waist_dart to 16 cm",
)
def extend_dart(subject: DartOf, end: HoleEnd, by: Reals | None = None, to: Reals | None = None) -> Piece:
    if subject.dart is None:  # a body that needs no such dart
        return subject.piece
    return shorten(subject.piece, subject.name, -_by_how_much(subject, by, to, end, True), end)


@verb(
    "bow",
    family="darts",
    doc="A dart with its legs bowed, both alike: out into the cloth, so that it takes in more, or by less than nothing inward. "
    "It cannot be pivoted while its legs are bowed.",
    gives=lambda static: piece(bow(static["subject"].sketch, static["subject"].name, None)),
    subject=DART,
    words=(word("by", "length", "how far the middle of each leg moves; by nothing the legs are straight"),),
    example="shape fitted = bow draft.waist_dart by 3 mm",
)
def bow_dart(subject: DartOf, by: Reals) -> Piece:
    if subject.dart is None:  # a body that needs no such dart
        return subject.piece
    return bow(subject.piece, subject.name, by)


def _laying(how: Left, toward: Any, sewn: Reals | None, is_sewn: bool) -> Laying | None:
    """How a dart is laid, from the words of `leave`."""
    if how == "pleat" or how == "tuck" or how == "inverted_tuck":
        if how != "pleat" and not is_sewn:
            raise Trouble("how far the tuck is sewn down is not said", "write `sewn` and a length")
        if how == "inverted_tuck" and toward is not None:
            fix = "take `toward` away, or leave it as tuck"
            raise Trouble("the two folds of an inverted tuck meet in the middle of the dart", fix)
        return Laying(how, toward or "inner", is_sewn, sewn)
    if toward is not None or is_sewn:
        raise Trouble(f"nothing is laid or sewn down as {how}", "take `toward` and `sewn` away, or leave it as pleat or tuck")
    return None


def _left_names(static: Mapping[str, Any]) -> PieceKind:
    kind, how = static["subject"], static["as"]
    return piece(leave(kind.sketch, kind.name, how, _laying(how, static.get("toward"), None, "sewn" in static)))


@verb(
    "leave",
    family="darts",
    doc="Leave a dart unsewn; what it took in stays in its edge. As ease or flare the edge is bridged straight, as gathers "
    "smooth. As pleat or tuck it is folded away: inner lines `waist_dart.fold`, `waist_dart.placement` and so on. An inverted "
    "tuck has two folds, `waist_dart.fold` and `waist_dart.far_fold`, on the legs: sewn together there, pressed flat over the "
    "middle of the dart.",
    gives=_left_names,
    subject=DART,
    words=(
        word("as", "one of ease flare gathers pleat tuck inverted_tuck", "what it is left for"),
        word(
            "toward",
            "one of inner outer",
            "the leg a pleat or tuck is laid toward, inner if not said (which that is: `dart`)",
            optional=True,
        ),
        word("sewn", "length", "how far a pleat or tuck is sewn down; of a tuck it is always said", optional=True),
    ),
    example="shape loose = leave draft.waist_dart as gathers\nshape tucked = leave draft.waist_dart as tuck sewn 6 cm",
)
def leave_dart(subject: DartOf, as_: Left, toward: str | None = None, sewn: Reals | None = None) -> Piece:
    if subject.dart is None:
        return subject.piece
    return leave(subject.piece, subject.name, as_, _laying(as_, toward, sewn, sewn is not None))


@verb(
    "equalise_legs",
    family="darts",
    doc="Make the legs of a dart equally long: the shorter one is lengthened, and the edge beside it drawn to its end.",
    gives=lambda static: piece(equal_legs(static["subject"].sketch, static["subject"].name)[0]),
    subject=DART,
    example="shape ready = equalise_legs cropped.bust_dart",
)
def equalise_legs(subject: DartOf) -> Piece:
    if subject.dart is None:  # a body that needs no such dart
        return subject.piece
    made, change = equal_legs(subject.piece, subject.name)
    return made.with_note(OperationNote(f"legs of `{subject.name}` made equal", "", {"one lengthened by": change}))
