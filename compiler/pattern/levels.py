"""Levels: lines of the body on a piece, as bust, waist or hip, carried by its cloth; along them the garment is measured.

A level lies on the cloth in parts: what a dart takes out of it is no part. Its parts are inner lines of one name in their
order; where a piece is slashed open or a dart is left unsewn, what lies between two parts is garment too. An edge may be a
level as well, as the waistline of a bodice is.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import shapely

from ..geometry.crossing import paths
from ..geometry.lanes import agree, norm
from ..geometry.length import length, nearest
from ..geometry.meet import lines
from ..geometry.path import Path, chain, flatten_fixed, line
from ..geometry.tolerances import COINCIDE, ON_JOINT
from .edges import edge_from, edge_path
from .marks import OFF_CLOTH, must_be_new
from .panels import Shapes, flat_ring
from .piece import Piece, Reals, Side, Sign, Trouble
from .ring import Run, row_keys, split

NARROW = 0.1
"""A dart that takes less than this (mm) out of a level does not break it: its apex may lie on the level itself."""

PER_CURVE = 32
"""Chords for a curved span: a hip curve is followed to 0.05 mm, a tenth of what a tape tells."""


def with_level(piece: Piece, called: str, path: Path | None, ends: tuple[str, str]) -> Piece:
    """The piece with a level along a path (L), None in a sketch. `ends` are the edges it runs from and to.

    Trouble with lanes where it does not reach them.
    """
    must_be_new(piece, called)
    parts = [Side((called,), path)]
    if path is not None:
        _must_reach(piece, called, path, ends)
        parts = _on_cloth(piece, parts[0])
    signs = MappingProxyType({**piece.signs, called: Sign("level", level=called)})
    return replace(piece, lines=(*piece.lines, *parts), signs=signs)


def with_level_edge(piece: Piece, called: str, edge: str, ends: tuple[str, str]) -> Piece:
    """The piece with an edge that is a level, as the waistline of a bodice: it stays so whatever becomes of the edge.

    Trouble where it does not run from one of the edges `ends` to the other.
    """
    if edge_from(piece, edge, ends[0]) == edge_from(piece, edge, ends[1]):
        raise Trouble(f"`{edge}` meets `{ends[0]}` and `{ends[1]}` at one end", "name the edges it runs between")
    return replace(piece, signs=MappingProxyType({**piece.signs, edge: Sign("level", level=called)}))


def _must_reach(piece: Piece, called: str, path: Path, ends: tuple[str, str]) -> None:
    for edge, tip in zip(ends, (path.start, path.end), strict=True):
        away = _away(edge_path(piece, edge), tip)
        if (off := away > OFF_CLOTH).any():
            fix = f"draw it from `{ends[0]}` to `{ends[1]}`, or name the edges it runs from and to"
            raise Trouble(f"the level `{called}` does not reach `{edge}`", fix, off, {f"away from {edge}": away})


def _away(edge: Sequence[Path], point: Reals) -> Reals:
    """How far (L,) mm a point (L, 2) lies from an edge."""
    return np.asarray(np.stack(np.broadcast_arrays(*(nearest(path, point)[1] for path in edge))).min(axis=0))


def _on_cloth(piece: Piece, side: Side) -> list[Side]:
    """A level in its parts, without what darts take out of it. Raises Disagreement where lanes meet other darts."""
    gaps = [gap for sides in _darts(piece) if (gap := _gap(side.drawn, *sides)) is not None]
    if not gaps:
        return [side]
    total = length(side.drawn)
    ends = np.any([(low <= COINCIDE) | (high >= total - COINCIDE) for low, high in gaps], axis=0)
    if ends.any():
        raise Trouble(f"the level `{side.edge}` ends in a dart", "let the dart stand elsewhere, or measure the body again", ends)
    starts = np.stack(np.broadcast_arrays(*(low for low, _ in gaps)), axis=1)
    order = np.argsort(starts, axis=1, kind="stable")
    agree(row_keys(order))
    parts, rest, passed = [], Run(side), np.zeros(1)
    for low, high in (gaps[k] for k in order[0]):
        before, rest = split(rest, low - passed)
        _, rest = split(rest, high - low)
        parts.append(before.side)
        passed = high
    return [*parts, rest.side]


def _darts(piece: Piece) -> list[tuple[Path, Path]]:
    """The two sides of each dart; of one with two ends each from its upper to its lower apex, as a level may run through both
    a lower leg and the upper leg across from it."""
    made = [(piece.sides(dart.first)[0].drawn, piece.sides(dart.second)[0].drawn) for dart in piece.darts]
    for hole in piece.holes:
        legs = {side.edge.removeprefix(f"{hole.name}."): side.drawn for side in hole.sides}
        one, two = ([legs[f"{leg}_leg"], legs[f"lower_{leg}_leg"]] for leg in ("inner", "outer"))
        made.append((_run_on(*one), _run_on(*two)))
    return made


def _run_on(upper: Path, lower: Path) -> Path:
    """Two legs that meet as one path from apex to apex, whichever way each is drawn."""
    meets = bool((norm(upper.end - lower.start) <= norm(upper.start - lower.end)).all())
    return chain([upper, lower]) if meets else chain([lower, upper])


def _gap(level: Path, one: Path, other: Path) -> tuple[Reals, Reals] | None:
    """From where to where (L,) mm along a level a dart takes cloth out; None where it takes out nothing worth a break."""
    a, b = _met(level, one), _met(level, other)
    if not agree((np.nan_to_num(np.abs(a - b)) > NARROW).astype(np.int64)):
        return None
    return np.fmin(a, b), np.fmax(a, b)


def _met(level: Path, side: Path) -> Reals:
    """How far (L,) mm along a level it meets a side of a dart, NaN where it does not. Mostly both are straight."""
    if level.straight != (True,) or not all(side.straight):
        return paths(level, side)[0]
    way = level.end - level.start
    first: Reals = np.full(1, np.nan)
    for k in range(side.spans):
        foot = side.controls[:, k, 0]
        _, t, u, ok = lines(level.start, way, foot, side.controls[:, k, 3] - foot)
        met = ok & (np.minimum(t, u) >= -ON_JOINT) & (np.maximum(t, u) <= 1.0 + ON_JOINT)
        first = np.fmin(first, np.where(met, t, np.nan))
    return first * norm(way)


def levels_of(piece: Piece) -> tuple[str, ...]:
    """The levels a piece, or its sketch, has."""
    drawn = {name for side in (*piece.lines, *piece.ring) for name in side.names}
    return tuple(dict.fromkeys(s.level for name, s in piece.signs.items() if s.kind == "level" and name in drawn))


def level_length(piece: Piece, level: str) -> Reals:
    """How much garment (L,) mm lies along a level of a piece, darts and pleats as sewn; nothing where it has no such level."""
    names = [name for name, sign in piece.signs.items() if sign.kind == "level" and sign.level == level]
    edges = [side.drawn for side in piece.ring if not side.folded and set(names).intersection(side.names)]
    total: Reals = np.asarray(sum((length(path) for path in edges), np.zeros(1)))
    runs = [[side.drawn for side in piece.lines if name in side.names] for name in names]
    if not any(runs):
        return total
    cloth, wider = _cloth(piece)
    folds = [side.drawn for side in piece.lines if any(_is_fold(piece, name) for name in side.names)]
    for run in runs:
        for path in run:
            total = total + _inside(path, wider)
        for one, other in itertools.pairwise(run):
            total = total + _between(one.end, other.start, cloth, folds)
    return total


def _is_fold(piece: Piece, name: str) -> bool:
    return name in piece.signs and piece.signs[name].kind == "fold"


def _cloth(piece: Piece) -> tuple[Shapes, Shapes]:
    """The piece as polygons (L,), two-ended darts taken out; and as much wider as a point on its edge may lie off it. Worked
    out once for all levels of a piece."""
    if "cloth" not in piece.memo:
        cloth = _polygons(piece)
        wider = shapely.buffer(cloth, OFF_CLOTH, quad_segs=1)
        shapely.prepare(wider)
        piece.memo["cloth"] = (cloth, wider)
    made: tuple[Shapes, Shapes] = piece.memo["cloth"]
    return made


def _polygons(piece: Piece) -> Shapes:
    shapes = shapely.make_valid(flat_ring([flatten_fixed(side.drawn, PER_CURVE) for side in piece.ring]))
    for hole in piece.holes:
        taken = flat_ring([flatten_fixed(side.drawn, PER_CURVE) for side in hole.sides])
        shapes = shapely.difference(shapes, shapely.make_valid(taken))
    made: Shapes = shapes
    return made


def _inside(path: Path, cloth: Shapes) -> Reals:
    """Length (L,) of what lies on the cloth of a part of a level."""
    drawn, cloth = np.broadcast_arrays(shapely.linestrings(flatten_fixed(path, PER_CURVE)), cloth)
    over, off = np.zeros(drawn.shape), ~shapely.covers(cloth, drawn)
    over[off] = shapely.length(shapely.difference(drawn[off], cloth[off]))
    return np.asarray(length(path) - over)


def _between(a: Reals, b: Reals, cloth: Shapes, folds: Sequence[Path]) -> Reals:
    """Length (L,) of the cloth between two parts of a level (L, 2) each: a gap that was opened, or a dart left unsewn.

    Nothing where the parts end on the outline, as at a dart that is sewn, or where a pleat folds the cloth away.
    """
    bridge = line(a, b)
    rim, ends = shapely.boundary(cloth), (shapely.points(a), shapely.points(b))
    loose = np.all([shapely.covers(cloth, end) & (shapely.distance(rim, end) > OFF_CLOTH) for end in ends], axis=0)
    counted = np.where(loose, shapely.length(shapely.intersection(shapely.linestrings(flatten_fixed(bridge)), cloth)), 0.0)
    for fold in folds:
        counted = np.where(paths(bridge, fold)[3], 0.0, counted)
    return np.asarray(counted)
