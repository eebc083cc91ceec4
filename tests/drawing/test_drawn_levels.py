"""Levels of the body as they are drawn: their line, their name, and the tick where they meet a seam."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
import shapely
from godet.drawing.levels import level_lines, level_sides
from godet.drawing.lines import flat
from godet.drawing.marks import Drawing, Label, Line
from godet.drawing.piece import plain_piece
from godet.drawing.wording import Levels, PieceInfo
from godet.finish.finished import finished
from godet.geometry.path import line
from godet.pattern.piece import Piece, Side, Sign
from hypothesis import given, settings
from hypothesis import strategies as st
from support.drawn_pieces import front, points


def levelled(heights: Mapping[str, tuple[float, ...]]) -> Piece:
    """A front with levels from its centre to the straight side; that runs from (240, 5) to (250, 210)."""
    lines: list[Side] = []
    for name, ends in heights.items():
        right = 240.0 + 10.0 * (ends[0] - 5.0) / 205.0
        at = points((0.0, ends[0]), (right, ends[0]))
        lines.append(Side((name,), line(at[:, 0], at[:, 1])))
    return replace(front(), lines=tuple(lines), signs={name: Sign("level", level=name) for name in heights})


def drawn(piece: Piece, how: Levels = "light") -> Drawing:
    seams = {"side": "side seam", "shoulder": "shoulder"}
    info = PieceInfo("front", "Top", "alto 3", "3f9c1a", 1, 2, seam_names=seams, fold="centre front", levels=how)
    return plain_piece(finished(piece), info).worded()


def of(drawing: Drawing, name: str) -> tuple[list[Line], list[Label]]:
    return (
        [mark for mark in drawing.marks if isinstance(mark, Line) and mark.source == name],
        [mark for mark in drawing.marks if isinstance(mark, Label) and mark.source == name],
    )


@settings(max_examples=20, deadline=None)
@given(st.lists(st.floats(20.0, 200.0), min_size=1, max_size=6, unique_by=lambda y: round(y / 6.0)))
def test_no_level_runs_through_words_nor_a_name_over_others(heights: list[float]) -> None:
    drawing = drawn(levelled({f"level_{k}": (y,) for k, y in enumerate(heights)}))
    texts = [shapely.Polygon(mark.box) for mark in drawing.marks if isinstance(mark, Label)]
    strokes = [shapely.LineString(mark.points) for mark in drawing.marks if isinstance(mark, Line) and mark.layer == "level"]
    assert len(strokes) >= 2 * len(heights)
    for k, text in enumerate(texts):
        assert not any(text.intersects(stroke) for stroke in strokes)
        assert not any(text.intersection(other).area > 1e-9 for other in texts[:k])


def test_a_level_has_its_name_and_a_tick_at_the_seam_and_none_at_the_fold() -> None:
    """The side leans 10 in 205; the tick is 4 mm long, 3 mm inside it, square to the level."""
    lines, names = of(drawn(levelled({"bust": (150.0,)})), "bust")
    assert [label.text for label in names] == ["bust"]
    (tick,) = [mark for mark in lines if mark.solid]
    right = 240.0 + 10.0 * 145.0 / 205.0
    assert tick.points[:, 0] == pytest.approx([right - 3.0] * 2)
    assert sorted(tick.points[:, 1]) == pytest.approx([148.0, 152.0])
    reach = np.concatenate([mark.points for mark in lines if not mark.solid])
    assert (reach[:, 0].min(), reach[:, 0].max()) == pytest.approx((0.0, right))


def test_levels_are_light_strong_or_not_drawn() -> None:
    piece = levelled({"bust": (150.0,)})
    layers = {how: {mark.layer for mark in of(drawn(piece, how), "bust")[0]} for how in ("light", "strong", "none")}
    assert layers == {"light": {"level"}, "strong": {"level_strong"}, "none": set()}
    assert not of(drawn(piece, "none"), "bust")[1]


def test_an_edge_sewn_to_nothing_has_no_tick() -> None:
    piece = levelled({"bust": (150.0,)})
    marks = plain_piece(finished(piece), PieceInfo("front")).worded().marks
    assert not [mark for mark in marks if isinstance(mark, Line) and mark.source == "bust" and mark.solid]


def test_no_level_is_drawn_beyond_the_cloth() -> None:
    """One that runs 100 mm over the side, as after the side was taken in."""
    at = points((0.0, 150.0), (347.0, 150.0))
    piece = replace(front(), lines=(Side(("bust",), line(at[:, 0], at[:, 1])),), signs={"bust": Sign("level", level="bust")})
    reach = np.concatenate([mark.points for mark in of(drawn(piece), "bust")[0]])
    assert reach[:, 0].max() == pytest.approx(240.0 + 10.0 * 145.0 / 205.0, abs=1.0)


def test_a_part_of_a_level_that_words_cover_is_not_drawn() -> None:
    """As between the cuts of a puff, where a part is shorter than its words."""
    at = points((40.0, 150.0), (46.0, 150.0))
    piece = replace(front(), lines=(Side(("bust",), line(at[:, 0], at[:, 1])),), signs={"bust": Sign("level", level="bust")})
    words = Label("a long row of words", np.array([30.0, 147.0]), 6.0)
    assert level_lines(piece, [words], "light") == []


def test_a_level_bends_where_a_panel_was_turned_and_nowhere_else() -> None:
    """In four parts that meet: the first two in line, the last two as well, turned about the place where they meet."""
    corners = [(0.0, 100.0), (40.0, 100.0), (90.0, 100.0), (120.0, 110.0), (150.0, 120.0)]
    parts = [points(one, other) for one, other in itertools.pairwise(corners)]
    lines = tuple(Side(("bust",), line(at[:, 0], at[:, 1])) for at in parts)
    ((_, side),) = level_sides(replace(front(), lines=lines, signs={"bust": Sign("level", level="bust")}))
    assert flat(side.drawn) == pytest.approx(np.array([corners[0], corners[2], corners[4]]), abs=1e-9)


def parts_of(*runs: tuple[tuple[float, float], tuple[float, float]]) -> Piece:
    """The front with one level in several parts."""
    lines = tuple(Side(("hip",), line(at[:, 0], at[:, 1])) for at in (points(*run) for run in runs))
    return replace(front(), lines=lines, signs={"hip": Sign("level", level="hip")})


FAR = [Label("far from all", np.array([900.0, 900.0]), 3.5)]


def strokes_of(piece: Piece) -> list[list[list[float]]]:
    found = [mark for mark in level_lines(piece, FAR, "light") if isinstance(mark, Line)]
    return [np.round(mark.points, 3).tolist() for mark in found]


def test_a_level_that_cloth_let_in_has_parted_is_drawn_whole() -> None:
    """As over a dart left as flare: the second part turned by 6 degrees and 15 mm farther on."""
    assert strokes_of(parts_of(((0, 150), (100, 150)), ((115, 151), (200, 160)))) == [
        [[0.0, 150.0], [100.0, 150.0], [115.0, 151.0], [200.0, 160.0]]
    ]


def test_a_scrap_of_a_level_is_left_out_and_what_ends_near_an_edge_carried_on_to_it() -> None:
    """The scrap lies square to a stroke from the parts beside it; the last part ends 6 mm before the side, that truing moved."""
    (first, last) = strokes_of(parts_of(((0, 150), (80, 150)), ((90, 180), (140, 180)), ((150, 150), (241, 150))))
    assert first == [[0.0, 150.0], [80.0, 150.0]]
    assert last[0] == [150.0, 150.0]
    assert last[-1][0] == pytest.approx(240.0 + 10.0 * 145.0 / 205.0, abs=0.01)
