"""What is told of several bodies together, of what is said beside the pieces, and of bodies that only one side draws."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from godet.difference.beside import finished_rows, said_rows
from godet.difference.cloth import BodyCloth, ClothDifference, compare
from godet.difference.figures import Figures
from godet.difference.sayings import Finished, Saying
from godet.difference.table import table
from godet.difference.telling import rows_of
from support.skirt_panel import body, cornered, panel

MM = Figures()


def let_down(*by: float) -> ClothDifference:
    """A skirt whose hem is let down by so much on each body."""
    old = [body({"front": panel()}, f"body {k}") for k in range(len(by))]
    new = [
        body({"front": cornered(hem_centre=(0, -mm), hem_side=(250, -mm))}, f"body {k}") for k, mm in enumerate(by)
    ]
    return compare(old, new)


def cells(difference: ClothDifference) -> Sequence[tuple[str, ...]]:
    return table(rows_of(difference), {one.name: MM for one in difference.bodies}).rows


def test_few_bodies_have_a_column_each_and_what_is_not_told_alone_stands_in_brackets() -> None:
    found = let_down(20.0, 0.0, 0.4)
    assert table(rows_of(found), {one.name: MM for one in found.bodies}).heads == ("", "", "body 0", "body 1", "body 2")
    assert cells(found)[0] == ("front", "hem down, along the whole edge", "20.0", "0", "(0.4)")


def test_of_many_bodies_the_least_and_the_most_are_told_and_on_whom() -> None:
    found = let_down(3.0, 4.0, 5.0, 12.0, 7.0, 8.0, 9.0)
    assert table(rows_of(found), {one.name: MM for one in found.bodies}).heads == ("", "", "least", "most", "most on")
    assert cells(found)[0] == ("front", "hem down, along the whole edge", "3.0", "12.0", "body 3")


def test_where_it_goes_the_other_way_on_some_body_that_is_told_with_it() -> None:
    rows = rows_of(let_down(20.0, -5.0))
    assert rows[0].told == "hem down, along the whole edge"
    assert rows[0].otherwise == ("body 1: hem 5.0 mm up, along the whole edge",)


def test_pieces_that_change_alike_share_a_row_and_the_one_that_changes_most_comes_first() -> None:
    def skirt(front: float, back: float, facing: float) -> BodyCloth:
        low = {"front": front, "back": back, "facing": facing}
        return body({name: cornered(hem_centre=(0, -mm), hem_side=(250, -mm)) for name, mm in low.items()})

    rows = rows_of(compare([skirt(0, 0, 0)], [skirt(5, 5, 9)]))
    assert [row.pieces for row in rows if row.told.startswith("hem")] == [("facing",), ("back", "front")]


def test_a_body_in_inches_is_told_in_sixteenths() -> None:
    found = let_down(12.7)
    assert table(rows_of(found), {"body 0": Figures("in")}).rows[0][2] == "1/2 in, 12.7"


def test_a_body_that_only_one_side_draws_is_told_and_the_others_are_compared() -> None:
    undrawn = BodyCloth("tall", {}, errors=("the dart is wider than its edge",))
    sides = [body({"front": panel()}, "short"), body({"front": panel()}, "tall")], [body({"front": panel()}, "short"), undrawn]
    found = compare(*sides)
    assert [(one.name, one.drawn, one.errors) for one in found.bodies] == [
        ("short", "both", ()),
        ("tall", "old", ("the dart is wider than its edge",)),
    ]
    assert not found.is_same
    assert compare(*sides[::-1]).bodies[1].drawn == "new"


def test_bodies_in_another_order_are_no_two_sides() -> None:
    with pytest.raises(ValueError, match="other orders"):
        compare([body({}, "one")], [body({}, "other")])


def test_a_renamed_piece_is_compared_under_its_new_name() -> None:
    found = compare([body({"front": panel()})], [body({"skirt_front": panel()})], pieces={"front": "skirt_front"})
    assert [(piece.name, piece.old_name, piece.present) for piece in found.pieces] == [("skirt_front", "front", "both")]
    assert [row.told for row in rows_of(found)] == ["was front"]


def said(*sayings: Saying, finished: tuple[Finished, ...] = ()) -> BodyCloth:
    return replace(body({}), sayings=sayings, finished=finished)


def test_a_seam_a_check_or_a_fit_is_told_where_what_it_says_changes() -> None:
    old = Saying("check", "cap_fits", True, (("condition", "cap > armhole"),), (("ease", "mm", 20.0),), "45.1 cm")
    little = replace(old, numbers=(("ease", "mm", 20.4),), told="45.2 cm")
    fails = replace(old, holds=False, told="43 cm")
    assert not compare([said(old)], [said(little)]).bodies[0].sayings
    change = compare([said(old)], [said(fails)]).bodies[0].sayings[0]
    assert (change.holds, change.words, change.told) == ((True, False), (), ("45.1 cm", "43 cm"))
    more = compare([said(old)], [said(replace(old, numbers=(("ease", "mm", 25.0),)))]).bodies[0].sayings[0]
    assert more.numbers == (("ease", "mm", 20.0, 25.0),)
    assert compare([said(old)], [said()]).bodies[0].sayings[0].present == "gone"


def test_a_seam_with_another_name_is_the_same_seam_on_both_halves() -> None:
    old, new = Saying("seam", "back_sleeve.left", True), Saying("seam", "left_back_sleeve.left", True)
    assert not compare([said(old)], [said(new)], seams={"back_sleeve": "left_back_sleeve"}).bodies[0].sayings


def test_a_finished_measurement_is_held_against_its_tolerance() -> None:
    def long(mm: float) -> BodyCloth:
        return said(finished=(Finished("overarm_length", mm, 8.0, 5.0),))

    told = {mm: compare([long(350.0)], [long(350.0 + mm)]).bodies[0].finished for mm in (0.4, 6.0, 9.8, -6.0)}
    assert told[0.4] == ()
    assert [(one.more, one.beyond) for mm in (6.0, 9.8, -6.0) for one in told[mm]] == [
        (6.0, False),
        (pytest.approx(9.8), True),
        (-6.0, True),
    ]


def test_what_is_said_otherwise_is_told_with_the_bodies_on_which_it_is_so() -> None:
    def side(name: str, holds: bool, how: str, given: float) -> BodyCloth:
        check = Saying("check", "cap_fits", holds, told="43.0 cm" if not holds else "")
        seam = Saying("seam", "sides.left", True, (("how", how),))
        fit = Saying("fit", "waist", True, numbers=(("given", "mm", given), ("stretch", "ratio", given / 100.0)))
        return BodyCloth(name, {}, (check, seam, fit))

    found = compare(
        [side("short", True, "joins", 20.0), side("tall", True, "joins", 20.0)],
        [side("short", True, "eases", 20.0), side("tall", False, "eases", 27.0)],
    )
    assert [(row.told, row.bodies) for row in said_rows(found)] == [
        ("seam sides, left: how eases, was joins", ("short", "tall")),
        ("check cap fits fails, before it held: 43.0 cm", ("tall",)),
        ("fit waist: given 27.0 mm, was 20.0 mm", ("tall",)),
        ("fit waist: stretch 0.27, was 0.20", ("tall",)),
    ]


def test_what_is_said_anew_or_no_more_and_a_body_no_longer_drawn() -> None:
    gone, new = Saying("closure", "back_zip", True), Saying("trim", "elastic")
    undrawn = BodyCloth("tall", {}, errors=("the dart is wider than its edge",))
    found = compare([said(gone), body({}, "tall")], [said(new), undrawn])
    assert [row.told for row in said_rows(found)] == [
        "closure back zip gone",
        "trim elastic new",
        "no longer drawn: the dart is wider than its edge",
    ]


def test_finished_measurements_have_a_row_with_all_bodies_and_whether_the_difference_is_beyond() -> None:
    def side(*mm: float) -> list[BodyCloth]:
        return [
            replace(body({}, f"body {k}"), finished=(Finished("hem_around", one, 15.0, 10.0),)) for k, one in enumerate(mm)
        ]

    (row,) = finished_rows(compare(side(900.0, 900.0), side(902.0, 888.0)))
    assert (row.name, row.tolerance, dict(row.more)) == ("hem_around", "+15.0 mm -10.0 mm", {"body 0": 2.0, "body 1": -12.0})
    assert (row.beyond, row.told) == (("body 1",), "beyond its tolerance")
    (gone,) = finished_rows(compare(side(900.0), [body({}, "body 0")]))
    assert gone.more == {"body 0": None}
