"""Values read off the rows of a table, against numpy's and scipy's ways of doing the same."""

from __future__ import annotations

import numpy as np
import pytest
from godet.pattern.piece import Trouble
from godet.verbs.rows import read_off
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import interp1d

ROWS = st.lists(st.tuples(st.floats(1.0, 50.0), st.floats(-100.0, 100.0)), min_size=2, max_size=8)
PLACES = st.lists(st.floats(-50.0, 450.0), min_size=1, max_size=6)
SCIPY = {"straight": "linear", "row_below": "previous", "row_above": "next"}


def ascending(rows: list[tuple[float, float]]) -> tuple[list[float], list[float]]:
    return np.cumsum([step for step, _ in rows]).tolist(), [value for _, value in rows]


@settings(max_examples=50, deadline=None)
@given(ROWS, PLACES, st.sampled_from(sorted(SCIPY)))
def test_between_and_beyond_as_in_scipy(rows: list[tuple[float, float]], places: list[float], between: str) -> None:
    keys, values = ascending(rows)
    held = interp1d(keys, values, SCIPY[between], bounds_error=False, fill_value=(values[0], values[-1]))
    assert np.allclose(read_off(places, keys, values, between, "held"), held(places), atol=1e-9)
    on = interp1d(keys, values, "linear", fill_value="extrapolate")
    far = [place for place in places if not keys[0] <= place <= keys[-1]]
    if far:
        assert np.allclose(read_off(far, keys, values, between, "straight"), on(far), rtol=1e-9, atol=1e-6)


@settings(max_examples=50, deadline=None)
@given(ROWS, PLACES)
def test_the_nearest_row_is_as_near_as_any(rows: list[tuple[float, float]], places: list[float]) -> None:
    keys, values = ascending(rows)
    found = read_off(places, keys, values, "nearest", "held")
    for place, value in zip(places, found, strict=True):
        away = np.abs(np.array(keys) - place)
        assert value in np.array(values)[away <= away.min() + 1e-9]


def test_rows_themselves_are_read_exactly() -> None:
    for between in (*SCIPY, "nearest"):
        assert read_off([1.0, 2.0, 4.0], [1.0, 2.0, 4.0], [5.0, 7.0, 6.0], between, "refused").tolist() == [5.0, 7.0, 6.0]


def test_beyond_the_rows_is_refused_for_the_bodies_concerned() -> None:
    with pytest.raises(Trouble) as caught:
        read_off([1.0, 3.0, 9.0], [2.0, 4.0], [1.0, 2.0], "straight", "refused")
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [True, False, True]
    assert caught.value.figures["it asks for"].tolist() == [1.0, 3.0, 9.0]
