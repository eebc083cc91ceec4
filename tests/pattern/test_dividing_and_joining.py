"""Laws of dividing and joining on random places of the drafts, several bodies at once."""

import itertools

import numpy as np
import pytest
from godet.geometry.lanes import norm
from godet.geometry.length import length, nearest, point_at
from godet.geometry.path import Path, chain, end_direction, line, polyline, start_direction
from godet.pattern.check import faults
from godet.pattern.darts import apex_of, leg_lengths, move_apex, place_dart, place_two_ended
from godet.pattern.edges import edge_from, edge_length, rename
from godet.pattern.join import join
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.pivot import Into, dart_angle, pivot
from godet.pattern.routes import divide, divide_through
from godet.pattern.shaping import shorten
from godet.pattern.unfold import mirror
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pattern_drafts import area, front, lanes, names_of, same, skirt

SIZES = [0.85, 1.0, 1.2]
shares = st.floats(0.05, 0.95)
law = settings(max_examples=25, deadline=None)


def at(piece: Piece, edge: str, share: float, side: int = 0) -> Reals:
    path = piece.sides(edge)[side].drawn
    return point_at(path, length(path) * share)


def both(piece: Piece, drawn: Path | None, ends: tuple[str, str], keep: tuple[str, str], **more: object) -> list[Piece]:
    return [divide(piece, drawn, ends, keep=one, called="cut", **more) for one in keep]  # type: ignore[arg-type]  # names


def corners(piece: Piece) -> Reals:
    """The corners of the ring (L, n, 2), from the lowest of the first lane on."""
    found = np.stack([side.drawn.start for side in piece.ring], axis=1)
    return np.roll(found, -int(np.argmin(found[0] @ np.array([1e-3, 1.0]))), axis=1)


@law
@given(shares, shares)
def test_the_parts_make_up_the_whole_and_sew_to_each_other(left: float, right: float) -> None:
    whole = skirt([240.0, 260.0, 300.0])
    drawn = line(at(whole, "centre", left), at(whole, "side", right))
    upper, lower = both(whole, drawn, ("centre", "side"), ("waistline", "hem"))
    np.testing.assert_allclose(area(upper) + area(lower), area(whole), rtol=1e-12)
    np.testing.assert_allclose(edge_length(upper, "cut"), edge_length(lower, "cut"), atol=1e-9)
    for edge in ("centre", "side"):
        np.testing.assert_allclose(edge_length(upper, edge) + edge_length(lower, edge), edge_length(whole, edge), atol=1e-8)
    for part, keep in ((upper, "waistline"), (lower, "hem")):
        assert faults(part) == []
        assert part.fold == "centre"
        assert names_of(part) == names_of(divide(whole.sketch(), None, ("centre", "side"), keep=keep, called="cut"))
    assert "not on this side" in upper.removed["hem"]


@law
@given(shares, shares, st.booleans())
def test_divided_and_joined_is_nothing(left: float, right: float, turned: bool) -> None:
    whole = skirt([240.0, 260.0, 300.0])
    drawn = line(at(whole, "side", right), at(whole, "centre", left))
    upper, lower = both(whole, drawn, ("centre", "side"), ("waistline", "hem"))
    one, other = (lower, upper) if turned else (upper, lower)
    again = join(one, other, "cut", "cut", called=("one", "other"))
    np.testing.assert_allclose(area(again), area(whole), rtol=1e-12)
    for edge in ("hem", "side", "waistline", "centre"):
        np.testing.assert_allclose(edge_length(again, edge), edge_length(whole, edge), atol=1e-8)
    for corner in np.moveaxis(corners(whole), 1, 0):
        assert norm(corners(again) - corner[:, None]).min(axis=1).max() < 1e-8
    assert [side.names[0] for side in again.lines] == ["cut"]
    assert {"side.of_one", "side.of_other", "centre.of_one"} <= set(again.edge_names())
    assert again.fold == "centre"
    assert faults(again) == []
    assert names_of(again) == names_of(join(one.sketch(), other.sketch(), "cut", "cut", called=("one", "other")))


