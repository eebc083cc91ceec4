"""Inner lines and points of a piece, each drawn by its sign: what is placed, buttoned, drilled, folded or slit there."""

from __future__ import annotations

import numpy as np
import shapely

from ..finish.finished import FinishedPiece
from ..finish.stated import HEMS, allowance_of
from ..geometry.length import direction_at, length, nearest, point_at
from ..geometry.path import Path, flatten_fixed
from ..geometry.tolerances import COINCIDE
from ..pattern.flat import flat_around
from ..pattern.piece import Piece, Side, Sign
from .marks import Curve, Layer, Line, Mark, Reals
from .signs import across, button, buttonhole, drill_hole

LAYERS: dict[str, Layer] = {"": "guide", "fold": "hem_fold", "slit": "cut"}
"""The layer of a line by the kind of its sign, none of one that only guides, as a centre; all others lie on `inner`."""

SLIT_END = 4.0
"""Length of the bar across the end of a slit, mm."""

MEETS = 0.3
"""A slit runs out of the piece where it meets an edge at more than this (the sine of the angle); else it runs along it."""

GRAIN_LONG = 100.0
"""A line shorter than this (mm) is no crease: the grain is not laid to the cloth's edge by it."""

GRAIN_SHARE = 0.5
"""Nor is one that runs through less of the piece than this share, as the side of a box that is stitched round a slit."""

NEAR = 0.5
"""How near (mm) to an edge a slit ends that ends on it."""


def named_lines(piece: Piece) -> tuple[str, ...]:
    """Inner lines whose names are written along them: those without a sign by their own, a placement or slit by its one name."""
    names: dict[str, None] = {}
    for side in piece.lines:
        sign = piece.sign_of(side)
        if sign is None and not _under_another(piece, side):
            names[side.names[-1]] = None
        elif sign is not None and sign.kind in ("placement", "slit") and "." not in side.names[0]:
            names[side.names[0]] = None
    return tuple(names)


def line_marks(piece: Piece) -> list[Mark]:
    """Inner lines but levels of the body; of one that slashing broke, the parts on the panel with the longest: the others
    point nowhere now."""
    marks: list[Mark] = []
    for side in piece.lines:
        sign = piece.sign_of(side)
        level = sign is not None and sign.kind == "level"  # drawn for itself, round the words
        if not level and _guides(piece, side) and not _under_another(piece, side):
            marks += _line(piece, side, sign)
    return marks


def grain_line(piece: Piece, way: Reals) -> tuple[Reals, Reals] | None:
    """Ends (2,) of the longest straight line with a name that runs as the grain does, as a crease, or None: the grain is drawn
    on it. Not where it is folded, slit, or buttoned."""
    found: list[tuple[Reals, Reals]] = []
    ring = np.concatenate([flatten_fixed(side.drawn, 8)[0] for side in piece.ring])
    least = max(GRAIN_LONG, GRAIN_SHARE * float(np.ptp(ring @ way)))
    for side in (side for name in named_lines(piece) for side in piece.sides(name)):
        sign, start, end = piece.sign_of(side), side.drawn.start[0], side.drawn.end[0]
        runs_so = all(side.drawn.straight) and abs(float(across(way) @ (end - start))) < NEAR
        plain = (sign is None or sign.kind == "placement") and not _buttons_on(piece, side.drawn)
        if plain and runs_so and float(np.linalg.norm(end - start)) > least:
            found.append((start, end) if (end - start) @ way > 0.0 else (end, start))
    return max(found, key=lambda ends: float(np.linalg.norm(ends[1] - ends[0])), default=None)


def _buttons_on(piece: Piece, path: Path) -> bool:
    points = (piece.points.get(name) for name, sign in piece.signs.items() if sign.kind == "button")
    return any(point is not None and float(nearest(path, point)[1][0]) <= NEAR for point in points)


def slits_at(piece: Piece, edge: str) -> list[float]:
    """Where slits run out through an edge, so far (mm) along it as its ring runs."""
    found: list[float] = []
    for side in piece.lines:
        sign = piece.sign_of(side)
        if sign is None or sign.kind != "slit" or _is_in_seam(piece, side.drawn):
            continue
        before = 0.0
        for part in piece.sides(edge):
            for point, _ in _ends(side.drawn):
                at, away = nearest(part.drawn, point[None])
                found += [before + float(at[0])] if away[0] <= NEAR else []
            before += float(length(part.drawn)[0])
    return found


