"""Kinds: what a value is, known before any body is loaded. A piece's kind holds its names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from ..pattern.piece import Piece
from ..pattern.ring import End


@dataclass(frozen=True)
class Kind:
    """A kind without inner structure; `word` is what the cutter reads in a message."""

    word: str


NUMBER = Kind("number")
LENGTH = Kind("length")
AREA = Kind("area")
ANGLE = Kind("angle")
WEIGHT = Kind("weight")  # of cloth, grams per square metre
FLAG = Kind("flag")
RUN = Kind("run of edges")
TEXT = Kind("text")
POINT = Kind("point")
DIRECTION = Kind("direction")
PIECE = Kind("piece")  # of unknown names, as it is asked for
CUTS = Kind("lines")  # where slash lines are wanted; those drawn are of CutsKind
CHECK = Kind("check")
BROKEN = Kind("broken")  # of a sentence with an error: fits everywhere, so that one error is told once



@dataclass(frozen=True)
class PathKind(Kind):
    """A line or curve of the draft; `ends` are the names of the points it runs from and to, where it is stated."""

    ends: tuple[str, str] | None = None


@dataclass(frozen=True)
class OpenedKind(Kind):
    """A curve of an outline with a drafted dart in it."""

    ends: tuple[str, str] | None = None


PATH = PathKind("curve")
QUANTITIES = (NUMBER, LENGTH, AREA, ANGLE)
MEASURED = (LENGTH, ANGLE, NUMBER)  # what a solve finds and limits hold


@dataclass(frozen=True)
class PieceKind(Kind):
    """A piece; `sketch` has its names and their order."""

    sketch: Piece


@dataclass(frozen=True)
class EdgeKind(Kind):
    """An edge, or an inner line, of a piece: `front.left_side`. `sketch` is the piece's."""

    sketch: Piece
    name: str


@dataclass(frozen=True)
class DartKind(Kind):
    """A dart of a piece: `front.waist_dart`."""

    sketch: Piece
    name: str


@dataclass(frozen=True)
class CutsKind(Kind):
    """Slash lines on a piece: of each the edge it starts on, the edge it runs to or the dart to whose apex it runs, which of
    these, and the end of the first edge it is counted from. The first `sure` of them are there on every body. `numbered` tells
    whether a reader of the style knows which is the first."""

    sketch: Piece
    lines: tuple[tuple[str, str, bool, End], ...]
    sure: int
    numbered: bool

    @property
    def count(self) -> int:
        return len(self.lines)


@dataclass(frozen=True)
class SeamKind(Kind):
    """A seam; `how` is joins, eases or gathers."""

    how: str


@dataclass(frozen=True)
class AttachedKind(Kind):
    """A sentence of the specification: cloth, trim, closure …"""


@dataclass(frozen=True)
class Given:
    """One of the pieces a verb gives: its kind, the roles by which it is reached, and what the verb is told to make it."""

    kind: PieceKind
    roles: tuple[str, ...]
    settled: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True)
class SeveralKind(Kind):
    """What a verb that makes a block gives; `shared` are names that several of them have, or may have."""

    given: tuple[Given, ...]
    shared: frozenset[str] = frozenset()


def piece(sketch: Piece) -> PieceKind:
    return PieceKind("piece", sketch)


def edge(sketch: Piece, name: str) -> EdgeKind:
    return EdgeKind("edge", sketch, name)


def dart(sketch: Piece, name: str) -> DartKind:
    return DartKind("dart", sketch, name)
