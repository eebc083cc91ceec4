"""Buttons that lie under the buttonholes of another piece."""

from __future__ import annotations

import numpy as np

from ..geometry.lanes import dot, left_of, unit
from ..geometry.length import direction_at, length, nearest, point_at
from ..geometry.path import Path, chain, reverse
from .edges import edge_from, edge_path
from .marks import MarkPlace
from .piece import Piece, Reals, Trouble
from .ring import edge_run

AS_LONG = 1.0
"""By how much (mm) two edges that are buttoned together may differ: as much as two that are joined."""


def under(piece: Piece, edge: str, other: Piece, holes: str) -> list[MarkPlace]:
    """Where the buttons of the buttonholes `holes` of another piece lie on an edge of this one, as far from the end at which both
    meet an edge of one name, and as far inside. Trouble where the edges are not equally long."""
    mark = shared_end(piece, edge, other)
    own, facing = chain(edge_path(piece, edge)), chain(edge_path(other, edge))
    from_start, its_start = (edge_from(one, edge, mark) == "start" for one in (piece, other))
    apart = length(own) - length(facing)
    off = np.abs(apart) > AS_LONG
    if off.any():
        figures = {"here": length(own), "there": length(facing)}
        fix = "make them equally long, or write `count`, `first` and `last`"
        raise Trouble(f"`{edge}` is not as long on both pieces: the buttons would not meet their holes", fix, off, figures)
    way_there = facing if its_start else reverse(facing)
    inward = 1.0 if its_start else -1.0
    return [_opposite(way_there, inward, own, from_start, one) for one in _buttons(other, holes)]


def _opposite(facing: Path, inward: float, own: Path, from_start: bool, button: Reals) -> MarkPlace:
    """The place on an edge opposite a button on the other, which runs from the end both share."""
    at = nearest(facing, button)[0]
    inset = inward * dot(button - point_at(facing, at), left_of(direction_at(facing, at)))
    total = length(own)
    along = np.clip(at if from_start else total - at, 0.0, total)
    way = direction_at(own, along)
    return MarkPlace(point_at(own, along) + inset[:, None] * left_of(way), way if from_start else -way)


def _buttons(piece: Piece, holes: str) -> list[Reals]:
    """Where (L, 2) the button of each hole lies: within its end, where it is pulled."""
    sign = piece.signs[holes]
    assert sign.size is not None
    return [one.start + sign.size[:, None] * unit(one.end - one.start) for one in edge_path(piece, holes)]


def count_of(piece: Piece, holes: str) -> tuple[int, int]:
    """How many buttonholes of a name a piece has at most, and how many on every body. Trouble where they are none."""
    sign = piece.signs.get(holes)
    if sign is None or sign.kind != "buttonhole":
        fix = "name what `buttonholes` made on the other piece, as `right_front.buttonhole`"
        raise Trouble(f"`{holes}` is no row of buttonholes", fix)
    names = [side.names[-1] for side in piece.lines if holes in side.names]
    return len(names), sum(name not in piece.uncertain for name in names)


def shared_end(piece: Piece, edge: str, other: Piece) -> str:
    """The edge that `edge` meets at an end on both pieces, from which it is measured."""
    for one, called in ((piece, "here"), (other, "there")):
        if not one.run(edge):
            fix = "write behind `on` the edge on which both pieces are laid together, which both have, as a stand's"
            raise Trouble(f"`{edge}` is no edge of the outline {called}", fix)
    beside = [_neighbours(one, edge) for one in (piece, other)]
    for name in beside[0]:
        if name in beside[1]:
            return name
    fix = "place them with `between … and …` and `count`, or rename an edge"
    raise Trouble(f"`{edge}` meets no edge of the same name on both pieces: which ends lie together is not known", fix)


def _neighbours(piece: Piece, edge: str) -> list[str]:
    """The names of what an edge meets at its two ends, those left out that it meets at both."""
    numbers, count = edge_run(piece, edge), len(piece.ring)
    before, after = (piece.ring[i % count].names for i in (numbers[0] - 1, numbers[-1] + 1))
    return [name for name in (*before, *after) if not (name in before and name in after)]
