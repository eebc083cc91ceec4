"""One dart, several places: the worked example of the bodice block's body B, and the laws of pivoting."""

import numpy as np
import pytest
from godet.geometry.lanes import Disagreement, norm
from godet.geometry.length import length
from godet.pattern.check import faults
from godet.pattern.darts import apex_of, leg_lengths, move_apex, place_dart
from godet.pattern.edges import edge_from, edge_length
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.pivot import Into, IntoDart, dart_angle, pivot
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import FRONT_B, area, front, lanes, names_of, same

WHOLE = lanes(1.0)
PLACES = {
    # name of the edge, near edge, distance in cm (None: the middle), leg and opening in cm: worked example, section 2
    "shoulder": ("neckline", None, 25.668, 9.575),
    "waistline": ("centre", 9.25, 15.0, 5.596),
    "side": ("armhole", 5.0, 16.399, 6.118),
}


def _into(piece: Piece, edge: str, name: str = "new_dart", share: Reals = WHOLE) -> Into:
    near, at, _, _ = PLACES[edge]
    along = edge_length(piece, edge) / 2.0 if at is None else lanes(10.0 * at)
    return Into(name, edge, along, share, edge_from(piece, edge, near))


def _opening(piece: Piece, name: str) -> Reals:
    dart = piece.dart(name)
    assert dart is not None
    return norm(piece.sides(dart.first)[0].drawn.start - piece.sides(dart.second)[-1].drawn.end)


def _corner(piece: Piece, edge: str, following: str) -> Reals:
    """Where an edge ends and the next begins, cm."""
    (i,) = [k for k in range(len(piece.ring)) if edge in piece.ring[k - 1].names and following in piece.ring[k].names]
    corner: Reals = piece.ring[i].drawn.start[0] / 10.0
    return corner


@pytest.mark.parametrize("edge", PLACES)
def test_the_worked_example_gives_its_legs_openings_angle_and_area(edge: str) -> None:
    before = front()
    piece = pivot(before, "bust_dart", [_into(before, edge)])
    (dart,) = piece.darts
    inner, outer = leg_lengths(piece, dart)
    assert inner[0] / 10.0 == pytest.approx(PLACES[edge][2], abs=0.001)
    assert outer[0] == pytest.approx(inner[0], abs=1e-9)
    assert _opening(piece, "new_dart")[0] / 10.0 == pytest.approx(PLACES[edge][3], abs=0.002)
    assert np.degrees(dart_angle(piece, dart))[0] == pytest.approx(21.5, abs=0.001)
    assert area(piece)[0] / 100.0 == pytest.approx(842.064, abs=0.01)
    assert area(piece)[0] == pytest.approx(area(before)[0], abs=1e-6)
    assert faults(piece) == []


def test_the_worked_example_says_where_the_turned_points_go() -> None:
    before = front()
    raised = pivot(before, "bust_dart", [_into(before, "shoulder")])
    np.testing.assert_allclose(_corner(raised, "armhole", "shoulder"), (25.810, 14.374), atol=0.001)
    closed = raised.points["bust_dart.closed"]
    assert closed is not None
    np.testing.assert_allclose(closed[0] / 10.0, FRONT_B["lower"], atol=0.001)
    lowered = pivot(before, "bust_dart", [_into(before, "waistline")])
    np.testing.assert_allclose(_corner(lowered, "side", "armhole"), (23.368, 5.861), atol=0.001)
    np.testing.assert_allclose(_corner(lowered, "waistline", "side"), (28.983, -12.349), atol=0.001)


def test_half_and_half_gives_half_the_angle_to_each() -> None:
    before = front()
    half = lanes(0.5)
    piece = pivot(before, "bust_dart", [_into(before, "shoulder", "a", half), _into(before, "waistline", "b", half)])
    for name, opening in (("a", 4.809), ("b", 2.810)):
        dart = piece.dart(name)
        assert dart is not None
        assert np.degrees(dart_angle(piece, dart))[0] == pytest.approx(10.75, abs=0.001)
        assert _opening(piece, name)[0] / 10.0 == pytest.approx(opening, abs=0.002)
    assert area(piece)[0] / 100.0 == pytest.approx(842.064, abs=0.01)
    assert faults(piece) == []


