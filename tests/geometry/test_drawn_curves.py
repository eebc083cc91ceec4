"""Hobby's spline, bowed lines, quarter ellipses, curves of a wanted length, parallels, truing."""

import numpy as np
import pytest
import shapely
from geometry_samples import arc, at, checks, fine_arc, outline, points, seeds, tilt
from godet.geometry import cubic, ellipse
from godet.geometry.curve import (
    MIN_TENSION,
    bowed,
    hobby,
    inflects,
    min_clearance,
    parallel,
    parallel_curve,
    quarter,
    quarter_axis,
    quarter_length,
    smallest_radius,
    smooth_fit,
    with_length,
)
from godet.geometry.fit import smooth_spans
from godet.geometry.lanes import Disagreement
from godet.geometry.length import length
from godet.geometry.motion import apply_path, apply_points, rotation
from godet.geometry.path import (
    Path,
    chain,
    end_direction,
    evaluate,
    flatten_fixed,
    line,
    polyline,
    reverse,
    start_direction,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ellipe


@pytest.mark.parametrize("degrees", [30, 60, 90, 120, 180])
def test_one_span_draws_a_circular_arc(degrees: float) -> None:
    path = arc(100.0, degrees)
    quarter_angle = np.radians(degrees) / 4.0
    handle = np.hypot(*(path.controls[0, 0, 1] - path.controls[0, 0, 0]))
    assert handle == pytest.approx(400.0 / 3.0 * np.tan(quarter_angle))
    # For those handles the largest r^2 - 1 has a closed form: 2.7e-4 of the radius at 90 degrees, 64-fold less at half.
    radii = np.hypot(*evaluate(path, 0, np.linspace(0, 1, 1001))[0].T) / 100.0
    wanted = 4.0 / 27.0 * np.sin(quarter_angle) ** 6 / np.cos(quarter_angle) ** 2
    assert np.abs(radii**2 - 1.0).max() == pytest.approx(wanted, rel=1e-3)


def test_many_points_of_a_circle_give_the_circle() -> None:
    a = np.radians(np.linspace(0, 180, 7))
    on = 80.0 * np.stack([np.cos(a), np.sin(a)], axis=-1)[None]
    path = hobby(on, at(0, 1), at(0, -1))
    radii = np.hypot(*flatten_fixed(path, 50)[0].T)
    assert np.abs(radii / 80.0 - 1.0).max() < 5e-7
    assert np.allclose(hobby(on).controls, path.controls, atol=1e-9)  # free ends find the same circle


@settings(max_examples=40, deadline=None)
@given(seeds, st.integers(2, 6), st.floats(MIN_TENSION, 3.0))
def test_spline_goes_through_its_points_smoothly(seed: int, count: int, tension: float) -> None:
    p = points(seed, 3, count)
    out, into = tilt(p[:, 1] - p[:, 0], 0.7), tilt(p[:, -1] - p[:, -2], -0.5)
    path = hobby(p, out, into, tension)
    assert np.allclose(path.controls[:, :, 0], p[:, :-1])
    assert np.allclose(path.end, p[:, -1])
    assert np.allclose(start_direction(path), out)
    assert np.allclose(end_direction(path), into)
    for span in range(count - 2):
        one, two = (chain([path]).controls[:, i : i + 1] for i in (span, span + 1))
        before = one[:, 0, 3] - one[:, 0, 2]
        after = two[:, 0, 1] - two[:, 0, 0]
        turn = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
        assert np.allclose(turn / (np.hypot(*before.T) * np.hypot(*after.T)), 0.0, atol=1e-9)


@settings(max_examples=20, deadline=None)
@given(seeds)
def test_inner_points_have_equal_mock_curvature(seed: int) -> None:
    # Hobby's condition: to first order in the angles, the curvature on both sides of an inner point is the same.
    p = points(seed, 2, 4)
    p = np.stack([np.sort(p[..., 1]) + 50.0 * np.arange(4), 1e-3 * p[..., 0]], axis=-1)  # nearly in a row
    path = hobby(p)
    for span in range(2):
        left = cubic.curvature(path.controls[:, span], np.ones(1))
        right = cubic.curvature(path.controls[:, span + 1], np.zeros(1))
        assert np.allclose(left, right, rtol=1e-3, atol=1e-12)


@settings(max_examples=20, deadline=None)
@given(seeds, st.floats(-3, 3), st.floats(0.2, 5))
def test_spline_turns_and_grows_with_its_points(seed: int, angle: float, scale: float) -> None:
    p = points(seed, 3, 4)
    motion = rotation(at(30, -20), np.array([angle]))
    assert np.allclose(hobby(apply_points(motion, p)).controls, apply_path(motion, hobby(p)).controls, atol=1e-8)
    assert np.allclose(hobby(p * scale).controls, hobby(p).controls * scale, rtol=1e-9, atol=1e-8)
    assert np.allclose(hobby(p[:, ::-1]).controls, reverse(hobby(p)).controls, atol=1e-8)


@pytest.mark.parametrize("theta, phi, tension", [(53, 37, 1.0), (37, 53, 1.25), (-40, 70, 0.8), (10, 95, 1.0)])
def test_handles_have_the_lengths_of_the_paper(theta: float, phi: float, tension: float) -> None:
    path = hobby(
        np.array([[[0.0, 0], [100, 0]]]), tilt(at(1, 0), np.radians(theta)), tilt(at(1, 0), -np.radians(phi)), tension
    )
    for (p, q), (one, two) in zip([(0, 1), (3, 2)], [(theta, phi), (phi, theta)], strict=True):
        a, b = np.radians(one), np.radians(two)
        top = 2 + np.sqrt(2) * (np.sin(a) - np.sin(b) / 16) * (np.sin(b) - np.sin(a) / 16) * (np.cos(a) - np.cos(b))
        bottom = 3 * (1 + (np.sqrt(5) - 1) / 2 * np.cos(a) + (3 - np.sqrt(5)) / 2 * np.cos(b))
        handle = np.hypot(*(path.controls[0, 0, q] - path.controls[0, 0, p]))
        assert handle == pytest.approx(100 * top / bottom / tension, rel=1e-12)


def test_length_falls_as_tension_rises() -> None:
    tension = np.linspace(MIN_TENSION, 3.0, 20)
    armhole = hobby(np.array([[[0.0, 0], [90, 68]]]), at(1, 0), at(0, 1), tension)
    assert (np.diff(length(armhole)) < 0).all()


def test_two_points_without_directions_are_a_line() -> None:
    path = hobby(np.array([[[0.0, 0], [30, 40]]]))
    assert path.straight == (True,)
    assert length(path)[0] == 50.0


def test_tension_below_three_quarters_is_refused() -> None:
    with pytest.raises(ValueError, match="tension"):
        hobby(points(1, 1, 3), tension=0.7)


@settings(max_examples=30, deadline=None)
@given(st.floats(-45, 45))
def test_bowed_line_has_its_depth_in_the_middle(depth: float) -> None:
    path = bowed(at(0, 0), at(0, 120), np.array([depth]))
    assert np.allclose(evaluate(path, 0, np.array([0.5])), [[[-depth, 60]]])  # left of upward travel is -x
    assert length(path)[0] >= 120.0
    back = reverse(path)
    assert np.allclose(back.controls[..., 1], 120 - path.controls[..., 1])


def test_bowed_line_is_close_to_the_arc_through_three_points() -> None:
    path = bowed(at(-60, 0), at(60, 0), np.array([-20.0]))
    radius = (60.0**2 + 20.0**2) / 40.0
    centre = np.array([0.0, radius - 20.0])
    radii = np.hypot(*(flatten_fixed(path)[0] - centre).T)
    assert np.abs(radii / radius - 1.0).max() < 3e-4


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(5, 1500), st.floats(1, 359), st.floats(0, 360)), min_size=1, max_size=5), st.booleans())
def test_an_arc_keeps_its_distance_and_has_its_length(rows: list[tuple[float, float, float]], clockwise: bool) -> None:
    radius, turn, first = (np.array(column) for column in zip(*rows, strict=True))
    start, way = np.radians(first), -1.0 if clockwise else 1.0
    centre = np.array([[30.0, -20.0]])
    ends = [
        centre + radius[:, None] * np.stack([np.cos(angle), np.sin(angle)], axis=-1)
        for angle in (start, start + way * np.radians(turn))
    ]
    path = ellipse.arc(centre, ends[0], ends[1], clockwise)
    away = np.linalg.norm(flatten_fixed(path) - centre, axis=-1) / radius[:, None]
    assert np.abs(away - 1.0).max() < 5e-6
    assert length(path) == pytest.approx(radius * np.radians(turn), rel=3e-6)
    assert np.allclose(path.end, ends[1], rtol=0.0, atol=1e-12)


