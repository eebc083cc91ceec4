"""What holds by its numbers and does not close: told without a check being written."""

from __future__ import annotations

from dataclasses import replace

import pytest
from godet.bodies.body import Body
from godet.jobs.outcome import outcomes
from support.doubts import CUT, box, doubts
from support.styles import written

PAIR = CUT.replace("cut 1", "cut 2 as pair")
LEVEL = "line at_level from (starting_point up 15 cm) to (starting_point up 15 cm outward 30 cm)\n"


def drawn_on(beyond: str, rows: str) -> str:
    """Half a front whose level ends at its centre, drawn on so far beyond that, with a free edge called `over`."""
    plain = box("plain", "30 cm", "    mark_level middle along at_level meeting centre, side\n")
    return (
        f"language 1\n{LEVEL}{plain}point over_top = plain_d inward {beyond}\npoint over_low = plain_a inward {beyond}\n"
        "piece front = replace plain.centre beginning_at top {\n    line above from plain_d to over_top\n"
        f"    line over from over_top to over_low\n    line below from over_low to plain_a\n{PAIR}    worn left\n{rows}}}\n"
    )


def row(kind: str, on: str, top: str, low: str, end: str = "") -> str:
    return f"    {kind} on {on} between 2 cm from {top} and 2 cm from {low} count 3 inset_by 15 mm{end}\n"


@pytest.mark.parametrize(("kind", "end"), [("buttons", ""), ("buttonholes", " as_long_as 2 cm")])
def test_a_row_within_the_centre_of_a_front_without_a_stand_is_told(kind: str, end: str) -> None:
    rows = f"{PAIR}    covers bodice_front\n    mark_level bust along at_level meeting centre, side\n"
    text = f"language 1\n{LEVEL}" + box("front", "30 cm", rows + row(kind, "centre", "top", "hem", end), "piece")
    (found,) = doubts(text, "W354")
    assert "lies 15.0 mm within `centre`, at which `bust` ends: there is nothing to lap over" in found.message
    assert "30 mm narrower than it is drawn" in found.note
    assert "`button_stand … wide 15.0 mm`" in found.fix


def test_on_a_stand_beyond_the_centre_a_row_is_right() -> None:
    rows = "    covers bodice_front\n" + row("buttons", "over", "above", "below")
    assert doubts(drawn_on("2 cm", rows), "W354") == []


def wrap(over: str, more: str = "") -> str:
    return drawn_on(over, f"    covers skirt_front\n{more}")


@pytest.mark.parametrize(("over", "told"), [("5 cm", True), ("9 cm", False), ("1 cm", False)])
def test_a_wrap_that_laps_too_little_is_told_with_how_much(over: str, told: bool) -> None:
    found = doubts(wrap(over), "W355")
    message = "at `middle` the fronts lap over each other by 100 mm in all, and nothing closes `front.over`"
    assert [one.message.partition(": it opens")[0] for one in found] == [message] * told


def test_bodies_are_told_together_what_they_are_told_alone() -> None:
    """On one the fronts lap over nothing, on another too little, on the third enough."""
    made = written(wrap("(bust_girth - 79 cm)"))
    people = [Body(f"{girth}", "cm", "F", {"bust_girth": 10.0 * girth}) for girth in (80, 85, 120)]
    together, _ = outcomes(replace(made, bodies=tuple(people)))
    alone = [outcomes(replace(made, bodies=(body,)))[0][0] for body in people]
    told = [[one.code for one in result.warnings if one.code == "W355"] for result in together]
    assert told == [[one.code for one in result.warnings if one.code == "W355"] for result in alone] == [[], ["W355"], []]


def test_an_edge_that_is_closed_may_lap_less() -> None:
    assert doubts(wrap("5 cm") + "closure shut in front.over as_long_as 20 cm\n", "W355") == []
    assert doubts(wrap("5 cm", row("buttons", "over", "above", "below")), "W355") == []


@pytest.mark.parametrize(("long", "told"), [("40 cm", True), ("60 cm", False)])
def test_ties_that_do_not_go_round_and_make_a_bow_are_told(long: str, told: bool) -> None:
    """The band is 78 cm long, the fronts lap by 18: two ties go round 60 cm, and a bow takes 50."""
    parts = wrap("9 cm") + box("band", "78 cm", CUT, "piece") + box("tie", long, CUT, "piece").replace("up 20 cm", "up 4 cm")
    sewn = "seam waist joins front.above + front.top + front.top + front.above to band.hem tolerance 1 m\n"
    for end in ("side", "centre"):
        sewn += f"seam tie_at_{end} joins tie.centre to band.{end} tolerance 1 m\n"
    found = doubts(parts + sewn, "W356")
    assert [one.message for one in found] == ["`tie`: 800 mm of tie in all go round 600 mm, and are too short for a bow"] * told
    assert all("300 mm longer" in one.fix for one in found)
