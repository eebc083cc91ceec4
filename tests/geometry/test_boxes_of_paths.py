"""What is told of a path cheaply must hold of the path itself."""

from __future__ import annotations

import numpy as np
from godet.geometry.length import least_away, nearest
from godet.geometry.path import Path, finite
from hypothesis import given, settings
from hypothesis import strategies as st

seeds = st.integers(0, 2**32 - 1)


@given(seeds)
@settings(max_examples=60, deadline=None)
def test_a_path_is_no_nearer_than_its_box(seed: int) -> None:
    random = np.random.default_rng(seed)
    path = Path(random.uniform(-100.0, 100.0, (5, 3, 4, 2)), (False, False, False))
    points = random.uniform(-300.0, 300.0, (5, 2))
    assert (least_away(path, points) <= nearest(path, points)[1] + 1e-9).all()


@given(seeds)
@settings(max_examples=30, deadline=None)
def test_what_is_known_finite_stays_so_for_some_of_the_bodies(seed: int) -> None:
    random = np.random.default_rng(seed)
    controls = random.uniform(-100.0, 100.0, (6, 2, 4, 2))
    lost = random.random(6) < 0.4
    controls[lost, 1, 2, 0] = np.nan
    path = Path(controls, (False, True))
    assert finite(path).tolist() == (~lost).tolist()
    some = random.integers(0, 6, 4)
    assert finite(path.take(some)).tolist() == (~lost)[some].tolist()
