"""Laws of the cut line, on pieces a cutter would know."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from godet.finish.finished import FinishedPiece, cut_edge, finished
from godet.finish.stated import allowance_of, width_along
from godet.geometry.motion import apply_points, rotation, then, translation
from godet.geometry.path import flatten_fixed
from godet.pattern.piece import Corner, Piece, Pressed, Reals, Trouble
from hypothesis import given, settings
from hypothesis import strategies as st
from support.drawn_pieces import TOP_ALLOWANCES, front, moved, polygon, top, wide

CLOSE = 0.05
RECTANGLE = ((0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0))
NAMES = ("hem", "side", "waist", "centre")


def ring_of(cloth: FinishedPiece, lane: int = 0) -> Reals:
    """The cut line of a lane without repeated points."""
    points: Reals = cloth.cut[lane]
    kept: Reals = points[np.linalg.norm(points - np.roll(points, 1, axis=0), axis=1) > 1e-9]
    return kept


def sewn(piece: Piece, i: int) -> shapely.LineString:
    return shapely.LineString(flatten_fixed(piece.ring[i].drawn, 400)[0])


def cut_into(width: float) -> Piece:
    """A square of 300 with a cut 100 deep and `width` wide in its top edge."""
    left, right = 150 - width / 2, 150 + width / 2
    upper = ((right, 300.0), (right, 200.0), (left, 200.0), (left, 300.0))
    corners = ((0.0, 0.0), (300.0, 0.0), (300.0, 300.0), *upper, (0.0, 300.0))
    return polygon(corners, tuple("abcdefgh"), {"seams": wide(10.0)})


def has_corner(cloth: FinishedPiece, x: float, y: float) -> bool:
    return bool((np.linalg.norm(cloth.cut[0] - [x, y], axis=1) < 1e-9).any())


@settings(max_examples=30)
@given(seams=st.floats(0, 25), neck=st.floats(0, 12), waist=st.floats(0, 40))
def test_every_side_lies_at_its_own_width(seams: float, neck: float, waist: float) -> None:
    stated = {"seams": wide(seams), "neckline": wide(neck), "waistline": wide(waist)}
    cloth = finished(front(allowances=stated))
    assert not cloth.patched.any()
    for i, along in enumerate(cloth.sides):
        if along is None:
            continue
        width = float(cloth.widths[i][0])
        line, cut = sewn(cloth.piece, i), shapely.LineString(along[0])
        on_line = [line.interpolate(share, normalized=True) for share in np.linspace(0.3, 0.7, 9)]
        assert [cut.distance(point) for point in on_line] == pytest.approx([width] * 9, abs=CLOSE)
        middle = along[0][np.abs(np.linspace(-1, 1, len(along[0]))) < 0.4]
        assert [line.distance(shapely.Point(p)) for p in middle] == pytest.approx([width] * len(middle), abs=CLOSE)


def test_the_width_along_an_edge_is_its_own_else_that_of_all_and_only_where_it_is_one() -> None:
    piece = polygon(RECTANGLE, NAMES, {"seams": wide(10.0), "waist": wide(25.0)})
    assert [float(width_along(piece, edge)[0]) for edge in ("hem", "waist")] == [10.0, 25.0]
    sides = [replace(side, names=("round", *side.names)) for side in piece.ring]
    with pytest.raises(Trouble, match="`round` is not the same all along"):
        width_along(replace(piece, ring=tuple(sides)), "round")
    with pytest.raises(Trouble, match="lies on the fold"):
        width_along(replace(piece, fold="centre"), "centre")
    with pytest.raises(Trouble, match="nothing is said of the allowance of `hem`"):
        width_along(polygon(RECTANGLE, NAMES, {"waist": wide(25.0)}), "hem")


def test_the_cut_line_is_one_simple_ring_round_the_piece() -> None:
    for piece in (front(), top()):
        cloth = finished(piece)
        cut = shapely.Polygon(ring_of(cloth))
        net = shapely.Polygon(np.concatenate([flatten_fixed(side.drawn)[0][:-1] for side in piece.ring]))
        assert cut.is_valid
        assert cut.exterior.is_ccw
        assert cut.buffer(1e-6).contains(net)


def test_without_allowance_the_cut_line_is_the_sewing_line_and_the_cap_closes_the_dart() -> None:
    piece = front(allowances={})
    cloth = finished(piece)
    for i, along in enumerate(cloth.sides):
        if along is not None:
            assert along == pytest.approx(flatten_fixed(piece.ring[i].drawn), abs=1e-9)
    assert has_corner(cloth, 75, 0)
    assert has_corner(cloth, 105, 0)


def test_names_the_most_special_allowance_wins_and_a_fold_has_none() -> None:
    piece = top({**TOP_ALLOWANCES, "left_hem": wide(45.0)})
    widths = {side.names[-1]: float(allowance_of(piece, side).width[0]) for side in piece.ring}
    assert widths["left_hem"] == 45.0
    assert widths["right_hem"] == 30.0
    assert widths["left_side"] == 10.0
    half = front(allowances={"seams": wide(10.0), "centre": wide(15.0)})
    assert finished(half).cut[0, :, 0].min() == pytest.approx(0.0, abs=1e-9)


def test_mitre_of_a_rectangle_in_closed_form() -> None:
    """Sides 10, hem 30: the cut corners are the sewing corners moved out by the two widths."""
    cloth = finished(polygon(RECTANGLE, NAMES, {"seams": wide(10.0), "hem": wide(30.0)}))
    for corner in ((-10, -30), (210, -30), (210, 310), (-10, 310)):
        assert has_corner(cloth, *corner)


@settings(max_examples=40)
@given(degrees=st.floats(40, 140), width=st.floats(5, 20))
def test_mitre_of_equal_widths_is_w_over_sine_of_the_half_angle(degrees: float, width: float) -> None:
    """At a corner of angle a the tip of a mitre lies w / sin(a/2) from the sewing corner, on its bisector."""
    a = np.radians(degrees)
    third = (300 * np.cos(a), 300 * np.sin(a))
    cloth = finished(polygon(((0, 0), (300, 0), third), ("base", "far", "near"), {"seams": wide(width)}))
    tip = -width / np.sin(a / 2) * np.array([np.cos(a / 2), np.sin(a / 2)])
    assert np.linalg.norm(cloth.cut[0] - tip, axis=1).min() < 1e-6


def test_a_mitred_hem_corner_folds_to_the_published_length() -> None:
    """Worked example: hem 5 cm, right angle: the seam through the finished corner has the folded length 5 * sqrt 2."""
    stated = {"hem": wide(50.0), "side": wide(50.0)}
    cloth = finished(polygon(RECTANGLE, NAMES, stated))
    tip = cloth.cut[0][np.argmax(cloth.cut[0] @ np.array([1.0, -1.0]))]
    assert np.linalg.norm(tip - [200.0, 0.0]) == pytest.approx(70.711, abs=0.001)


def test_a_spike_is_cut_off() -> None:
    """A corner of 20 degrees would have a mitre of 5.8 widths."""
    a = np.radians(20)
    third = (300 * np.cos(a), 300 * np.sin(a))
    cloth = finished(polygon(((0, 0), (300, 0), third), ("a", "b", "c"), {"seams": wide(10.0)}))
    assert np.linalg.norm(cloth.cut[0], axis=1)[cloth.cut[0, :, 0] < 0].max() < 3.2 * 10.0
    assert not cloth.patched.any()


def test_square_end_of_a_seam() -> None:
    """A side finished square at a corner of 60 degrees: its end is square where its line meets the other cut line."""
    a = np.radians(60)
    third = (300 * np.cos(a), 300 * np.sin(a))
    stated = {"seams": wide(10.0), "base": wide(10.0, "squared")}
    cloth = finished(polygon(((0, 0), (300, 0), third), ("base", "far", "near"), stated))
    reach = 10.0 / np.sin(a)
    assert has_corner(cloth, -reach, 0.0)
    assert has_corner(cloth, -reach, -10.0)


def test_a_hollow_corner_is_cut_back_to_where_the_lines_meet() -> None:
    """A square notch in the top edge: allowances of 10 leave the hollow corners moved out along both sides."""
    cloth = finished(cut_into(100.0))
    assert not cloth.patched.any()
    assert has_corner(cloth, 190, 210)
    assert has_corner(cloth, 110, 210)


def test_a_wide_allowance_steps_down_to_a_narrow_one_on_a_straight_run() -> None:
    corners = ((0.0, 0.0), (150.0, 0.0), (300.0, 0.0), (300.0, 300.0), (0.0, 300.0))
    cloth = finished(polygon(corners, tuple("abcde"), {"seams": wide(10.0), "a": wide(30.0)}))
    assert has_corner(cloth, 150, -30)
    assert has_corner(cloth, 150, -10)


@pytest.mark.parametrize("edge", ["right_hem", "left_hem", "left_sleeve_hem", "right_sleeve_hem"])
def test_a_folded_hem_lies_on_the_cut_line_when_turned_up(edge: str) -> None:
    cloth = finished(top())
    piece = cloth.piece
    i = piece.run(edge)[0]
    at_start = "left_hem" in piece.ring[i].names or "sleeve" in edge
    path = piece.ring[i].drawn
    if at_start:
        j = (i - 1) % len(piece.ring)
        corner, way = path.start[0], path.controls[0, 0, 1] - path.controls[0, 0, 0]
        end = closing_of(cloth, j)
    else:
        j = (i + 1) % len(piece.ring)
        corner, way = path.end[0], path.controls[0, -1, 3] - path.controls[0, -1, 2]
        end = closing_of(cloth, i)
    way = way / np.linalg.norm(way)
    arms = end - corner
    turned_up = corner + 2 * (arms @ way)[:, None] * way - arms
    side = cloth.sides[j]
    assert side is not None
    joined = shapely.LineString(np.concatenate([end[:1], side[0], end[-1:]]) if not at_start else side[0])
    inside = [p for p in turned_up if joined.distance(shapely.Point(p)) < 25]
    assert len(inside) >= 2
    neighbour = shapely.LineString(side[0])
    far = [neighbour.distance(shapely.Point(p)) for p in inside[1:-1] or inside[:1]]
    assert max(far) < CLOSE


def closing_of(cloth: FinishedPiece, i: int) -> Reals:
    points = cloth.closing[i]
    assert points is not None
    row: Reals = points[0]
    return row


@pytest.mark.parametrize("pressed", ["inner", "outer"])
def test_a_folded_dart_has_a_cap_that_lies_on_the_cut_line(pressed: Pressed) -> None:
    """Pressed over a side, half the cap is mirrored in the leg and the other half turned by the dart: both lie on the
    side's cut line, 15 from its edge."""
    piece = front(allowances={"seams": wide(10.0), "waistline": wide(15.0)})
    cap = closing_of(finished(replace(piece, finish=replace(piece.finish, pressed={"waist_dart": pressed}))), 0)
    peak = int(np.argmin(cap[:, 1]))
    apex, inner, outer = np.array([90.0, 120.0]), np.array([75.0, 0.0]), np.array([105.0, 0.0])
    whole = 2 * np.arctan(15.0 / 120.0)
    if pressed == "inner":
        mouth, near, far, back, edge = inner, cap[: peak + 1], cap[peak:-1], -whole, piece.ring[0].drawn
    else:
        mouth, near, far, back, edge = outer, cap[peak:], cap[1 : peak + 1], whole, piece.ring[3].drawn
    leg = (mouth - apex) / np.linalg.norm(mouth - apex)
    folded = apex + 2 * ((near - apex) @ leg)[:, None] * leg - (near - apex)
    turned = apply_points(rotation(apex[None], np.array([back])), far[None])[0]
    way = (edge.end[0] - edge.start[0]) / np.linalg.norm(edge.end[0] - edge.start[0])
    for lying in (folded, turned):
        assert len(lying) >= 2
        away = (lying - edge.start[0]) @ np.array([way[1], -way[0]])
        assert away == pytest.approx([15.0] * len(away), abs=1e-9)


