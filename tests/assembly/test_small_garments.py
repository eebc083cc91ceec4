"""Rules of the assembly, each on a garment of two or three panels made for it."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest
from godet.assembly.whole import Whole
from godet.jobs.results import AssemblyResult
from support.hand_made import BAND, SKIRT, TOP, changed, made, opened, told
from support.renaming import renamed
from support.style_runs import PATTERNS

UNSEEN = Path(__file__).parent / "unseen"

BANDED = changed(SKIRT, ("    unsewn waistline\n", ""), ("    unsewn waistline\n", "")) + BAND
ZIP = "closure back_zip in centre_back as_long_as 20 cm closed_by zip which_widens 76 cm to_pass hip_girth\n"


FREE = changed(
    SKIRT,
    ("trim zip as_long_as 20 cm", "trim zip count 6"),
    ("seam centre_back joins back.centre to back.centre sewn plain_seam\n", ""),
    ("in centre_back as_long_as 20 cm", "in back.centre as_long_as 60 cm"),
    ("front.hem + back.hem", "front.hem + back.hem + back.centre"),
    ("    cut 2 as pair\n", "    cut 2 as pair\n    allow 2 cm on centre with_corners shaped_to_fold\n"),
)
"""Buttoned all along the centre back."""


def girths(found: AssemblyResult) -> dict[str, tuple[float, float]]:
    return {one.name: (round(one.girth_mm, 1), round(one.opened_mm, 1)) for one in found.openings}


def steps(text: str) -> list[str]:
    return [one.name for one in whole(text).order]


def whole(text: str) -> Whole:
    found = made(text).whole
    assert found is not None
    return found


def in_round(text: str) -> bool | None:
    return next(one.in_round for one in whole(text).order if one.kind == "closure")


@pytest.mark.parametrize("text", [SKIRT, changed(TOP, ("outward 9 cm", "outward 13 cm"))], ids=["skirt", "top"])
def test_a_small_garment_holds(text: str) -> None:
    assert told(text) == []


# ---- openings --------------------------------------------------------------------------------------


def test_the_hip_passes_the_waist_and_not_the_loose_ends_of_its_band() -> None:
    """Round the ends of an open band it is far enough; the seam of the band is a ring of cloth."""
    assert girths(made(BANDED))["waistline"] == (760.0, 1160.0)
    assert told(BANDED.replace(ZIP, "")) == ["W621", "W620"]


def test_the_head_passes_the_neck_and_not_the_collar_sewn_round_it() -> None:
    found = made(TOP)
    neck = 4.0 * (90.0**2 + 60.0**2) ** 0.5
    assert girths(found)["neckline"] == pytest.approx((neck, neck), abs=0.1)
    assert [one.code for one in found.wrong] == ["W620"]


def test_what_hangs_on_a_band_is_no_band_of_its_own_hem() -> None:
    assert girths(made(BANDED))["hem"] == (1080.0, 1080.0)


# ---- closures --------------------------------------------------------------------------------------


@pytest.mark.parametrize(("girth", "codes"), [("76 cm", []), ("75.5 cm", []), ("84 cm", ["W629"]), ("108 cm", ["W629"])])
def test_the_girth_a_closure_states_is_that_of_what_it_opens(girth: str, codes: list[str]) -> None:
    """The last is the girth of the hem, which a zip from the waist does not open."""
    assert told(changed(SKIRT, ("which_widens 76 cm", f"which_widens {girth}"))) == codes


def test_what_the_edges_of_a_wrap_lap_lies_double_when_it_is_closed() -> None:
    lapped = changed(FREE, ("which_widens 76 cm", "which_widens 64 cm"))
    (found,) = made(lapped).wrong
    assert found.message.endswith("what it opens, waistline, is 760.0 mm round from edge to edge")
    assert found.fix is not None
    assert found.fix.endswith("say how far: `lapping 20 cm`")
    said = changed(lapped, ("64 cm to_pass", "64 cm lapping 12 cm to_pass"))
    assert told(said) == []
    assert girths(made(said))["waistline"] == (640.0, 1960.0)


@pytest.mark.parametrize("stated", [" which_widens 76 cm to_pass hip_girth", ""])
def test_a_closure_that_begins_below_a_band_sewn_over_it_is_told(stated: str) -> None:
    closed = changed(BANDED, (" which_widens 76 cm to_pass hip_girth", stated))
    ring = closed + "seam band_ends joins band.end to band.other_end sewn plain_seam\n"
    assert told(ring) == ["E614"]


def test_nothing_bought_for_a_closure_is_told() -> None:
    assert told(changed(SKIRT, ("trim zip as_long_as 20 cm\n", ""), (" closed_by zip", ""))) == ["W628"]


def test_a_closure_that_names_nothing_of_what_is_bought_is_told() -> None:
    assert told(changed(SKIRT, ("trim zip as_long_as", "trim tape as_long_as"), (" closed_by zip", ""))) == ["W635"]


@pytest.mark.parametrize(("at", "codes"), [(20, []), (18.5, ["W631"]), (21, ["W631"]), (12, [])])
def test_a_notch_that_is_to_mark_the_end_of_a_zip_and_does_not(at: float, codes: list[str]) -> None:
    """One far from it, as of the hip line, is another notch."""
    notch = f"    notch centre at {at} cm from waistline called zip_end\n"
    assert told(changed(SKIRT, ("    cut 2 as pair\n", f"    cut 2 as pair\n{notch}"))) == codes


# ---- what is sewn by which way -----------------------------------------------------------------------


def test_a_hem_turned_up_that_nothing_sews_is_told() -> None:
    assert told(changed(SKIRT, ("on front.hem + back.hem", "on front.hem"))) == ["W626"]
    bare = opened(changed(SKIRT, (" on front.hem + back.hem", ""))).assembly
    assert bare is not None
    (message,) = bare.diagnostics
    assert (message.code, message.fix) == ("W626", "add `on front.hem + back.hem` to `sewing hemmed`")


def test_a_way_of_sewing_by_which_nothing_is_sewn_is_told() -> None:
    assert told(SKIRT + "sewing bound stitch 301\n") == ["W627"]


FACED = """piece front_facing = facing front_half along armhole depth 4 cm {
    cut 2 as pair
}
piece back_facing = facing back_half along armhole depth 4 cm {
    cut 2 as pair
}
seam front_faced joins front_facing.armhole to front.armhole sewn plain_seam
seam back_faced joins back_facing.armhole to back.armhole sewn plain_seam
seam facing_shoulders joins front_facing.shoulder to back_facing.shoulder sewn plain_seam
seam facing_sides joins front_facing.side to back_facing.side sewn plain_seam
sewing neatened stitch 504 on front_facing.inner_edge + back_facing.inner_edge
"""


@pytest.mark.parametrize(
    ("edits", "codes"),
    [([], []), ([("to front.armhole", "to XX.armhole"), ("to back.armhole", "to front.armhole"), ("XX", "back")], ["E630"])],
    ids=["as drawn", "exchanged"],
)
def test_a_facing_of_the_front_on_a_back_is_told(edits: list[tuple[str, str]], codes: list[str]) -> None:
    """Also where both are as long, so that no seam fails."""
    top = changed(TOP, ("outward 9 cm", "outward 13 cm"), (" + front.armhole + back.armhole", ""))
    for half, worn in (("front", "left"), ("back", "right")):
        top = changed(top, (f"    worn {worn}\n", f"    worn {worn}\n    covers bodice_{half}\n"))
    assert told(top + changed(FACED, *edits)) == codes


# ---- the order of sewing -----------------------------------------------------------------------------


def test_a_zip_is_set_in_after_its_seam_and_before_the_band() -> None:
    order = steps(BANDED)
    assert order.index("centre_back") < order.index("back_zip") < order.index("waist")


def test_a_layer_caught_in_a_seam_is_sewn_before_it() -> None:
    """Also where the run that catches it goes on over its seam, as that of a collar in two parts does."""
    sewn_on = changed(TOP[TOP.index("seam neck_seam") :], ("collar.lower", "collar.lower + collar.lower_right"))
    one = TOP[TOP.index("piece collar {") : TOP.index("seam shoulders")]
    two = changed(
        one,
        ("to collar_far\n", "to collar_mid\n    line lower_right from collar_mid to collar_far\n"),
        ("    fold outer\n    cut 1 on fold\n", "    cut 1\n"),
    )
    layered = changed(
        TOP,
        ("point collar_far", "point collar_mid = collar_low outward neck / 2\npoint collar_far"),
        (one, f"{two}piece under_collar = collar {{\n    lies inside\n    cut 1\n}}\n"),
        (
            TOP[TOP.index("seam collar_ends") :],
            "seam edges joins collar.end + collar.outer + collar.other_end to "
            "under_collar.end + under_collar.outer + under_collar.other_end sewn plain_seam\n"
            "seam held joins under_collar.lower + under_collar.lower_right to collar.lower + collar.lower_right "
            f"caught_in neck_seam\n{sewn_on}",
        ),
    )
    order = steps(layered)
    assert order.index("held") < order.index("neck_seam")


@pytest.mark.parametrize(("trim", "last"), [("as_long_as 60 cm", False), ("count 6", True)])
def test_what_closes_an_edge_is_set_in_by_its_length_and_sewn_on_last_by_its_count(trim: str, last: bool) -> None:
    (step,) = (one for one in whole(changed(FREE, ("trim zip count 6", f"trim zip {trim}"))).order if one.name == "back_zip")
    assert (step.kind == "buttons", set(step.needs) == {"sides.left", "sides.right"}) == (last, last)


def test_a_zip_is_set_in_flat_until_the_sides_are_sewn() -> None:
    sides = "seam sides joins front.side to back.side sewn plain_seam\n"
    assert in_round(SKIRT) is False
    assert in_round(changed(SKIRT, (sides, ""), ("seam centre_back", f"{sides}seam centre_back"))) is True


def test_what_lies_on_a_flat_panel_is_sewn_before_this_is_joined_and_hems_last() -> None:
    trousers = steps((PATTERNS / "plain_trousers.style").read_text())
    first = ["pocket_facings", "front_pockets", "inseams", "upper_sides", "bags"]
    assert sorted(first, key=trousers.index) == first
    hems, holes = "turned_hem on front.hem + back.hem", "buttonholes of left_band"
    band = ["fly_facing_seam", "centre_front", "fly_front", "ends left_band.front_end", "left_waist", "centre_back"]
    band += ["band_back_seam"]
    assert sorted([*band, hems, holes], key=trousers.index) == [*band, hems, holes]
    assert trousers[0].startswith("fusing on")
    assert trousers.index("darts of front") < trousers.index("front_pockets")
    shirt = steps((PATTERNS / "yoke_shirt.style").read_text())
    sleeve = ["over_placket_edge", "under_strip_edge", "front_sleeve", "sides.left", "sleeve_underarm", "cuff_seam"]
    assert sorted(sleeve, key=shirt.index) == sleeve
    collar = ["collar_edges", "collar_seam", "stand_ends", "neck", "buttons and buttonholes of collar_band"]
    assert sorted(collar, key=shirt.index) == collar
    assert shirt.index("gathers on sleeve.hem") < shirt.index("ends cuffs.lap_end + cuffs.end") < shirt.index("cuff_seam")


def test_a_binding_whose_end_is_held_in_the_shoulder_seam_is_sewn_before_it() -> None:
    cowl = steps((PATTERNS / "cowl_top.style").read_text())
    assert cowl.index("back_neck_bound") < cowl.index("shoulders.left")
    assert cowl[-1] == "double_hem on front.hem + back.hem"


def test_pleats_are_laid_when_the_panels_are_joined_and_before_the_yoke() -> None:
    skirt = steps((PATTERNS / "pleated_skirt.style").read_text())
    between = ["between_panels", "pleats of panel", "yoke_seam"]
    assert sorted(between, key=skirt.index) == between


def test_the_mouth_of_a_patch_pocket_is_hemmed_before_it_is_sewn_on() -> None:
    jacket = steps((UNSEEN / "jacket.style").read_text())
    assert jacket.index("mouth_hem on pocket.mouth") < jacket.index("pockets")


def test_what_is_closed_by_a_button_and_a_loop_is_not_set_in() -> None:
    assert "back_loop" not in steps((UNSEEN / "smock.style").read_text())


# ---- names and order decide nothing ------------------------------------------------------------------


def sentences(text: str) -> list[str]:
    return re.findall(r"^\S[^\n]*\n(?:(?:[ ]+\S[^\n]*|\})\n)*", text, re.MULTILINE)


@pytest.mark.parametrize("text", [BANDED, TOP], ids=["skirt", "top"])
def test_the_order_of_sentences_decides_nothing_but_the_order_of_sewing(text: str) -> None:
    head, *rest = sentences(text)
    assert head + "".join(rest) == text
    before, codes = girths(made(text)), told(text)
    for seed in (1, 2):
        random.Random(seed).shuffle(rest)
        shuffled = head + "".join(rest)
        assert (girths(made(shuffled)), told(shuffled)) == (before, codes)


@pytest.mark.parametrize("text", [BANDED, TOP], ids=["skirt", "top"])
def test_names_decide_nothing(text: str) -> None:
    before, after = made(text), made(renamed(text))
    assert sorted(girths(after).values()) == sorted(girths(before).values())
    assert told(renamed(text)) == told(text)
    assert before.whole is not None
    assert after.whole is not None
    here, there = (
        [(one.kind, one.in_round, sorted(one.needs.values())) for one in each.order] for each in (before.whole, after.whole)
    )
    assert here == there


def test_parts_that_seams_name_are_the_same_whichever_seam_stands_first() -> None:
    """One lies within the other, and of a side in both the one behind is what it is called."""
    part = "side between hem and 30 cm from hem"
    low = f"seam low_sides joins front.{part} to back.{part} sewn plain_seam\n"
    way = "sewing tacked stitch 301 on front.side between 5 cm from hem and 20 cm from hem\n"
    names = []
    for both in (low + way, way + low):
        style = opened(changed(SKIRT, ("seam sides joins front.side to back.side sewn plain_seam\n", both)))
        assert style.assembly is not None
        names.append({name: piece.said.piece.edge_names() for name, piece in style.assembly.whole.structure.pieces.items()})
    assert names[0] == names[1]
    assert len([name for name in names[0]["front"] if " between " in name]) >= 2
