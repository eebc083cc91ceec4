"""How the new piece is laid on the old one: where it lies in the draft is no cloth.

It is laid as drafted, or by an edge that is of one length in both, whichever lets most of each outline lie on the other; not so
that all is as near as can be, which would smear one lengthened hem over the whole piece.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import numpy as np

from ..geometry.lanes import FloatArray
from ..geometry.length import joints
from ..geometry.path import Path
from .distance import off_chords, same_line
from .outline import AS_DRAFTED, Edge, Laying, Outline
from .sampling import Sampled, sampled

SAME_LENGTH = 0.1
"""Edges whose lengths differ by less (mm), and which then lie no farther apart, may be laid on one another."""

ON = 0.05
"""Lines no farther apart (mm) lie on one another."""

OFF = 0.5
"""Lines farther apart (mm) do not; between, the less the farther: else what all differs a little would be turned until a half of
it lies on the other, and the rest far off."""

BETTER, BY = 0.02, 5.0
"""Another laying than as drafted must be better by this share of both outlines, and this many mm."""

AS_GOOD = 0.002
"""Of layings that differ by less than this share of both outlines, the one that turns least is taken."""

MIRRORED = 0.25
"""A piece is told to be drawn mirrored where its mirror image lies on the old one along this share more of both outlines."""

ALIKE = 0.02
"""Layings that move no point of a piece apart by more than this (mm) are one."""

STILL = 0.2
"""A laying that moves no point of the piece by so much (mm) is as drafted: edges that differ a little would turn it a little."""

MOST_TRIED = 24
MOST_WEIGHED = 4
"""So many layings are tried by every fourth sample (SPARSE), and so many of these by all."""

SPARSE = 4
MARKS = np.linspace(0.0, 1.0, 17)
COARSE = 8.0
"""Samples (mm) of an outline that is only laid."""


def laid_on(old: Outline, new: Outline) -> Laying:
    """How `new` is laid on `old`."""
    if same_line(old.sewn, new.sewn):
        return AS_DRAFTED
    ring = sampled(old.sewn, COARSE)
    total = ring.total + sampled(new.sewn, COARSE).total
    best, score = _best(old, new, ring, total)
    if score < (1.0 - MIRRORED) * total:
        image = Laying(mirrored=True)
        other, found = _best(old, new.laid(image), ring, total)
        if found > score + MIRRORED * total:
            return Laying(other.turn, other.shift, True, other.by)
    return best


def _best(old: Outline, new: Outline, ring: Sampled, total: float) -> tuple[Laying, float]:
    """The laying of a piece that is not mirrored, and how much of both outlines, mm, lies on the other then."""
    there = sampled(new.sewn, COARSE)
    drafted = _on(ring, there, AS_DRAFTED)
    enough = drafted + BETTER * total + BY
    if enough > total:
        return AS_DRAFTED, drafted
    middle = there.points.mean(axis=0)
    rough = sorted(((_on(ring, there, one, SPARSE), k, one) for k, one in enumerate(_candidates(old, new, middle))), reverse=True)
    found = [(_on(ring, there, laying), laying) for _, _, laying in rough[:MOST_WEIGHED]]
    most = max((score for score, _ in found), default=0.0)
    if most < enough:
        return AS_DRAFTED, drafted

    def moves(laying: Laying) -> tuple[float, float]:
        turned = abs(float(np.angle(laying.turn)))
        return round(turned, 6), float(np.linalg.norm(laying.points(middle) - middle))

    score, laying = min((one for one in found if one[0] >= most - AS_GOOD * total), key=lambda one: moves(one[1]))
    return laying, score


def _on(old: Sampled, new: Sampled, laying: Laying, every: int = 1) -> float:
    """How much, mm, of both outlines lies on the other, by every so many of their samples."""
    here = _near(off_chords(laying.back(old.points[::every]), new))
    there = _near(off_chords(laying.points(new.points[::every]), old))
    return float(old.weight[::every] @ here + new.weight[::every] @ there)


def _near(far: FloatArray) -> FloatArray:
    """How much (n,) of what lies so far off counts as lying on."""
    return np.clip((OFF - far) / (OFF - ON), 0.0, 1.0)


def _candidates(old: Outline, new: Outline, middle: FloatArray) -> Iterator[Laying]:
    """The motions that lay an edge of the new piece on one of the old that is as long, the longest edges first, edges of one name
    before others."""
    marks = cache(_marks)
    pairs = [
        (a, b) for a in old.ring for b in new.ring if abs(a.length - b.length) < SAME_LENGTH and a.length > SAME_LENGTH
    ]
    pairs.sort(key=lambda pair: (pair[0].name != pair[1].name, "." in pair[0].name, -pair[0].length))
    tried: list[FloatArray] = []
    frame = middle + np.array([[0.0, 0.0], [300.0, 0.0], [0.0, 300.0]])
    for a, b in pairs:
        laying = _rigid(marks(a), marks(b), a.name)
        if laying is None:
            continue
        here = laying.points(frame)
        if not _keeps_centre(old, new, laying):
            continue
        if np.abs(here - frame).max() >= STILL and not any(np.abs(here - other).max() < ALIKE for other in tried):
            tried.append(here)
            yield laying
        if len(tried) >= MOST_TRIED:
            return


def _keeps_centre(old: Outline, new: Outline, laying: Laying) -> bool:
    """Whether a whole piece is laid with its centre on the centre: one that grows grows on both halves."""
    if not old.centre or not new.centre or old.side or new.side:
        return True
    return bool(np.abs(old.off_centre(laying.points(np.array(new.centre)))).max() < OFF)


def _marks(edge: Edge) -> FloatArray:
    """Points (17,) of an edge at even shares of its length, as complex numbers."""
    path = edge.path
    return _at(path, MARKS * edge.length)


def _at(path: Path, along: FloatArray) -> FloatArray:
    line = sampled(path)
    marks = joints(path)[0]
    at = np.clip(along, 0.0, marks[-1])
    x, y = (np.interp(at, line.along, line.points[:, k]) for k in (0, 1))
    return np.asarray(x + 1j * y)


def _rigid(one: FloatArray, other: FloatArray, name: str) -> Laying | None:
    """The motion that lays points (n,) on others, both as complex numbers; None where they do not come to lie on them."""
    here, there = one - one.mean(), other - other.mean()
    turn = complex((here * np.conj(there)).sum())
    if abs(turn) == 0.0:
        return None
    turn /= abs(turn)
    if np.abs(here - turn * there).max() >= SAME_LENGTH:
        return None
    return Laying(turn, complex(one.mean() - turn * other.mean()), False, name)