def test_quarter_ellipse_lengths_of_the_book() -> None:
    table = checks("quarter_ellipse")
    p, q = 10 * np.array(table["a"]), 10 * np.array(table["b"])
    assert np.allclose(quarter_length(p, q) / 10, table["length"], atol=1e-3)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.01, 400), st.floats(0.01, 400))
def test_quarter_length_is_the_elliptic_integral(p: float, q: float) -> None:
    long, short = max(p, q), min(p, q)
    wanted = long * ellipe(1.0 - (short / long) ** 2)
    assert quarter_length(np.array([p]), np.array([q]))[0] == pytest.approx(wanted, rel=1e-12)


@settings(max_examples=40, deadline=None)
@given(st.floats(5, 300), st.floats(0, 400))
def test_quarter_axis_undoes_quarter_length(p: float, q: float) -> None:
    wanted = quarter_length(np.array([p]), np.array([q]))
    axis = quarter_axis(np.array([p]), wanted)
    assert quarter_length(np.array([p]), axis) == pytest.approx(wanted, abs=1e-9)


def test_no_quarter_is_shorter_than_its_axis() -> None:
    axis = quarter_axis(np.array([60.0, 60.0]), np.array([59.0, 80.0]))
    assert np.isnan(axis).tolist() == [True, False]


