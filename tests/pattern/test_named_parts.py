"""Named places and parts of edges: what operations leave of them, on random pieces and several bodies at once, and that the names
told without a body are those that are there with one."""

from collections.abc import Callable

import numpy as np
import pytest
from godet.geometry.lanes import norm
from godet.geometry.length import length, nearest, point_at
from godet.geometry.path import chain, line
from godet.pattern.check import faults
from godet.pattern.darts import place_dart
from godet.pattern.edges import edge_from, edge_length, edge_path, rename
from godet.pattern.extend import extended
from godet.pattern.join import join
from godet.pattern.named import PartEnd, is_place, parts_in, with_part, with_place
from godet.pattern.piece import Notch, Piece, Reals, Trouble
from godet.pattern.pivot import Into, pivot
from godet.pattern.pleating import Pleating
from godet.pattern.pleats import pleat
from godet.pattern.redrawing import redraw
from godet.pattern.ring import place_on
from godet.pattern.routes import divide
from godet.pattern.slash import evenly, hinged, parallel, slash
from godet.pattern.truing import straightened, true_edge
from godet.pattern.unfold import mirror, unfold
from godet.pattern.unsewn import leave
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import lanes, skirt

law = settings(max_examples=25, deadline=None)
bodies = st.lists(st.floats(200.0, 420.0), min_size=1, max_size=3)
shares = st.floats(0.1, 0.9)


def placed(piece: Piece, edge: str, share: float, name: str) -> Piece:
    """The piece with a named notch at a share of the way from the start of an edge."""
    at = None if piece.is_sketch else share * edge_length(piece, edge)
    place = place_on(piece, edge, at, "start")
    return with_place(piece, Notch(place.side, place.at, stated=True, name=name))


def to(piece: Piece, name: str) -> PartEnd:
    return PartEnd("point", value=piece.points[name])


def parted(sizes: list[float], low: float = 0.3, high: float = 0.7, cloth: bool = True) -> Piece:
    """A half skirt with two places on its side and the part between them, and one of the hem, from a place to the fold."""
    piece = placed(placed(placed(skirt(sizes, cloth=cloth), "side", low, "low"), "side", high, "high"), "hem", 0.5, "kick")
    piece = with_part(piece, "side", "middle", to(piece, "low"), to(piece, "high"))
    return with_part(piece, "hem", "inner_hem", to(piece, "kick"), PartEnd("end", "centre"))


def spot(piece: Piece, name: str) -> Reals:
    found = piece.points[name]
    assert found is not None
    return found


def must_lie_on(piece: Piece, name: str, edge: str) -> None:
    """A place is on the cloth of its edge, and its notch there."""
    away = np.stack([nearest(path, spot(piece, name))[1] for path in edge_path(piece, edge)]).min(axis=0)
    assert (away < 1e-6).all()
    (notch,) = (one for one in piece.notches if one.name == name)
    np.testing.assert_allclose(point_at(piece.ring[notch.side].drawn, notch.at), spot(piece, name), atol=1e-6)


@law
@given(bodies, shares, shares)
def test_a_part_is_an_edge_as_long_as_it_is_far_between_its_places(sizes: list[float], one: float, other: float) -> None:
    if abs(one - other) < 0.01:
        return
    piece, whole = parted(sizes, one, other), skirt(sizes)
    assert faults(piece) == []
    np.testing.assert_allclose(edge_length(piece, "side"), edge_length(whole, "side"), atol=1e-8)
    np.testing.assert_allclose(edge_length(piece, "middle"), abs(one - other) * edge_length(whole, "side"), atol=1e-8)
    np.testing.assert_allclose(edge_length(piece, "inner_hem"), 0.5 * edge_length(whole, "hem"), atol=1e-8)
    for name in ("low", "high"):
        must_lie_on(piece, name, "side")
        must_lie_on(piece, name, "middle")
    assert {edge_from(piece, "middle", "low"), edge_from(piece, "middle", "high")} == {"start", "end"}
    assert edge_from(piece, "inner_hem", "centre") != edge_from(piece, "inner_hem", "kick")
    assert parts_in(piece) == ("middle", "inner_hem")


def slashed(piece: Piece) -> Piece:
    cuts = evenly(piece, "hem", "waistline", 2)
    return slash(piece, cuts, hinged(cuts, "waistline", [lanes(20.0)] * 2)).piece


def spread(piece: Piece) -> Piece:
    cuts = evenly(piece, "hem", "waistline", 2)
    return slash(piece, cuts, parallel([lanes(30.0)] * 2)).piece


