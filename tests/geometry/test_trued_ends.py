"""The end of a path turned or shifted, and the average of two lines: laws, closed forms, and shapely for distances."""

import numpy as np
import pytest
import shapely
from geometry_samples import arc, at, fine_arc, outline, seeds, tilt
from godet.geometry.average import average
from godet.geometry.lanes import FloatArray
from godet.geometry.length import length, point_at
from godet.geometry.path import (
    Path,
    end_direction,
    flatten_fixed,
    line,
    reverse,
    span_directions,
    start_direction,
)
from godet.geometry.turning import turned_end, turned_start
from hypothesis import given, settings
from hypothesis import strategies as st

angles = st.floats(-0.8, 0.8)


@settings(max_examples=30, deadline=None)
@given(seeds, angles, st.floats(-20.0, 20.0), st.floats(-20.0, 20.0))
def test_only_the_end_is_turned_and_shifted(seed: int, angle: float, x: float, y: float) -> None:
    path = outline(seed)
    way, tip = tilt(end_direction(path), angle), path.end + np.array([[x, y]])
    made, moved = turned_end(path, way, tip)
    np.testing.assert_allclose(made.end, tip, atol=1e-9)
    np.testing.assert_allclose(end_direction(made), way, atol=2e-6)  # nearer than this it stays as it is
    np.testing.assert_array_equal(made.start, path.start)
    np.testing.assert_allclose(start_direction(made), start_direction(path), atol=1e-9)
    again, still = turned_end(made, way, tip)
    np.testing.assert_allclose(again.controls, made.controls, atol=1e-6)
    assert (still < 1e-6).all()
    for lane in range(path.lanes):
        old, new = (shapely.linestrings(flatten_fixed(p, 200)[lane]) for p in (path, made))
        assert shapely.hausdorff_distance(old, new) <= moved[lane] + 0.01
    np.testing.assert_allclose(length(made), length(path), atol=4.0 * float(moved.max()) + 1e-9)


@settings(max_examples=30, deadline=None)
@given(seeds, angles)
def test_joints_stay_as_smooth_as_they_are(seed: int, angle: float) -> None:
    """The outline has a smooth joint inside its first curve and kinks beyond it."""
    path = outline(seed)
    made, _ = turned_end(path, tilt(end_direction(path), angle))
    leaving, arriving = span_directions(made)
    np.testing.assert_allclose(leaving[:, 1], arriving[:, 0], atol=1e-9)


@settings(max_examples=20, deadline=None)
@given(seeds, angles)
def test_the_start_is_turned_as_the_end_is(seed: int, angle: float) -> None:
    path = outline(seed)
    way = tilt(start_direction(path), angle)
    one, moved = turned_start(path, way)
    two, same = turned_end(reverse(path), -way)
    np.testing.assert_array_equal(one.controls, reverse(two).controls)
    np.testing.assert_array_equal(moved, same)


def test_a_path_that_ends_so_already_is_the_path() -> None:
    path = outline(3)
    made, moved = turned_end(path, end_direction(path), path.end)
    assert made is path
    assert (moved == 0.0).all()


@pytest.mark.parametrize("degrees", [-20.0, -3.0, 8.0, 30.0])
def test_a_line_turned_at_its_end_moves_by_a_closed_form(degrees: float) -> None:
    """4/27 of the length times the chord of the angle, at two thirds of the way."""
    path = line(at(0, 0), at(300, 0))
    a = np.radians(degrees)
    _, moved = turned_end(path, at(np.cos(a), np.sin(a)))
    assert moved[0] == pytest.approx(4.0 / 27.0 * 300.0 * 2.0 * np.sin(abs(a) / 2.0), rel=1e-3)


def test_a_line_shifted_by_half_of_its_turn_is_a_parabola() -> None:
    """Its height over the line grows with the square of the way along it."""
    path = line(at(0, 0), at(200, 0))
    way = at(1.0, 0.1) / np.hypot(1.0, 0.1)
    speed = 200.0 * way[0, 1]
    made, _ = turned_end(path, way, at(200.0, speed / 2.0))
    u = np.linspace(0.0, 1.0, 9)
    points = np.array([[float(x) for x in _at(made, t)] for t in u])
    np.testing.assert_allclose(points[:, 1], speed / 2.0 * u**2, atol=1e-9)


def _at(path: Path, t: float) -> FloatArray:
    c, w = path.controls[0, 0], 1.0 - t
    return np.asarray(w**3 * c[0] + 3 * w * w * t * c[1] + 3 * w * t * t * c[2] + t**3 * c[3])


def test_the_average_of_two_arcs_about_one_centre_is_the_arc_between() -> None:
    for share in (0.25, 0.5):
        middle = average(arc(100.0, 80.0), fine_arc(140.0, 80.0), np.array([share]))
        radii = np.linalg.norm(flatten_fixed(middle, 16), axis=-1)
        np.testing.assert_allclose(radii, 100.0 + 40.0 * share, atol=0.05)


@settings(max_examples=20, deadline=None)
@given(seeds, st.floats(0.0, 1.0), st.booleans())
def test_the_average_lies_between_whichever_way_the_second_runs(seed: int, share: float, turned: bool) -> None:
    """Each point is the share of the way between the points at the same share of both lengths."""
    one, offset = outline(seed), np.array([30.0, -8.0])
    other = Path(one.controls + offset, one.straight)
    found = average(one, reverse(other) if turned else other, np.array([share]))
    for k in (0, 4, 8, 12, 16):
        wanted = point_at(one, length(one) * (k / 16.0)) + share * offset
        spans = found.controls[:, :, 0]
        got = found.end if k == 16 else spans[:, k]
        np.testing.assert_allclose(got, wanted, atol=1e-6)


def test_the_average_of_straight_lines_is_straight() -> None:
    middle = average(line(at(0, 0), at(100, 0)), line(at(110, 40), at(0, 20)), np.array([0.5]))
    assert middle.straight == (True,)
    np.testing.assert_allclose(middle.controls[0, 0, ::3], [[0.0, 10.0], [105.0, 20.0]])
