"""Wide darts are trimmed once they are sewn: what is drawn of that."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.drawing.marks import Line
from godet.drawing.trimming import LEFT, TRIMMED, is_trimmed, trim_marks
from godet.finish.finished import finished
from godet.pattern.piece import Allowance, Dart, Piece
from support.drawn_pieces import polygon


def darted(wide: float) -> Piece:
    """A square of 300 mm with a dart 150 mm long in the middle of its upper edge."""
    corners = ((0, 0), (300, 0), (300, 300), (150 + wide / 2, 300), (150, 150), (150 - wide / 2, 300), (0, 300))
    names = ("hem", "side", "waist", "dart.outer_leg", "dart.inner_leg", "waist", "centre")
    plain = polygon(corners, names, {"seams": Allowance(np.array([10.0]))})
    return replace(plain, darts=(Dart.named("dart", "waist", inner_first=False),))


@pytest.mark.parametrize(("wide", "lines"), [(TRIMMED - 1.0, 0), (TRIMMED + 1.0, 1), (100.0, 1)])
def test_a_dart_is_trimmed_where_it_is_wide(wide: float, lines: int) -> None:
    piece = darted(wide)
    assert is_trimmed(piece, piece.darts[0]) is bool(lines)
    assert len(trim_marks(finished(piece), piece.darts[0])) == lines


def test_so_much_is_left_beside_each_leg() -> None:
    piece = darted(100.0)
    (mark,) = trim_marks(finished(piece), piece.darts[0])
    assert isinstance(mark, Line)
    for end, mouth in zip((mark.points[0], mark.points[-1]), ((200, 300), (100, 300)), strict=True):
        leg = np.array(mouth) - np.array([150, 150])
        for spot in (end, mark.points[1]):
            away = spot - np.array([150, 150])
            assert abs(leg[0] * away[1] - leg[1] * away[0]) / np.linalg.norm(leg) == pytest.approx(LEFT)
        assert end[1] > 300  # on to the cut edge
