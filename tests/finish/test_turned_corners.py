"""Corners of allowances that are folded back, turned out, or sewn to another piece's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
import shapely
from godet.finish.beyond import SeamEnd, cut_beyond
from godet.finish.finished import FinishedPiece, finished
from godet.geometry.curve import quarter
from godet.geometry.motion import mirror_points
from godet.geometry.path import flatten_fixed
from godet.pattern.piece import Allowance, Corner, Finish, Piece, Reals
from godet.pattern.unfold import unfold
from godet.verbs.finishing import allow, turn_under
from hypothesis import given, settings
from hypothesis import strategies as st
from support.drawn_pieces import front, polygon, top, wide

NAMES = ("hem", "side", "waist", "centre")
RECTANGLE = ((0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0))
FLARED = ((0.0, 0.0), (200.0, 0.0), (260.0, 300.0), (0.0, 300.0))
HOOKED = ((0.0, 0.0), (200.0, 0.0), (260.0, 60.0), (260.0, 300.0), (0.0, 300.0))
OUT = 10.0 * np.sqrt(1.04)  # level distance of a cut line 10 from a side that leans 1 in 5


def joint(cloth: FinishedPiece, i: int) -> Reals:
    """The points of the corner after a side, without repeats."""
    points = cloth.closing[i]
    assert points is not None
    kept = np.concatenate([[True], np.linalg.norm(np.diff(points[0], axis=0), axis=1) > 1e-9])
    row: Reals = points[0][kept]
    return row


def rows(*points: tuple[float, float]) -> Reals:
    return np.array(points)


def test_a_stepped_hem_ends_on_the_sewing_line_and_the_side_at_the_fold() -> None:
    cloth = finished(polygon(RECTANGLE, NAMES, {"seams": wide(10.0), "hem": wide(30.0, "stepped")}))
    assert joint(cloth, 0) == pytest.approx(rows((200, -30), (200, 0), (210, 0)))
    assert joint(cloth, 3) == pytest.approx(rows((-10, 0), (0, 0), (0, -30)))
    flared = finished(polygon(FLARED, NAMES, {"seams": wide(10.0), "hem": wide(30.0, "stepped")}))
    assert joint(flared, 0) == pytest.approx(rows((206, -30), (200, 0), (200 + OUT, 0)))


def test_a_hem_folded_twice_is_mirrored_at_both_folds() -> None:
    """A side that leans out 1 in 5: the allowance widens by 4 down to the second fold at 20 and narrows by 2 beyond it."""
    stated = {"seams": wide(10.0), "hem": Allowance(np.array([30.0]), "shaped_to_fold", np.array([10.0]))}
    cloth = finished(polygon(FLARED, NAMES, stated))
    assert joint(cloth, 0) == pytest.approx(rows((202 + OUT, -30), (204 + OUT, -20), (200 + OUT, 0)))


def test_a_hem_beside_a_curve_ends_as_smoothly_as_the_curve() -> None:
    """Beside a quarter of a circle of radius 60 the cut line at 10 is one of 50, and so is its mirror; no chord bends by more
    than a degree from the last, which no eye sees."""
    plain = polygon(HOOKED, ("hem", "under", "side", "top", "centre"), {"seams": wide(10.0), "hem": wide(20.0, "shaped_to_fold")})
    arc = quarter(np.array([[200.0, 0.0]]), np.array([[260.0, 60.0]]), np.array([[0.0, 1.0]]))
    cloth = finished(replace(plain, ring=(plain.ring[0], replace(plain.ring[1], path=arc), *plain.ring[2:])))
    points = joint(cloth, 0)
    assert np.linalg.norm(points - [260.0, 0.0], axis=1) == pytest.approx([50.0] * len(points), abs=0.05)
    chords = np.diff(points, axis=0)
    assert np.abs(np.diff(np.degrees(np.arctan2(chords[:, 1], chords[:, 0])))).max() < 1.0
    assert points[0] == pytest.approx([260.0 - np.sqrt(50.0**2 - 20.0**2), -20.0], abs=0.05)


def test_a_bagged_corner_is_cut_across_at_half_the_narrower_allowance() -> None:
    cloth = finished(polygon(RECTANGLE, NAMES, {"seams": wide(10.0), "hem": wide(10.0, "bagged")}))
    off = 10.0 - 5.0 * np.sqrt(2.0)
    assert joint(cloth, 0) == pytest.approx(rows((200 - off, -10), (210, off)))


def test_one_corner_of_an_edge_may_differ() -> None:
    piece = polygon(RECTANGLE, NAMES, {"seams": wide(10.0), "hem": wide(30.0, "shaped_to_fold")})
    cloth = finished(replace(piece, finish=replace(piece.finish, corners={("hem", "side"): "stepped"})))
    assert joint(cloth, 0) == pytest.approx(rows((200, -30), (200, 0), (210, 0)))
    assert joint(cloth, 3) == pytest.approx(rows((-10, 0), (-10, -30)))


@pytest.mark.parametrize("corner", ["stepped", "matched", "bagged"])
def test_inside_one_hem_and_on_a_fold_the_line_stays_whole(corner: Corner) -> None:
    plain = {"seams": wide(10.0), "hem": wide(30.0, "mitred"), "sleeve_hem": wide(20.0)}
    whole, cut = finished(top(plain)), finished(top({**plain, "hem": wide(30.0, corner)}))
    assert np.array_equal(joint(whole, 0), joint(cut, 0)) or corner == "bagged"
    half = finished(front(allowances={"seams": wide(10.0), "waistline": wide(20.0, corner)}))
    assert half.cut[0, :, 0].min() == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("corner", ["shaped_to_fold", "stepped", "matched", "bagged"])
def test_every_corner_leaves_one_simple_ring(corner: Corner) -> None:
    for piece in (front(), top()):
        stated = {name: replace(a, corner=corner) for name, a in piece.finish.allowances.items() if name != "seams"}
        cloth = finished(replace(piece, finish=replace(piece.finish, allowances={"seams": wide(10.0), **stated})))
        net = shapely.Polygon(np.concatenate([flatten_fixed(side.drawn)[0][:-1] for side in piece.ring]))
        kept = cloth.cut[0][np.linalg.norm(np.diff(cloth.cut[0], axis=0, append=cloth.cut[0][:1]), axis=1) > 1e-9]
        assert shapely.Polygon(kept).is_valid
        assert shapely.Polygon(kept).buffer(1e-6).contains(net)
        assert not cloth.patched.any()


def slanted(degrees: float, other: float, allowances: Mapping[str, Allowance], mirrored: bool = False) -> Piece:
    """A piece with a seam from (0, 0) up to (0, 300): its edges `low` and `high` leave it at these angles, cloth to its right;
    mirrored, to its left."""
    a, b = np.radians(degrees), np.radians(other)
    at = [(0.0, 0.0), (200 * np.sin(a), 200 * np.cos(a)), (200 * np.sin(b), 300 - 200 * np.cos(b)), (0.0, 300.0)]
    names = ("low", "far", "high", "seam")
    if mirrored:
        at, names = [(-x, y) for x, y in (at[1], at[0], at[3], at[2])], ("low", "seam", "high", "far")
    return polygon(tuple((float(x), float(y)) for x, y in at), names, allowances)


@settings(max_examples=30, deadline=None)
@given(*[st.floats(65, 115)] * 4, st.floats(6, 15), st.booleans())
def test_allowance_corners_of_two_edges_that_are_sewn_together_match(
    low: float, high: float, far_low: float, far_high: float, width: float, alike: bool
) -> None:
    """Law: laid right sides together by their seam, the corners of the two allowances lie on each other. `alike`: the two are
    drafted to the same side, and one is cut mirrored."""
    stated = {"seams": wide(12.0), "seam": wide(width, "matched")}
    under = slanted(low, high, stated)
    over = slanted(far_low, far_high, stated, mirrored=not alike)
    laid = {}
    for name, here_at_end, there_at_end in (("low", True, alike), ("high", False, not alike)):
        line = cut_beyond(SeamEnd(under, "seam", here_at_end), SeamEnd(over, "seam", there_at_end))
        assert line is not None
        laid["seam", name] = line
    ours, theirs = finished(replace(under, finish=replace(under.finish, laid=laid))), finished(over)
    # Right sides together: the seams lie on each other, and the cloth on one side: the second turned over where it must be.
    turn = np.array([1.0, 1.0]) if alike else np.array([-1.0, 1.0])
    for cloth, other, mine, its in ((ours, theirs, 3, 3 if alike else 0), (ours, theirs, 2, 2 if alike else 1)):
        one, two = joint(cloth, mine), joint(other, its) * turn
        outer = [points[np.argmin(points[:, 0])] for points in (one, two)]
        assert outer[0] == pytest.approx(outer[1], abs=0.1)
        crease = [points[np.argmin(np.abs(points[:, 0]))] for points in (one, two)]
        assert crease[0] == pytest.approx(crease[1], abs=0.1)


@settings(max_examples=20, deadline=None)
@given(st.floats(8, 15), st.floats(15, 50), st.floats(-40, 40))
def test_folded_hems_of_two_sides_sewn_together_match(seam: float, hem: float, lean: float) -> None:
    """Hems squared at a side that leans: laid by the side seam, right sides together, the hems' corners lie on each other."""
    stated = {"seams": wide(seam), "hem": wide(hem, "shaped_to_fold")}
    lower = np.array([[0.0, 0.0], [200.0, 0.0], [200.0, 300.0], [lean, 300.0]])
    cloths = [
        finished(polygon(tuple(map(tuple, lower)), NAMES, stated)),
        finished(polygon(tuple(map(tuple, lower * [-1, 1]))[::-1], ("waist", "side", "hem", "centre"), stated)),
    ]
    ends = [joint(cloths[0], 0), (joint(cloths[1], 1) * [-1, 1])[::-1]]
    assert ends[0] == pytest.approx(ends[1], abs=1e-6)