def test_the_peak_of_a_symmetrical_cap_in_closed_form() -> None:
    """Level edge, legs 15 out and 120 up: half angle h, tan h = 1/8. The line at 2h from the plumb, where the middle
    of the dart comes to lie, meets the cut line of width w at (120 + w) / cos 2h from the apex: the peak is as far."""
    w = 15.0
    cloth = finished(front(allowances={"waistline": wide(w)}))
    h = np.arctan(15.0 / 120.0)
    assert closing_of(cloth, 0)[:, 1].min() == pytest.approx(120.0 - (120.0 + w) / np.cos(2 * h), abs=1e-9)


@settings(max_examples=20)
@given(turn=st.floats(-3, 3), x=st.floats(-500, 500), y=st.floats(-500, 500))
def test_a_turned_and_moved_draft_has_a_turned_and_moved_cut_line(turn: float, x: float, y: float) -> None:
    motion = then(rotation(np.zeros((1, 2)), np.array([turn])), translation(np.array([[x, y]])))
    for piece in (front(), top()):
        still, gone = finished(piece), finished(moved(piece, motion))
        assert gone.cut == pytest.approx(apply_points(motion, still.cut), abs=1e-6)


def test_many_bodies_at_once_are_as_each_alone() -> None:
    grow = np.linspace(0.7, 1.4, 7)
    together = finished(front(grow))
    for lane in range(grow.size):
        alone = finished(front(grow[lane : lane + 1]))
        assert ring_of(together, lane) == pytest.approx(ring_of(alone), abs=1e-9)
        assert cut_edge(together, "armhole")[lane] == pytest.approx(cut_edge(alone, "armhole")[0], abs=1e-9)


