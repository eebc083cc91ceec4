"""Laws of lengthening an edge and of drawing a stretch of the outline anew, on random half skirts, many lanes at once."""

import numpy as np
import pytest
from godet.geometry.length import length, point_at
from godet.geometry.path import end_direction, line, start_direction
from godet.pattern.check import faults
from godet.pattern.darts import open_to_edge, place_dart, place_two_ended
from godet.pattern.edges import edge_from, edge_length
from godet.pattern.extend import extended
from godet.pattern.piece import Piece, Trouble
from godet.pattern.pivot import Into, pivot
from godet.pattern.redrawing import redraw
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, front, lanes, names_of, same, skirt

LANES = [230.0, 260.0, 310.0]
AMOUNTS = st.floats(-60.0, 120.0).filter(lambda by: abs(by) > 0.01)


@settings(max_examples=30, deadline=None)
@given(AMOUNTS, st.sampled_from([("side", "hem"), ("side", "waistline"), ("centre", "hem"), ("centre", "waistline")]))
def test_the_edge_grows_by_what_was_asked_and_only_the_edge_beside_it_changes(by: float, at: tuple[str, str]) -> None:
    edge, beside = at
    before = skirt(LANES)
    after = extended(before, edge, beside, lanes(by))
    np.testing.assert_allclose(edge_length(after, edge) - edge_length(before, edge), by, atol=1e-9)
    for side in before.ring:
        if side.edge not in at:
            np.testing.assert_array_equal(after.sides(side.edge)[0].drawn.controls, side.drawn.controls)
    assert names_of(after) == names_of(before) == names_of(extended(before.sketch(), edge, beside, None))
    assert faults(after) == []


@settings(max_examples=30, deadline=None)
@given(AMOUNTS.map(abs), st.sampled_from(["hem", "waistline"]))
def test_lengthened_and_shortened_again_is_nothing(by: float, beside: str) -> None:
    before = skirt(LANES)
    same(extended(extended(before, "side", beside, lanes(by)), "side", beside, lanes(-by)), before, 1e-9)


@settings(max_examples=30, deadline=None)
@given(AMOUNTS)
def test_a_straight_edge_goes_straight_on(by: float) -> None:
    before = skirt(LANES)
    old, new = before.sides("side")[0].drawn, extended(before, "side", "hem", lanes(by)).sides("side")[0].drawn
    np.testing.assert_allclose(start_direction(new), start_direction(old), atol=1e-12)
    np.testing.assert_allclose(end_direction(new), end_direction(old), atol=1e-12)


def test_each_body_by_its_own_amount_and_none_below_nothing() -> None:
    before = skirt(LANES)
    grown = lanes(5.0, 10.0, 40.0)
    after = extended(before, "side", "hem", grown)
    np.testing.assert_allclose(edge_length(after, "side") - edge_length(before, "side"), grown, atol=1e-9)
    with pytest.raises(Trouble) as caught:
        extended(before, "side", "hem", lanes(-10.0, -700.0, -10.0))
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [False, True, False]


def _cut(piece: Piece, share: float, other: float) -> Piece:
    """A new hem drawn straight, from so far up the side to so far up the centre."""
    side, centre = piece.sides("side")[0].drawn, piece.sides("centre")[0].drawn
    a = point_at(side, length(side) * share)
    b = point_at(centre, length(centre) * (1.0 - other))
    return redraw(piece, ["hem"], [("hem", line(b, a))])


@settings(max_examples=30, deadline=None)
@given(st.floats(0.02, 0.6), st.floats(0.02, 0.6))
def test_redrawn_edges_are_cut_where_the_new_one_meets_them_and_the_rest_stays(share: float, other: float) -> None:
    before = skirt(LANES)
    after = _cut(before, share, other)
    for edge, part in (("side", share), ("centre", other)):
        np.testing.assert_allclose(edge_length(after, edge), (1.0 - part) * edge_length(before, edge), atol=1e-6)
    np.testing.assert_array_equal(after.sides("waistline")[0].drawn.controls, before.sides("waistline")[0].drawn.controls)
    assert (area(after) < area(before)).all()
    assert names_of(after) == names_of(before)
    assert faults(after) == []


def test_redrawn_along_itself_is_nothing_whichever_way_it_is_told() -> None:
    before = skirt(LANES)
    hem = before.sides("hem")[0].drawn
    again = redraw(before, ["hem"], [("hem", hem)])
    assert {side.names for side in again.ring} == {side.names for side in before.ring}
    np.testing.assert_allclose(area(again), area(before), rtol=1e-12)
    np.testing.assert_allclose(again.sides("hem")[0].drawn.controls, hem.controls, atol=1e-6)


def test_a_dart_on_what_is_redrawn_is_gone_and_the_name_says_why() -> None:
    before = front([1.0, 1.1])
    shoulder, side = before.sides("shoulder")[0].drawn, before.sides("side")[0].drawn
    after = redraw(before, ["armhole"], [("armhole", line(shoulder.start, side.end))])
    assert after.dart_names() == ()
    assert "drawn anew" in after.removed["bust_dart"]
    assert faults(after) == []


def test_an_edge_starts_at_its_corner_however_many_sides_the_dart_on_it_has() -> None:
    """The six sides of a dart opened to the hem are more than the three other edges of the piece."""
    whole = place_two_ended(
        skirt(LANES), "waist_dart", middle=lanes(110.0, 400.0)[None], width=lanes(30.0),
        upper_apex=lanes(110.0, 520.0)[None], lower_apex=lanes(110.0, 250.0)[None], inner=lanes(-1.0, 0.0)[None],
    )  # fmt: skip
    opened = open_to_edge(whole, "waist_dart", "hem")
    assert len(opened.ring) - len(opened.run("hem")) == 9
    first, second = opened.sides("hem")
    hem = whole.sides("hem")[0].drawn
    np.testing.assert_allclose(first.drawn.start, hem.start, atol=1e-9)
    np.testing.assert_allclose(second.drawn.end, hem.end, atol=1e-9)


def test_the_place_of_a_closed_dart_is_forgotten_when_the_dart_is_there_again() -> None:
    for before in (front(), front(cloth=False)):
        end = edge_from(before, "shoulder", "neckline")
        away = pivot(before, "bust_dart", [Into("shoulder_dart", "shoulder", lanes(60.0), None, end)])
        assert "bust_dart.closed" in away.points
        end = edge_from(away, "armhole", "shoulder")
        back = pivot(away, "shoulder_dart", [Into("bust_dart", "armhole", lanes(120.0), None, end)])
        assert set(back.points) == {"bust_point", "shoulder_dart.closed"}


def test_a_dart_placed_anew_under_the_name_of_a_closed_one_forgets_its_place() -> None:
    before = front()
    end = edge_from(before, "shoulder", "neckline")
    away = pivot(before, "bust_dart", [Into("shoulder_dart", "shoulder", lanes(60.0), None, end)])
    placed = place_dart(away, "bust_dart", "side", at=lanes(60.0), width=lanes(20.0), long=lanes(60.0))
    assert "bust_dart.closed" not in placed.points
