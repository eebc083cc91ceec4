"""Matched corners of declared seams: the side that is pressed over the other is cut as that one lies beyond the seam."""

from __future__ import annotations

import numpy as np
import pytest
from godet.finish.finished import finished
from godet.jobs.outcome import outcomes
from godet.pattern.piece import Piece
from support.styles import said, written

# A front that leans out at the hem and a back that leans in, drafted to one side: the back is cut mirrored.
STYLE = """language 1
style "S"

point a = starting_point
point b = starting_point outward 30 cm down 6 cm
point c = starting_point outward 30 cm up 40 cm
point d = starting_point up 40 cm
point e = starting_point outward 30 cm up 3 cm

piece front {
    line hem from a to b
    line side from b to c
    line top from c to d
    line centre from d to a
    cut 1
    allow 1 cm
    allow 2 cm on hem
    allow 1 cm on side with_corners CORNER
}
piece back {
    line hem from a to e
    line side from e to c
    line top from c to d
    line centre from d to a
    cut 2 as pair
    allow 1 cm
    allow 2 cm on hem
    allow 1 cm on side with_corners CORNER
}
seam side_seam joins front.side to back.side tolerance 10 cm
"""


def pieces(corner: str) -> dict[str, Piece]:
    made = written(STYLE.replace("CORNER", corner))
    assert made.style is not None, said(made)
    (result,), _ = outcomes(made)
    return {one.name: one.piece for one in result.pieces}


def test_the_first_side_is_cut_as_the_other_lies_beyond_the_seam() -> None:
    found = pieces("matched")
    assert set(found["front"].finish.laid) == {("side", "hem"), ("side", "top")}
    assert not found["back"].finish.laid
    # The back's hem runs on from the side at its own slope, 1 in 10, and is cut 2 cm below: at 1 cm beyond the seam.
    line = found["front"].finish.laid["side", "hem"][0]
    slope = np.arctan2(3.0, 30.0)
    corner = np.array([300.0, -60.0])
    away = (line - corner) @ np.array([np.sin(-slope), -np.cos(slope)])
    assert away == pytest.approx([20.0] * len(line))
    cut = finished(found["front"]).closing[0]
    assert cut is not None
    below = -60.0 - 20.0 / np.cos(slope) - 10.0 * np.tan(slope)
    assert cut[0][np.argmax(cut[0][:, 0])] == pytest.approx([310.0, below], abs=1e-6)


@pytest.mark.parametrize("corner", ["mitred", "squared", "stepped", "bagged", "shaped_to_fold"])
def test_other_corners_are_left_alone(corner: str) -> None:
    front = pieces(corner)["front"]
    assert not front.finish.laid
    assert front.finish.allowances["side"].corner == corner