@settings(max_examples=30, deadline=None)
@given(st.floats(0.05, 0.6), st.floats(0.05, 0.39))
def test_shares_add_up_by_angle_and_the_rest_stays(first: float, second: float) -> None:
    before = front([0.8, 1.0, 1.2])
    into = [_into(before, "shoulder", "a", lanes(first)), _into(before, "side", "b", lanes(second))]
    piece = pivot(before, "bust_dart", into)
    angles = {dart.name: dart_angle(piece, dart) for dart in piece.darts}
    whole = dart_angle(before, before.darts[0])
    np.testing.assert_allclose(angles["a"], first * whole, atol=1e-9)
    np.testing.assert_allclose(angles["b"], second * whole, atol=1e-9)
    np.testing.assert_allclose(sum(angles.values()), whole, atol=1e-9)
    np.testing.assert_allclose(area(piece), area(before), rtol=1e-12)
    assert faults(piece) == []


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(sorted(PLACES)), st.floats(0.1, 0.9))
def test_there_and_back_is_the_dart(edge: str, share: float) -> None:
    before = front([0.9, 1.0])
    armhole = edge_length(before, "armhole")
    lower = length(before.sides("armhole")[0].drawn)
    for part in (WHOLE, lanes(share)):
        there = pivot(before, "bust_dart", [_into(before, edge, share=part)])
        if part is WHOLE:
            end = edge_from(there, "armhole", "shoulder")
            back = pivot(there, "new_dart", [Into("bust_dart", "armhole", armhole - lower, WHOLE, end)])
        else:
            back = pivot(there, "new_dart", [IntoDart("bust_dart", WHOLE)])
        np.testing.assert_allclose(edge_length(back, "armhole"), armhole, atol=1e-9)
        for side in before.ring:
            a, b = before.sides(side.edge), back.sides(side.edge)
            for old, new in ((a[0].drawn.start, b[0].drawn.start), (a[-1].drawn.end, b[-1].drawn.end)):
                np.testing.assert_allclose(new, old, atol=1e-8)
        assert "bust_dart" in back.dart_names()
        assert "bust_dart" not in back.removed


def test_into_a_second_dart_of_the_same_apex_adds_the_angles() -> None:
    plain = front()
    apex = apex_of(plain, "bust_dart")
    at, width = lanes(92.5), lanes(20.0)
    near = np.array([[92.5, -40.004]])  # within the pencil's width of the bust point
    before = place_dart(
        plain,
        "waist_dart",
        "waistline",
        at=at,
        width=width,
        apex=near,
        from_end=edge_from(plain, "waistline", "centre"),
    )
    piece = pivot(before, "bust_dart", [IntoDart("waist_dart", WHOLE)])
    (dart,) = piece.darts
    assert dart.name == "waist_dart"
    together = sum(dart_angle(before, old)[0] for old in before.darts)
    assert dart_angle(piece, dart)[0] == pytest.approx(together, abs=1e-5)
    np.testing.assert_allclose(np.asarray(apex_of(piece, "waist_dart")), np.asarray(apex), atol=1e-9)
    assert faults(piece) == []
    other = move_apex(before, "waist_dart", near - np.array([[0.0, 20.0]]))
    with pytest.raises(Trouble, match="do not share an apex"):
        pivot(other, "bust_dart", [IntoDart("waist_dart", WHOLE)])


