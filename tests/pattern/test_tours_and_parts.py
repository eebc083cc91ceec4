"""A dart taken round the edges of a piece and home again is the dart; a piece divided anywhere and joined again is the piece."""

from __future__ import annotations

import numpy as np
from godet.geometry.lanes import norm
from godet.geometry.length import length, point_at
from godet.geometry.path import line
from godet.pattern.check import faults
from godet.pattern.edges import edge_from, edge_length
from godet.pattern.join import join
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.pivot import Into, dart_angle, pivot
from godet.pattern.routes import divide
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pattern_drafts import area, front, lanes, names_of

SIZES = [0.85, 1.0, 1.2]
OUTER = ("waistline", "side", "shoulder", "neckline")
law = settings(max_examples=30, deadline=None)
stops = st.lists(st.tuples(st.sampled_from(OUTER), st.floats(0.05, 0.95)), min_size=2, max_size=6)


def angle(piece: Piece, name: str) -> Reals:
    dart = piece.dart(name)
    assert dart is not None
    return dart_angle(piece, dart)


def corners(piece: Piece) -> Reals:
    return np.stack([side.drawn.start for side in piece.ring], axis=1)


@law
@given(stops)
def test_a_dart_moved_round_a_tour_of_edges_and_home_is_the_dart(tour: list[tuple[str, float]]) -> None:
    """By the law of the pivot its angle never changes, nor any sewn length; home again, every side lies where it lay."""
    before = front(SIZES)
    piece, name = before, "bust_dart"
    for k, (edge, share) in enumerate(tour):
        at = share * edge_length(piece, edge)
        piece = pivot(piece, name, [Into(f"stop_{k}", edge, at, lanes(1.0))])
        name = f"stop_{k}"
        np.testing.assert_allclose(angle(piece, name), angle(before, "bust_dart"), atol=1e-12)
        np.testing.assert_allclose(edge_length(piece, f"{name}.inner_leg"), edge_length(piece, f"{name}.outer_leg"), atol=1e-8)
        np.testing.assert_allclose(area(piece), area(before), rtol=1e-11)
        for each in (*OUTER, "armhole", "centre"):
            np.testing.assert_allclose(edge_length(piece, each), edge_length(before, each), atol=1e-8)
    home = edge_length(before, "armhole") - length(before.sides("armhole")[0].drawn)
    back = pivot(piece, name, [Into("bust_dart", "armhole", home, lanes(1.0), edge_from(piece, "armhole", "shoulder"))])
    kept = [side.drawn.start for side in back.ring]
    for corner in np.moveaxis(corners(before), 1, 0):  # where a dart stood, an edge of two sides is left
        assert np.min([norm(corner - one).max() for one in kept]) < 1e-7
    for edge in before.edge_names():
        np.testing.assert_allclose(edge_length(back, edge), edge_length(before, edge), atol=1e-7)
    assert faults(back) == []


def on(piece: Piece, edge: str, share: float) -> Reals:
    """A place on the longer of the sides of an edge."""
    path = max((side.drawn for side in piece.sides(edge)), key=lambda one: float(length(one)[0]))
    return point_at(path, length(path) * share)


# What a line divides, and an edge of each part.
PAIRS = {
    ("neckline", "side"): ("centre", "shoulder"),
    ("neckline", "waistline"): ("centre", "shoulder"),
    ("shoulder", "waistline"): ("centre", "side"),
    ("centre", "side"): ("neckline", "waistline"),
    ("centre", "armhole"): ("neckline", "waistline"),
}


@law
@given(st.sampled_from(sorted(PAIRS)), st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.booleans())
def test_a_front_with_a_dart_divided_anywhere_and_joined_is_nothing(
    ends: tuple[str, str], first: float, last: float, turned: bool
) -> None:
    whole = front(SIZES)
    drawn = line(on(whole, ends[0], first), on(whole, ends[1], last))
    try:
        parts = [divide(whole, drawn, ends, keep=one, called="cut") for one in PAIRS[ends]]
    except Trouble:  # it would run through the dart
        assume(False)
        return
    np.testing.assert_allclose(area(parts[0]) + area(parts[1]), area(whole), rtol=1e-11)
    one, other = parts[::-1] if turned else parts
    again = join(one, other, "cut", "cut", called=("one", "other"))
    np.testing.assert_allclose(area(again), area(whole), rtol=1e-11)
    for corner in np.moveaxis(corners(whole), 1, 0):
        assert np.min([norm(corner - made).max() for made in np.moveaxis(corners(again), 1, 0)]) < 1e-7
    for edge in whole.edge_names():
        np.testing.assert_allclose(edge_length(again, edge), edge_length(whole, edge), atol=1e-7)
    assert again.dart_names() == whole.dart_names()
    np.testing.assert_allclose(angle(again, "bust_dart"), angle(whole, "bust_dart"), atol=1e-12)
    assert faults(again) == []
    assert names_of(again) == names_of(join(one.sketch(), other.sketch(), "cut", "cut", called=("one", "other")))
