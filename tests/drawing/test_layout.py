"""Plates and pages: nothing overlaps, nothing is lost, nothing crosses pages without need."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely
from godet.drawing.arrange import GAP, Title, arrange
from godet.drawing.lettering import wrapped
from godet.drawing.marks import Drawing, Label, Line, Reals, extent
from godet.drawing.pages import MARGIN, PAPERS, Page, Pages, Paper, joints, page_name, paginate
from godet.drawing.piece import plain_piece
from godet.drawing.wording import PieceInfo
from godet.finish.finished import finished
from hypothesis import given, settings
from hypothesis import strategies as st
from support.drawn_pieces import band, front, loop, top

TITLE = Title("Concert top", "alto 3")


def drawings() -> tuple[Drawing, ...]:
    pieces = {"front": front(), "whole top": top(), "band": band(), "loop": loop()}
    return tuple(plain_piece(finished(piece), PieceInfo(name)).worded() for name, piece in pieces.items())


def block(name: str, width: float, height: float) -> Drawing:
    ring = np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])
    return Drawing(name, (Line("cut", ring, closed=True),), ring)


def box(drawing: Drawing) -> shapely.Geometry:
    return shapely.box(*drawing.bounds)


sizes = st.lists(st.tuples(st.floats(20, 700), st.floats(20, 900)), min_size=1, max_size=9)


@settings(max_examples=30)
@given(sizes)
def test_pieces_on_a_plate_keep_their_distance_and_lie_on_it(measures: list[tuple[float, float]]) -> None:
    sheet = arrange([block(str(i), *size) for i, size in enumerate(measures)], TITLE)
    plate = shapely.box(GAP, GAP, sheet.width - GAP, sheet.height - GAP).buffer(1e-6)
    frame = shapely.MultiPoint(np.concatenate([extent(mark) for mark in sheet.frame])).envelope
    assert plate.contains(frame)
    for drawing in sheet.drawings:
        assert plate.contains(box(drawing))
        assert box(drawing).distance(frame) > GAP - 1e-6
    for a, b in combinations(sheet.drawings, 2):
        assert box(a).distance(box(b)) > GAP - 1e-6


def test_a_plate_carries_the_caution_and_both_squares() -> None:
    sheet = arrange(drawings(), TITLE)
    texts = {mark.text for mark in sheet.frame if isinstance(mark, Label)}
    assert {"Concert top, alto 3", "Check the test square before cutting", "100 mm", "4 in"} <= texts
    squares = [np.ptp(mark.points, axis=0).tolist() for mark in sheet.frame if isinstance(mark, Line)]
    assert squares == [pytest.approx([100.0, 100.0]), pytest.approx([101.6, 101.6])]


def field(pages: Pages, page: Page) -> shapely.Geometry:
    """What a page shows, in the drawings' own place."""
    left, bottom, width, height = pages.window
    x, y = left - page.shift[0], bottom - page.shift[1]
    return shapely.box(x, y, x + width, y + height)


@pytest.mark.parametrize("paper", list(PAPERS))
def test_every_point_of_every_piece_is_on_some_page_at_its_place(paper: Paper) -> None:
    pages = paginate(drawings(), TITLE, paper)
    shown = shapely.union_all([field(pages, page) for page in pages.pages])
    for drawing in pages.drawings:
        for mark in drawing.marks:
            assert shown.buffer(1e-6).contains(shapely.MultiPoint(extent(mark)))
    first = pages.pages[0]
    for page in pages.pages[1:]:
        moved: Reals = page.shift - first.shift
        steps = moved / np.array([pages.width - 2 * MARGIN - 10.0, pages.height - 2 * MARGIN - 10.0])
        assert steps == pytest.approx([first.cell[1] - page.cell[1], page.cell[0] - first.cell[0]], abs=1e-9)


@settings(max_examples=30)
@given(sizes)
def test_a_piece_that_fits_on_one_page_lies_on_one(measures: list[tuple[float, float]]) -> None:
    blocks = [block(str(i), *size) for i, size in enumerate(measures)]
    pages = paginate(blocks, TITLE, "a4")
    for drawing, (width, height) in zip(pages.drawings, measures, strict=True):
        if width <= 178.0 and height <= 265.0:
            assert any(field(pages, page).buffer(1e-6).contains(box(drawing)) for page in pages.pages)
    for a, b in combinations(pages.drawings, 2):
        assert box(a).distance(box(b)) > 7.9
    for page in pages.pages:
        assert any(box(drawing).intersects(field(pages, page)) for drawing in pages.drawings)


def test_neighbouring_pages_show_the_same_strip_and_name_each_other() -> None:
    pages = paginate(drawings(), TITLE, "a4")
    by_name = {page.name: page for page in pages.pages}
    left, bottom, right, top_edge = (field(pages, by_name["A1"]).intersection(field(pages, by_name["A2"]))).bounds
    assert right - left == pytest.approx(10.0)
    assert top_edge - bottom == pytest.approx(277.0)
    for page in pages.pages:
        row, column = page.cell
        around = {(row, column - 1), (row, column + 1), (row - 1, column), (row + 1, column)}
        wanted = {other.name for other in pages.pages if other.cell in around}
        assert {mark.text for mark in page.marks if mark.source == "neighbour" and isinstance(mark, Label)} == wanted
        assert sum(mark.source == "match cross" for mark in page.marks) == 8