@settings(max_examples=40, deadline=None)
@given(st.floats(10, 300), st.floats(10, 300), st.booleans(), st.floats(-3, 3))
def test_drawn_quarter_is_an_ellipse(p: float, q: float, right: bool, angle: float) -> None:
    aside = -q if right else q
    way = np.array([[np.cos(angle), np.sin(angle)]])
    square = np.array([[-np.sin(angle), np.cos(angle)]])
    path = quarter(at(5, 7), at(5, 7) + p * way + aside * square, way)
    assert np.allclose(start_direction(path), way)
    assert np.allclose(end_direction(path), square * np.sign(aside))
    assert length(path)[0] == pytest.approx(quarter_length(np.array([p]), np.array([q]))[0], rel=1e-5)
    off = flatten_fixed(path)[0] - (at(5, 7) + aside * square)
    u, v = off @ way[0] / p, off @ square[0] / q
    assert np.abs(np.hypot(u, v) - 1.0).max() < 5e-6


def test_quarter_against_its_direction_is_masked() -> None:
    path = quarter(at(0, 0), np.array([[60.0, 80], [-60, 80]]), at(1, 0))
    assert np.isnan(path.controls).any(axis=(1, 2, 3)).tolist() == [False, True]


def test_curve_of_a_wanted_length() -> None:
    free = hobby(np.array([[[0.0, 0], [70, 90]]]), at(1, 0), at(0, 1))
    wanted = length(free) + np.array([-3.0, 0.0, 3.0, 60.0])
    path, tension, reached = with_length(at(0, 0), at(70, 90), at(1, 0), at(0, 1), wanted)
    assert reached.tolist() == [True, True, True, False]
    assert np.allclose(length(path)[:3], wanted[:3], atol=1e-7)
    assert tension[0] > 1 > tension[2] > tension[3] == MIN_TENSION
    assert tension[1] == pytest.approx(1.0)


def test_a_curve_may_bend_both_ways_and_says_so() -> None:
    ends = np.array([[[0.0, 0], [100, 0]]])
    hollow = hobby(ends, tilt(at(1, 0), -0.6), tilt(at(1, 0), 0.6))
    cap = hobby(ends, tilt(at(1, 0), 0.6), tilt(at(1, 0), 0.6))
    assert not inflects(hollow)[0]
    assert inflects(cap)[0]
    # The flat end at 14 degrees against 60: below the bound of 22 degrees, so an S where none was meant.
    assert inflects(hobby(ends, tilt(at(1, 0), np.radians(14)), tilt(at(1, 0), -np.radians(60))))[0]
    assert not inflects(line(at(0, 0), at(1, 0)))[0]


