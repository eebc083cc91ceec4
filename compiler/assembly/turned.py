"""Edges of a piece folded along a line inside it that are turned in: the fold lays them on a sewn edge, or on themselves."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from ..geometry.lanes import decide, norm
from ..geometry.length import least_away, length, nearest, point_at
from ..geometry.motion import mirror_path, mirror_points
from ..geometry.path import Path
from ..geometry.tolerances import SHIFTED
from ..pattern.piece import Piece, Reals, Side

WITHIN = (0.5, 0.25, 0.75)
"""Where along an edge it is asked, behind its ends, whether it lies on others, as shares of its length."""


def turned_in(piece: Piece, sewn: Collection[int]) -> frozenset[int]:
    """Ring numbers of the sides of cloth that a fold lays on sides that are sewn, or each on itself."""
    folds = [line for line in piece.lines if piece.has_sign(line, "fold")]
    held = [piece.ring[i].drawn for i in sewn]
    return frozenset(
        i
        for i, side in enumerate(piece.ring)
        if i not in sewn and any(_on_itself(side, fold) or _lies_on(_over(side, fold), held) for fold in folds)
    )


def _over(side: Side, fold: Side) -> Path:
    return mirror_path(fold.drawn.start, fold.drawn.end, side.drawn)


def _on_itself(side: Side, fold: Side) -> bool:
    """Whether a side lies on itself, its one end on the other."""
    across = mirror_points(fold.drawn.start, fold.drawn.end, side.drawn.start)
    return decide(norm(across - side.drawn.end) <= SHIFTED) and _lies_on(_over(side, fold), [side.drawn])


def _lies_on(path: Path, held: Sequence[Path]) -> bool:
    """Whether a path lies on some others all along."""
    ends = all(any(is_on(one, point) for one in held) for point in (path.start, path.end))
    points = (point_at(path, length(path) * share) for share in WITHIN)
    return ends and all(any(is_on(one, point) for one in held) for point in points)


def is_on(path: Path, point: Reals) -> bool:
    """Whether a point lies on a path. Raises Disagreement."""
    return decide(least_away(path, point) <= SHIFTED) and decide(nearest(path, point)[1] <= SHIFTED)
