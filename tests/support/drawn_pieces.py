"""Pieces drafted by hand for tests of allowances, drawings and files. Invented, in mm; `grow` makes other bodies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from godet.geometry.curve import hobby
from godet.geometry.motion import Motion, apply_path
from godet.geometry.path import Path, line
from godet.pattern.piece import Allowance, Corner, CutOrder, Dart, Finish, Hole, Notch, Piece, Reals, Side


def wide(mm: float, corner: Corner = "mitred") -> Allowance:
    return Allowance(np.array([mm]), corner)


def points(*rows: tuple[float, float], grow: Reals | None = None) -> Reals:
    """Points (L, n, 2), one lane for each factor in `grow`."""
    factors = np.ones(1) if grow is None else grow
    return np.array(rows, dtype=np.float64)[None] * factors[:, None, None]


def bent(at: Reals, leaving: tuple[float, float], arriving: tuple[float, float]) -> Path:
    return hobby(at, np.array([leaving]), np.array([arriving]))


def polygon(
    corners: tuple[tuple[float, float], ...], names: tuple[str, ...], allowances: Mapping[str, Allowance]
) -> Piece:
    """A straight-sided piece, corners anticlockwise; names[i] is the side from corner i."""
    at = points(*corners)
    count = len(names)
    ring = tuple(Side((names[i],), line(at[:, i], at[:, (i + 1) % count])) for i in range(count))
    return Piece(ring, finish=Finish(allowances=allowances, grain=np.array([1j])))


FRONT_ALLOWANCES = {"seams": wide(10.0), "neckline": wide(6.0), "waistline": wide(20.0)}


def front(grow: Reals | None = None, allowances: Mapping[str, Allowance] = FRONT_ALLOWANCES) -> Piece:
    """Half a bodice front on the fold, with a waist dart (its legs equally long) and a curved neck and armhole."""
    lower = ((0, 0), (75, 0), (90, 120), (105, 0), (240, 5))
    at = points(*lower, (250, 210), (180, 270), (165, 370), (75, 420), (0, 330), grow=grow)
    p = [at[:, i] for i in range(at.shape[1])]
    legs = ("waist_dart.inner_leg", "waist_dart.outer_leg")
    ring = (
        Side(("waistline",), line(p[0], p[1])),
        Side((legs[0],), line(p[1], p[2])),
        Side((legs[1],), line(p[2], p[3])),
        Side(("waistline",), line(p[3], p[4])),
        Side(("side",), line(p[4], p[5])),
        Side(("armhole",), bent(at[:, 5:8], (-1, 0.05), (-0.3, 1))),
        Side(("shoulder",), line(p[7], p[8])),
        Side(("neckline",), bent(at[:, 8:10], (-0.1, -1), (-1, 0))),
        Side(("centre",), line(p[9], p[0])),
    )
    finish = Finish(allowances=allowances, grain=np.array([1j]), cuts=(CutOrder(1),))
    notches = (Notch(5, np.array([80.0])), Notch(4, np.array([100.0]), strokes=2))
    darts = (Dart.named("waist_dart", "waistline", inner_first=True),)
    return Piece(ring, darts=darts, notches=notches, worn="left", fold="centre", finish=finish)


TOP_ALLOWANCES = {"seams": wide(10.0), "hem": wide(30.0, "shaped_to_fold"), "sleeve_hem": wide(20.0, "shaped_to_fold")}


def top(allowances: Mapping[str, Allowance] = TOP_ALLOWANCES) -> Piece:
    """A whole kimono top with a former fold in the middle, curved hem and underarms."""
    right = ((0, -8), (260, 0), (270, 330), (470, 380), (455, 520), (80, 620), (0, 545))
    at = points((-260, 0), *right, (-80, 620), (-455, 520), (-470, 380), (-270, 330))

    def curved(i: int, j: int, leaving: tuple[float, float], arriving: tuple[float, float]) -> Path:
        return bent(at[:, [i, j]], leaving, arriving)

    ring = (
        Side(("hem", "left_hem"), curved(0, 1, (1, -0.06), (1, 0))),
        Side(("hem", "right_hem"), curved(1, 2, (1, 0), (1, 0.06))),
        Side(("right_side",), curved(2, 3, (0, 1), (0.25, 1))),
        Side(("right_underarm",), curved(3, 4, (0.25, 1), (1, 0.25))),
        Side(("sleeve_hem", "right_sleeve_hem"), line(at[:, 4], at[:, 5])),
        Side(("right_overarm",), curved(5, 6, (-1, 0.3), (-1, 0.25))),
        Side(("neckline", "right_neckline"), curved(6, 7, (-0.3, -1), (-1, 0))),
        Side(("neckline", "left_neckline"), curved(7, 8, (-1, 0), (-0.3, 1))),
        Side(("left_overarm",), curved(8, 9, (-1, -0.25), (-1, -0.3))),
        Side(("sleeve_hem", "left_sleeve_hem"), line(at[:, 9], at[:, 10])),
        Side(("left_underarm",), curved(10, 11, (1, -0.25), (0.25, -1))),
        Side(("left_side",), curved(11, 0, (0.25, -1), (0, -1))),
    )
    finish = Finish(allowances=allowances, grain=np.array([1j]), cuts=(CutOrder(1, face_up=True),))
    notches = (Notch(2, np.array([120.0])), Notch(5, np.array([100.0]), strokes=3))
    return Piece(ring, lines=(Side(("centre",), line(at[:, 1], at[:, 7])),), notches=notches, finish=finish)


def band() -> Piece:
    """A narrow band, and `loop` a piece too small for its label."""
    names = ("end", "outer", "other_end", "inner")
    return polygon(((0, 0), (40, 0), (40, 600), (0, 600)), names, {"seams": wide(10.0)})


def loop() -> Piece:
    names = ("base", "right", "right_slant", "left_slant", "left")
    return polygon(((0, 0), (30, 0), (30, 45), (15, 60), (0, 45)), names, {"seams": wide(6.0)})


def panel_with_hole() -> Piece:
    """A rectangle with a dart of two ends in its middle."""
    plain = polygon(((0, 0), (220, 0), (220, 400), (0, 400)), ("hem", "side", "waist", "centre"), {"seams": wide(10.0)})
    at = points((110, 300), (122, 200), (110, 80), (98, 200))
    names = ("fish.outer_leg", "fish.lower_outer_leg", "fish.lower_inner_leg", "fish.inner_leg")
    sides = tuple(Side((names[i],), line(at[:, i], at[:, (i + 1) % 4])) for i in range(4))
    return replace(plain, holes=(Hole("fish", sides),))


def moved(piece: Piece, motion: Motion) -> Piece:
    """The outline of a piece, moved; inner lines and points are left behind."""
    ring = tuple(replace(side, path=apply_path(motion, side.drawn)) for side in piece.ring)
    return replace(piece, ring=ring, lines=(), points={})
