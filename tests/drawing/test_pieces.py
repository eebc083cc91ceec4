"""What is drawn of a piece, and that no letter stands on a line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import shapely
from godet.drawing.lines import flat
from godet.drawing.marks import STYLES, Circle, Curve, Drawing, Label, Line, Mark
from godet.drawing.piece import plain_piece
from godet.drawing.room import Room
from godet.drawing.signs import readable
from godet.drawing.wording import Gather, PieceInfo, allowance_words, cut_words, measure
from godet.finish.finished import finished
from godet.geometry.path import Path, line
from godet.pattern.piece import CutOrder, Dart, Finish, Piece, Side, Sign
from hypothesis import given
from hypothesis import strategies as st
from support.drawn_pieces import band, bent, front, loop, panel_with_hole, points, polygon, top, wide

SEAMS = {"side": "to back side", "left_side": "to back left side", "neckline": "to facing", "outer": "to neckline"}


def drawn(piece: Piece, name: str = "front") -> Drawing:
    return plain_piece(finished(piece), info_of(name)).worded()


def info_of(name: str) -> PieceInfo:
    return PieceInfo(
        name,
        "Concert top",
        "alto 3",
        "3f9c1a",
        number=3,
        many=7,
        seam_names=SEAMS,
        gathers=(Gather("right_underarm", 0.0, 1e6, "gather to 18 cm"),),
        fold="centre front",
        estimated=("scye depth",),
    )


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
    found = labels(drawn(front()))
    assert [label.height for label in found if label.text == "3 front"] == [7.0]
    said = " ".join(label.text for label in found)
    for text in (
        "cut 1 on the fold, in shell",
        "alto 3, piece 3 of 7",
        "allowance included: seams 1 cm, neckline 0.6 cm, waistline 2 cm",
        "not measured: scye depth",
        "to back side",
        "centre front, on the fold",
        "version 3f9c1a",
    ):
        assert text in said


def test_a_label_stands_upright_in_short_rows_and_no_text_on_its_head() -> None:
    for piece in (front(), top()):
        found = labels(drawn(piece))
        assert all(-90.0 < label.angle <= 90.0 for label in found)
        rows = [label for label in found if label.source == "3  front"]
        assert len(rows) > 5
        assert all(label.angle == 0.0 and label.width <= 110.0 for label in rows)


def test_a_label_keeps_clear_of_where_pages_are_joined() -> None:
    """Wherever the joints fall, as long as there is another place."""
    plain = plain_piece(finished(front()), info_of("front"))
    for x, y in ((60.0, 100.0), (120.0, 200.0), (180.0, 300.0)):
        lines = [np.array([[x, -50.0], [x, 450.0]]), np.array([[-50.0, y], [300.0, y]])]
        words = labels(plain.worded(lines))
        assert len(words) > 8
        for joint in lines:
            assert not [label.text for label in words if shape_of(label).distance(shapely.LineString(joint)) < 3.0]


def test_a_label_runs_along_a_curved_band_that_has_no_other_room() -> None:
    """A ring of 26 mm about a circle of 100: words turn with it and are read from one side, few rows of them; what else there
    is to say stands in its hollow, at the end of a leader."""
    at = np.radians(np.linspace(200.0, 340.0, 3))
    inner, outer = (np.stack([radius * np.cos(at), radius * np.sin(at)], axis=-1) for radius in (100.0, 126.0))
    along = bent(outer[None], (-np.sin(at[0]), np.cos(at[0])), (-np.sin(at[-1]), np.cos(at[-1])))
    back = bent(inner[None, ::-1], (np.sin(at[-1]), -np.cos(at[-1])), (np.sin(at[0]), -np.cos(at[0])))
    ends = [line(outer[None, -1], inner[None, -1]), line(inner[None, 0], outer[None, 0])]
    ring = (Side(("outer",), along), Side(("end",), ends[0]), Side(("inner",), back), Side(("start",), ends[1]))
    drawing = drawn(Piece(ring, finish=Finish(grain=np.array([1j]), cuts=(CutOrder(2, "shell", True),))), "neck facing")
    own = [label for label in labels(drawing) if label.source == "3  neck facing"]
    cloth = shapely.Polygon(drawing.outline)
    texts = [label for label in own if cloth.contains(shape_of(label))]
    beside = [label for label in own if label not in texts]
    assert len({round(label.angle) for label in texts}) > 3
    assert np.ptp([label.angle for label in texts]) < 90.0
    assert {"facing", "mirrored,"} <= {label.text for label in texts}
    assert not any(cloth.intersects(shape_of(label)) for label in beside)
    assert all(shapely.box(*cloth.bounds).contains(shape_of(label)) and label.angle == 0.0 for label in beside)
    assert {"not measured: scye depth", "version 3f9c1a"} <= {label.text for label in beside}
    (leader,) = (mark for mark in drawing.marks if isinstance(mark, Line) and mark.layer == "frame")
    assert [bool(cloth.contains(shapely.Point(end))) for end in leader.points] == [False, True]


def test_no_row_along_a_strip_is_so_long_that_nobody_reads_it() -> None:
    strip = polygon(((0, 0), (30, 0), (30, 900), (0, 900)), ("end", "outer", "other_end", "inner"), {"seams": wide(6.0)})
    found = [label for label in labels(drawn(strip, "strip")) if label.source == "3  strip"]
    assert len(found) > 2
    assert all(label.width <= 150.0 for label in found)


@given(st.floats(-10, 10))
def test_readable_angles(turn: float) -> None:
    angle = readable(np.array([np.cos(turn), np.sin(turn)]))
    assert -90.0 < angle <= 90.0 + 1e-5
    assert abs(np.sin(np.radians(angle) - turn)) < 1e-9


def test_what_finds_no_room_on_a_piece_stands_beside_it() -> None:
    drawing = drawn(loop(), "loop")
    outline = shapely.Polygon(drawing.outline)
    texts = [label for label in labels(drawing) if label.source == "3  loop"]
    beside = [label for label in texts if not outline.intersects(shape_of(label))]
    assert " ".join(label.text for label in texts).startswith("3 loop")
    assert beside[0].text == "3 loop"
    assert all(label.height >= 2.5 for label in texts)
    said = " ".join(label.text for label in texts)
    for text in ("allowance included: seams 0.6 cm", "not measured: scye depth", "Concert top", "alto 3, piece 3 of 7"):
        assert text in said


def test_a_piece_too_small_for_its_name_has_it_beside_it() -> None:
    drawing = drawn(polygon(((0, 0), (9, 0), (9, 8), (0, 8)), ("a", "b", "c", "d"), {}), "tab")
    name, *rest = labels(drawing)
    assert name.text == "3 tab"
    assert "Concert top" in {label.text for label in rest}
    assert 0.0 < shapely.Polygon(drawing.outline).distance(shape_of(name)) < 10.0


def test_a_front_whose_cut_line_crossed_itself_is_not_cut_along_its_fold() -> None:
    """An allowance of 120 mm fills the neckline, so that the cut line is that of the cloth laid together."""
    wide_neck = {"seams": wide(10.0), "neckline": wide(120.0)}
    piece = front(allowances=wide_neck)
    assert finished(piece).patched.all()
    drawing = drawn(piece)
    folds = [mark for mark in drawing.marks if isinstance(mark, Line) and mark.layer == "fold"]
    (fold,) = [mark for mark in folds if not (mark.solid or mark.closed)]
    cuts = [shape_of(mark) for mark in drawing.marks if mark.layer == "cut"]
    line_ = shapely.LineString(fold.points)
    assert not [cut for cut in cuts if cut.intersection(line_.buffer(0.1)).length > 1.0]
    assert float(np.ptp(fold.points[:, 1])) > 340.0


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


def test_the_fold_line_of_a_hem_runs_to_the_cut_edge_at_both_its_ends() -> None:
    drawing = drawn(top())
    cut = shapely.LinearRing(drawing.outline)
    ends = [mark.points[1] for mark in drawing.marks if isinstance(mark, Line) and mark.layer == "hem_fold"]
    assert len(ends) == 6  # the hem meets itself in the middle, where it goes on
    assert all(cut.distance(shapely.Point(end)) < 1e-6 for end in ends)


def test_the_fold_line_of_a_hem_ends_at_a_dart_in_it_and_goes_on_behind() -> None:
    darted = front(allowances={"seams": wide(10.0), "waistline": wide(60.0, "shaped_to_fold")})
    marks = [mark for mark in drawn(darted).marks if mark.layer == "hem_fold" and mark.source == "waistline"]
    assert sum(isinstance(mark, Curve) for mark in marks) == 2
    legs = shapely.MultiPoint([side.drawn.start[0] for dart in darted.darts for side in darted.sides(dart.first)])
    legs = legs.union(shapely.MultiPoint([side.drawn.end[0] for dart in darted.darts for side in darted.sides(dart.second)]))
    assert all(legs.distance(shapely.Point(mark.points[0])) > 1.0 for mark in marks if isinstance(mark, Line))


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
    piece = Piece((), finish=Finish(cuts=(CutOrder(count, "lining", mirrored, up),)))
    assert cut_words(piece) == (words,)


def test_measures_in_words() -> None:
    assert measure(6.0, "cm") == "0.6 cm"
    assert measure(15.875, "in") == "5/8 in"
    assert measure(38.1, "in") == "1 1/2 in"
    assert measure(25.4, "in") == "1 in"
    assert measure(10.0, "in") == "3/8 in"
    assert measure(0.0, "in") == "0 in"
    assert measure(15.0, "in") == "9/16 in"
    gone = {"hem": wide(30.0), "seams": wide(10.0), "a_neckline_cropped_away": wide(6.0)}  # its label does not speak of that
    assert allowance_words(top(allowances=gone), "cm") == "allowance included: seams 1 cm, hem 3 cm"
    turned = {
        "seams": wide(10.0),
        "hem": replace(wide(30.0), under=np.array([8.0])),
        "right_side": wide(10.0),
        "neckline": wide(0.0),
    }
    assert allowance_words(top(allowances=turned), "cm") == (
        "allowance included: seams 1 cm, hem 3 cm, 0.8 cm of it turned under, neckline none"
    )
    assert allowance_words(top(allowances={}), "cm") == "no allowance included"


def test_a_cloth_with_a_nap_has_a_grain_that_points_one_way() -> None:
    """Both heads without one; with one, a single head at the end the grain runs to."""
    heads = {}
    for nap in (False, True):
        marks = plain_piece(finished(front()), PieceInfo("front", nap=nap)).worded().marks
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
    gather = Gather(next(iter(names)), 0.0, 1e6, "gather to 18 cm")
    drawing = plain_piece(finished(piece), PieceInfo("piece", seam_names=names, gathers=(gather,))).worded()
    said = " ".join(label.text for label in labels(drawing)) + drawing.listed
    for text in ("gather to 18 cm", *(names[side.names[-1]] for side in piece.ring if side.edge != piece.fold)):
        assert text in said
    assert [mark for mark in drawing.marks if mark.layer == "grain"]


def test_a_grain_without_room_is_shown_beside_the_piece() -> None:
    tab = polygon(((0, 0), (18, 0), (18, 20), (0, 20)), ("base", "outer", "top", "inner"), {"seams": wide(6.0)})
    drawing = drawn(tab, "tab")
    grain = [shape_of(mark) for mark in drawing.marks if mark.layer == "grain"]
    assert len(grain) == 3
    assert not any(shapely.Polygon(drawing.outline).intersects(one) for one in grain)
    assert not any(one.intersects(shape_of(label)) for one in grain for label in labels(drawing))


def test_cloth_lies_flat_beside_a_slit_that_runs_out_of_a_gathered_edge() -> None:
    """The hem of 300 is gathered, slit at 90 from its left: no wave from 80 to 100."""
    plain = polygon(((0, 0), (300, 0), (300, 400), (0, 400)), ("hem", "side", "top", "other"), {"seams": wide(10.0)})
    ends = points((90, 0), (90, 120))
    slit = Side(("slit",), line(ends[:, 0], ends[:, 1]))
    piece = replace(plain, lines=(slit,), signs={"slit": Sign("slit")})
    info = PieceInfo("sleeve", gathers=(Gather("hem", 0.0, 1e6, "gather to 20 cm"),))
    marks = plain_piece(finished(piece), info).worded().marks
    waves = [mark.points[:, 0] for mark in marks if isinstance(mark, Line) and mark.layer == "gather"]
    (first, second) = sorted(waves, key=lambda x: float(x.min()))
    assert 70.0 < first.max() < 80.0
    assert 100.0 < second.min() < 110.0


@pytest.mark.parametrize(("out", "cut_on"), [(215.0, False), (255.0, True)])
def test_a_dart_opened_to_an_edge_is_cut_up_to_its_end_where_one_side_is_longer(out: float, cut_on: bool) -> None:
    """Its sides part by 60 over 300: allowances of 10 meet well below its end, and nothing could be gathered above that."""
    at = points((0, 0), (170, 0), (185, 150), (200, 300), (out, 150), (230, 0), (400, 0), (400, 500), (0, 500))
    legs = ("lower_inner_leg", "inner_leg", "outer_leg", "lower_outer_leg")
    names = ("hem", *(f"dart.{leg}" for leg in legs), "hem", "side", "top", "other")
    ring = tuple(Side((names[i],), line(at[:, i], at[:, (i + 1) % 9])) for i in range(9))
    dart = Dart.named("dart", "hem", inner_first=True)
    drawing = drawn(Piece(ring, darts=(dart,), finish=Finish({"seams": wide(10.0)})))
    cuts = [mark for mark in drawing.marks if isinstance(mark, Line) and mark.layer == "cut" and not mark.closed]
    assert len(cuts) == cut_on
    for cut in cuts:
        assert shapely.Polygon(drawing.outline).exterior.distance(shapely.Point(cut.points[0])) < 1e-6
        assert np.linalg.norm(cut.points[1] - [200.0, 300.0]) == pytest.approx(6.0)
        assert np.linalg.norm(cut.points[0] - [200.0, 300.0]) > 40.0


def test_the_grain_lies_on_a_crease_that_runs_so() -> None:
    ends = points((150, 40), (150, 380))
    plain = polygon(((0, 0), (300, 0), (300, 400), (0, 400)), ("hem", "side", "top", "other"), {"seams": wide(10.0)})
    piece = replace(plain, lines=(Side(("crease",), line(ends[:, 0], ends[:, 1])),))
    stems = [mark.points for mark in drawn(piece).marks if isinstance(mark, Line) and mark.layer == "grain" and not mark.filled]
    assert [float(x) for stem in stems for x in stem[:, 0]] == pytest.approx([150.0, 150.0])


def test_a_line_inside_is_no_sewing_line() -> None:
    ends = points((150, 40), (150, 380))
    plain = polygon(((0, 0), (300, 0), (300, 400), (0, 400)), ("hem", "side", "top", "other"), {"seams": wide(10.0)})
    piece = replace(plain, lines=(Side(("crease",), line(ends[:, 0], ends[:, 1])),))
    (mark,) = (one for one in drawn(piece).marks if one.source == "crease" and isinstance(one, Curve))
    assert STYLES[mark.layer].dash
    assert not STYLES["sew"].dash


def test_words_of_one_thing_do_not_stand_beside_a_short_row_of_another() -> None:
    room = Room(np.array([[0.0, 0.0], [200.0, 0.0], [200.0, 200.0], [0.0, 200.0]]))
    rows = [Label("a long row of a label", np.array([50.0, 100.0]), 3.5), Label("short", np.array([50.0, 94.0]), 3.5)]
    room.take_rows(rows)
    assert not room.holds(Label("bust", np.array([80.0, 94.0]), 2.5).box)
    assert room.holds(Label("bust", np.array([80.0, 80.0]), 2.5).box)
