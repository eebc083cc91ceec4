"""Facings: they lie exactly on their edges, their inner edge runs parallel, and their names are those promised."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from godet.geometry.length import length
from godet.geometry.path import end_direction, flatten_fixed, line, ring_area, start_direction
from godet.pattern.check import faults
from godet.pattern.facing import facing
from godet.pattern.piece import Piece, Trouble
from godet.pattern.unfold import mirror, unfold
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import lanes, names_of, skirt
from support.drawn_pieces import front, panel_with_hole, polygon

ROUNDING = 0.02  # mm: chords of the lines compared, and the cubics of the inner edge
RUNS = {
    ("neckline", "neckline"): ("neckline",),
    ("side", "side"): ("side",),
    ("armhole", "armhole"): ("armhole",),
    ("neckline", "armhole"): ("armhole", "shoulder", "neckline"),
    ("armhole", "neckline"): ("armhole", "shoulder", "neckline"),
    ("centre", "neckline"): ("neckline", "centre"),
}


def run_line(piece: Piece, names: tuple[str, ...], lane: int, further: float = 0.0) -> shapely.LineString:
    """Edges one after the other as one line of chords, carried on straight at both ends."""
    sides = [side.drawn for name in names for side in piece.sides(name)]
    points = np.concatenate([flatten_fixed(path, 200)[lane] for path in sides])
    back, on = -further * start_direction(sides[0])[lane], further * end_direction(sides[-1])[lane]
    return shapely.LineString([points[0] + back, *points, points[-1] + on])


@settings(max_examples=25, deadline=None)
@given(run=st.sampled_from(sorted(RUNS)), depth=st.floats(10, 50), grown=st.floats(0.8, 1.4))
def test_its_edges_are_the_pieces_own_and_its_inner_edge_is_as_deep_as_asked(
    run: tuple[str, str], depth: float, grown: float
) -> None:
    piece = front(np.array([grown, grown]))
    made = facing(piece, *run, depth=lanes(depth))
    names = RUNS[run]
    for name in names:
        for ours, theirs in zip(made.sides(name), piece.sides(name), strict=True):
            assert np.array_equal(ours.drawn.controls, theirs.drawn.controls)
    for lane in range(2):
        outer, inner = run_line(piece, names, lane, 3 * depth), run_line(made, ("inner_edge",), lane)
        away = shapely.distance(outer, shapely.points(shapely.get_coordinates(inner)))
        assert away == pytest.approx(depth, abs=ROUNDING)


@settings(max_examples=15, deadline=None)
@given(run=st.sampled_from(sorted(RUNS)), depth=st.floats(10, 60))
def test_it_is_the_part_of_the_piece_within_its_depth(run: tuple[str, str], depth: float) -> None:
    """By another road: it lies in the piece and in what shapely finds within the depth of its edges."""
    piece = front()
    made = facing(piece, *run, depth=lanes(depth))
    assert not faults(made)
    area = shapely.Polygon(np.concatenate([flatten_fixed(side.drawn, 200)[0][:-1] for side in made.ring]))
    cloth = shapely.Polygon(np.concatenate([flatten_fixed(side.drawn, 200)[0][:-1] for side in piece.ring]))
    assert cloth.buffer(ROUNDING).contains(area)
    lines = [run_line(piece, (name,), 0, 3 * depth) for name in RUNS[run]]
    near = shapely.union_all([one.buffer(depth, quad_segs=90) for one in lines])
    assert near.buffer(ROUNDING).contains(area)


@pytest.mark.parametrize("run", sorted(RUNS))
def test_its_names_are_known_without_a_body(run: tuple[str, str]) -> None:
    piece = front()
    made = facing(piece, *run, depth=lanes(40.0))
    assert names_of(made) == names_of(facing(piece.sketch(), *run, depth=None))
    assert set(RUNS[run]) < set(made.edge_names())
    assert "it is not on the facing" in made.removed.values()


def test_what_lies_at_its_ends_is_cut_and_the_fold_stays() -> None:
    """Neckline to centre front on a fold: what is left of centre is as deep as the facing, being square to the neckline."""
    made = facing(front(), "neckline", "neckline", depth=lanes(50.0))
    assert made.fold == "centre"
    assert made.worn == "left"
    assert float(length(made.sides("centre")[0].drawn)[0]) == pytest.approx(50.0, abs=1e-6)
    whole = unfold(made, "centre")
    assert {"neckline", "inner_edge", "left_shoulder", "right_shoulder"} <= set(whole.edge_names())


def test_a_sector_facing_in_closed_form() -> None:
    """A half circle skirt of radius 200 to 800: a hem facing 60 deep has the area of the ring sector."""
    angle = np.linspace(0.0, np.pi, 181)
    unit = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    corners = np.concatenate([800.0 * unit, 200.0 * unit[::-1]])
    names = ("hem",) * 180 + ("centre",) + ("waist",) * 180 + ("fold",)
    piece = polygon(tuple((float(x), float(y)) for x, y in corners), names, {})
    made = facing(piece, "hem", "hem", depth=lanes(60.0))
    assert float(ring_area([s.drawn for s in made.ring])[0]) == pytest.approx(np.pi / 2 * (800**2 - 740**2), rel=1e-4)


def test_notches_and_allowances_on_its_edges_go_with_it() -> None:
    piece = front()
    made = facing(piece, "armhole", "armhole", depth=lanes(40.0))
    assert [(notch.strokes, float(notch.at[0])) for notch in made.notches] == [(1, 80.0)]
    assert made.ring[made.notches[0].side].edge == "armhole"
    assert set(made.finish.allowances) == {"seams"}
    assert not made.finish.remarks


def test_many_bodies_at_once_are_as_each_alone() -> None:
    grow = np.linspace(0.8, 1.3, 5)
    together = facing(front(grow), "neckline", "armhole", depth=grow * 45.0)
    for lane, factor in enumerate(grow):
        alone = facing(front(np.array([factor])), "neckline", "armhole", depth=lanes(factor * 45.0))
        for ours, theirs in zip(together.ring, alone.ring, strict=True):
            assert ours.drawn.controls[lane] == pytest.approx(theirs.drawn.controls[0], abs=1e-9)


@pytest.mark.parametrize(
    ("piece", "along", "depth", "message"),
    [
        (front(), "waistline", 130.0, "`waist_dart` ends inside the facing"),
        (front(), "neckline", 200.0, "the facing swallows `shoulder`"),
        (front(), "side", 150.0, "the dart `waist_dart` reaches into the facing"),
        (panel_with_hole(), "side", 150.0, "the dart `fish` reaches into the facing"),
        (front(), "neckline", 0.0, "the facing has no depth"),
        (skirt([300.0]), "waistline", 2600.0, "bends too sharply|swallows"),
    ],
)
def test_what_cannot_be_faced_is_told(piece: Piece, along: str, depth: float, message: str) -> None:
    with pytest.raises(Trouble, match=message):
        facing(piece, along, along, depth=lanes(depth))


def test_a_corner_of_the_piece_that_doubles_back_is_blamed_and_not_the_facing() -> None:
    """The side runs back along the armhole, at 3 degrees from it, and away from the strip."""
    corners = ((0.0, 0.0), (200.0, 0.0), (205.0, 100.0), (200.0, 5.0), (100.0, 250.0), (0.0, 250.0))
    piece = polygon(corners, ("hem", "side", "armhole", "front", "top", "centre"), {})
    with pytest.raises(Trouble, match="`armhole` doubles back on the edge that is faced"):
        facing(piece, "side", "side", depth=lanes(40.0))


def test_lanes_on_which_it_is_too_deep_are_named() -> None:
    with pytest.raises(Trouble) as caught:
        facing(front(np.array([0.7, 1.3])), "side", "side", depth=lanes(120.0))
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [True, False]


def test_two_ways_round_ask_for_an_edge_between() -> None:
    square = polygon(((0, 0), (300, 0), (300, 300), (0, 300)), ("hem", "side", "top", "centre"), {})
    with pytest.raises(Trouble, match="there are two ways from `hem` to `top`"):
        facing(square, "hem", "top", depth=lanes(50.0))
    made = facing(square, "hem", "top", "side", depth=lanes(50.0))
    assert "centre" in made.edge_names()
    assert float(ring_area([side.drawn for side in made.ring])[0]) == pytest.approx(300 * 300 - 250 * 200)


def test_its_inner_edge_may_be_called_otherwise_but_not_as_an_edge_it_has() -> None:
    made = facing(front(), "neckline", "neckline", depth=lanes(40.0), called="lower")
    assert "lower" in made.edge_names()
    with pytest.raises(Trouble, match="there is an edge `centre` already"):
        facing(front(), "neckline", "neckline", depth=lanes(40.0), called="centre")


@settings(max_examples=20, deadline=None)
@given(depth=st.floats(10, 60), grown=st.floats(0.8, 1.4), end=st.sampled_from(["waistline", "side"]))
def test_darts_that_stand_on_it_are_shut(depth: float, grown: float, end: str) -> None:
    """The parts of the waistline are those of the piece, turned; they follow each other, and the inner edge is parallel.
    Deeper than this, its long point at the armhole is cut off on small bodies."""
    piece = front(np.array([grown]))
    made = facing(piece, "waistline", end, depth=lanes(depth))
    assert names_of(made) == names_of(facing(piece.sketch(), "waistline", end, depth=None))
    assert not made.darts
    assert made.removed["waist_dart"] == "it was shut in the facing"
    assert float(made.told[0].lengths["taken in"][0]) == pytest.approx(30.0 * grown)
    parts = made.sides("waistline")
    for ours, theirs in zip(parts, piece.sides("waistline"), strict=True):
        assert length(ours.drawn) == pytest.approx(length(theirs.drawn))
    assert parts[0].drawn.end == pytest.approx(parts[1].drawn.start)
    # A dart with its middle at x = 90 and legs 15 out and 120 up: what lies beyond it is turned by the whole angle.
    way = parts[1].drawn.end - parts[1].drawn.start
    before = piece.sides("waistline")[1].drawn
    turn = np.angle(complex(*way[0])) - np.angle(complex(*(before.end - before.start)[0]))
    assert turn == pytest.approx(-2.0 * np.arctan(15.0 / 120.0))
    names = ("waistline",) if end == "waistline" else ("waistline", "side")
    outer, inner = run_line(made, names, 0, 3 * depth), run_line(made, ("inner_edge",), 0)
    away = shapely.distance(outer, shapely.points(shapely.get_coordinates(inner)))
    assert away.min() == pytest.approx(depth, abs=ROUNDING)
    assert away.max() <= depth / np.cos(turn / 2.0) + ROUNDING  # the mitre where the dart was
    assert not faults(made)


def test_the_part_at_the_fold_stays_where_a_dart_is_shut() -> None:
    """From the side to the centre, and from the centre to the side: the fold stays upright on the paper."""
    piece = front()
    flipped = mirror(piece)
    for one in (piece, flipped):
        made = facing(one, "waistline", "waistline", depth=lanes(50.0))
        (fold,) = made.sides("centre")
        assert fold.drawn.start[0, 0] == pytest.approx(fold.drawn.end[0, 0])
        assert made.fold == "centre"


def test_a_dart_with_uneven_legs_is_not_shut() -> None:
    piece = front()
    ring = list(piece.ring)
    ring[2] = replace(ring[2], path=line(ring[2].drawn.start, ring[2].drawn.end + np.array([[0.0, -3.0]])))
    ring[3] = replace(ring[3], path=line(ring[2].drawn.end, ring[3].drawn.end))
    with pytest.raises(Trouble, match="the legs of `waist_dart` differ"):
        facing(replace(piece, ring=tuple(ring)), "waistline", "waistline", depth=lanes(40.0))


def test_strips_of_an_edge_beside_it_lose_their_own_names_alone() -> None:
    piece = front()
    parts = [replace(side, names=(*side.names, f"{side.edge}.part_k{i}")) for i, side in enumerate(piece.ring)]
    made = facing(replace(piece, ring=tuple(parts)), "neckline", "neckline", depth=lanes(40.0))
    assert made.sides("neckline")[0].names == ("neckline", "neckline.part_k7")


def vee(whole: bool) -> Piece:
    """A front with a V neck of 14 degrees to the centre, from (60, 340) down to (0, 100); half on the fold, or both halves."""
    half = polygon(
        ((0, -200), (200, -200), (200, 300), (60, 340), (0, 100)), ("hem", "side", "shoulder", "neckline", "centre"), {}
    )
    half = replace(half, fold="centre", worn="left")
    return unfold(half, "centre") if whole else half


def inner_of_vee(y: float) -> float:
    """How far from the centre the line 50 mm inside the neckline of the V lies at a height."""
    long = np.hypot(60.0, 240.0)
    return float((50.0 + (y - 100.0) * 60.0 / long) * long / 240.0)


def test_the_point_of_a_vee_facing_is_cut_off_square_to_the_fold() -> None:
    """The inner edge would meet the centre 206 mm below the V; it is cut off at 75, one and a half times its depth."""
    made = facing(vee(whole=False), "neckline", "neckline", depth=lanes(50.0))
    assert length(made.sides("centre")[0].drawn) == pytest.approx(75.0)
    level = next(side.drawn for side in made.sides("inner_edge") if abs(side.drawn.end[0, 1] - side.drawn.start[0, 1]) < 1e-6)
    ends = sorted((tuple(level.start[0]), tuple(level.end[0])))
    assert np.array(ends) == pytest.approx(np.array([(0.0, 25.0), (inner_of_vee(25.0), 25.0)]), abs=1e-6)
    assert not faults(made)


def test_the_point_of_a_whole_vee_facing_is_cut_off_square_to_its_middle() -> None:
    made = facing(vee(whole=True), "left_neckline", "right_neckline", depth=lanes(50.0))
    low = [side.drawn for side in made.sides("inner_edge") if np.ptp([side.drawn.start[0, 1], side.drawn.end[0, 1]]) < 1e-6]
    reach = inner_of_vee(25.0)
    assert len(low) == 1
    assert sorted((low[0].start[0, 0], low[0].end[0, 0])) == pytest.approx([-reach, reach], abs=1e-6)
    assert not faults(made)


def test_bodies_whose_points_are_cut_off_and_others_are_told_apart() -> None:
    """At 20 mm of depth the point of the V lies 82 mm down, at 12 mm 49: both are too long; at 60 degrees none is."""
    wide = polygon(((0, 0), (200, 0), (200, 150), (180, 220), (0, 100)), ("hem", "side", "shoulder", "neckline", "centre"), {})
    made = facing(wide, "neckline", "neckline", depth=lanes(20.0))
    assert length(made.sides("centre")[0].drawn) == pytest.approx(20.0 * np.hypot(180.0, 120.0) / 180.0)


STAND = polygon(
    ((0, 0), (200, 0), (200, 360), (80, 360), (20, 300), (0, 300)),
    ("hem", "side", "shoulder", "neckline", "neck_stand", "stand_edge"),
    {},
)
"""A front with a stand 20 mm wide, its neckline rising from there at 45 degrees."""


@pytest.mark.parametrize("run", [("neck_stand", "stand_edge"), ("stand_edge", "neck_stand")])
def test_an_edge_shorter_than_the_facing_is_deep_has_no_part_of_its_inner_edge(run: tuple[str, str]) -> None:
    """50 mm deep: a strip of 50 by 300, and above it the triangle under the neckline from 20 to 50."""
    made = facing(STAND, *run, depth=lanes(50.0))
    assert ring_area([side.drawn for side in made.ring]) == pytest.approx(50.0 * 300.0 + 30.0 * 30.0 / 2)
    assert length(made.sides("inner_edge")[0].drawn) == pytest.approx(330.0)
    assert set(made.edge_names()) == {"neckline", "neck_stand", "stand_edge", "hem", "inner_edge"}
    mirrored = facing(mirror(STAND), *run, depth=lanes(50.0))
    assert ring_area([side.drawn for side in mirrored.ring]) == pytest.approx(50.0 * 300.0 + 450.0)
