"""The grain: straight, cross, bias, along an edge; and the names of a piece in its own block."""

from __future__ import annotations

import numpy as np
import pytest
from godet.graph.evaluate import evaluate
from godet.pattern.piece import Piece
from support.styles import said, written

STYLE = """language 1
style "S"

point a = starting_point
point b = starting_point outward 30 cm up 40 cm
point c = b up 30 cm
point d = starting_point up 30 cm

shape one {
    line hem from a to b
    line side from b to c
    line top from c to d
    line centre from d to a
    landmark inner called spot_of_patch
}

point inner = starting_point outward 5 cm up 20 cm
point e = inner outward 2 cm
point f = e up 2 cm
shape patch {
    line base from inner to e
    line outer from e to f
    line slant from f to inner
}

piece two = mirror one {
    cut 1
    STATED
}
"""


def two(stated: str) -> Piece:
    made = written(STYLE.replace("STATED", stated))
    assert made.style is not None, said(made)
    (part,) = evaluate(made.style, made.population).parts
    piece = part.values[made.style.pieces["two"]]
    assert isinstance(piece, Piece)
    return piece


@pytest.mark.parametrize(
    ("stated", "degrees"),
    [
        ("grain up", 90.0),
        ("grain outward", 0.0),
        ("grain up as cross", 180.0),
        ("grain up as bias", 135.0),
        ("grain along centre", 90.0),
        ("grain along hem", 180.0 - np.degrees(np.arctan2(40, 30))),  # the mirrored piece's own edge, not the draft's
        ("grain from hem at 1/2 from centre to top at 1/2 from centre", 90.0),
        ("grain from top at side to hem at 50 cm from side", 180.0 - np.degrees(np.arctan2(70, 30))),
        ("grain from hem at centre to top at side as cross", 270.0 - np.degrees(np.arctan2(70, 30))),
        ("grain along hem as cross", 270.0 - np.degrees(np.arctan2(40, 30))),
    ],
)
def test_grain(stated: str, degrees: float) -> None:
    grain = two(stated).finish.grain
    assert grain is not None
    assert np.degrees(np.angle(grain * np.exp(-1j * np.radians(degrees)))) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("stated", ["grain", "grain up along hem", "grain as bias"])
def test_a_direction_or_an_edge_is_wanted(stated: str) -> None:
    assert "the grain runs in one direction, along one edge" in said(written(STYLE.replace("STATED", stated)))


def test_from_a_spot_wants_a_spot_to_run_to() -> None:
    assert "from one spot to another" in said(written(STYLE.replace("STATED", "grain from hem at side")))
    nowhere = written(STYLE.replace("STATED", "grain from hem at side to side at hem"))
    assert "from a spot to itself" in said(nowhere)


def test_in_its_own_block_the_edges_and_points_of_a_piece_go_without_its_name() -> None:
    start = two("place patch by inner onto spot_of_patch called place").sides("place.base")[0].drawn.start
    assert start[0] == pytest.approx([-50.0, 200.0])  # the point of the mirrored piece, not of the draft
    assert "`spot_of_patch`" in said(written(STYLE.replace("STATED", "place patch by inner onto spot_of_pach called place")))
    assert "`hem`" in said(written(STYLE.replace("STATED", "grain up") + "\nlength x = length of hem\n"))
