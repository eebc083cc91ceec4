"""What is told of a change whose answer is known by arithmetic: every cell of the table of words."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.difference.cloth import compare
from godet.difference.figures import Figures
from godet.difference.telling import lines_of, rows_of
from godet.geometry.motion import mirror_path
from godet.geometry.path import line, reverse
from godet.pattern.piece import CutOrder, Notch, Piece, Side
from support.drawn_pieces import wide
from support.skirt_panel import ALLOWED, PANEL, body, compared, cornered, panel, through

MM = Figures()


def told(old: Piece, new: Piece, figures: Figures = MM) -> list[str]:
    return lines_of(compared(old, new), figures)


def test_a_hem_let_down_is_told_along_the_whole_edge_and_the_edges_beside_it_longer_there() -> None:
    assert told(panel(), cornered(hem_centre=(0, -20), hem_side=(250, -20))) == [
        "hem 20.0 mm down, along the whole edge",
        "side longer by 20.0 mm at the hem end",
        "centre longer by 20.0 mm at the hem end",
    ]


def test_a_hem_taken_up_makes_them_shorter() -> None:
    assert told(panel(), cornered(hem_centre=(0, 20), hem_side=(250, 20))) == [
        "hem 20.0 mm up, along the whole edge",
        "side shorter by 20.0 mm at the hem end",
        "centre shorter by 20.0 mm at the hem end",
    ]


def test_an_end_that_slides_along_its_edge_while_the_other_end_follows_moves() -> None:
    lines = told(panel(), cornered(waist_side=(250, 594), hem_side=(250, -4)))
    assert lines[:3] == [
        "side: waistline end 6.0 mm down",
        "waistline dips 6.0 mm at the side end",
        "hem dips 4.0 mm at the side end",
    ]
    assert lines[3:] == ["side shorter by 2.0 mm"]


def test_an_edge_from_side_to_side_rises_and_one_that_runs_up_and_down_goes_outward() -> None:
    assert "waistline rises 5.0 mm at the side end" in told(panel(), cornered(waist_side=(250, 605)))
    lines = told(panel(), cornered(hem_side=(260, 0)))
    assert set(lines) == {"hem longer by 10.0 mm at the side end", "side 10.0 mm outward at the hem end"}
    assert "side 10.0 mm inward at the hem end" in told(panel(), cornered(hem_side=(240, 0)))


def test_what_moves_within_an_edge_is_told_from_its_nearer_end() -> None:
    assert "waistline 10.0 mm down, 5.0 cm from the centre" in told(panel(), through(panel(), "waistline", (50, 590)))
    assert "waistline 10.0 mm down, in the middle" in told(panel(), through(panel(), "waistline", (125, 590)))


def test_a_way_has_the_names_of_both_its_parts() -> None:
    slanted = panel([(0, 0), (250, 0), (250, 500), (150, 600), (0, 600)], ("hem", "side", "shoulder", "neckline", "centre"))
    inner = np.array([230.0, 520.0]) - 10.0 / np.sqrt(2.0)
    assert "shoulder 10.0 mm down and inward, 2.8 cm from the side" in told(slanted, through(slanted, "shoulder", tuple(inner)))


def test_a_piece_without_a_centre_grows_larger_never_to_the_right() -> None:
    names = ("hem", "end", "top", "other_end")
    old, wider = panel(names=names), panel([(0, 0), (255, 0), (255, 600), (0, 600)], names)
    assert "end 5.0 mm larger, along the whole edge" in told(old, wider)
    assert "end 5.0 mm smaller, along the whole edge" in told(wider, old)


def test_both_halves_alike_are_told_once() -> None:
    names = ("hem", "left_side", "waistline", "right_side")
    old = through(panel([(-250, 0), (250, 0), (250, 600), (-250, 600)], names), "hem", (0, 0))
    new = through(panel([(-258, 0), (258, 0), (258, 600), (-258, 600)], names), "hem", (0, 0))
    middle = (Side(("centre",), line(np.array([[0.0, 0.0]]), np.array([[0.0, 600.0]]))),)
    lines = told(replace(old, lines=middle), replace(new, lines=middle))
    assert lines[0] == "hem longer by 16.0 mm at both ends"
    assert "left and right side 8.0 mm outward, along the whole edge" in lines
    assert not any(row.startswith(("left side", "right side")) for row in lines)


def test_pieces_are_new_and_gone() -> None:
    both = compare([body({"front": panel(), "pocket": panel()})], [body({"front": panel(), "band": panel()})])
    assert [(row.pieces, row.told) for row in rows_of(both)] == [(("band",), "new"), (("pocket",), "gone")]


def test_how_often_and_in_what_a_piece_is_cut() -> None:
    def cut(*orders: CutOrder) -> Piece:
        return replace(panel(), finish=replace(panel().finish, cuts=orders))

    assert told(cut(CutOrder(1)), cut(CutOrder(2, mirrored=True))) == ["cut 2 as pair, was 1"]
    assert told(cut(CutOrder(1)), cut(CutOrder(1), CutOrder(1, "lining"))) == ["cut 1 in lining, was not"]
    assert told(cut(CutOrder(1), CutOrder(1, "lining")), cut(CutOrder(1))) == ["no longer cut in lining, was 1"]


@pytest.mark.parametrize(
    ("grain", "words"),
    [
        (1.0, "grain turned by 90 degrees to the right"),
        (1j * np.exp(1j * np.radians(45.0)), "grain turned by 45 degrees to the left"),
        (-1j, "grain turned end for end"),
    ],
)
def test_the_grain_is_told_as_it_lies_on_the_piece(grain: complex, words: str) -> None:
    assert told(panel(), replace(panel(), finish=replace(panel().finish, grain=np.array([grain])))) == [words]


def test_a_piece_drawn_mirrored_is_told_as_that_and_as_nothing_else() -> None:
    slanted = panel([(0, 0), (250, 0), (220, 500), (150, 600), (0, 600)], ("hem", "side", "shoulder", "neckline", "centre"))
    axis = np.array([[0.0, 0.0]]), np.array([[0.0, 1.0]])
    sides = [replace(side, path=reverse(mirror_path(*axis, side.drawn))) for side in reversed(slanted.ring)]
    assert told(slanted, replace(slanted, ring=tuple(sides))) == ["drawn mirrored"]


def test_an_allowance_is_told_with_how_far_the_cut_edge_moves() -> None:
    narrow = panel(allowed={**ALLOWED, "hem": wide(10.0)})
    assert told(panel(), narrow) == ["hem allowed 1 cm, was 2 cm: cut edge moves 10.0 mm"]


def test_a_corner_made_otherwise_is_told_with_the_cut_line() -> None:
    shaped = panel(allowed={**ALLOWED, "hem": wide(20.0, "shaped_to_fold")})
    assert told(panel(), shaped) == ["hem with corners shaped to fold, were mitred"]


def test_less_than_a_pencil_line_is_one_line_and_less_than_anyone_can_cut_is_the_same() -> None:
    little = cornered(hem_centre=(0, -0.3), hem_side=(250, -0.3))
    assert told(panel(), little) == ["hem, side and centre: less than a pencil line (0.3 mm)"]
    assert compared(panel(), cornered(hem_centre=(0, -0.005), hem_side=(250, -0.005))).is_same


def test_inches_are_sixteenths_with_the_mm_behind() -> None:
    lines = told(panel(), cornered(hem_centre=(0, -12.7), hem_side=(250, -12.7)), Figures("in"))
    assert lines[0] == "hem 1/2 in (12.7 mm) down, along the whole edge"
    narrow = panel(allowed={**ALLOWED, "hem": wide(25.4)})
    assert told(narrow, panel(allowed={**ALLOWED, "hem": wide(12.7)}), Figures("in")) == [
        "hem allowed 1/2 in, was 1 in: cut edge moves 1/2 in (12.7 mm)"
    ]


def test_notches_are_matched_in_order_and_told_by_number_where_they_are_not_as_many() -> None:
    def notched(*at: float) -> Piece:
        return replace(panel(), notches=tuple(Notch(1, np.array([mm]), seam="sides") for mm in at))

    assert told(notched(100, 300), notched(120, 300)) == ["notches of side moved by 20.0 mm at most"]
    assert told(notched(31, 63, 94), notched(31, 63)) == ["2 notches on side at 3.1 cm, 6.3 cm, were 3 at 3.1 cm, 6.3 cm, 9.4 cm"]
    # Both have moved on to where the other was: nearest first would tell of none.
    assert told(notched(100, 200), notched(200, 300)) == ["notches of side moved by 100.0 mm at most"]


def test_a_notch_with_other_strokes_is_told() -> None:
    one, two = (replace(panel(), notches=(Notch(1, np.array([80.0]), strokes),)) for strokes in (1, 2))
    assert told(one, two) == ["notches of side of 2 strokes, were 1"]


def test_an_edge_with_another_name_in_its_place_is_the_same_edge() -> None:
    named = panel(names=("hem", "side_seam", "waistline", "centre"))
    assert told(panel(), named) == ["side is now side seam"]


def test_an_edge_that_becomes_a_line_inside_is_told() -> None:
    half = panel()
    whole = panel([(-250, 0), (250, 0), (250, 600), (-250, 600)], ("hem", "side", "waistline", "other_side"))
    middle = (Side(("centre",), half.sides("centre")[0].path),)
    lines = told(half, replace(whole, lines=middle, was_fold="centre"))
    assert {"no longer on the fold", "centre gone", "centre new", "hem longer by 250.0 mm at the centre end"} <= set(lines)
    assert any(line.startswith("other side new, as far as 250.0 mm off") for line in lines)


def test_an_edge_that_became_two_is_told_so() -> None:
    corners = [(0.0, 0.0), (100.0, 0.0), *PANEL[1:]]
    hems = {**ALLOWED, "outer_hem": wide(20.0), "inner_hem": wide(20.0)}
    parted = panel(corners, ("inner_hem", "outer_hem", "side", "waistline", "centre"), hems)
    assert told(panel(), parted) == ["hem is now inner hem and outer hem"]
    assert told(parted, panel()) == ["inner hem and outer hem are now hem"]
