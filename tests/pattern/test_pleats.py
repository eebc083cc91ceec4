"""The laws of pleats, on random pieces and several bodies at once: folded by the lines drawn, the piece is the one before."""

from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from godet.finish.finished import finished
from godet.finish.notching import notch_strokes
from godet.geometry.length import nearest
from godet.geometry.motion import mirror_points
from godet.geometry.path import flatten_fixed
from godet.pattern.check import faults
from godet.pattern.edges import cloth_length, edge_length, rename
from godet.pattern.piece import Allowance, Piece, Reals, Trouble
from godet.pattern.pleating import Fashion, Pleating
from godet.pattern.pleats import pleat
from godet.pattern.ring import End
from godet.pattern.slash import OnEdge, SlashLine, evenly, parallel, slash
from godet.pattern.truing import true_edge
from godet.pattern.unfold import mirror, unfold
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, lanes, names_of, skirt

FOLDS: dict[Fashion, tuple[str, ...]] = {
    "knife": ("fold", "inner_fold"),
    "tuck": ("fold",),
    "inverted": ("fold", "inner_fold", "far_inner_fold", "far_fold"),
    "box": ("inner_fold", "fold", "far_fold", "far_inner_fold"),
}
"""The lines in which the cloth turns back, of pleats that lie flat; a tuck turns at its fold, and where it is sewn on the side
it is laid to."""

kinds = st.sampled_from(sorted(FOLDS))
bodies = st.lists(st.floats(300.0, 420.0), min_size=1, max_size=3)


def how(fashion: Fashion, near: float, far: float, toward: str = "side", free: str | None = None) -> Pleating:
    laid = toward if fashion in ("knife", "tuck") else None
    return Pleating(fashion, (lanes(near), lanes(far)), laid, free=free, stitched=fashion == "tuck")


def _folds(piece: Piece, fashion: Fashion, count: int, end: int, toward: str) -> list[tuple[Reals, Reals]]:
    """Every fold line, the one nearest to the centre first as they stand at the waist (0) or at the hem (-1)."""
    found = []
    for k in range(1, count + 1):
        names = [f"pleat_k{k}.{name}" for name in FOLDS[fashion]]
        if fashion == "tuck":
            sewn = [f"pleat_k{k}.{name}" for name in ("stitching", "far_stitching")]
            sewn.sort(key=lambda name: float(_ends(piece, name)[0][0, 0]))
            names.append(sewn[-1 if toward == "side" else 0])
        found += [_ends(piece, name) for name in names]
    return sorted(found, key=lambda ends: float(ends[end][0, 0]))


def _ends(piece: Piece, name: str) -> tuple[Reals, Reals]:
    (line,) = piece.sides(name)
    return line.drawn.start, line.drawn.end


def _folded(points: Reals, folds: Sequence[tuple[Reals, Reals]]) -> Reals:
    """Points (L, n, 2) after all pleats between them and the centre are folded, the furthest first."""
    for one, other in reversed(folds):
        points = mirror_points(one, other, points)
    return points


each = (
    bodies,
    kinds,
    st.integers(1, 3),
    st.floats(4.0, 16.0),
    st.floats(0.0, 1.0),
    st.sampled_from(["side", "centre"]),
    st.sampled_from(["start", "end"]),
)


@settings(max_examples=40, deadline=None)
@given(*each)
def test_folded_by_its_lines_it_is_the_piece_before(
    sizes: list[float], fashion: Fashion, count: int, depth: float, taper: float, toward: str, end: End
) -> None:
    before = skirt(sizes)
    far = 0.0 if depth * taper < 1.0 else depth * taper
    piece = pleat(before, evenly(before, "waistline", "hem", count, end), how(fashion, depth, far, toward), still="centre")
    assert faults(piece) == []
    (side,), (was,) = piece.sides("side"), before.sides("side")
    folded = _folded(side.drawn.controls[:, 0], _folds(piece, fashion, count, 0, toward))
    np.testing.assert_allclose(folded, was.drawn.controls[:, 0] + 0.0 * folded, atol=1e-6)
    for edge in ("waistline", "hem"):
        np.testing.assert_allclose(edge_length(piece, edge), edge_length(before, edge), atol=1e-6)


