"""Widths on a level, breadth across the grain, distance from the mirror image, sharpest bend: by shapely and closed forms."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
import shapely.affinity
from godet.finish.breadth import breadth
from godet.finish.finished import finished
from godet.geometry.curve import bowed
from godet.geometry.ellipse import quarter
from godet.geometry.lanes import FloatArray
from godet.geometry.path import flatten_fixed, line
from godet.pattern.measures import asymmetry, sharpest, width_across, worn_width
from godet.pattern.piece import Allowance, CutOrder, Piece, Trouble
from godet.pattern.unfold import unfold
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import front, lanes, skirt
from test_darts_on_a_piece import diamond, with_waist_dart


def cloth(piece: Piece, lane: int) -> shapely.Polygon:
    """The cloth of one body by shapely, on fine chords, without its darts."""

    def flat(sides: object) -> FloatArray:
        rows = [flatten_fixed(side.drawn, 300) for side in sides]  # type: ignore[attr-defined]  # sides of a ring
        return np.concatenate([row[lane % row.shape[0]] for row in rows])

    whole = shapely.Polygon(flat(piece.ring))
    for hole in piece.holes:
        whole = whole.difference(shapely.Polygon(flat(hole.sides)))
    return whole


DRAFTS = [
    front,
    lambda sizes: diamond(skirt([240.0 * x for x in sizes])),
    lambda sizes: with_waist_dart(skirt([250.0 * x for x in sizes])),
]


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from(DRAFTS),
    st.lists(st.floats(0.8, 1.3), min_size=1, max_size=3),
    st.floats(0.05, 0.95),
)
def test_the_width_on_a_level_is_that_of_shapely(draft: object, sizes: list[float], share: float) -> None:
    piece: Piece = draft(sizes)  # type: ignore[operator]  # one of the drafts above
    shapes = [cloth(piece, lane) for lane in range(len(sizes))]
    levels = np.array([shape.bounds[1] + share * (shape.bounds[3] - shape.bounds[1]) for shape in shapes])
    found = width_across(piece, levels)
    for lane, shape in enumerate(shapes):
        level = shapely.LineString([(-2000, levels[lane]), (2000, levels[lane])])
        assert found[lane] == pytest.approx(shape.intersection(level).length, abs=0.05)
    alone = [width_across(piece.take(np.array([k])), levels[k : k + 1])[0] for k in range(len(sizes))]
    np.testing.assert_array_equal(found, alone)


def test_on_the_level_of_a_straight_edge_its_length_counts() -> None:
    piece = skirt([200.0], sag=0.0)
    top = piece.sides("waistline")[0].drawn
    assert width_across(piece, top.start[:, 1])[0] == pytest.approx(np.linalg.norm(top.end - top.start))
    with pytest.raises(Trouble, match="misses the piece"):
        width_across(piece, lanes(-50.0))


def test_what_is_worn_counts_the_fold_and_the_cut() -> None:
    piece = skirt([200.0])
    one = width_across(piece, lanes(300.0))
    np.testing.assert_allclose(worn_width(piece, lanes(300.0)), 2 * one)
    twice = replace(piece, fold=None, finish=replace(piece.finish, cuts=(CutOrder(2, mirrored=True),)))
    np.testing.assert_allclose(worn_width(twice, lanes(300.0)), 2 * one)


@settings(max_examples=15, deadline=None)
@given(st.floats(-3.1, 3.1), st.floats(0.0, 30.0))
def test_the_breadth_is_that_of_the_cut_piece_turned_to_its_grain(angle: float, allowed: float) -> None:
    piece = skirt([240.0, 300.0])
    finish = replace(piece.finish, allowances=MappingProxyType({"seams": Allowance(lanes(allowed))}))
    piece = replace(piece, finish=replace(finish, grain=np.exp(1j * lanes(angle))))
    found = breadth(piece)
    for lane in range(2):
        turned = shapely.affinity.rotate(shapely.Polygon(finished(piece).cut[lane]), np.pi / 2 - angle, (0, 0), use_radians=True)
        assert found[lane] == pytest.approx(turned.bounds[2] - turned.bounds[0], abs=1e-6)


def test_an_unfolded_piece_is_its_own_mirror_image_until_a_side_is_drawn_anew() -> None:
    whole = unfold(skirt([240.0, 300.0]), "centre")
    np.testing.assert_allclose(asymmetry(whole, "centre"), 0.0, atol=1e-6)
    side = next(i for i, one in enumerate(whole.ring) if "left_side" in one.names)
    old = whole.ring[side].drawn
    ring = list(whole.ring)
    ring[side] = replace(ring[side], path=bowed(old.start, old.end, lanes(7.0)))
    np.testing.assert_allclose(asymmetry(replace(whole, ring=tuple(ring)), "centre"), 7.0, atol=0.01)
    with pytest.raises(Trouble, match="not straight"):
        asymmetry(replace(whole, ring=tuple(ring)), "left_side")


def test_the_sharpest_bend_of_an_ellipse_is_known() -> None:
    """Smallest radius b * b / a for half axes a > b; a straight line counts as ten kilometres."""
    curve = quarter(np.array([[0.0, 0.0]]), np.array([[80.0, 50.0]]), np.array([[1.0, 0.0]]))
    assert sharpest([curve])[0] == pytest.approx(50.0**2 / 80.0, rel=0.02)
    straight = line(np.array([[0.0, 0.0]]), np.array([[80.0, 50.0]]))
    assert sharpest([straight])[0] == pytest.approx(1e7)
    assert sharpest([straight, curve])[0] == sharpest([curve])[0]
