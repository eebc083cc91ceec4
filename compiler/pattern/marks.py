"""Marks on a piece: buttons and buttonholes spaced along an edge or a line, lines drawn on it, another piece's place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.lanes import agree, left_of
from ..geometry.length import direction_at, length, nearest, point_at
from ..geometry.motion import apply_path, rotation, then, translation
from ..geometry.path import CHORDS, Path, chain, flatten_fixed, line
from ..geometry.tolerances import COINCIDE
from .edges import edge_from, edge_path
from .flat import flat_around
from .piece import Notch, Piece, Reals, Side, Sign, SignKind, Trouble
from .spacing import About

OFF_CLOTH = 0.5
"""A mark may lie this far (mm) outside the sewing line: the width of a pencil line."""

CLEAR = 10.0
"""A slit that ends less than this (mm) from a corner ends at the corner: a notch there would tell nothing."""


@dataclass(frozen=True)
class Spacing:
    """How marks are spaced on an edge or inner line: `many` of them from the end that `mark` touches.

    The first and the last lie `first` and `last` (L,) mm from the ends, the others evenly between; with `through`, a point,
    one lies next to it, those before it are spaced evenly, and those after it as far apart. `inset` (L,) is how far they
    lie inside the edge.
    """

    edge: str
    mark: str
    many: int | About
    first: Reals
    last: Reals
    inset: Reals
    through: str | None = None


@dataclass(frozen=True)
class MarkPlace:
    """Where a mark lies (L, 2), and the unit direction (L, 2) in which the marks follow each other there."""

    at: Reals
    onward: Reals


def places(piece: Piece, spacing: Spacing) -> list[MarkPlace]:
    """The places of marks on cloth, in order. Trouble where they do not fit; Disagreement where lanes run otherwise."""
    name = spacing.edge
    path, on_ring = chain(edge_path(piece, name)), bool(piece.run(name))
    if not on_ring and (spacing.inset != 0.0).any():
        raise Trouble(f"`{name}` is a line inside the piece: nothing is set in from it", "leave `inset_by` out")
    from_start = edge_from(piece, name, spacing.mark) == "start"
    total = length(path)
    made = []
    for mark in _marks(piece, path, spacing, from_start):
        off = (mark < -COINCIDE) | (mark > total + COINCIDE)
        if off.any():
            figures = {f"length of {name}": total, "asked": mark}
            raise Trouble(f"the marks do not fit on `{name}`", "take fewer of them, or begin nearer its end", off, figures)
        along = np.clip(mark if from_start else total - mark, 0.0, total)
        way = direction_at(path, along)
        at = point_at(path, along) + spacing.inset[:, None] * left_of(way)
        made.append(MarkPlace(at, way if from_start else -way))
    return made


def _marks(piece: Piece, path: Path, spacing: Spacing, from_start: bool) -> list[Reals]:
    """Distances (L,) mm from the end."""
    total = length(path)
    if spacing.many == 1:
        return [spacing.first]
    room = total - spacing.first - spacing.last
    short = ~(room > COINCIDE)
    if short.any():
        figures = {f"length of {spacing.edge}": total, "first": spacing.first, "last": spacing.last}
        least = spacing.many if isinstance(spacing.many, int) else 2
        raise Trouble(f"`{spacing.edge}` has no room for {least}", "take less from its ends", short, figures)
    count = spacing.many if isinstance(spacing.many, int) else spacing.many.spaces(room, spacing.edge, 1) + 1
    apart = room / (count - 1)
    if spacing.through is not None:
        point = piece.points[spacing.through]
        assert point is not None
        along = nearest(path, point)[0]
        reach = (along if from_start else total - along) - spacing.first
        beyond = (reach < -COINCIDE) | (reach > total - spacing.first - spacing.last + COINCIDE)
        if beyond.any():
            where = {f"to {spacing.through}": reach + spacing.first, "first": spacing.first}
            raise Trouble(f"`{spacing.through}` lies beyond the first or the last", "begin or end elsewhere", beyond, where)
        # Never further apart than evenly spaced, so that the last stays where it was asked or nearer.
        apart = np.where(reach > COINCIDE, reach / np.maximum(np.ceil(reach / apart - COINCIDE), 1.0), apart)
    return [spacing.first + k * apart for k in range(count)]


def unsure_from(piece: Piece, called: str, sure: int, most: int) -> Piece:
    """The sketch of a piece with marks `CALLED.k1` to `CALLED.k…most`, of which not every body has more than `sure`."""
    return replace(piece, uncertain=piece.uncertain | {f"{called}.k{k}" for k in range(sure + 1, most + 1)})


def with_points(piece: Piece, called: str, found: Sequence[MarkPlace] | int, kind: SignKind) -> Piece:
    """The piece with a point `CALLED.kN` for each place, drawn as `kind`; in a sketch, for so many."""
    must_be_new(piece, called)
    count = found if isinstance(found, int) else len(found)
    points: dict[str, Reals | None] = dict.fromkeys(f"{called}.k{k + 1}" for k in range(count))
    if not isinstance(found, int):
        points = {name: place.at for name, place in zip(points, found, strict=True)}
        _must_hold(piece, called, [place.at[:, None] for place in found])
    signs = {name: Sign(kind) for name in points}
    return replace(
        piece,
        points=MappingProxyType({**piece.points, **points}),
        signs=MappingProxyType({**piece.signs, **signs}),
    )


def with_lines(piece: Piece, called: str, lines: Mapping[str, Path | None], kind: SignKind, size: Reals | None = None) -> Piece:
    """The piece with inner lines: each answers to its own name after `called` and a dot, and all to `called`."""
    must_be_new(piece, called)
    made = tuple(Side((called, f"{called}.{name}") if name else (called,), path) for name, path in lines.items())
    _must_hold(piece, called, [flatten_fixed(path, CHORDS) for path in lines.values() if path is not None])
    return replace(piece, lines=(*piece.lines, *made), signs=MappingProxyType({**piece.signs, called: Sign(kind, size)}))


def with_slit(piece: Piece, called: str, path: Path | None) -> Piece:
    """The piece with a slit: an inner line, and where it lies along an edge a notch at each end at which that is sewn on."""
    made = with_lines(piece, called, {"": path}, "slit")
    return made if path is None else replace(made, notches=(*made.notches, *_seam_ends(piece, path)))


def _seam_ends(piece: Piece, path: Path) -> list[Notch]:
    """Notches at the ends of a slit that lies along an edge, but for those at its corners; a fold has none."""
    middle = point_at(path, length(path) / 2)
    sides = {i: side for i, side in enumerate(piece.ring) if i not in piece.dart_sides() and side.edge != piece.fold}
    edges = {side.edge for side in sides.values() if _agreed(nearest(side.drawn, middle)[1] <= OFF_CLOTH)}
    found = []
    for i, side in sides.items():
        for end in (path.start, path.end) if side.edge in edges else ():
            at, away = nearest(side.drawn, end)
            clear = (at >= CLEAR) & (at <= length(side.drawn) - CLEAR)
            if _agreed((away <= OFF_CLOTH) & clear):
                found.append(Notch(i, at, stated=True))
    return found


def _agreed(flags: NDArray[np.bool_]) -> bool:
    """What all lanes say; Disagreement where they differ."""
    return bool(agree(flags.astype(np.int64)))


def holes(
    piece: Piece, found: Sequence[MarkPlace], long: Reals, beyond: Reals, toward: str | None, spacing: Spacing
) -> list[Path]:
    """Buttonholes of a length (L,) at places, each beginning `beyond` (L,) mm past its place.

    With `toward`, an edge, they lie square to the line they stand on and begin on the side of that edge; without, they lie
    along it and begin on the side that is measured from. The button lies `beyond` from the end of its hole: there it is pulled.
    """
    made = []
    for place in found:
        out = -place.onward
        if toward is not None:
            across = left_of(place.onward)
            at, _ = nearest(chain(edge_path(piece, toward)), place.at)
            spot = point_at(chain(edge_path(piece, toward)), at)
            if toward == spacing.edge and not (spacing.inset > COINCIDE).all():
                raise Trouble("a buttonhole on the very edge would be cut into it", "set it in with `inset_by`")
            out = np.where(np.sum((spot - place.at) * across, axis=1)[:, None] > 0.0, across, -across)
        made.append(line(place.at + beyond[:, None] * out, place.at - (long - beyond)[:, None] * out))
    return made


def laid(other: Piece, by: Reals, at: Reals, turned: Reals) -> dict[str, Path | None]:
    """The outline of another piece, without its darts, moved so that its point `by` (L, 2) lies at `at` (L, 2), turned
    anticlockwise by an angle (L,); by edge, `EDGE` or, of several sides, `EDGE.partN`."""
    motion = then(rotation(by, turned), translation(at - by))
    return {name: apply_path(motion, path) for name, path in _outline_of(other).items() if path is not None}


def laid_names(other: Piece) -> dict[str, Path | None]:
    """The names `laid` gives."""
    return dict.fromkeys(_outline_of(other))


def _outline_of(piece: Piece) -> dict[str, Path | None]:
    """A path for each edge of the outline, darts left out; an edge in several runs is drawn as one path with them all."""
    legs = piece.dart_sides()
    edges = dict.fromkeys(side.edge for i, side in enumerate(piece.ring) if i not in legs)
    return {edge: None if piece.is_sketch else chain(edge_path(piece, edge)) for edge in edges}


def must_be_new(piece: Piece, name: str) -> None:
    """Trouble where a piece has something of this name already."""
    heads = {known.split(".")[0] for known in (*piece.edge_names(), *piece.dart_names(), *piece.points)}
    if name in heads:
        raise Trouble(f"there is a `{name}` already", "call it something else with `called`")


def _must_hold(piece: Piece, name: str, runs: Sequence[Reals]) -> None:
    """Trouble where points (L, n, 2) do not lie on the cloth, with the edge they lie beyond and how far."""
    if piece.is_sketch:
        return
    cloth = shapely.buffer(flat_around(piece.ring), OFF_CLOTH)
    for points in runs:
        away = np.atleast_2d(shapely.distance(cloth[:, None], shapely.points(points)))
        if not (away > 0.0).any():
            continue
        off = away.max(axis=1) > 0.0
        farthest = np.take_along_axis(points, away.argmax(axis=1)[:, None, None], axis=1)[:, 0]
        gaps = {edge: nearest(chain(edge_path(piece, edge)), farthest)[1] for edge in _outline_of(piece)}
        nearest_edge = np.argmin(np.stack(np.broadcast_arrays(*gaps.values()), axis=1), axis=1)
        edge = list(gaps)[agree(nearest_edge, off)]
        beyond = {f"beyond `{edge}` by": gaps[edge]}
        raise Trouble(f"`{name}` does not lie on the piece", "set it in further, or place it elsewhere", off, beyond)
