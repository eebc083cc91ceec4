"""Collars and linings that hold by their numbers and will not lie as they should: told without a check being written."""

from __future__ import annotations

import pytest
from support.doubts import doubts

HEAD = "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"
CUT = "    cut 1 on fold\n    grain up\n    allow 1 cm\n"
BODY = (
    f"piece front = base.front {{\n{CUT}    covers bodice_front\n}}\n"
    f"piece back = base.front {{\n{CUT}    covers bodice_back\n}}\n"
    "seam shoulders joins back.shoulder to front.shoulder\nlength neck = length of back.neckline + length of front.neckline\n"
    "point o = starting_point\npoint neck_end = o outward by neck\n"
)


def collar(name: str, deep: str, out: str, kind: str = "piece") -> str:
    """Half a collar, a strip as long as the neck at its seam, its ends slanting out so far."""
    return (
        f"point {name}_tip = neck_end down {deep} outward {out}\npoint {name}_low = o down {deep}\n{kind} {name} {{\n"
        f"    line outer from {name}_low to {name}_tip\n    line end from {name}_tip to neck_end\n"
        f"    line neckline from neck_end to o\n    line centre from o to {name}_low\n    fold centre\n{CUT}}}\n"
    )


def sewn(name: str) -> str:
    return f"seam {name}_neck joins {name}.neckline to back.neckline + front.neckline after shoulders\n"


TURNED = "seam turned joins collar.end + collar.outer to under.end + under.outer tolerance 1 cm\n"


@pytest.mark.parametrize(
    ("under", "told"), [("8 cm", "are as large as each other"), ("7.97 cm", "differ by 0."), ("7.8 cm", "")]
)
def test_an_under_collar_as_large_as_the_collar_is_told(under: str, told: str) -> None:
    text = HEAD + BODY + collar("collar", "8 cm", "3 cm") + collar("under", under, "3 cm") + sewn("collar") + sewn("under")
    found = doubts(text + TURNED, "W351")
    assert [told in one.message for one in found] == [True] * bool(told)
    assert all("by -2 mm" in one.fix for one in found)


def test_layers_of_a_band_that_stands_or_of_a_pocket_may_be_alike() -> None:
    band = HEAD + BODY + collar("collar", "4 cm", "0 cm") + collar("under", "4 cm", "0 cm")
    assert doubts(band + sewn("collar") + sewn("under") + TURNED, "W351") == []
    bags = HEAD + BODY + collar("collar", "8 cm", "3 cm") + collar("under", "8 cm", "3 cm")
    apart = "seam one joins collar.neckline to back.side tolerance 2 m\n"
    apart += "seam other joins under.neckline to front.side tolerance 2 m\n"
    assert doubts(bags + apart + TURNED, "W351") == []


def test_two_layers_beside_their_seam_lie_on_each_other_and_need_not_run_on() -> None:
    text = HEAD + BODY + collar("collar", "8 cm", "2 cm") + collar("under", "7.8 cm", "2 cm") + sewn("collar") + sewn("under")
    assert [one.message for one in doubts(text + TURNED, "W310") if "turned" in one.message] == []


@pytest.mark.parametrize(("out", "told"), [("3 cm", True), ("45 cm", False)])
def test_a_deep_collar_with_too_short_an_outer_edge_stands(out: str, told: bool) -> None:
    """A sailor collar 18 cm deep: as a strip it stands; as long at its edge as the garment 18 cm off the neck it lies."""
    found = doubts(HEAD + BODY + collar("collar", "18 cm", out) + sewn("collar"), "W352")
    assert ["stands up by" in one.message for one in found] == [True] * told
    assert all("`slash … hinged_at neckline`" in one.fix and "`flat_collar`" in one.fix for one in found)


def test_it_is_told_of_both_layers_once() -> None:
    layers = collar("collar", "18 cm", "3 cm") + collar("under", "17.8 cm", "3 cm") + sewn("collar") + sewn("under") + TURNED
    assert [one.data["of"] for one in doubts(HEAD + BODY + layers, "W352")] == [("collar_neck", "collar")]


def test_a_collar_of_usual_depth_and_a_band_stand_as_they_should() -> None:
    for deep, out in (("7 cm", "2 cm"), ("9 cm", "0 cm")):
        assert doubts(HEAD + BODY + collar("collar", deep, out) + sewn("collar"), "W352") == []


def lined(wide: str, deep: str, hem: str = "", extra: str = "") -> str:
    """A back and its lining, so much wider on the half and deeper."""
    rows = f"    cut 1 on fold CLOTH\n    grain up\n    allow 1 cm\n    fold centre\n    covers bodice_back\n{extra}"
    made = ["language 1\ncloth shell width 140 cm\ncloth satin width 140 cm\n"]
    for name, out, down, cloth in (("back", "25 cm", "40 cm", ""), ("inner", wide, deep, "in satin")):
        made.append(
            f"point {name}_a = starting_point down {down}\npoint {name}_b = {name}_a outward {out}\n"
            f"point {name}_c = {name}_b up {down}\n"
            f"line {name}_level from (starting_point down 15 cm) to (starting_point down 15 cm outward {out})\n"
            f"piece {name} {{\n    line hem from {name}_a to {name}_b\n    line side from {name}_b to {name}_c\n"
            f"    line top from {name}_c to starting_point\n    line centre from starting_point to {name}_a\n"
            f"{rows.replace('CLOTH', cloth)}    mark_level bust along {name}_level meeting centre, side\n}}\n"
        )
    return "".join(made) + f"seam tops joins inner.top to back.top tolerance 5 cm\n{hem}"


@pytest.mark.parametrize(
    ("wide", "told"), [("25 cm", "0 mm wider at `bust`"), ("25.1 cm", "2 mm wider at `bust`"), ("26 cm", "")]
)
def test_a_lining_as_wide_as_the_back_it_is_sewn_into_is_told(wide: str, told: str) -> None:
    found = doubts(lined(wide, "40 cm"), "W353")
    assert [told in one.message for one in found] == [True] * bool(told)
    assert all("a pleat at the centre back" in one.fix for one in found)


@pytest.mark.parametrize(
    ("deep", "allowed", "told"),
    [("40 cm", "1 cm", "0 mm longer"), ("41 cm", "1 cm", ""), ("36 cm", "4 cm", "0 mm longer"), ("37 cm", "4 cm", "")],
)
def test_a_lining_sewn_to_the_hem_without_a_fold_of_length_is_told(deep: str, allowed: str, told: str) -> None:
    """To the raw edge of a hem turned up by 4 cm it hangs from so much higher."""
    text = lined("26 cm", deep, "seam hems joins inner.hem to back.hem tolerance 5 cm\n", f"    allow {allowed} on hem\n")
    found = doubts(text, "W353")
    assert [told in one.message and "wider" not in one.message for one in found] == [True] * bool(told)
