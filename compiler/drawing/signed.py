"""Inner lines and points of a piece, each drawn by its sign: what is placed, buttoned, drilled, folded or slit there."""

from __future__ import annotations

import numpy as np

from ..geometry.length import direction_at, length, point_at
from ..geometry.path import Path
from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Piece, Side, Sign
from .marks import Curve, Layer, Line, Mark, Reals
from .signs import across, button, buttonhole, drill_hole

LAYERS: dict[str, Layer] = {"fold": "hem_fold", "slit": "cut"}
"""The layer of a line by the kind of its sign; all others lie on `inner`."""

SLIT_END = 4.0
"""Length of the bar across the end of a slit, mm."""


def sign_of(piece: Piece, side: Side) -> Sign | None:
    """The sign of an inner line: by its most special name that has one."""
    return next((piece.signs[name] for name in reversed(side.names) if name in piece.signs), None)


def named_lines(piece: Piece) -> tuple[str, ...]:
    """Inner lines whose names are written along them: those without a sign by their own, a placement or slit by its one name."""
    names: dict[str, None] = {}
    for side in piece.lines:
        sign = sign_of(piece, side)
        if sign is None:
            names[side.names[-1]] = None
        elif sign.kind in ("placement", "slit") and "." not in side.names[0]:
            names[side.names[0]] = None
    return tuple(names)


def line_marks(piece: Piece) -> list[Mark]:
    """Inner lines; of one that slashing broke, the parts on the panel with the longest: the rest point nowhere now."""
    marks: list[Mark] = []
    for side in piece.lines:
        if _guides(piece, side):
            marks += _line(side, sign_of(piece, side))
    return marks


def _line(side: Side, sign: Sign | None) -> list[Mark]:
    path, source = side.drawn, side.names[-1]
    if sign is not None and sign.kind == "buttonhole":
        return buttonhole(path.start[0], path.end[0], source)
    layer = LAYERS.get(sign.kind, "inner") if sign is not None else "inner"
    marks: list[Mark] = [Curve(layer, path.controls[0], path.straight, source)]
    if sign is not None and sign.kind == "slit":
        marks += [_bar(point, way, source) for point, way in _ends(path)]
    return marks


def _ends(path: Path) -> list[tuple[Reals, Reals]]:
    """Points (2,) and directions (2,) at both ends."""
    total = length(path)
    return [(point_at(path, at)[0], direction_at(path, at)[0]) for at in (np.zeros(1), total)]


def _bar(point: Reals, way: Reals, source: str) -> Mark:
    arm = across(way) * SLIT_END / 2
    return Line("cut", np.stack([point - arm, point + arm]), source=source)


def _guides(piece: Piece, side: Side) -> bool:
    parts = [other for other in piece.lines if other.names[-1] == side.names[-1]]
    longest = max(parts, key=lambda other: float(length(other.drawn)[0]))
    return bool(abs(side.turn[0] - longest.turn[0]) < COINCIDE)


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
