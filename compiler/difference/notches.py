"""Notches of a piece, old and new: by the seam they belong to, in order along their edge, never by which lies nearest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..geometry.lanes import FloatArray
from ..geometry.length import length, point_at
from ..geometry.tolerances import SEW
from ..pattern.piece import Notch, Piece
from .outline import Laying, edge_name, ring_runs


@dataclass(frozen=True, eq=False)
class NotchPlace:
    """A notch on the sewing line: how far along its edge, mm, where it is (2,) as the piece is laid, and its strokes."""

    along: float
    at: FloatArray
    strokes: int


@dataclass(frozen=True)
class NotchChange:
    """The notches of an edge for one seam ("": of none) that are not as they were: their places along the edge, mm, before and
    now; where they are as many, how far each has moved and where from and to; whether their strokes are others."""

    edge: str
    seam: str
    old_mm: tuple[float, ...]
    new_mm: tuple[float, ...]
    old_at: tuple[tuple[float, float], ...]
    new_at: tuple[tuple[float, float], ...]
    old_strokes: tuple[int, ...]
    new_strokes: tuple[int, ...]

    @property
    def is_recounted(self) -> bool:
        return len(self.old_mm) != len(self.new_mm)

    @property
    def moved(self) -> tuple[float, ...]:
        """How far each has moved; nothing where they are not as many."""
        if self.is_recounted:
            return ()
        return tuple(float(np.hypot(b[0] - a[0], b[1] - a[1])) for a, b in zip(self.old_at, self.new_at, strict=True))

    @property
    def most(self) -> float:
        return max(self.moved, default=0.0)


Key = tuple[str, str]


def notch_changes(
    old: Piece, new: Piece, laying: Laying, edges: Mapping[str, str], seams: Mapping[str, str]
) -> Iterator[NotchChange]:
    """What changes of the notches of two pieces of one lane; `edges` and `seams` tell what an old name is now."""
    if _are_same(old, new, laying, seams):
        return
    mine = {(edges.get(edge, edge), _renamed(seam, seams)): row for (edge, seam), row in _notches(old, Laying()).items()}
    theirs = _notches(new, laying)
    for key in dict.fromkeys((*mine, *theirs)):
        before, after = mine.get(key, []), theirs.get(key, [])
        change = _change(key, before, after)
        if change.is_recounted or change.most >= SEW or change.old_strokes != change.new_strokes:
            yield change


def _are_same(old: Piece, new: Piece, laying: Laying, seams: Mapping[str, str]) -> bool:
    """Whether nothing can have moved: the same notches on the same lines."""
    if seams or not laying.is_drafted or len(old.notches) != len(new.notches) or len(old.ring) != len(new.ring):
        return False
    kept = all(
        (a.side, a.seam, a.strokes) == (b.side, b.seam, b.strokes) and np.array_equal(a.at, b.at)
        for a, b in zip(old.notches, new.notches, strict=True)
    )
    return kept and all(
        a.names == b.names and np.array_equal(a.drawn.controls, b.drawn.controls) for a, b in zip(old.ring, new.ring, strict=True)
    )


def _renamed(seam: str, seams: Mapping[str, str]) -> str:
    """A seam that is sewn on both halves has a name for each, as `sides.left`."""
    base, dot, half = seam.partition(".")
    return seams.get(seam, seams.get(base, base) + dot + half)


def _change(key: Key, old: Sequence[NotchPlace], new: Sequence[NotchPlace]) -> NotchChange:
    along, at, strokes = (
        [tuple(place.along for place in row) for row in (old, new)],
        [tuple((float(place.at[0]), float(place.at[1])) for place in row) for row in (old, new)],
        [tuple(place.strokes for place in row) for row in (old, new)],
    )
    return NotchChange(*key, along[0], along[1], at[0], at[1], strokes[0], strokes[1])


def _notches(piece: Piece, laying: Laying) -> dict[Key, list[NotchPlace]]:
    runs = ring_runs(piece)
    found: dict[Key, list[NotchPlace]] = {}
    for notch in piece.notches:
        edge = edge_name(piece, piece.ring[notch.side])
        found.setdefault((edge, notch.seam), []).append(_place(piece, notch, runs[edge], laying))
    for key, row in found.items():
        row.sort(key=lambda place: place.along)
        if laying.mirrored:
            long = _length(piece, runs[key[0]])
            row[:] = [NotchPlace(long - place.along, place.at, place.strokes) for place in reversed(row)]
    return found


def _place(piece: Piece, notch: Notch, run: Sequence[int], laying: Laying) -> NotchPlace:
    before = _length(piece, run[: run.index(notch.side)])
    path = piece.ring[notch.side].drawn
    at = np.clip(notch.at[:1], 0.0, length(path))
    return NotchPlace(before + float(notch.at[0]), laying.points(point_at(path, at))[0], notch.strokes)


def _length(piece: Piece, run: Sequence[int]) -> float:
    return sum(float(length(piece.ring[k].drawn)[0]) for k in run)
