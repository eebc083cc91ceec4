"""Darts drafted with their edge: legs, the line with the darts closed, its length, and what is not there."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import pytest
from godet.geometry.length import length
from godet.geometry.path import Path, end_direction, line, start_direction
from godet.geometry.spline import hobby
from godet.pattern.piece import Reals, Trouble
from godet.verbs.opened import Drafted, opened_curve
from godet.verbs.values import Heading, Opened
from hypothesis import given, settings
from hypothesis import strategies as st

Darts = list[tuple[Drafted, Mapping[str, Reals]]]

widths = st.floats(5.0, 28.0)  # two of 30 mm, 60 long, side by side on the narrowest waist have no room: told, and another law
longs = st.floats(60.0, 160.0)


@st.composite
def drafts(draw: st.DrawFn) -> dict[str, list[float]]:
    """Half a waist, 18 to 32 cm wide and up to 5 cm higher at one end, with two darts that have room; three such bodies."""
    names = {"wide": st.floats(180.0, 320.0), "rise": st.floats(-30.0, 50.0), "lean": st.floats(-0.2, 0.2)}
    names |= {"share1": st.floats(0.25, 0.42), "share2": st.floats(0.62, 0.75)}
    names |= {"width1": widths, "width2": widths, "long1": longs, "long2": longs}
    return {name: draw(st.lists(values, min_size=3, max_size=3)) for name, values in names.items()}


def drawn(body: Mapping[str, Reals], mirrored: bool = False, darts: int = 2) -> Opened:
    """The waist of a skirt, from its centre at the origin to its side; mirrored, the outline runs the other way round."""
    sign = -1.0 if mirrored else 1.0
    start, stop = np.zeros((1, 2)), np.stack([sign * body["wide"], body["rise"]], axis=-1)
    low, high = np.array([[0.0, -600.0]]), stop + np.array([[0.0, -600.0]])
    ring = [line(start, stop), line(stop, high), line(high, low), line(low, start)]
    way = np.stack([sign * np.cos(body["lean"]), np.sin(body["lean"])], axis=-1)
    stated: Darts = [
        (
            Drafted(f"dart{k}", "chord", "start"),
            {"chord": body[f"share{k}"], "width": body[f"width{k}"], "as_long_as": body[f"long{k}"]},
        )
        for k in (1, 2)[:darts]
    ]
    leaving = Heading("fixed", np.array([[sign, 0.0]]))
    return opened_curve(start, stop, stated, ring, np.ones(1), leaving=leaving, arriving=Heading("fixed", way))


def lanes(draft: Mapping[str, list[float]]) -> dict[str, Reals]:
    return {name: np.array(values) for name, values in draft.items()}


def turned(points: Reals, about: Reals, angle: Reals) -> Reals:
    """Points turned anticlockwise, in plain complex numbers."""
    as_one = (points - about) @ np.array([1.0, 1.0j]) * np.exp(1.0j * angle)
    return np.stack([as_one.real, as_one.imag], axis=-1) + about


def closed_end(body: Mapping[str, Reals]) -> tuple[Reals, Reals]:
    """Where the side end comes to lie with both darts closed, and by how much it has turned: by the rule, dart by dart."""
    stop = np.stack([body["wide"], body["rise"]], axis=-1)
    chord = stop / np.hypot(*stop.T)[:, None]
    down = np.stack([chord[:, 1], -chord[:, 0]], axis=-1)
    whole = np.zeros(3)
    for k in (2, 1):  # from the side inward
        apex = body[f"share{k}"][:, None] * np.stack([body["wide"], body["rise"]], axis=-1) + body[f"long{k}"][:, None] * down
        angle = 2.0 * np.arctan(body[f"width{k}"] / 2.0 / body[f"long{k}"])
        stop, whole = turned(stop, apex, angle), whole + angle
    return stop, whole


@settings(deadline=None)
@given(drafts())
def test_legs_are_equal_and_the_edge_is_one_smooth_line_once_sewn(draft: dict[str, list[float]]) -> None:
    body = lanes(draft)
    made = drawn(body)
    assert made.darts == ("dart1", "dart2")
    for one, other in made.legs:
        assert np.abs(length(one) - length(other)).max() < 1e-9
        assert np.array_equal(one.end, other.start)
    angles = [2.0 * np.arctan(body[f"width{k}"] / 2.0 / body[f"long{k}"]) for k in (1, 2)]
    for k, angle in enumerate(angles):
        before, after = end_direction(made.parts[k]), start_direction(made.parts[k + 1])
        assert np.abs(turned(after, np.zeros((1, 2)), angle) - before).max() < 1e-9


@settings(deadline=None)
@given(drafts())
def test_its_length_is_that_of_the_curve_drawn_with_the_darts_closed(draft: dict[str, list[float]]) -> None:
    body = lanes(draft)
    made = drawn(body)
    stop, angle = closed_end(body)
    way = turned(np.stack([np.cos(body["lean"]), np.sin(body["lean"])], axis=-1), np.zeros((1, 2)), angle)
    whole = hobby(np.stack([np.zeros((3, 2)), stop], axis=1), np.array([[1.0, 0.0]] * 3), way)
    sewn = sum(length(part) for part in made.parts)
    assert np.abs(sewn - length(whole)).max() < 1e-9
    # It leaves and arrives as stated, with the darts open too.
    assert np.abs(start_direction(made.parts[0]) - [[1.0, 0.0]]).max() < 1e-12
    open_way = np.stack([np.cos(body["lean"]), np.sin(body["lean"])], axis=-1)
    assert np.abs(end_direction(made.parts[-1]) - open_way).max() < 1e-12


@settings(deadline=None)
@given(drafts())
def test_mirrored_it_is_the_mirror_image(draft: dict[str, list[float]]) -> None:
    plain, mirrored = drawn(lanes(draft)), drawn(lanes(draft), mirrored=True)
    for one, other in zip(plain.parts, mirrored.parts, strict=True):
        assert np.abs(one.controls * [-1.0, 1.0] - other.controls).max() < 1e-9


@settings(deadline=None)
@given(drafts())
def test_without_a_dart_it_is_the_plain_curve(draft: dict[str, list[float]]) -> None:
    body = lanes(draft)
    narrow = {**body, "width1": np.full(3, 0.9), "width2": np.zeros(3)}
    plain = drawn(body, darts=0)
    assert plain.darts == ()
    assert len(plain.parts) == 1
    assert np.array_equal(drawn(narrow).parts[0].controls, plain.parts[0].controls)


@settings(deadline=None)
@given(drafts())
def test_together_equals_alone(draft: dict[str, list[float]]) -> None:
    together = drawn(lanes(draft))
    for lane in range(3):
        alone = drawn(lanes({name: [values[lane]] for name, values in draft.items()}))
        for one, other in zip(together.parts, alone.parts, strict=True):
            assert np.array_equal(one.controls[lane], other.controls[0])


def square() -> tuple[Reals, Reals, list[Path]]:
    """A square of 20 cm, its upper edge from the left to the right."""
    left, right = np.array([[0.0, 200.0]]), np.array([[200.0, 200.0]])
    low_right, low_left = np.array([[200.0, 0.0]]), np.zeros((1, 2))
    return left, right, [line(left, right), line(right, low_right), line(low_right, low_left), line(low_left, left)]


def test_a_dart_by_its_ends_and_one_on_the_chord_share_an_edge() -> None:
    left, right, ring = square()
    ends = {"from": np.array([[45.0, 203.0]]), "to": np.array([[65.0, 203.0]]), "ending_at": np.array([[55.0, 100.0]])}
    chord = {"chord": np.array([0.3]), "width": np.array([15.0]), "as_long_as": np.array([80.0])}
    both: Darts = [(Drafted("far", "chord", "end"), chord), (Drafted("near", "mouth", "start"), ends)]
    made = opened_curve(left, right, both, ring, np.ones(1))
    assert made.darts == ("near", "far")
    assert made.parts[0].end[0] == pytest.approx([45.0, 203.0])
    assert made.parts[1].start[0] == pytest.approx([65.0, 203.0])
    assert made.legs[1][0].end[0] == pytest.approx([140.0, 120.0])
    for one, other in made.legs:
        assert length(one) == pytest.approx(length(other), abs=1e-9)


@pytest.mark.parametrize(
    ("chord", "width", "long", "message"),
    [
        (1.2, 20.0, 80.0, "beyond the end"),
        (0.02, 30.0, 80.0, "does not fit"),
        (0.5, 20.0, -3.0, "no length"),
    ],
)
def test_a_dart_that_does_not_fit_is_told(chord: float, width: float, long: float, message: str) -> None:
    left, right, ring = square()
    given_words = {"chord": np.array([chord]), "width": np.array([width]), "as_long_as": np.array([long])}
    with pytest.raises(Trouble, match=message):
        opened_curve(left, right, [(Drafted("one", "chord", "start"), given_words)], ring, np.ones(1))


def test_two_darts_that_cross_are_told() -> None:
    left, right, ring = square()
    wide = {"width": np.array([30.0]), "as_long_as": np.array([50.0])}
    stated: Darts = [
        (Drafted(f"dart{k}", "chord", "start"), {"chord": np.array([at]), **wide})
        for k, at in enumerate((0.5, 0.55))
    ]
    with pytest.raises(Trouble, match="does not fit"):
        opened_curve(left, right, stated, ring, np.ones(1))


def test_darts_are_written_in_the_order_in_which_they_stand() -> None:
    left, right, ring = square()
    narrow = {"width": np.array([10.0]), "as_long_as": np.array([80.0])}
    places = [np.array([0.6]), np.array([0.3])]
    stated: Darts = [(Drafted(f"dart{k}", "chord", "start"), {"chord": at, **narrow}) for k, at in enumerate(places)]
    with pytest.raises(Trouble, match="another order"):
        opened_curve(left, right, stated, ring, np.ones(1))
    assert opened_curve(left, right, stated[::-1], ring, np.ones(1)).darts == ("dart1", "dart0")


def test_a_straight_edge_is_straight_once_sewn() -> None:
    left, right, ring = square()
    given_words = {"chord": np.array([0.5]), "width": np.array([20.0]), "as_long_as": np.array([100.0])}
    made = opened_curve(left, right, [(Drafted("one", "chord", "start"), given_words)], ring)
    # The right end turns about (100, 100) by twice the angle whose tangent is 10 / 100.
    angle = 2.0 * math.atan(0.1)
    end = complex(100.0, 100.0) + complex(100.0, 100.0) * complex(math.cos(angle), math.sin(angle))
    sewn = sum(length(part) for part in made.parts)
    assert sewn == pytest.approx(abs(end - complex(0.0, 200.0)), abs=1e-9)
    assert all(part.straight == (True,) for part in made.parts)