def test_matched_alone_is_the_mirror_of_the_edge_beside_it() -> None:
    cloth = finished(slanted(75.0, 105.0, {"seams": wide(12.0), "seam": wide(10.0, "matched")}))
    low = cloth.sides[0]
    assert low is not None
    reflected = mirror_points(np.zeros((1, 2)), np.array([[0.0, 1.0]]), low)[0]
    way = (reflected[0] - reflected[-1]) / np.linalg.norm(reflected[0] - reflected[-1])
    for point in joint(cloth, 3):
        arm = point - reflected[0]
        assert abs(arm[0] * way[1] - arm[1] * way[0]) < 1e-9


def test_a_curved_hem_tells_what_is_eased_when_it_is_turned_up() -> None:
    made = allow(top(), np.array([30.0]), "shaped_to_fold", on=("hem", "sleeve_hem"))
    (told,) = made.told
    assert told.edge == "hem"
    assert float(told.lengths["raw edge"][0]) > float(told.lengths["lies on"][0]) + 1.0


def test_what_is_turned_under_must_find_room() -> None:
    piece = polygon(RECTANGLE, NAMES, {"seams": wide(10.0), "hem": wide(30.0)})
    made = turn_under(piece, np.array([15.0]), on=("hem",)).finish.allowances["hem"]
    assert (made.corner, float(made.width[0])) == ("shaped_to_fold", 30.0)
    with pytest.raises(Exception, match="no allowance to turn so much under"):
        turn_under(piece, np.array([16.0]), on=("hem",))


