"""Panels: cuts across a piece divide it into parts that hang together in a tree."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.lanes import agree, lane_count, spread, unit
from ..geometry.length import length
from ..geometry.motion import Motion
from ..geometry.path import CHORDS, flatten_fixed
from ..geometry.tolerances import COINCIDE
from .flat import Shapes, flat_around, flat_ring, flat_sides, unslit
from .piece import Piece, Reals, Side, Trouble
from .ring import RingPart

SLACK = 0.5
"""How much of a cut (mm) may lie off the cloth: it follows a flattened curve, and starts on the outline itself."""

ON_EDGE = 5e-7
"""How far (mm) beyond a panel a point on its edge may lie by rounding."""


@dataclass(frozen=True)
class Step:
    """A step of the walk round the opened piece: a run of the ring on its panel, or a cut passed at one of its ends.

    A cut is passed from panel `before` to panel `after`, at its end 0 (start) or 1.
    """

    after: int
    run: int = -1
    cut: int = -1
    end: int = 0
    before: int = -1


@dataclass
class Panels:
    """The walk, and the tree: panel k hangs by cut `by[k]` on panel `parent[k]`; panel 0 is met first.

    `first[k]` is the end of that cut met first. `bounds[k]` lists what bounds a panel: ("run", n) and ("cut", n), the
    cut with the end from which it is travelled.
    """

    steps: list[Step] = field(default_factory=list)
    parent: list[int] = field(default_factory=lambda: [-1])
    by: list[int] = field(default_factory=lambda: [-1])
    first: list[int] = field(default_factory=lambda: [0])
    bounds: list[list[tuple[str, int, int]]] = field(default_factory=lambda: [[]])

    def panel_of_runs(self) -> list[int]:
        """The panel of every run of the ring."""
        return [step.after for step in self.steps if step.run >= 0]


def divide_ring(count: int, cuts: Sequence[tuple[int, int]], names: Sequence[str]) -> Panels:
    """The panels of a ring of `count` runs; each cut joins the starts of two runs. Trouble when cuts cross."""
    panels = Panels()
    stack = [0]
    for run in range(count):
        _pass_cuts(panels, stack, run, cuts, names)
        panels.steps.append(Step(stack[-1], run=run))
        panels.bounds[stack[-1]].append(("run", run, 0))
    return panels


def _pass_cuts(
    panels: Panels, stack: list[int], run: int, cuts: Sequence[tuple[int, int]], names: Sequence[str]
) -> None:
    """Close the cuts that end before a run, innermost first; then open those that start there, the farthest first."""
    here = [k for k, ends in enumerate(cuts) if run in ends]
    for k in here:
        if cuts[k][0] == cuts[k][1]:
            raise Trouble(f"{names[k]} starts and ends at one place", "let it end elsewhere on the outline")
    closing = {k for k in here if min(cuts[k]) < run}
    while closing:
        k = panels.by[stack[-1]]
        if k not in closing:
            other = names[k]
            raise Trouble(
                f"{names[min(closing)]} and {other} cross", "cuts may not cross: order their ends alike on both edges"
            )
        child = stack.pop()
        closing.remove(k)
        panels.bounds[child].append(("cut", k, 1 - panels.first[child]))
        panels.steps.append(Step(stack[-1], cut=k, end=1 - panels.first[child], before=child))
    opening = sorted((k for k in here if min(cuts[k]) == run), key=lambda k: -max(cuts[k]))
    for k, other_cut in itertools.pairwise(opening):
        if cuts[k] in (cuts[other_cut], cuts[other_cut][::-1]):
            raise Trouble(f"{names[k]} and {names[other_cut]} are one and the same line", "leave one of them out")
    for k in opening:
        panels.parent.append(stack[-1])
        panels.by.append(k)
        panels.first.append(cuts[k].index(run))
        panels.bounds.append([])
        child = len(panels.parent) - 1
        panels.bounds[stack[-1]].append(("cut", k, panels.first[child]))
        panels.steps.append(Step(child, cut=k, end=panels.first[child], before=stack[-1]))
        stack.append(child)


def still_panel(piece: Piece, runs: Sequence[RingPart], panels: Panels, still: str | None) -> int:
    """The panel that stays: that of the edge `still`; by default that of the fold, else the one with most outline."""
    homes = panels.panel_of_runs()
    for name in (still, piece.fold):
        if name is None:
            continue
        found = {homes[k] for k, run in enumerate(runs) if name in run.side.names}
        if len(found) == 1:
            return found.pop()
        if name == still:
            why = "is cut" if found else "is no edge of the outline"
            raise Trouble(f"`{name}` {why}: it cannot stay as it is", "name an edge that lies on one panel")
    totals = [np.zeros(1) for _ in panels.parent]
    for k, run in enumerate(runs):
        totals[homes[k]] = totals[homes[k]] + length(run.side.drawn)
    outlines = np.stack(np.broadcast_arrays(*totals), axis=1)
    # Of two alike, as those of a symmetrical piece, the first stays: noise must not choose.
    return agree(np.argmax(outlines > outlines.max(axis=1, keepdims=True) - COINCIDE, axis=1))


def polygons(panels: Panels, runs: Sequence[RingPart], cuts: Sequence[Sequence[Reals]]) -> list[Shapes]:
    """The panels as polygons (L,), before they are moved. `cuts` are the points (L, 2) of each cut from its start."""
    flat = [flatten_fixed(run.side.drawn, CHORDS) for run in runs]
    made = []
    for bounds in panels.bounds:
        parts = []
        for kind, k, end in bounds:
            if kind == "run":
                parts.append(flat[k])
            else:
                points = [np.atleast_2d(point)[:, None] for point in cuts[k]]
                lanes = lane_count(*points)
                chain = np.concatenate([spread(point, lanes) for point in points], axis=1)
                parts.append(chain[:, ::-1] if end else chain)
        made.append(flat_ring(parts))
    return made


def home_of(shapes: Sequence[Shapes], point: Reals) -> NDArray[np.int64]:
    """The panel (..., L) on which points (..., L, 2) lie: the first that holds it; where none does, the nearest, and the first
    of those as near."""
    spots, *panels = np.broadcast_arrays(shapely.points(point), *shapes)
    for shape in shapes:
        shapely.prepare(shape)
    held = np.stack([shapely.dwithin(shape, spots, ON_EDGE) for shape in panels])
    home: NDArray[np.int64] = held.argmax(axis=0).astype(np.int64)
    beside = ~held.any(axis=0)
    if beside.any():
        away = np.stack([shapely.distance(shape[beside], spots[beside]) for shape in panels])
        home[beside] = np.argmin(np.round(away, 6), axis=0)
    return home


def motions_at(shapes: Sequence[Shapes], motions: Sequence[Motion], points: Sequence[Reals]) -> list[Motion]:
    """The motions, lane by lane, of the panels on which points (L, 2) lie."""
    if not points:
        return []
    lanes = np.broadcast_shapes(*(shape.shape for shape in shapes), *(point.shape[:1] for point in points))
    spots = np.stack([np.broadcast_to(point, (*lanes, 2)) for point in points])
    homes = home_of(shapes, spots)
    lanes = np.broadcast_shapes(lanes, *(motion.turn.shape for motion in motions))
    turns = np.stack([np.broadcast_to(motion.turn, lanes) for motion in motions])
    shifts = np.stack([np.broadcast_to(motion.shift, lanes) for motion in motions])
    row = np.arange(lanes[0])
    return [Motion(turns[home, row], shifts[home, row]) for home in np.broadcast_to(homes, (len(points), *lanes))]


@dataclass(eq=False)
class ThroughDart(Trouble):
    """A cut or line runs through the `dart`: a verb that can go through darts knows another way out."""

    dart: str = ""


def must_lie_on_cloth(piece: Piece, cuts: Sequence[Sequence[Reals]], names: Sequence[str]) -> None:
    """Trouble with lanes where a cut leaves the cloth, runs through a dart or crosses another cut."""
    cloth = _sound_cloth(piece)
    shapely.prepare(cloth)
    lines = [_line(points) for points in cuts]
    for points, drawn, name in zip(cuts, lines, names, strict=True):
        _must_miss_holes(piece, drawn, name)
        _must_miss_slits(piece, points, name)
        inside = np.broadcast_to(shapely.covers(cloth, drawn), np.broadcast(cloth, drawn).shape)
        off = ~inside
        if off.any():
            drawn, whole = np.broadcast_arrays(drawn, cloth)
            off[off] = shapely.length(shapely.difference(drawn[off], whole[off])) > SLACK
        if off.any():
            raise _off_cloth(piece, drawn, name, off)
    for k, drawn in enumerate(lines):
        for other in range(k):
            crossed = shapely.crosses(drawn, lines[other])
            if crossed.any():
                raise Trouble(f"{names[other]} and {names[k]} cross", "cuts may not cross", crossed)


def _sound_cloth(piece: Piece) -> Shapes:
    """Polygons (L,) of a piece; those whose outline touches itself, as a slit does, or crosses itself are mended."""
    flat = flat_sides(piece)
    cloth = flat_ring(list(flat.values()))
    touching = ~shapely.is_valid(cloth)
    if touching.any():
        whole = unslit(piece, flat) if piece.darts else None
        if whole is not None:
            cloth = np.where(touching & shapely.is_valid(whole), whole, cloth)
        at = np.flatnonzero(~shapely.is_valid(cloth))
        cloth[at] = _mended(cloth[at])
    return cloth


def _mended(shapes: Shapes) -> Shapes:
    """Polygons (L,) made sound. The quick way is good where the outline touches itself only: there the area stays."""
    made: Shapes = shapely.make_valid(shapes, method="structure")
    crossed = np.abs(shapely.area(made) - shapely.area(shapes)) > COINCIDE
    made[crossed] = shapely.make_valid(shapes[crossed])
    return made


def _line(points: Sequence[Reals]) -> Shapes:
    rows = np.broadcast_arrays(*(np.atleast_2d(point) for point in points))
    made: Shapes = shapely.linestrings(np.stack(rows, axis=1))
    return made


def _must_miss_holes(piece: Piece, drawn: Shapes, name: str) -> None:
    for hole in piece.holes:
        shape = flat_around(hole.sides)
        through = np.asarray(shapely.length(shapely.intersection(drawn, shapely.make_valid(shape))) > SLACK)
        if through.any():
            fix = f"open `{hole.name}` to an edge first, or leave it unsewn"
            raise ThroughDart(f"{name} runs through the dart `{hole.name}`, which has two ends", fix, through, dart=hole.name)


def _must_miss_slits(piece: Piece, points: Sequence[Reals], name: str) -> None:
    """Trouble where a cut runs through the slit below a dart that was opened to an edge."""
    for dart in piece.darts:
        lower = set(dart.leg_names[2:])
        for side in piece.ring:
            if not lower.intersection(side.names):
                continue
            inner = _line([_nearer(points[0], points[1]), *points[1:-1], _nearer(points[-1], points[-2])])
            through = np.atleast_1d(shapely.intersects(inner, _line(_corners(side))))
            if through.any():
                what = f"{name} runs through the dart `{dart.name}`"
                raise ThroughDart(what, _round(dart.name), through, dart=dart.name)


def _nearer(end: Reals, other: Reals) -> Reals:
    """The end of a cut drawn in by half the slack, so that a cut that starts on a leg does not cross it there."""
    return end + SLACK / 2.0 * unit(other - end)


def _corners(side: Side) -> list[Reals]:
    flat = flatten_fixed(side.drawn, CHORDS)
    return [flat[:, k] for k in range(flat.shape[1])]


def _round(dart: str) -> str:
    return f"leave `{dart}` unsewn first, or start from the leg of it that lies nearer to where the cut ends"


def _off_cloth(piece: Piece, drawn: Shapes, name: str, off: NDArray[np.bool_]) -> Trouble:
    """The trouble with a cut that leaves the cloth: of the lanes where it runs through a dart, or else of all."""
    fix = "move an end of it"
    for dart in piece.darts:
        legs = set(dart.leg_names)
        parts = [flatten_fixed(side.drawn, 2) for side in piece.ring if legs.intersection(side.names)]
        through = off & shapely.crosses(drawn, shapely.boundary(flat_ring(parts)))
        if through.any():
            return ThroughDart(f"{name} runs through the dart `{dart.name}`", fix, through, dart=dart.name)
    return Trouble(f"{name} leaves the cloth", fix, off)
