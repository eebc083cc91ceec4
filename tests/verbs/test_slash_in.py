"""A cut from an edge to a dart's apex: what opens at the edge is taken from the dart."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.verbs.measuring import dart_angle
from godet.verbs.values import DartOf, Edge
from support.style_runs import PATTERNS, results

STYLE = """language 1
style "S"
use bodice from blocks/bodice
block base = bodice with bust_ease 8 cm
lines cut_in = slash_in base.front.shoulder at 1/2 from neckline to_apex_of bust_dart
shape opened = slash base.front along cut_in open_each_by 2 cm hinged_at bust_dart keeping centre
piece before = base.front {
    cut 1 on fold
}
piece after = opened {
    cut 1 on fold
}
"""


def test_the_dart_closes_by_the_angle_that_opens(tmp_path: Path) -> None:
    """By the chord: opening = 2 x cut x sin(angle / 2); the angles at one apex add up (geometry)."""
    from godet.jobs.files import Disk
    from godet.jobs.prepare import prepare

    style = tmp_path / "s.style"
    style.write_text(STYLE, "utf-8")
    bodies = prepare(Disk(), str(style), [str(PATTERNS / "bodies")]).bodies
    for result in results(style, bodies):
        before, after = (one.piece.take(np.array([one.lane])) for one in result.pieces)
        gap = Edge(after, "shoulder.gap_k1")
        assert float(gap.length()[0]) == pytest.approx(20.0, abs=0.01)
        apex = before.points["bust_point"]
        assert apex is not None
        cut = float(np.linalg.norm(gap.sides[0].drawn.start - apex))
        closed = dart_angle(DartOf(before, "bust_dart")) - dart_angle(DartOf(after, "bust_dart"))
        assert 2 * cut * np.sin(float(closed[0]) / 2) == pytest.approx(20.0, abs=0.01)
        grown = Edge(after, "shoulder").length() - Edge(before, "shoulder").length()
        assert float(grown[0]) == pytest.approx(20.0, abs=1e-6)
