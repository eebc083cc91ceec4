"""Corners squared, lines blended over a seam and at a joint, edges made straight: what is asked happens, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

import numpy as np
import pytest
import shapely
from godet.geometry.lanes import Disagreement, cross, dot
from godet.geometry.motion import apply_path, mirror_path, rotation
from godet.geometry.path import end_direction, flatten_fixed, reverse, start_direction
from godet.pattern.check import faults
from godet.pattern.edges import edge_length
from godet.pattern.piece import Notch, Piece, Reals, Trouble
from godet.pattern.slash import evenly, hinged, slash
from godet.pattern.truing import (
    Seamed,
    angle_at,
    at_angle,
    blended,
    corner_at,
    kink,
    kink_over_dart,
    mouth,
    over_dart,
    round_shift,
    rounded_joint,
    straightened,
)
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pattern_drafts import front, lanes, moved, same, skirt
from shapely.ops import substring
from test_darts_on_a_piece import with_waist_dart

SMOOTH = np.radians(0.1)
RIGHT = lanes(np.pi / 2.0)
reaches = st.one_of(st.none(), st.floats(30.0, 150.0).map(lanes))
widths = st.lists(st.floats(200.0, 320.0), min_size=1, max_size=3)
sags = st.floats(-25.0, 25.0)


def same_shape(one: Piece, other: Piece) -> None:
    """Assert that two outlines lie on each other, whatever spans they are drawn in."""
    for lane in range(max(side.drawn.lanes for side in one.ring)):
        rings = []
        for piece in (one, other):
            flat = [flatten_fixed(side.drawn, 64) for side in piece.ring]
            rings.append(shapely.linestrings(np.concatenate([p[lane % p.shape[0]] for p in flat])))
        assert shapely.hausdorff_distance(*rings) < 0.02


def untouched(one: Piece, other: Piece, *edges: str) -> None:
    """Assert that all sides but those of some edges are the same to the last bit."""
    for a, b in zip(one.ring, other.ring, strict=True):
        if not set(edges).intersection(a.names):
            np.testing.assert_array_equal(a.drawn.controls, b.drawn.controls)


@settings(max_examples=30, deadline=None)
@given(widths, sags, st.sampled_from([("hem", "side"), ("hem", "centre"), ("waistline", "side")]), reaches)
def test_a_squared_corner_is_square_and_the_edge_alone_gives_way(
    wide: list[float], sag: float, corner: tuple[str, str], reach: np.ndarray | None
) -> None:
    piece = skirt(wide, sag=sag)
    made, gone = at_angle(piece, *corner, RIGHT, reach)
    np.testing.assert_allclose(angle_at(made, corner_at(made, *corner)), np.pi / 2.0, atol=SMOOTH)
    untouched(piece, made, corner[0])
    for a, b in zip(piece.ring, made.ring, strict=True):
        np.testing.assert_allclose([a.drawn.start, a.drawn.end], [b.drawn.start, b.drawn.end], atol=1e-9)
    np.testing.assert_allclose(edge_length(made, corner[0]), edge_length(piece, corner[0]), atol=4.0 * float(gone.max()) + 1e-6)
    again, still = at_angle(made, *corner, RIGHT, reach)
    assert (still < 1e-6).all()
    same_shape(again, made)


@settings(max_examples=20, deadline=None)
@given(widths, sags, st.floats(0.0, 1.0))
def test_the_far_part_of_the_edge_stays_beyond_the_reach(wide: list[float], sag: float, share: float) -> None:
    """By shapely: nothing of the hem further than the reach from the corner has moved."""
    piece = skirt(wide, sag=sag)
    reach = 30.0 + 100.0 * share
    made, _ = at_angle(piece, "hem", "side", RIGHT, lanes(reach))
    for lane in range(len(wide)):
        old, new = (shapely.linestrings(flatten_fixed(p.sides("hem")[0].drawn, 100)[lane]) for p in (piece, made))
        far = substring(old, 0.0, old.length - reach - 0.5)
        assert shapely.hausdorff_distance(far, substring(new, 0.0, far.length)) < 0.02


@contextmanager
def drawn_together() -> Iterator[None]:
    """Bodies on which the reach ends on different curves of the hem are drawn apart; here they are left out."""
    try:
        yield
    except Disagreement:
        assume(False)


@settings(max_examples=30, deadline=None)
@given(widths, sags, sags, reaches, st.booleans(), st.booleans())
def test_two_halves_of_a_blended_line_are_one_smooth_line(
    wide: list[float], sag: float, other_sag: float, reach: np.ndarray | None, shifted: bool, mirrored: bool
) -> None:
    """Whether or not one of the pieces is drawn as the other hand; both move by as much."""
    one, other = skirt(wide, sag=sag), skirt([width + 20.0 for width in wide], sag=other_sag)
    if mirrored:
        other = drawn_mirrored(other)
    sides = Seamed(one, "hem", "side"), Seamed(other, "hem", "side")
    before = kink(*sides)
    with drawn_together():
        first, one_moved = blended(*sides, reach, shifted=shifted)
        second, other_moved = blended(sides[1], sides[0], reach, shifted=shifted)
    after = Seamed(first, "hem", "side"), Seamed(second, "hem", "side")
    assert (kink(*after) < SMOOTH).all()
    if not shifted:
        np.testing.assert_allclose(one_moved, other_moved, rtol=0.02, atol=1e-6)
        opened = [new.angle() - old.angle() for new, old in zip(after, sides, strict=True)]
        np.testing.assert_allclose(np.abs(opened[0] + opened[1]), before, atol=2e-6)
        untouched(one, first, "hem")
    gains = [edge_length(new, "side") - edge_length(old, "side") for new, old in ((first, one), (second, other))]
    np.testing.assert_allclose(gains[0], gains[1], atol=1e-6)
    with drawn_together():
        third, still = blended(*after, reach)
    assert (still < 1e-6).all()
    same_shape(third, first)


def drawn_mirrored(piece: Piece) -> Piece:
    """The piece drawn as its other hand, its ring turned round to run anticlockwise again."""
    p, q = np.array([[0.0, 0.0]]), np.array([[0.0, 1.0]])
    ring = [replace(side, path=reverse(mirror_path(p, q, side.drawn))) for side in reversed(piece.ring)]
    return replace(piece, ring=tuple(ring))


def test_laid_together_the_halves_go_over_into_each_other() -> None:
    """The other piece is brought to the seam with its own hands: corner on corner, seam edge on seam edge."""
    one, other = skirt([240.0]), drawn_mirrored(skirt([300.0], sag=4.0))
    first, _ = blended(Seamed(one, "hem", "side"), Seamed(other, "hem", "side"))
    second, _ = blended(Seamed(other, "hem", "side"), Seamed(one, "hem", "side"))
    ours, theirs = first.sides("side")[0].drawn, second.sides("side")[0].drawn
    turn = np.angle(complex(*(-start_direction(ours)[0]))) - np.angle(complex(*end_direction(theirs)[0]))
    laid = moved(second, rotation(np.zeros((1, 2)), lanes(turn + np.pi)))
    arriving, leaving = end_direction(first.sides("hem")[0].drawn), start_direction(laid.sides("hem")[0].drawn)
    assert abs(cross(arriving, leaving)[0]) < np.sin(SMOOTH)


@settings(max_examples=20, deadline=None)
@given(widths, sags, reaches)
def test_an_edge_runs_on_over_a_dart_once_that_is_sewn(wide: list[float], sag: float, reach: np.ndarray | None) -> None:
    """By its own hands: the part beyond the dart is turned about the apex until the legs lie on each other."""
    piece = with_waist_dart(skirt(wide, sag=sag))
    shorter = None if reach is None else reach / 3.0
    made, _ = over_dart(piece, "waistline", "waist_dart", shorter)
    assert (kink_over_dart(made, "waistline", "waist_dart") < SMOOTH).all()
    untouched(piece, made, "waistline")
    for leg in ("waist_dart.inner_leg", "waist_dart.outer_leg"):
        np.testing.assert_allclose(edge_length(made, leg), edge_length(piece, leg))
    before, after = mouth(made, "waistline", "waist_dart")
    first, second = (made.ring[corner.beside].drawn for corner in (before, after))
    apex = first.end
    close = rotation(apex, angle_between(second.end - apex, first.start - apex))
    arriving = end_direction(made.ring[before.here].drawn)
    leaving = start_direction(apply_path(close, made.ring[after.here].drawn))
    assert (np.abs(cross(arriving, leaving)) < np.sin(SMOOTH)).all()
    again, still = over_dart(made, "waistline", "waist_dart")
    assert (still < 1e-6).all()
    same(again, made)


def angle_between(one: Reals, other: Reals) -> Reals:
    """The turn (L,) from one way to another."""
    return np.asarray(np.arctan2(cross(one, other), dot(one, other)))


@settings(max_examples=20, deadline=None)
@given(st.lists(st.floats(0.8, 1.3), min_size=1, max_size=3), reaches)
def test_a_joint_of_two_edges_becomes_smooth_and_both_keep_their_far_ends(
    sizes: list[float], reach: np.ndarray | None
) -> None:
    piece = front(sizes)
    made, _ = rounded_joint(piece, "shoulder", "neckline", None if reach is None else reach / 3.0)
    np.testing.assert_allclose(angle_at(made, corner_at(made, "shoulder", "neckline")), np.pi, atol=SMOOTH)
    untouched(piece, made, "shoulder", "neckline")
    again, still = rounded_joint(made, "shoulder", "neckline")
    assert (still < 1e-6).all()
    same(again, made)


def test_a_shifted_corner_of_a_straight_hem_lies_on_a_parabola() -> None:
    """The straight way to the new corner lies half way between the directions at both ends of the hem."""
    piece = straightened(skirt([240.0, 300.0]), "hem")[0]
    gives = RIGHT - angle_at(piece, corner_at(piece, "hem", "side"))
    shift = round_shift(Seamed(piece, "hem", "side"), gives)
    made, _ = at_angle(piece, "hem", "side", RIGHT, None, shift)
    side = Seamed(piece, "hem", "side")
    for one in (made, blended(side, side, shifted=True)[0]):
        hem = one.sides("hem")[0].drawn
        chord = np.angle((hem.end - hem.start) @ [1.0, 1.0j])
        ways = [np.angle(way @ [1.0, 1.0j]) for way in (start_direction(hem), end_direction(hem))]
        np.testing.assert_allclose(chord, (ways[0] + ways[1]) / 2.0, atol=1e-9)
        assert faults(one) == []


@settings(max_examples=20, deadline=None)
@given(widths, sags)
def test_a_straightened_edge_is_the_line_between_its_ends(wide: list[float], sag: float) -> None:
    piece = skirt(wide, sag=sag)
    made, off = straightened(piece, "hem")
    hem, old = made.sides("hem")[0].drawn, piece.sides("hem")[0].drawn
    np.testing.assert_allclose(off, abs(sag), atol=0.01)
    np.testing.assert_allclose(edge_length(made, "hem"), np.linalg.norm(old.end - old.start, axis=-1))
    untouched(piece, made, "hem")
    again, none = straightened(made, "hem")
    same(again, made)
    assert (none < 1e-9).all()
    assert hem.straight == (True,)


def test_what_cannot_be_trued_is_told() -> None:
    piece = skirt([240.0, 300.0])
    with pytest.raises(Trouble, match="runs on less far") as caught:
        at_angle(piece, "hem", "side", RIGHT, lanes(300.0, 200.0))
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [True, False]
    with pytest.raises(Trouble, match="broken by a dart"):
        straightened(with_waist_dart(piece), "waistline")
    for edge, dart, why in (("hem", "waist_dart", "does not stand on `hem`"), ("waistline", "no_dart", "is no dart")):
        with pytest.raises(Trouble, match=why):
            over_dart(with_waist_dart(piece), edge, dart)
    with pytest.raises(Trouble, match="not at an end"):
        at_angle(piece, "hem", "waistline", RIGHT)
    whole = edge_length(piece, "hem")
    with pytest.raises(Disagreement):  # one lane is cut in two, the other drawn anew as a whole
        at_angle(piece, "hem", "side", RIGHT, np.array([whole[0], whole[1] / 2.0]))


def test_notches_stay_where_they_were_marked() -> None:
    piece = skirt([240.0])
    hem = next(i for i, side in enumerate(piece.ring) if "hem" in side.names)
    piece = replace(piece, notches=(Notch(hem, lanes(100.0)), Notch((hem + 1) % 4, lanes(50.0))))
    made, gone = at_angle(piece, "hem", "side", RIGHT, lanes(60.0))
    (on_side, on_hem) = made.notches
    assert on_side.at[0] == 50.0
    assert abs(on_hem.at[0] - 100.0) < 1e-3
    assert on_hem.side == hem
    assert gone[0] > 0.0


def test_a_slashed_edge_is_trued_before_its_corner() -> None:
    """Its last side is what the reach may take: an edge of many small sides is made one first."""
    before = skirt([240.0])
    cuts = evenly(before, "hem", "waistline", 3)
    flared = slash(before, cuts, hinged(cuts, "waistline", [lanes(20.0)] * 3)).piece
    with pytest.raises(Trouble, match="`hem` runs on less far"):
        at_angle(flared, "hem", "side", RIGHT, lanes(150.0))
