"""Truing: edges made smooth or straight, corners squared, lines blended over a seam, edges averaged and lengthened.

Each changes the one edge it names, and tells how far that moved at most.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..geometry.average import average
from ..geometry.path import Path
from ..pattern.edges import edge_length
from ..pattern.extend import extended
from ..pattern.levelling import levelled
from ..pattern.piece import OperationNote, Piece, Reals, Trouble
from ..pattern.truing import (
    Seamed,
    angle_at,
    at_angle,
    blended,
    corner_at,
    mouth,
    over_dart,
    round_shift,
    rounded_joint,
    straightened,
    true_edge,
)
from .kinds import PATH, PieceKind, piece
from .points import as_path
from .registry import PlacedEdge, Word, verb, word
from .values import Edge

EDGE = word("edge", "edge", "the edge")
CORNERED = PlacedEdge(end="at")
REACH = word("as_far_as", "length", "how far from the corner the edge is drawn anew; else all of its side there", optional=True)


CORNER = word(
    "corner",
    "one of kept shifted",
    "whether the corner stays, or moves along what the edge meets there, so that a straight edge bends evenly",
    default="kept",
)


def moving_at_most(most: str) -> Word:
    """How far an edge may move."""
    return word("moving_at_most", "length", "how far the new line may lie from the old one", default=most)


def must_not_go_far(edge: str, what: str, moved: Reals, most: Reals) -> None:
    far = moved > most
    if far.any():
        fix = "allow more with `moving_at_most`, or mend the draft first"
        raise Trouble(f"`{edge}` moves too far when it is {what}", fix, far, {"moved": moved, "allowed": most})


def told(old: Piece, made: Piece, edge: str, what: str, moved: Reals, most: Reals) -> Piece:
    """The piece with its report. Trouble with lanes where the edge moves further than is allowed."""
    must_not_go_far(edge, what, moved, most)
    lengths = {"moved at most": moved, "before": edge_length(old, edge), "after": edge_length(made, edge)}
    return made.with_note(OperationNote(what, edge, lengths))


@verb(
    "smooth",
    family="truing",
    doc="The piece with a kinked edge replaced by one smooth line that keeps its ends; it may move only so far.",
    gives=lambda static: piece(true_edge(static["subject"].sketch, static["subject"].name)[0]),
    subject=EDGE,
    words=(moving_at_most("20 mm"),),
    example="shape trued = smooth pivoted.armhole",
)
def smooth(subject: Edge, moving_at_most: Reals) -> Piece:
    made, moved = true_edge(subject.piece, subject.name)
    return told(subject.piece, made, subject.name, "trued smooth", moved, moving_at_most)


@verb(
    "straighten",
    family="truing",
    doc="The piece with an edge replaced by the straight line between its ends; it may move only so far.",
    gives=lambda static: piece(straightened(static["subject"].sketch, static["subject"].name)[0]),
    subject=EDGE,
    words=(moving_at_most("20 mm"),),
    example="shape ready = straighten front.side moving_at_most 3 cm",
)
def straighten(subject: Edge, moving_at_most: Reals) -> Piece:
    made, moved = straightened(subject.piece, subject.name)
    return told(subject.piece, made, subject.name, "made straight", moved, moving_at_most)


def _squared_names(static: Mapping[str, Any]) -> PieceKind:
    sketch: Piece = static["subject"].sketch
    corner_at(sketch, static["subject"].name, static["at"])
    return piece(sketch)


@verb(
    "square_off",
    family="truing",
    doc="The piece with an edge turned at one of its corners so that it leaves what it meets there at a right angle.",
    gives=_squared_names,
    subject=word("edge", "edge", "the edge, at what it meets at the corner: an edge, as a seam or the fold", place=CORNERED),
    words=(
        REACH,
        CORNER,
        moving_at_most("10 mm"),
    ),
    example="shape ready = square_off cropped.hem at side corner shifted moving_at_most 4 cm",
)
def square_off(subject: Edge, at: str, corner: str, moving_at_most: Reals, as_far_as: Reals | None = None) -> Piece:
    piece, edge = subject.piece, subject.name
    right, shift = np.full(1, np.pi / 2.0), None
    if corner == "shifted":
        gives = right - angle_at(piece, corner_at(piece, edge, at))
        shift = round_shift(Seamed(piece, edge, at), gives, as_far_as)
    made, moved = at_angle(piece, edge, at, right, as_far_as, shift)
    return told(piece, made, edge, f"squared off at `{at}`", moved, moving_at_most)


@verb(
    "level_off",
    family="truing",
    doc="The piece with an edge drawn level on the paper through one of its corners, as a hem; the edge at its other end is "
    "drawn straight on, or cut, to meet it.",
    gives=lambda static: piece(levelled(static["subject"].sketch, static["subject"].name, static["at"])[0]),
    subject=word("edge", "edge", "the edge, at what it meets at the corner that stays", place=CORNERED),
    words=(moving_at_most("40 mm"),),
    example="shape ready = level_off front.hem at side",
)
def level_off(subject: Edge, at: str, moving_at_most: Reals) -> Piece:
    made, moved = levelled(subject.piece, subject.name, at)
    return told(subject.piece, made, subject.name, f"drawn level from `{at}`", moved, moving_at_most)


def check_seam(static: Mapping[str, Any]) -> None:
    """Trouble where the names forbid that the line runs over what is named. The seam edge of the other piece is the one of
    the same name, unless said otherwise."""
    own, other, meeting = static["subject"], static.get("to"), static.get("meeting")
    if static["over"] in own.sketch.dart_names():
        extra = [name for name in ("to", "meeting") if name in static]
        if extra or static.get("corner") == "shifted":
            wrong = (*extra, "corner")[0]
            raise Trouble(f"over a dart no `{wrong}` is wanted", "the edge runs on on the other side of the dart")
        mouth(own.sketch, own.name, static["over"])
        return
    corner_at(own.sketch, own.name, static["over"])
    if other is None:
        raise Trouble("what the line runs on into is missing", "write `to` and the edge of the other piece")
    over = static["over"] if meeting is None else meeting.name
    if meeting is None and over not in other.sketch.edge_names():
        fix = "name it with `meeting`, as in `meeting back.overarm`"
        raise Trouble(f"the other piece has no edge `{over}` to sew to", fix)
    corner_at(other.sketch, other.name, over)


def _blended_names(static: Mapping[str, Any]) -> PieceKind:
    if "into" in static:
        extra = [name for name in ("to", "meeting") if name in static]
        if extra or static["corner"] == "shifted":
            wrong = (*extra, "corner")[0]
            raise Trouble(f"`{wrong}` goes with `over`, not with `into`", "blend over a seam, or into a neighbour")
        corner_at(static["subject"].sketch, static["subject"].name, static["into"])
    else:
        check_seam(static)
    return piece(static["subject"].sketch)


SEAM_WORDS = (
    word("over", "own mark", "the seam edge it runs over, or a dart that stands on it", optional=True),
    word("to", "edge", "the edge of the other piece that it runs on into; none over a dart", optional=True),
    word("meeting", "edge", "the seam edge of the other piece, where it has another name", optional=True),
)


@verb(
    "blend",
    family="truing",
    doc="The piece with an edge running smoothly over a seam into another piece, over a dart, or into the edge beside it.",
    gives=_blended_names,
    subject=word("edge", "edge", "the edge"),
    words=(
        *SEAM_WORDS,
        word("into", "own end", "the edge beside it, of the same piece; both give way", optional=True),
        REACH,
        CORNER,
        moving_at_most("10 mm"),
    ),
    either=(("over", "into"),),
    example="shape round_hem = blend front.hem over side to back.hem as_far_as 12 cm corner shifted moving_at_most 3 cm",
)
def blend(
    subject: Edge,
    moving_at_most: Reals,
    corner: str,
    over: str | None = None,
    to: Edge | None = None,
    meeting: Edge | None = None,
    into: str | None = None,
    as_far_as: Reals | None = None,
) -> Piece:
    if into is not None:
        made, moved = rounded_joint(subject.piece, subject.name, into, as_far_as)
        for edge, other in ((subject.name, into), (into, subject.name)):
            made = told(subject.piece, made, edge, f"blended into `{other}`", moved, moving_at_most)
        return made
    assert over is not None
    if to is None:
        if over in subject.piece.removed:  # a body that needs no such dart
            return subject.piece
        made, moved = over_dart(subject.piece, subject.name, over, as_far_as)
        return told(subject.piece, made, subject.name, f"blended over `{over}`", moved, moving_at_most)
    across = over if meeting is None else meeting.name
    sides = Seamed(subject.piece, subject.name, over), Seamed(to.piece, to.name, across)
    made, moved = blended(*sides, as_far_as, shifted=corner == "shifted")
    return told(subject.piece, made, subject.name, f"blended over `{over}`", moved, moving_at_most)


@verb(
    "lengthen",
    family="truing",
    doc="An edge made longer straight on at one end (shorter by a negative length); the edge beside it follows.",
    gives=lambda static: piece(extended(static["subject"].sketch, static["subject"].name, static["at"], None)),
    subject=word("edge", "edge", "the edge, at what it touches at the end that moves", place=CORNERED),
    words=(word("by", "length", "by how much"),),
    example="shape longer = lengthen base.front.side at hem by 2 cm",
)
def lengthen(subject: Edge, at: str, by: Reals) -> Piece:
    return extended(subject.piece, subject.name, at, by)


@verb(
    "averaged",
    family="truing",
    doc="The line between two edges or curves, its points a share of the way from those of the first to those of the second.",
    gives=PATH,
    subject=word("curve", "path", "the first edge or curve"),
    words=(
        word("to", "path", "the second"),
        word("share", "number", "which share of the way from the first to the second", default="0.5"),
    ),
    example="curve middle = averaged side to centre_line",
)
def averaged(subject: Path | Edge, to: Path | Edge, share: Reals) -> Path:
    return average(as_path(subject), as_path(to), share)
