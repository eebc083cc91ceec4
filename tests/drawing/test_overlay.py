"""The overlay of pieces as they were and as they are."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
import shapely
from godet.difference.cloth import compare
from godet.drawing.marks import Circle, Label, Line, Sheet
from godet.jobs.difference_overlay import overlay_of
from godet.output.svg import svg_text
from support.skirt_panel import body, cornered, panel, through

POCKET = [(0.0, 0.0), (40.0, 0.0), (40.0, 50.0), (0.0, 50.0)]


def sheet(by: float, only: str = "") -> Sheet | None:
    old = body({"front": panel(), "back": panel()})
    new = body({"front": cornered(hem_centre=(0, -by), hem_side=(250, -by)), "back": panel()})
    return overlay_of("Skirt", compare([old], [new]), old, new, only)


def lines(found: Sheet, layer: str) -> list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    return [mark.points for mark in found.marks if isinstance(mark, Line) and mark.layer == layer]


def words(found: Sheet) -> list[str]:
    return [mark.text for mark in found.marks if isinstance(mark, Label)]


def test_what_moved_is_drawn_and_what_did_not_is_told() -> None:
    found = sheet(20.0)
    assert found is not None
    assert [drawing.name for drawing in found.drawings] == ["front"]
    assert "hem 20.0 mm down, along the whole edge" in words(found)
    assert "Same on this body: back." in words(found)


def test_only_the_stretch_that_moved_is_thick() -> None:
    found = sheet(20.0)
    assert found is not None
    hem = max(lines(found, "moved"), key=lambda points: float(np.ptp(points[:, 0])))
    assert float(np.ptp(hem[:, 1])) == pytest.approx(0.0, abs=1e-6)
    beside = [points for points in lines(found, "moved") if np.ptp(points[:, 1]) > 1.0 and np.ptp(points[:, 0]) < 1e-6]
    scale = 250.0 / float(np.ptp(hem[:, 0]))
    # Of side and centre no more than what lies below the old hem.
    assert beside
    assert all(float(np.ptp(points[:, 1])) * scale <= 20.0 + 3.0 for points in beside)


def test_the_circle_shows_the_worst_place_at_true_size() -> None:
    found = sheet(20.0)
    assert found is not None
    assert "a: 20.0 mm, true size" in words(found)
    stems = [points for points in lines(found, "shift") if len(points) == 2]
    assert max(float(np.hypot(*(b - a))) for a, b in stems) == pytest.approx(20.0 - 1.5, abs=0.01)  # its head is filled


def test_nothing_is_drawn_where_nothing_moved_or_by_less_than_a_pencil_line() -> None:
    assert sheet(0.0) is None
    assert sheet(0.3) is None
    assert sheet(20.0, "back") is None
    assert sheet(20.0, "front") is not None


def test_a_new_piece_is_drawn_as_it_is_now_and_one_that_is_gone_as_it_was() -> None:
    old, new = body({"pocket": panel()}), body({"band": panel()})
    found = overlay_of("Skirt", compare([old], [new]), old, new)
    assert found is not None
    by_name = {drawing.name: {mark.layer for mark in drawing.marks} for drawing in found.drawings}
    assert "now" in by_name["band"]
    assert "was" not in by_name["band"]
    assert "was" in by_name["pocket"]
    assert "now" not in by_name["pocket"]


def test_no_words_stand_on_one_another_and_the_drawing_is_the_same_twice() -> None:
    old = body({"front": panel(), "back": panel(), "pocket": panel(POCKET)})
    lower = cornered(hem_centre=(0, -12), hem_side=(262, -9), waist_side=(247, 606))
    new = body({"front": lower, "back": through(panel(), "waistline", (60, 588)), "pocket": panel([*POCKET[:3], (0, 56)])})
    made = [overlay_of("Skirt", compare([old], [new]), old, new) for _ in range(2)]
    assert made[0] is not None
    assert made[1] is not None
    assert svg_text(made[0]) == svg_text(made[1])
    boxes = [shapely.Polygon(mark.box) for mark in made[0].marks if isinstance(mark, Label)]
    assert not any(one.buffer(-0.1).intersects(other) for one, other in itertools.combinations(boxes, 2))
    inside = shapely.box(0.0, 0.0, made[0].width, made[0].height)
    assert all(inside.contains(one) for one in boxes)
    assert not any(isinstance(mark, Circle) for mark in made[0].marks)
