"""Opening cuts: every panel gets one rigid motion, the outline is walked panel by panel, gaps are bridged.

Slashing and pivoting both use this. Motions are composed along the tree of panels first and applied once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from ..geometry.lanes import decide, left_of, norm, unit
from ..geometry.length import length, point_at
from ..geometry.motion import Motion, apply_path, apply_points, identity, inverse, then
from ..geometry.path import Path, reverse
from .inner import parted
from .panels import Panels, divide_ring, motions_at, must_lie_on_cloth, polygons, still_panel
from .piece import Hole, Piece, Reals, Side, Trouble
from .ring import RingPart, RingPlace, moved, point_of, rebuilt, split_ring, straight

NO_CUT = 0.1
"""A cut that is not longer (mm) is none: a plotter repeats to this."""


@dataclass(frozen=True)
class Bridge:
    """What fills the gap at an end of an opened cut: one side straight across, or two that meet at the other end; these
    run straight, or along the line `way` from this end to the other, as it lies before the cut opens."""

    names: tuple[tuple[str, ...], ...]
    way: Path | None = None


@dataclass(frozen=True)
class Chord:
    """A cut to be opened: a place at each end, inner points (L, 2) between, and what fills its gaps.

    `widths` (L,) are the openings measured across at start and end. With `angle` (L,) radians it is turned about its
    end instead. An end with a bridge opens in all lanes; an end without stays closed.
    """

    called: str
    places: tuple[RingPlace, RingPlace]
    bridges: tuple[Bridge | None, Bridge | None]
    widths: tuple[Reals, Reals] = (np.zeros(1), np.zeros(1))
    angle: Reals | None = None
    through: tuple[Reals, ...] = ()


def opened(piece: Piece, chords: Sequence[Chord], *, still: str | None = None, **changes: Any) -> Piece:
    """The piece with its cuts opened. Trouble when cuts cross, leave the cloth, or open wider than they are long."""
    names = [chord.called for chord in chords]
    runs, starts = split_ring(piece, [place for chord in chords for place in chord.places])
    panels = divide_ring(len(runs), list(zip(starts[::2], starts[1::2], strict=True)), names)
    cuts = [_points(piece, chord) for chord in chords]
    drawn = [k for k, cut in enumerate(cuts) if _has_length(cut)]
    must_lie_on_cloth(piece, [cuts[k] for k in drawn], [names[k] for k in drawn])
    motions = _motions(panels, chords, cuts, still_panel(piece, runs, panels, still))
    ring = _walk(panels, runs, chords, cuts, motions)
    made = rebuilt(piece, ring, **changes)
    return _carry_inside(made, panels, runs, cuts, motions)


def _points(piece: Piece, chord: Chord) -> list[Reals]:
    ends = [point_of(piece, place) for place in chord.places]
    if ends[0] is None or ends[1] is None:
        raise AssertionError("a sketch has no cuts to open")
    return [ends[0], *chord.through, ends[1]]


def _has_length(cut: Sequence[Reals]) -> bool:
    """Whether a cut is one: on bodies where it is none, nothing is asked of its place. Raises Disagreement."""
    return decide(norm(cut[-1] - cut[0]) > NO_CUT)


def _motions(panels: Panels, chords: Sequence[Chord], cuts: Sequence[Sequence[Reals]], still: int) -> list[Motion]:
    """The motion of every panel, composed along the tree from the one that stays."""
    motions = [identity()]
    for k in range(1, len(panels.parent)):
        cut = panels.by[k]
        own = _motion(chords[cut], cuts[cut], panels.first[k])
        motions.append(then(own, motions[panels.parent[k]]))
    back = inverse(motions[still])
    return [identity() if k == still else then(motion, back) for k, motion in enumerate(motions)]


def _motion(chord: Chord, points: Sequence[Reals], first: int) -> Motion:
    """The motion of the panel beyond a cut that is met first at its end `first`.

    That panel lies on the right of the way from the end met first to the other. The gap is symmetric: a triangle, a
    rectangle or an isosceles trapezium, so opening a at one end and b at the other of a cut of length l turns by
    2 arcsin((a - b) / 2l).
    """
    if chord.angle is not None:
        turn = _turn(chord.angle if first == 0 else -chord.angle)
        pivot = _complex(points[-1])
        return Motion(turn, pivot - turn * pivot)
    near, far = (points[0], points[-1]) if first == 0 else (points[-1], points[0])
    here, there = chord.widths if first == 0 else chord.widths[::-1]
    long = norm(far - near)
    sine = (here - there) / (2.0 * long)
    figures = {"opening": np.maximum(here, there), "length of the cut": long}
    lapping, too_wide = (here < 0.0) | (there < 0.0), ~(np.abs(sine) < 1.0)
    if lapping.any():
        raise Trouble(f"{chord.called} would overlap: its opening is below zero", "open it by zero or more", lapping, figures)
    if too_wide.any():
        raise Trouble(f"{chord.called} opens wider than its length allows", "open it less, or run it farther", too_wide, figures)
    half = np.arcsin(sine)
    away = -_complex(left_of(unit(far - near)))
    turn, start = _turn(2.0 * half), _complex(near)
    return Motion(turn, start + here * away * _turn(half) - turn * start)


def _turn(angle: Reals) -> Any:
    return np.cos(angle) + 1j * np.sin(angle)


def _complex(points: Reals) -> Any:
    return points[..., 0] + 1j * points[..., 1]


def _walk(
    panels: Panels,
    runs: Sequence[RingPart],
    chords: Sequence[Chord],
    cuts: Sequence[Sequence[Reals]],
    motions: Sequence[Motion],
) -> list[RingPart]:
    """The outline of the opened piece."""
    ring = []
    for step in panels.steps:
        if step.run >= 0:
            run = runs[step.run]
            ring.append(replace(run, side=moved(run.side, motions[step.after])))
            continue
        bridge = chords[step.cut].bridges[step.end]
        if bridge is None:
            continue
        cut = cuts[step.cut]
        spot, other = (cut[0], cut[-1]) if step.end == 0 else (cut[-1], cut[0])
        a, b = apply_points(motions[step.before], spot), apply_points(motions[step.after], spot)
        if len(bridge.names) == 1:
            ring.append(RingPart(straight(bridge.names[0], a, b)))
        elif bridge.way is not None:
            there, back = (apply_path(motions[panel], bridge.way) for panel in (step.before, step.after))
            ring += [RingPart(Side(bridge.names[0], there)), RingPart(Side(bridge.names[1], reverse(back)))]
        else:
            hinge = apply_points(motions[step.after], other)
            ring += [RingPart(straight(bridge.names[0], a, hinge)), RingPart(straight(bridge.names[1], hinge, b))]
    return ring


def _carry_inside(
    piece: Piece, panels: Panels, runs: Sequence[RingPart], cuts: Sequence[Sequence[Reals]], motions: Sequence[Motion]
) -> Piece:
    """Points, inner lines and darts with two ends go with the panel they lie on; places of the outline have gone with it."""
    if not (piece.points or piece.lines or piece.holes):
        return piece
    lines = [part for side in piece.lines for part in parted(piece, side, cuts)]
    there = {notch.name for notch in piece.notches}
    points = {name: point for name, point in piece.points.items() if point is not None and name not in there}
    middles = [point_at(part.drawn, length(part.drawn) / 2.0) for part in lines]
    spots = [*points.values(), *(_inside(hole) for hole in piece.holes), *middles]
    found = iter(motions_at(polygons(panels, runs, cuts), motions, spots))
    carried = {name: apply_points(next(found), point) for name, point in points.items()}
    holes = []
    for hole in piece.holes:
        motion = next(found)
        holes.append(Hole(hole.name, tuple(moved(side, motion) for side in hole.sides)))
    return replace(
        piece,
        points=MappingProxyType({name: carried.get(name, point) for name, point in piece.points.items()}),
        holes=tuple(holes),
        lines=tuple(moved(part, next(found)) for part in lines),
    )


def _inside(hole: Hole) -> Reals:
    """A point in a dart with two ends: the middle of its corners."""
    corners = np.broadcast_arrays(*(side.drawn.start for side in hole.sides))
    middle: Reals = np.stack(corners).mean(axis=0)
    return middle
