"""Laws of the verbs that find points, draw lines and measure: each by what it must be, on random points and several bodies."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import shapely
from godet.geometry.curve import bowed
from godet.geometry.lanes import norm
from godet.geometry.length import length, nearest, point_at
from godet.geometry.path import Path, end_direction, flatten_fixed, line, start_direction
from godet.pattern.darts import place_two_ended
from godet.pattern.named import PartEnd
from godet.verbs.comparing import compared
from godet.verbs.lines import part_between
from godet.verbs.measuring import OF
from godet.verbs.registry import verbs
from godet.verbs.sums import end_to_end
from godet.verbs.values import Heading
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from support.drawn_pieces import front

BODIES = np.array([1.0, 1.3])
number = st.floats(-300.0, 300.0)
points = st.tuples(number, number).map(lambda p: np.array([p]) * BODIES[:, None])
law = settings(max_examples=25, deadline=None)


def run(name: str, **words: Any) -> Any:
    return verbs()[name].run(**words)


def same(one: Any, other: Any, within: float = 1e-6) -> None:
    np.testing.assert_allclose(one, other, rtol=0.0, atol=within)


def crossed(one: np.ndarray, two: np.ndarray) -> np.ndarray:
    return np.asarray(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])


@law
@given(points, points, points)
def test_a_foot_lies_on_the_line_and_a_mirror_image_as_far_beyond_it(p: np.ndarray, a: np.ndarray, b: np.ndarray) -> None:
    assume(float(norm(b - a).min()) > 10.0)
    foot, image = run("squared", subject=p, onto_the_line=a, to=b), run("mirrored", subject=p, across_the_line=a, to=b)
    same(crossed(foot - a, b - a) / norm(b - a), 0.0)
    same(((p - foot) * (b - a)).sum(axis=1) / norm(b - a), 0.0)
    same((p + image) / 2.0, foot)


@law
@given(points, points, st.floats(0.05, 3.0))
def test_turned_clockwise_the_sun_goes_from_up_to_outward(p: np.ndarray, centre: np.ndarray, angle: float) -> None:
    assume(float(norm(p - centre).min()) > 1.0)
    by = np.array([angle])
    made = run("turned", subject=p, about=centre, clockwise_by=by)
    same(norm(made - centre), norm(p - centre))
    same(run("corner_angle", about=centre, from_=p, to=made), angle)
    assert (crossed(p - centre, made - centre) < 0.0).all()
    same(run("turned", subject=made, about=centre, anticlockwise_by=by), p)


def test_a_length_that_does_not_reach_its_level_is_refused() -> None:
    with pytest.raises(Exception, match="does not reach that level"):
        run("measured_off", by=np.array([30.0]), from_=np.array([[0.0, 0.0]]), to_level=np.array([[5.0, -40.0]]))


@law
@given(points, points, st.sampled_from(["raised", "dipped", "rounded", "hollowed"]), st.floats(1.0, 30.0), st.booleans())
def test_a_bent_line_bends_to_the_side_told_by_what_was_asked(
    a: np.ndarray, b: np.ndarray, name: str, depth: float, turned: bool
) -> None:
    way = {"raised": (0.0, 1.0), "dipped": (0.0, -1.0), "rounded": (1.0, 0.0), "hollowed": (-1.0, 0.0)}[name]
    assume(float(np.abs(crossed(b - a, np.array([way])))[0]) > 20.0)
    start, end = (b, a) if turned else (a, b)
    made = run("curve", from_=start, to=end, tension=np.ones(1), **{name: np.array([depth])})
    spread = flatten_fixed(made, 64) - start[:, None]
    side = np.array([[-(end - start)[0, 1], (end - start)[0, 0]]])
    side = side / norm(side)[:, None] * np.sign((side * np.array([way])).sum())
    same((spread @ side[0]).max(axis=1), depth, 0.02)
    assert ((spread @ side[0]).min(axis=1) > -1e-6).all()


@law
@given(st.floats(20.0, 300.0), st.floats(20.0, 300.0), st.floats(1.0, 2.0))
def test_a_quarter_round_leaves_and_arrives_as_told(wide: float, high: float, slant: float) -> None:
    start, end = np.zeros((1, 2)), np.array([[wide, high]])
    into = np.array([[-0.2 * slant, 1.0]]) / np.hypot(0.2 * slant, 1.0)
    made = run(
        "quarter", from_=start, to=end, leaving=Heading("fixed", np.array([[1.0, 0.0]])), arriving=Heading("fixed", into)
    )
    same(start_direction(made), [[1.0, 0.0]])
    same(end_direction(made), into)
    same(made.end, end)


def wave() -> Path:
    a, b = np.zeros((2, 2)), np.array([[200.0, 0.0]]) * BODIES[:, None]
    return bowed(a, b, 60.0 * BODIES)


@law
@given(st.floats(0.05, 0.5), st.floats(0.1, 0.4))
def test_a_part_lies_between_its_places(first: float, more: float) -> None:
    path = wave()
    start, stop = length(path) * first, length(path) * (first + more)
    made = part_between(path, PartEnd("at", "start", start), PartEnd("share", "end", 1.0 - first - more + 0.0 * start))
    same(length(made), stop - start)
    same(made.start, point_at(path, start))
    same(made.end, point_at(path, stop))


def test_of_two_crossings_the_first_along_the_first_curve_is_taken() -> None:
    arch, up = wave(), np.array([0.0, 20.0])
    low = bowed(arch.start + up, arch.end + up, np.array([10.0]) * BODIES)
    found, back = run("where", subject=arch, crosses=low), run("where", subject=run("reversed", subject=arch), crosses=low)
    for point in (found, back):
        same(nearest(arch, point)[1], 0.0)
        same(nearest(low, point)[1], 0.0)
    assert (nearest(arch, found)[0] < length(arch) / 2.0).all()
    assert (nearest(arch, back)[0] > length(arch) / 2.0).all()


def test_a_blend_of_two_curves_keeps_their_far_ends_and_directions_and_has_no_kink() -> None:
    corner = np.array([[150.0, 20.0]])
    one, two = bowed(np.zeros((1, 2)), corner, np.array([6.0])), bowed(corner, np.array([[300.0, 0.0]]), np.array([9.0]))
    made = run("blended", subject=end_to_end(one, two))
    same(made.start, one.start)
    same(made.end, two.end)
    same(start_direction(made), start_direction(one))
    same(end_direction(made), end_direction(two))
    steps = np.diff(flatten_fixed(made, 256), axis=1)
    turns = np.abs(np.angle((steps[..., 0] + 1j * steps[..., 1])[:, 1:] / (steps[..., 0] + 1j * steps[..., 1])[:, :-1]))
    assert float(np.degrees(turns.max())) < 2.0


@law
@given(points, points, points)
def test_the_angles_of_a_triangle_make_up_half_a_turn(a: np.ndarray, b: np.ndarray, c: np.ndarray) -> None:
    assume(float(np.abs(crossed(b - a, c - a)).min()) > 100.0)
    corners = ((a, b, c), (b, c, a), (c, a, b))
    same(sum(run("corner_angle", about=p, from_=q, to=r) for p, q, r in corners), np.pi)


@law
@given(points, points)
def test_drop_width_and_slope_are_those_of_the_way(a: np.ndarray, b: np.ndarray) -> None:
    assume(float(norm(b - a).min()) > 1.0)
    way, flat = run("distance", from_=a, to=b), np.abs(run("width", from_=a, to=b))
    same(way * np.sin(run("slope", from_=a, to=b)), a[:, 1] - b[:, 1])
    same(way * np.cos(run("slope", from_=a, to=b)), flat)
    same(run("drop", from_=a, to=b), a[:, 1] - b[:, 1])
    same(run("width", from_=a, to=b), b[:, 0] - a[:, 0])
    same(np.sin(run("falling", by=run("drop", from_=a, to=b), along=way)) * way, a[:, 1] - b[:, 1])


def test_the_area_of_a_piece_is_without_its_darts_of_two_ends() -> None:
    piece = front(BODIES)
    at = [np.array([xy]) * BODIES[:, None] for xy in ((150.0, 120.0), (150.0, 180.0), (150.0, 40.0))]
    inner = np.array([[-1.0, 0.0]])
    holed = place_two_ended(piece, "dart", middle=at[0], width=20.0 * BODIES, upper_apex=at[1], lower_apex=at[2], inner=inner)
    flat = np.concatenate([flatten_fixed(side.drawn, 256) for side in piece.ring], axis=1)
    hole = np.concatenate([side.drawn.start[:, None] for side in holed.holes[0].sides], axis=1)
    expected = [shapely.Polygon(ring).difference(shapely.Polygon(cut)).area for ring, cut in zip(flat, hole, strict=True)]
    np.testing.assert_allclose(OF["area"].run(holed), expected, rtol=1e-5)


@pytest.mark.parametrize(
    ("word", "extra", "holds"),
    [
        ("at_least", None, (False, True, True)),
        ("at_most", None, (True, True, False)),
        ("more_than", None, (False, False, True)),
        ("less_than", None, (True, False, False)),
        ("equals", 0.5, (False, True, False)),
        ("between", 10.5, (False, True, False)),
    ],
)
def test_a_comparison_holds_for_less_the_same_or_more(word: str, extra: float | None, holds: tuple[bool, ...]) -> None:
    assert tuple(compared(word, left, 10.0, extra) for left in (9.0, 10.0, 11.0)) == holds


def test_a_line_runs_from_its_first_point() -> None:
    a, b, up = np.zeros((2, 2)), np.array([[3.0, 4.0]]) * BODIES[:, None], np.array([0.0, 8.0])
    made = run("line", from_=a, to=b)
    same(flatten_fixed(made), flatten_fixed(line(a, b)))
    same(flatten_fixed(run("reversed", subject=made))[:, ::-1], flatten_fixed(made))
    middle = run("averaged", subject=made, to=line(a + up, b + up), share=np.array([0.25]))
    same(middle.start, a + up / 4.0)