def test_what_is_stated_for_a_half_holds_for_both_sides_of_the_whole() -> None:
    piece = front(allowances={"seams": wide(10.0), "waistline": wide(20.0), "side": wide(15.0)})
    stated: Finish = replace(piece.finish, corners={("waistline", "side"): "stepped"}, pressed={"waist_dart": "outer"}, laid={})
    whole = unfold(replace(piece, finish=stated), "centre")
    assert set(whole.finish.allowances) == {"seams", "waistline", "left_side", "right_side"}
    assert set(whole.finish.corners) == {("waistline", "left_side"), ("waistline", "right_side")}
    assert whole.finish.pressed == {"left_waist_dart": "outer", "right_waist_dart": "outer"}


def test_many_bodies_at_once_are_as_each_alone() -> None:
    grow = np.linspace(0.8, 1.3, 4)
    stated = {"seams": wide(10.0), "waistline": Allowance(np.array([30.0]), "shaped_to_fold", np.array([8.0]))}
    stated |= {"shoulder": wide(10.0, "matched"), "armhole": wide(10.0, "bagged"), "side": wide(12.0, "stepped")}
    together = finished(front(grow, stated))
    for lane, factor in enumerate(grow):
        assert together.cut[lane] == pytest.approx(finished(front(np.array([factor]), stated)).cut[0], abs=1e-9)