def test_the_edge_named_still_stays_and_by_default_the_fold_does() -> None:
    before = front()
    by_fold = pivot(before, "bust_dart", [_into(before, "waistline")])
    by_side = pivot(before, "bust_dart", [_into(before, "waistline")], still="side")
    np.testing.assert_array_equal(by_fold.sides("centre")[0].drawn.controls, before.sides("centre")[0].drawn.controls)
    np.testing.assert_array_equal(by_side.sides("side")[0].drawn.controls, before.sides("side")[0].drawn.controls)
    assert np.angle(by_side.sides("centre")[0].turn)[0] == pytest.approx(-np.angle(by_fold.sides("side")[0].turn)[0])
    assert area(by_side)[0] == pytest.approx(area(by_fold)[0])
    with pytest.raises(Trouble, match="is cut"):
        pivot(before, "bust_dart", [_into(before, "waistline")], still="waistline")


def test_unequal_legs_are_refused_with_both_figures() -> None:
    before = front([1.0, 1.0])
    apex = apex_of(before, "bust_dart")
    assert apex is not None
    skew = move_apex(before, "bust_dart", apex + np.array([[0.0, 0.0], [0.0, 6.0]]))
    with pytest.raises(Trouble) as caught:
        pivot(skew, "bust_dart", [_into(before, "waistline")])
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [False, True]
    assert caught.value.figures["inner leg"][1] == pytest.approx(leg_lengths(skew, skew.darts[0])[0][1])
    assert abs(caught.value.figures["inner leg"][1] - caught.value.figures["outer leg"][1]) > 0.1


def test_legs_a_plotter_step_apart_still_close_to_one_point() -> None:
    before = front()
    apex = apex_of(before, "bust_dart")
    assert apex is not None
    skew = move_apex(before, "bust_dart", apex + np.array([[0.0, 0.2]]))
    assert 0.0 < abs(np.subtract(*leg_lengths(skew, skew.darts[0]))[0]) < 0.1
    piece = pivot(skew, "bust_dart", [_into(skew, "shoulder")])
    assert faults(piece) == []


def test_lanes_that_close_and_lanes_that_do_not_are_parted() -> None:
    before = front([1.0, 1.0])
    with pytest.raises(Disagreement):
        pivot(before, "bust_dart", [_into(before, "shoulder", share=lanes(1.0, 0.5))])


def test_shares_above_one_and_taken_names_are_refused() -> None:
    before = front()
    with pytest.raises(Trouble, match="more than the whole"):
        pivot(before, "bust_dart", [_into(before, "shoulder", "a", lanes(0.7)), _into(before, "side", "b", lanes(0.7))])
    with pytest.raises(Trouble, match="needs another name"):
        pivot(before, "bust_dart", [_into(before, "shoulder", "bust_dart", lanes(0.7))])
    with pytest.raises(Trouble, match="no dart `waist_dart`"):
        pivot(before, "waist_dart", [_into(before, "shoulder")])


def test_the_inner_leg_of_a_shoulder_dart_is_on_the_neck_side_and_of_a_waist_dart_on_the_centre_side() -> None:
    before = front()
    for edge in ("shoulder", "waistline"):
        for mark in ("centre", "side") if edge == "waistline" else ("neckline", "armhole"):
            end = edge_from(before, edge, mark)
            piece = pivot(before, "bust_dart", [Into("new_dart", edge, edge_length(before, edge) / 2.0, WHOLE, end)])
            inner, outer = (
                piece.sides(f"new_dart.{leg}")[0].drawn.controls[0, ..., 0] for leg in ("inner_leg", "outer_leg")
            )
            assert inner.mean() < outer.mean()


def test_names_of_cloth_are_those_of_the_sketch() -> None:
    cloth, sketch = front(), front(cloth=False)
    part = lanes(0.5)
    for into in ([("shoulder", None)], [("shoulder", part)], [("shoulder", part), ("side", part)]):
        given = [_into(cloth, edge, f"{edge}_dart", WHOLE if share is None else share) for edge, share in into]
        promised = [Into(t.name, t.edge, None, share, t.from_end) for t, (_, share) in zip(given, into, strict=True)]
        assert names_of(pivot(sketch, "bust_dart", promised)) == names_of(pivot(cloth, "bust_dart", given))
    same(pivot(cloth, "bust_dart", given), pivot(cloth, "bust_dart", given), 0.0)
