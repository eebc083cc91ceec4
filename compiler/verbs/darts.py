"""Darts of a piece: moved, opened to an edge, pointed elsewhere, left unsewn, their legs made equal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..pattern.darts import equal_legs, leave, move_apex, open_to_edge
from ..pattern.edges import edge_from
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.pivot import Into, IntoDart, pivot
from ..pattern.ring import End, edge_total
from .kinds import DartKind, PieceKind, piece
from .registry import verb, word
from .values import DartOf

DART = word("dart", "dart", "the dart")


def _sewn(subject: DartOf) -> None:
    """The body has this dart at all; otherwise it fails by name."""
    if subject.dart is None:
        raise Trouble(
            f"this body has no `{subject.name}`: there is nothing to take in",
            "design without it, or take less ease at the waist",
        )


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
        fix = "take `called` away" if is_dart else "add `called` and a name for the new dart, and `at` or `share_along`"
        raise Trouble(f"`{into}` is {'a dart that exists' if is_dart else 'an edge: the dart there needs a name'}", fix)
    settled = dict(static)
    if not is_dart:
        if "from" not in static or ("at" in static) == ("share_along" in static):
            raise Trouble("a new dart needs its place on the edge", "write `at` or `share_along`, and `from`")
        settled["from"] = edge_from(sketch, into, static["from"])
    whole = None if "share" not in static else np.full(1, 0.5)
    return piece(pivot(sketch, kind.name, _targets(settled | {"share": whole, "at": None}), still=static.get("still")))


@verb(
    "pivot",
    family="darts",
    doc="Close a dart by opening another that shares its apex, or a new one on an edge; a share of it, or all.",
    gives=_pivot_names,
    subject=DART,
    words=(
        word("into", "own mark", "the dart or the edge it is moved into"),
        word("at", "length", "where the new dart lies along the edge", optional=True),
        word("share_along", "number", "where it lies, as a share of the edge", optional=True),
        word("from", "own mark", "the end of the edge that is measured from", optional=True),
        word("called", "new name", "name of the new dart", optional=True),
        word("share", "number", "how much of the dart's angle moves, where it is not all of it", optional=True),
        word("still", "own edge", "an edge of the part that stays where it is", optional=True),
    ),
    example="piece moved = pivot base.front.bust_dart into side at 5 cm from armhole called side_dart",
)
def pivot_dart(
    subject: DartOf,
    into: str,
    share: Reals | None = None,
    at: Reals | None = None,
    share_along: Reals | None = None,
    from_: str | None = None,
    called: str | None = None,
    still: str | None = None,
) -> Piece:
    _sewn(subject)
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
        return pivot(one, subject.name, [IntoDart(into, share)], still=still)
    assert from_ is not None
    end: End = edge_from(one, into, from_)
    along = at if share_along is None else share_along * edge_total(one, into)
    return pivot(one, subject.name, [Into(called, into, along, share, end)], still=still)


@verb(
    "open",
    family="darts",
    doc="Open a dart with two ends down to an edge, so that its sides become a seam.",
    gives=lambda static: piece(open_to_edge(static["subject"].sketch, static["subject"].name, static["to"])),
    subject=DART,
    words=(word("to", "own edge", "the edge it is opened to"),),
    example="piece opened = open base.front.waist_dart to hem",
)
def open_dart(subject: DartOf, to: str) -> Piece:
    _sewn(subject)
    return open_to_edge(subject.piece, subject.name, to)


@verb(
    "repoint",
    family="darts",
    doc="Draw the legs of a dart to another apex (of a dart with two ends: the upper one).",
    gives=lambda static: piece(move_apex(static["subject"].sketch, static["subject"].name, None)),
    subject=DART,
    words=(word("to", "point", "the new apex"),),
    example="piece sharper = repoint base.front.waist_dart to base.front.bust_point",
)
def repoint(subject: DartOf, to: Reals) -> Piece:
    _sewn(subject)
    return move_apex(subject.piece, subject.name, to)


@verb(
    "leave",
    family="darts",
    doc="Leave a dart unsewn: its edge is bridged straight, and what it would have taken in stays as ease or flare.",
    gives=lambda static: piece(leave(static["subject"].sketch, static["subject"].name)),
    subject=DART,
    words=(word("as", "one of ease flare", "what it is left for"),),
    example="piece loose = leave draft.waist_dart as ease",
)
def leave_dart(subject: DartOf, as_: str) -> Piece:
    return subject.piece if subject.dart is None else leave(subject.piece, subject.name)


@verb(
    "even",
    family="darts",
    doc="Make the legs of a dart equally long: the shorter one is lengthened, and the edge beside it drawn to its end.",
    gives=lambda static: piece(equal_legs(static["subject"].sketch, static["subject"].name)[0]),
    subject=DART,
    example="piece ready = even cropped.bust_dart",
)
def even(subject: DartOf) -> Piece:
    _sewn(subject)
    made, _ = equal_legs(subject.piece, subject.name)
    return made
