"""Reshaping: an edge raised between two points, a piece folded out or opened out along a line across it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..pattern.across import folded_out, lengths_of, opened_out
from ..pattern.edges import edge_length
from ..pattern.piece import OperationNote, Piece, Reals, Trouble
from ..pattern.raising import raised
from .kinds import PieceKind, piece
from .registry import PlacedEdge, verb, word
from .values import Edge, listed


def _raised_names(static: Mapping[str, Any]) -> PieceKind:
    if len(listed(static, "holding")) not in (0, 2):
        raise Trouble("an edge is raised between two points", "write two behind `holding`, with a comma, or none for the whole")
    return piece(raised(static["subject"].sketch, static["subject"].name, np.zeros(1)))


@verb(
    "raise",
    family="reshaping",
    doc="The piece with an edge raised outward, as the crown of a sleeve cap: by so much in the middle of the way along it, "
    "fading to nothing at two points on it, where it runs on as before; between its own ends where none are named.",
    gives=_raised_names,
    subject=word("edge", "edge", "the edge"),
    words=(
        word("by", "length", "by how much in the middle"),
        word("holding", "several point", "the two points on it between which it is raised", optional=True),
    ),
    example="shape capped = rename block_sleeve.front_cap + block_sleeve.back_cap as cap\n"
    "shape puffed = raise capped.cap by 3 cm holding capped.front_pitch, capped.back_pitch",
)
def raise_edge(subject: Edge, by: Reals, **holding: Reals) -> Piece:
    points = listed(holding, "holding")
    made = raised(subject.piece, subject.name, by, (points[0], points[1]) if points else None)
    lengths = {"before": edge_length(subject.piece, subject.name), "after": edge_length(made, subject.name)}
    return made.with_note(OperationNote("raised", subject.name, lengths))


ACROSS = (
    word(
        "along",
        "own edge",
        "a line across the piece, as a level; at what it meets at one end: there by so much, to nothing at the other",
        place=PlacedEdge(end="at", required=False),
    ),
    word("by", "length", "by how much; without an end all along the line, square to it"),
    word("keeping", "own edge", "an edge of the part that stays where it is; else that with more outline", optional=True),
)


_CROSSED = (
    "point chest_end = back.armhole at 1/2 from shoulder\n"
    "line chest_line from (plumb from nape to_level chest_end) to chest_end\n"
    "shape crossed = back {\n    mark_level chest along chest_line meeting centre, armhole\n}\n"
)


def _across_names(static: Mapping[str, Any]) -> PieceKind:
    sketch: Piece = static["subject"].sketch
    called = static["along"]
    if sketch.run(called) or not any(called in side.names for side in sketch.lines):
        fix = "`mark` a line from edge to edge, as a level, and name that"
        raise Trouble(f"`{called}` is no line across the piece", fix)
    return piece(sketch)


def _told(before: Piece, after: Piece, along: str, what: str) -> Piece:
    lengths = lengths_of(before, after, along)
    return after.with_note(*(OperationNote(what, edge, {"before": a, "after": b}) for edge, a, b in lengths))


@verb(
    "fold_out",
    family="reshaping",
    doc="A piece folded along a line across it, so that a strip or a wedge of cloth is gone, as where a back is too long at "
    "the waist; all its names stay. A dart with two ends that lies over the line is drawn anew through its ends as they come to "
    "lie. Where the edges do not meet over the fold they are drawn to the middle: `smooth` trues them.",
    gives=_across_names,
    subject=word("piece", "piece", "the piece"),
    words=ACROSS,
    example=_CROSSED + "shape shorter = fold_out crossed along chest at centre by 2 cm",
)
def fold_out(subject: Piece, along: str, by: Reals, at: str | None = None, keeping: str | None = None) -> Piece:
    return _told(subject, folded_out(subject, along, at, by, keeping), along, f"folded out along `{along}`")


@verb(
    "open_out",
    family="reshaping",
    doc="A piece cut along a line across it and opened by a strip or a wedge; all its names stay, and the edges are drawn "
    "straight over the gaps: `smooth` trues them.",
    gives=_across_names,
    subject=word("piece", "piece", "the piece"),
    words=ACROSS,
    example=_CROSSED + "shape longer = open_out crossed along chest at centre by 2 cm",
)
def open_out(subject: Piece, along: str, by: Reals, at: str | None = None, keeping: str | None = None) -> Piece:
    return _told(subject, opened_out(subject, along, at, by, keeping), along, f"opened out along `{along}`")
