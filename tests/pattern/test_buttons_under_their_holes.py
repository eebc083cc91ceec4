"""Buttons under the buttonholes of another piece: they meet when the two edges are laid on each other."""

from dataclasses import replace

import numpy as np
import pytest
from godet.geometry.motion import mirror_points, rotation
from godet.pattern.edges import rename
from godet.pattern.extend import extended
from godet.pattern.facing_marks import count_of, under
from godet.pattern.marks import Spacing, holes, places, with_lines
from godet.pattern.piece import Piece, Trouble
from godet.pattern.unfold import mirror
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import front, lanes, moved

law = settings(max_examples=25, deadline=None)


def holed(piece: Piece, edge: str, mark: str, count: int, inset: float, beyond: float) -> Piece:
    spacing = Spacing(edge, mark, count, lanes(15.0), lanes(20.0), lanes(inset))
    made = holes(piece, places(piece, spacing), lanes(20.0), lanes(beyond), None, spacing)
    return with_lines(piece, "buttonhole", {f"k{k}": one for k, one in enumerate(made, 1)}, "buttonhole", lanes(beyond))


@law
@given(
    st.sampled_from([("centre", "neckline"), ("centre", "waistline"), ("shoulder", "neckline"), ("side", "armhole")]),
    st.integers(2, 7),
    st.floats(8.0, 20.0),
    st.floats(0.0, 8.0),
    st.floats(-3.0, 3.0),
)
def test_on_the_mirrored_piece_they_are_mirror_images_wherever_it_lies(
    where: tuple[str, str], count: int, inset: float, beyond: float, turn: float
) -> None:
    edge, mark = where
    right = holed(front([1.0, 1.3]), edge, mark, count, inset, beyond)
    wanted = [place.at for place in places(right, Spacing(edge, mark, count, lanes(15.0), lanes(20.0), lanes(inset)))]
    motion = rotation(np.array([[30.0, -40.0]]), lanes(turn))
    left = mirror(replace(front([1.0, 1.3]), fold=None))
    for piece, back in ((left, None), (moved(left, motion), motion)):
        found = under(piece, edge, right, "buttonhole")
        axis = np.array([[0.0, 0.0]]), np.array([[0.0, 1.0]])
        for place, spot in zip(found, wanted, strict=True):
            there = mirror_points(*axis, spot)
            if back is not None:
                there = there @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
                shift = np.array([30.0, -40.0])
                there = there + shift - shift @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
            np.testing.assert_allclose(place.at, there, atol=1e-6)


def test_edges_of_two_lengths_and_of_no_common_end_are_told() -> None:
    right = holed(front(), "centre", "neckline", 3, 12.0, 3.0)
    assert count_of(right, "buttonhole") == (3, 3)
    with pytest.raises(Trouble, match="is not as long") as caught:
        under(extended(front(), "centre", "waistline", lanes(5.0)), "centre", right, "buttonhole")
    np.testing.assert_allclose(caught.value.figures["here"] - caught.value.figures["there"], 5.0)
    with pytest.raises(Trouble, match="meets no edge of the same name"):
        under(rename(front(), {"neckline": "a", "waistline": "b"}), "centre", right, "buttonhole")
    with pytest.raises(Trouble, match="no row of buttonholes"):
        count_of(right, "neckline")
