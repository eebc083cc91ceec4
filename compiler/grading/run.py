"""A piece in every size of a run: whether it is made alike in all of them, and its named points in each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from ..geometry.length import point_at
from ..pattern.piece import Piece, Side

Reals = NDArray[np.float64]


Sizes = Mapping[str, Piece]
"""A piece in every size, small to large, each of one lane."""

Places = NDArray[np.complex128]
"""Points, or ways, as complex numbers (L,)."""


def called(side: Side) -> str:
    """What a side of the outline is called among sizes: its most special name that is not of a part."""
    return next((name for name in reversed(side.names) if "." not in name), side.names[-1])


def edges_in_order(piece: Piece) -> tuple[str, ...]:
    """The edges round a piece, each as often as it is come to, from the first by name on, so that it does not matter where the
    ring begins."""
    names = [called(side) for side in piece.ring]
    met = [name for k, name in enumerate(names) if name != names[k - 1]] or names[:1]
    turns = [tuple(met[k:] + met[:k]) for k in range(len(met))]
    return min(turns)


def unlike(sizes: Sizes, sample: str) -> str | None:
    """The first size whose outline has other edges than that of the sample; None where all are made alike."""
    wanted = edges_in_order(sizes[sample])
    return next((size for size, piece in sizes.items() if edges_in_order(piece) != wanted), None)


def named_points(piece: Piece) -> Mapping[str, Reals]:
    """The points (L, 2) of a piece by name, as it is drafted: corners of the sewing line by the names of their two edges, points
    of darts, places and landmarks, notches by their edge and their number on it. Names that come twice are numbered as they come
    round the piece from its first edge by name."""
    found: dict[str, Reals] = {}
    for name, at in _numbered([*_corners(piece), *_notches(piece)]):
        found[name] = at
    for hole in piece.holes:
        for side in hole.sides:
            found.setdefault(f"{hole.name} from {side.edge.rpartition('.')[2]}", side.drawn.start)
    for name, landmark in piece.points.items():
        if landmark is not None and ("." not in name or name in piece.signs):
            found.setdefault(name, landmark)
    return found


def _corners(piece: Piece) -> Iterator[tuple[str, Reals]]:
    points = {frozenset((dart.first, dart.second)): dart.name for dart in piece.darts}
    count, first = len(piece.ring), first_side(piece)
    for k in range(first, first + count):
        before, after = piece.ring[k % count - 1], piece.ring[k % count]
        one, two = called(before), called(after)
        if one == two:
            continue
        dart = points.get(frozenset((before.edge, after.edge)))
        yield (f"{dart} point" if dart else f"{one} by {two}"), after.drawn.start


def first_side(piece: Piece) -> int:
    """The side at which the outline begins wherever its ring does."""
    count = len(piece.ring)
    names = [called(side) for side in piece.ring]
    return min(range(count), key=lambda k: (names[k:] + names[:k], k))


def _notches(piece: Piece) -> Iterator[tuple[str, Reals]]:
    count, first = len(piece.ring), first_side(piece)
    order = sorted(piece.notches, key=lambda one: ((one.side - first) % count, float(one.at[0])))
    for notch in order:
        side = piece.ring[notch.side]
        yield f"{called(side)} notch{f' of {notch.seam}' if notch.seam else ''}", point_at(side.drawn, notch.at)


def _numbered(points: Sequence[tuple[str, Reals]]) -> Iterator[tuple[str, Reals]]:
    many = Counter(name for name, _ in points)
    seen: Counter[str] = Counter()
    for name, at in points:
        seen[name] += 1
        yield (f"{name} {seen[name]}" if many[name] > 1 else name), at


def complexes(points: Reals) -> Places:
    """Points (L, 2) as complex numbers (L,)."""
    return np.asarray(points[..., 0] + 1j * points[..., 1])


def shared_names(points: Sequence[Mapping[str, Reals]]) -> tuple[str, ...]:
    """The points that every size has, in the order of the first."""
    return tuple(name for name in points[0] if all(name in one for one in points[1:]))