def darted(piece: Piece) -> Piece:
    at, apex = (None, None) if piece.is_sketch else (0.5 * edge_length(piece, "waistline"), inside(piece))
    width = None if piece.is_sketch else lanes(20.0)
    return place_dart(piece, "dart", "waistline", at=at, width=width, apex=apex)


def inside(piece: Piece) -> Reals:
    top = chain(edge_path(piece, "waistline"))
    return np.asarray(point_at(top, 0.5 * length(top)) - np.array([[0.0, 120.0]]))


def pivoted(piece: Piece) -> Piece:
    at = None if piece.is_sketch else 0.5 * edge_length(piece, "side")
    return pivot(darted(piece), "dart", [Into("side_dart", "side", at, None, "start")])


def lower_part(piece: Piece) -> Piece:
    drawn = None
    if not piece.is_sketch:
        a, b = (point_at(path, 0.5 * length(path)) for path in (chain(edge_path(piece, n)) for n in ("centre", "side")))
        drawn = line(*np.broadcast_arrays(a, b))
    return divide(piece, drawn, ("centre", "side"), keep="hem", called="cut")


KNIFE = Pleating("knife", (lanes(20.0), lanes(20.0)), "side")
OPERATIONS: dict[str, Callable[[Piece], Piece]] = {
    "mirror": mirror,
    "unfold": lambda piece: unfold(piece, "centre"),
    "slash": slashed,
    "spread": spread,
    "dart": darted,
    "pivot": pivoted,
    "lengthen": lambda piece: extended(piece, "side", "hem", None if piece.is_sketch else lanes(25.0)),
    "smooth": lambda piece: true_edge(piece, "hem")[0],
    "straighten": lambda piece: straightened(piece, "hem")[0],
    "rename": lambda piece: rename(piece, {"middle": "zip_part", "low": "zip_end"}),
    "divide": lower_part,
    "pleat": lambda piece: pleat(piece, evenly(piece, "waistline", "hem", 2), KNIFE),
    "leave": lambda piece: leave(darted(piece), "dart", "ease"),
}


@pytest.mark.parametrize("name", OPERATIONS)
def test_the_names_told_without_a_body_are_those_that_are_there(name: str) -> None:
    done = OPERATIONS[name]
    made, sketch = done(parted([240.0, 300.0])), done(parted([240.0, 300.0]).sketch())
    assert faults(made) == []
    sure = [one for one in (*sketch.edge_names(), *sketch.points) if one not in sketch.uncertain]
    here = {*made.edge_names(), *made.points}
    assert set(sure) <= here <= {*sketch.edge_names(), *sketch.points}
    assert {one for one in made.points if is_place(made, one)} <= {one for one in sketch.points if is_place(sketch, one)}
    assert {one.name for one in made.notches if one.name} == {one for one in made.points if is_place(made, one)}


@law
@given(bodies, shares, st.lists(st.sampled_from(("mirror", "slash", "spread", "dart", "smooth", "straighten")), max_size=4))
def test_a_part_of_an_edge_nothing_is_done_to_keeps_its_length_and_its_places(
    sizes: list[float], low: float, names: list[str]
) -> None:
    before = parted(sizes, low, min(low + 0.08, 0.97))
    piece = before
    for name in dict.fromkeys(names):
        piece = OPERATIONS[name](piece)
    np.testing.assert_allclose(edge_length(piece, "middle"), edge_length(before, "middle"), atol=1e-6)
    for name in ("low", "high"):
        must_lie_on(piece, name, "middle")
    must_lie_on(piece, "kick", "hem")


@law
@given(bodies, st.floats(10.0, 40.0), st.integers(1, 4))
def test_a_part_has_the_gaps_that_open_inside_it(sizes: list[float], width: float, count: int) -> None:
    before = parted(sizes)
    cuts = evenly(before, "hem", "waistline", count)
    piece = slash(before, cuts, parallel([lanes(width)] * count)).piece
    inner = sum(1 for k in range(count) if (k + 1) / (count + 1) > 0.5 + 1e-9 or (k + 1) / (count + 1) < 0.5 - 1e-9) // 2
    middle = count % 2  # the one in the middle is cut where the place lies
    grown = edge_length(piece, "inner_hem") - edge_length(before, "inner_hem")
    assert (grown > inner * width - 1e-6).all()
    assert (grown < (inner + middle) * width + 1e-6).all()


