"""Pieces the tests of this room work on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from godet.geometry.curve import bowed
from godet.geometry.motion import Motion, apply_path, apply_points
from godet.geometry.path import Path, line, ring_area
from godet.pattern.outline import outline
from godet.pattern.piece import Hole, Piece, Reals, Side

# Body B of the worked bodice block (bodice_block.toml), front half, centimetres.
FRONT_B = {
    "waist_centre": (0.0, -19.0),
    "neck_centre": (0.0, 15.070),
    "neck_point": (6.333, 23.848),
    "shoulder_point": (17.923, 19.165),
    "upper": (18.0, 7.167),
    "bust_point": (9.25, -4.0),
    "lower": (21.484, 3.183),
    "underarm": (26.0, 0.0),
    "side_waist": (24.55, -19.0),
}

FRONT_EDGES = [
    ("waistline", "waist_centre", "side_waist"),
    ("side", "side_waist", "underarm"),
    ("armhole", "underarm", "lower"),
    ("bust_dart.outer_leg", "lower", "bust_point"),
    ("bust_dart.inner_leg", "bust_point", "upper"),
    ("armhole", "upper", "shoulder_point"),
    ("shoulder", "shoulder_point", "neck_point"),
    ("neckline", "neck_point", "neck_centre"),
    ("centre", "neck_centre", "waist_centre"),
]


def front(sizes: Sequence[float] = (1.0,), cloth: bool = True) -> Piece:
    """The front of body B with its armhole dart, straight outline, once for each size factor; mm."""
    factors = 10.0 * np.asarray(sizes)[:, None]
    spots = {name: factors * np.array([p]) for name, p in FRONT_B.items()}
    # The printed end of the dart is rounded to 0.001 cm: put it exactly as far from the apex as the upper end.
    arm = spots["lower"] - spots["bust_point"]
    long = np.linalg.norm(spots["upper"] - spots["bust_point"], axis=1)
    spots["lower"] = spots["bust_point"] + arm * (long / np.linalg.norm(arm, axis=1))[:, None]
    edges = [(name, line(spots[a], spots[b]) if cloth else None, a, b) for name, a, b in FRONT_EDGES]
    points = {"bust_point": spots["bust_point"] if cloth else None}
    return outline(edges, legs=[("bust_dart", "armhole")], fold="centre", worn="right", points=points)


def skirt(widths: Sequence[float], long: float = 600.0, sag: float = 20.0, cloth: bool = True) -> Piece:
    """A half skirt with a bowed waist and hem, fold at x = 0."""
    wide = np.asarray(widths, dtype=float)
    zero = np.zeros_like(wide)
    a, b = np.stack([zero, zero], axis=1), np.stack([wide * 1.2, zero + 15.0], axis=1)
    c, d = np.stack([wide, zero + long], axis=1), np.stack([zero, zero + long], axis=1)
    depth = np.full_like(wide, sag)
    paths: list[Path | None] = [bowed(a, b, -depth), line(b, c), bowed(c, d, depth * 0.5), line(d, a)]
    if not cloth:
        paths = [None] * 4
    names = ["hem", "side", "waistline", "centre"]
    return outline(
        [(n, p, k, (k + 1) % 4) for k, (n, p) in enumerate(zip(names, paths, strict=True))], fold="centre", worn="left"
    )


def lanes(*values: float) -> Reals:
    """An array of lanes."""
    return np.array(values)


def area(piece: Piece) -> Reals:
    """Area (L,) mm2 within the ring."""
    return ring_area([side.drawn for side in piece.ring])


def moved(piece: Piece, motion: Motion) -> Piece:
    """The whole draft moved; it keeps its names."""

    def sides(old: tuple[Side, ...]) -> tuple[Side, ...]:
        return tuple(replace(side, path=apply_path(motion, side.drawn)) for side in old)

    points = {name: None if p is None else apply_points(motion, p) for name, p in piece.points.items()}
    holes = tuple(Hole(h.name, sides(h.sides)) for h in piece.holes)
    return replace(piece, ring=sides(piece.ring), lines=sides(piece.lines), points=points, holes=holes)


def same(one: Piece, other: Piece, within: float = 1e-9) -> None:
    """Assert that two pieces have the same names and lie on each other."""
    assert [side.names for side in one.ring] == [side.names for side in other.ring]
    for a, b in zip(one.ring, other.ring, strict=True):
        np.testing.assert_allclose(a.drawn.controls, b.drawn.controls, rtol=0.0, atol=within)
    assert one.points.keys() == other.points.keys()
    for name, p in one.points.items():
        np.testing.assert_allclose(np.asarray(p), np.asarray(other.points[name]), rtol=0.0, atol=within)
    assert one.dart_names() == other.dart_names()


def names_of(piece: Piece) -> tuple[set[str], set[str], set[str], set[str]]:
    """All a sketch promises."""
    return set(piece.edge_names()), set(piece.dart_names()), set(piece.points), set(piece.removed)
