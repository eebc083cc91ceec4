"""A seam moved into the piece on its other side: a strip of cloth cut off there and laid on here, as they are sewn."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.length import cut_at, length
from ..geometry.motion import Motion, apply_path, mirror_path
from ..geometry.path import Path, chain, reverse
from ..geometry.tolerances import COINCIDE
from .levels import levels_to
from .piece import Piece, Reals, Side, Trouble, Turns
from .ring import edge_run, with_ends
from .truing import with_paths

APART = 1.0
"""Edges that are sewn together may differ by this (mm), as `seam` has it where nothing is said."""


def shifted(gains: Piece, edge: str, loses: Piece, other: str, by: Reals) -> tuple[Piece, Piece]:
    """Two pieces sewn together along an edge of each, with the seam `by` (L,) mm farther in the second, measured along the edges
    it ends on: what the second loses the first gains, with the lines those edges have there; levels of the body that end on it
    run on over that. Each keeps the shape of its own edge, and the two stay as long as each other.

    Trouble where darts stand on the edges, the names do not tell which ends meet, and with lanes where the edges are not equally
    long or the edges beside them end sooner.
    """
    ours, theirs = _seam_of(gains, edge), _seam_of(loses, other)
    mirrored = _faces_alike(gains, ours, loses, theirs)
    if gains.is_sketch or loses.is_sketch:
        return gains, loses
    _must_be_alike(edge, ours.along(gains), theirs.along(loses))
    cut = _cut_off(loses, theirs, by)
    lay = _laying(ours.along(gains), theirs.along(loses), mirrored)
    strips = lay(cut.before), lay(cut.after)
    made = _laid_on(gains, ours, strips, mirrored)
    wider = levels_to(with_paths(gains, made), ours.along(gains), made[ours.here])
    return wider, with_paths(loses, cut.left)


@dataclass(frozen=True)
class _Seam:
    """Numbers of the side of an edge and of those before and after it."""

    before: int
    here: int
    after: int

    def along(self, piece: Piece) -> Path:
        return piece.ring[self.here].drawn


def _seam_of(piece: Piece, edge: str) -> _Seam:
    numbers, count, legs = edge_run(piece, edge), len(piece.ring), piece.dart_sides()
    if len(numbers) != 1:
        broken = any((b - a) % count != 1 for a, b in itertools.pairwise(numbers))
        fix = "close the dart on it first, or leave it unsewn" if broken else "`smooth` it first, or move the seam before"
        raise Trouble(f"`{edge}` is drawn in several parts: it cannot be moved as one", fix)
    seam = _Seam((numbers[0] - 1) % count, numbers[0], (numbers[0] + 1) % count)
    if seam.before in legs or seam.after in legs:
        raise Trouble(f"a dart stands at the end of `{edge}`", "pivot it elsewhere first")
    return seam


def _faces_alike(one: Piece, ours: _Seam, other: Piece, theirs: _Seam) -> bool:
    """Whether both pieces are drawn the same way out, told by the names beside the seam."""
    names = [set(piece.ring[i].names) for piece, seam in ((one, ours), (other, theirs)) for i in (seam.before, seam.after)]
    alike = bool(names[0] & names[2] or names[1] & names[3])
    crossed = bool(names[0] & names[3] or names[1] & names[2])
    if alike == crossed:
        fix = "call the edges that run on over the seam alike on both: `rename`"
        raise Trouble("which ends of the two edges meet is not told by the edges beside them", fix)
    return alike


def _must_be_alike(edge: str, ours: Path, theirs: Path) -> None:
    lengths = {"the first": length(ours), "the second": length(theirs)}
    apart = np.abs(lengths["the first"] - lengths["the second"]) > APART
    if apart.any():
        raise Trouble(f"`{edge}` is not as long as what it is sewn to", "true the two edges first", apart, lengths)


@dataclass(frozen=True)
class _Cut:
    """What is left of the piece that loses, by number, and what goes: parts of the edges beside the seam."""

    left: dict[int, Path]
    before: Path
    after: Path


def _cut_off(piece: Piece, seam: _Seam, by: Reals) -> _Cut:
    sides = piece.ring[seam.before], piece.ring[seam.after]
    _must_reach(by, sides)
    before, off_before = cut_at(sides[0].drawn, length(sides[0].drawn) - by)
    off_after, after = cut_at(sides[1].drawn, by)
    new = _between(seam.along(piece), before.end, after.start)
    return _Cut({seam.before: before, seam.here: new, seam.after: after}, off_before, off_after)


def _between(path: Path, start: Reals, end: Reals) -> Path:
    """A path of the same shape between other ends."""
    scale = _complex(end - start) / _complex(path.end - path.start)
    arms = _complex(path.controls - path.start[:, None, None]) * scale[:, None, None]
    return Path(start[:, None, None] + np.stack([arms.real, arms.imag], axis=-1), path.straight)


def _must_reach(by: Reals, sides: tuple[Side, Side]) -> None:
    if (by <= COINCIDE).any():
        fix = "write a length above nothing; the other way round, name the other edge first"
        raise Trouble("a seam is moved by more than nothing", fix, by <= COINCIDE, {"asked": by})
    for side in sides:
        short = length(side.drawn) - by <= COINCIDE
        if short.any():
            fix = "move it by less, or close what stands there first"
            raise Trouble(f"`{side.edge}` ends sooner than that", fix, short, {side.edge: length(side.drawn), "asked": by})


def _laying(ours: Path, theirs: Path, mirrored: bool) -> Callable[[Path], Path]:
    """Lays what lies at one edge on the other, as they are sewn, middle on middle."""
    start, end = (ours.start, ours.end) if mirrored else (ours.end, ours.start)
    turn = _complex(end - start) / _complex(theirs.end - theirs.start)
    turn = turn / np.abs(turn)
    motion = Motion(turn, (_complex(start + end) - turn * _complex(theirs.start + theirs.end)) / 2.0)

    def lay(path: Path) -> Path:
        return apply_path(motion, mirror_path(theirs.start, theirs.end, path) if mirrored else path)

    return lay


def _complex(points: Reals) -> Turns:
    made: Turns = points[..., 0] + 1j * points[..., 1]
    return made


def _laid_on(piece: Piece, seam: _Seam, strips: tuple[Path, Path], mirrored: bool) -> dict[int, Path]:
    """The sides of the piece that gains, by number."""
    first, last = (reverse(strips[0]), reverse(strips[1])) if mirrored else (strips[1], strips[0])
    before, after = piece.ring[seam.before], piece.ring[seam.after]
    first = with_ends(replace(before, path=first), start=before.drawn.end).drawn
    last = with_ends(replace(after, path=last), end=after.drawn.start).drawn
    here = _between(seam.along(piece), first.end, last.start)
    return {seam.before: chain([before.drawn, first]), seam.here: here, seam.after: chain([last, after.drawn])}
