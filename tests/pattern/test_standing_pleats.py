"""Accordion pleats: an even zigzag that stands on its seam, closed like bellows until it is as wide as the piece before."""

import itertools

import numpy as np
import pytest
from godet.geometry.length import length
from godet.pattern.check import faults
from godet.pattern.edges import edge_length
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.pleating import Pleating
from godet.pattern.pleats import pleat
from godet.pattern.ring import End
from godet.pattern.slash import OnEdge, SlashLine, evenly
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import lanes, skirt


def accordion(near: float, far: float) -> Pleating:
    return Pleating("accordion", (lanes(near), lanes(far)))


def zigzag(piece: Piece, count: int) -> list[tuple[Reals, Reals]]:
    """The ends of all fold lines as they stand, counter-folds between folds."""
    names = [f"pleat_k{k}.{name}" for k in range(1, count + 1) for name in ("inner_fold", "fold")]
    sides = [piece.sides(name)[0].drawn for name in (*names, f"pleat_k{count}.far_inner_fold")]
    return [(side.start, side.end) for side in sides]


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.floats(200.0, 420.0), min_size=1, max_size=3),
    st.integers(2, 6),
    st.floats(4.0, 30.0),
    st.floats(0.5, 2.0),
    st.sampled_from(["start", "end"]),
)
def test_closed_like_bellows_it_is_as_wide_as_the_piece_before(
    sizes: list[float], count: int, depth: float, flare: float, end: End
) -> None:
    """On straight edges. At either end all panels are alike, each closed to half the way from pleat to pleat."""
    before = skirt(sizes, sag=0.0)
    piece = pleat(before, evenly(before, "waistline", "hem", count, end), accordion(depth, depth * flare))
    assert faults(piece) == []
    folds = zigzag(piece, count)
    for at, edge, deep in ((0, "waistline", depth), (1, "hem", depth * flare)):
        apart = edge_length(before, edge) / (count + 1)
        panels = [np.linalg.norm(other[at] - one[at], axis=1) for one, other in itertools.pairwise(folds)]
        for wide in panels:
            # Its depth is taken square to the fold, which leans up to 8 degrees from square to the edge: 1 - cos 8 deg.
            np.testing.assert_allclose(wide, deep + apart / 2, rtol=0.01)
        closing = [apart / 2 / wide for wide in panels]
        closed = sum(wide * share for wide, share in zip(panels, closing, strict=True)) + apart
        np.testing.assert_allclose(closed, edge_length(before, edge), rtol=1e-6)
        np.testing.assert_allclose(edge_length(piece, edge), edge_length(before, edge), atol=1e-6)


def test_it_keeps_its_counter_folds_where_it_comes_to_nothing() -> None:
    before = skirt([300.0], sag=0.0)
    piece = pleat(before, evenly(before, "hem", "waistline", 3), accordion(20.0, 0.0))
    tops = [ends[1] for ends in zigzag(piece, 3)]
    assert faults(piece) == []
    np.testing.assert_allclose(
        [np.linalg.norm(two - one) for one, two in itertools.pairwise(tops)],
        float(edge_length(before, "waistline")[0]) / 8,
        rtol=1e-6,
    )


def test_next_to_a_seam_the_first_counter_fold_lies_on_it() -> None:
    before = skirt([300.0], sag=0.0)
    places = [(10.0, 10.0), (110.0, 120.0)]
    cuts = [SlashLine(OnEdge("waistline", lanes(a), "end"), OnEdge("hem", lanes(b))) for a, b in places]
    (side,) = pleat(before, cuts, accordion(15.0, 15.0)).sides("pleat_k1.inner_fold")
    np.testing.assert_allclose(length(side.drawn), 600.0, rtol=1e-6)


def test_one_pleat_is_no_accordion() -> None:
    sketch = skirt([300.0]).sketch()
    with pytest.raises(Trouble, match="two pleats or more"):
        pleat(sketch, evenly(sketch, "waistline", "hem", 1), Pleating("accordion", (None, None)))


def test_only_the_last_has_a_counter_fold_behind_it_and_a_body_may_tell_which() -> None:
    sketch = skirt([300.0]).sketch()
    cuts = [SlashLine(cut.start, cut.end, sure=k < 2) for k, cut in enumerate(evenly(sketch, "waistline", "hem", 4))]
    made = pleat(sketch, cuts, Pleating("accordion", (None, None)))
    behind = {name for name in made.edge_names() if name.endswith("far_inner_fold")}
    assert behind == {f"pleat_k{k}.far_inner_fold" for k in (2, 3, 4)}
    assert behind <= made.uncertain