@settings(max_examples=30, deadline=None)
@given(*each)
def test_what_is_folded_away_lies_on_the_edge_when_folded(
    sizes: list[float], fashion: Fashion, count: int, depth: float, taper: float, toward: str, end: End
) -> None:
    before = skirt(sizes)
    far = 0.0 if depth * taper < 1.0 else depth * taper
    piece = pleat(before, evenly(before, "waistline", "hem", count, end), how(fashion, depth, far, toward), still="centre")
    for edge, at in (("waistline", 0), ("hem", -1)):
        folds = _folds(piece, fashion, count, 0, toward)  # where a pleat has come to nothing, all its folds meet in a point
        (whole,) = before.sides(edge)
        hidden = [side for side in piece.ring if edge in side.folded]
        seen = piece.sides(edge)
        assert len(hidden) == (0 if edge == "hem" and far == 0.0 else count * (4 if fashion in ("box", "inverted") else 2))
        for side in (*hidden, *seen):
            points = flatten_fixed(side.drawn, 4)
            middle = float(points[0, :, 0].mean())
            inside = [fold for fold in folds if float(fold[at][0, 0]) < middle]
            flat = _folded(points, inside)
            under = whole.drawn.take(np.repeat(np.arange(whole.drawn.lanes), flat.shape[1]))
            assert float(nearest(under, flat.reshape(-1, 2))[1].max()) < 1e-6


@settings(max_examples=20, deadline=None)
@given(
    bodies,
    st.sampled_from([*FOLDS, "accordion"]),
    st.integers(2, 4),
    st.floats(4.0, 9.0),
    st.sampled_from([None, "hem", "waistline"]),
)
def test_the_names_are_those_the_sketch_promises(
    sizes: list[float], fashion: Fashion, count: int, depth: float, free: str | None
) -> None:
    before = skirt(sizes)
    told = how(fashion, depth, depth, free=free)
    piece = pleat(before, evenly(before, "waistline", "hem", count), told)
    sketch = pleat(before.sketch(), evenly(before.sketch(), "waistline", "hem", count), told)
    assert names_of(piece) == names_of(sketch)
    assert set(piece.signs) == set(sketch.signs)
    assert {side.folded for side in piece.ring} == {side.folded for side in sketch.ring}
    assert names_of(mirror(piece)) == names_of(mirror(sketch))
    assert names_of(unfold(piece, "centre")) == names_of(unfold(sketch, "centre"))


def test_where_pleats_hang_free_the_edge_has_all_its_cloth() -> None:
    before = skirt([300.0, 400.0])
    piece = pleat(before, evenly(before, "waistline", "hem", 2), how("knife", 20.0, 20.0, free="hem"))
    np.testing.assert_allclose(edge_length(piece, "waistline"), edge_length(before, "waistline"), atol=1e-8)
    assert (edge_length(piece, "hem") - edge_length(before, "hem") >= 80.0).all()
    np.testing.assert_array_equal(cloth_length(piece, "hem"), edge_length(piece, "hem"))


def test_on_a_straight_edge_square_to_it_a_pleat_takes_two_or_four_depths() -> None:
    before = skirt([300.0], sag=0.0)
    takes: dict[Fashion, float] = {"knife": 40.0, "tuck": 40.0, "box": 80.0, "inverted": 80.0}
    for fashion, taken in takes.items():
        piece = pleat(before, evenly(before, "waistline", "hem", 1), how(fashion, 20.0, 20.0))
        grown = cloth_length(piece, "waistline") - edge_length(before, "waistline")
        np.testing.assert_allclose(grown, taken, atol=0.2)  # the cut leans a little: the hem is wider than the waist


def test_it_tells_what_each_edge_was_and_the_cloth_in_it() -> None:
    before = skirt([300.0])
    piece = pleat(before, evenly(before, "waistline", "hem", 2), how("box", 10.0, 10.0))
    assert [(told.what, told.edge) for told in piece.told] == [("box pleats", "waistline"), ("box pleats", "hem")]
    waist = piece.told[0]
    np.testing.assert_allclose(waist.lengths["after"], waist.lengths["before"])
    np.testing.assert_allclose(waist.ratios["ratio"], waist.lengths["cloth"] / waist.lengths["before"])


def test_it_survives_other_operations() -> None:
    before = skirt([300.0, 400.0])
    piece = pleat(before, evenly(before, "waistline", "hem", 2), how("knife", 15.0, 15.0))
    sewn, cloth = edge_length(piece, "waistline"), cloth_length(piece, "waistline")
    whole = unfold(piece, "centre")
    np.testing.assert_allclose(edge_length(whole, "waistline"), 2 * sewn)
    np.testing.assert_allclose(cloth_length(whole, "left_waistline"), cloth)
    assert whole.signs["left_pleat_k1.fold"].toward == "left_pleat_k1.placement"
    renamed = rename(piece, {"waistline": "top"})
    np.testing.assert_allclose(cloth_length(renamed, "top"), cloth)
    wider = slash(piece, evenly(piece, "side", "centre", 1), parallel([lanes(50.0)])).piece
    np.testing.assert_allclose(edge_length(wider, "waistline"), sewn)
    again = pleat(piece, evenly(piece, "waistline", "hem", 1), replace(how("box", 5.0, 5.0), called="more"))
    np.testing.assert_allclose(edge_length(again, "waistline"), sewn, atol=1e-6)
    assert faults(again) == []


