"""A piece over sizes: whether it is made alike, what its corners are called, how its sizes are laid, which lines cross."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

import numpy as np
from godet.diagnostics.diagnostic import Span
from godet.diagnostics.grading_words import unlike_sizes
from godet.finish.finished import finished
from godet.geometry.path import polyline
from godet.grading.laying import laid
from godet.grading.lines import crossings
from godet.grading.run import edges_in_order, named_points, shared_names, unlike
from godet.pattern.piece import Aligned, Finish, Piece, Side, Sign
from hypothesis import given
from hypothesis import strategies as st

NAMES = ("hem", "side", "top", "centre")


def quarter(width: float, height: float, begin: int = 0, fold: str | None = "centre", names: tuple[str, ...] = NAMES) -> Piece:
    """A rectangle from its lower left corner, its ring beginning at any of its sides."""
    corners = np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])
    sides = [Side((name,), polyline(np.stack([corners[k], corners[(k + 1) % 4]])[None])) for k, name in enumerate(names)]
    return Piece(tuple(sides[begin:] + sides[:begin]), fold=fold)


def test_it_does_not_matter_where_a_ring_begins() -> None:
    one, other = quarter(200.0, 300.0), quarter(210.0, 310.0, begin=2)
    assert edges_in_order(one) == edges_in_order(other)
    assert unlike({"84": one, "88": other}, "84") is None
    points = [named_points(one), named_points(other)]
    assert set(shared_names(points)) == {"side by top", "top by centre", "centre by hem", "hem by side"}
    assert points[1]["hem by side"].tolist() == [[210.0, 0.0]]


def test_other_edges_are_told_with_both_lists() -> None:
    one, other = quarter(200.0, 300.0), quarter(210.0, 310.0, names=("hem", "side", "slit", "centre"))
    assert unlike({"84": one, "88": other, "92": one}, "84") == "88"
    rows = ("84", edges_in_order(one)), ("88", edges_in_order(other))
    told = unlike_sizes(Span("a.style", 0, 1), "front", *rows, ["84", "88..92"])
    assert "`top` in 84 alone, `slit` in 88 alone" in told.message
    assert "in 84: centre, hem, side, top" in told.note
    assert "in 88: centre, hem, side, slit" in told.note
    assert "`--split` for a nest of each of 84, 88..92" in told.fix


@given(st.floats(-200, 200), st.floats(-200, 200), st.floats(-np.pi, np.pi))
def test_sizes_lie_alike_wherever_they_were_drafted(x: float, y: float, turn: float) -> None:
    """A size moved on its paper is laid where it was: the upper end of its centre on that of the sample, along it."""
    sample, other = quarter(200.0, 300.0), quarter(212.0, 306.0)
    spin = np.exp(1j * turn)

    def moved(points: np.ndarray) -> np.ndarray:
        z = (points[..., 0] + 1j * points[..., 1]) * spin + x + 1j * y
        return np.stack([z.real, z.imag], axis=-1)

    ends = {side.names: np.stack([side.drawn.start[0], side.drawn.end[0]]) for side in other.ring}
    ring = tuple(Side(names, polyline(moved(points)[None])) for names, points in ends.items())
    grain = np.array([1j * spin])
    there = Piece(ring, fold="centre", finish=Finish(grain=grain))
    for piece in (other, there):
        lie = laid("front", {"88": sample, "92": piece}, "88")
        hem = lie.by_size["92"].points(named_points(piece)["hem by side"][0])
        assert np.allclose(hem, [212.0, -6.0], atol=1e-6)
        assert lie.told == "top by centre, along centre"


def test_what_a_style_says_comes_before_what_a_piece_is() -> None:
    def aligned(piece: Piece) -> Piece:
        at = piece.ring[0].drawn.end
        return Piece(piece.ring, fold="centre", finish=Finish(aligned=Aligned(at, None, "hem by side, along the grain")))

    lie = laid("front", {"88": aligned(quarter(200.0, 300.0)), "92": aligned(quarter(212.0, 306.0))}, "88")
    assert lie.stated
    assert lie.by_size["92"].points(np.array([212.0, 306.0])).tolist() == [200.0, 306.0]


def test_a_piece_without_centre_or_crown_lies_at_its_first_corner() -> None:
    lie = laid("flap", {"88": quarter(200.0, 300.0, fold=None), "92": quarter(212.0, 306.0, fold=None)}, "88")
    assert (lie.told, lie.stated) == ("centre by hem, along the grain", False)
    crowned = Piece(quarter(200.0, 300.0, fold=None).ring, points=MappingProxyType({"crown": np.array([[100.0, 300.0]])}))
    assert laid("sleeve", {"88": crowned}, "88").told == "the crown, along the grain"


def test_a_panel_without_centre_lies_at_the_middle_of_its_waist_or_of_what_is_above_its_hip() -> None:
    """Half of what it grows by comes on either side; a yoke, a cuff or a flap has neither level."""
    plain = [quarter(width, 300.0, fold=None) for width in (200.0, 212.0)]
    waist = [
        Piece(
            tuple(replace(side, names=(*side.names, "top.waist")) if "top" in side.names else side for side in one.ring),
            signs=MappingProxyType({"top.waist": Sign("level", level="waist")}),
        )
        for one in plain
    ]
    hips = [
        Piece(
            one.ring,
            lines=(Side(("hip",), polyline(np.array([[[0.0, 150.0], [200.0, 150.0]]]))),),
            signs=MappingProxyType({"hip": Sign("level", level="hip")}),
        )
        for one in plain
    ]
    for small, large in (waist, hips):
        lie = laid("panel", {"88": small, "92": large}, "88")
        assert lie.told == "the middle of top, along the grain"
        assert lie.by_size["92"].points(np.array([[0.0, 300.0], [212.0, 300.0]])).tolist() == [[-6.0, 300.0], [206.0, 300.0]]


def test_a_centre_that_is_a_point_in_one_size_has_no_direction_for_any() -> None:
    gusset, closed = quarter(200.0, 300.0), quarter(212.0, 0.0)
    for sizes in ({"88": gusset, "92": closed}, {"88": closed, "92": gusset}):
        lie = laid("gusset", sizes, "88")
        assert lie.told == "centre by hem, along the grain"
        assert all(abs(one.turn) == 1.0 for one in lie.by_size.values())


def test_lines_that_change_places_along_an_edge_cross() -> None:
    small = finished(quarter(200.0, 300.0))
    corners = np.array([[0.0, 0.0], [190.0, 0.0], [210.0, 300.0], [0.0, 300.0]])
    leaning = tuple(Side((name,), polyline(np.stack([corners[k], corners[(k + 1) % 4]])[None])) for k, name in enumerate(NAMES))
    large = finished(Piece(leaning, fold="centre"))
    lie = laid("front", {"84": small.piece, "88": large.piece}, "84")
    (found,) = crossings({"84": small, "88": large}, lie)
    assert (found.edge, found.size_from, found.size_to) == ("side", "84", "88")
    assert 9.0 < found.by_mm < 10.1