def test_empty_pages_are_left_out_and_hatched_in_the_map() -> None:
    pages = paginate([block("long", 600.0, 200.0), block("high", 150.0, 700.0)], TITLE, "a4")
    cells = {page.cell for page in pages.pages}
    rows, columns = (1 + max(cell[axis] for cell in cells) for axis in (0, 1))
    hatches = [mark for mark in pages.front[0] if isinstance(mark, Line) and mark.source == "map" and not mark.closed]
    assert len(cells) < rows * columns
    assert hatches


def test_the_front_page_carries_the_squares_the_cautions_and_the_unit_on_the_paper() -> None:
    for paper, (width, height) in PAPERS.items():
        pages = paginate(drawings(), TITLE, paper, ("Print at 100 %.",))
        texts = " ".join(mark.text for mark in pages.front[0] if isinstance(mark, Label))
        for words in ("Check the test square before cutting", "Print at 100 %.", "100 mm", "4 in", "centimetres", "A1"):
            assert words in texts
        inside = shapely.box(MARGIN, MARGIN, width - MARGIN, height - MARGIN).buffer(1e-6)
        assert all(inside.contains(shapely.MultiPoint(extent(mark))) for marks in pages.front for mark in marks)


def test_how_pages_are_joined_is_told_once_where_there_are_any_to_join() -> None:
    told = [
        sum("dashed" in mark.text for mark in pages.front[0] if isinstance(mark, Label))
        for pages in (paginate(drawings(), TITLE, "a4"), paginate([block("small", 50.0, 50.0)], TITLE, "a4"))
    ]
    assert told[0] >= 1
    assert told[1] == 0


def test_the_list_of_pieces_goes_on_as_far_as_it_is_long() -> None:
    """Each once, on the paper, over no other words."""
    for count in (3, 30, 90):
        many = [replace(block(f"part {k}", 40.0, 40.0), listed=f"part {k}: cut 2, one mirrored, in shell") for k in range(count)]
        pages = paginate(many, TITLE, "letter")
        texts = [mark for marks in pages.front for mark in marks if isinstance(mark, Label)]
        said = " ".join(mark.text for mark in texts) + " "
        assert all(said.count(f"part {k}: ") == 1 for k in range(count))
        for marks in pages.front:
            boxes = [shapely.Polygon(mark.box) for mark in marks if isinstance(mark, Label) and mark.source == "front"]
            assert not [1 for a, b in combinations(boxes, 2) if a.intersection(b).area > 1e-6]


def test_the_list_of_pieces_is_read_in_the_order_of_their_numbers() -> None:
    """Column for column from the left, each down the paper."""
    for paper in PAPERS:
        many = [replace(block(f"part {k}", 40.0, 40.0), listed=f"{k}  part: cut 2, in shell") for k in range(1, 13)]
        front = paginate(many, TITLE, paper).front[0]
        rows = [mark for mark in front if isinstance(mark, Label) and "part: cut" in mark.text]
        read = sorted(rows, key=lambda mark: (float(mark.at[0]), -float(mark.at[1])))
        assert [int(mark.text.split()[0]) for mark in read] == [*range(1, 13)]


def test_no_page_holds_words_alone() -> None:
    for page in (pages := paginate(drawings(), TITLE, "a4")).pages:
        assert any(shapely.Polygon(one.outline).intersects(field(pages, page)) for one in pages.drawings)


def test_the_joints_of_a_piece_are_where_its_pages_meet() -> None:
    """A block of 500 by 300 on A4 pages, which show 180 by 267 that no other shows."""
    (lines,) = joints([block("wide", 500.0, 300.0)], "a4")
    upright = sorted(float(line[0, 0]) for line in lines if line[0, 0] == line[1, 0])
    level = [float(line[0, 1]) for line in lines if line[0, 1] == line[1, 1]]
    assert np.diff(upright) == pytest.approx([180.0])
    assert upright[0] == pytest.approx(179.0)
    assert level == pytest.approx([300.0 - 266.0])


def test_page_names() -> None:
    assert [page_name(cell) for cell in ((0, 0), (1, 2), (25, 0), (26, 9))] == ["A1", "B3", "Z1", "AA10"]


@given(st.floats(12.0, 120.0))
def test_a_number_is_not_parted_from_its_fraction_and_unit(width: float) -> None:
    text = "allowance included: seams 1 cm, hem 1 9/16 in, sleeve hem 2.5 cm"
    lines = wrapped(text, 3.0, width)
    assert " ".join(lines) == text
    assert all(any(kept in line for line in lines) for kept in ("1 cm", "1 9/16 in", "2.5 cm"))


def test_the_name_of_a_page_stands_clear_of_the_pattern() -> None:
    """Cut lines run through the place at the foot of the page where its name would be: it is moved aside."""
    strips = [Line("cut", np.array([[x, 0.0], [x, 700.0]])) for x in (0.0, 10.0, 170.0)]
    pages = paginate([Drawing("strip", tuple(strips), np.array([[0.0, 0.0], [170.0, 0.0], [170.0, 700.0]]))], Title("Name"), "a4")
    assert len(pages.pages) >= 3
    (drawn,) = pages.drawings
    lines = [shapely.LineString(mark.points) for mark in drawn.marks if isinstance(mark, Line)]
    for page in pages.pages:
        names = [shapely.Polygon(m.box - page.shift) for m in page.marks if isinstance(m, Label) and m.source == "page"]
        assert names
        assert not any(name.intersects(line) for name in names for line in lines)
