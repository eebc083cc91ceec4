"""Which ends of two sides of a seam meet, and how far their notches lie apart, against places worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.finish.seams import SewnSeam
from godet.geometry.path import line
from godet.pattern.edges import edge_length, rename
from godet.pattern.laid import SeamEdge, notches_on
from godet.pattern.piece import CutOrder, Finish, Notch, Piece, Side, Sign
from godet.pattern.unfold import mirror, unfold
from godet.pattern.walking import matches, notch_gap
from godet.pattern.which_ends import Sewn, laid_together
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
    """The hem is the start of both; mirrored, the second side runs the other way. By hand: of every notch and
    the nearest of the other side, one may be ahead by as much as the sides differ, and no more; the worst counts."""
    one, other = (replace(piece, worn=None) for piece in (skirt(wide), skirt(wide, long=660.0)))
    long = [edge_length(piece, "side") for piece in (one, other)]
    one = notched(one, "side", [share * long[0] for share in ours])
    other = notched(other, "side", [share * long[1] for share in theirs])
    other = mirror(other) if other_hand else other
    found = notch_gap([SeamEdge(one, "side", "1")], [SeamEdge(other, "side", "2")])
    pairs = [(a, theirs[int(np.argmin(np.abs(np.array(theirs) - a)))]) for a in ours]
    pairs += [(ours[int(np.argmin(np.abs(np.array(ours) - b)))], b) for b in theirs]
    ahead = [b * long[1] - a * long[0] for a, b in pairs]
    worst = np.max([np.maximum(np.maximum(-x, x - (long[1] - long[0])), 0.0) for x in ahead], axis=0)
    np.testing.assert_allclose(found, worst, atol=1e-6)
    for k in range(len(wide)):
        alone = [piece.take(np.array([k])) for piece in (one, other)]
        gap = notch_gap([SeamEdge(alone[0], "side", "1")], [SeamEdge(alone[1], "side", "2")])
        assert gap[0] == pytest.approx(found[k % found.size], abs=1e-9)


def test_legs_of_a_dart_meet_at_its_apex() -> None:
    piece = with_waist_dart(skirt([240.0]))
    ((one, two),) = laid_together([SeamEdge(piece, "waist_dart.inner_leg", "a")], [SeamEdge(piece, "waist_dart.outer_leg", "a")])
    assert (one.forward, two.forward) == ((True,), (False,))  # the first leg travels to the apex, the second away from it


def test_a_run_follows_its_corner_and_a_seam_between_pieces() -> None:
    """An unfolded hem in halves runs on at the centre; a front and a back run on over the side that joins them."""
    whole = unfold(skirt([240.0]), "centre")
    halves = [SeamEdge(whole, "left_hem", "whole"), SeamEdge(whole, "right_hem", "whole")]
    ways = laid_together(halves, [SeamEdge(skirt([480.0]), "hem", "band")])
    assert {one.forward for one, _ in ways} in ({(True, True)}, {(False, False)})
    one, other = skirt([240.0]), skirt([260.0])
    run = [SeamEdge(one, "hem", "front"), SeamEdge(other, "hem", "back")]
    band = [SeamEdge(skirt([500.0]), "hem", "band")]
    joined = Sewn({"front": one, "back": other}, [seam("front.side", "back.side")])
    sewn = {one.forward for one, _ in laid_together(run, band, joined)}
    assert sewn == {(True, False)}  # both hems are drawn from the centre to the side


def test_two_halves_of_an_edge_meet_at_the_fold() -> None:
    half = skirt([240.0])  # its hem runs from the fold to the side
    run = [SeamEdge(half, "hem", "half"), SeamEdge(half, "hem", "half")]
    assert {one.forward for one, _ in laid_together(run, [SeamEdge(skirt([480.0]), "hem", "band")])} == {(False, True)}
    both = [SeamEdge(replace(one.piece, fold=None), "hem", "half") for one in run]
    ways = {one.forward for one, _ in laid_together(both, [SeamEdge(skirt([480.0]), "hem", "band")])}
    assert ways == {(False, True), (True, False)}


def same_way(one: Piece, other: Piece, edge: str = "hem", seams: list[SewnSeam] | None = None) -> set[bool]:
    """Whether an edge of two pieces `a` and `b` starts at the ends that meet; both where nothing tells."""
    pieces = {"a": one, "b": other}
    ways = laid_together([SeamEdge(one, edge, "a")], [SeamEdge(other, edge, "b")], Sewn(pieces, seams or []))
    return {a.forward == b.forward for a, b in ways}


def seam(left: str, right: str) -> SewnSeam:
    return SewnSeam("", "joins", (left,), (right,), lanes(1.0), lanes(1.0))


def bare(piece: Piece) -> Piece:
    """The piece, of which nobody says how it is worn or where its fold is; its edges called otherwise."""
    names = {name: f"{name[0]}{k}" for k, name in enumerate(("centre", "side", "waistline"))}
    return rename(replace(piece, fold=None, worn=None), names)


def test_level_edges_of_which_nothing_is_said_may_meet_either_way() -> None:
    assert same_way(bare(skirt([240.0])), bare(skirt([240.0]))) == {True, False}


def test_the_fold_goes_with_the_fold_and_an_edge_with_that_it_is_sewn_to() -> None:
    one = bare(skirt([240.0]))
    folded, turned = replace(one, fold="c0"), mirror(replace(one, fold="c0"))
    assert same_way(folded, replace(folded, fold="s1")) == {False}
    assert same_way(folded, folded) == {True}
    assert same_way(folded, turned) == {False}  # mirrored, its ring runs the other way
    assert same_way(one, one, seams=[seam("a.s1", "b.s1")]) == {True}
    assert same_way(one, one, seams=[seam("a.s1", "b.c0")]) == {False}


def test_left_goes_with_left() -> None:
    whole = replace(unfold(skirt([240.0]), "centre"), was_fold=None)  # nothing tells which is its right side
    assert same_way(whole, whole) == {True}
    assert same_way(whole, rename(whole, {"left_side": "right_side", "right_side": "left_side"})) == {False}


def test_right_sides_are_laid_together() -> None:
    """Two left fronts run against each other, a left front and a right back alike; what lies inside shows its other face."""
    left = replace(bare(skirt([240.0])), worn="left")
    assert same_way(left, left) == {False}
    assert same_way(left, replace(left, inside=True)) == {True}
    assert same_way(left, replace(left, worn="right")) == {True, False}  # worn on two sides, they are not sewn to each other
    pair = replace(left, worn="right", finish=Finish(cuts=(CutOrder(2, mirrored=True),)))
    assert same_way(left, pair) == {True}


def test_edges_that_are_not_level_meet_at_their_upper_ends() -> None:
    one = replace(skirt([240.0]), worn=None)
    assert same_way(one, one, "side") == {True}
    assert same_way(one, mirror(one), "side") == {False}


def test_an_edge_on_which_levels_end_goes_with_another_such() -> None:
    """The underarm seam of a sleeve with the side of a bodice."""
    level = Side(("at",), line(np.array([[0.0, 300.0]]), np.array([[250.0, 300.0]])))

    def levelled(edge: str) -> Piece:
        signs = {"at": Sign("level", level="biceps", ends=(edge,))}
        return replace(bare(skirt([240.0])), lines=(level,), signs=signs)

    assert same_way(levelled("s1"), levelled("s1")) == {True}
    assert same_way(levelled("s1"), levelled("c0")) == {False}


@pytest.mark.parametrize("far", [False, True])
def test_notches_of_one_name_meet(far: bool) -> None:
    """A third of the way along one edge, two fifths from one end of the other: no more than the ease lies between them."""
    one = bare(skirt([240.0]))
    (i,) = one.run("hem")
    total = edge_length(one, "hem")
    places = (total / 3, total * (0.6 if far else 0.4))
    a, b = (replace(one, notches=(Notch(i, at, stated=True, name="mark"),)) for at in places)
    assert same_way(a, b) == {not far}


def test_a_corner_that_other_seams_bring_together_tells() -> None:
    """A band sewn to a skirt and closed by a strip: the strip's end meets the skirt where the band's end does."""
    one = bare(skirt([240.0]))
    pieces = {"skirt": replace(one, fold="s1"), "band": replace(one, fold="s1"), "strip": one}
    seams = [seam("skirt.hem", "band.hem"), seam("band.c0", "strip.c0")]
    sewn = Sewn(pieces, seams)
    ((a, b),) = laid_together([SeamEdge(one, "hem", "strip")], [SeamEdge(pieces["skirt"], "hem", "skirt")], sewn)
    assert a.forward == b.forward


def test_a_notch_nobody_answers_is_no_disagreement() -> None:
    piece, bare = notched(front(), "side", [lanes(40.0)]), front()
    sides = [SeamEdge(piece, "side", "1")], [SeamEdge(bare, "side", "2")]
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
    (laid, _), *_ = laid_together([SeamEdge(replace(vee, ring=sides), "neckline")], [SeamEdge(vee, "hem")])
    assert [at[0] for at in laid.joints()] == pytest.approx([np.hypot(60.0, 240.0)])
    round_neck = unfold(replace(drawn_front(), fold="centre", worn="left"), "centre")
    (laid, _), *_ = laid_together([SeamEdge(round_neck, "neckline")], [SeamEdge(round_neck, "left_side")])
    assert laid.joints() == []