def slits_through(cloth: FinishedPiece) -> list[Mark]:
    """What slits that run out of a piece of one lane cut of its allowance."""
    piece, marks = cloth.piece, list[Mark]()
    ring = shapely.linearrings(cloth.cut[0])
    for side in piece.lines:
        sign = piece.sign_of(side)
        if sign is None or sign.kind != "slit" or not _guides(piece, side) or _is_in_seam(piece, side.drawn):
            continue
        for point, way in _ends(side.drawn):
            on = _runs_out(piece, point, way)
            if on is None:
                continue
            reach = float(np.ptp(cloth.cut[0], axis=0).sum())
            met = shapely.get_coordinates(shapely.intersection(ring, shapely.linestrings([point, point + reach * on])))
            if len(met):
                last = min(met, key=lambda one: float(np.linalg.norm(one - point)))
                marks.append(Line("cut", np.stack([point, last]), source=side.names[-1]))
    return marks


def _runs_out(piece: Piece, point: Reals, way: Reals) -> Reals | None:
    """The direction (2,) in which a slit that ends at a point, going `way`, goes on through the allowance there: straight, but
    mirrored at a hem, which is turned up over the cloth; None where it ends inside the piece or along an edge."""
    best, found = MEETS, None
    for side in piece.ring:
        at, away = nearest(side.drawn, point[None])
        along = direction_at(side.drawn, at)[0]
        out = -across(along)
        if away[0] <= NEAR and float(way @ out) > best:
            hem = allowance_of(piece, side).corner in HEMS
            best, found = float(way @ out), (way @ out) * out - (way @ along) * along if hem else way
    return found


def _is_in_seam(piece: Piece, path: Path) -> bool:
    """Whether a slit lies along an edge: it is left unsewn there, not cut."""
    middle = point_at(path, length(path) / 2)
    return any(bool((nearest(side.drawn, middle)[1] <= NEAR).all()) for side in piece.ring)


def _line(piece: Piece, side: Side, sign: Sign | None) -> list[Mark]:
    path, source = side.drawn, side.names[-1]
    if sign is not None and sign.kind == "buttonhole":
        return buttonhole(path.start[0], path.end[0], source)
    layer = LAYERS.get("" if sign is None else sign.kind, "inner")
    if sign is not None and sign.kind == "slit" and _is_in_seam(piece, path):
        return [_bar("inner", point, way, source) for point, way in _ends(path) if _runs_out(piece, point, way) is None]
    marks: list[Mark] = [Curve(layer, path.controls[0], path.straight, source)]
    if sign is not None and sign.kind == "slit":
        marks += [_bar("cut", point, way, source) for point, way in _ends(path) if _runs_out(piece, point, way) is None]
    return marks


def _ends(path: Path) -> list[tuple[Reals, Reals]]:
    """Points (2,) and directions (2,), away from the path, at both ends."""
    ends = ((np.zeros(1), -1.0), (length(path), 1.0))
    return [(point_at(path, at)[0], sense * direction_at(path, at)[0]) for at, sense in ends]


def _bar(layer: Layer, point: Reals, way: Reals, source: str) -> Mark:
    arm = across(way) * SLIT_END / 2
    return Line(layer, np.stack([point - arm, point + arm]), source=source)


def _guides(piece: Piece, side: Side) -> bool:
    parts = [other for other in piece.lines if other.names[-1] == side.names[-1]]
    longest = max(parts, key=lambda other: float(length(other.drawn)[0]))
    return bool(abs(side.turn[0] - longest.turn[0]) < COINCIDE)


def _under_another(piece: Piece, side: Side) -> bool:
    """Whether a line without a sign lies under one that has one, as a centre on which a pleat is folded: that one is drawn."""
    if piece.sign_of(side) is not None:
        return False
    points = (side.drawn.start, point_at(side.drawn, length(side.drawn) / 2), side.drawn.end)
    signs = ((other.drawn, piece.sign_of(other)) for other in piece.lines)
    signed = [path for path, sign in signs if sign is not None and sign.kind != "level"]
    return any(all(nearest(path, point)[1][0] <= NEAR for point in points) for path in signed)


def landmarks_of(piece: Piece) -> dict[str, Reals]:
    """Points (2,) on the cloth of a piece of one lane that a style has given a name and no sign, each once."""
    cloth = shapely.buffer(flat_around(piece.ring)[0], NEAR)
    found: dict[str, Reals] = {}
    for name, point in piece.points.items():
        if point is None or "." in name or name in piece.signs or not shapely.contains_xy(cloth, *point[0]):
            continue
        if not any(np.linalg.norm(point[0] - other) < NEAR for other in found.values()):
            found[name] = point[0]
    return found


def point_marks(piece: Piece) -> list[Mark]:
    """Points that have a sign: buttons and drill holes."""
    marks: list[Mark] = []
    for name, sign in piece.signs.items():
        point = piece.points.get(name)
        if point is not None and sign.kind == "button":
            marks += button(point[0], name)
        elif point is not None and sign.kind == "drill":
            marks += drill_hole(point[0], name)
    return marks


def set_back(piece: Piece, dart: str, usual: float) -> float:
    """How far back from its apex (mm) a dart is drilled: as stated, or as usual."""
    sign = piece.signs.get(dart)
    return usual if sign is None or sign.size is None else float(sign.size[0])
