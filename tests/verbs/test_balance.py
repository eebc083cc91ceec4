"""Two edges measured each way from a balance point, darts closed."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.geometry.length import length
from godet.geometry.path import line
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from godet.pattern.edges import edge_length
from godet.pattern.named import PartEnd
from godet.pattern.outline import outline
from godet.pattern.piece import Piece
from godet.verbs.lines import part_between
from godet.verbs.points import on_edge
from godet.verbs.values import Edge
from hypothesis import given, settings
from hypothesis import strategies as st
from support.style_runs import PATTERNS, results

STYLE = Path(__file__).parent / "balanced_sleeve.style"


def darted(wide: list[float]) -> Piece:
    """A triangle whose lower edge is broken by a dart, for each width."""
    out = np.array(wide)
    corners = ((0, 0), (0.4, 0), (0.5, 90), (0.6, 0), (1, 0), (0.5, 200))
    at = [np.stack([out * x, np.full_like(out, y)], axis=1) for x, y in corners]
    names = ["low", "dart.inner_leg", "dart.outer_leg", "low", "right", "left"]
    sides = [(name, line(at[k], at[(k + 1) % 6]), k, (k + 1) % 6) for k, name in enumerate(names)]
    return outline(sides, legs=[("dart", "low")])


@settings(max_examples=25, deadline=None)
@given(st.floats(0.02, 0.98), st.sampled_from(["left", "right"]))
def test_it_is_as_far_along_as_the_point_was_laid_off_a_dart_on_the_way(share: float, end: str) -> None:
    edge = Edge(darted([200.0, 260.0, 310.0]), "low")
    far = share * edge_length(edge.piece, "low")
    np.testing.assert_allclose(far, share * 0.8 * np.array([200.0, 260.0, 310.0]))
    point = on_edge(edge, end, at=far)
    np.testing.assert_allclose(length(part_between(edge, PartEnd("end", end), PartEnd("point", value=point))), far, atol=1e-6)


def test_a_sleeve_is_eased_on_one_side_of_its_balance_point_alone() -> None:
    """Walked with its notches: nothing between the notch and the side, all the ease between the notch and the shoulder."""
    bodies = prepare(Disk(), str(STYLE), [str(PATTERNS / "bodies")]).bodies
    for one in results(STYLE, [body for body in bodies if body.sex == "F"]):
        assert not one.errors
        assert one.holds
        seam = next(seam for seam in one.seams if seam.name == "front_arm")
        # One of them is the head of the sleeve at the shoulder seam.
        (pair,) = (found for found in seam.notches if 1.0 < found.left_mm < seam.left_mm - 1.0)
        ease = seam.left_mm - seam.right_mm
        assert ease > 5.0
        assert sorted((pair.left_mm - pair.right_mm, ease - pair.left_mm + pair.right_mm)) == pytest.approx([0.0, ease], abs=1e-3)
