"""Promises of fit: what counts as garment, what is told, and that a body alone is told what it is told among others."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from godet.jobs.fit import FitResult
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import Prepared
from godet.output.summary import answers
from support.style_runs import PATTERNS, invented, results
from support.styles import written

TUBE = """language 1
block tube "Half of a tube, 25 cm wide and 40 cm long" {
    takes length wide = 25 cm between 1 cm and 1 m "of the half"
    point low = starting_point outward wide
    point top = starting_point up 40 cm
    point high = low up 40 cm
    point bust_in = starting_point up 30 cm
    point bust_out = low up 30 cm
    line bust_line from bust_in to bust_out
    gives shape half {
        line upper from top to high
        line side from high to low
        line hem from low to starting_point
        line centre from starting_point to top
        fold centre
        worn left
        covers bodice_front
        mark_level bust_line along bust_line meeting centre, side
        mark_level hip along hem meeting centre, side
    }
    fit bust at_level bust_line over 45 cm ease 5 cm tolerance 1 mm
}
block base = tube with wide 25 cm
piece front = base.half {
    grain up
    cut 1 on fold
}
"""


def fits(text: str) -> dict[str, FitResult]:
    made = written(text)
    assert made.style is not None, [one.message for one in made.diagnostics]
    ((result,), _) = outcomes(replace(made, bodies=(invented("alto_3"),)))
    assert not result.errors
    return {fit.name: fit for fit in result.fits}


def test_a_half_on_the_fold_is_twice_its_width() -> None:
    assert fits(TUBE)["base.bust"].garment_mm == pytest.approx(500.0, abs=1e-6)


BAND = """language 1
use straight_band from bands/waistband
piece band = straight_band with seam_length 74 cm {
    cut 1 on fold
    allow 1 cm
    mark_level waist along lower_edge meeting end, lap_edge
}
fit round_waist at_level waist over 72 cm ease 2 cm tolerance 5 mm
"""


def test_a_level_along_the_fold_of_a_band_goes_round_once() -> None:
    (fit,) = fits(BAND).values()
    assert fit.garment_mm == pytest.approx(740.0)
    assert not fit.wrong


def test_an_edge_that_dips_below_a_level_between_its_ends_is_named_and_may_open_it() -> None:
    """The top of a back that rises to the centre and to the side cuts the level in the middle alone."""
    dipped = TUBE.replace("piece front = base.half {\n", DIP)
    told = fits(dipped)["base.bust"]
    assert told.garment_mm is not None
    gone = 500.0 - told.garment_mm
    assert gone == pytest.approx(250.0, abs=0.1)  # half as wide, 10 cm down, as at the top of the dip
    assert f"the `upper_out` of `front` cuts {gone:.1f} mm of it away" in told.wrong
    assert "`opens upper_out` in the braces of `front`" in told.fix
    opened = fits(dipped.replace("    grain up\n", "    grain up\n    opens upper_out\n"))["base.bust"]
    assert opened.garment_mm == pytest.approx(500.0, abs=0.1)
    assert not opened.wrong


DIP = """point high_in = base.half.upper at centre
point high_out = base.half.upper at side
point dip = high_in outward 12.5 cm down 20 cm
piece front = replace base.half.upper beginning_at centre {
    line upper_in from high_in to dip
    line upper_out from dip to high_out
"""


def test_a_lining_is_worn_inside_and_not_beside() -> None:
    lined = TUBE + "piece inside = base.half {\n    grain up\n    cut 1 on fold in lining\n}\n"
    found = fits(lined + "cloth shell width 140 cm\ncloth lining width 140 cm\n")["base.bust"]
    assert found.garment_mm == pytest.approx(500.0, abs=1e-6)


def test_a_back_in_another_cloth_is_garment_and_its_lining_is_not() -> None:
    back = "piece back = base.half {\n    grain up\n    covers bodice_back\n    cut 1 on fold in satin\n}\n"
    back += "cloth satin width 140 cm\n"
    satin = TUBE + "cloth shell width 140 cm\n" + back
    for text in (satin, satin + back.replace("piece back", "piece inside").replace("satin", "lining")):
        assert fits(text)["base.bust"].garment_mm == pytest.approx(1000.0, abs=1e-6)


def test_a_facing_of_the_same_cloth_lies_inside_and_not_beside() -> None:
    faced = TUBE + "piece behind = base.half {\n    grain up\n    cut 1 on fold\n}\n"
    assert fits(faced)["base.bust"].garment_mm == pytest.approx(1000.0, abs=1e-6)
    assert fits(faced.replace("}\npiece behind = base.half {", "}\npiece behind = base.half {\n    lies inside"))[
        "base.bust"
    ].garment_mm == pytest.approx(500.0, abs=1e-6)


def test_a_half_cut_four_times_is_lined_with_itself() -> None:
    pair = TUBE.replace("        fold centre\n", "").replace("cut 1 on fold", "cut 4 as pair")
    assert fits(pair)["base.bust"].garment_mm == pytest.approx(500.0, abs=1e-6)


def test_a_stand_is_no_part_of_a_level_that_is_an_edge() -> None:
    stand = """
point front_low = base.half.centre at hem
point front_top = base.half.centre at upper
point stand_low = front_low inward 3 cm
point stand_top = front_top inward 3 cm
shape wider = replace base.half.centre beginning_at upper {
    line upper from front_top to stand_top
    line lap from stand_top to stand_low
    line hem from stand_low to front_low
}
"""
    text = TUBE.replace("piece front = base.half", stand + "piece front = wider")
    text = text.replace("cut 1 on fold", "cut 2 as pair") + "fit around at_level hip over 45 cm\n"
    assert fits(text)["around"].garment_mm == pytest.approx(500.0, abs=1e-6)


@pytest.mark.parametrize(
    "sentence", ["smooth_over ours.hem + theirs.hem over side", "shift_seam ours.side to theirs.side by 1 cm"]
)
def test_a_promise_follows_pieces_that_are_changed_together(sentence: str) -> None:
    """Each keeps the promise of the block it comes from, and not that of the other."""
    shapes = "block other = tube with wide 30 cm\nshape ours = base.half\nshape theirs = other.half\n"
    cut = "piece {0} = trued.{1} {{\n    grain up\n    cut 1 on fold\n}}\n"
    pieces = cut.format("front", "ours") + cut.format("back", "theirs")
    text = f"{TUBE.partition('piece front')[0]}{shapes}block trued = {sentence}\n{pieces}"
    by = 20.0 if sentence.startswith("shift") else 0.0
    found = {name: fit.garment_mm for name, fit in fits(text).items()}
    assert found == {"base.bust": pytest.approx(500.0 + by, abs=1e-3), "other.bust": pytest.approx(600.0 - by, abs=1e-3)}


def test_a_cloth_that_stretches_may_be_so_much_smaller() -> None:
    knit = TUBE.replace("over 45 cm", "over 50 cm").replace("cut 1", "cut 1 in knit")
    assert fits(knit + "cloth knit width 140 cm\n")["base.bust"].wrong == "the garment has 50.0 mm less than asked"
    smaller = knit.replace("over 50 cm", "over 51 cm") + "cloth knit width 140 cm stretch 4 percent\n"
    told = "the garment is 10.0 mm smaller than the body; stretched round it, it has 40.0 mm less than asked"
    assert fits(smaller)["base.bust"].wrong == told
    assert fits(knit + "cloth knit width 140 cm stretch 10 percent\n")["base.bust"].holds
    assert not fits(knit + "cloth knit width 140 cm stretch 9 percent\n")["base.bust"].holds


def test_a_style_is_held_to_what_it_promises_either_way() -> None:
    assert fits(TUBE + "fit around at_level hip over 45 cm ease 5 cm tolerance 1 mm\n")["around"].holds
    told = fits(TUBE + "fit around at_level hip over 45 cm ease 4 cm tolerance 1 mm\n")["around"].wrong
    assert told == "the garment has 10.0 mm more than asked"


def test_a_garment_smaller_than_the_body_is_told_so_even_where_that_is_within_what_it_may_be_under() -> None:
    tight = TUBE.replace("over 45 cm ease 5 cm tolerance 1 mm", "over 52 cm ease 5 cm tolerance 3 cm")
    found = fits(tight)["base.bust"]
    assert found.wrong == "the garment is 20.0 mm smaller than the body"
    assert "stretch" in found.fix


def test_a_promise_smaller_than_the_body_holds_only_in_a_cloth_that_stretches() -> None:
    asks = "fit around at_level hip over 45 cm ease -40 cm\n"
    found = fits(TUBE + asks)["around"]
    assert found.wrong == "what is asked is 400.0 mm smaller than the body, and no stretch of its cloth is stated"
    knit = TUBE.replace("cut 1", "cut 1 in knit") + "cloth knit width 140 cm stretch 20 percent\n"
    assert fits(knit + asks)["around"].wrong.endswith("and no cloth of it stretches so far")
    assert fits(knit + asks.replace("-40", "-6"))["around"].holds


@pytest.mark.parametrize(("ease", "warned"), [("0 cm", True), ("5 cm", False)])
def test_a_style_that_asks_for_no_ease_at_all_is_told_so(ease: str, warned: bool) -> None:
    made = written(TUBE.replace("ease 5 cm tolerance 1 mm", f"ease {ease}"))
    results, _ = outcomes(made)
    assert [one.code for one in results[0].warnings if one.code == "W307"] == ["W307"] * warned


def test_half_a_front_that_is_cut_once_is_told_as_half_missing() -> None:
    half = TUBE.replace("        fold centre\n", "").replace("cut 1 on fold", "cut 1")
    found = fits(half)["base.bust"]
    assert "`front` is half a piece and is cut once: the other half is missing" in found.wrong
    assert found.fix == "cut it `2 as pair`, lay it on a `fold`, or `unfold` it"
    assert fits(half.replace("cut 1", "cut 2 as pair"))["base.bust"].holds
    promised = half + "fit around at_level hip over 45 cm\n"
    assert "the other half is missing" in fits(promised)["around"].wrong


NECK = """
point neck_high = base.half.upper at side
point neck_low = base.half.centre at hem
point low = neck_low up {} cm
piece front = replace base.half.upper beginning_at centre {{
    line neckline from low to neck_high
    grain up
    cut 1 on fold
}}
"""


def test_a_neck_cut_through_a_level_is_told_with_what_it_cuts_away() -> None:
    """The neck runs straight from the centre, 20 cm up, to the side, 40 cm up: at the level, 30 cm up, it is 12.5 cm from the
    centre. It cuts away half of the 50 cm round the tube."""
    found = fits(TUBE.partition("piece front")[0] + NECK.format(20))["base.bust"]
    assert found.garment_mm == pytest.approx(250.0, abs=1e-6)
    assert "the bust level is cut open: the `neckline` of `front` cuts 250.0 mm of it away" in found.wrong
    assert found.fix.startswith("where that is meant, write `opens neckline` in the braces of `front`")
    assert fits(TUBE.partition("piece front")[0] + NECK.format(30))["base.bust"].holds


def test_a_neck_cut_through_a_level_is_told_where_the_promise_holds_all_the_same() -> None:
    roomy = TUBE.replace("over 45 cm ease 5 cm tolerance 1 mm", "over 20 cm")
    found = fits(roomy.partition("piece front")[0] + NECK.format(20))["base.bust"]
    assert found.holds
    assert found.told == ("the bust level is cut open: the `neckline` of `front` cuts 250.0 mm of it away",)


DEEP = """language 1
use bodice from blocks/bodice
use vee_neck from necklines/vee
use princess from bodices/princess
block base = bodice with bust_ease 8 cm waist_ease 5 cm
shape neck = vee_neck base.front lowered 4 cm
"""


@pytest.mark.parametrize(
    "cut",
    [
        "piece front = neck {\n    cut 1 on fold\n}\n",
        "piece front = unfold neck across centre {\n    cut 1\n}\n",
        "block panels = princess neck\npiece front = panels.centre_panel {\n    fold centre\n    cut 1 on fold\n}\n"
        "piece side = panels.side_panel {\n    cut 2 as pair\n}\n",
    ],
)
def test_lengths_are_those_of_the_finished_pieces_and_say_what_the_style_made_of_them(cut: str) -> None:
    """On the half, unfolded, and divided into panels; a lining of the block's own shape is no part of it."""
    lined = "piece inside = base.front {\n    cut 1 on fold in lining\n}\ncloth lining width 140 cm\ncloth shell width 140 cm\n"
    found = fits(DEEP + cut + lined + "piece back = base.back {\n    cut 2 as pair\n}\n")
    lowered, armhole = found["base.centre_front"], found["base.armhole"]
    assert lowered.holds
    assert lowered.drafted_mm is not None
    assert lowered.garment_mm == pytest.approx(lowered.drafted_mm - 40.0, abs=0.01)
    assert lowered.told == ("40.0 mm shorter than the block's, by `neck`",)
    assert found["base.neck_base"].told[0].endswith("longer than the block's, by `neck`")
    assert armhole.garment_mm == pytest.approx(armhole.drafted_mm, abs=0.01)
    assert armhole.told == ()


def test_a_length_that_is_not_followed_is_said_to_be_the_blocks() -> None:
    """How far the bust points lie apart is no length of an edge."""
    text = DEEP + "piece front = neck {\n    cut 1 on fold\n}\npiece back = base.back {\n    cut 2 as pair\n}\n"
    assert fits(text)["base.bust_points"].told == ("the block's length: the pieces that are cut do not carry it whole",)


CUT_OFF = """
point line_in = starting_point up bust_girth - 52 cm
point line_out = line_in outward 30 cm
line cutting from line_in to line_out
piece front = crop base.half along cutting meeting centre, side keeping upper calling_the_new_edge cut_edge {
    grain up
    cut 1 on fold
}
fit lower at_level bust_line over 45 cm
"""


def among(prepared: Prepared, *girths: float) -> list[FitResult]:
    """What bodies of these bust girths (mm) are told of the lower level, drawn together."""
    (body,) = prepared.bodies
    bodies = tuple(replace(body, name=str(k), measures={**body.measures, "bust_girth": girth}) for k, girth in enumerate(girths))
    results, _ = outcomes(replace(prepared, bodies=bodies))
    return [next(fit for fit in one.fits if fit.name == "lower") for one in results]


def test_a_level_cut_away_on_one_body_is_told_to_that_one_alone() -> None:
    """The level lies 30 cm above the hem: a cut at 25 cm leaves it on the upper part, one at 35 cm does not."""
    text = TUBE.partition("piece front")[0] + CUT_OFF
    made = written(text)
    assert made.style is not None, [one.message for one in made.diagnostics]
    together = among(made, 770.0, 870.0)
    assert [one.wrong for one in together] == ["", "no piece of the garment lies there"]
    alone = [among(made, girth)[0] for girth in (770.0, 870.0)]
    assert [(one.garment_mm, one.wrong) for one in together] == [(one.garment_mm, one.wrong) for one in alone]


def test_an_armhole_cut_through_the_bust_level_is_told_and_its_length_is_the_finished_one() -> None:
    text = DEEP.partition("piece neck")[0] + (
        "piece back = base.back {\n    cut 2 as pair\n}\n"
        "shape moved = pivot base.front.bust_dart into waistline at 9 cm from centre called low_dart\n"
        "piece front = lengthen moved.side at armhole by -9 cm {\n    fold centre\n    cut 1 on fold\n}\n"
    )
    found = fits(text)
    assert "the bust level is cut open: the `armhole` of `front` cuts" in found["base.bust"].wrong
    assert found["base.armhole"].holds
    assert found["base.armhole"].told[0].endswith("longer than the block's, by `front`")


def test_a_sleeve_hem_chosen_narrower_than_the_wrist_fails_although_it_was_asked_so() -> None:
    """The wrist is 156 mm."""
    sleeve = (
        "language 1\nuse set_in from sleeves/set_in\n"
        "piece sleeve = set_in with front_armhole 21 cm back_armhole 22 cm hem_width 14 cm {\n    cut 2 as pair\n}\n"
    )
    assert fits(sleeve)["sleeve.wrist"].wrong.startswith("what is asked is 16.0 mm narrower than the arm")


def test_a_sleeve_narrower_than_the_arm_is_told_of_the_arm() -> None:
    """It is asked 25 cm wide, whatever the arm is."""
    sleeve = (
        "language 1\nuse sleeve_draft from sleeves/set_in\n"
        "piece sleeve = sleeve_draft with front_armhole 20 cm back_armhole 21 cm sleeve_width 25 cm cap_ease 0.05 "
        "sleeve_length 56 cm hem_width 24 cm {\n    cut 2 as pair\n}\n"
    )
    found = fits(sleeve)["sleeve.biceps"]
    assert re.fullmatch(r"the garment is [0-9.]+ mm narrower than the arm", found.wrong)
    assert "make it wider" in found.fix


@pytest.mark.parametrize("meant", [False, True])
def test_a_neckline_may_be_meant_to_cut_a_level_open(meant: bool, tmp_path: Path) -> None:
    """A neck so deep that it runs through the bust is told as a fault, unless the style says that it opens it."""
    text = (PATTERNS / "concert_top.style").read_text("utf-8").replace("lowered 1.3 cm", "lowered 19 cm")
    if meant:
        text = text.replace("    grain up taken_from neckline\n", "    grain up taken_from neckline\n    opens neckline\n")
    style = tmp_path / "deep.style"
    style.write_text(text, "utf-8")
    (result,) = results(style, [invented("alto_3")])
    (bust,) = (one for one in result.fits if one.name == "base.bust")
    said = " ".join((bust.wrong, *bust.told))
    assert ("is cut open" in said) is not meant
    assert ("of it is open, as the style means" in said) is meant
    (shallow,) = results(PATTERNS / "concert_top.style", [invented("alto_3")])
    (whole,) = (one for one in shallow.fits if one.name == "base.bust")
    assert bust.garment_mm is not None
    assert whole.garment_mm is not None
    assert (bust.garment_mm < whole.garment_mm - 5.0) is not meant
    assert abs(bust.garment_mm - whole.garment_mm) < 0.5 or not meant


def test_a_level_that_no_cut_piece_reaches_is_said_so_and_does_not_count_as_held() -> None:
    """The tube is cropped 5 cm above the level of its bust."""
    cropped = CUT_OFF.replace("up bust_girth - 52 cm", "up 35 cm").replace("fit lower at_level bust_line over 45 cm\n", "")
    text = TUBE.partition("piece front")[0] + cropped
    bust = fits(text)["base.bust"]
    assert (bust.reached, bust.garment_mm, bust.holds, bust.is_asked) == (False, None, True, False)
    assert bust.told == ("no piece that is cut reaches this level: nothing is held to it",)
    assert answers((), (), (), (bust,))["fit"] == []
    lower = fits(text.replace("up 35 cm", "up 25 cm"))["base.bust"]
    assert (lower.reached, lower.is_asked) == (True, True)


LONGER = """point low_in = (base.half.centre at hem) down 20 cm
point low_out = (base.half.side at hem) down 20 cm
point top_in = base.half.centre at upper
point top_out = base.half.side at upper
shape longer = replace base.half.side + base.half.hem + base.half.centre {
    line side from top_out to low_out
    line hem from low_out to low_in
    line centre from low_in to top_in
}
piece front = longer {
    grain up
    cut 1 on fold
"""
HIP_PROMISED = TUBE.partition("piece front")[0].replace(
    "    fit bust at", "    fit hip at_level hip over 45 cm ease 5 cm tolerance 1 mm\n    fit bust at"
)


def test_a_level_along_an_edge_that_was_drawn_anew_lower_down_is_told_as_lost() -> None:
    (lost,) = fits(HIP_PROMISED + LONGER + "}\n")["base.hip"].told
    assert "where `longer` draws `hem` anew" in lost
    assert "`mark_level hip along … meeting centre, side`" in lost
    shorter = (HIP_PROMISED + LONGER + "}\n").replace("down 20 cm", "up 5 cm")
    assert fits(shorter)["base.hip"].told == ("no piece that is cut reaches this level: nothing is held to it",)


def test_a_level_lost_with_its_edge_may_be_marked_anew() -> None:
    marked = "line hip_line from base.half.centre at hem to base.half.side at hem\n"
    anew = LONGER + "    mark_level hip along hip_line meeting centre, side\n}\n"
    hip = fits(HIP_PROMISED + marked + anew)["base.hip"]
    assert hip.garment_mm == pytest.approx(500.0, abs=0.1)
    assert (hip.told, hip.wrong) == ((), "")


def test_a_level_that_an_edge_is_already_is_not_marked_a_second_time() -> None:
    """It would count twice."""
    lines = "point in_up = base.half.centre at 1 cm from hem\npoint out_up = base.half.side at 1 cm from hem\n"
    marked = "line hip_line from in_up to out_up\n" + TUBE.partition("piece front")[2].join(["piece front", ""])
    again = marked.replace("    grain up\n", "    grain up\n    mark_level hip along hip_line meeting centre, side\n")
    (told,) = written(TUBE.partition("piece front")[0] + lines + again).diagnostics
    assert told.message == "an edge of the piece is the level `hip` already"