@law
@given(st.floats(200.0, 320.0), st.floats(5.0, 60.0))
def test_names_in_both_pieces_are_told_apart(wide: float, sag: float) -> None:
    one = skirt([wide, wide * 1.1, 300.0], sag=sag)
    other = rename(one, {"side": "end"})
    again = join(one, mirror(other), "side", "end", naming="far")
    np.testing.assert_allclose(area(again), 2.0 * area(one), rtol=1e-9)
    np.testing.assert_allclose(edge_length(again, "far_centre"), edge_length(one, "centre"), atol=1e-9)
    for edge in ("hem", "waistline"):  # they run on over the side
        np.testing.assert_allclose(edge_length(again, edge), 2.0 * edge_length(one, edge), atol=1e-8)
    assert names_of(again) == names_of(join(one.sketch(), mirror(other).sketch(), "side", "end", naming="far"))
    with pytest.raises(Trouble, match="there is a `far_centre` already"):
        join(rename(one, {"hem": "far_centre"}), mirror(other), "side", "end", naming="far")


def with_shoulder_dart(sizes: list[float], cloth: bool = True) -> Piece:
    before = front(sizes, cloth=cloth)
    end = edge_from(before, "shoulder", "neckline")
    halfway = edge_length(before, "shoulder") / 2.0 if cloth else None
    return pivot(before, "bust_dart", [Into("shoulder_dart", "shoulder", halfway, None, end)])


def yoke_line(piece: Piece, far: float, left: float, right: float) -> Path:
    """From armhole to centre, across the shoulder dart as far from the apex on both legs."""
    dart = piece.dart("shoulder_dart")
    assert dart is not None
    legs = {name.rpartition(".")[2]: piece.sides(name)[0].drawn for name in (dart.first, dart.second)}
    apex = apex_of(piece, "shoulder_dart")
    assert apex is not None
    spots = []
    for leg in ("outer_leg", "inner_leg"):
        mouth = np.where((norm(legs[leg].start - apex) < 1e-6)[:, None], legs[leg].end, legs[leg].start)
        spots.append(apex + far * (mouth - apex))
    whole = [at(piece, "armhole", right, -1), *spots, at(piece, "centre", left)]
    return polyline(np.stack(np.broadcast_arrays(*whole), axis=1))


@law
@given(st.floats(0.3, 0.7), st.floats(0.02, 0.15), st.floats(0.1, 0.9))
def test_a_dart_the_yoke_line_crosses_is_closed_on_the_yoke_and_shorter_on_the_rest(
    far: float, left: float, right: float
) -> None:
    whole = with_shoulder_dart(SIZES)
    old = whole.dart("shoulder_dart")
    assert old is not None
    drawn = yoke_line(whole, far, left, right)
    yoke, rest = both(whole, drawn, ("armhole", "centre"), ("neckline", "waistline"), across=["shoulder_dart"])
    np.testing.assert_allclose(area(yoke) + area(rest), area(whole), rtol=1e-9)  # panels are turned, never stretched
    np.testing.assert_allclose(edge_length(yoke, "shoulder"), edge_length(whole, "shoulder"), atol=1e-8)
    np.testing.assert_allclose(edge_length(yoke, "cut"), edge_length(rest, "cut"), atol=1e-8)
    assert yoke.dart_names() == ()
    assert "shoulder_dart.closed" in yoke.points
    (dart,) = rest.darts
    assert dart.edge == "cut"
    np.testing.assert_allclose(dart_angle(rest, dart), dart_angle(whole, old), atol=1e-12)
    for leg in leg_lengths(rest, dart):
        np.testing.assert_allclose(leg, far * leg_lengths(whole, old)[0], atol=1e-8)
    np.testing.assert_array_equal(  # the fold stays where it was
        yoke.sides("centre")[0].drawn.controls[..., 0], np.zeros_like(yoke.sides("centre")[0].drawn.controls[..., 0])
    )
    assert faults(yoke) == []
    assert faults(rest) == []
    for part, keep in ((yoke, "neckline"), (rest, "waistline")):
        sketch = divide(
            whole.sketch(), None, ("armhole", "centre"), keep=keep, called="cut", across=["shoulder_dart"]
        )
        assert names_of(part)[:2] == names_of(sketch)[:2]


