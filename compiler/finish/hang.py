"""Whether the two edges of a side seam hang alike: one cut along the thread keeps its length, one far off it gives, and the seam
between them puckers and twists.

Only a front and a back that are sewn to each other along the body are held to that, whose edges run straight, are long and lie
as they were drafted: of a godet, a gusset, a panel, a raglan, or a panel turned by a dart that was moved, the threads lie unlike
on purpose. A piece that is said to lie on the bias is meant so; what is sewn to it along the body hangs with it where its edge
leaves the thread alike, as of two pieces whose threads slant like mirror images.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import norm
from ..geometry.length import length
from ..geometry.path import line
from ..pattern.covers import HALVES
from ..pattern.laid import SeamEdge
from ..pattern.piece import Piece, Reals, Side
from ..pattern.truing import off_chord
from ..pattern.which_ends import Sewn
from .seams import SewnSeam

APART = 15.0
"""Edges that leave their threads by more degrees unlike than this do not give alike, on the bias or off it (ours)."""

STEEP = 50.0
"""An edge that leaves the thread by more than this runs across the body, as a shoulder does."""

LONG = 200.0
"""An edge shorter (mm) than this does not hang."""

STRAIGHT = 0.05
"""An edge that leaves the straight between its ends by more than this share of it is shaped."""


TURNED = 1.0
"""A panel turned by more degrees than this, as where a bust dart was closed into the hem, lies off its thread on purpose."""


@dataclass(frozen=True)
class Unlike:
    """A seam, its edges, and by how many degrees (L,) each leaves its thread; NaN where they hang alike."""

    seam: str
    edges: tuple[str, str]
    off: tuple[Reals, Reals]


@dataclass(frozen=True)
class _Part:
    """Of a part of an edge by how many degrees (L,) it leaves its thread, and whether (L,) it hangs."""

    off: Reals
    hangs: NDArray[np.bool_]


@dataclass(frozen=True)
class OnBias:
    """As `Unlike`, of pieces of which one lies on the bias at least; whether both do."""

    seam: str
    edges: tuple[str, str]
    off: tuple[Reals, Reals]
    both: bool


def unmirrored(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[OnBias]:
    """The seams of front and back up and down the body, one of them on the bias, whose edges leave their threads unlike: of both
    sides of a body the first."""
    told: set[tuple[str, str]] = set()
    for seam in seams:
        sides = sewn.stretches(seam) if seam.how == "joins" else None
        for one, other in itertools.product(*sides) if sides else ():
            lies = [piece.finish.lies for piece in (one.piece, other.piece)]
            if not _cover_one_part(one.piece, other.piece) or "bias" not in lies or (one.owner, other.owner) in told:
                continue
            first, second = (_leaning(edge) for edge in (one, other))
            where = np.abs(first - second) > APART
            if where.any():
                told.add((one.owner, other.owner))
                off = np.where(where, first, np.nan), np.where(where, second, np.nan)
                yield OnBias(seam.name, (_name(one), _name(other)), off, lies == ["bias", "bias"])


def _leaning(one: SeamEdge) -> Reals:
    """By how many degrees (L,) the straight from end to end of an edge leaves the thread; NaN where it does not hang up and down
    the body, as it was drafted."""
    sides = one.sides()
    whole = replace(sides[0], path=line(sides[0].drawn.start, sides[-1].drawn.end))
    way = whole.drawn.end - whole.drawn.start
    drafted = (way[:, 0] + 1j * way[:, 1]) / sides[0].turn
    hangs = (np.abs(drafted) > LONG) & (np.abs(drafted.imag) > np.abs(drafted.real))
    return np.where(hangs, _off(one.piece, whole), np.nan)


def unlike_bias(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Unlike]:
    """The seams of front and back that do not hang alike."""
    for seam in seams:
        sides = sewn.stretches(seam) if seam.how == "joins" else None
        for pair in itertools.product(*sides) if sides else ():
            if _are_front_and_back(*(one.piece for one in pair)):
                parts = [_longest(one) for one in pair]
                offs = [part.off for part in parts]
                unlike = (np.abs(offs[0] - offs[1]) > APART) & (np.maximum(*offs) < STEEP)
                where = unlike & parts[0].hangs & parts[1].hangs
                one, other = (np.where(where, off, np.nan) for off in offs)
                yield Unlike(seam.name, (_name(pair[0]), _name(pair[1])), (one, other))


def _name(one: SeamEdge) -> str:
    return f"{one.owner}.{one.edge}"


def _are_front_and_back(one: Piece, other: Piece) -> bool:
    """Whether two pieces cover front and back of one part of the body, and neither is said to lie on the bias."""
    return _cover_one_part(one, other) and "bias" not in (one.finish.lies, other.finish.lies)


def _cover_one_part(one: Piece, other: Piece) -> bool:
    """Whether two pieces cover front and back of one part of the body."""
    if one.covers is None or other.covers is None or one.inside or other.inside:
        return False
    parts = [piece.covers.partition("_")[0] for piece in (one, other) if piece.covers]
    halves = {HALVES.get(one.covers), HALVES.get(other.covers)}
    return parts[0] == parts[1] and halves == {"front", "back"}


def _longest(one: SeamEdge) -> _Part:
    """The longest part of an edge between its darts, of each body its own."""
    sides = one.sides()
    longest = np.stack(np.broadcast_arrays(*(length(side.drawn) for side in sides))).argmax(axis=0)

    def theirs(numbers: Iterable[NDArray[Any]]) -> NDArray[Any]:
        which, *each = np.broadcast_arrays(longest, *numbers)
        return np.asarray(np.take_along_axis(np.stack(each), which[None], axis=0)[0])

    return _Part(theirs(_off(one.piece, side) for side in sides), theirs(_hangs(side) for side in sides))


def _off(piece: Piece, side: Side) -> Reals:
    """By how many degrees (L,) a side, as straight, leaves the thread; NaN without a grain."""
    if piece.finish.grain is None:
        return np.full(1, np.nan)
    way = side.drawn.end - side.drawn.start
    off = np.degrees(np.angle((way[:, 0] + 1j * way[:, 1]) / piece.finish.grain)) % 180.0
    return np.asarray(np.minimum(off, 180.0 - off))


def _hangs(side: Side) -> NDArray[np.bool_]:
    """Where (L,) a side is long, straight nearly, and lies as it was drafted."""
    long = norm(side.drawn.end - side.drawn.start)
    as_drafted = np.abs(np.degrees(np.angle(side.turn))) < TURNED
    return np.asarray((long > LONG) & (off_chord(side.drawn) < STRAIGHT * long) & as_drafted)
