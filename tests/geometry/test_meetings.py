"""Crossings of lines, circles and paths."""

import numpy as np
import pytest
import shapely
from geometry_samples import at, checks, outline, points, seeds, tilt
from godet.geometry import cubic
from godet.geometry.curve import hobby
from godet.geometry.lanes import FloatArray
from godet.geometry.length import length, nearest, point_at
from godet.geometry.meet import circles, line_circle, line_path, lines, paths
from godet.geometry.motion import apply_points, rotation
from godet.geometry.path import Path, chain, flatten_fixed, line
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq


def test_two_arcs_meet_in_the_third_corner_of_a_triangle() -> None:
    table = checks("two_arcs")
    base, left, right = (np.array([10 * table[k]]) for k in ("base", "left", "right"))
    above, below, ok = circles(at(0, 0), left, at(base[0], 0), right)
    assert ok[0]
    assert np.allclose(above / 10, [[table["x"], table["y"]]], atol=5e-4)
    assert np.allclose(below / 10, [[table["x"], -table["y"]]], atol=5e-4)


@settings(max_examples=50, deadline=None)
@given(st.floats(1, 200), st.floats(1, 200), st.floats(1, 300), st.floats(-3, 3))
def test_circle_points_lie_on_both_circles_or_there_are_none(r1: float, r2: float, base: float, angle: float) -> None:
    c2 = base * np.array([[np.cos(angle), np.sin(angle)]])
    left, right, ok = circles(at(0, 0), np.array([r1]), c2, np.array([r2]))
    possible = abs(r1 - r2) <= base <= r1 + r2
    if abs(base - r1 - r2) > 1e-6 and abs(abs(r1 - r2) - base) > 1e-6:
        assert ok[0] == possible
    assert np.isnan(left).any() != ok[0]
    if ok[0]:
        for p in (left[0], right[0]):
            assert np.hypot(*p) == pytest.approx(r1, abs=1e-4)
            assert np.hypot(*(p - c2[0])) == pytest.approx(r2, abs=1e-4)
        assert c2[0, 0] * left[0, 1] - c2[0, 1] * left[0, 0] >= 0


def test_line_through_a_circle() -> None:
    p, c, r = at(-100, 30), np.array([[0.0, 0.0], [0, 90]]), np.array([50.0, 50.0])
    near, far, ok = line_circle(p, at(2, 0), c, r)
    assert np.allclose(near[0], [-40, 30])
    assert np.allclose(far[0], [40, 30])
    assert ok.tolist() == [True, False]
    assert np.isnan(near[1]).all()


def test_lines_cross_or_are_parallel() -> None:
    e = np.array([[0.0, 1.0], [1.0, 0.0]])
    point, t, u, ok = lines(at(0, 0), at(2, 0), at(50, -10), e)
    assert ok.tolist() == [True, False]
    assert np.allclose([*point[0], t[0], u[0]], [50, 0, 25, 10])
    assert np.isnan(point[1]).all()


def _first_crossing_by_brent(path: Path, p: FloatArray, d: FloatArray) -> float | None:
    """Arc length of the first change of side of one lane, from 1,000 samples refined by Brent's method."""

    def side(s: float) -> float:
        off = point_at(path, np.array([s]))[0] - p
        return float(d[0] * off[1] - d[1] * off[0])

    s = np.linspace(0, length(path)[0], 1000)
    off = point_at(path, s) - p
    signs = np.sign(d[0] * off[:, 1] - d[1] * off[:, 0])
    change = np.flatnonzero(signs[:-1] * signs[1:] < 0)
    return float(brentq(side, s[change[0]], s[change[0] + 1], xtol=1e-10)) if change.size else None


@settings(max_examples=15, deadline=None)
@given(seeds, st.floats(-3, 3))
def test_first_crossing_with_a_line_is_the_one_brent_finds(seed: int, angle: float) -> None:
    path = outline(seed, 1)
    p = point_at(path, length(path) * 0.6) + 5.0
    d = np.array([[np.cos(angle), np.sin(angle)]])
    s, point, ok = line_path(p, d * 7.0, path)
    wanted = _first_crossing_by_brent(path, p[0], d[0])
    if wanted is None:
        assert not ok[0] or abs(np.cross(np.append(d[0], 0), np.append(point[0] - p[0], 0))[2]) < 1e-8
    else:
        assert s[0] == pytest.approx(wanted, abs=1e-6)
        assert np.allclose(point, point_at(path, s), atol=1e-8)


def test_line_touching_an_end_counts_and_one_passing_does_not() -> None:
    side = line(at(0, 0), at(0, 400))
    p = np.array([[50.0, 0.0], [50.0, 400.0], [50.0, 401.0], [50.0, -1e-7]])
    s, _, ok = line_path(p, at(1, 0), side)
    assert ok.tolist() == [True, True, False, False]
    assert s[:2].tolist() == [0.0, 400.0]