def test_a_line_that_meets_the_legs_unevenly_is_evened_to_2_mm_and_refused_beyond() -> None:
    whole = with_shoulder_dart([1.0])
    ends = at(whole, "armhole", 0.5, -1), at(whole, "centre", 0.1)
    with pytest.raises(Trouble, match="two distances from its apex") as caught:
        divide(whole, line(*ends), ("armhole", "centre"), keep="neckline", called="cut", across=["shoulder_dart"])
    assert set(caught.value.figures) == {"on `shoulder_dart.inner_leg`", "on `shoulder_dart.outer_leg`"}
    drawn = yoke_line(whole, 0.5, 0.1, 0.5)
    drawn = polyline(np.stack([drawn.start, drawn.controls[:, 0, 3] + 1.0, drawn.controls[:, 1, 3], drawn.end], axis=1))
    yoke, rest = both(whole, drawn, ("armhole", "centre"), ("neckline", "waistline"), across=["shoulder_dart"])
    np.testing.assert_allclose(edge_length(yoke, "cut"), edge_length(rest, "cut"), atol=1e-8)
    assert [told.what for told in yoke.told][-1] == "distances from the apex of `shoulder_dart` evened"
    assert 0.1 < yoke.told[-1].lengths["differed"][0] < 2.0


def test_a_line_through_the_apex_closes_the_dart_whole() -> None:
    whole = with_shoulder_dart(SIZES)
    apex = apex_of(whole, "shoulder_dart")
    assert apex is not None
    drawn = polyline(np.stack([at(whole, "side", 0.8), apex, at(whole, "centre", 0.5)], axis=1))
    ends = ("side", "centre")
    upper, lower = both(whole, drawn, ends, ("neckline", "waistline"), absorbing=["shoulder_dart"])
    np.testing.assert_allclose(area(upper) + area(lower), area(whole), rtol=1e-9)
    np.testing.assert_allclose(edge_length(upper, "cut"), edge_length(lower, "cut"), atol=1e-8)
    assert upper.dart_names() == lower.dart_names() == ()
    assert faults(upper) == faults(lower) == []
    sketch = divide(whole.sketch(), None, ends, keep="waistline", called="cut", absorbing=["shoulder_dart"])
    assert names_of(sketch)[:2] == names_of(lower)[:2]
    with pytest.raises(Trouble, match="passes the apex"):
        divide(
            whole, line(drawn.start, drawn.end), ends, keep="neckline", called="cut", absorbing=["shoulder_dart"]
        )


def princess(sizes: list[float], width: float, lower: float) -> Piece:
    """A front with the armhole dart and a waist dart that ends so far below its apex."""
    before = front(sizes)
    apex = apex_of(before, "bust_dart")
    assert apex is not None
    place = edge_from(before, "waistline", "centre")
    made = place_dart(
        before, "waist_dart", "waistline", at=apex[:, 0], width=lanes(width), long=lanes(100.0), from_end=place
    )
    return move_apex(made, "waist_dart", apex - np.array([[0.0, lower]]))


@law
@given(st.floats(5.0, 45.0), st.one_of(st.just(0.0), st.floats(1.0, 40.0)))
def test_princess_panels_share_out_the_piece_and_their_seams_are_equal(width: float, lower: float) -> None:
    whole = princess(SIZES, width, lower)
    parts = [
        divide_through(whole, ["bust_dart", "waist_dart"], keep=keep, called="princess") for keep in ("centre", "side")
    ]
    centre, side = parts
    np.testing.assert_allclose(area(centre) + area(side), area(whole), rtol=1e-12)
    np.testing.assert_allclose(edge_length(centre, "princess"), edge_length(side, "princess"), atol=1e-6)
    for edge in ("armhole", "waistline"):
        np.testing.assert_allclose(edge_length(centre, edge) + edge_length(side, edge), edge_length(whole, edge), atol=1e-8)
    for part, keep in zip(parts, ("centre", "side"), strict=True):
        assert part.dart_names() == ()
        assert faults(part) == []
        sketch = divide_through(whole.sketch(), ["bust_dart", "waist_dart"], keep=keep, called="princess")
        assert names_of(part) == names_of(sketch)
        np.testing.assert_allclose(part.told[-1].lengths["this part"], part.told[-1].lengths["other part"], atol=1e-6)
    assert "taken in the seam `princess`" in centre.removed["bust_dart.inner_leg"]
    assert "bust_point" in centre.points
    assert "bust_point" in side.points


