"""Every operation of fullness tells the lengths of the edges that opened: sewn before and after, and their ratio."""

from __future__ import annotations

import numpy as np
import pytest
from godet.jobs.outcome import outcomes
from godet.pattern.piece import OperationNote, Piece
from support.styles import LANGUAGE, stored


def told(feature: str, piece: str) -> dict[str, OperationNote]:
    """What is told of a piece of a feature's style, by edge, on the body of the tests."""
    prepared = stored(LANGUAGE / "features" / f"{feature}.style")
    assert prepared.style is not None
    node = prepared.style.names[piece]
    _, evaluated = outcomes(prepared, [node])
    made = evaluated.parts[0].values[node]
    assert isinstance(made, Piece)
    return {one.edge: one for one in made.told}


@pytest.mark.parametrize(
    ("piece", "edge", "before", "after"),
    [("fan", "hem", 240, 440), ("graded", "hem", 240, 440), ("graded", "top", 240, 340), ("wider", "top", 240, 300)],
)
def test_a_slash_tells_each_edge_that_opened(piece: str, edge: str, before: float, after: float) -> None:
    found = told("slash_places", piece)[edge]
    assert found.what == "slashed and spread"
    np.testing.assert_allclose([found.lengths["before"][0], found.lengths["after"][0]], [before, after], atol=1e-6)
    np.testing.assert_allclose(found.ratios["ratio"], after / before)


def test_an_edge_that_stays_shut_is_not_told() -> None:
    assert set(told("slash_places", "fan")) == {"hem"}


def test_pleats_tell_the_cloth_in_each_edge() -> None:
    found = told("pleats", "knife")
    assert {edge: one.what for edge, one in found.items()} == {"top": "knife pleats", "hem": "knife pleats"}
    lengths = {name: float(value[0]) for name, value in found["top"].lengths.items()}
    assert lengths == pytest.approx({"before": 240.0, "after": 240.0, "cloth": 320.0})
    assert float(found["hem"].lengths["after"][0]) == pytest.approx(320.0)  # it hangs free there
