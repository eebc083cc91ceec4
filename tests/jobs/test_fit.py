"""Promises of fit: what counts as garment, what is told, and that a body alone is told what it is told among others."""

from __future__ import annotations

from dataclasses import replace

import pytest
from godet.jobs.fit import FitResult
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import Prepared
from support.styles import written

TUBE = """language 1
block tube "Half of a tube, 25 cm wide and 40 cm long" {
    takes length wide = 25 cm between 1 cm and 1 m "of the half"
    point low = origin outward wide
    point top = origin up 40 cm
    point high = low up 40 cm
    point bust_in = origin up 30 cm
    point bust_out = low up 30 cm
    line bust_line from bust_in to bust_out
    gives shape half {
        line upper from top to high
        line side from high to low
        line hem from low to origin
        line centre from origin to top
        fold centre
        worn left
        covers bodice_front
        mark bust_line called bust_line as level from centre to side
        mark hem called hip as level from centre to side
    }
    fit bust level bust_line body 45 cm ease 5 cm within 1 mm
}
block base = tube with wide 25 cm
piece front = base.half {
    grain up
    cut 1
}
"""


def fits(text: str) -> dict[str, FitResult]:
    made = written(text)
    assert made.style is not None, [one.message for one in made.diagnostics]
    ((result,), _) = outcomes(made)
    assert not result.errors
    return {fit.name: fit for fit in result.fits}


def test_a_half_on_the_fold_is_twice_its_width() -> None:
    assert fits(TUBE)["base.bust"].garment_mm == pytest.approx(500.0, abs=1e-6)


def test_a_lining_is_worn_inside_and_not_beside() -> None:
    lined = TUBE + "piece inside = base.half {\n    grain up\n    cut 1 in lining\n}\n"
    found = fits(lined + "cloth shell width 140 cm\ncloth lining width 140 cm\n")["base.bust"]
    assert found.garment_mm == pytest.approx(500.0, abs=1e-6)


def test_a_half_cut_four_times_is_lined_with_itself() -> None:
    pair = TUBE.replace("        fold centre\n", "").replace("cut 1", "cut 4 as pair")
    assert fits(pair)["base.bust"].garment_mm == pytest.approx(500.0, abs=1e-6)


def test_a_stand_is_no_part_of_a_level_that_is_an_edge() -> None:
    stand = """
point front_low = base.half.centre at hem
point front_top = base.half.centre at upper
point stand_low = front_low inward 3 cm
point stand_top = front_top inward 3 cm
shape wider = redraw base.half from upper to hem over centre {
    line upper from front_top to stand_top
    line lap from stand_top to stand_low
    line hem from stand_low to front_low
}
"""
    text = TUBE.replace("shape front = base.half", stand + "shape front = wider")
    text = text.replace("cut 1", "cut 2 as pair") + "fit around level hip body 45 cm\n"
    assert fits(text)["around"].garment_mm == pytest.approx(500.0, abs=1e-6)


def test_a_cloth_that_stretches_may_be_so_much_smaller() -> None:
    knit = TUBE.replace("body 45 cm", "body 50 cm").replace("cut 1", "cut 1 in knit")
    assert fits(knit + "cloth knit width 140 cm\n")["base.bust"].wrong == "the garment has 50.0 mm less than asked"
    assert fits(knit + "cloth knit width 140 cm stretch 10 percent\n")["base.bust"].holds
    assert not fits(knit + "cloth knit width 140 cm stretch 9 percent\n")["base.bust"].holds


def test_a_style_is_held_to_what_it_promises_either_way() -> None:
    assert fits(TUBE + "fit around level hip body 45 cm ease 5 cm within 1 mm\n")["around"].holds
    told = fits(TUBE + "fit around level hip body 45 cm ease 4 cm within 1 mm\n")["around"].wrong
    assert told == "the garment has 10.0 mm more than asked"


CUT_OFF = """
point line_in = origin up bust_girth - 52 cm
point line_out = line_in outward 30 cm
line cutting from line_in to line_out
piece front = divide base.half along cutting from centre to side keep upper called cut_edge {
    grain up
    cut 1
}
fit lower level bust_line body 45 cm
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
