"""Unfolding and mirroring: names of the wearer's left and right, and shapes."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
from godet.geometry.length import point_at
from godet.pattern.check import faults
from godet.pattern.edges import edge_from, edge_length
from godet.pattern.piece import Allowance, Dart, Finish, Piece, Trouble
from godet.pattern.unfold import mirror, unfold
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, front, names_of, same, skirt
from support.drawn_pieces import front as drawn_front
from test_darts_on_a_piece import diamond, with_waist_dart


def test_edges_that_touch_the_fold_fuse_and_others_are_two() -> None:
    half = with_waist_dart(skirt([240.0, 300.0]))
    whole = unfold(half, "centre")
    assert faults(whole) == []
    np.testing.assert_allclose(area(whole), 2.0 * area(half))
    for edge in ("hem", "waistline"):
        np.testing.assert_allclose(edge_length(whole, edge), 2.0 * edge_length(half, edge))
        np.testing.assert_allclose(edge_length(whole, f"right_{edge}"), edge_length(half, edge))
    np.testing.assert_allclose(edge_length(whole, "left_side"), edge_length(half, "side"))
    assert "side" not in whole.edge_names()
    assert whole.removed["side"] == "there are two of them now: `left_side` and `right_side`"
    assert whole.fold is None
    np.testing.assert_allclose(edge_length(whole, "centre"), edge_length(half, "centre"))
    # The half drafted is the wearer's left and stays where it was.
    assert (whole.sides("left_side")[0].drawn.controls == half.sides("side")[0].drawn.controls).all()
    assert (whole.sides("right_side")[0].drawn.controls[..., 0] < 0.0).all()
    assert Dart.named("left_waist_dart", "left_waistline", inner_first=False) in whole.darts
    assert Dart.named("right_waist_dart", "right_waistline", inner_first=True) in whole.darts
    assert edge_from(whole, "hem", "left_side") != edge_from(whole, "hem", "right_side")


def test_nothing_is_stated_any_more_for_the_edge_that_lay_on_the_fold() -> None:
    """What was allowed there does not come back on a part that is cut along the former fold."""
    widths = {name: Allowance(np.array([mm])) for name, mm in (("seams", 10.0), ("centre", 20.0), ("side", 30.0))}
    stated = Finish(MappingProxyType(widths), MappingProxyType({("hem", "centre"): "squared", ("hem", "side"): "shaped_to_fold"}))
    whole = unfold(replace(skirt([240.0]), finish=stated), "centre")
    assert {name: one.width[0] for name, one in whole.finish.allowances.items()} == {
        "seams": 10.0,
        "left_side": 30.0,
        "right_side": 30.0,
    }
    assert set(whole.finish.corners.values()) == {"shaped_to_fold"}


def test_a_dart_with_two_ends_is_two_of_them() -> None:
    whole = unfold(diamond(skirt([240.0])), "centre")
    assert faults(whole) == []
    assert whole.dart_names() == ("left_waist_dart", "right_waist_dart")


def test_which_half_it_is_must_be_known_and_the_fold_straight() -> None:
    with pytest.raises(Trouble, match="which half"):
        unfold(replace(skirt([240.0]), worn=None), "centre")
    with pytest.raises(Trouble, match="not straight"):
        unfold(skirt([240.0]), "hem")


@settings(max_examples=20, deadline=None)
@given(st.lists(st.floats(180.0, 420.0), min_size=1, max_size=3), st.floats(5.0, 40.0))
def test_mirrored_twice_is_the_piece(sizes: list[float], width: float) -> None:
    half = diamond(skirt(sizes))
    for piece in (half, unfold(half, "centre"), with_waist_dart(skirt(sizes), width)):
        other = mirror(piece)
        assert faults(other) == []
        np.testing.assert_allclose(area(other), area(piece))
        assert other.worn != piece.worn or piece.worn is None
        same(mirror(other), piece)
        assert mirror(other).darts == piece.darts


def marks_of(piece: Piece) -> set[tuple[float, float, int]]:
    """Where the notches of one body lie, and their strokes."""
    spots = [(point_at(piece.ring[notch.side].drawn, notch.at)[0], notch.strokes) for notch in piece.notches]
    return {(round(float(x), 6), round(float(y), 6), strokes) for (x, y), strokes in spots}


def test_notches_grain_and_the_turns_of_panels_are_mirrored_with_the_cloth() -> None:
    """Over the fold, which is upright at 0: a notch comes to lie across it, the grain leans the other way."""
    grain, turn = np.exp(1.2j * np.ones(1)), np.exp(0.3j * np.ones(1))
    draft = drawn_front()
    finish = replace(draft.finish, grain=grain)
    half = replace(draft, finish=finish, fold="centre", worn="left", ring=tuple(replace(side, turn=turn) for side in draft.ring))
    other, across = mirror(half), {(-x, y, strokes) for x, y, strokes in marks_of(half)}
    assert len(across) == 2
    assert marks_of(other) == across
    assert marks_of(unfold(half, "centre")) == marks_of(half) | across
    assert other.finish.grain is not None
    np.testing.assert_allclose(other.finish.grain, -np.conj(grain))
    assert all(np.allclose(side.turn, np.conj(turn)) for side in other.ring)


def test_mirrored_a_whole_piece_swaps_left_and_right_and_a_half_keeps_its_fold() -> None:
    half = front()
    other = mirror(half)
    np.testing.assert_allclose(other.sides("centre")[0].drawn.start[:, 0], 0.0, atol=1e-12)
    assert other.worn == "left"
    assert (other.sides("side")[0].drawn.controls[..., 0] < 0.0).all()
    whole = unfold(half, "centre")
    turned = mirror(whole)
    np.testing.assert_allclose(turned.sides("left_side")[0].drawn.start, whole.sides("left_side")[0].drawn.start, atol=1e-9)


def test_names_of_cloth_are_those_of_the_sketch() -> None:
    pieces: list[Piece] = [front(), with_waist_dart(skirt([240.0])), diamond(skirt([240.0]))]
    for piece in pieces:
        assert names_of(unfold(piece.sketch(), "centre")) == names_of(unfold(piece, "centre"))
        whole = unfold(piece, "centre")
        assert names_of(mirror(whole.sketch())) == names_of(mirror(whole))
