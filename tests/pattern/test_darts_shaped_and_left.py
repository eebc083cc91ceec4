"""Darts shortened, bowed, moved along drawn lines and left in their edge: laws on random darts, several bodies at once."""

import numpy as np
import pytest
from godet.geometry.curve import bowed
from godet.geometry.lanes import norm
from godet.geometry.length import length, nearest, point_at
from godet.geometry.motion import mirror_points
from godet.geometry.path import Path, line, reverse
from godet.pattern.check import faults
from godet.pattern.darts import apex_of, leg_lengths, place_two_ended
from godet.pattern.edges import cloth_length, edge_from, edge_length
from godet.pattern.piece import HoleEnd, Piece, Reals, Trouble
from godet.pattern.pivot import Into, dart_angle, pivot
from godet.pattern.shaping import bow, shorten
from godet.pattern.unsewn import Laying, leave
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, front, lanes, names_of, same, skirt
from test_darts_on_a_piece import with_waist_dart

SIZES = [0.85, 1.0, 1.2]
law = settings(max_examples=25, deadline=None)


def legs(piece: Piece, name: str) -> tuple[Path, Path]:
    """Both legs of a dart, run from its mouth to its apex."""
    dart = piece.dart(name)
    assert dart is not None
    return piece.sides(dart.first)[0].drawn, reverse(piece.sides(dart.second)[0].drawn)


@law
@given(st.floats(-40.0, 110.0), st.floats(10.0, 50.0))
def test_shortened_it_keeps_its_mouth_and_the_piece_gains_the_sliver(by: float, width: float) -> None:
    before = with_waist_dart(skirt([240.0, 300.0]), width)
    after = shorten(before, "waist_dart", lanes(by))
    for old, new in zip(legs(before, "waist_dart"), legs(after, "waist_dart"), strict=True):
        np.testing.assert_array_equal(new.start, old.start)
    old_apex, new_apex = apex_of(before, "waist_dart"), apex_of(after, "waist_dart")
    assert old_apex is not None
    assert new_apex is not None
    np.testing.assert_allclose(norm(new_apex - old_apex), abs(by), atol=1e-9)
    np.testing.assert_allclose(area(after) - area(before), by * width / 2.0, atol=1e-5)
    inner, outer = leg_lengths(after, after.darts[0])
    np.testing.assert_allclose(inner, outer, atol=1e-9)
    same(shorten(after, "waist_dart", lanes(-by)), before, 1e-9)
    assert names_of(after) == names_of(shorten(before.sketch(), "waist_dart", None))


def test_each_end_of_a_dart_with_two_ends_is_shortened_alone() -> None:
    before = place_two_ended(
        skirt([240.0]), "waist_dart", middle=lanes(110.0, 400.0)[None], width=lanes(30.0),
        upper_apex=lanes(110.0, 520.0)[None], lower_apex=lanes(110.0, 250.0)[None], inner=lanes(-1.0, 0.0)[None],
    )  # fmt: skip
    ends: tuple[HoleEnd, HoleEnd] = ("upper", "lower")
    for end, other, level in zip(ends, reversed(ends), (500.0, 270.0), strict=True):
        after = shorten(before, "waist_dart", lanes(20.0), end)
        moved, kept = apex_of(after, "waist_dart", end), apex_of(after, "waist_dart", other)
        np.testing.assert_allclose(np.asarray(moved), [[110.0, level]], atol=1e-9)
        np.testing.assert_array_equal(np.asarray(kept), np.asarray(apex_of(before, "waist_dart", other)))
    with pytest.raises(Trouble, match="nothing is left"):
        shorten(before, "waist_dart", lanes(120.0))


@law
@given(st.floats(-3.7, 25.0).filter(lambda by: abs(by) > 0.01))
def test_bowed_legs_are_mirror_images_of_the_depth_asked(by: float) -> None:
    before = with_waist_dart(skirt([240.0, 300.0]), 30.0)
    after = bow(before, "waist_dart", lanes(by))
    apex = apex_of(before, "waist_dart")
    assert apex is not None
    first, second = legs(after, "waist_dart")
    middle = (first.start + second.start) / 2.0
    np.testing.assert_allclose(mirror_points(apex, middle, first.controls), second.controls, atol=1e-8)
    np.testing.assert_allclose(length(first), length(second), atol=1e-9)
    centre = point_at(first, length(first) / 2.0)
    np.testing.assert_allclose(norm(centre - (first.start + apex) / 2.0), abs(by), atol=1e-6)
    assert (np.sign(area(before) - area(after)) == np.sign(by)).all()  # out into the cloth it takes in more
    assert faults(after) == []
    same(bow(after, "waist_dart", lanes(0.0)), before, 1e-9)


