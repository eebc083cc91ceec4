"""Notches as they are cut: snips from the cut edge toward the sewing line. All for a cloth of one lane."""

from __future__ import annotations

import numpy as np
import shapely

from ..geometry.lanes import FloatArray
from ..geometry.length import length, place_at
from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Dart, Notch, Piece
from .corners import outward
from .finished import FinishedPiece, legs_beyond

APART = 5.0
"""Between the strokes of a double or triple notch, mm: far enough to count with scissors in hand."""

SNIP = 4.5
"""How deep (mm) a notch is snipped from the cut edge (common practice, no source: 4 to 5 mm)."""

KEPT = 2.0
"""So much (mm) of a narrow allowance stays whole before the sewing line; of one narrower than twice that, a half."""

INTO_CLOTH = 4.0
"""Where there is no allowance to snip, the stroke is drawn this far (mm) into the cloth instead."""

LOST = 3.0
"""A cut edge further off than so many times the allowance is another edge's: there two allowances have run together."""

ASLANT = 2.5
"""On a fold a notch is snipped off aslant, beginning this far (mm) beside it, so that it opens to a small V."""

ON_FOLD = 0.3
"""A stroke this near (mm) to a fold is one on it."""


def notch_strokes(cloth: FinishedPiece, notch: Notch) -> FloatArray:
    """Strokes (strokes, 2, 2), mm: each from the cut edge inward, side by side astride the notch's place.

    They go on round the corners inside an edge and over the darts in it, and at its end along the edge carried on, where the
    allowance beside it has room: so it is on both pieces of a seam, and the strokes meet when it is sewn. Beyond a fold
    there is the other half.
    """
    found = []
    for k in range(notch.strokes):
        stroke = _stroke(cloth, notch.side, float(notch.at[0]) + (k - (notch.strokes - 1) / 2) * APART)
        found += [] if stroke is None else [stroke]
    return np.stack(found) if found else np.zeros((0, 2, 2))


def dart_snips(cloth: FinishedPiece, dart: Dart) -> FloatArray:
    """Snips (n, 2, 2) where the legs of a dart that is sewn meet the cut edge, in line with them; none without an allowance."""
    found = []
    for mouth, end in legs_to_the_cut(cloth, dart):
        far = float(np.linalg.norm(end - mouth))
        found.append(_snip(end, (end - mouth) / far, far))
    return np.stack(found) if found else np.zeros((0, 2, 2))


def legs_to_the_cut(cloth: FinishedPiece, dart: Dart) -> list[FloatArray]:
    """The legs of a dart that is sewn, each (2, 2) from its end on the edge on to the cut edge; none without an allowance."""
    found = []
    for leg in legs_beyond(cloth.piece, dart):
        far = reach(cloth.cut[0], leg.mouth[0], leg.way[0])
        found += [] if far is None else [np.stack([leg.mouth[0], leg.mouth[0] + far * leg.way[0]])]
    return found


def _stroke(cloth: FinishedPiece, number: int, s: float) -> FloatArray | None:
    """The stroke (2, 2) at `s` mm along a side of the ring, perhaps beyond its ends; None where it would leave the cloth."""
    piece = cloth.piece
    number, s = _walked(piece, number, s)
    path, count = piece.ring[number].drawn, len(piece.ring)
    total = float(length(path)[0])
    over = min(s, 0.0) + max(s - total, 0.0)
    beside = (number + (1 if s > total / 2 else -1)) % count
    on_fold = piece.fold is not None and piece.fold in piece.ring[beside].names
    if on_fold and abs(over) > ON_FOLD:
        return None
    foot, way = (one[0] for one in place_at(path, np.array([np.clip(s, 0.0, total)])))
    normal = outward(way)
    at_end = min(s, total - s) <= COINCIDE
    if at_end and over == 0.0 and (inner := _inner_corner(cloth, number, s > total / 2)) is not None:
        normal = (inner - foot) / np.linalg.norm(inner - foot)
    foot = foot + over * way
    wide = float(cloth.widths[number][0])
    if wide <= 0.0:
        return None if over else np.stack([foot, foot - INTO_CLOTH * normal])
    far = reach(cloth.cut[0], foot, normal)
    if far is None or (over and not shapely.contains_xy(shapely.make_valid(shapely.Polygon(cloth.cut[0])), *foot)):
        return None
    if far > LOST * wide:  # no edge to snip from: the stroke is drawn on the sewing line
        return None if over else np.stack([foot, foot - INTO_CLOTH * normal])
    if on_fold and min(s, total - s) <= ON_FOLD:
        aside = foot + ASLANT * (way if s < total / 2 else -way)
        begun = reach(cloth.cut[0], aside, normal) or far
        return np.stack([aside + begun * normal, _snip(foot + far * normal, normal, far)[1]])
    return _snip(foot + far * normal, normal, far)


def _snip(edge: FloatArray, way: FloatArray, far: float) -> FloatArray:
    return np.stack([edge, edge - min(SNIP, max(far - KEPT, far / 2)) * way])


def _walked(piece: Piece, number: int, s: float) -> tuple[int, float]:
    """The side, and the place on it, to which a place beyond the end of a side belongs: on the same edge, darts left out."""
    while (before := s < -COINCIDE) or s > float(length(piece.ring[number].drawn)[0]) + COINCIDE:
        after = _beside(piece, number, -1 if before else 1)
        if after is None:
            return number, s
        s = s + float(length(piece.ring[after].drawn)[0]) if before else s - float(length(piece.ring[number].drawn)[0])
        number = after
    return number, s


def _beside(piece: Piece, number: int, step: int) -> int | None:
    """The side that goes on with the edge of a side, behind what is sewn shut between them; None at the edge's end."""
    shut, count = piece.dart_sides(), len(piece.ring)
    for k in range(1, count):
        i = (number + step * k) % count
        if i not in shut:
            return i if piece.ring[i].edge == piece.ring[number].edge else None
    return None


def _inner_corner(cloth: FinishedPiece, number: int, at_end: bool) -> FloatArray | None:
    """The corner (2,) of the cut line at the end, or start, of a side, where its edge goes on there or is folded in a pleat."""
    ring, count = cloth.piece.ring, len(cloth.piece.ring)
    before = number if at_end else (number - 1) % count
    one, two = ring[before], ring[(before + 1) % count]
    corner = cloth.closing[before]
    inside = {one.edge, *one.folded} & {two.edge, *two.folded}
    if corner is None or not inside:
        return None
    middle: FloatArray = corner[0, corner.shape[1] // 2]
    return middle if np.linalg.norm(middle - one.drawn.end[0]) > COINCIDE else None


def reach(ring: FloatArray, foot: FloatArray, way: FloatArray) -> float | None:
    """How far (mm) from a point a ray along the unit direction `way` first meets a closed ring (n, 2); None where it does not."""
    edges = np.roll(ring, -1, axis=0) - ring
    gap = ring - foot
    sine = way[0] * edges[:, 1] - way[1] * edges[:, 0]
    slanted = np.abs(sine) > 1e-12
    safe = np.where(slanted, sine, 1.0)
    along = (gap[:, 0] * edges[:, 1] - gap[:, 1] * edges[:, 0]) / safe
    share = (gap[:, 0] * way[1] - gap[:, 1] * way[0]) / safe
    slack = COINCIDE / np.maximum(np.linalg.norm(edges, axis=1), COINCIDE)
    hit = slanted & (along > COINCIDE) & (share >= -slack) & (share <= 1.0 + slack)
    return float(along[hit].min()) if hit.any() else None