def test_its_cut_edge_is_as_deep_over_the_pleats() -> None:
    before = skirt([300.0, 400.0])
    piece = pleat(before, evenly(before, "waistline", "hem", 2), how("knife", 15.0, 15.0))
    stated = MappingProxyType({"seams": Allowance(lanes(10.0)), "waistline": Allowance(lanes(25.0))})
    cloth = finished(replace(piece, finish=replace(piece.finish, allowances=stated)))
    widths = [width for side, width in zip(piece.ring, cloth.widths, strict=True) if "waistline" in side.folded]
    assert widths
    assert all((width == 25.0).all() for width in widths)


@settings(max_examples=15, deadline=None)
@given(kinds, st.floats(4.0, 16.0), st.floats(0.3, 1.0), st.sampled_from(["side", "centre"]))
def test_its_cut_edge_lies_on_that_of_the_flat_piece_when_folded(
    fashion: Fashion, depth: float, taper: float, toward: str
) -> None:
    """Heads of pleats: trimmed as they lie folded, so that no layer sticks out of the allowance, and none falls short."""
    before = skirt([350.0], sag=30.0)
    stated = MappingProxyType({"seams": Allowance(lanes(12.0))})
    flat = replace(before, finish=replace(before.finish, allowances=stated))
    piece = pleat(flat, evenly(flat, "waistline", "hem", 2), how(fashion, depth, depth * taper, toward), still="centre")
    folds, cut = _folds(piece, fashion, 2, 0, toward), finished(piece)
    (whole,) = finished(flat).sides[[side.edge for side in flat.ring].index("waistline")]  # type: ignore[misc]
    line = shapely.LineString(whole)
    heads = [points for side, points in zip(piece.ring, cut.sides, strict=True) if "waistline" in side.folded]
    assert heads
    for points in heads:
        assert points is not None
        middle = float(points[0, :, 0].mean())
        lying = _folded(points, [fold for fold in folds if float(fold[0][0, 0]) < middle])
        assert shapely.distance(line, shapely.points(lying[0])).max() < 0.05


@settings(max_examples=15, deadline=None)
@given(kinds, st.floats(4.0, 16.0), st.sampled_from(["side", "centre"]))
def test_its_notches_are_snipped_from_the_cut_edge(fashion: Fashion, depth: float, toward: str) -> None:
    """A fold ends in a corner of the cut edge: there is the notch, not beside it nor short of it."""
    before = skirt([350.0], sag=30.0)
    stated = MappingProxyType({"seams": Allowance(lanes(12.0))})
    flat = replace(before, finish=replace(before.finish, allowances=stated))
    piece = pleat(flat, evenly(flat, "waistline", "hem", 2), how(fashion, depth, depth, toward), still="centre")
    cloth = finished(piece)
    ring = shapely.linearrings(cloth.cut[0])
    for notch in piece.notches:
        ((outer, _),) = notch_strokes(cloth, notch)
        assert shapely.distance(ring, shapely.points(outer)) < 0.02


REFUSED = [
    (Pleating("knife", (None, None)), "to which side the knife folds point is not said"),
    (Pleating("box", (None, None), "side"), "laid to no one side"),
    (Pleating("knife", (None, None), "hem"), "both sides of the pleats"),
    (Pleating("box", (None, None), free="side"), "do not reach `side`"),
]


@pytest.mark.parametrize(("told", "why"), REFUSED, ids=[why for _, why in REFUSED])
def test_what_cannot_be_meant_is_refused_without_a_body(told: Pleating, why: str) -> None:
    sketch = skirt([300.0]).sketch()
    with pytest.raises(Trouble, match=why):
        pleat(sketch, evenly(sketch, "waistline", "hem", 2), told)


def test_two_sets_of_pleats_have_names_of_their_own() -> None:
    sketch = skirt([300.0]).sketch()
    told = Pleating("box", (None, None))
    once = pleat(sketch, evenly(sketch, "waistline", "hem", 2), told)
    with pytest.raises(Trouble, match="pleats called `pleat` already"):
        pleat(once, evenly(once, "waistline", "hem", 2), told)


