"""Arc length, positions by arc length, cutting."""

import numpy as np
import pytest
from geometry_samples import at, checks, fine_arc, outline, points, seeds
from godet.geometry import cubic
from godet.geometry.curve import hobby
from godet.geometry.lanes import Disagreement
from godet.geometry.length import (
    cut_at,
    direction_at,
    joints,
    length,
    nearest,
    part,
    point_at,
    span_lengths,
)
from godet.geometry.path import Path, chain, flatten_fixed, line, reverse
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

shares = st.floats(0.001, 0.999)


@settings(max_examples=20, deadline=None)
@given(seeds)
def test_length_agrees_with_adaptive_quadrature(seed: int) -> None:
    path = outline(seed, 2)
    for lane in range(2):
        for span in range(path.spans):
            c = path.controls[lane, span]
            wanted, _ = quad(lambda t, c=c: np.hypot(*cubic.velocity(c, np.array(t))), 0, 1, epsabs=1e-11, epsrel=1e-12)
            assert span_lengths(path)[lane, span] == pytest.approx(wanted, rel=1e-9)


def test_straight_length_is_the_chord_to_the_last_bit() -> None:
    assert length(line(at(1, 2), at(4, 6)))[0] == 5.0


def test_arcs_have_the_length_of_the_formula() -> None:
    table = checks("arc_offset")
    for d, wanted in zip(table["d"], table["length"], strict=True):
        assert length(fine_arc(10 * (table["r"] + d), table["angle_deg"]))[0] / 10 == pytest.approx(wanted, abs=5e-4)


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_lengths_add_up_and_do_not_know_direction(seed: int) -> None:
    one, two = outline(seed), outline(seed + 1)
    assert np.allclose(length(chain([one, two])), length(one) + length(two), rtol=1e-14)
    assert np.allclose(length(reverse(one)), length(one), rtol=1e-12)


@settings(max_examples=40, deadline=None)
@given(seeds, shares)
def test_position_by_length_lies_that_far_along(seed: int, share: float) -> None:
    path = outline(seed)
    s = share * length(path)
    for lane in range(path.lanes):
        single = path.take(np.array([lane]))
        there = part(single, np.zeros(1), s[lane : lane + 1])
        assert length(there) == pytest.approx(s[lane], abs=1e-8)
        assert np.allclose(there.end, point_at(path, s)[lane], atol=1e-9)


@pytest.mark.parametrize("handle", [0.0, 1e-6, 3.0])
def test_position_is_found_where_a_curve_starts_slowly(handle: float) -> None:
    path = Path(np.array([[[[0.0, 0], [handle, 0], [40, 60], [100, 100]]]]), (False,))
    s = np.linspace(0.0, length(path)[0], 41)[1:-1]
    assert np.allclose(length(part(path, np.zeros(1), s)), s, atol=1e-7)


def test_a_joint_belongs_to_the_later_span_and_ends_may_overshoot() -> None:
    path = chain([line(at(0, 0), at(100, 0)), line(at(100, 0), at(100, 50))])
    assert np.allclose(direction_at(path, np.array([100.0 - 5e-10])), [[0, 1]])
    assert np.array_equal(point_at(path, np.array([150.0 + 5e-10])), [[100, 50]])
    assert np.array_equal(point_at(path, np.array([-5e-10])), [[0, 0]])
    assert np.isnan(point_at(path, np.array([151.0]))).all()
    assert np.allclose(direction_at(path, np.array([100.0])), [[0, 1]])


def test_lanes_on_different_spans_disagree_and_say_how() -> None:
    path = chain([line(at(0, 0), at(100, 0)), line(at(100, 0), at(100, 50))])
    s = np.array([10.0, 120.0, 20.0, 999.0])
    with pytest.raises(Disagreement) as caught:
        part(path, np.zeros(1), s)
    keys = caught.value.keys
    assert keys[0] == keys[2] != keys[1]
    found = part(path, np.zeros(1), s[[0, 2, 3]])
    assert found.spans == 1
    assert np.isnan(found.end).any(axis=1).tolist() == [False, False, True]
    assert np.allclose(point_at(path, s[:3]), [[10, 0], [100, 20], [20, 0]])


def _parts_agree(path: Path, s: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> None:
    before, after = cut_at(path, s)
    assert np.array_equal(before.end, after.start)
    assert np.allclose(length(before), s, atol=1e-8)
    whole = chain([before, after])
    assert np.allclose(length(whole), length(path), atol=1e-8)
    steps = np.linspace(0.01, 0.99, 7)
    for share in steps:
        there = share * length(path)
        assert np.allclose(point_at(whole, there), point_at(path, there), atol=1e-7)
    assert np.array_equal(whole.start, path.start)
    assert np.array_equal(whole.end, path.end)


@settings(max_examples=40, deadline=None)
@given(seeds, shares)
def test_a_cut_path_put_together_is_the_path(seed: int, share: float) -> None:
    path = outline(seed, 1)
    _parts_agree(path, share * length(path))


def test_a_cut_on_a_joint_makes_no_empty_span() -> None:
    path = outline(5, 1)
    s = joints(path)[:, 2]
    before, after = cut_at(path, s)
    assert (before.spans, after.spans) == (2, path.spans - 2)
    assert np.array_equal(chain([before, after]).controls, path.controls)


def test_cut_off_the_path_is_masked_in_its_lane_only() -> None:
    path = line(at(0, 0), at(100, 0))
    before, after = cut_at(path, np.array([30.0, 0.0, 100.0, 130.0]))
    assert np.isnan(before.end[:, 0]).tolist() == [False, True, True, True]
    assert np.isnan(after.start[:, 0]).tolist() == [False, True, True, True]


@settings(max_examples=40, deadline=None)
@given(seeds, shares, shares)
def test_a_part_is_as_long_as_asked(seed: int, one: float, two: float) -> None:
    path = outline(seed, 1)
    s0, s1 = (share * length(path) for share in sorted((one, two + 1e-3)))
    piece = part(path, s0, np.minimum(s1, length(path)))
    if s1[0] > s0[0] + 1e-6:
        assert length(piece) == pytest.approx(np.minimum(s1, length(path)) - s0, abs=1e-8)
        assert np.allclose(piece.start, point_at(path, s0), atol=1e-8)
        assert np.allclose(piece.end, point_at(path, s1), atol=1e-8) or s1 > length(path)


def test_the_whole_as_a_part_is_the_path_itself() -> None:
    path = outline(9)
    assert np.array_equal(part(path, np.zeros(1), length(path)).controls, path.controls)


@settings(max_examples=30, deadline=None)
@example(4493)  # near the centre of curvature, where the steps are slow
@given(seeds)
def test_nearest_beats_every_sample(seed: int) -> None:
    path = outline(seed)
    p = points(seed + 7, path.lanes, 2)[:, 1] + 30.0
    s, distance = nearest(path, p)
    assert np.allclose(np.hypot(*(point_at(path, s) - p).T), distance, atol=1e-7)
    off = flatten_fixed(path, 200) - p[:, None]
    assert (np.hypot(off[..., 0], off[..., 1]).min(axis=1) >= distance - 1e-9).all()


def test_nearest_finds_a_point_of_the_path_again() -> None:
    neck = hobby(np.array([[[0.0, 0], [70, 80]]]), at(1, 0), at(0, 1))
    s = np.linspace(0, length(neck)[0], 50)
    found, distance = nearest(neck, point_at(neck, s))
    assert np.allclose(found, s, atol=1e-6)
    assert (distance < 1e-9).all()
