"""How an edge moved, as a cutter would tell it: along the whole of it, longer at an end, dipping there, or in the middle."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ..diagnostics import difference_words as words
from ..geometry.tolerances import FLAT, SEW
from .cloth import EdgeOnBody, PieceOnBody, PointMoved
from .distance import MOST
from .figures import Figures

Case = Literal["along", "longer", "end", "across", "inside", "length", "line", "new", "gone"]
LENGTHS: frozenset[Case] = frozenset(("longer", "length"))

COMPONENT = 0.35
"""A direction is named where the way has this share in it."""

ALONG = np.cos(np.radians(30.0))
"""What goes within 30 degrees of the edge goes along it."""

AT_END, AT_LEAST = 0.02, 1.0
"""The most is at an end within this share of the edge, and within this many mm."""

BOTH_ENDS = 1.5
"""What is longer by so many times as much as either of its ends moved is longer at both."""

MIDDLE = 0.08
"""Within this share of the edge's length beside its half is its middle."""

ALIKE = 0.05
"""Both halves of a piece that moved alike to so much (mm) are told once."""


@dataclass(frozen=True)
class Move:
    """What is told of an edge: by how much, mm; which ways; at or from which end, and how far from it, mm (0: at it, or in the
    middle, where there is no end)."""

    edge: str
    case: Case
    mm: float
    ways: tuple[str, ...] = ()
    end: str = ""
    place_mm: float = 0.0
    halves: bool = False

    def told(self, figures: Figures, by: bool = True) -> str:
        """In words, its number among them or not."""
        mm = figures.moved(abs(self.mm)) if by else ""
        edge, end = words.subject(self.edge, self.halves), words.spoken(words.both(self.end) if self.halves else self.end)
        match self.case:
            case "along":
                return words.along_whole(edge, mm, self.ways)
            case "longer":
                return words.longer(edge, mm, self.mm > 0.0, f"the {words.end_of(end)}" if end else "both ends")
            case "length":
                return words.longer(edge, mm, self.mm > 0.0, "")
            case "end":
                return words.end_moves(edge, mm, self.ways, end)
            case "across":
                return words.across_end(edge, mm, self.ways[0], end)
            case "inside":
                return words.inside(edge, mm, self.ways, figures.place(self.place_mm) if end else "", end)
            case "line":
                return words.point_moved(edge, mm, self.ways)
            case _:
                return words.edge_gone(edge, mm if self.mm > FLAT else "", self.case == "gone")

    @property
    def name(self) -> str:
        """Its edge, without the half where both are meant."""
        return words.both(self.edge) if self.halves else self.edge

    def is_like(self, other: Move) -> bool:
        """Whether it is told in much the same words: the case, the end, and at least one direction."""
        told = [one for one in (self, other) if one.case != "length"]
        ends = [words.both(one.end) if one.halves else one.end for one in told]
        ways = not self.ways or not other.ways or bool({*self.ways} & {*other.ways})
        cases = {self.case, other.case}
        return (len(cases) == 1 or cases <= LENGTHS) and len({*ends}) < 2 and ways and (self.mm > 0.0) == (other.mm > 0.0)


def moves_of(piece: PieceOnBody, least: float = SEW) -> tuple[Move, ...]:
    """What is told of the edges of a piece from `least` mm on, those that move most first; both halves that move alike once."""
    found = [move for edge in piece.edges for move in _of_edge(edge, piece, least)]
    return tuple(sorted(_halves(found), key=lambda move: -round(abs(move.mm), 3)))


def _of_edge(edge: EdgeOnBody, piece: PieceOnBody, least: float) -> list[Move]:
    found = []
    if edge.kind == "level" or runs_on(edge):
        return []
    if edge.status in ("new", "gone"):
        return [Move(edge.name, "new" if edge.status == "new" else "gone", edge.lone_mm)]
    if edge.apart is not None and edge.most >= least:
        found.append(_move(edge, piece))
    if edge.kind == "ring" and abs(edge.longer) >= least and not any(move.case == "longer" for move in found):
        found.append(Move(edge.name, "length", edge.longer))
    return found


def runs_on(edge: EdgeOnBody) -> bool:
    """Whether a line inside only ends elsewhere, as a fold of a pleat at a hem that was let down."""
    return edge.kind == "line" and edge.across < SEW <= edge.most and abs(edge.longer) >= edge.most / 2.0


