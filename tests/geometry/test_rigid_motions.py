"""Turns, shifts and mirrors change no length and no area."""

import numpy as np
import pytest
from geometry_samples import at, outline, points, seeds
from godet.geometry.length import length
from godet.geometry.motion import (
    angle,
    apply_path,
    apply_points,
    foot,
    identity,
    inverse,
    mirror_path,
    mirror_points,
    rotation,
    then,
    translation,
)
from godet.geometry.path import line, ring_area
from hypothesis import given, settings
from hypothesis import strategies as st

angles = st.floats(-3.1, 3.1)


@settings(max_examples=40, deadline=None)
@given(seeds, angles)
def test_a_moved_piece_keeps_lengths_and_area(seed: int, turn: float) -> None:
    side = outline(seed)
    ring = [side, line(side.end, side.start)]
    motion = then(rotation(at(120, -40), np.array([turn])), translation(at(17, 300)))
    moved = [apply_path(motion, p) for p in ring]
    assert np.allclose(length(moved[0]), length(side), atol=1e-9)
    assert np.allclose(ring_area(moved), ring_area(ring), atol=1e-6)
    assert np.allclose(angle(motion), turn)


@settings(max_examples=40, deadline=None)
@given(seeds, angles, angles)
def test_motions_compose_and_undo(seed: int, one: float, two: float) -> None:
    p = points(seed, 3, 4)
    first, second = rotation(p[:, 0], np.array([one])), rotation(p[:, 2], np.array([two]))
    both = apply_points(then(first, second), p)
    assert np.allclose(both, apply_points(second, apply_points(first, p)), atol=1e-9)
    assert np.allclose(apply_points(then(first, inverse(first)), p), p, atol=1e-9)
    assert np.array_equal(apply_points(identity(), p), p)
    assert np.allclose(apply_points(first, p)[:, 0], p[:, 0])


def test_a_quarter_turn_is_anticlockwise() -> None:
    assert np.allclose(apply_points(rotation(at(1, 1), np.array([np.pi / 2])), at(2, 1)), [[1, 2]])


def test_closing_a_dart_turns_one_leg_onto_the_other() -> None:
    # A dart of 30 mm on legs of 150 mm: angle 2 asin(15/150), as in the closed-form check "dart_same_angle".
    half = np.arcsin(15.0 / 150.0)
    apex = at(0, 0)
    legs = 150.0 * np.array([[[np.sin(-half), np.cos(half)], [np.sin(half), np.cos(half)]]])
    closed = apply_points(rotation(apex, np.array([2 * half])), legs)
    assert np.allclose(closed[:, 1], legs[:, 0], atol=1e-12)
    assert np.degrees(2 * half) == pytest.approx(11.4783, abs=5e-4)


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_a_mirror_undoes_itself_and_turns_the_area_over(seed: int) -> None:
    side = outline(seed)
    ring = [side, line(side.end, side.start)]
    p, q = at(3, 4), at(50, -20)
    over = [mirror_path(p, q, x) for x in ring]
    assert np.allclose(ring_area(over), -ring_area(ring), atol=1e-6)
    assert np.allclose(length(over[0]), length(side), atol=1e-9)
    assert np.allclose(mirror_path(p, q, over[0]).controls, side.controls, atol=1e-9)
    assert np.allclose(over[0].start, mirror_points(p, q, side.start))


def test_a_mirror_in_the_centre_front_is_exact() -> None:
    assert mirror_points(at(0, -50), at(0, 400), at(12.34, 56.78)).tolist() == [[-12.34, 56.78]]


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_the_foot_of_a_perpendicular_is_on_the_line_and_square_to_it(seed: int) -> None:
    p = points(seed, 4, 3)
    on = foot(p[:, 2], p[:, 0], p[:, 1])
    way = p[:, 1] - p[:, 0]
    assert np.allclose(((p[:, 2] - on) * way).sum(axis=1), 0.0, atol=1e-7)
    assert np.allclose(mirror_points(p[:, 0], p[:, 1], on), on, atol=1e-9)