def test_an_allowance_wider_than_a_narrow_cut_is_laid_together() -> None:
    """A cut 12 wide with allowances of 10: they overlap and the cut line passes over it. A wide cut has room."""
    narrow = finished(cut_into(12.0))
    assert narrow.patched.tolist() == [True]
    shape = shapely.Polygon(ring_of(narrow))
    assert shape.is_valid
    assert shape.area == pytest.approx(320.0 * 320.0, rel=1e-9)
    assert finished(cut_into(60.0)).patched.tolist() == [False]
    with pytest.raises(Trouble, match="the cut line runs over itself"):  # what lies beside an edge is not cut there
        cut_edge(narrow, narrow.piece.ring[0].edge)


@pytest.mark.parametrize("neck", [60.0, 90.0, 140.0])
def test_an_allowance_wider_than_the_neckline_stays_on_its_side_of_the_fold(neck: float) -> None:
    """The neckline ends 75 mm from the fold. What is cut is all cloth within the allowance of either half, and no more."""
    cloth = finished(front(allowances={"seams": wide(10.0), "neckline": wide(neck)}))
    shape = shapely.Polygon(ring_of(cloth))
    assert shape.is_valid
    assert shape.bounds[0] == pytest.approx(0.0, abs=1e-6)
    line = sewn(cloth.piece, 7)
    both = shapely.union(line, shapely.transform(line, lambda points: points * [-1.0, 1.0]))
    near = [shapely.Point(x, y) for x in np.linspace(2.0, 60.0, 12) for y in np.linspace(340.0, 470.0, 27)]
    hollow = [p for p in near if not shapely.Polygon([(0, 0), (240, 5), (250, 210), *line.coords]).contains(p)]
    for point in hollow:
        away = both.distance(point)
        if abs(away - neck) > 1.0 and line.project(point) not in (0.0, line.length):
            assert shape.contains(point) == (away < neck)


