"""Which ends of two sides of a seam meet, and how far their notches lie apart, against places worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.pattern.edges import edge_length, rename
from godet.pattern.piece import Notch, Piece
from godet.pattern.unfold import mirror, unfold
from godet.pattern.walking import Stretch, laid_together, matches, notch_gap, notches_on
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import front, lanes, skirt
from support.drawn_pieces import front as drawn_front
from support.drawn_pieces import polygon
from test_darts_on_a_piece import with_waist_dart

shares = st.lists(st.floats(0.05, 0.95), min_size=1, max_size=3)


def notched(piece: Piece, edge: str, places: list[np.ndarray]) -> Piece:
    """The piece with notches so far (L,) mm along an edge of one side, as its ring runs."""
    (i,) = piece.run(edge)
    return replace(piece, notches=(*piece.notches, *(Notch(i, at, stated=True) for at in places)))


@settings(max_examples=25, deadline=None)
@given(st.lists(st.floats(200.0, 300.0), min_size=1, max_size=3), shares, shares, st.booleans())
def test_the_gap_of_notches_on_a_side_and_its_mirror_image(
    wide: list[float], ours: list[float], theirs: list[float], other_hand: bool
) -> None:
    """The hem is the start of both; drawn as the other hand, the second side runs the other way. By hand: of every notch and
    the nearest of the other side, one may be ahead by as much as the sides differ, and no more; the worst counts."""
    one, other = skirt(wide), skirt(wide, long=660.0)
    long = [edge_length(piece, "side") for piece in (one, other)]
    one = notched(one, "side", [share * long[0] for share in ours])
    other = notched(other, "side", [share * long[1] for share in theirs])
    other = mirror(other) if other_hand else other
    found = notch_gap([Stretch(one, "side", "1")], [Stretch(other, "side", "2")])
    pairs = [(a, theirs[int(np.argmin(np.abs(np.array(theirs) - a)))]) for a in ours]
    pairs += [(ours[int(np.argmin(np.abs(np.array(ours) - b)))], b) for b in theirs]
    ahead = [b * long[1] - a * long[0] for a, b in pairs]
    worst = np.max([np.maximum(np.maximum(-x, x - (long[1] - long[0])), 0.0) for x in ahead], axis=0)
    np.testing.assert_allclose(found, worst, atol=1e-6)
    for k in range(len(wide)):
        alone = [piece.take(np.array([k])) for piece in (one, other)]
        gap = notch_gap([Stretch(alone[0], "side", "1")], [Stretch(alone[1], "side", "2")])
        assert gap[0] == pytest.approx(found[k % found.size], abs=1e-9)


def test_legs_of_a_dart_meet_at_its_apex() -> None:
    piece = with_waist_dart(skirt([240.0]))
    ((one, two),) = laid_together([Stretch(piece, "waist_dart.inner_leg", "a")], [Stretch(piece, "waist_dart.outer_leg", "a")])
    assert (one.forward, two.forward) == ((True,), (False,))  # the first leg travels to the apex, the second away from it


def test_a_run_follows_its_corner_and_a_seam_between_pieces() -> None:
    """An unfolded hem in halves runs on at the centre; a front and a back run on over the side that joins them."""
    whole = unfold(skirt([240.0]), "centre")
    halves = [Stretch(whole, "left_hem", "whole"), Stretch(whole, "right_hem", "whole")]
    ways = laid_together(halves, [Stretch(skirt([480.0]), "hem", "band")])
    assert {one.forward for one, _ in ways} in ({(True, True)}, {(False, False)})
    one, other = skirt([240.0]), skirt([260.0])
    run = [Stretch(one, "hem", "front"), Stretch(other, "hem", "back")]
    band = [Stretch(skirt([500.0]), "hem", "band")]
    sewn = {one.forward for one, _ in laid_together(run, band, {frozenset(("front.side", "back.side"))})}
    assert sewn == {(True, False)}  # both hems are drawn from the centre to the side


def test_two_halves_of_an_edge_meet_at_the_fold() -> None:
    half = skirt([240.0])  # its hem runs from the fold to the side
    run = [Stretch(half, "hem", "half"), Stretch(half, "hem", "half")]
    assert {one.forward for one, _ in laid_together(run, [Stretch(skirt([480.0]), "hem", "band")])} == {(False, True)}
    both = [Stretch(replace(one.piece, fold=None), "hem", "half") for one in run]
    ways = {one.forward for one, _ in laid_together(both, [Stretch(skirt([480.0]), "hem", "band")])}
    assert ways == {(False, True), (True, False)}


def test_a_point_at_a_corner_tells_which_ends_meet() -> None:
    """The top of a sleeve cap stands between its two halves; the mark there meets the shoulder of the armhole."""
    cap, body = skirt([240.0]), front()  # `hem` stands for half a cap: from the fold to the side
    left, right = [Stretch(cap, "hem", "sleeve")], [Stretch(body, "armhole", "body")]
    assert len(laid_together(left, right)) == 1  # both ends of these have names in common
    left = [Stretch(rename(cap, {"side": "underarm_seam", "centre": "other_half"}), "hem", "sleeve")]
    assert len(laid_together(left, right)) == 2
    for corner, same_way in (("start", False), ("end", True)):
        (side,) = left[0].piece.sides("hem")
        spot = side.drawn.start if corner == "start" else side.drawn.end
        marked = replace(left[0].piece, points={"shoulder_mark": spot})
        ((one, two),) = laid_together([replace(left[0], piece=marked)], right)
        assert (one.forward == two.forward) is same_way  # the armhole is drawn from the side to the shoulder


def test_a_notch_nobody_answers_is_no_disagreement() -> None:
    piece, bare = notched(front(), "side", [lanes(40.0)]), front()
    sides = [Stretch(piece, "side", "1")], [Stretch(bare, "side", "2")]
    np.testing.assert_allclose(notch_gap(*sides), 0.0)
    ((one, two), *_) = laid_together(*sides)
    assert matches(one, two) == []
    assert [strokes for _, strokes in notches_on(one)] == [1]


def test_the_point_of_a_vee_is_a_corner_of_its_edge_and_a_smooth_neckline_has_none() -> None:
    """A V from (60, 340) down to (0, 100) and up again: its point lies half way."""
    corners = ((-200.0, 0.0), (200.0, 0.0), (60.0, 340.0), (0.0, 100.0), (-60.0, 340.0))
    names = ("hem", "side", "neckline", "other", "back")
    vee = rename(polygon(corners, names, {}), {"other": "left"})
    sides = tuple(replace(one, names=("neckline", *one.names)) if one.edge in ("neckline", "left") else one for one in vee.ring)
    (laid, _), *_ = laid_together([Stretch(replace(vee, ring=sides), "neckline")], [Stretch(vee, "hem")])
    assert [at[0] for at in laid.joints()] == pytest.approx([np.hypot(60.0, 240.0)])
    round_neck = unfold(replace(drawn_front(), fold="centre", worn="left"), "centre")
    (laid, _), *_ = laid_together([Stretch(round_neck, "neckline")], [Stretch(round_neck, "left_side")])
    assert laid.joints() == []
