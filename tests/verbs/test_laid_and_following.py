"""A piece laid elsewhere is unchanged; a run of an edge is that edge."""

from __future__ import annotations

import numpy as np
import pytest
from godet.geometry.curve import bowed
from godet.geometry.lanes import norm
from godet.geometry.length import length, nearest, point_at
from godet.geometry.path import line, ring_area
from godet.pattern.named import PartEnd
from godet.pattern.outline import outline
from godet.pattern.piece import Piece, Trouble
from godet.verbs.lines import part_between
from godet.verbs.registry import verbs
from hypothesis import given, settings
from hypothesis import strategies as st

points = st.tuples(st.floats(-300.0, 300.0), st.floats(-300.0, 300.0)).map(lambda p: np.array([p]))
law = settings(max_examples=25, deadline=None)


def triangle() -> Piece:
    wide = np.array([100.0, 140.0])
    a, b, c = np.zeros((2, 2)), np.stack([wide, 0.0 * wide], axis=1), np.stack([0.3 * wide, 80.0 + 0.0 * wide], axis=1)
    sides = [("low", bowed(a, b, np.array([-9.0])), 0, 1), ("right", line(b, c), 1, 2), ("left", line(c, a), 2, 0)]
    return outline(sides, points={"top": c})


@law
@given(points, points)
def test_a_piece_laid_elsewhere_is_unchanged_and_lies_as_told(onto: np.ndarray, toward: np.ndarray) -> None:
    piece = triangle()
    top = piece.points["top"]
    assert top is not None
    start = piece.sides("low")[0].drawn.start
    if float(norm(toward - onto)[0]) < 1.0:
        return
    made = verbs()["laid"].run(subject=piece, putting=start, onto=onto, turning=top, toward=toward)
    np.testing.assert_allclose(made.sides("low")[0].drawn.start, np.broadcast_to(onto, (2, 2)), atol=1e-9)
    np.testing.assert_allclose(ring_area([side.drawn for side in made.ring]), ring_area([s.drawn for s in piece.ring]))
    for old, new in zip(piece.ring, made.ring, strict=True):
        np.testing.assert_allclose(length(new.drawn), length(old.drawn), atol=1e-9)
    arm, way = made.points["top"] - onto, toward - onto
    np.testing.assert_allclose((arm[:, 0] * way[:, 1] - arm[:, 1] * way[:, 0]) / norm(arm) / norm(way), 0.0, atol=1e-9)
    assert ((arm * way).sum(axis=1) > 0.0).all()


@law
@given(st.floats(0.05, 0.9), st.floats(0.03, 0.5), st.booleans())
def test_a_run_of_a_curve_is_that_curve_between_its_points(first: float, more: float, turned: bool) -> None:
    path = triangle().sides("low")[0].drawn
    shares = (first, min(first + more, 1.0))
    ends = [point_at(path, length(path) * share) for share in (reversed(shares) if turned else shares)]
    run = part_between(path, *(PartEnd("point", value=end) for end in ends))
    np.testing.assert_allclose(run.start, ends[0], atol=1e-9)
    np.testing.assert_allclose(run.end, ends[1], atol=1e-9)
    np.testing.assert_allclose(length(run), length(path) * (shares[1] - shares[0]), atol=1e-6)
    middle = point_at(run, length(run) / 2.0)
    assert nearest(path, middle)[1].max() < 1e-6


def test_points_beside_the_curve_and_a_run_of_no_length_are_refused() -> None:
    path = triangle().sides("low")[0].drawn
    start = PartEnd("point", value=path.start)
    with pytest.raises(Trouble, match="does not lie on the edge") as caught:
        part_between(path, start, PartEnd("point", value=path.end + 3.0))
    assert caught.value.lanes is not None
    assert caught.value.lanes.all()
    with pytest.raises(Trouble, match="ends where it starts"):
        part_between(path, start, start)
    with pytest.raises(Trouble, match="shorter than that"):
        part_between(path, start, PartEnd("at", "end", length(path) + 1.0))
    with pytest.raises(Trouble, match="are one"):
        verbs()["laid"].run(subject=triangle(), putting=path.start, onto=path.end, turning=path.start, toward=path.end)