def test_smallest_radius_of_an_arc_and_of_a_quarter_ellipse() -> None:
    assert smallest_radius(fine_arc(75, 90))[0] == pytest.approx(75, rel=1e-4)
    # An ellipse is sharpest at the end of its long axis: radius short^2 / long.
    assert smallest_radius(quarter(at(0, 0), at(60, 90), at(1, 0)))[0] == pytest.approx(60**2 / 90, rel=0.02)
    assert np.isinf(smallest_radius(line(at(0, 0), at(1, 0)))[0])


def test_smallest_radius_is_found_between_samples() -> None:
    # The parabola y = x^2 / 40 has radius 20 at its vertex, here at an odd place between the ends -45 and 70.
    p, q = -45.0, 70.0
    quadratic = np.array([[p, p * p / 40], [(p + q) / 2, p * q / 40], [q, q * q / 40]])
    raised = [quadratic[0], (quadratic[0] + 2 * quadratic[1]) / 3, (2 * quadratic[1] + quadratic[2]) / 3, quadratic[2]]
    assert smallest_radius(Path(np.array([[raised]]), (False,)))[0] == pytest.approx(20.0, rel=1e-6)


def test_allowance_of_an_arc_has_the_length_of_the_formula() -> None:
    table = checks("arc_offset")
    net = fine_arc(10 * table["r"], table["angle_deg"])
    for d, wanted in zip(table["d"], table["length"], strict=True):
        out = parallel_curve(net, -10 * d)  # anticlockwise: outward is to the right
        assert length(out)[0] / 10 == pytest.approx(wanted, abs=5e-4)
        assert np.allclose(out.start, [[10 * (table["r"] + d), 0]], atol=1e-9)
        radii = np.hypot(*parallel(net, -10 * d)[0].T) / 10
        assert np.allclose(radii, table["r"] + d, atol=5e-4)


@settings(max_examples=20, deadline=None)
@given(seeds, st.floats(-10, 10))
def test_parallel_lies_at_its_distance(seed: int, d: float) -> None:
    path = hobby(points(seed, 3, 3))
    rails = shapely.linestrings(flatten_fixed(path, 800))
    for lane in np.flatnonzero(min_clearance(path, d) > 0.3):
        for on in (parallel(path, d)[lane], flatten_fixed(parallel_curve(path, d, 8), 8)[lane]):
            away = shapely.distance(shapely.points(on), rails[lane])
            assert np.abs(away - abs(d)).max() < 0.02


@settings(max_examples=30, deadline=None)
@given(seeds, st.floats(-10, 10))
def test_parallel_ends_square_to_the_true_end_tangents(seed: int, d: float) -> None:
    path = outline(seed)
    ends = parallel(path, d)[:, [0, -1]] - np.stack([path.start, path.end], axis=1)
    for i, way in enumerate([start_direction(path), end_direction(path)]):
        assert np.allclose(ends[:, i, 0] * way[:, 0] + ends[:, i, 1] * way[:, 1], 0.0, atol=1e-9)
        assert np.allclose(way[:, 0] * ends[:, i, 1] - way[:, 1] * ends[:, i, 0], d, atol=1e-9)


def test_parallel_of_a_corner_meets_in_one_point() -> None:
    corner = polyline(np.array([[[0.0, 0], [100, 0], [100, 100]]]))
    inner = parallel(corner, 10.0)
    assert np.allclose(inner, [[[0, 10], [90, 10], [90, 100]]])
    assert np.allclose(parallel_curve(corner, -10.0).controls[0, 0, 3], [110, -10])