def test_bowed_darts_do_not_pivot_and_are_not_bowed_into_each_other() -> None:
    before = front()
    bent = bow(before, "bust_dart", lanes(3.0))
    end = edge_from(before, "shoulder", "neckline")
    with pytest.raises(Trouble, match="cannot close flat: its legs are bowed"):
        pivot(bent, "bust_dart", [Into("new_dart", "shoulder", lanes(50.0), None, end)])
    straight = bow(bent, "bust_dart", lanes(0.0))
    assert "new_dart" in pivot(straight, "bust_dart", [Into("new_dart", "shoulder", lanes(50.0), None, end)]).dart_names()
    with pytest.raises(Trouble, match="run into each other"):
        bow(before, "bust_dart", lanes(-20.0))
    waist = with_waist_dart(skirt([240.0]), 30.0)  # its legs open by 7.1 degrees each, which 3.8 mm bring together at the apex
    assert faults(bow(waist, "waist_dart", lanes(-3.7))) == []
    with pytest.raises(Trouble, match="run into each other"):
        bow(waist, "waist_dart", lanes(-3.8))
    with pytest.raises(Trouble, match="bowed too far"):
        bow(before, "bust_dart", lanes(90.0))


def drawn_to(piece: Piece, edge: str, share: float, depth: float) -> Path:
    apex, side = apex_of(piece, "bust_dart"), piece.sides(edge)[0].drawn
    assert apex is not None
    end = point_at(side, length(side) * share)
    return bowed(apex, end, lanes(depth)) if depth else line(apex, end)


@law
@given(st.floats(0.1, 0.9), st.sampled_from(["side", "waistline", "shoulder"]), st.sampled_from([0.0, 6.0, -9.0]))
def test_moved_along_a_drawn_line_both_legs_run_like_it_and_it_moves_on_from_there(
    share: float, edge: str, depth: float
) -> None:
    before = front(SIZES)
    drawn = drawn_to(before, edge, share, depth)
    after = pivot(before, "bust_dart", [Into("new_dart", edge, None, None, drawn=drawn)])
    for leg in legs(after, "new_dart"):
        np.testing.assert_allclose(length(leg), length(drawn), atol=1e-6)
        half = point_at(leg, length(leg) / 2.0)
        np.testing.assert_allclose(norm(half - (leg.start + leg.end) / 2.0), abs(depth), atol=1e-6)
    np.testing.assert_allclose(dart_angle(after, after.darts[0]), dart_angle(before, before.darts[0]), atol=1e-9)
    np.testing.assert_allclose(area(after), area(before), rtol=1e-9)
    assert faults(after) == []
    armhole, lower = edge_length(before, "armhole"), length(before.sides("armhole")[0].drawn)
    end = edge_from(after, "armhole", "shoulder")
    back = pivot(after, "new_dart", [Into("bust_dart", "armhole", armhole - lower, None, end)])
    np.testing.assert_allclose(area(back), area(before), rtol=1e-9)
    assert names_of(after) == names_of(pivot(before.sketch(), "bust_dart", [Into("new_dart", edge, None, None)]))


def test_a_line_that_is_not_from_apex_to_edge_is_refused() -> None:
    before = front()
    drawn = drawn_to(before, "side", 0.5, 0.0)
    for path, said in (
        (line(drawn.start + 3.0, drawn.end), "does not start at the apex"),
        (line(drawn.start, drawn.start + 0.9 * (drawn.end - drawn.start)), "does not meet `side`"),
    ):
        with pytest.raises(Trouble, match=said):
            pivot(before, "bust_dart", [Into("new_dart", "side", None, None, drawn=path)])


EDGES = ("shoulder", "neckline", "waistline", "side")