@law
@given(bodies)
def test_unfolded_a_part_that_ends_on_the_fold_fuses_and_others_are_two(sizes: list[float]) -> None:
    half = parted(sizes)
    whole = unfold(half, "centre")
    np.testing.assert_allclose(edge_length(whole, "inner_hem"), 2.0 * edge_length(half, "inner_hem"), atol=1e-8)
    for side in ("left", "right"):
        np.testing.assert_allclose(edge_length(whole, f"{side}_middle"), edge_length(half, "middle"), atol=1e-8)
        must_lie_on(whole, f"{side}_low", f"{side}_middle")
        must_lie_on(whole, f"{side}_kick", "hem")
    assert whole.removed["low"] == "there are two of them now: `left_low` and `right_low`"


@law
@given(bodies, shares)
def test_drawn_anew_a_place_stays_at_its_share_and_a_part_between_its_places(sizes: list[float], share: float) -> None:
    piece = placed(skirt(sizes), "hem", share, "kick")
    piece = with_part(piece, "hem", "inner_hem", to(piece, "kick"), PartEnd("end", "centre"))
    before = edge_length(piece, "inner_hem") / edge_length(piece, "hem")
    made, _ = straightened(piece, "hem")
    np.testing.assert_allclose(edge_length(made, "inner_hem") / edge_length(made, "hem"), before, atol=1e-9)
    must_lie_on(made, "kick", "inner_hem")
    moved = norm(spot(made, "kick") - spot(piece, "kick"))
    told = [one for one in made.told if one.edge == "kick"]
    assert bool(told) == bool((moved > 1.0).any())
    if told:
        np.testing.assert_allclose(told[0].lengths["by"], moved)


@law
@given(bodies, shares, st.floats(0.2, 0.8))
def test_divided_a_place_goes_with_its_cloth_a_part_is_cut_through_and_joined_it_is_whole(
    sizes: list[float], share: float, cut: float
) -> None:
    if abs(share - cut) < 0.02:
        return
    whole = placed(skirt(sizes), "side", share, "low")
    whole = with_part(whole, "side", "all_but", PartEnd("share", "hem", lanes(0.05)), PartEnd("share", "waistline", lanes(0.05)))
    sides = [chain(edge_path(whole, name)) for name in ("centre", "side")]
    ends = np.broadcast_arrays(*(point_at(path, share * length(path)) for path, share in zip(sides, (0.5, cut), strict=True)))
    parts = {
        keep: divide(whole, line(*ends), ("centre", "side"), keep=keep, called="cut") for keep in ("waistline", "hem")
    }
    with_it, without = (parts["waistline"], parts["hem"]) if share > cut else (parts["hem"], parts["waistline"])
    must_lie_on(with_it, "low", "side")
    assert "low" not in without.points
    assert "not on this side" in without.removed["low"]
    total = sum((edge_length(one, "all_but") for one in parts.values()), np.zeros(1))
    np.testing.assert_allclose(total, edge_length(whole, "all_but"), atol=1e-7)
    again = join(parts["waistline"], parts["hem"], "cut", "cut", called=("upper", "lower"))
    np.testing.assert_allclose(edge_length(again, "all_but"), edge_length(whole, "all_but"), atol=1e-7)
    must_lie_on(again, "low", "all_but")


def test_what_is_replaced_takes_its_places_with_it_and_is_named() -> None:
    piece = parted([240.0, 300.0])
    corners = [piece.sides("side")[0].drawn.start, piece.sides("side")[-1].drawn.end]
    made = redraw(piece, ["side"], [("new_side", line(*np.broadcast_arrays(*corners)))])
    assert "low" not in made.points
    assert not is_place(made, "low")
    assert "drawn anew" in made.removed["low"]
    assert "drawn anew" in made.removed["middle"]
    must_lie_on(made, "kick", "hem")


def test_a_part_is_refused_where_it_cannot_be() -> None:
    piece = parted([240.0])
    with pytest.raises(Trouble, match="there is a `low` already"):
        placed(piece, "hem", 0.2, "low")
    with pytest.raises(Trouble, match="there is a `middle` already"):
        with_part(piece, "hem", "middle", to(piece, "kick"), PartEnd("end", "centre"))
    with pytest.raises(Trouble, match="ends where it starts"):
        with_part(piece, "side", "none", to(piece, "low"), to(piece, "low"))
    with pytest.raises(Trouble, match="does not lie on `hem`"):
        with_part(piece, "hem", "other", to(piece, "low"), PartEnd("end", "centre"))
    with pytest.raises(Trouble, match="`side` is shorter than that") as caught:
        with_part(piece, "side", "long", PartEnd("at", "hem", lanes(900.0)), PartEnd("end", "hem"))
    assert caught.value.lanes is not None