def test_parallel_of_a_corner_on_a_curve_is_bridged_and_lanes_must_agree() -> None:
    bend = hobby(np.array([[[100.0, 0], [170, 80]]]), at(1, 0), at(0, 1))
    smooth, kinked = chain([line(at(0, 0), at(100, 0)), bend]), chain([line(at(100, 50), at(100, 0)), bend])
    assert parallel_curve(smooth, 5.0).spans == 5
    assert parallel_curve(kinked, 5.0).spans == 6
    both = chain([line(np.array([[0.0, 0], [100, 50]]), at(100, 0)), bend])
    with pytest.raises(Disagreement):
        parallel_curve(both, 5.0)


def test_clearance_of_a_tight_bend() -> None:
    assert min_clearance(fine_arc(15, 180), 10.0)[0] == pytest.approx(1 - 10 / 15, abs=1e-3)
    assert min_clearance(fine_arc(15, 180), -10.0)[0] == pytest.approx(1 + 10 / 15, abs=1e-3)
    assert min_clearance(fine_arc(15, 180), 16.0)[0] < 0


@settings(max_examples=20, deadline=None)
@given(seeds)
def test_truing_finds_a_curve_again(seed: int) -> None:
    p = points(seed, 3, 2)
    curve = hobby(p, tilt(p[:, 1] - p[:, 0], 0.4), tilt(p[:, 1] - p[:, 0], -0.5))
    trued, deviation = smooth_fit(flatten_fixed(curve, 40))
    size = np.hypot(*(curve.end - curve.start).T)
    assert (deviation < 2e-3 * size).all()
    held, deviation = smooth_fit(curve, start_direction(curve), end_direction(curve))
    assert (deviation < 2e-3 * size).all()
    assert np.array_equal(held.start, curve.start)
    assert np.allclose(end_direction(held), end_direction(curve))
    assert trued.spans == 1


@settings(max_examples=20, deadline=None)
@given(st.floats(80.0, 240.0), st.floats(1.0, 6.0), st.integers(3, 6))
def test_an_edge_of_several_bends_is_found_again_under_the_steps_of_its_strips(high: float, step: float, spans: int) -> None:
    cap = hobby(np.array([[[0.0, 0], [50, high / 3], [120, high], [190, high / 3], [240, 0]]]), *np.array([[[1.0, 0]]] * 2))
    flat = flatten_fixed(cap, 120)[0]
    strips = np.where((np.arange(len(flat)) * spans * 2 // len(flat)) % 2 == 0, step, 0.0)
    stepped = flat + np.stack([0.0 * strips, strips], axis=1)
    stepped[[0, -1]] = flat[[0, -1]]
    trued, deviation = smooth_spans(polyline(stepped[None]), spans, *np.array([[[1.0, 0]]] * 2))
    assert (trued.spans, np.allclose(trued.start, cap.start), np.allclose(trued.end, cap.end)) == (spans, True, True)
    apart = shapely.distance(shapely.points(stepped), shapely.linestrings(flatten_fixed(trued, 500)[0]))
    assert apart.max() == pytest.approx(deviation[0], abs=0.3)  # the steps fall between two of its places
    assert shapely.linestrings(flatten_fixed(trued, 100)[0]).is_simple
    _, deviation = smooth_spans(cap, 4, *np.array([[[1.0, 0]]] * 2))
    assert deviation[0] < 0.05 * high


def test_a_kinked_side_seam_becomes_one_smooth_edge() -> None:
    kinked = np.array([[[0.0, 0], [10, 200], [60, 400]]])
    trued, deviation = smooth_fit(kinked)
    assert not inflects(trued)[0]
    assert np.allclose([trued.start[0], trued.end[0]], kinked[0, [0, -1]])
    apart = shapely.distance(shapely.points(kinked[0]), shapely.linestrings(flatten_fixed(trued, 500)[0]))
    assert 0 < apart.max() <= deviation[0] + 1e-3
    assert deviation[0] < 10


def test_truing_a_straight_edge_leaves_it() -> None:
    trued, deviation = smooth_fit(np.array([[[0.0, 0], [0, 100], [0, 400]]]))
    assert deviation[0] < 1e-6
    assert length(trued)[0] == pytest.approx(400)


def test_outline_sample_is_one_chain() -> None:
    path = outline(3)
    assert np.allclose(path.controls[:, 1:, 0], path.controls[:, :-1, 3])
