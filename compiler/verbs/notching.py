"""Notches, and what has a name on an edge: the place of a notch, and the part between two places."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from ..pattern.named import PartEnd, notched, with_part, with_place
from ..pattern.piece import Notch, Piece, Reals
from ..pattern.ring import NOWHERE, edge_run, place_on
from .kinds import PieceKind, piece
from .places import along as along_edge
from .registry import PlacedEdge, verb, word

STROKES = {"not_at_all": 0, "single": 1, "double": 2, "triple": 3}
"""How a notch, or those of a seam, are said to be."""


def _notched_names(static: Mapping[str, Any]) -> PieceKind:
    sketch: Piece = static["piece"].sketch
    if "called" not in static:
        return piece(sketch)
    return piece(with_place(sketch, Notch(edge_run(sketch, static["subject"])[0], NOWHERE, stated=True, name=static["called"])))


@verb(
    "notch",
    family="finish",
    doc="A notch on an edge, so far or such a share of the way from the end that is named. With a name it is a place of the "
    "piece, on whatever is made of it: `front.side at zip_end`, `front.side between zip_end and hem`. Notches of one name on the "
    "two sides of a seam must meet, to 2 mm, and what is eased or gathered lies where they say. Only what a seam does not notch "
    "by itself is to be stated: a pitch, the end of a slit or of gathers. Stated on one side of a seam, it is put on the other. "
    "It is snipped 4.5 mm in from the cut edge, less where the allowance is narrow, of which 2 mm or a half stay whole; several "
    "strokes stand 5 mm apart, astride the place. The legs of a dart are snipped without it.",
    gives=_notched_names,
    statement=True,
    subject=word("edge", "own edge", "the edge, at the place of the notch", place=PlacedEdge("at", "share", near="near")),
    words=(
        word(
            "as",
            "one of single double triple",
            "how many strokes it has: one for the front, two for the back (common practice)",
            default="single",
        ),
        word("called", "new name", "what the place is called", optional=True),
    ),
    example="notch side at 7 cm from hem called zip_end",
)
def notch(
    piece: Piece,
    subject: str,
    as_: str,
    from_: str | None = None,
    at: Reals | None = None,
    share: Reals | None = None,
    near: Reals | None = None,
    called: str | None = None,
) -> Piece:
    strokes = STROKES[as_]
    far, end = along_edge(piece, subject, from_, at, share, near)
    if called is None:
        return notched(piece, subject, far, end, strokes)
    place = place_on(piece, subject, far, end)
    return with_place(piece, Notch(place.side, place.at, strokes, stated=True, name=called))


def _parted_names(static: Mapping[str, Any]) -> PieceKind:
    return piece(with_part(static["piece"].sketch, static["subject"], static["name"], static["first"], static["last"]))


@verb(
    "edge",
    family="finish",
    doc="A part of an edge with a name: it is an edge of the piece then, beside the whole, wherever an edge may stand, and stays "
    "one of what is made of the piece. Its ends are places as in any part. Parts may overlap; where two have an allowance, that "
    "of the one named last holds.",
    gives=_parted_names,
    statement=True,
    subject=word("edge", "own edge", "the edge, `between` the two places of the part"),
    example="edge vent = side between 15 cm from hem and hem",
)
def edge_part(
    piece: Piece, subject: str, name: str, first: PartEnd, last: PartEnd, at_0: Reals | None = None, at_1: Reals | None = None
) -> Piece:
    """`at_0` and `at_1` are the values of the two ends, by body."""
    return with_part(piece, subject, name, replace(first, value=at_0), replace(last, value=at_1))
