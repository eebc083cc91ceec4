"""Placing, opening, moving and leaving darts, and making their legs equal."""

import numpy as np
import pytest
from godet.geometry.lanes import norm
from godet.geometry.length import length
from godet.geometry.path import ring_area
from godet.pattern.check import faults
from godet.pattern.darts import (
    apex_of,
    equal_legs,
    leg_lengths,
    move_apex,
    open_to_edge,
    place_dart,
    place_two_ended,
)
from godet.pattern.edges import edge_from, edge_length
from godet.pattern.piece import Piece, Trouble
from godet.pattern.unsewn import leave
from godet.verbs.outlines import darted
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, lanes, same, skirt


def with_waist_dart(piece: Piece, width: float = 30.0, at: float = 90.0) -> Piece:
    end = edge_from(piece, "waistline", "centre")
    return place_dart(
        piece, "waist_dart", "waistline", at=lanes(at), width=lanes(width), long=lanes(120.0), from_end=end
    )


def diamond(piece: Piece) -> Piece:
    return place_two_ended(
        piece,
        "waist_dart",
        middle=lanes(110.0, 400.0)[None],
        width=lanes(30.0),
        upper_apex=lanes(110.0, 520.0)[None],
        lower_apex=lanes(110.0, 250.0)[None],
        inner=lanes(-1.0, 0.0)[None],
    )


@settings(max_examples=30, deadline=None)
@given(st.floats(8.0, 60.0), st.floats(60.0, 180.0))
def test_the_opening_is_as_wide_as_asked_and_sits_about_its_middle(width: float, at: float) -> None:
    plain = skirt([240.0, 300.0])
    piece = with_waist_dart(plain, width, at)
    inner, outer = piece.sides("waist_dart.inner_leg")[0].drawn, piece.sides("waist_dart.outer_leg")[0].drawn
    ends = [path.end if path.end[0, 1] > path.start[0, 1] else path.start for path in (inner, outer)]
    np.testing.assert_allclose(norm(ends[0] - ends[1]), width, atol=1e-6)
    np.testing.assert_allclose(*leg_lengths(piece, piece.darts[0]), atol=1e-6)
    # The edge is shorter by equal arcs on both sides of the middle.
    by_centre = length(piece.ring[piece.run("waistline")[1]].drawn)
    taken = edge_length(plain, "waistline") - edge_length(piece, "waistline")
    np.testing.assert_allclose(by_centre + taken / 2.0, at, atol=1e-6)
    assert faults(piece) == []


def test_the_inner_leg_is_the_one_near_the_end_measured_from() -> None:
    piece = with_waist_dart(skirt([240.0]))
    inner, outer = piece.sides("waist_dart.inner_leg")[0].drawn, piece.sides("waist_dart.outer_leg")[0].drawn
    assert inner.controls[0, :, :, 0].min() < outer.controls[0, :, :, 0].min() + 1e-9
    assert piece.darts[0].first == "waist_dart.outer_leg"  # the waistline runs from the side to the centre


def test_a_dart_wider_than_its_place_is_refused_in_the_lanes_where_it_is() -> None:
    with pytest.raises(Trouble) as caught:
        with_waist_dart(skirt([100.0, 400.0]), 60.0, 90.0)
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [True, False]
    assert caught.value.figures["width"].tolist() == [60.0]


def test_a_dart_beyond_the_end_of_its_edge_is_refused() -> None:
    with pytest.raises(Trouble, match="beyond the end of `waistline`"):
        with_waist_dart(skirt([200.0]), 20.0, 500.0)


def test_a_dart_with_two_ends_runs_clockwise_whichever_way_inner_lies() -> None:
    for sign in (-1.0, 1.0):
        piece = place_two_ended(
            skirt([240.0]),
            "waist_dart",
            middle=lanes(110.0, 400.0)[None],
            width=lanes(30.0),
            upper_apex=lanes(105.0, 520.0)[None],
            lower_apex=lanes(112.0, 250.0)[None],
            inner=lanes(sign, 0.1)[None],
        )
        assert faults(piece) == []
        assert ring_area([side.drawn for side in piece.holes[0].sides])[0] < 0.0
        inner = piece.sides("waist_dart.inner_leg")[0].drawn.controls[0, :, :, 0]
        outer = piece.sides("waist_dart.outer_leg")[0].drawn.controls[0, :, :, 0]
        assert np.sign(inner.mean() - outer.mean()) == sign
        for end, y in (("upper", 520.0), ("lower", 250.0)):
            apex = apex_of(piece, "waist_dart", end)  # type: ignore[arg-type]  # the two literals
            assert apex is not None
            assert apex[0, 1] == pytest.approx(y)