@law
@given(st.permutations(EDGES), st.lists(st.floats(0.15, 0.85), min_size=4, max_size=4))
def test_a_dart_moved_round_all_edges_is_the_dart_again(edges: list[str], shares: list[float]) -> None:
    before = front(SIZES)
    home, total = length(before.sides("armhole")[0].drawn), edge_length(before, "armhole")
    piece, name = before, "bust_dart"
    for edge, share in zip(edges, shares, strict=True):
        end = edge_from(piece, edge, piece.ring[piece.run(edge)[0] - 1].edge)
        new = f"{edge}_dart"
        piece = pivot(piece, name, [Into(new, edge, edge_length(piece, edge) * share, None, end)])
        name = new
    back = pivot(piece, name, [Into("bust_dart", "armhole", total - home, None, edge_from(piece, "armhole", "shoulder"))])
    assert back.dart_names() == ("bust_dart",)
    for side in before.ring:
        ours, theirs = back.sides(side.edge), before.sides(side.edge)
        np.testing.assert_allclose(ours[0].drawn.start, theirs[0].drawn.start, atol=1e-7)
        np.testing.assert_allclose(ours[-1].drawn.end, theirs[-1].drawn.end, atol=1e-7)
        np.testing.assert_allclose(edge_length(back, side.edge), edge_length(before, side.edge), atol=1e-7)
    assert set(back.removed) == {
        part for edge in EDGES for part in (f"{edge}_dart", f"{edge}_dart.inner_leg", f"{edge}_dart.outer_leg")
    }


@law
@given(st.floats(10.0, 60.0), st.floats(60.0, 180.0))
def test_gathers_leave_the_dart_in_a_smooth_edge_and_tell_how_much(width: float, place: float) -> None:
    before = with_waist_dart(skirt([260.0, 300.0]), width, place)
    after = leave(before, "waist_dart", "gathers")
    before_it, bridge, after_it = after.sides("waistline")
    for joint in ((before_it, bridge), (bridge, after_it)):
        arriving, leaving = joint[0].drawn.controls[:, -1, 3] - joint[0].drawn.controls[:, -1, 2], (
            joint[1].drawn.controls[:, 0, 1] - joint[1].drawn.controls[:, 0, 0]
        )
        turn = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
        np.testing.assert_allclose(turn / norm(arriving) / norm(leaving), 0.0, atol=1e-9)
    told = after.told[-1]
    np.testing.assert_allclose(told.lengths["before"], edge_length(before, "waistline"))
    np.testing.assert_allclose(told.lengths["after"], edge_length(after, "waistline"))
    assert (told.ratios["ratio"] > 1.0).all()
    assert faults(after) == []
    assert names_of(after) == names_of(leave(before.sketch(), "waist_dart", "gathers"))


def folded_back(piece: Piece, name: str) -> tuple[Reals, Reals, Reals]:
    """The two parts of what a pleat folds away, and its first leg's mouth."""
    first, second = (piece.ring[i] for i in range(len(piece.ring)) if f"{name}.underlay" in piece.ring[i].names)
    return first.drawn.start, first.drawn.end, second.drawn.end


@law
@given(
    st.floats(10.0, 40.0),
    st.sampled_from([
        Laying("pleat", "inner"),
        Laying("pleat", "outer", True, lanes(40.0)),
        Laying("tuck", "inner", True, lanes(50.0)),
        Laying("tuck", "outer", True, lanes(50.0)),
    ]),
)
def test_a_dart_laid_in_a_pleat_lies_on_its_edge_when_it_is_folded(width: float, laying: Laying) -> None:
    before = with_waist_dart(skirt([260.0, 300.0]), width)
    after = leave(before, "waist_dart", laying.fashion, laying)
    np.testing.assert_allclose(edge_length(after, "waistline"), edge_length(before, "waistline"))  # sewn as before
    under = edge_length(after, "waist_dart.underlay")
    np.testing.assert_allclose(cloth_length(after, "waistline"), edge_length(before, "waistline") + under)
    np.testing.assert_allclose(after.told[-1].lengths["cloth"], cloth_length(after, "waistline"))
    a, peak, b = folded_back(after, "waist_dart")
    apex = apex_of(before, "waist_dart")
    assert apex is not None
    np.testing.assert_allclose(norm(a - apex), norm(b - apex), atol=1e-9)
    np.testing.assert_allclose(norm(a - peak), norm(b - peak), atol=1e-8)  # the peak is on the middle of the dart
    dart = before.dart("waist_dart")
    assert dart is not None
    on_first = dart.first.endswith(laying.toward + "_leg")
    neighbour = after.sides("waistline")[0 if on_first else 1].drawn
    # Folded over its leg the peak comes to lie on the edge it is pressed onto (the sewing line, so nothing sticks out).
    mirrored = mirror_points(apex, a if on_first else b, peak)
    assert nearest(neighbour, mirrored)[1].max() < 0.5
    assert len(after.notches) == 2
    assert faults(after) == []
    assert names_of(after) == names_of(leave(before.sketch(), "waist_dart", laying.fashion, laying))
    assert {after.signs[side.names[0]].kind for side in after.lines} <= {"fold", "placement"}


