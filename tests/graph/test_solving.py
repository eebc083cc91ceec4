"""The solver of the graph against scipy's, and what it says when there is nothing to find."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from godet.graph.solving import Unsolved, solved
from godet.pattern.piece import Reals
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from support.styles import said, values, written


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


def test_no_root_names_the_lanes_and_what_was_tried() -> None:
    with pytest.raises(Unsolved) as caught:
        solved(lambda x: x + np.array([5.0, -5.0]), np.zeros(2), np.full(2, 10.0), np.full(2, 0.1), "width")
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [True, False]
    assert [(float(at[0]), float(over[0])) for at, over in caught.value.tries] == [(2.0 * k, 2.0 * k + 5.0) for k in range(6)]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(-50.0, 150.0), min_size=1, max_size=6))
def test_kept_between_bounds_the_nearer_bound_stands_in_for_an_answer(goals: list[float]) -> None:
    """x = goal between 0 and 100: the goal kept within them. Each lane for itself."""
    goal = np.array(goals)
    low, high, close = (np.full(goal.shape, value) for value in (0.0, 100.0, 1e-6))
    found = solved(lambda x: x - goal, low, high, close, "x", kept=True)
    np.testing.assert_allclose(found, np.clip(goal, 0.0, 100.0), rtol=0.0, atol=1e-6)


NESTED = """language 1
solve outer between 1 cm and 9 cm that inner + outer equals 10 cm tolerance 0.01 mm
solve inner kept between 0 cm and {most} that inner * inner equals outer * outer * 2.25 tolerance 0.01 mm * 1 mm
"""


@pytest.mark.parametrize(("most", "outer", "inner"), [("20 cm", 40.0, 60.0), ("3 cm", 70.0, 30.0)])
def test_a_solve_inside_another_is_found_anew_for_every_value_that_is_tried(most: str, outer: float, inner: float) -> None:
    """inner = 1.5 outer and both together 10 cm; kept below 3 cm, the outer one makes up for it."""
    rows = dict(line.split(": ") for line in values(written(NESTED.format(most=most))).splitlines())
    assert float(rows["outer"]) == pytest.approx(outer, abs=0.02)
    assert float(rows["inner"]) == pytest.approx(inner, abs=0.02)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(0.1, 0.9), min_size=1, max_size=5))
def test_a_root_is_found_where_both_bounds_lie_on_one_side_of_it(places: list[float]) -> None:
    """A parabola through nothing twice: at a place, and two and a half tries further on. The first is found, as by scipy."""
    first = np.array(places) * 4.0
    second = first + 5.0

    def surplus(x: Reals) -> Reals:
        return np.asarray((x - first) * (x - second))

    low, high = np.zeros(first.shape), np.full(first.shape, 10.0)
    found = solved(surplus, low, high, np.full(first.shape, 1e-7), "x")
    for k, at in enumerate(first):
        exact = brentq(lambda x, k=k: (x - first[k]) * (x - second[k]), 0.0, first[k] + 2.0, xtol=1e-12)
        assert found[k] == pytest.approx(exact, abs=1e-6)
        assert exact == pytest.approx(at, abs=1e-9)


@pytest.mark.parametrize(
    ("goal", "rest", "answer"),
    [
        (
            "between 10 deg and 80 deg that drop from a to c equals 5 cm tolerance 0.01 mm",
            "point c = turned b about a clockwise_by s",
            np.pi / 6,
        ),
        ("between 0 and 1 that width from a to c equals 3 cm tolerance 0.01 mm", "point c = partway from a to b by s", 0.3),
        ("between 1 cm and 9 cm that slope from a to c equals 45 deg tolerance 0.01 deg", "point c = b inward 4 cm down s", 60.0),
        ("between 1 cm and 20 cm that s * s equals side * side tolerance 1 mm * 1 mm", "length side = 7 cm", 70.0),
    ],
)
def test_lengths_angles_numbers_and_areas(goal: str, rest: str, answer: float) -> None:
    text = f"language 1\npoint a = starting_point\npoint b = a outward 10 cm\n{rest}\nsolve s {goal}\n"
    found = values(written(text + "check c that s more_than s - s\n"))
    (line,) = [line for line in found.splitlines() if line.startswith("s: ")]
    assert float(line.removeprefix("s: ")) == pytest.approx(answer, abs=1e-2)


def test_the_tolerance_is_of_the_kind_that_is_compared() -> None:
    text = "language 1\nsolve s between 1 cm and 2 cm that s * 2 equals 3 cm tolerance 0.1 deg\nlength t = s\n"
    assert "E208" in said(written(text))


def found(*sentences: str) -> dict[str, float]:
    """The numbers of a style by name."""
    printed = values(written("language 1\n" + "\n".join(sentences) + "\n"))
    return {name: float(value) for name, _, value in (line.partition(": ") for line in printed.splitlines())}


def test_the_order_of_a_solve_and_what_it_is_measured_on_does_not_matter() -> None:
    sentences = ("length c = s * 3", "solve s between 0 cm and 9 cm that c equals 12 cm tolerance 0.001 mm", "length d = c + s")
    for order in permutations(sentences):
        assert found(*order) == pytest.approx({"c": 120.0, "d": 160.0, "s": 40.0}, abs=1e-3)


def test_a_solve_is_measured_through_the_arm_of_a_choice() -> None:
    made = found(
        "length c = s * 3 when bust_girth more_than 1 cm otherwise s * 2",
        "length d = c when bust_girth more_than 9 m otherwise c + 1 cm",
        "solve s between 0 cm and 9 cm that d equals 13 cm tolerance 0.001 mm",
    )
    assert made["s"] == pytest.approx(40.0, abs=1e-3)


def test_one_solve_inside_another() -> None:
    """x + y = 10 cm and x = 2 y + 1 cm: x is 7 cm, y is 3 cm."""
    made = found(
        "length sum = x + y",
        "solve x between 1 cm and 20 cm that sum equals 10 cm tolerance 0.01 mm",
        "solve y between 0 cm and 20 cm that y * 2 + 1 cm equals x tolerance 0.001 mm",
    )
    assert made["x"] == pytest.approx(70.0, abs=0.02)
    assert made["y"] == pytest.approx(30.0, abs=0.02)


def test_a_solve_inside_a_recipe_that_only_a_check_uses() -> None:
    recipe = (
        'recipe third_of "A third, found" {\n    takes length whole "what is parted"\n'
        "    solve part between 0 cm and 1 m that part * 3 equals whole tolerance 0.01 mm\n"
        "    gives length third = part + 0 cm\n}\n"
    )
    text = f"language 1\n{recipe}check c that (third_of with whole 9 cm) equals 3 cm tolerance 0.1 mm\n"
    assert values(written(text)) == "check c: holds"