def test_opened_to_the_hem_it_becomes_a_dart_of_the_ring_and_takes_no_cloth() -> None:
    whole = diamond(skirt([240.0, 300.0]))
    piece = open_to_edge(whole, "waist_dart", "hem")
    assert faults(piece) == []
    assert piece.holes == ()
    np.testing.assert_allclose(area(piece), area(whole) - 30.0 * 270.0 / 2.0, atol=1e-6)
    np.testing.assert_allclose(edge_length(piece, "hem"), edge_length(whole, "hem"), atol=1e-8)
    apex = apex_of(piece, "waist_dart")
    assert apex is not None
    np.testing.assert_allclose(apex, [[110.0, 520.0]])
    inner, outer = edge_length(piece, "waist_dart.lower_inner_leg"), edge_length(piece, "waist_dart.lower_outer_leg")
    np.testing.assert_allclose(inner, outer, atol=1e-9)
    assert piece.edge_names().count("hem") == 1


def test_straight_on_past_the_piece_is_refused() -> None:
    with pytest.raises(Trouble, match="does not meet `side`"):
        open_to_edge(diamond(skirt([240.0])), "waist_dart", "side")


def test_left_unsewn_the_opening_is_bridged_straight_and_the_names_say_why_they_are_gone() -> None:
    plain = skirt([240.0], sag=0.0001)
    piece = leave(with_waist_dart(plain), "waist_dart")
    np.testing.assert_allclose(edge_length(piece, "waistline"), edge_length(plain, "waistline"), atol=1e-3)
    np.testing.assert_allclose(area(piece), area(plain), atol=0.1)
    assert piece.dart_names() == ()
    assert "left unsewn" in piece.removed["waist_dart.inner_leg"]
    for other in (
        leave(diamond(plain), "waist_dart"),
        leave(open_to_edge(diamond(plain), "waist_dart", "hem"), "waist_dart"),
    ):
        assert other.dart_names() == ()
        assert not [name for name in other.edge_names() if name.startswith("waist_dart")]
        np.testing.assert_allclose(area(other), area(plain), atol=1e-6)


def test_the_apex_moves_and_comes_back() -> None:
    for before in (
        with_waist_dart(skirt([240.0])),
        diamond(skirt([240.0])),
        open_to_edge(diamond(skirt([240.0])), "waist_dart", "hem"),
    ):
        old = apex_of(before, "waist_dart")
        assert old is not None
        there = move_apex(before, "waist_dart", old + np.array([[4.0, -9.0]]))
        apex = apex_of(there, "waist_dart")
        assert apex is not None
        np.testing.assert_allclose(apex, old + np.array([[4.0, -9.0]]))
        same(move_apex(there, "waist_dart", old), before)


def test_legs_made_equal_are_those_of_the_longer_and_the_outline_stays_closed() -> None:
    before = with_waist_dart(skirt([240.0, 300.0]))
    old = apex_of(before, "waist_dart")
    assert old is not None
    skew = move_apex(before, "waist_dart", old + np.array([[12.0, 0.0]]))
    longest = np.maximum(*leg_lengths(skew, skew.darts[0]))
    piece, change = equal_legs(skew, "waist_dart")
    inner, outer = leg_lengths(piece, piece.darts[0])
    np.testing.assert_allclose(inner, longest, atol=1e-9)
    np.testing.assert_allclose(outer, longest, atol=1e-9)
    assert (change > 1.0).all()
    assert faults(piece) == []


def test_a_name_used_twice_is_refused() -> None:
    with pytest.raises(Trouble, match="already"):
        with_waist_dart(with_waist_dart(skirt([240.0])))


@settings(max_examples=20, deadline=None)
@given(st.floats(8.0, 60.0), st.floats(60.0, 180.0))
def test_a_dart_more_tells_what_it_takes_out_and_leaves_every_other_edge(width: float, at: float) -> None:
    plain = skirt([240.0, 300.0])
    piece = darted(
        plain, called="waist_dart", width=lanes(width), on="waistline", at=lanes(at), from_="centre", as_long_as=lanes(120.0)
    )
    (told,) = [one for one in piece.told if one not in plain.told]
    assert told.edge == "waistline"
    np.testing.assert_allclose(told.lengths["before"], edge_length(plain, "waistline"), atol=1e-9)
    np.testing.assert_allclose(told.lengths["after"], edge_length(piece, "waistline"), atol=1e-9)
    assert (told.lengths["before"] - told.lengths["after"] >= width - 1e-6).all()  # an arc is no shorter than its chord
    for edge in set(plain.edge_names()) - {"waistline"}:
        np.testing.assert_allclose(edge_length(piece, edge), edge_length(plain, edge), atol=1e-9)


def test_a_body_that_needs_no_dart_more_keeps_its_piece_and_is_told_why() -> None:
    plain = skirt([240.0, 300.0])
    piece = darted(
        plain, called="waist_dart", width=lanes(0.5), on="waistline", at=lanes(90.0), from_="centre", as_long_as=lanes(120.0)
    )
    assert piece.dart_names() == plain.dart_names()
    assert piece.told == plain.told
    assert "no such dart" in piece.removed["waist_dart"]