def test_box_pleats_do_not_lie_over_each_other_nor_beyond_the_edge() -> None:
    before = skirt([300.0, 900.0])
    with pytest.raises(Trouble, match="lie over each other") as found:
        pleat(before, evenly(before, "waistline", "hem", 2), how("box", 60.0, 60.0))
    assert found.value.lanes is not None
    assert found.value.lanes.tolist() == [True, False]
    with pytest.raises(Trouble, match="beyond the end"):
        pleat(before.take(np.array([0])), evenly(before.take(np.array([0])), "waistline", "hem", 1), how("box", 170.0, 170.0))


def test_pleats_are_sewn_down_so_far() -> None:
    before = skirt([300.0])
    told = replace(how("inverted", 20.0, 20.0), stitched=True, sewn=lanes(120.0))
    piece = pleat(before, evenly(before, "waistline", "hem", 1), told)
    for name in ("pleat_k1.stitching", "pleat_k1.far_stitching"):
        np.testing.assert_allclose(edge_length(piece, name), 120.0)
    with pytest.raises(Trouble, match="sewn down further than it is long"):
        pleat(before, evenly(before, "waistline", "hem", 1), replace(told, sewn=lanes(900.0)))


@pytest.mark.parametrize(("toward", "laid_over"), [("side", False), ("centre", True)])
def test_a_tuck_points_to_the_side_it_is_laid_to(toward: str, laid_over: bool) -> None:
    """An arrow leads from its fold to the stitching over which it lies: without it the sewer cannot know."""
    before = skirt([300.0])
    piece = pleat(before, evenly(before, "waistline", "hem", 2), how("tuck", 20.0, 20.0, toward))
    for k in (1, 2):
        fold, _ = _ends(piece, f"pleat_k{k}.fold")
        tip, _ = _ends(piece, piece.signs[f"pleat_k{k}.fold"].toward)
        assert (tip[0, 0] < fold[0, 0]) == laid_over


def test_a_pleat_come_to_nothing_has_no_notch_there_and_promises_no_underlay() -> None:
    before = skirt([300.0, 400.0])
    piece = pleat(before, evenly(before, "waistline", "hem", 2), how("knife", 20.0, 0.0))
    told = Pleating("knife", (None, None), "side", tapered=True)
    sketch = pleat(before.sketch(), evenly(before.sketch(), "waistline", "hem", 2), told)
    assert len(piece.notches) == 4
    assert all("hem" not in piece.ring[notch.side].names for notch in piece.notches)
    lacking = set(sketch.edge_names()) - set(piece.edge_names())
    assert lacking == {"pleat_k1.far_underlay", "pleat_k2.far_underlay"}
    assert lacking <= sketch.uncertain


def test_pleats_are_deeper_and_deeper() -> None:
    before = skirt([300.0], sag=0.0)
    told = replace(how("knife", 10.0, 12.0), last=(lanes(30.0), lanes(18.0)))
    piece = pleat(before, evenly(before, "waistline", "hem", 3), told)
    for name, depths in (("underlay", (10.0, 20.0, 30.0)), ("far_underlay", (12.0, 15.0, 18.0))):
        found = [float(np.linalg.norm(_across(piece, f"pleat_k{k}.{name}"))) for k in (1, 2, 3)]
        np.testing.assert_allclose(found, 2 * np.array(depths), rtol=1e-3)  # the cuts lean a little


def _across(piece: Piece, underlay: str) -> Reals:
    sides = piece.sides(underlay)
    return sides[-1].drawn.end - sides[0].drawn.start


def test_where_an_edge_ends_nothing_can_be_folded_on() -> None:
    """A pleat in the middle of a whole piece, drafted on one half of an edge that goes on under another name."""
    before = skirt([300.0])
    cut = SlashLine(OnEdge("waistline", lanes(0.0)), OnEdge("hem", lanes(0.0), "end"))
    with pytest.raises(Trouble, match="at the very end of `waistline`"):
        pleat(before, [cut], how("box", 20.0, 20.0))


def test_a_pleated_edge_is_not_trued() -> None:
    before = skirt([300.0])
    piece = pleat(before, evenly(before, "waistline", "hem", 1), how("box", 20.0, 20.0))
    with pytest.raises(Trouble, match="broken by a dart or a pleat"):
        true_edge(piece, "waistline")
    assert area(piece) > area(before)
