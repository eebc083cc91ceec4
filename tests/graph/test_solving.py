"""The solver of the graph against scipy's, and what it says when there is nothing to find."""

from __future__ import annotations

import numpy as np
import pytest
from godet.graph.solving import solved
from godet.pattern.piece import Reals, Trouble
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(0.5, 3.0), st.floats(5.0, 90.0)), min_size=1, max_size=6))
def test_roots_are_those_of_scipy_on_every_lane(rows: list[tuple[float, float]]) -> None:
    power, goal = (np.array(column) for column in zip(*rows, strict=True))

    def surplus(x: Reals) -> Reals:
        return np.asarray((x / 100.0) ** power * 100.0 - goal)

    lanes = power.shape
    found = solved(surplus, np.zeros(lanes), np.full(lanes, 100.0), np.full(lanes, 1e-6), "x")
    for k in range(lanes[0]):
        exact = brentq(lambda x, k=k: (x / 100.0) ** power[k] * 100.0 - goal[k], 0.0, 100.0, xtol=1e-12)
        assert (found[k] / 100.0) ** power[k] * 100.0 == pytest.approx(goal[k], abs=1e-6)
        assert found[k] == pytest.approx(exact, abs=1e-3)


def test_a_lane_does_not_depend_on_its_neighbours() -> None:
    goal = np.array([3.0, 40.0, 77.0])

    def surplus_of(wanted: Reals) -> Reals:
        low, high, close = (np.full(wanted.shape, value) for value in (0.0, 100.0, 1e-6))
        return solved(lambda x: x**2 / 100.0 - wanted, low, high, close, "x")

    together = surplus_of(goal)
    assert [float(surplus_of(goal[k : k + 1])[0]) for k in range(3)] == together.tolist()


def test_no_root_names_the_lanes_and_both_ends() -> None:
    with pytest.raises(Trouble) as caught:
        solved(lambda x: x + np.array([5.0, -5.0]), np.zeros(2), np.full(2, 10.0), np.full(2, 0.1), "width")
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [True, False]
    assert caught.value.figures["too long by"].tolist()[0] == 5.0