@law
@given(st.floats(5.0, 45.0), st.one_of(st.just(0.0), st.floats(1.0, 60.0)), st.floats(5.0, 35.0))
@example(8.0, 40.0, 20.0)  # the two curves touch: rounding alone must not tell lanes apart
def test_a_rounded_princess_seam_runs_smoothly_over_its_apexes(width: float, lower: float, reach: float) -> None:
    whole, darts = princess(SIZES, width, lower), ["bust_dart", "waist_dart"]
    for keep in ("centre", "side"):
        sharp = divide_through(whole, darts, keep=keep, called="princess")
        smooth = divide_through(whole, darts, keep=keep, called="princess", rounding=lanes(reach))
        sides = smooth.sides("princess")
        for one, two in itertools.pairwise(sides):
            np.testing.assert_allclose(end_direction(one.drawn), start_direction(two.drawn), atol=1e-6)
        np.testing.assert_array_equal(sides[0].drawn.start, sharp.sides("princess")[0].drawn.start)
        np.testing.assert_array_equal(sides[-1].drawn.end, sharp.sides("princess")[-1].drawn.end)
        told = smooth.told[-1].lengths
        np.testing.assert_allclose(told["before"] - told["after"], shorter(sharp, smooth), atol=1e-9)
        assert (told["moved at most"] < reach).all()
        for dart in darts:  # over the points of the darts themselves, so that the piece keeps its width there
            apex = apex_of(whole, dart)
            assert apex is not None
            np.testing.assert_allclose(nearest(chain([side.drawn for side in sides]), apex)[1], 0.0, atol=1e-6)
        assert faults(smooth) == []
        assert names_of(smooth) == names_of(sharp)
    with pytest.raises(Trouble, match="too short to be rounded"):
        divide_through(whole, darts, keep="side", called="princess", rounding=lanes(400.0))


def shorter(sharp: Piece, smooth: Piece) -> Reals:
    taken: Reals = edge_length(sharp, "princess") - edge_length(smooth, "princess")
    return taken


def with_diamond(piece: Piece, slant: float = 0.0) -> Piece:
    return place_two_ended(
        piece,
        "waist_dart",
        middle=lanes(110.0, 400.0)[None],
        width=lanes(30.0),
        upper_apex=lanes(110.0 + slant, 520.0)[None],
        lower_apex=lanes(110.0, 250.0)[None],
        inner=lanes(-1.0, 0.0)[None],
    )


@law
@given(shares, st.floats(-20.0, 20.0))
def test_one_dart_with_two_ends_becomes_a_seam_from_edge_to_edge(share: float, slant: float) -> None:
    whole = with_diamond(skirt([240.0, 260.0, 300.0]), slant)
    upper = apex_of(whole, "waist_dart")
    assert upper is not None
    drawn = line(at(whole, "waistline", 1.0 - share), upper)
    parts = [
        divide_through(
            whole, ["waist_dart"], keep=keep, called="panel_seam", start="waistline", end="hem", drawn=drawn, is_drawn=True
        )
        for keep in ("centre", "side")
    ]
    inside = 30.0 * 270.0 / 2.0
    np.testing.assert_allclose(area(parts[0]) + area(parts[1]), area(whole) - inside, atol=1e-6)
    legs = [edge_length(part, "panel_seam") for part in parts]
    if slant == 0.0:
        np.testing.assert_allclose(legs[0], legs[1], atol=1e-9)
    for part in parts:
        assert faults(part) == []
        assert part.dart_names() == ()
        np.testing.assert_allclose(part.told[-1].lengths["this part"], edge_length(part, "panel_seam"))
    np.testing.assert_allclose(parts[0].told[-1].lengths["other part"], legs[1], atol=1e-6)


@law
@given(st.floats(0.2, 0.8), st.floats(5.0, 60.0))
def test_a_rounded_seam_through_a_dart_with_two_ends_has_no_bend_and_keeps_the_waist(share: float, reach: float) -> None:
    """Sharp it bends at both apexes and where the dart is widest; there it moves by no more than two seams differ unseen."""
    whole = with_diamond(skirt([240.0, 300.0]))
    drawn = line(lanes(110.0, 520.0)[None], at(whole, "waistline", share))
    for keep in ("centre", "side"):
        sharp, smooth = (
            divide_through(
                whole, ["waist_dart"], keep=keep, called="cut", start="waistline", end="hem", drawn=drawn, is_drawn=True,
                rounding=rounding,
            )
            for rounding in (None, lanes(reach))
        )  # fmt: skip
        sides = smooth.sides("cut")
        for one, two in itertools.pairwise(sides):
            np.testing.assert_allclose(end_direction(one.drawn), start_direction(two.drawn), atol=1e-6)
        widest = [side.drawn.end for side in sharp.sides("cut") if abs(float(side.drawn.end[0, 1]) - 400.0) < 1e-6]
        assert len(widest) == 1
        off = np.stack([nearest(side.drawn, widest[0])[1] for side in sides], axis=1).min(axis=1)
        assert (off < 0.55).all()
        assert faults(smooth) == []


