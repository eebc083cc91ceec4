"""The outline: edges in any order and direction make one ring."""

import itertools

import numpy as np
import pytest
from godet.geometry.path import line
from godet.pattern.outline import outline
from godet.pattern.piece import Trouble
from pattern_drafts import area, front, names_of, skirt

CORNERS = {"a": (0.0, 0.0), "b": (300.0, 0.0), "c": (260.0, 400.0)}
EDGES = [("hem", "a", "b"), ("side", "b", "c"), ("slant", "c", "a")]


def _edge(name: str, start: str, end: str):  # type: ignore[no-untyped-def]  # the shape of one edge is the contract
    return name, line(np.array([CORNERS[start]]), np.array([CORNERS[end]])), start, end


def test_any_order_and_direction_of_the_edges_gives_the_same_counter_clockwise_piece() -> None:
    for order in itertools.permutations(EDGES):
        for flips in itertools.product((False, True), repeat=3):
            given = [(n, b, a) if flip else (n, a, b) for (n, a, b), flip in zip(order, flips, strict=True)]
            piece = outline([_edge(*edge) for edge in given])
            assert area(piece)[0] == pytest.approx(300.0 * 400.0 / 2.0)
            names = [side.edge for side in piece.ring]
            start = names.index("hem")
            assert [*names[start:], *names[:start]] == ["hem", "side", "slant"]


def test_an_open_outline_names_the_edge_and_the_point() -> None:
    with pytest.raises(Trouble) as caught:
        outline([_edge("hem", "a", "b"), _edge("side", "b", "c")])
    assert "`a`" in caught.value.message
    assert "`hem`" in caught.value.message


def test_a_point_used_by_three_edges_is_refused() -> None:
    extra = ("tie", line(np.array([CORNERS["c"]]), np.array([[0.0, 900.0]])), "c", "x")
    with pytest.raises(Trouble, match="3 ends meet at `c`"):
        outline([*(_edge(*edge) for edge in EDGES), extra])


def test_two_rings_are_refused() -> None:
    other = [(f"{name} two", None, f"{a}2", f"{b}2") for name, a, b in EDGES]
    with pytest.raises(Trouble, match="separate rings"):
        outline([*((n, None, a, b) for n, a, b in EDGES), *other])


def test_ends_that_do_not_lie_on_each_other_are_refused_in_their_lanes() -> None:
    bad = line(np.array([[0.0, 0.0], [0.0, 2.0]]), np.array([[300.0, 0.0], [300.0, 0.0]]))
    with pytest.raises(Trouble) as caught:
        outline([("hem", bad, "a", "b"), _edge("side", "b", "c"), _edge("slant", "c", "a")])
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [False, True]


def test_a_drafted_dart_is_known_by_its_legs() -> None:
    piece = front()
    (dart,) = piece.darts
    assert (dart.name, dart.edge) == ("bust_dart", "armhole")
    # Counter-clockwise the front's armhole runs upward, so the lower leg comes first.
    assert (dart.first, dart.second) == ("bust_dart.outer_leg", "bust_dart.inner_leg")


def test_a_sketch_has_the_names_of_the_cloth() -> None:
    assert names_of(front(cloth=False)) == names_of(front())
    assert names_of(skirt([240.0], cloth=False)) == names_of(skirt([240.0]))
