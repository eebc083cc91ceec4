"""What `+` puts end to end beside numbers: edges into a run, curves into one, slash lines into one set, pieces into a round."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..geometry.path import Path
from ..pattern.piece import Piece, Trouble
from .kinds import RUN, CutsKind, EdgeKind, Kind, PathKind, PieceKind
from .points import as_path, in_one
from .values import Cuts, Edge, Run

ROUND = Kind("pieces")


@dataclass(frozen=True)
class Pieces:
    """Pieces side by side round the body."""

    all: tuple[Piece, ...]

    def take(self, lanes: NDArray[np.intp]) -> Pieces:
        return Pieces(tuple(piece.take(lanes) for piece in self.all))


Part = Edge | Run | Path | Cuts | Piece | Pieces


def kind_of_sum(left: Kind, right: Kind) -> Kind | None:
    """The kind of two things put end to end; None where they cannot be. Trouble where the names forbid it."""
    if isinstance(left, CutsKind) and isinstance(right, CutsKind):
        return _lines(left, right)
    if (isinstance(left, PieceKind) or left == ROUND) and (isinstance(right, PieceKind) or right == ROUND):
        return ROUND
    if all(isinstance(one, EdgeKind) or one == RUN for one in (left, right)):
        return RUN
    if all(isinstance(one, EdgeKind | PathKind) for one in (left, right)):
        ends = (getattr(left, "ends", None), getattr(right, "ends", None))
        return PathKind("curve", (ends[0][0], ends[1][1]) if ends[0] and ends[1] else None)
    return None


def _lines(left: CutsKind, right: CutsKind) -> CutsKind:
    """Slash lines numbered on, those of the first before those of the next."""
    if left.sketch != right.sketch:
        raise Trouble("the slash lines were drawn on different pieces", "draw them all on the piece that is slashed")
    if left.sure < left.count:
        raise Trouble("how many of the first lines there are, bodies tell: the next have no numbers", "put these last")
    lines, numbered = (*left.lines, *right.lines), left.numbered and right.numbered
    return CutsKind("lines", left.sketch, lines, left.count + right.sure, numbered)


def end_to_end(left: Part, right: Part) -> Part:
    """Two values put end to end, of kinds that `kind_of_sum` takes."""
    match left, right:
        case Cuts(), Cuts():
            return Cuts(left.piece, (*left.lines, *right.lines))
        case (Piece() | Pieces()), (Piece() | Pieces()):
            return Pieces((*_pieces(left), *_pieces(right)))
        case (Edge() | Run()), (Edge() | Run()):
            return Run((*edges_of(left), *edges_of(right)))
        case (Edge() | Path()), (Edge() | Path()):
            return in_one([as_path(left), as_path(right)])
        case _:
            raise AssertionError("kinds were checked")


def _pieces(value: Piece | Pieces) -> tuple[Piece, ...]:
    return (value,) if isinstance(value, Piece) else value.all


def edges_of(value: Edge | Run) -> tuple[Edge, ...]:
    """The edges of a run, or the edge alone."""
    return (value,) if isinstance(value, Edge) else value.edges
