"""Folding: the cloth a pleat takes up, as stripes between its fold lines, each the image of a strip of the flat piece.

A cut is opened into a gap between two flanks, A and B. The motion that carries A to B has a root: its powers carry A to
the fold lines 1, 2, … of the gap, equally far apart (or equally turned, where the pleat tapers). The edge of each
stripe is the edge of the strip it lies on when the pleat is folded, so that the folded edge is the edge before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from ..geometry.lanes import agree, left_of, norm, unit
from ..geometry.length import cut_at, part
from ..geometry.meet import line_path, lines
from ..geometry.motion import Motion, apply_path, apply_points, identity, inverse, mirror_path, then
from ..geometry.path import Path, chain, end_direction, line, reverse
from ..geometry.tolerances import COINCIDE
from .piece import Piece, Reals, Trouble, Turns
from .ring import RingPlace

Flank = Literal["a", "b"]
Ends = tuple[Reals, Reals]


@dataclass(frozen=True)
class Stripe:
    """A stripe of the gap: the strip beside `flank`, moved by a power of the root, then mirrored in a fold line or not."""

    flank: Flank
    power: int
    mirror: int | None = None


@dataclass(frozen=True)
class Opened:
    """A cut and its gap: the ends (L, 2) of the cut, and of both flanks after opening, near end first; `folds` stripes."""

    cut: Ends
    a: Ends
    b: Ends
    folds: int

    @cached_property
    def placed(self) -> Motion:
        """The motion of the panel of flank A."""
        return _motion(self.cut, self.a)

    @cached_property
    def root(self) -> Motion:
        """The motion that carries each fold line to the next."""
        whole = _motion(self.a, self.b)
        turn: Turns = np.exp(1j * np.angle(whole.turn) / self.folds)
        return Motion(turn, whole.shift / sum(turn**k for k in range(self.folds)))

    def power(self, count: int) -> Motion:
        """The root, applied `count` times; backwards where negative."""
        step = self.root if count >= 0 else inverse(self.root)
        made = identity()
        for _ in range(abs(count)):
            made = then(made, step)
        return made

    def fold(self, number: int) -> Ends:
        """Two points (L, 2) of a fold line, near end first; 0 is flank A, the last is flank B."""
        moved = self.power(number)
        return apply_points(moved, self.a[0]), apply_points(moved, self.a[1])


def _motion(before: Ends, after: Ends) -> Motion:
    """The motion that carries one segment onto another as long."""
    (p, q), (r, s) = ((_complex(one) for one in ends) for ends in (before, after))
    turn = (s - r) / (q - p)
    turn = turn / np.abs(turn)
    return Motion(turn, r - turn * p)


def _complex(points: Reals) -> Turns:
    made: Turns = points[..., 0] + 1j * points[..., 1]
    return made


def hinge_of(start: Reals, end: Reals, long: Reals) -> Reals:
    """Where the flanks meet (L, 2), when the gap from `start` to `end` on the outline closes at a distance `long`."""
    middle, half = (start + end) / 2.0, norm(end - start) / 2.0
    depth = np.sqrt(np.maximum(long * long - half * half, 0.0))
    hinge: Reals = middle + depth[:, None] * left_of(unit(end - start))
    return hinge


def strip_edge(piece: Piece, edge: str, place: RingPlace, forward: bool, fold: Ends) -> tuple[Path, bool]:
    """The outline from a place along an edge, with or against its travel, as far as the line `fold`; and whether the
    edge reaches so far: if not, it is drawn straight on. Raises Disagreement when lanes differ in that."""
    run = _beside(piece, edge, place, forward)
    along, _, ok = line_path(fold[0], fold[1] - fold[0], run)
    ok = ok & (along > COINCIDE)
    if agree(ok.astype(np.int64)):
        return part(run, np.zeros(1), along), True
    way = end_direction(run)
    end, further, _, met = lines(run.end, way, fold[0], fold[1] - fold[0])
    lost = ~(met & (further > -COINCIDE))
    if lost.any():
        raise Trouble(
            f"a pleat is laid beyond the end of `{edge}`", "make it less deep, or cut further from the end", lost
        )
    return chain([run, line(run.end, end)]), False


def _beside(piece: Piece, edge: str, place: RingPlace, forward: bool) -> Path:
    """The outline of an edge from a place, as far as its sides follow each other. Trouble where that is nothing."""
    count, inside = len(piece.ring), bool((place.at > COINCIDE).all())
    here = piece.ring[place.side].drawn
    parts: list[Path] = []
    if inside:
        before, after = cut_at(here, place.at)
        parts.append(after if forward else reverse(before))
    elif forward:
        parts.append(here)
    step = 1 if forward else -1
    i = place.side + step
    while edge in piece.ring[i % count].names and len(parts) < count:
        parts.append(piece.ring[i % count].drawn if forward else reverse(piece.ring[i % count].drawn))
        i += step
    if not parts:
        raise Trouble(f"a pleat stands at the very end of `{edge}`: there is nothing to lay it on", "cut further from the end")
    return chain(parts)


def stripe_edges(gap: Opened, stripes: Sequence[Stripe], strips: dict[Flank, Path]) -> list[Path]:
    """The edges of the stripes at one end of the gap, from flank A to flank B. `strips` are the edges of the strips
    beside the cut, from the cut outward, as `strip_edge` finds them on the flat piece."""
    placed = {flank: apply_path(gap.placed, path) for flank, path in strips.items()}
    made = []
    for stripe in stripes:
        path = apply_path(gap.power(stripe.power), placed[stripe.flank])
        if stripe.mirror is not None:
            path = mirror_path(*gap.fold(stripe.mirror), path)
        inward = (stripe.flank == "a") == (stripe.mirror is None)
        made.append(reverse(path) if inward else path)
    return made