@law
@given(st.floats(-0.4, 0.4), st.booleans())
def test_a_waist_seam_across_a_dart_with_two_ends_leaves_a_dart_on_each_part(tilt: float, against: bool) -> None:
    whole = with_diamond(skirt([240.0, 260.0, 300.0]))
    ends = [lanes(x, 400.0 + 60.0 * tilt)[None] for x in (-30.0, 500.0)]  # drawn on beyond the piece: that does not count
    drawn = line(*(reversed(ends) if against else ends))
    upper, lower = both(whole, drawn, ("centre", "side"), ("waistline", "hem"), across=["waist_dart"])
    hole = 30.0 * 270.0 / 2.0
    np.testing.assert_allclose(area(upper) + area(lower), area(whole) - hole, atol=1e-6)
    np.testing.assert_allclose(edge_length(upper, "cut"), edge_length(lower, "cut"), atol=1e-8)
    for part, keep in ((upper, "waistline"), (lower, "hem")):
        assert part.holes == ()
        (dart,) = part.darts
        assert dart.edge == "cut"
        assert faults(part) == []
        assert (dart_angle(part, dart) > 0.0).all()
        sketch = divide(whole.sketch(), None, ("centre", "side"), keep=keep, called="cut", across=["waist_dart"])
        assert names_of(part) == names_of(sketch)


def test_a_dart_with_two_ends_that_ends_before_the_line_is_told_with_how_far() -> None:
    whole = with_diamond(skirt([240.0, 300.0]))
    low = line(*(lanes(x, 20.0)[None] for x in (-30.0, 500.0)))
    with pytest.raises(Trouble, match="`waist_dart` ends before the line, and nothing of it is crossed") as caught:
        divide(whole, low, ("centre", "side"), keep="waistline", called="cut", across=["waist_dart"])
    corners = np.concatenate([side.drawn.start[0] for side in whole.holes[0].sides]).reshape(-1, 2)
    assert caught.value.figures["short of it by"][0] == pytest.approx(corners[:, 1].min() - 20.0)
    assert divide(whole, low, ("centre", "side"), keep="waistline", called="cut").dart_names() == ("waist_dart",)  # as advised


def test_points_darts_and_inner_lines_go_with_the_part_they_lie_on() -> None:
    whole = front(SIZES)
    drawn = line(at(whole, "side", 0.5), at(whole, "centre", 0.7))
    upper, lower = both(whole, drawn, ("side", "centre"), ("neckline", "waistline"))
    assert upper.dart_names() == ("bust_dart",)
    assert "bust_point" in upper.points
    assert lower.dart_names() == ()
    assert "not on this side" in lower.removed["bust_point"]
    joined = join(upper, rename(lower, {"waistline": "low"}), "cut", "cut")
    across = line(at(joined, "shoulder", 0.8), at(joined, "low", 0.2))
    centre = divide(joined, across, ("shoulder", "low"), keep="neckline", called="panel")
    (kept,) = centre.lines
    assert length(kept.drawn).max() < length(drawn).max()


def test_a_piece_cut_out_of_one_edge() -> None:
    whole = skirt([240.0, 260.0])
    side = whole.sides("side")[0].drawn
    spots = [point_at(side, lanes(200.0)), lanes(150.0, 280.0)[None] + np.zeros((2, 1)), point_at(side, lanes(350.0))]
    drawn = polyline(np.stack(spots, axis=1))
    out = divide(whole, drawn, ("side", "side"), keep="side", called="pocket")
    rest = divide(whole, drawn, ("side", "side"), keep="hem", called="pocket")
    np.testing.assert_allclose(edge_length(out, "side"), 150.0, atol=1e-9)
    np.testing.assert_allclose(area(out) + area(rest), area(whole), rtol=1e-12)
    assert faults(rest) == []


