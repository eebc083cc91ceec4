"""An edge raised between two points: laws on random places, several bodies at once."""

from dataclasses import replace

import numpy as np
import pytest
from godet.geometry.lanes import dot, left_of, norm, unit
from godet.geometry.length import direction_at, length, nearest, point_at
from godet.geometry.path import chain, flatten_fixed
from godet.pattern.check import faults
from godet.pattern.edges import edge_path
from godet.pattern.piece import Notch, Piece, Reals, Trouble
from godet.pattern.raising import raised
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pattern_drafts import area, lanes, names_of, skirt
from test_darts_on_a_piece import with_waist_dart

law = settings(max_examples=25, deadline=None)


def spot(piece: Piece, edge: str, share: float) -> Reals:
    path = chain(edge_path(piece, edge))
    return point_at(path, share * length(path))


@law
@example("waistline", 0.25, 1.0, 1.0, False)  # up to the very end, where the edge beside it begins
@given(
    st.sampled_from(["hem", "side", "waistline"]), st.floats(0.0, 0.4), st.floats(0.6, 1.0), st.floats(1.0, 30.0), st.booleans()
)
def test_it_rises_by_so_much_in_the_middle_and_runs_on_at_both_ends(
    edge: str, low: float, high: float, by: float, turned: bool
) -> None:
    before = skirt([240.0, 310.0])
    ends = spot(before, edge, low), spot(before, edge, high)
    after = raised(before, edge, lanes(by), ends[::-1] if turned else ends)
    old, new = (chain(edge_path(piece, edge)) for piece in (before, after))
    out = -left_of(unit(ends[1] - ends[0]))
    middle = spot(before, edge, (low + high) / 2.0)
    there = middle + by * out
    np.testing.assert_allclose(nearest(new, there)[1], 0.0, atol=0.02)
    for end, share in zip(ends, (low, high), strict=True):
        at, away = nearest(new, end)
        np.testing.assert_allclose(away, 0.0, atol=1e-6)
        np.testing.assert_allclose(dot(direction_at(new, at), direction_at(old, share * length(old))), 1.0, atol=1e-6)
    assert (area(after) > area(before)).all()
    for share in np.linspace(0.0, low, 5)[:-1]:  # what lies outside the two points stays where it was
        np.testing.assert_allclose(nearest(new, spot(before, edge, share))[1], 0.0, atol=1e-6)
    for other in {"hem", "side", "waistline", "centre"} - {edge}:
        for one, two in zip(edge_path(before, other), edge_path(after, other), strict=True):
            np.testing.assert_array_equal(one.controls, two.controls)
    assert faults(after) == []
    assert names_of(after) == names_of(before) == names_of(raised(before.sketch(), edge, lanes(by)))


@law
@given(st.floats(0.0, 0.4), st.floats(0.6, 1.0))
def test_by_nothing_it_stays(low: float, high: float) -> None:
    before = skirt([240.0])
    after = raised(before, "hem", lanes(0.0), (spot(before, "hem", low), spot(before, "hem", high)))
    old, points = chain(edge_path(before, "hem")), flatten_fixed(chain(edge_path(after, "hem")), 32)[0]
    assert points.shape[0] > 90
    np.testing.assert_allclose(nearest(old, points)[1], 0.0, atol=0.02)


def test_a_notch_stays_beside_what_it_marked() -> None:
    before = skirt([240.0])
    number = before.run("hem")[0]
    marked = replace(before, notches=(Notch(number, length(before.ring[number].drawn) / 2.0),))
    (notch,) = raised(marked, "hem", lanes(20.0)).notches
    there = raised(marked, "hem", lanes(20.0)).ring[notch.side].drawn
    np.testing.assert_allclose(norm(point_at(there, notch.at) - spot(before, "hem", 0.5)), 20.0, atol=0.05)


def test_what_cannot_be_raised_is_told() -> None:
    piece = with_waist_dart(skirt([240.0]), 30.0)
    with pytest.raises(Trouble, match="stands on `waistline` between"):
        raised(piece, "waistline", lanes(10.0))
    with pytest.raises(Trouble, match="does not lie on `hem`"):
        raised(piece, "hem", lanes(10.0), (spot(piece, "side", 0.5), spot(piece, "hem", 0.5)))
    with pytest.raises(Trouble, match="these are one"):
        raised(piece, "hem", lanes(10.0), (spot(piece, "hem", 0.5), spot(piece, "hem", 0.5)))
    with pytest.raises(Trouble, match="less than nothing"):
        raised(piece, "hem", lanes(-10.0))
