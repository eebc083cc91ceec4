"""What is known of a node is known body by body, however the bodies were worked together."""

from __future__ import annotations

import numpy as np
import pytest
from godet.geometry.lanes import Disagreement
from godet.geometry.path import Path, line, polyline
from godet.graph.known import PartValues, Store, View
from hypothesis import given
from hypothesis import strategies as st

COUNT = 12
Kinds = st.lists(st.integers(0, 3), min_size=COUNT, max_size=COUNT)


def laid(store: Store, index: int, kinds: list[int], structured: bool) -> None:
    """A value of each body that tells its number, laid down kind by kind; a path has as many spans as its kind says."""
    for kind in sorted(set(kinds)):
        lanes = store.one(np.flatnonzero(np.array(kinds) == kind))
        numbers = lanes.astype(np.float64)
        spans = kind + 1 if structured else 1
        points = np.stack([np.stack([numbers, np.full_like(numbers, k)], axis=1) for k in range(spans + 1)], axis=1)
        store.lay(index, lanes, polyline(points) if structured else numbers)


@given(Kinds, st.sets(st.integers(0, COUNT - 1), min_size=1))
def test_numbers_are_one_again(kinds: list[int], some: set[int]) -> None:
    store = Store(COUNT)
    laid(store, 0, kinds, structured=False)
    lanes = store.one(np.array(sorted(some)))
    assert np.array_equal(np.asarray(store.get(0, lanes)), lanes)
    assert len(store.parted([0], lanes)) == 1


@given(Kinds, st.sets(st.integers(0, COUNT - 1), min_size=1))
def test_what_differs_in_structure_parts_the_bodies_that_ask_for_it(kinds: list[int], some: set[int]) -> None:
    store = Store(COUNT)
    laid(store, 0, kinds, structured=True)
    lanes = store.one(np.array(sorted(some)))
    if len({kinds[lane] for lane in some}) > 1:
        with pytest.raises(Disagreement) as split:
            store.get(0, lanes)
        assert [split.value.keys[k] == split.value.keys[0] for k in range(lanes.size)] == [
            kinds[lane] == kinds[lanes[0]] for lane in lanes
        ]
    for alike in store.parted([0], lanes):
        path = store.get(0, alike)
        assert isinstance(path, Path)
        assert path.spans == kinds[alike[0]] + 1
        assert np.array_equal(path.start[:, 0], alike)


@given(st.sets(st.integers(0, COUNT - 1), min_size=1), st.sets(st.integers(0, COUNT - 1), min_size=1))
def test_an_arm_is_told_of_those_who_take_it(taking: set[int], asked: set[int]) -> None:
    store = Store(COUNT)
    there = store.one(np.array(sorted(taking)))
    store.lay(0, there, there.astype(np.float64))
    lanes = store.one(np.array(sorted(asked)))
    told = PartValues(store, lanes)
    assert (0 in View(store, lanes)) is (asked <= taking)
    assert (0 in told) is bool(asked & taking)
    if asked & taking:
        known = np.isin(lanes, there)
        assert np.array_equal(np.broadcast_to(np.asarray(told[0]), lanes.shape)[known], lanes[known])


def test_one_value_for_all_stands_for_all() -> None:
    store = Store(3)
    store.lay(0, store.one(np.array([0, 2])), line(np.zeros((1, 2)), np.ones((1, 2))))
    store.lay(0, store.one(np.array([1])), line(np.ones((1, 2)), np.zeros((1, 2))))
    path = store.get(0, store.one(np.arange(3)))
    assert isinstance(path, Path)
    assert path.start[:, 0].tolist() == [0.0, 1.0, 0.0]