@settings(max_examples=60)
@given(st.floats(-60, 60), st.floats(0, 40), st.floats(0, 40), st.sampled_from(["mitred", "shaped_to_fold", "stepped"]))
def test_no_corner_of_a_cut_line_is_a_spike(bend: float, upper: float, lower: float, corner: Corner) -> None:
    """Two edges nearly in line with unlike allowances, and a hem at their end: no point of the cut line lies further from the
    sewing line than three of the widest allowance, or four of both where a hem is folded back."""
    stated = {"seams": wide(10.0), "upper": wide(upper), "lower": wide(lower), "hem": wide(30.0, corner)}
    corners = ((0.0, 0.0), (200.0, 0.0), (200.0 + bend / 10, 150.0), (200.0, 300.0), (0.0, 300.0))
    cloth = finished(polygon(corners, ("hem", "lower", "upper", "top", "centre"), stated))
    ring = shapely.Polygon(corners)
    away = max(ring.distance(shapely.Point(point)) for point in ring_of(cloth))
    assert away <= 3.0 * max(10.0, upper, lower, 30.0) + 1e-6


def test_both_ends_of_a_strip_on_the_bias_end_on_its_edges() -> None:
    """What is taken off an end at 45 degrees is as long as the allowance is wide: one end had a tooth."""
    stated = {"seams": wide(0.0), "end": wide(10.0), "start_end": wide(10.0)}
    for width in (24.0, 25.0, 33.3):
        corners = ((0.0, 0.0), (300.0, 0.0), (300.0 + width, width), (width, width))
        cloth = finished(polygon(corners, ("lower", "end", "upper", "start_end"), stated))
        assert (cloth.cut[0].min(axis=0)[1], cloth.cut[0].max(axis=0)[1]) == pytest.approx((0.0, width), abs=1e-6)
        assert np.ptp(cloth.cut[0][:, 0]) == pytest.approx(300.0 + width + 2 * 10.0 * np.sqrt(2.0), abs=1e-5)


def test_unlike_allowances_on_edges_in_line_step_at_their_corner() -> None:
    """15 and 10 mm on a line bent by 1 mm: there was a spike of 28 cm."""
    stated = {"seams": wide(10.0), "upper": wide(15.0)}
    corners = ((0.0, 0.0), (200.0, 0.0), (199.0, 150.0), (200.0, 300.0), (0.0, 300.0))
    cloth = finished(polygon(corners, ("hem", "lower", "upper", "top", "centre"), stated))
    assert not cloth.patched.any()
    assert cloth.cut[0].max(axis=0) == pytest.approx([215.0, 310.0], abs=0.5)
    assert cloth.cut[0].min(axis=0) == pytest.approx([-10.0, -10.0], abs=1e-6)
