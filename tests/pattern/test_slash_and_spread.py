"""The laws of slash and spread, on random pieces and several bodies at once."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from godet.geometry.curve import hobby
from godet.geometry.lanes import Disagreement, norm
from godet.geometry.length import length, point_at
from godet.geometry.path import line
from godet.pattern.check import faults
from godet.pattern.darts import apex_of, open_to_edge
from godet.pattern.edges import edge_from, edge_length
from godet.pattern.outline import outline
from godet.pattern.piece import Notch, Piece, Reals, Side, Trouble
from godet.pattern.pivot import dart_angle
from godet.pattern.slash import AtApex, OnEdge, SlashLine, Widths, evenly, hinged, on_edge, parallel, slash
from godet.pattern.unfold import unfold
from godet.pattern.unsewn import leave
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, lanes, names_of, same, skirt
from test_darts_on_a_piece import diamond, with_waist_dart

SHUT = lanes(0.0)
widths = st.floats(5.0, 40.0)
bodies = st.lists(st.floats(180.0, 420.0), min_size=1, max_size=3)


def _gaps(piece: Piece, edge: str) -> list[Reals]:
    return [norm(s.drawn.end - s.drawn.start) for s in piece.sides(edge) if any(".gap_k" in n for n in s.names)]


def _strips_moved_rigidly(before: Piece, after: Piece, edges: Sequence[str], cuts: Sequence[SlashLine]) -> None:
    """Every strip keeps the distances of its corners: compared with the same strip cut from the old edge."""
    for edge in edges:
        for n in range(len(cuts) + 1):
            strips = [s for s in after.sides(edge) if f"{edge}.strip_k{n}" in s.names]
            share = edge_length(before, edge) / (len(cuts) + 1)
            np.testing.assert_allclose(sum(length(s.drawn) for s in strips), share, atol=1e-6)


@settings(max_examples=30, deadline=None)
@given(bodies, st.integers(1, 6), widths)
def test_hinged_the_hinge_keeps_its_length_and_the_other_edge_grows_by_the_openings(
    sizes: list[float], count: int, width: float
) -> None:
    before = skirt(sizes)
    cuts = evenly(before, "hem", "waistline", count)
    piece = slash(before, cuts, hinged(cuts, "waistline", [lanes(width)] * count)).piece
    assert faults(piece) == []
    np.testing.assert_allclose(edge_length(piece, "waistline"), edge_length(before, "waistline"), atol=1e-8)
    np.testing.assert_allclose(edge_length(piece, "hem"), edge_length(before, "hem") + count * width, atol=1e-6)
    gaps = _gaps(piece, "hem")
    assert len(gaps) == count
    np.testing.assert_allclose(np.stack(gaps), width, atol=1e-6)
    _strips_moved_rigidly(before, piece, ["hem", "waistline"], cuts)
    wedges = np.zeros(1)
    for cut in cuts:
        a, b = (_spot(before, end) for end in (cut.start, cut.end))
        # A triangle with two sides as long as the cut and the opening between them.
        wedges = wedges + width / 2.0 * np.sqrt(norm(a - b) ** 2 - width**2 / 4.0)
    np.testing.assert_allclose(area(piece) - area(before), wedges, rtol=1e-9)


def cap_of(wide: Sequence[float]) -> Piece:
    """A sleeve cap of four spans on a straight sleeve."""
    size = np.asarray(wide)[:, None, None] / 240.0
    p = size * np.array([[[240.0, 0], [190, 50], [120, 130], [50, 50], [0, 0]]])
    out = np.broadcast_to(np.array([[-1.0, 0.0]]), (len(wide), 2))
    cap, low = hobby(p, out, out), size[:, 0] * np.array([[0.0, -300.0]])
    sides = [("cap", cap, 0, 1), ("left", line(p[:, 4], p[:, 4] + low), 1, 2)]
    return outline(
        [*sides, ("hem", line(p[:, 4] + low, p[:, 0] + low), 2, 3), ("right", line(p[:, 0] + low, p[:, 0]), 3, 0)]
    )


@settings(max_examples=20, deadline=None)
@given(bodies, st.integers(3, 7), st.floats(10.0, 40.0))
def test_a_cap_spread_wide_is_drawn_smooth_near_its_strips(sizes: list[float], count: int, width: float) -> None:
    before = cap_of(sizes)
    cuts = evenly(before, "cap", "hem", count)
    openings = hinged(cuts, "hem", [lanes(width)] * count)
    strips = slash(before, cuts, openings).piece
    smooth = slash(before, cuts, openings, bridge="smooth")
    assert faults(smooth.piece) == []
    (side,) = smooth.piece.sides("cap")
    assert side.drawn.spans == min(count + 1, 4)
    assert (smooth.moved["cap"] < 0.5 * width + 0.06 * np.asarray(sizes)).all()
    np.testing.assert_allclose(area(smooth.piece), area(strips), rtol=0.03)


def _spot(piece: Piece, end: OnEdge | AtApex) -> Reals:
    assert isinstance(end, OnEdge)
    assert end.at is not None
    (side,) = piece.sides(end.edge)
    total = length(side.drawn)
    return point_at(side.drawn, end.at if end.from_end == "start" else total - end.at)


@settings(max_examples=30, deadline=None)
@given(bodies, st.integers(1, 5), widths)
def test_parallel_both_edges_grow_alike_and_the_area_by_rectangles(
    sizes: list[float], count: int, width: float
) -> None:
    before = skirt(sizes)
    cuts = evenly(before, "hem", "waistline", count)
    piece = slash(before, cuts, parallel([lanes(width)] * count)).piece
    assert faults(piece) == []
    for edge in ("hem", "waistline"):
        np.testing.assert_allclose(edge_length(piece, edge), edge_length(before, edge) + count * width, atol=1e-6)
    long = sum(norm(_spot(before, cut.start) - _spot(before, cut.end)) for cut in cuts)
    np.testing.assert_allclose(area(piece) - area(before), width * long, rtol=1e-9)
    np.testing.assert_allclose([side.turn.imag.max() for side in piece.ring], 0.0, atol=1e-15)


@settings(max_examples=30, deadline=None)
@given(bodies, st.integers(1, 4), widths, widths)
def test_unequal_each_end_opens_as_asked(sizes: list[float], count: int, at_hem: float, at_waist: float) -> None:
    before = skirt(sizes)
    cuts = evenly(before, "hem", "waistline", count)
    piece = slash(before, cuts, [(lanes(at_hem), lanes(at_waist))] * count).piece
    assert faults(piece) == []
    np.testing.assert_allclose(np.stack(_gaps(piece, "hem")), at_hem, atol=1e-6)
    np.testing.assert_allclose(np.stack(_gaps(piece, "waistline")), at_waist, atol=1e-6)
    _strips_moved_rigidly(before, piece, ["hem", "waistline"], cuts)


def test_the_worked_flare_and_even_spread() -> None:
    # Worked manipulations: length 60, 5 slashes opened 4 at the hem: each wedge 3.820 degrees, hem + 20 in chords.
    straight = _rectangle(400.0, 600.0)
    cuts = evenly(straight, "hem", "waistline", 5)
    flared = slash(straight, cuts, hinged(cuts, "waistline", [lanes(40.0)] * 5)).piece
    last = flared.sides("side")[0]
    assert abs(np.degrees(np.angle(last.turn))[0]) == pytest.approx(5 * 3.820, abs=0.01)
    assert edge_length(flared, "hem")[0] == pytest.approx(600.0, abs=1e-9)
    # Width 40, 8 slashes opened 5: width 80 on both edges.
    cuts = evenly(straight, "hem", "waistline", 8)
    spread = slash(straight, cuts, parallel([lanes(50.0)] * 8)).piece
    assert edge_length(spread, "hem")[0] == pytest.approx(800.0)
    assert edge_length(spread, "waistline")[0] == pytest.approx(800.0)
    assert area(spread)[0] == pytest.approx(800.0 * 600.0)


def _rectangle(width: float, high: float) -> Piece:
    corners = [np.array([p]) for p in ((0.0, 0.0), (width, 0.0), (width, high), (0.0, high))]
    names = ["hem", "side", "waistline", "centre"]
    edges = [(n, line(corners[k], corners[(k + 1) % 4]), k, (k + 1) % 4) for k, n in enumerate(names)]
    return outline(edges, fold="centre", worn="right")


def test_not_opened_a_slash_leaves_no_trace() -> None:
    before = skirt([240.0, 300.0])
    cuts = evenly(before, "hem", "waistline", 3)
    same(slash(before, cuts, parallel([SHUT] * 3)).piece, before)
    one = slash(before, cuts, [(lanes(20.0), SHUT), (SHUT, SHUT), (lanes(20.0), SHUT)]).piece
    assert "hem.gap_k2" not in one.edge_names()
    # The strips on both sides of the cut that stayed shut are one side with both names.
    assert any({"hem.strip_k1", "hem.strip_k2"} <= set(side.names) for side in one.ring)


def test_lanes_that_open_and_lanes_that_do_not_are_parted() -> None:
    before = skirt([240.0, 300.0])
    cuts = evenly(before, "hem", "waistline", 1)
    with pytest.raises(Disagreement):
        slash(before, cuts, [(lanes(20.0, 0.0), SHUT)])


def test_numbers_follow_the_end_measured_from() -> None:
    before = skirt([240.0])
    cuts = evenly(before, "hem", "waistline", 2, edge_from(before, "hem", "side"))
    piece = slash(before, cuts, hinged(cuts, "waistline", [lanes(20.0)] * 2)).piece
    names = [side.names[1] for side in piece.sides("hem")]
    assert names == ["hem.strip_k2", "hem.gap_k2", "hem.strip_k1", "hem.gap_k1", "hem.strip_k0"]


def test_crossing_cuts_are_refused_by_name() -> None:
    before = skirt([240.0])
    cuts = [SlashLine(on_edge(before, "hem", a), on_edge(before, "waistline", b)) for a, b in ((0.3, 0.3), (0.6, 0.6))]
    with pytest.raises(Trouble, match="cut 1 and cut 2 cross"):
        slash(before, cuts, parallel([lanes(10.0)] * 2))


def test_a_cut_off_the_cloth_is_refused_in_its_lanes() -> None:
    before = skirt([240.0, 240.0])
    off = np.array([[120.0, 300.0], [500.0, 300.0]])
    cut = SlashLine(on_edge(before, "hem", 0.5), on_edge(before, "waistline", 0.5), (off,))
    with pytest.raises(Trouble, match="cut 1 leaves the cloth") as caught:
        slash(before, [cut], parallel([lanes(10.0)]))
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [False, True]


def test_a_cut_through_a_dart_is_told_so_beside_one_that_leaves_the_cloth() -> None:
    dart = with_waist_dart(skirt([240.0, 240.0]), 30.0, 120.0)
    bend = np.array([[120.0, 560.0], [120.0, -300.0]])
    cut = SlashLine(on_edge(dart, "side", 0.9), on_edge(dart, "centre", 0.1), (bend,))
    with pytest.raises(Trouble, match="runs through the dart `waist_dart`") as caught:
        slash(dart, [cut], parallel([lanes(10.0)]))
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [True, False]


def test_cuts_through_darts_are_refused_with_the_darts_name() -> None:
    dart = with_waist_dart(skirt([240.0]), 30.0, 120.0)
    cut = SlashLine(on_edge(dart, "side", 0.9), on_edge(dart, "centre", 0.1))
    with pytest.raises(Trouble, match="runs through the dart `waist_dart`"):
        slash(dart, [cut], parallel([lanes(10.0)]))
    whole = diamond(skirt([240.0]))
    cut = SlashLine(on_edge(whole, "side", 0.5), on_edge(whole, "centre", 0.5))
    with pytest.raises(Trouble, match="which has two ends"):
        slash(whole, [cut], parallel([lanes(10.0)]))
    slit = open_to_edge(whole, "waist_dart", "hem")
    cut = SlashLine(on_edge(slit, "side", 0.2), on_edge(slit, "centre", 0.8))
    with pytest.raises(Trouble, match="runs through the dart `waist_dart`"):
        slash(slit, [cut], parallel([lanes(10.0)]))


def test_an_opening_wider_than_the_cut_or_below_zero_is_refused() -> None:
    before = skirt([240.0])
    cuts = evenly(before, "hem", "waistline", 1)
    with pytest.raises(Trouble, match="wider"):
        slash(before, cuts, hinged(cuts, "waistline", [lanes(2000.0)]))
    with pytest.raises(Trouble, match="below zero"):
        slash(before, cuts, hinged(cuts, "waistline", [lanes(-20.0)]))


def test_a_lane_below_zero_says_nothing_of_one_that_opens_too_wide() -> None:
    before = skirt([240.0, 240.0])
    cuts = evenly(before, "hem", "waistline", 1)
    with pytest.raises(Trouble, match="below zero") as caught:
        slash(before, cuts, hinged(cuts, "waistline", [lanes(2000.0, -20.0)]))
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [False, True]


def test_a_broken_cut_goes_through_its_point() -> None:
    before = skirt([240.0])
    point = lanes(100.0, 300.0)[None]
    cut = SlashLine(on_edge(before, "hem", 0.5), on_edge(before, "waistline", 0.5), (point,))
    piece = slash(before, [cut], parallel([lanes(15.0)])).piece
    assert faults(piece) == []
    assert edge_length(piece, "hem")[0] == pytest.approx(edge_length(before, "hem")[0] + 15.0)


def test_a_cut_to_the_apex_closes_the_dart_as_much_as_it_opens() -> None:
    before = with_waist_dart(skirt([240.0, 300.0]))
    cut = SlashLine(on_edge(before, "hem", 0.5), AtApex("waist_dart"))
    piece = slash(before, [cut], [(lanes(8.0), SHUT)]).piece
    assert faults(piece) == []
    np.testing.assert_allclose(_gaps(piece, "hem")[0], 8.0, atol=1e-6)
    apex = apex_of(before, "waist_dart")
    assert apex is not None
    long = norm(_spot(before, cut.start) - apex)
    angles = [dart_angle(one, one.darts[0]) for one in (before, piece)]
    np.testing.assert_allclose(angles[0] - angles[1], 2.0 * np.arcsin(4.0 / long), atol=1e-9)
    np.testing.assert_allclose(area(piece) - area(before), 4.0 * np.sqrt(long**2 - 16.0), rtol=1e-9)
    with pytest.raises(Trouble, match="opens at the apex"):
        slash(before, [cut], parallel([lanes(8.0)]))


def test_the_leg_of_an_opened_dart_spreads_as_a_drape() -> None:
    # The drape of the first style: the right waist dart opened to the hem, its inner leg slashed to the left side.
    half = diamond(skirt([240.0, 300.0], long=600.0))
    whole = leave(open_to_edge(unfold(half, "centre"), "right_waist_dart", "hem"), "left_waist_dart")
    leg = "right_waist_dart.inner_leg"
    cuts = evenly(whole, leg, "left_side", 4, edge_from(whole, leg, "right_waist_dart"))
    slashed = slash(whole, cuts, hinged(cuts, "left_side", [lanes(20.0)] * 4), bridge="smooth")
    piece = slashed.piece
    assert faults(slash(whole, cuts, hinged(cuts, "left_side", [lanes(20.0)] * 4)).piece) == []
    np.testing.assert_allclose(edge_length(piece, "left_side"), edge_length(whole, "left_side"), atol=1e-8)
    assert len(piece.sides(leg)) == 1
    grown = edge_length(piece, leg) - edge_length(whole, leg)
    assert ((grown > 70.0) & (grown < 81.0)).all()
    assert (slashed.moved[leg] < 10.0).all()
    assert "trued" in piece.removed[f"{leg}.gap_k1"]
    np.testing.assert_allclose(edge_length(piece, "right_waist_dart.outer_leg"), edge_length(whole, leg), atol=1e-8)


def test_marks_points_lines_and_darts_go_with_their_panel() -> None:
    before = diamond(skirt([240.0]))
    mark = Notch(1, lanes(100.0))
    across = Side(("placement",), line(lanes(10.0, 560.0)[None], lanes(220.0, 560.0)[None]))
    before = replace(before, notches=(mark,), points={"pocket": lanes(225.0, 300.0)[None]}, lines=(across,))
    cuts = [SlashLine(on_edge(before, "hem", 0.75), on_edge(before, "waistline", 0.2))]
    piece = slash(before, cuts, hinged(cuts, "waistline", [lanes(40.0)])).piece
    side = piece.sides("side")[0]
    turned = side.turn[0]
    assert piece.ring[piece.notches[0].side] is side
    old = before.ring[1].drawn
    for a, b in ((point_at(old, mark.at), point_at(side.drawn, piece.notches[0].at)),):
        pocket = piece.points["pocket"]
        assert pocket is not None
        way = lanes(225.0, 300.0)[None] - a
        np.testing.assert_allclose(_z(pocket - b), turned * _z(way), atol=1e-9)
    np.testing.assert_array_equal(piece.holes[0].sides[0].drawn.controls, before.holes[0].sides[0].drawn.controls)
    assert len(piece.sides("placement")) == 2
    np.testing.assert_allclose(edge_length(piece, "placement"), 210.0, atol=1e-9)
    assert piece.sides("placement")[1].turn[0] == pytest.approx(turned)


def _z(points: Reals) -> np.ndarray:
    return points[..., 0] + 1j * points[..., 1]


def test_slashed_again_the_parts_are_numbered_anew_and_old_names_say_so() -> None:
    before = skirt([240.0])
    cuts = evenly(before, "hem", "waistline", 3)
    once = slash(before, cuts, hinged(cuts, "waistline", [lanes(10.0)] * 3)).piece
    cut = evenly(once, "hem", "waistline", 1)
    opening: list[Widths] = hinged(cut, "waistline", [lanes(10.0)])
    twice = slash(once, [SlashLine(OnEdge("hem", lanes(20.0)), OnEdge("waistline", lanes(20.0), "end"))], opening).piece
    assert faults(twice) == []
    assert twice.edge_names().count("hem.gap_k1") == 1
    assert "slashed again" in twice.removed["hem.gap_k3"]


@pytest.mark.parametrize("bridge", ["straight", "smooth"])
def test_names_of_cloth_are_those_of_the_sketch(bridge: str) -> None:
    for cloth in (skirt([240.0]), unfold(skirt([240.0]), "centre")):
        sketch = cloth.sketch()
        far = "side" if cloth.fold else "left_side"
        near = "centre" if cloth.fold else "right_side"
        for edge, other in (("hem", "waistline"), (near, far)):
            there, promised = evenly(cloth, edge, other, 3), evenly(sketch, edge, other, 3)
            made = slash(cloth, there, hinged(there, other, [lanes(9.0)] * 3), still=None, bridge=bridge)  # type: ignore[arg-type]  # one of two
            names = slash(sketch, promised, hinged(promised, other, [None] * 3), bridge=bridge)  # type: ignore[arg-type]  # one of two
            assert names_of(made.piece) == names_of(names.piece)
