"""Laws of notches as they are snipped."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely
from godet.finish.finished import FinishedPiece, finished
from godet.finish.notching import APART, ASLANT, SNIP, dart_snips, notch_strokes
from godet.geometry.length import length
from godet.geometry.motion import mirror_path
from godet.geometry.path import flatten_fixed, reverse
from godet.pattern.piece import Allowance, Finish, Notch, Piece, Reals
from hypothesis import given, settings
from hypothesis import strategies as st
from support.drawn_pieces import front, polygon, top, wide

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def square(width: float) -> Piece:
    return polygon(SQUARE, ("a", "b", "c", "d"), {"seams": wide(width)})


def strokes(piece: Piece, notch: Notch) -> Reals:
    return notch_strokes(finished(replace(piece, notches=(notch,))), notch)


def at(side: int, s: float, many: int = 1) -> Notch:
    return Notch(side, np.array([s]), many)


def long(piece: Piece, number: int) -> float:
    return float(length(piece.ring[number].drawn)[0])


def cut_shape(cloth: FinishedPiece) -> shapely.Geometry:
    return shapely.Polygon(cloth.cut[0])


@settings(max_examples=60, deadline=None)
@given(st.booleans(), st.integers(0, 11), st.floats(0, 1), st.integers(1, 3), st.floats(0.5, 20))
def test_a_notch_begins_on_the_cut_edge_and_never_reaches_the_sewing_line(
    whole: bool, side: int, share: float, many: int, width: float
) -> None:
    piece = (top if whole else front)(allowances={"seams": wide(width)})
    kept = [i for i in range(len(piece.ring)) if i not in piece.dart_sides() and piece.ring[i].edge != piece.fold]
    number = kept[side % len(kept)]
    cloth = finished(piece)
    sewn = shapely.Polygon(np.concatenate([flatten_fixed(one.drawn, 64)[0][:-1] for one in piece.ring]))
    found = notch_strokes(cloth, at(number, share * long(piece, number), many))
    assert len(found) >= 1
    for outer, inner in found:
        assert cut_shape(cloth).exterior.distance(shapely.Point(outer)) < 1e-6
        assert np.linalg.norm(outer - inner) <= SNIP + ASLANT
        assert not sewn.contains(shapely.Point(inner))
        assert cut_shape(cloth).buffer(1e-6).contains(shapely.Point(inner))


@pytest.mark.parametrize("width", [1.0, 3.0, 5.0, 6.0, 10.0, 25.0])
def test_a_snip_is_four_or_five_mm_and_leaves_some_of_a_narrow_allowance(width: float) -> None:
    ((outer, inner),) = strokes(square(width), at(0, 50.0))
    assert outer == pytest.approx([50.0, -width])
    deep = float(np.linalg.norm(outer - inner))
    assert deep <= 5.0
    assert deep <= width - min(2.0, width / 2) + 1e-9
    assert deep >= 4.0 or width < 6.0


def test_an_edge_without_allowance_has_its_stroke_in_the_cloth() -> None:
    bare = replace(front(), finish=Finish())
    cloth = finished(bare)
    for outer, inner in notch_strokes(cloth, bare.notches[1]):
        assert cut_shape(cloth).buffer(1e-6).contains(shapely.LineString([outer, inner]))


@pytest.mark.parametrize("many", [2, 3])
@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
def test_strokes_stand_astride_their_place(many: int, share: float) -> None:
    """On an edge of two sides as well, whose middle is the end of one of them; at its end in the allowance beside it."""
    halves = polygon(((0, 0), (50, 0), (100, 0), (100, 100), (0, 100)), ("a", "a", "b", "c", "d"), {"seams": wide(10.0)})
    side, s = {0.0: (0, 0.0), 0.5: (0, 50.0), 1.0: (1, 50.0)}[share]
    found = strokes(halves, at(side, s, many))
    places = sorted(float(outer[0]) for outer, _ in found)
    wanted = [100.0 * share + (k - (many - 1) / 2) * APART for k in range(many)]
    assert places == pytest.approx(wanted)
    assert all(outer[1] == pytest.approx(-10.0) for outer, _ in found)


@settings(max_examples=30, deadline=None)
@given(st.floats(0, 100), st.integers(1, 3), st.floats(6, 15))
def test_both_pieces_of_a_seam_have_their_strokes_on_the_same_lines(s: float, many: int, width: float) -> None:
    """Sewn along the edge `a` the pieces lie on each other, their corners being unlike: the strokes then cover each other."""
    one = square(width)
    other = polygon(((0, 0), (100, 0), (140, 90), (-60, 70)), ("a", "b", "c", "d"), {"seams": wide(width)})
    first, second = strokes(one, at(0, s, many)), strokes(other, at(0, s, many))
    assert first[..., 0] == pytest.approx(second[..., 0], abs=1e-6)


@pytest.mark.parametrize("many", [1, 2, 3])
@pytest.mark.parametrize(("side", "share"), [(2, 0.6), (2, 0.0), (5, 1.0), (0, 0.0)])
def test_a_piece_turned_over_has_its_notches_turned_over(side: int, share: float, many: int) -> None:
    piece, middle = top(), np.zeros((1, 2))
    ring = tuple(replace(one, path=reverse(mirror_path(middle, np.array([[0.0, 1.0]]), one.drawn))) for one in piece.ring[::-1])
    over = replace(piece, ring=ring, lines=(), points={})
    s = share * long(piece, side)
    here = notch_strokes(finished(piece), at(side, s, many))
    number = len(ring) - 1 - side
    there = notch_strokes(finished(over), at(number, long(over, number) - s, many)) * np.array([-1.0, 1.0])
    assert there[::-1] == pytest.approx(here, abs=1e-6)


def test_on_a_fold_a_double_notch_has_one_stroke_and_a_single_one_is_snipped_aslant() -> None:
    """The other half has the other."""
    piece = front()
    neck = next(i for i, one in enumerate(piece.ring) if one.edge == "neckline")
    assert len(strokes(piece, at(neck, long(piece, neck), 2))) == 1
    ((outer, inner),) = strokes(piece, at(neck, long(piece, neck)))
    assert inner[0] == pytest.approx(0.0, abs=1e-6)
    assert outer[0] == pytest.approx(2.5, abs=0.1)


def test_the_legs_of_a_dart_are_snipped_where_they_meet_the_cut_edge() -> None:
    piece = front()
    cloth = finished(piece)
    (dart,) = piece.darts
    found = dart_snips(cloth, dart)
    apex = np.array([90.0, 120.0])
    assert len(found) == 2
    for (outer, inner), mouth in zip(found, np.array([[75.0, 0.0], [105.0, 0.0]]), strict=True):
        assert cut_shape(cloth).exterior.distance(shapely.Point(outer)) < 1e-6
        leg = shapely.LineString([apex, apex + 3.0 * (mouth - apex)])
        assert max(leg.distance(shapely.Point(outer)), leg.distance(shapely.Point(inner))) < 1e-6
        assert np.linalg.norm(outer - mouth) > np.linalg.norm(inner - mouth) > 0.0
    for (a, _), (b, _) in combinations(found, 2):
        assert np.linalg.norm(a - b) > 30.0


def test_in_a_hem_the_legs_of_a_dart_are_mirrored_in_its_fold() -> None:
    """The dart is 30 wide and 120 long: turned up, the hem lies on it. Its middle, pressed toward the centre, is cut as the hem
    beside it lies there, folded over the leg."""
    piece = front()
    stated = {"waistline": Allowance(np.array([20.0]), "shaped_to_fold")}
    cloth = finished(replace(piece, finish=replace(piece.finish, allowances=stated)))
    (dart,) = piece.darts
    (left, _), (right, _) = dart_snips(cloth, dart)
    np.testing.assert_allclose(left, [77.5, -20.0], atol=1e-6)
    hem = np.array([240.0, 5.0]) - (mouth := np.array([105.0, 0.0]))
    up = mouth + 2.0 * ((right - mouth) @ hem) / (hem @ hem) * hem - (right - mouth)
    leg = shapely.LineString([[90.0, 120.0], mouth])
    assert leg.distance(shapely.Point(up)) < 1e-6 < np.linalg.norm(right - mouth)
    ((x, y),) = cloth.cut[0][(cloth.cut[0][:, 0] > 78.0) & (cloth.cut[0][:, 0] < 102.0)]
    assert (y + 20.0) / (x - 77.5) == pytest.approx(np.tan(2.0 * np.arctan(0.125)))
    assert x == pytest.approx(90.0, abs=1.0)


def test_where_two_allowances_run_together_a_notch_is_drawn_on_the_sewing_line_and_not_on_another_edge() -> None:
    """In the point of a narrow cut-out there is no cut edge to snip: the ray would go on to the far side of the piece."""
    corners = ((0.0, 0.0), (48.0, 0.0), (50.0, 80.0), (52.0, 0.0), (100.0, 0.0), (100.0, 120.0), (0.0, 120.0))
    piece = polygon(corners, ("low", "left_leg", "right_leg", "low_2", "right", "top", "left"), {"seams": wide(10.0)})
    ((outer, inner),) = strokes(piece, at(1, long(piece, 1) - 10.0))
    leg = shapely.LineString([corners[1], corners[2]])
    assert leg.distance(shapely.Point(outer)) < 1e-6
    assert shapely.Polygon(corners).contains(shapely.Point(inner))