@pytest.mark.parametrize(
    ("ends", "shift", "said"),
    [
        (("side", "centre"), 5.0, "does not meet `centre`"),
        (("armhole", "centre"), 0.0, "does not meet `armhole`"),
    ],
)
def test_a_line_that_falls_short_is_refused_with_the_gap(ends: tuple[str, str], shift: float, said: str) -> None:
    whole = front([1.0, 1.0])
    drawn = line(at(whole, "side", 0.5), at(whole, "centre", 0.7) + np.array([[0.0, 0.0], [shift, 0.0]]))
    with pytest.raises(Trouble, match=said) as caught:
        divide(whole, drawn, ends, keep="neckline", called="cut")
    assert caught.value.lanes is not None
    if shift:
        assert caught.value.lanes.tolist() == [False, True]
        assert caught.value.figures["apart"][1] == pytest.approx(5.0)


def test_what_cannot_be_divided_says_why() -> None:
    whole = with_shoulder_dart([1.0])
    drawn = yoke_line(whole, 0.5, 0.1, 0.5)
    ends = ("armhole", "centre")
    for keep, called, more, said in (
        ("armhole", "cut", {"across": ["shoulder_dart"]}, "`armhole` is itself divided"),
        ("neckline", "cut", {}, "runs through the dart `shoulder_dart`"),
        ("neckline", "side", {"across": ["shoulder_dart"]}, "there is a `side` already"),
        ("neckline", "cut", {"across": ["waist_dart"]}, "there is no dart `waist_dart`"),
    ):
        with pytest.raises(Trouble, match=said):
            divide(whole, drawn, ends, keep=keep, called=called, **more)
    with pytest.raises(Trouble, match="ends at a corner of `centre`"):
        divide(whole, line(at(whole, "side", 0.5), at(whole, "centre", 1.0)), ("side", "centre"), keep="neckline", called="cut")
    low = line(at(whole, "side", 0.3), at(whole, "centre", 0.9))
    with pytest.raises(Trouble, match="`shoulder_dart` ends before the line") as caught:
        divide(whole, low, ("side", "centre"), keep="neckline", called="cut", across=["shoulder_dart"])
    assert "leave `shoulder_dart` out of `across`" in caught.value.fix
    assert caught.value.figures["short of it by"][0] > 0.0
    assert divide(whole, low, ("side", "centre"), keep="neckline", called="cut").dart_names()  # as advised
    longer = shorten(whole, "shoulder_dart", -caught.value.figures["short of it by"] - 5.0)  # as advised for other bodies
    extended = divide(longer, low, ("side", "centre"), keep="neckline", called="cut", across=["shoulder_dart"])
    assert "shoulder_dart" not in extended.dart_names()
    with pytest.raises(Trouble, match="alone does not divide"):
        divide_through(whole, ["shoulder_dart"], keep="centre", called="cut")


def test_edges_of_another_shape_and_names_in_both_are_not_joined() -> None:
    one, other = skirt([240.0]), skirt([240.0], long=604.0)
    with pytest.raises(Trouble, match="face the same way"):
        join(one, other, "side", "side")
    with pytest.raises(Trouble, match="both pieces have `centre`"):
        join(one, rename(other, {"hem": "low", "waistline": "top"}), "side", "side")
    fit = rename(other, {"hem": "low", "waistline": "top", "centre": "middle"})
    with pytest.raises(Trouble, match="does not lie on `side`") as caught:
        join(one, fit, "side", "side")
    assert caught.value.figures["apart"][0] == pytest.approx(2.0, abs=0.01)  # 4 mm longer, laid middle on middle
    made = join(one, fit, "side", "side", within=lanes(3.0))
    assert faults(made) == []
    with pytest.raises(Trouble, match="`waistline` is broken"):
        join(place_dart(one, "d", "waistline", at=lanes(90.0), width=lanes(20.0), long=lanes(90.0)), fit, "waistline", "top")


def test_bodies_together_and_alone_give_the_same_parts() -> None:
    many = with_shoulder_dart(SIZES)
    drawn = yoke_line(many, 0.5, 0.1, 0.4)
    together = divide(many, drawn, ("armhole", "centre"), keep="neckline", called="cut", across=["shoulder_dart"])
    for k in range(3):
        one = np.array([k])
        alone = divide(
            many.take(one), drawn.take(one), ("armhole", "centre"), keep="neckline", called="cut", across=["shoulder_dart"]
        )
        same(together.take(one), alone, 1e-9)
