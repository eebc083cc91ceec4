"""Paths: points, directions, flattening, areas, boxes."""

import numpy as np
import shapely
from geometry_samples import arc, at, checks, fine_arc, outline, points, seeds
from godet.geometry.curve import hobby
from godet.geometry.path import (
    Path,
    bounds,
    chain,
    end_direction,
    evaluate,
    flatten_fixed,
    flatten_within,
    line,
    polyline,
    reverse,
    ring_area,
    start_direction,
)
from godet.geometry.valid import simple
from hypothesis import given, settings


def test_line_goes_from_point_to_point() -> None:
    hem = line(at(0, 0), at(300, 40))
    assert hem.spans == 1
    assert hem.straight == (True,)
    assert np.allclose(evaluate(hem, 0, np.array([0.25]))[0, 0], [75, 10])


def test_one_lane_joins_many() -> None:
    fold = line(at(0, 0), at(0, 100))
    hems = line(at(0, 100), np.array([[200.0, 100], [220, 100], [240, 100]]))
    both = chain([fold, hems])
    assert both.lanes == 3
    assert both.spans == 2
    assert (both.end[:, 0] == [200, 220, 240]).all()


def test_direction_is_found_when_a_handle_has_no_length() -> None:
    c = np.array([[[[0.0, 0], [0, 0], [30, 40], [100, 100]]]])
    assert np.allclose(start_direction(Path(c, (False,))), [[0.6, 0.8]])
    assert np.allclose(end_direction(reverse(Path(c, (False,)))), [[-0.6, -0.8]])


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_reverse_swaps_ends_and_directions(seed: int) -> None:
    path = outline(seed)
    back = reverse(path)
    assert (back.start == path.end).all()
    assert np.allclose(start_direction(back), -end_direction(path))
    assert np.array_equal(reverse(back).controls, path.controls)


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_flattening_keeps_its_tolerance(seed: int) -> None:
    path = outline(seed, 2)
    for tolerance in (1.0, 0.01):
        coarse = shapely.LineString(flatten_within(path, tolerance, 1))
        fine = shapely.points(flatten_fixed(path, 300)[1])
        assert shapely.distance(fine, coarse).max() <= tolerance + 1e-9


def test_flattening_gives_a_straight_span_its_ends_only() -> None:
    path = chain([line(at(0, 0), at(100, 0)), hobby(np.array([[[100.0, 0], [150, 50]]]), at(1, 0), at(0, 1))])
    assert flatten_fixed(path, 8).shape == (1, 10, 2)
    assert (flatten_within(path, 0.1)[:2] == [[0, 0], [100, 0]]).all()


def test_quarter_disc_and_ring_have_the_area_of_the_formula() -> None:
    sector = checks("sector")
    r = 10 * sector["R"]
    disc = ring_area([fine_arc(r, 90), line(at(0, r), at(0, 0)), line(at(0, 0), at(r, 0))])
    assert abs(disc[0] / 100 - sector["area"]) < 1e-3
    small, large = 10 * sector["ring_r"], 10 * sector["ring_R"]
    sides = line(at(-large, 0), at(-small, 0)), line(at(small, 0), at(large, 0))
    ring = ring_area([fine_arc(large, 180), sides[0], reverse(fine_arc(small, 180)), sides[1]])
    assert abs(ring[0] / 100 - sector["ring_area"]) < 0.05


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_area_changes_sign_with_the_way_round_and_not_with_place(seed: int) -> None:
    side = outline(seed)
    ring = [side, line(side.end, side.start)]
    area = ring_area(ring)
    assert np.allclose(ring_area([reverse(p) for p in reversed(ring)]), -area, rtol=1e-12, atol=1e-6)
    far = [Path(p.controls + 1e4, p.straight) for p in ring]
    assert np.allclose(ring_area(far), area, rtol=1e-9, atol=1e-4)


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_area_agrees_with_a_fine_polygon(seed: int) -> None:
    side = outline(seed)
    exact = ring_area([side, line(side.end, side.start)])
    flat = flatten_fixed(side, 2000)
    whole = simple(flat)
    fine = [shapely.Polygon(p).area * (1 if shapely.LinearRing(p).is_ccw else -1) for p in flat[whole]]
    assert np.allclose(fine, exact[whole], rtol=1e-5, atol=0.5)


@settings(max_examples=40, deadline=None)
@given(seeds)
def test_box_holds_the_path_and_touches_it(seed: int) -> None:
    path = outline(seed)
    box = bounds(path)
    dense = flatten_fixed(path, 2000)
    assert (box[:, :2] <= dense.min(axis=1) + 1e-9).all()
    assert (box[:, 2:] >= dense.max(axis=1) - 1e-9).all()
    assert np.allclose(box, np.concatenate([dense.min(axis=1), dense.max(axis=1)], axis=1), atol=1e-3)


def test_box_of_a_half_circle() -> None:
    left, bottom, right, top = bounds(arc(100, 180))[0]
    assert np.allclose([left, bottom, right], [-100, 0, 100], atol=1.9)
    assert abs(top - 100) < 1e-9  # the middle of the arc lies on the circle


def test_outline_that_crosses_itself_is_not_simple() -> None:
    square = np.array([[0.0, 0], [100, 0], [100, 100], [0, 100]])
    bow = square[[0, 2, 1, 3]]
    assert simple(np.stack([square, bow, square * np.nan])).tolist() == [True, False, False]


def test_polyline_has_a_span_for_each_pair() -> None:
    p = points(1, 3, 6)
    assert np.array_equal(flatten_fixed(polyline(p)), p)
