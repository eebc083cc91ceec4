"""An edge that comes to a point where its piece is opened, or where a pair is sewn to itself, is told without a check."""

from __future__ import annotations

import pytest
from support.doubts import doubts

HALF = """
point {n}_a = starting_point
point {n}_b = starting_point outward 20 cm
point {n}_c = {n}_b up 20 cm
point {n}_d = starting_point up {high}
{kind} {n} {{
    line hem from {n}_a to {n}_b
    line side from {n}_b to {n}_c
    {top}
    line centre from {n}_d to {n}_a
{rows}}}
"""
CUT = "    grain up\n    allow 1 cm\n"
ON_FOLD = f"    fold centre\n    cut 1 on fold\n{CUT}"
CURVE, LINE = "curve top from {n}_c to {n}_d arriving toward ({n}_d inward 10 cm up {way})", "line top from {n}_c to {n}_d"


def half(n: str, top: str, high: str = "18 cm", rows: str = ON_FOLD, kind: str = "piece", way: str = "0 cm") -> str:
    """`way`: how far a curve rises over the last 10 cm that it is headed for."""
    return HALF.format(n=n, top=top.format(n=n, way=way), high=high, rows=rows, kind=kind)


@pytest.mark.parametrize(
    ("way", "said"),
    [("0 cm", ""), ("1.76 cm", "a peak"), ("-2.68 cm", "a V"), ("-0.2 cm", ""), ("-17 cm", "")],
    ids=["square", "rising", "falling", "trued by hand", "a sweetheart"],
)
def test_a_curve_that_crosses_the_fold_aslant_is_told(way: str, said: str) -> None:
    found = doubts("language 1\n" + half("front", CURVE, way=way), "W337")
    assert [said in one.message and "`front.top` comes to" in one.message for one in found] == [True] * bool(said)


@pytest.mark.parametrize(("high", "told"), [("20 cm", False), ("18 cm", True), ("12 cm", False)])
def test_a_line_that_slopes_a_little_is_told_one_that_slopes_more_is_a_point_that_is_meant(high: str, told: bool) -> None:
    assert bool(doubts("language 1\n" + half("front", LINE, high), "W337")) is told


def test_of_an_unfolded_piece_it_is_told_too() -> None:
    shape = half("half_front", CURVE, rows="    fold centre\n    worn left\n", kind="shape", way="-2.68 cm")
    (found,) = doubts(f"language 1\n{shape}piece front = unfold half_front across centre {{\n    cut 1\n{CUT}}}\n", "W337")
    assert found.message == "`front.top` comes to a V at `centre`, once the piece is opened there: 30 degrees off running on"


def test_edges_that_are_sewn_to_each_other_over_the_fold_are_told_once() -> None:
    yoke = half("yoke", "line top from yoke_c to yoke_d", "20 cm").replace(
        "line hem from yoke_a to yoke_b", "curve hem from yoke_a to yoke_b leaving toward (yoke_a outward 10 cm up 2.68 cm)"
    )
    text = f"language 1\n{yoke}{half('body', CURVE, '20 cm', way='2.68 cm')}"
    (found,) = doubts(f"{text}seam yoke_seam eases yoke.hem to body.top tolerance 2 cm\n", "W337")
    assert found.message.startswith("`yoke.hem` and `body.top` come to ")


@pytest.mark.parametrize(("low", "told"), [("12 cm", False), ("15 cm", True)])
def test_over_a_pointed_yoke_the_fold_must_run_on(low: str, told: bool) -> None:
    """The yoke's edge falls by 8 cm over 20 to the centre, the body's by as much, or by 5."""
    yoke = half("yoke", "line top from yoke_c to yoke_d", "20 cm").replace(
        "point yoke_a = starting_point", "point yoke_a = starting_point down 8 cm"
    )
    text = f"language 1\n{yoke}{half('body', LINE, low)}seam yoke_seam joins yoke.hem to body.top tolerance 3 cm\n"
    assert [one.data["of"] for one in doubts(text, "W338")] == [("yoke_seam", "yoke", "body")] * told
    assert doubts(text, "W337") == []


@pytest.mark.parametrize(("way", "told"), [("0 cm", False), ("-2.68 cm", True)])
def test_a_centre_seam_is_crossed_square_as_a_fold_is(way: str, told: bool) -> None:
    pair = half("back", CURVE, rows=f"    cut 2 as pair\n{CUT}", way=way)
    found = doubts(f"language 1\n{pair}seam centre_back joins back.centre to back.centre\n", "W337")
    assert ["where `centre_back` is sewn" in one.message for one in found] == [True] * told
