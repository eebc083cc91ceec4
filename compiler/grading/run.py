"""A finished piece in every size of a run: whether it is made alike in all of them, and its named points in each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..finish.finished import FinishedPiece
from ..geometry.length import point_at
from ..pattern.piece import Piece, Side

Reals = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class SizedPiece:
    """A finished piece in one size (of one lane)."""

    size: str
    cloth: FinishedPiece

    @property
    def piece(self) -> Piece:
        return self.cloth.piece


def called(side: Side) -> str:
    """What a side of the outline is called among sizes: its most special name."""
    return side.names[-1]


def edges_in_order(piece: Piece) -> tuple[str, ...]:
    """The edges round a piece, each as often as it is come to, from the first by name on, so that it does not matter where the
    ring begins."""
    names = [called(side) for side in piece.ring]
    met = [name for k, name in enumerate(names) if name != names[k - 1]] or names[:1]
    turns = [tuple(met[k:] + met[:k]) for k in range(len(met))]
    return min(turns)


def unlike(sizes: Sequence[SizedPiece], sample: str) -> SizedPiece | None:
    """The first size whose outline has other edges than that of the sample; None where all are made alike."""
    wanted = next(edges_in_order(one.piece) for one in sizes if one.size == sample)
    return next((one for one in sizes if edges_in_order(one.piece) != wanted), None)


def named_points(cloth: FinishedPiece) -> Mapping[str, Reals]:
    """The points (2,) of a piece by name, as it is drafted: corners of the sewing line by the names of their two edges, points of
    darts, places and landmarks, notches by their edge and their number on it. Names that come twice are numbered as they come
    round the piece from its first edge by name."""
    piece, found = cloth.piece, dict[str, Reals]()
    for name, at in _numbered([*_corners(piece), *_notches(piece)]):
        found[name] = at
    for hole in piece.holes:
        for side in hole.sides:
            found.setdefault(f"{hole.name} from {side.edge.rpartition('.')[2]}", side.drawn.start[0])
    for name, at in piece.points.items():
        if at is not None:
            found.setdefault(name, at[0])
    return found


def _corners(piece: Piece) -> Iterator[tuple[str, Reals]]:
    points = {frozenset((dart.first, dart.second)): dart.name for dart in piece.darts}
    count, first = len(piece.ring), _first(piece)
    for k in range(first, first + count):
        before, after = piece.ring[k % count - 1], piece.ring[k % count]
        one, two = called(before), called(after)
        if one == two:
            continue
        dart = points.get(frozenset((before.edge, after.edge)))
        yield (f"{dart} point" if dart else f"{one} by {two}"), after.drawn.start[0]


def _first(piece: Piece) -> int:
    """The side at which the outline begins wherever its ring does."""
    count = len(piece.ring)
    names = [called(side) for side in piece.ring]
    return min(range(count), key=lambda k: (names[k:] + names[:k], k))


def _notches(piece: Piece) -> Iterator[tuple[str, Reals]]:
    count, first = len(piece.ring), _first(piece)
    order = sorted(piece.notches, key=lambda one: ((one.side - first) % count, float(one.at[0])))
    for notch in order:
        side = piece.ring[notch.side]
        yield f"{called(side)} notch{f' of {notch.seam}' if notch.seam else ''}", point_at(side.drawn, notch.at)[0]


def _numbered(points: Sequence[tuple[str, Reals]]) -> Iterator[tuple[str, Reals]]:
    many = Counter(name for name, _ in points)
    seen: Counter[str] = Counter()
    for name, at in points:
        seen[name] += 1
        yield (f"{name} {seen[name]}" if many[name] > 1 else name), at


def shared_names(points: Sequence[Mapping[str, Reals]]) -> tuple[str, ...]:
    """The points that every size has, in the order of the first."""
    return tuple(name for name in points[0] if all(name in one for one in points[1:]))