def _move(edge: EdgeOnBody, piece: PieceOnBody) -> Move:
    apart = edge.apart
    assert apart is not None
    long, most = edge.length[0], apart.most
    if edge.kind == "line":
        return Move(edge.name, "line", most, ways_of(apart.vector, apart.at, piece, None))
    whole = apart.whole >= MOST
    ways = ways_of(apart.mean if whole else apart.vector, apart.at, piece, apart.way)
    near_start = apart.along <= long / 2.0
    end = edge.ends[0 if near_start else 1]
    off = apart.along if near_start else long - apart.along
    if whole:
        return Move(edge.name, "along", most, ways)
    if end and off <= max(AT_END * long, AT_LEAST):
        runs_on = abs(apart.vector[0] * apart.way[0] + apart.vector[1] * apart.way[1]) >= ALONG * most
        if runs_on and abs(edge.longer) >= most / 2.0:
            return Move(edge.name, "longer", edge.longer, (), end if abs(edge.longer) < BOTH_ENDS * most else "")
        if runs_on:
            return Move(edge.name, "end", most, ways, end)
        return Move(edge.name, "across", most, (_across(edge, piece),), end)
    if not end or abs(apart.along - long / 2.0) <= MIDDLE * long:
        return Move(edge.name, "inside", most, ways)
    return Move(edge.name, "inside", most, ways, end, off)


def _across(edge: EdgeOnBody, piece: PieceOnBody) -> str:
    """`dips` or `rises` of an edge that runs from side to side; which way one goes that runs up and down."""
    apart = edge.apart
    assert apart is not None
    if abs(apart.way[0]) >= abs(apart.way[1]):
        return "dips" if apart.vector[1] < 0.0 else "rises"
    return _sideways(apart.vector, apart.at, piece, apart.way)


def ways_of(
    vector: tuple[float, float], at: tuple[float, float], piece: PieceOnBody, way: tuple[float, float] | None
) -> tuple[str, ...]:
    """The directions in which a place of a piece moved; `way` is that of its edge, of which the cloth lies to the left."""
    size = max(float(np.hypot(*vector)), 1e-12)
    found = []
    if abs(vector[1]) >= COMPONENT * size:
        found.append("up" if vector[1] > 0.0 else "down")
    if abs(vector[0]) >= COMPONENT * size:
        found.append(_sideways(vector, at, piece, way))
    return tuple(found)


def _sideways(
    vector: tuple[float, float], at: tuple[float, float], piece: PieceOnBody, way: tuple[float, float] | None
) -> str:
    """`outward` or `inward` about the centre; `larger` or `smaller` where there is none; where neither is known, aside."""
    if piece.centre:
        heights, across = zip(*((y, x) for x, y in piece.centre), strict=True)
        middle = float(np.interp(at[1], heights, across))
        side = piece.side or (1.0 if at[0] >= middle else -1.0)
        return "outward" if vector[0] * side > 0.0 else "inward"
    if way is not None:
        return "larger" if vector[0] * way[1] - vector[1] * way[0] > 0.0 else "smaller"
    return "aside"


def _halves(moves: list[Move]) -> list[Move]:
    """Moves of the left and of the right half that are alike told once."""
    found: list[Move] = []
    for move in moves:
        own = words.both(move.edge)
        twin = next((k for k, one in enumerate(found) if _is_twin(one, move)), None) if own != move.edge else None
        if twin is None:
            found.append(move)
        else:
            worse = max(found[twin], move, key=lambda one: abs(one.mm))
            found[twin] = replace(worse, halves=True)
    return found


def _is_twin(one: Move, other: Move) -> bool:
    alike = one.case == other.case and one.ways == other.ways and words.both(one.end) == words.both(other.end)
    named = one.edge != other.edge and words.both(one.edge) == words.both(other.edge) and words.both(one.edge) != one.edge
    return alike and named and not one.halves and abs(one.mm - other.mm) <= ALIKE and one.mm * other.mm > 0.0


def told_point(point: PointMoved, piece: PieceOnBody, figures: Figures) -> str:
    """A point that moved, is new or gone, in words."""
    if point.vector is None:
        return words.point_new(words.spoken(point.name), point.is_new)
    ways = ways_of(point.vector, point.at, piece, None)
    return words.point_moved(words.spoken(point.name), figures.moved(point.most), ways)
