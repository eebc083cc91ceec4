"""What is told of pieces where an edge is of several sides, meets its fold twice, or is sewn to the front twice: on pieces made
by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.finish.cap_halves import turned_round
from godet.finish.hang import unlike_bias
from godet.finish.near_edges import near_edges
from godet.finish.over_folds import points
from godet.finish.seams import SewnSeam
from godet.finish.threads import crossed
from godet.geometry.path import Path, line
from godet.pattern.piece import CutOrder, Dart, Finish, Piece, Reals, Side, Sign, Turns
from godet.pattern.which_ends import Sewn
from support.drawn_pieces import bent, polygon
from support.drawn_pieces import points as placed

HALVES = ((0.0, 0.0), (200.0, 0.0), (200.0, 150.0), (200.0, 300.0), (0.0, 300.0))
HALVED = ("hem", "side", "side", "top", "centre")


def joins(name: str, left: str, right: str) -> SewnSeam:
    return SewnSeam(name, "joins", (left,), (right,), np.ones(1), np.ones(1))


def buttoned(piece: Piece, x: float, y: float) -> Piece:
    return replace(piece, points={"button": np.array([[x, y]])}, signs={"button": Sign("button")})


@pytest.mark.parametrize("y", [40.0, 250.0])
def test_a_button_is_near_an_edge_of_two_parts_by_the_nearer_of_them(y: float) -> None:
    piece = buttoned(polygon(HALVES, HALVED, {}), 197.0, y)
    near = {edge: float(mm[0]) for _, edge, mm in near_edges(piece)}
    assert near == pytest.approx({"hem": y, "side": 3.0, "top": 300.0 - y, "centre": 197.0})


def test_a_button_beyond_the_cloth_lies_over_the_nearest_edge_alone() -> None:
    near = {edge: float(mm[0]) for _, edge, mm in near_edges(buttoned(polygon(HALVES, HALVED, {}), 205.0, 100.0))}
    assert near == pytest.approx({"hem": np.inf, "side": -5.0, "top": np.inf, "centre": np.inf})


def test_the_legs_of_a_dart_are_no_edges() -> None:
    corners = ((0.0, 0.0), (90.0, 0.0), (100.0, 120.0), (110.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0))
    names = ("hem", "dart.inner_leg", "dart.outer_leg", "hem", "side", "top", "centre")
    piece = replace(polygon(corners, names, {}), darts=(Dart.named("dart", "hem", inner_first=True),))
    assert {edge for _, edge, _ in near_edges(buttoned(piece, 100.0, 123.0))} == {"hem", "side", "top", "centre"}


def cape(low: tuple[float, float], high: tuple[float, float]) -> Piece:
    """Half a round on the fold: its one edge meets that below and above, heading as told."""
    at = placed((0, -200), (200, 0), (0, 200))
    ring = (Side(("hem",), bent(at, low, high)), Side(("centre",), line(at[:, 2], at[:, 0])))
    return Piece(ring, fold="centre")


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [((1, 0), (-1, 0), [0, 0]), ((1, 0.4), (-1, 0), [0, 1]), ((1, 0), (-1, 0.4), [0, 1]), ((1, 0.4), (-1, 0.4), [1, 1])],
    ids=["round", "below", "above", "both"],
)
def test_an_edge_that_meets_its_fold_at_both_ends_is_judged_at_both(
    low: tuple[float, float], high: tuple[float, float], told: list[int]
) -> None:
    found = list(points(Sewn({"cape": cape(low, high)}), ()))
    assert sorted(int(abs(one.degrees[0]) > 0.0) for one in found) == told


def test_two_such_edges_that_are_sewn_to_each_other_are_told_once_at_each_end() -> None:
    pieces = {"cape": cape((1, 0.4), (-1, 0.4)), "lining": cape((1, 0.4), (-1, 0.4))}
    seams = [joins("round", "cape.hem", "lining.hem")]
    found = list(points(Sewn(pieces, seams), seams))
    assert [one.edges for one in found] == [("cape.hem", "lining.hem")] * 2


CAP = (Side(("right_half",)), Side(("left_half",)), Side(("gusset",)), Side(("hem",)))


def sleeve() -> Piece:
    """A sleeve of which the right half is hollowed more, with a third edge beside its cap."""
    at = placed((320, 0), (160, 120), (0, 0), (0, -40), (320, -40))
    hollow = placed((320, 0), (250, 20), (160, 120))
    paths = (bent(hollow, (-1, 0), (-0.3, 1)), line(at[:, 1], at[:, 2]), line(at[:, 2], at[:, 3]), line(at[:, 3], at[:, 4]))
    sides = tuple(replace(side, path=path) for side, path in zip(CAP, paths, strict=True))
    return Piece((*sides, Side(("right_seam",), line(at[:, 4], at[:, 0]))), covers="sleeve")


@pytest.mark.parametrize(("third", "told"), [("", 1), ("front.top", 0)])
def test_a_cap_of_which_two_edges_are_sewn_to_the_front_tells_nothing(third: str, told: int) -> None:
    body = polygon(HALVES, HALVED, {})
    pieces = {"sleeve": sleeve(), "front": replace(body, covers="bodice_front"), "back": replace(body, covers="bodice_back")}
    seams = [joins("fore", "sleeve.left_half", "front.side"), joins("aft", "sleeve.right_half", "back.side")]
    if third:
        seams.insert(0, joins("more", "sleeve.gusset", third))
    assert len(list(turned_round(Sewn(pieces, seams)))) == told


def flared(low: Reals) -> Piece:
    """A panel whose side is of two parts, the lower so long (L,) and twenty degrees off the thread, the upper along it."""
    lean = np.tan(np.radians(20.0))
    far, none, high = 200.0 + lean * low, np.zeros_like(low), low + 300.0
    spots = [(none, none), (far, none), (none + 200.0, low), (none + 200.0, high), (none, high)]
    corners = [np.stack(spot, axis=-1) for spot in spots]
    ring = (Side((name,), line(corners[i], corners[(i + 1) % 5])) for i, name in enumerate(HALVED))
    piece = Piece(tuple(ring))
    return replace(piece, finish=replace(piece.finish, grain=np.array([1j])))


def hung(low: Reals) -> list[bool]:
    """On which bodies the side seam of a flared front and a straight back is told."""
    front, back = replace(flared(low), covers="skirt_front"), replace(polygon(HALVES, HALVED, {}), covers="skirt_back")
    long_back = replace(back, ring=tuple(replace(one, path=scaled(one)) for one in back.ring))
    seams = [joins("sides", "front.side", "back.side")]
    (one,) = unlike_bias(Sewn({"front": front, "back": long_back}, seams), seams)
    return [not np.isnan(off) for off in np.broadcast_to(one.off[0], low.shape)]


def scaled(side: Side) -> Path:
    return line(side.drawn.start * 2.0, side.drawn.end * 2.0)


def test_a_side_seam_is_told_of_a_body_alone_as_together_with_others() -> None:
    low = np.array([250.0, 400.0, 260.0])
    assert hung(low) == [hung(low[k : k + 1])[0] for k in range(3)] == [False, True, False]


def panel(grain: Turns) -> Piece:
    return Piece(polygon(HALVES, HALVED, {}).ring, covers="skirt_front", finish=Finish(grain=grain, cuts=(CutOrder(1),)))


def test_threads_that_cross_on_some_bodies_are_told_on_those() -> None:
    pieces = {"one": panel(np.array([1j, 1.0])), "other": panel(np.array([1j]))}
    seams = [joins("first", "one.side", "other.side"), joins("second", "one.centre", "other.centre")]
    (found,) = crossed(Sewn(pieces, seams), seams)
    assert (found.seam, found.across, found.where.tolist()) == ("first", "one", [False, True])
