"""Half a skirt front drafted by hand, mm, whose changes are known by arithmetic: 250 wide, 600 high, its centre on the fold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
from godet.difference.cloth import BodyCloth, PieceOnBody, piece_on_body
from godet.finish.finished import finished
from godet.geometry.path import chain, line
from godet.pattern.piece import Allowance, Piece, Side

from .drawn_pieces import polygon, wide

NAMES = ("hem", "side", "waistline", "centre")
PANEL = ((0.0, 0.0), (250.0, 0.0), (250.0, 600.0), (0.0, 600.0))
ALLOWED = {"seams": wide(10.0), "hem": wide(20.0)}
Corner = tuple[float, float]


def panel(
    corners: Sequence[Corner] = PANEL, names: tuple[str, ...] = NAMES, allowed: Mapping[str, Allowance] = ALLOWED
) -> Piece:
    """The panel, or one with other corners, anticlockwise from the centre of the hem."""
    made = polygon(tuple(corners), names, allowed)
    return replace(made, worn="left", fold="centre") if "centre" in names else made


def cornered(**corners: Corner) -> Piece:
    """The panel with some of its corners elsewhere."""
    named = dict(zip(("hem_centre", "hem_side", "waist_side", "waist_centre"), PANEL, strict=True))
    return panel(list({**named, **corners}.values()))


def through(piece: Piece, edge: str, *at: Corner) -> Piece:
    """The piece with an edge of straight lines through some points."""
    own = piece.sides(edge)[0]
    ends = [own.drawn.start, *(np.array([one]) for one in at), own.drawn.end]
    led = Side(own.names, chain([line(a, b) for a, b in pairwise(ends)]))
    return replace(piece, ring=tuple(led if side is own else side for side in piece.ring))


def compared(old: Piece, new: Piece) -> PieceOnBody:
    """The one laid on the other and compared, both finished."""
    return piece_on_body("someone", finished(old), finished(new))


def body(pieces: Mapping[str, Piece], name: str = "someone") -> BodyCloth:
    return BodyCloth(name, {key: finished(piece) for key, piece in pieces.items()})