def test_line_touching_the_top_of_a_curve_counts_once() -> None:
    dome = Path(np.array([[[[0.0, 0], [0, 80], [100, 80], [100, 0]]]]), (False,))
    s, point, ok = line_path(at(0, 60), at(1, 0), dome)
    assert ok[0]
    assert np.allclose(point, [[50, 60]], atol=1e-4)
    assert s[0] == pytest.approx(length(dome)[0] / 2, abs=1e-3)


@settings(max_examples=8, deadline=None)
@example(827)  # Newton runs away from the first crossing there
@given(seeds)
def test_paths_cross_where_shapely_says(seed: int) -> None:
    lanes = 60
    rng = np.random.default_rng(seed)
    a, b = hobby(rng.uniform(0, 300, (lanes, 3, 2))), hobby(rng.uniform(0, 300, (lanes, 4, 2)))
    sa, sb, point, ok = paths(a, b)
    rails_a, rails_b = (shapely.linestrings(flatten_fixed(x, 600)) for x in (a, b))
    crossing = shapely.intersects(rails_a, rails_b)
    # Flattened curves may miss or make a crossing where the real ones all but touch.
    unclear = np.array([_nearly_touching(x, y) for x, y in zip(rails_a, rails_b, strict=True)])
    assert (ok == crossing)[~unclear].all()
    for lane in np.flatnonzero(ok & ~unclear):
        hits = shapely.get_coordinates(shapely.intersection(rails_a[lane], rails_b[lane]))
        along = shapely.line_locate_point(rails_a[lane], shapely.points(hits))
        assert sa[lane] == pytest.approx(along.min(), abs=0.5)
    both = np.flatnonzero(ok)
    assert np.allclose(point_at(a, np.where(ok, sa, 0.0))[both], point[both], atol=1e-6)
    assert np.allclose(point_at(b, np.where(ok, sb, 0.0))[both], point[both], atol=1e-6)


def _nearly_touching(a: shapely.LineString, b: shapely.LineString) -> bool:
    """Whether the answer changes when one curve is made 0.2 mm thicker."""
    thick = a.buffer(0.2)
    return bool(a.intersects(b) != thick.intersects(b)) or bool(
        shapely.get_num_geometries(thick.intersection(b)) != shapely.get_num_coordinates(a.intersection(b))
    )


def test_dart_leg_that_ends_on_a_seam_meets_it() -> None:
    waist = hobby(np.array([[[0.0, 0], [120, 5], [250, 20]]]), at(1, 0), None)
    foot = point_at(waist, np.array([80.0]))
    leg = line(foot + np.array([[3.0, -110.0]]), foot)
    sa, sb, point, ok = paths(waist, leg)
    assert ok[0]
    assert sa[0] == pytest.approx(80.0, abs=1e-6)
    assert sb[0] == pytest.approx(length(leg)[0], abs=1e-6)
    assert np.allclose(point, foot)


def test_paths_meet_at_a_joint_once_and_in_order() -> None:
    zigzag = chain([line(at(0, -10), at(50, 10)), line(at(50, 10), at(100, -10)), line(at(100, -10), at(150, 10))])
    level = line(at(150, 0), at(0, 0))
    sa, sb, point, ok = paths(zigzag, level)
    assert np.allclose(point, [[25, 0]])
    assert np.allclose([sa[0], sb[0]], [np.hypot(25, 10), 125])
    sa, sb, point, _ = paths(level, zigzag)
    assert np.allclose(point, [[125, 0]])
    assert ok[0]


def test_parallel_paths_do_not_meet() -> None:
    hem = line(at(0, 0), at(100, 0))
    _, _, point, ok = paths(hem, line(at(0, 1), at(100, 1)))
    assert not ok[0]
    assert np.isnan(point).all()


@settings(max_examples=20, deadline=None)
@given(seeds, st.floats(-3, 3))
def test_meetings_move_with_the_paths(seed: int, angle: float) -> None:
    a, b = outline(seed), hobby(points(seed + 3, 4, 3)[:, ::-1] + 40.0)
    motion = rotation(at(10, 20), np.array([angle]))
    turned = [Path(apply_points(motion, x.controls), x.straight) for x in (a, b)]
    (sa, _, point, ok), (ta, _, moved, also) = paths(a, b), paths(turned[0], turned[1])
    assert np.array_equal(ok, also)
    assert np.allclose(sa[ok], ta[ok], atol=1e-5)
    assert np.allclose(apply_points(motion, point)[ok], moved[ok], atol=1e-5)


def test_nearest_to_a_crossing_is_the_crossing() -> None:
    a = hobby(np.array([[[0.0, 0], [100, 0]]]), tilt(at(1, 0), 1.0), tilt(at(1, 0), -1.0))
    s, point, _ = line_path(at(30, 0), at(0, 1), a)
    found, distance = nearest(a, point)
    assert distance[0] < 1e-9
    assert found[0] == pytest.approx(s[0], abs=1e-7)
    assert np.allclose(cubic.at(a.controls[:, 0], np.zeros(1)), a.start)
