"""A seam moved into the piece on its other side: together the two stay what they were."""

from __future__ import annotations

import numpy as np
import pytest
from godet.geometry.lanes import dot, left_of, unit
from godet.geometry.length import length, point_at
from godet.geometry.motion import rotation
from godet.pattern.check import faults
from godet.pattern.edges import edge_length, rename
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.shifting import shifted
from godet.pattern.unfold import mirror
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, front, lanes, moved, names_of, skirt

law = settings(max_examples=25, deadline=None)
TURNED = rotation(np.array([[30.0, -40.0]]), lanes(0.7))


def sewn_to(piece: Piece, way: str) -> Piece:
    """The same piece as it lies beside the first: alike, the other way out, or turned on the paper."""
    return {"alike": piece, "turned over": mirror(piece), "turned": moved(piece, TURNED)}[way]


@law
@given(st.floats(1.0, 40.0), st.sampled_from(["alike", "turned over", "turned"]))
def test_what_one_loses_the_other_gains(by: float, way: str) -> None:
    one = skirt([200.0, 260.0])
    other = sewn_to(skirt([200.0, 260.0]), way)
    made, left = shifted(one, "side", other, "side", lanes(by))
    for edge in ("hem", "waistline"):
        np.testing.assert_allclose(edge_length(made, edge), edge_length(one, edge) + by, atol=1e-6)
        np.testing.assert_allclose(edge_length(left, edge), edge_length(other, edge) - by, atol=1e-6)
    np.testing.assert_allclose(edge_length(made, "side"), edge_length(left, "side"), atol=1e-9)
    np.testing.assert_allclose(area(made) + area(left), area(one) + area(other), rtol=1e-9)
    assert faults(made) == faults(left) == []
    assert names_of(made) == names_of(shifted(one.sketch(), "side", other.sketch(), "side", lanes(by))[0])


@law
@given(st.floats(1.0, 40.0))
def test_moved_back_it_lies_where_it_lay(by: float) -> None:
    one, other = skirt([200.0]), skirt([200.0])
    made, left = shifted(one, "side", other, "side", lanes(by))
    again, whole = shifted(left, "side", made, "side", lanes(by))
    for before, after in ((other, again), (one, whole)):
        for edge in ("hem", "waistline", "side"):
            np.testing.assert_allclose(edge_length(after, edge), edge_length(before, edge), atol=1e-6)


@law
@given(st.floats(1.0, 30.0), st.sampled_from(["alike", "turned over", "turned"]))
def test_curved_edges_stay_as_long_as_each_other_and_bend_as_before(by: float, way: str) -> None:
    one, other = skirt([200.0, 260.0]), sewn_to(skirt([200.0, 260.0]), way)
    made, left = shifted(one, "hem", other, "hem", lanes(by))
    np.testing.assert_allclose(edge_length(made, "hem"), edge_length(left, "hem"), atol=1e-9)
    np.testing.assert_allclose(sagging(made), sagging(one) * edge_length(made, "hem") / edge_length(one, "hem"))
    np.testing.assert_allclose(sagging(left), sagging(other) * edge_length(left, "hem") / edge_length(other, "hem"))


def sagging(piece: Piece) -> Reals:
    """How far (L,) mm the middle of the hem lies off its chord, to the left of the way along it."""
    (side,) = piece.sides("hem")
    way = left_of(unit(side.drawn.end - side.drawn.start))
    return dot(point_at(side.drawn, length(side.drawn) / 2.0) - side.drawn.start, way)


def test_what_cannot_be_moved_is_refused() -> None:
    one, other = skirt([200.0]), skirt([200.0])
    with pytest.raises(Trouble, match="`hem` ends sooner"):
        shifted(one, "side", other, "side", lanes(300.0))
    with pytest.raises(Trouble, match="more than nothing"):
        shifted(one, "side", other, "side", lanes(-5.0))
    with pytest.raises(Trouble, match="not as long"):
        shifted(one, "side", skirt([200.0], long=560.0), "side", lanes(10.0))
    with pytest.raises(Trouble, match="which ends"):
        shifted(one, "side", rename(other, {"hem": "low", "waistline": "top"}), "side", lanes(10.0))
    with pytest.raises(Trouble, match="drawn in several parts"):
        shifted(front(), "armhole", front(), "armhole", lanes(5.0))
