"""Which outlines come within a length of a point, held against the library that made the polygons."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from godet.geometry.length import least_away, nearest
from godet.geometry.path import Path
from godet.pattern.borders import border_of, on_border
from hypothesis import given, settings
from hypothesis import strategies as st

seeds = st.integers(0, 2**32 - 1)


def stars(random: np.random.Generator, count: int) -> np.ndarray:
    """Polygons (L,) that cross themselves or not, made sound, some with a hole, so some of several parts."""
    rings = random.uniform(-100.0, 100.0, (count, 9, 2))
    holes = shapely.buffer(shapely.points(random.uniform(-100.0, 100.0, (count, 2))), random.uniform(0.0, 60.0, count))
    made: np.ndarray = shapely.difference(shapely.make_valid(shapely.polygons(rings)), holes)
    return made


@given(seeds, st.floats(0.01, 40.0))
@settings(max_examples=60, deadline=None)
def test_a_point_is_on_a_border_where_its_distance_says_so(seed: int, far: float) -> None:
    random = np.random.default_rng(seed)
    shapes, points = stars(random, 12), random.uniform(-120.0, 120.0, (12, 2))
    away = shapely.distance(shapely.boundary(shapes), shapely.points(points))
    clear = np.abs(away - far) > 1e-9
    assert (on_border(border_of(shapes), points, far) == (away <= far))[clear].all()


@given(seeds)
@settings(max_examples=30, deadline=None)
def test_bodies_alone_and_together_are_on_a_border_alike(seed: int) -> None:
    random = np.random.default_rng(seed)
    shapes, points = stars(random, 6), random.uniform(-120.0, 120.0, (6, 2))
    together = on_border(border_of(shapes), points, 10.0)
    alone = [on_border(border_of(shapes[k : k + 1]), points[k : k + 1], 10.0)[0] for k in range(6)]
    assert together.tolist() == alone
    one_outline = on_border(border_of(shapes[:1]), points, 10.0)
    assert one_outline.tolist() == [on_border(border_of(shapes[:1]), point[None], 10.0)[0] for point in points]


@pytest.mark.parametrize("far", [0.5])
def test_an_outline_without_cloth_has_no_border(far: float) -> None:
    shapes = np.array([shapely.Polygon(), shapely.box(0, 0, 1, 1)])
    assert on_border(border_of(shapes), np.array([[0.0, 0.0], [0.0, 0.0]]), far).tolist() == [False, True]


@given(seeds)
@settings(max_examples=60, deadline=None)
def test_a_path_is_no_nearer_than_its_box(seed: int) -> None:
    random = np.random.default_rng(seed)
    path = Path(random.uniform(-100.0, 100.0, (5, 3, 4, 2)), (False, False, False))
    points = random.uniform(-300.0, 300.0, (5, 2))
    assert (least_away(path, points) <= nearest(path, points)[1] + 1e-9).all()
