"""Lengths, angles and ratios taken from the draft: `length of …`, distances, quarter rounds, limits."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..finish.breadth import breadth
from ..finish.stated import width_along
from ..geometry import length as lengths
from ..geometry.ellipse import quarter_axis, quarter_length
from ..geometry.path import Path, end_direction, ring_area, start_direction
from ..pattern.darts import leg_run
from ..pattern.edges import cloth_length
from ..pattern.piece import Piece, Reals, Trouble, leg_names
from . import checks, fitting, specification
from .attached import Cloth, Trim
from .kinds import ANGLE, AREA, LENGTH, NUMBER, Kind
from .registry import verb, word
from .values import DartOf, Edge, Run, Seam


@dataclass(frozen=True)
class OfWord:
    """A word that stands before `of`: what it takes, what it gives, one line of meaning."""

    wants: tuple[str, ...]
    gives: Kind
    doc: str
    run: Callable[[Any], Reals]


def _length(value: Edge | Run | Path) -> Reals:
    return lengths.length(value) if isinstance(value, Path) else value.length()


def _area(piece: Piece) -> Reals:
    taken = sum((ring_area([side.drawn for side in hole.sides]) for hole in piece.holes), start=np.zeros(1))
    return ring_area([side.drawn for side in piece.ring]) + taken  # an inner ring runs clockwise, its area is negative


def legs(dart: DartOf) -> tuple[Path, Path]:
    """The upper legs of a dart, inner first; a body without the dart fails."""
    found = [dart.piece.sides(leg) for leg in leg_names(dart.name)[:2]]
    if not all(found):
        raise Trouble(f"this body has no `{dart.name}`: there is nothing to take in", "take it from a piece that has it")
    return found[0][0].drawn, found[1][0].drawn


def dart_angle(dart: DartOf) -> Reals:
    """Angle (L,) in radians between the legs at the apex."""
    inner, outer = legs(dart)
    apex_first = np.linalg.norm(inner.start - outer.end, axis=-1) < np.linalg.norm(inner.end - outer.start, axis=-1)
    one = np.where(apex_first[:, None], start_direction(inner), -end_direction(inner))
    two = np.where(apex_first[:, None], -end_direction(outer), start_direction(outer))
    return np.asarray(np.arccos(np.clip(np.sum(one * two, axis=-1), -1.0, 1.0)))


def dart_opening(dart: DartOf) -> Reals:
    """Straight distance (L,) mm between the far ends of the legs."""
    inner, outer = legs(dart)
    apex_first = np.linalg.norm(inner.start - outer.end, axis=-1) < np.linalg.norm(inner.end - outer.start, axis=-1)
    one = np.where(apex_first[:, None], inner.end, inner.start)
    two = np.where(apex_first[:, None], outer.start, outer.end)
    return np.asarray(np.linalg.norm(one - two, axis=-1))


def _button_count(piece: Piece) -> Reals:
    return np.array([float(sum(sign.kind == "button" for sign in piece.signs.values()))])


def _fullness(of: Seam | Trim) -> Reals:
    return specification.drawn_fullness(of) if isinstance(of, Trim) else of.left_mm / of.right_mm


def _ease(seam: Seam) -> Reals:
    return seam.left_mm - seam.right_mm


def _cloth_length(edge: Edge) -> Reals:
    return cloth_length(edge.piece, edge.name)


def _allowance(edge: Edge) -> Reals:
    return width_along(edge.piece, edge.name)


def _dart_count(edge: Edge) -> Reals:
    piece = edge.piece
    count = 0
    for dart in piece.darts:
        run = leg_run(piece, dart)
        beside = piece.ring[run[0] - 1], piece.ring[(run[-1] + 1) % len(piece.ring)]
        count += all(edge.name in side.names for side in beside)
    return np.array([float(count)])


def _same(count: Reals) -> Reals:
    return count


def _usable_width(cloth: Cloth) -> Reals:
    return cloth.width


EXTREMES: Mapping[str, tuple[Callable[[Reals, Reals], Reals], str]] = {
    "larger": (np.maximum, "the largest of several lengths, angles or numbers"),
    "smaller": (np.minimum, "the smallest of several lengths, angles or numbers"),
}
"""Words that stand with `of` before a list: what they do to two of it, and what that is."""

SAMPLE_COUNT = "sample_count"
"""The word before `of` of a count that the sample of a run of sizes gives to all."""

OF: Mapping[str, OfWord] = {
    "length": OfWord(
        ("edge", "run of edges", "curve"),
        LENGTH,
        "sewn length of an edge, darts closed and pleats folded, or of a curve",
        _length,
    ),
    "cloth_length": OfWord(("edge",), LENGTH, "length of the cloth in an edge, what its pleats fold away with it", _cloth_length),
    "allowance": OfWord(("edge",), LENGTH, "how wide the allowance of an edge is, as its piece says", _allowance),
    "area": OfWord(("piece",), AREA, "area of a piece inside its sewing line", _area),
    "fold_angle": OfWord(("dart",), ANGLE, "angle of a dart at its apex", dart_angle),
    "opening": OfWord(("dart",), LENGTH, "straight distance between the open ends of a dart's legs", dart_opening),
    "sine": OfWord(("angle",), NUMBER, "sine of an angle", np.sin),
    "cosine": OfWord(("angle",), NUMBER, "cosine of an angle", np.cos),
    "fullness": OfWord(
        ("seam", "trim"),
        NUMBER,
        "length of what is gathered, eased or drawn in, divided by what it is sewn or drawn in to",
        _fullness,
    ),
    "drawn_length": OfWord(("trim",), LENGTH, "how long an edge is once a trim has drawn it in", specification.drawn_length),
    "dart_count": OfWord(("edge",), NUMBER, "how many darts stand on an edge", _dart_count),
    "button_count": OfWord(("piece",), NUMBER, "how many button places a piece has", _button_count),
    "ease": OfWord(("seam",), LENGTH, "first edge of a seam less the second", _ease),
    "notch_gap": OfWord(
        ("seam",),
        LENGTH,
        "how far the notches stated on both sides of a seam fail to meet at most, however the ease is laid between them",
        checks.gap_of_notches,
    ),
    "grain_gap": OfWord(
        ("seam",), ANGLE, "by how much the two sides of a seam lie differently to the grain", checks.gap_of_grains
    ),
    "smallest_radius": OfWord(
        ("edge", "curve"), LENGTH, "radius of an edge or curve where it bends most, corners left out", checks.sharpest
    ),
    "garment_measurement": OfWord(
        ("fit",), LENGTH, "what the garment measures where a fit is promised, all pieces together", fitting.garment
    ),
    "ease_given": OfWord(("fit",), LENGTH, "what the garment has more than the body where a fit is promised", fitting.given_ease),
    SAMPLE_COUNT: OfWord(
        ("number",),
        NUMBER,
        "a count, as of darts, which in a run of sizes is in all as the chart's sample has it; of a body alone its own",
        _same,
    ),
    "breadth": OfWord(
        ("piece",),
        LENGTH,
        "how much of the width of the cloth a piece takes with its allowances; half of one on the fold",
        breadth,
    ),
    "usable_width": OfWord(("cloth",), LENGTH, "width of a cloth without its selvedges, as stated", _usable_width),
}


POINT_WORD = word("to", "point", "the second point")


@verb(
    "distance",
    family="measuring",
    doc="Straight distance between two points.",
    gives=LENGTH,
    words=(word("from", "point", "the first point"), POINT_WORD),
    example="length reach = distance from nape to waist",
)
def distance(from_: Reals, to: Reals) -> Reals:
    return np.asarray(np.linalg.norm(to - from_, axis=-1))


@verb(
    "drop",
    family="measuring",
    doc="How far the second point lies below the first (less than nothing when it lies above).",
    gives=LENGTH,
    words=(word("from", "point", "the upper point"), POINT_WORD),
    example="length fall = drop from nape to waist",
)
def drop(from_: Reals, to: Reals) -> Reals:
    return np.asarray(from_[:, 1] - to[:, 1])


@verb(
    "width",
    family="measuring",
    doc="How far the second point lies outward of the first.",
    gives=LENGTH,
    words=(word("from", "point", "the inner point"), POINT_WORD),
    example="length half_back = width from nape to underarm",
)
def width(from_: Reals, to: Reals) -> Reals:
    return np.asarray(to[:, 0] - from_[:, 0])


@verb(
    "slope",
    family="measuring",
    doc="Angle below level of the line from one point to another.",
    gives=ANGLE,
    words=(word("from", "point", "the upper point"), POINT_WORD),
    example="angle shoulder_slope_found = slope from neck_point to shoulder_point",
)
def slope(from_: Reals, to: Reals) -> Reals:
    across = np.abs(to[:, 0] - from_[:, 0])
    return np.asarray(np.arctan2(from_[:, 1] - to[:, 1], across))


@verb(
    "corner_angle",
    family="measuring",
    doc="Angle at a point between the ways to two others.",
    gives=ANGLE,
    words=(
        word("from", "point", "one arm"),
        word("to", "point", "the other arm"),
        word("about", "point", "the corner"),
    ),
    example="angle found = corner_angle from chest_point to lower_end about bust_point",
)
def corner_angle(from_: Reals, to: Reals, about: Reals) -> Reals:
    one, two = from_ - about, to - about
    crossed = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    return np.asarray(np.abs(np.arctan2(crossed, np.sum(one * two, axis=-1))))


@verb(
    "falling",
    family="measuring",
    doc="Angle below level of a line of the given length that drops by the given amount.",
    gives=ANGLE,
    words=(word("by", "length", "how far it drops"), word("along", "length", "its length")),
    example="angle slant = falling by 4 cm along 15 cm",
)
def falling(by: Reals, along: Reals) -> Reals:
    steep = (np.abs(by) > along) | (along <= 0)
    if steep.any():
        raise Trouble(
            "a line cannot drop by more than its length",
            "check both measurements",
            steep,
            {"drop": by, "length": along},
        )
    return np.asarray(np.arcsin(by / along))


@verb(
    "quarter_round",
    family="measuring",
    doc="Length of a quarter round (a quarter of an ellipse), as of a neckline of the given width and depth.",
    gives=LENGTH,
    words=(word("width", "length", "its width"), word("depth", "length", "its depth")),
    example="length back_curve = quarter_round with width 6 cm depth 2 cm",
)
def quarter_round(width: Reals, depth: Reals) -> Reals:
    return quarter_length(width, depth)


@verb(
    "quarter_depth",
    family="measuring",
    doc="Depth of a quarter round of the given width so that its curve has the wanted length.",
    gives=LENGTH,
    words=(word("width", "length", "its width"), word("curve", "length", "length along the curve")),
    example="length front_depth = quarter_depth with width 6 cm curve 11.3 cm",
)
def quarter_depth(width: Reals, curve: Reals) -> Reals:
    shape = np.broadcast_shapes(width.shape, curve.shape)
    width, curve = np.broadcast_to(width, shape), np.broadcast_to(curve, shape)
    short = curve < width
    if short.any():
        raise Trouble(
            "the curve is shorter than it is wide",
            "check the neck girth against the neck width",
            short,
            {"curve": curve, "width": width},
        )
    return quarter_axis(width, curve)
