"""An edge drawn level through a corner: laws on random skirts, several bodies at once."""

import numpy as np
import pytest
from godet.geometry.path import flatten_fixed
from godet.pattern.check import faults
from godet.pattern.edges import edge_length, edge_path
from godet.pattern.levelling import levelled
from godet.pattern.piece import Piece, Trouble
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import front, names_of, same, skirt


def line_of(piece: Piece, edge: str) -> np.ndarray:
    return np.concatenate([flatten_fixed(path, 16) for path in edge_path(piece, edge)], axis=1)


@settings(max_examples=25, deadline=None)
@given(st.floats(180.0, 300.0), st.floats(1.05, 1.5), st.sampled_from([("side", "centre"), ("centre", "side")]), st.floats(5, 40))
def test_it_lies_level_through_the_corner_and_all_else_stays(
    width: float, grow: float, ends: tuple[str, str], sag: float
) -> None:
    before = skirt([width, width * grow], sag=sag)
    kept, drawn = ends
    after, moved = levelled(before, "hem", kept)
    hem = line_of(after, "hem")
    assert faults(after) == []
    corner = line_of(before, kept)[:, 0 if kept == "side" else -1]
    np.testing.assert_allclose(hem[..., 1], np.broadcast_to(corner[:, 1:2], hem.shape[:2]), atol=1e-6)
    np.testing.assert_allclose(moved, np.abs(line_of(before, "hem")[..., 1] - corner[:, 1:2]).max(axis=1), atol=0.5)
    for edge in (kept, "waistline"):
        np.testing.assert_array_equal(line_of(after, edge), line_of(before, edge))
    way = line_of(before, drawn)[:, -1] - line_of(before, drawn)[:, 0]
    new = line_of(after, drawn)[:, -1] - line_of(after, drawn)[:, 0]
    np.testing.assert_allclose(way[:, 0] * new[:, 1] - way[:, 1] * new[:, 0], 0.0, atol=1e-4)  # straight on
    same(levelled(after, "hem", kept)[0], after, 1e-6)
    assert names_of(after) == names_of(before) == names_of(levelled(before.sketch(), "hem", kept)[0])
    if drawn == "centre":  # the skirt is drawn 15 mm shorter at its side
        np.testing.assert_allclose(edge_length(before, drawn) - edge_length(after, drawn), 15.0, atol=1e-6)


def test_an_edge_that_leads_nowhere_near_is_told() -> None:
    with pytest.raises(Trouble, match="does not lead to that level"):
        levelled(front(), "neckline", "centre")
