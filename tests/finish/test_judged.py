"""The cut line that is drawn is the one that is judged: what is wrong with it is found, and where all is well, nothing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.finish.finished import FinishedPiece, finished
from godet.finish.judge import faults
from hypothesis import given, settings
from hypothesis import strategies as st
from support.drawn_pieces import front, polygon, top, wide

RECTANGLE = ((0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0))
NAMES = ("hem", "side", "waist", "centre")


def box() -> FinishedPiece:
    return finished(polygon(RECTANGLE, NAMES, {"seams": wide(10.0)}))


def rejoined(cloth: FinishedPiece) -> FinishedPiece:
    """The piece with the cut line that its sides and corners make."""
    parts = [part for pair in zip(cloth.sides, cloth.closing, strict=True) for part in pair if part is not None]
    return replace(cloth, cut=np.concatenate(parts, axis=1))


def words(cloth: FinishedPiece) -> list[str]:
    return [said for said, _ in faults(cloth)]


@settings(max_examples=25, deadline=None)
@given(seams=st.floats(0, 25), neck=st.floats(0, 12), waist=st.floats(0, 40))
def test_nothing_is_wrong_with_what_is_drawn_rightly(seams: float, neck: float, waist: float) -> None:
    for piece in (front, top):
        assert words(finished(piece(allowances={"seams": wide(seams), "neckline": wide(neck), "waistline": wide(waist)}))) == []


def test_a_cut_line_that_crosses_itself_is_found() -> None:
    cloth = box()
    order = np.arange(cloth.cut.shape[1])
    order[[0, 4]] = order[[4, 0]]
    assert "its cut line crosses itself" in words(replace(cloth, cut=cloth.cut[:, order]))


def test_a_corner_cut_into_the_cloth_is_found() -> None:
    """A corner piece that runs 5 mm inside both sewing lines."""
    cloth = box()
    corner = np.array([[[195.0, 5.0]]])
    found = words(rejoined(replace(cloth, closing=(corner, *cloth.closing[1:]))))
    assert found == ["its cut line runs into the cloth between `hem` and `side`"]


def test_a_patched_outline_that_loses_cloth_is_found() -> None:
    cloth = box()
    ring = np.array([[[-10.0, -10.0], [210.0, -10.0], [190.0, 150.0], [210.0, 310.0], [-10.0, 310.0]]])
    lost = replace(cloth, cut=ring, patched=np.ones(1, dtype=bool))
    assert words(lost) == ["its cut line runs into the cloth, inside the sewing line"]


def test_an_allowance_that_shrinks_along_a_curve_is_found() -> None:
    cloth = finished(front(allowances={"seams": wide(10.0)}))
    edges = [side.edge for side in cloth.piece.ring]
    number = edges.index("armhole")
    along = cloth.sides[number]
    assert along is not None
    near = along.copy()
    near[:, along.shape[1] // 2] = finished(front(allowances={"seams": wide(2.0)})).sides[number][:, along.shape[1] // 2]  # type: ignore[index]
    sides = (*cloth.sides[:number], near, *cloth.sides[number + 1 :])
    assert words(rejoined(replace(cloth, sides=sides))) == ["its cut line leaves less than the allowance of `armhole`"]


def test_a_cut_line_that_is_not_that_of_its_edges_is_found() -> None:
    """The ring that is drawn is judged, wherever its sides lie: here 20 mm inside the sewing line."""
    cloth = box()
    inside = np.array([[[20.0, 20.0], [180.0, 20.0], [180.0, 280.0], [20.0, 280.0]]])
    assert "its cut line does not follow its edges" in words(replace(cloth, cut=inside))


@pytest.mark.parametrize("number", range(4))
def test_a_straight_side_that_is_cut_on_its_sewing_line_is_found(number: int) -> None:
    cloth, bare = box(), finished(polygon(RECTANGLE, NAMES, {"seams": wide(0.0)}))
    sides = (*cloth.sides[:number], bare.sides[number], *cloth.sides[number + 1 :])
    assert words(rejoined(replace(cloth, sides=sides))) == [f"its cut line leaves less than the allowance of `{NAMES[number]}`"]


def test_every_side_of_an_edge_is_judged() -> None:
    """The waistline of the front is in two sides, either side of its dart."""
    cloth, bare = (finished(front(allowances={"seams": wide(width)})) for width in (10.0, 2.0))
    for number in (i for i, side in enumerate(cloth.piece.ring) if side.edge == "waistline"):
        sides = (*cloth.sides[:number], bare.sides[number], *cloth.sides[number + 1 :])
        assert "its cut line leaves less than the allowance of `waistline`" in words(rejoined(replace(cloth, sides=sides)))


def test_a_cut_line_over_the_fold_is_found() -> None:
    half = finished(replace(polygon(RECTANGLE, NAMES, {"seams": wide(10.0)}), fold="centre"))
    assert words(half) == []
    over = half.cut.copy()
    over[..., 0] -= 3.0
    assert "its cut line runs over the fold `centre`" in words(replace(half, cut=over))
