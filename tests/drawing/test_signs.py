"""What is drawn for the signs of inner lines and points."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.drawing.marks import Circle, Curve, Drawing, Label, Line, Mark
from godet.drawing.piece import plain_piece
from godet.drawing.wording import PieceInfo
from godet.finish.finished import finished
from godet.geometry.path import line
from godet.pattern.marks import with_slit
from godet.pattern.piece import Corner, Piece, Side, Sign
from support import drawn_pieces
from support.drawn_pieces import FRONT_ALLOWANCES, front, points


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
    return plain_piece(finished(signed()), PieceInfo("front")).worded()


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


def test_a_slit_is_cut_and_a_fold_dashed(drawing: Drawing) -> None:
    assert {mark.layer for mark in of(drawing, "vent")} == {"cut"}
    assert len(of(drawing, "vent")) == 3
    fold = of(drawing, "pleat.k1.fold")
    assert [mark.layer for mark in fold if isinstance(mark, Curve)] == ["hem_fold"]


def test_a_line_under_a_fold_is_not_drawn_again() -> None:
    """As a centre line on which a pleat was laid: there is no centre any more."""
    piece = signed()
    lines = (*piece.lines, straight(("middle",), (40, 120), (40, 20)), straight(("waist",), (40, 120), (90, 120)))
    found = plain_piece(finished(replace(piece, lines=lines)), PieceInfo("front")).worded()
    assert not [mark for mark in found.marks if mark.source == "middle"]
    assert of(found, "waist")


def slit_in_front(a: tuple[float, float], b: tuple[float, float], corner: Corner = "mitred") -> list[Mark]:
    """What is drawn of a slit from a to b; the waistline of the front runs from (0, 0) and has 20 mm of allowance."""
    stated = {**FRONT_ALLOWANCES, "waistline": drawn_pieces.wide(20.0, corner)}
    piece = with_slit(front(allowances=stated), "open", straight(("open",), a, b).drawn)
    marks = plain_piece(finished(piece), PieceInfo("front")).worded().marks
    return [m for m in marks if m.source == "open" and not isinstance(m, Label)]


@pytest.mark.parametrize(("corner", "back"), [("mitred", -1.0), ("shaped_to_fold", 1.0)])
def test_a_slit_goes_straight_on_through_the_allowance_but_mirrored_through_a_hem(corner: Corner, back: float) -> None:
    """From (50, 90) down to (30, 0), it leans 20 in 90; mirrored at a hem it leans back, down to 20 below."""
    marks = slit_in_front((50.0, 90.0), (30.0, 0.0), corner)
    assert {mark.layer for mark in marks} == {"cut"}
    (through,) = [m.points for m in marks if isinstance(m, Line) and m.points[0] == pytest.approx([30.0, 0.0])]
    assert through[1] == pytest.approx([30.0 + back * 20.0 * 20.0 / 90.0, -20.0])
    bars = [m for m in marks if isinstance(m, Line) and np.linalg.norm(m.points[1] - m.points[0]) == pytest.approx(4.0)]
    assert len(bars) == 1  # at its inner end alone


def test_a_slit_in_a_seam_is_left_unsewn_and_notched_where_it_begins() -> None:
    """The side runs straight from (240, 5) to (250, 210); the slit takes the lower half of it."""
    (bar,) = slit_in_front((245.0, 107.5), (240.0, 5.0))
    assert bar.layer == "inner"
    (notch,) = [one for one in with_slit(front(), "open", straight(("s",), (245, 107.5), (240, 5)).drawn).notches if one.stated]
    assert (notch.side, notch.at[0]) == (4, pytest.approx(np.hypot(5.0, 102.5)))


def test_the_drill_hole_of_a_dart_lies_as_far_back_as_stated(drawing: Drawing) -> None:
    """The dart of the front runs up to (90, 120), its middle upright."""
    centres = [tuple(mark.centre) for mark in of(drawing, "waist_dart") if isinstance(mark, Circle)]
    assert np.array(sorted(centres)) == pytest.approx(np.array([(90.0, 95.0), (90.0, 120.0)]))


def test_a_place_is_named_once_and_parts_of_pleats_and_holes_not_at_all(drawing: Drawing) -> None:
    texts = [mark.text for mark in drawing.marks if isinstance(mark, Label)]
    assert texts.count("pocket") == 1
    assert texts.count("vent") == 1
    assert not [text for text in texts if "hole" in text or "pleat" in text]


def test_a_landmark_is_a_light_cross_with_its_name(drawing: Drawing) -> None:
    arms = of(drawing, "plain")
    assert {mark.layer for mark in arms} == {"level"}
    assert [np.ptp(mark.points, axis=0).tolist() for mark in arms if isinstance(mark, Line)] == [[4.0, 0.0], [0.0, 4.0]]
    assert [mark.text for mark in drawing.marks if isinstance(mark, Label) and mark.source == "plain"] == ["plain"]


def test_all_tucks_have_arrows_however_narrow() -> None:
    """One of 3 mm as one of 30, their heads no longer than half of them."""
    lines: list[Side] = []
    signs: dict[str, Sign] = {}
    for k, wide in enumerate((3.0, 8.0, 30.0), 1):
        x = 40.0 * k
        lines += [straight((f"t.k{k}.fold",), (x, 20), (x, 90)), straight((f"t.k{k}.line",), (x + wide, 20), (x + wide, 90))]
        signs |= {f"t.k{k}.fold": Sign("fold", toward=f"t.k{k}.line"), f"t.k{k}.line": Sign("placement")}
    found = plain_piece(finished(replace(front(), darts=(), lines=tuple(lines), signs=signs)), PieceInfo("front")).worded()
    for k in (1, 2, 3):
        heads = [mark for mark in of(found, f"t.k{k}.fold") if isinstance(mark, Line) and mark.filled]
        assert len(heads) == 2
