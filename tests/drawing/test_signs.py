"""What is drawn for the signs of inner lines and points."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.drawing.marks import Circle, Curve, Drawing, Label, Line, Mark
from godet.drawing.piece import draw_piece
from godet.drawing.wording import PieceInfo
from godet.geometry.path import line
from godet.pattern.piece import Piece, Side, Sign
from support.drawn_pieces import front, points


def straight(names: tuple[str, ...], a: tuple[float, float], b: tuple[float, float]) -> Side:
    at = points(a, b)
    return Side(names, line(at[:, 0], at[:, 1]))


def signed() -> Piece:
    """A front with one of each sign."""
    lines = (
        straight(("hole", "hole.k1"), (20, 300), (40, 300)),
        straight(("vent",), (150, 200), (150, 260)),
        straight(("pleat.k1.fold",), (40, 20), (40, 120)),
        straight(("pleat.k1.line",), (60, 20), (60, 120)),
        straight(("pocket", "pocket.mouth"), (60, 240), (130, 240)),
        straight(("pocket", "pocket.outer"), (130, 240), (130, 180)),
    )
    signs = {
        "hole": Sign("buttonhole"),
        "vent": Sign("slit"),
        "pleat.k1.fold": Sign("fold", toward="pleat.k1.line"),
        "pleat.k1.line": Sign("placement"),
        "pocket": Sign("placement"),
        "button.k1": Sign("button"),
        "bust_point": Sign("drill"),
        "waist_dart": Sign("drill", np.array([25.0])),
    }
    spots = {"button.k1": np.array([[20.0, 260.0]]), "bust_point": np.array([[90.0, 150.0]]), "plain": np.array([[9.0, 9.0]])}
    return replace(front(), lines=lines, points=spots, signs=signs)


@pytest.fixture(scope="module")
def drawing() -> Drawing:
    return draw_piece(signed(), 0, PieceInfo("front"))


def of(drawing: Drawing, source: str) -> list[Mark]:
    """The strokes of a source; its label is text."""
    return [mark for mark in drawing.marks if mark.source == source and not isinstance(mark, Label)]


def test_a_buttonhole_is_a_bar_with_ends(drawing: Drawing) -> None:
    bars = [mark.points for mark in of(drawing, "hole.k1") if isinstance(mark, Line)]
    long = sorted((np.linalg.norm(bar[1] - bar[0]) for bar in bars), reverse=True)
    assert long == pytest.approx([20.0, 4.0, 4.0])


def test_a_button_is_a_crossed_circle_and_a_drill_hole_another(drawing: Drawing) -> None:
    circles = {
        source: next(mark for mark in of(drawing, source) if isinstance(mark, Circle)) for source in ("button.k1", "bust_point")
    }
    assert circles["button.k1"].centre == pytest.approx([20.0, 260.0])
    assert (circles["button.k1"].radius, circles["bust_point"].radius) == (4.0, 1.5)
    assert len(of(drawing, "button.k1")) == len(of(drawing, "bust_point")) == 3
    assert not of(drawing, "plain")


def test_a_slit_is_cut_and_a_fold_dashed(drawing: Drawing) -> None:
    assert {mark.layer for mark in of(drawing, "vent")} == {"cut"}
    assert len(of(drawing, "vent")) == 3
    fold = of(drawing, "pleat.k1.fold")
    assert [mark.layer for mark in fold if isinstance(mark, Curve)] == ["hem_fold"]


def test_the_drill_hole_of_a_dart_lies_as_far_back_as_stated(drawing: Drawing) -> None:
    """The dart of the front runs up to (90, 120), its middle upright."""
    centres = [tuple(mark.centre) for mark in of(drawing, "waist_dart") if isinstance(mark, Circle)]
    assert np.array(sorted(centres)) == pytest.approx(np.array([(90.0, 95.0), (90.0, 120.0)]))


def test_a_place_is_named_once_and_parts_of_pleats_and_holes_not_at_all(drawing: Drawing) -> None:
    texts = [mark.text for mark in drawing.marks if isinstance(mark, Label)]
    assert texts.count("pocket") == 1
    assert texts.count("vent") == 1
    assert not [text for text in texts if "hole" in text or "pleat" in text]
