"""What is drawn of a piece, and that no letter stands on a line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import shapely
from godet.drawing.lines import flat
from godet.drawing.marks import Circle, Curve, Drawing, Label, Line, Mark
from godet.drawing.piece import draw_piece
from godet.drawing.room import Room
from godet.drawing.signs import readable
from godet.drawing.wording import PieceInfo, allowance_words, cut_words, measure
from godet.geometry.path import Path
from godet.pattern.piece import Cut, Finish, Piece
from hypothesis import given
from hypothesis import strategies as st
from support.drawn_pieces import band, front, loop, panel_with_hole, polygon, top, wide

SEAMS = {"side": "to back side", "left_side": "to back left side", "neckline": "to facing", "outer": "to neckline"}


def drawn(piece: Piece, name: str = "front") -> Drawing:
    info = PieceInfo(
        name, "Concert top", "alto 3", "3f9c1a", SEAMS, {"right_underarm": "gather to 18 cm"}, ("scye depth",)
    )
    return draw_piece(piece, 0, info)


def labels(drawing: Drawing) -> list[Label]:
    return [mark for mark in drawing.marks if isinstance(mark, Label)]


def shape_of(mark: Mark) -> shapely.Geometry:
    match mark:
        case Line():
            points = np.concatenate([mark.points, mark.points[:1]]) if mark.closed else mark.points
            return shapely.LineString(points)
        case Curve():
            return shapely.LineString(flat(Path(mark.spans[None], mark.straight)))
        case Circle():
            return shapely.Point(mark.centre).buffer(mark.radius)
        case Label():
            return shapely.Polygon(mark.box)


@pytest.mark.parametrize("draft", [front, top, band, panel_with_hole])
def test_no_letter_touches_a_line_or_leaves_the_piece(draft: Callable[[], Piece]) -> None:
    drawing = drawn(draft())
    outline = shapely.Polygon(drawing.outline)
    texts = [shape_of(label) for label in labels(drawing)]
    lines = [shape_of(mark) for mark in drawing.marks if not isinstance(mark, Label)]
    assert len(texts) >= 3
    for k, text in enumerate(texts):
        assert outline.contains(text)
        assert not any(text.intersects(line) for line in lines)
        assert not any(text.intersects(other) for other in texts[:k])


def test_the_label_says_all_that_a_stranger_needs() -> None:
    texts = [label.text for label in labels(drawn(front()))]
    assert "front" in texts
    assert "cut 1 on the fold, in shell" in texts
    assert "allowance included: seams 1 cm, neckline 0.6 cm, waistline 2 cm" in texts
    assert "contains estimated: scye depth" in texts
    assert "to back side" in texts
    assert "on the fold" in texts
    assert next(label.height for label in labels(drawn(front())) if label.text == "front") == 7.0


def test_text_runs_along_the_grain_and_does_not_stand_on_its_head() -> None:
    assert all(-90.0 < label.angle <= 90.0 for piece in (front(), top()) for label in labels(drawn(piece)))
    name = next(label for label in labels(drawn(front())) if label.text == "front")
    assert name.angle == pytest.approx(90.0)


@given(st.floats(-10, 10))
def test_readable_angles(turn: float) -> None:
    angle = readable(np.array([np.cos(turn), np.sin(turn)]))
    assert -90.0 < angle <= 90.0 + 1e-5
    assert abs(np.sin(np.radians(angle) - turn)) < 1e-9


def test_a_piece_too_small_for_its_label_has_it_beside_it_with_a_leader() -> None:
    drawing = drawn(loop(), "loop")
    outline = shapely.Polygon(drawing.outline)
    leader = next(mark for mark in drawing.marks if isinstance(mark, Line) and mark.layer == "leader")
    assert outline.contains(shapely.Point(leader.points[1]))
    assert not any(outline.intersects(shape_of(label)) for label in labels(drawing))


def test_nothing_is_cut_along_a_fold() -> None:
    drawing = drawn(front())
    cuts = [shape_of(mark) for mark in drawing.marks if mark.layer == "cut"]
    assert len(cuts) == 1
    assert cuts[0].distance(shapely.Point(0.0, 150.0)) > 50.0
    fold = next(mark for mark in drawing.marks if isinstance(mark, Line) and mark.layer == "fold" and not mark.solid)
    assert sorted(fold.points[:, 1]) == pytest.approx([-20.0, 336.0])


def test_a_hem_is_drawn_as_the_fold_it_is() -> None:
    hems = [mark for mark in drawn(top()).marks if mark.layer == "hem_fold"]
    assert {mark.source for mark in hems} == {"left_hem", "right_hem", "left_sleeve_hem", "right_sleeve_hem"}


def test_sewing_lines_are_the_curves_themselves() -> None:
    piece = front()
    armhole = next(mark for mark in drawn(piece).marks if isinstance(mark, Curve) and mark.source == "armhole")
    assert armhole.spans == pytest.approx(piece.sides("armhole")[0].drawn.controls[0], abs=0)


def test_a_dart_has_an_open_circle_at_its_apex_and_a_drill_hole_set_back() -> None:
    circles = [mark for mark in drawn(front()).marks if isinstance(mark, Circle) and mark.layer == "dart"]
    assert [mark.centre.tolist() for mark in circles] == [pytest.approx([90.0, 120.0]), pytest.approx([90.0, 110.0])]
    both = [mark for mark in drawn(panel_with_hole()).marks if isinstance(mark, Circle)]
    assert sorted(mark.centre[1] for mark in both) == pytest.approx([80.0, 90.0, 290.0, 300.0])


def test_notches_have_their_strokes() -> None:
    """Those of its edges, and a snip at each leg of its dart."""
    sources = [mark.source for mark in drawn(front()).marks if mark.layer == "notch"]
    assert sorted(sources) == ["armhole", "side", "side", "waist_dart", "waist_dart"]


def test_the_grain_has_two_heads_and_its_direction() -> None:
    grain = [mark for mark in drawn(top()).marks if isinstance(mark, Line) and mark.layer == "grain"]
    assert [mark.filled for mark in grain] == [False, True, True]
    way = grain[0].points[1] - grain[0].points[0]
    assert way / np.linalg.norm(way) == pytest.approx([0.0, 1.0])


@pytest.mark.parametrize(
    "count, mirrored, up, words",
    [
        (2, True, False, "cut 2, one mirrored, in lining"),
        (1, False, True, "cut 1, face up, in lining"),
        (4, True, False, "cut 4, two mirrored, in lining"),
    ],
)
def test_how_many_to_cut_in_words(count: int, mirrored: bool, up: bool, words: str) -> None:
    piece = Piece((), finish=Finish(cuts=(Cut(count, "lining", mirrored, up),)))
    assert cut_words(piece) == words


def test_measures_in_words() -> None:
    assert measure(6.0, "cm") == "0.6 cm"
    assert measure(15.875, "in") == "5/8 in"
    assert measure(38.1, "in") == "1 1/2 in"
    assert measure(25.4, "in") == "1 in"
    assert measure(10.0, "in") == "0.394 in"
    assert allowance_words(Finish(allowances={"hem": wide(30.0), "seams": wide(10.0)}), "cm") == (
        "allowance included: seams 1 cm, hem 3 cm"
    )
    turned = {"seams": wide(10.0), "hem": replace(wide(30.0), under=np.array([8.0])), "side": wide(10.0), "neckline": wide(0.0)}
    assert allowance_words(Finish(allowances=turned), "cm") == (
        "allowance included: seams 1 cm, hem 3 cm, 0.8 cm of it turned under, neckline none"
    )
    assert allowance_words(Finish(), "cm") == "no allowance included"


def test_a_cloth_with_a_nap_has_a_grain_that_points_one_way() -> None:
    """Both heads without one; with one, a single head at the end the grain runs to."""
    heads = {}
    for nap in (False, True):
        marks = draw_piece(front(), 0, PieceInfo("front", nap=nap)).marks
        heads[nap] = [mark.points for mark in marks if isinstance(mark, Line) and mark.layer == "grain" and mark.filled]
    assert len(heads[False]) == 2
    assert len(heads[True]) == 1
    tips = [points[0] for points in heads[False]]
    grain = front().finish.grain
    assert grain is not None
    way = np.array([grain[0].real, grain[0].imag])
    assert heads[True][0][0] @ way == pytest.approx(max(tip @ way for tip in tips))


@pytest.mark.parametrize("draft", [front, top, band, loop, panel_with_hole])
def test_no_word_vanishes_for_want_of_room_and_the_grain_is_always_shown(draft: Callable[[], Piece]) -> None:
    piece = draft()
    names = {edge: f"sewn to the other {edge.replace('_', ' ')} all along its length" for edge in piece.edge_names()}
    drawing = draw_piece(piece, 0, PieceInfo("piece", seam_names=names, gathers=dict.fromkeys([*names][:1], "gather to 18 cm")))
    said = " ".join(label.text for label in labels(drawing))
    for text in ("gather to 18 cm", *(names[side.names[-1]] for side in piece.ring)):
        assert text in said
    assert [mark for mark in drawing.marks if mark.layer == "grain"]


def test_a_grain_without_room_is_shown_beside_the_piece() -> None:
    tab = polygon(((0, 0), (18, 0), (18, 20), (0, 20)), ("base", "outer", "top", "inner"), {"seams": wide(6.0)})
    drawing = drawn(tab, "tab")
    grain = [shape_of(mark) for mark in drawing.marks if mark.layer == "grain"]
    assert len(grain) == 3
    assert not any(shapely.Polygon(drawing.outline).intersects(one) for one in grain)
    assert not any(one.intersects(shape_of(label)) for one in grain for label in labels(drawing))


def test_a_leader_meets_the_nearest_part_of_a_piece_and_crosses_none() -> None:
    """A horseshoe, its left arm the wider: level with the middle of that arm the leader from the right ends in the right one."""
    shoe = np.array([(0, 0), (200, 0), (200, 100), (190, 100), (190, 20), (60, 20), (60, 100), (0, 100)], dtype=float)
    end = Room(shoe).right_side()
    assert 190.0 < end[0] < 200.0