@law
@given(st.floats(10.0, 40.0), st.floats(0.0, 60.0))
def test_an_inverted_tuck_lies_on_the_edge_on_both_sides_of_its_dart(width: float, sag: float) -> None:
    before = with_waist_dart(skirt([260.0, 300.0], sag=sag), width)
    laying = Laying("inverted_tuck", "inner", True, lanes(50.0))
    after = leave(before, "waist_dart", "inverted_tuck", laying)
    np.testing.assert_allclose(edge_length(after, "waistline"), edge_length(before, "waistline"))  # sewn as before
    under = [side.drawn for side in after.ring if "waist_dart.underlay" in side.names]
    apex = apex_of(before, "waist_dart")
    assert apex is not None
    assert len(under) == 4
    edge = [side.drawn for side in after.sides("waistline")]
    pairs = ((under[0].start, under[0].end, edge[0]), (under[3].end, under[3].start, edge[-1]))
    for mouth, inner_fold, neighbour in pairs:  # folded over its leg, each inner fold comes to lie on the edge beside that
        flat = mirror_points(apex, mouth, inner_fold)
        assert nearest(neighbour, flat)[1].max() < 0.5
    middle = under[1].end
    np.testing.assert_allclose(norm(middle - under[0].start), norm(middle - under[3].end), atol=1e-6)
    ends = {side.names[0]: side.drawn.start for side in after.lines}
    np.testing.assert_allclose(ends["waist_dart.placement"], middle, atol=1e-9)
    folds = norm(ends["waist_dart.fold"] - ends["waist_dart.far_fold"])
    np.testing.assert_allclose(folds, norm(under[0].start - under[3].end), atol=1e-9)
    assert faults(after) == []
    assert names_of(after) == names_of(leave(before.sketch(), "waist_dart", "inverted_tuck", laying))


def test_what_cannot_be_laid_is_refused() -> None:
    piece = with_waist_dart(skirt([240.0]), 30.0)
    with pytest.raises(Trouble, match="sewn down to the apex"):
        leave(piece, "waist_dart", "pleat", Laying("pleat", "inner", True, lanes(200.0)))
    near_side = with_waist_dart(skirt([240.0]), 60.0, at=202.0)
    with pytest.raises(Trouble, match="laid beyond the end of `waistline`"):
        leave(near_side, "waist_dart", "pleat", Laying("pleat", "outer"))
    hole = place_two_ended(
        skirt([240.0]), "d", middle=lanes(110.0, 400.0)[None], width=lanes(30.0),
        upper_apex=lanes(110.0, 520.0)[None], lower_apex=lanes(110.0, 250.0)[None], inner=lanes(-1.0, 0.0)[None],
    )  # fmt: skip
    with pytest.raises(Trouble, match="open at both ends"):
        leave(hole, "d", "gathers")


def test_the_folded_cloth_is_that_of_the_neighbour() -> None:
    """With a bowed waist the parts folded away are the mirror image and the turned copy of the edge they lie on."""
    before = with_waist_dart(skirt([240.0], sag=60.0), 30.0)
    after = leave(before, "waist_dart", "pleat", Laying("pleat", "inner"))
    first, second = (side.drawn for side in after.ring if "waist_dart.underlay" in side.names)
    assert first.straight == (False,)
    apex = apex_of(before, "waist_dart")
    assert apex is not None
    # the waistline runs from side to centre: the inner leg is the second one, and its half is the second part
    over = Path(mirror_points(apex, second.end, second.controls), second.straight)
    neighbour = after.sides("waistline")[1].drawn
    np.testing.assert_allclose(over.end, neighbour.start, atol=1e-9)
    np.testing.assert_allclose(length(over), length(first), atol=1e-9)
