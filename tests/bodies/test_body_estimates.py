"""Estimates: the arithmetic, which rule serves, and how near they come to real women."""

import math
import statistics
from dataclasses import replace

import pytest
from godet.bodies.body import Body
from godet.bodies.estimates import estimate, history, rules
from godet.bodies.vocabulary import vocabulary
from support.real_bodies import all_women, real_women

FOUR = ("stature", "bust_girth", "natural_waist_girth", "hip_girth")


def body(sex: str | None = "F", **measures: float) -> Body:
    return Body("alto 3", "cm", "F" if sex == "F" else "M" if sex == "M" else None, measures)


def test_a_measured_value_is_never_estimated() -> None:
    woman = all_women()[0]
    assert not set(estimate(woman)) & set(woman.measures)


def test_scye_depth_from_stature_and_bust_by_hand() -> None:
    """1.967 + 0.07408 x 1680 + 0.06952 x 920 = 190.38, SD 12.5: the published line for women."""
    made = estimate(body(stature=1680, bust_girth=920))["scye_depth"]
    assert made.value == pytest.approx(1.967 + 124.4544 + 63.9584)
    assert made.sd == pytest.approx(12.5, abs=0.05)
    assert made.inputs == ("stature", "bust_girth")
    assert made.trunk


def test_the_finest_rule_serves_whose_measures_are_there() -> None:
    coarse = estimate(body(bust_girth=920))["under_bust_girth"]
    fine = estimate(body(stature=1680, bust_girth=920, natural_waist_girth=745, hip_girth=995))["under_bust_girth"]
    assert coarse.inputs == ("bust_girth",)
    assert fine.inputs == FOUR
    assert coarse.sd is not None
    assert fine.sd is not None
    assert fine.sd < coarse.sd


def test_differences_of_heights_are_exact() -> None:
    made = estimate(body(natural_waist_height=1060, hip_height=840, inside_leg_height=770))
    assert (made["waist_to_hip_height"].value, made["waist_to_hip_height"].sd) == (220.0, 0.0)
    assert made["body_rise_height"].value == 290.0


def test_top_hip_is_half_way() -> None:
    made = estimate(body(waist_to_hip=210))["waist_to_top_hip"]
    assert (made.value, made.sd, made.source) == (105.0, 0.0, "by definition")
    vertical = estimate(body(waist_to_hip_height=200))["waist_to_top_hip"]
    assert (vertical.value, vertical.sd) == (100.0, None)


def test_slope_from_heights_is_an_angle() -> None:
    """A fall of 60 on a shoulder of 120 is 30 degrees."""
    made = estimate(body(side_neck_height=1440, shoulder_height=1380, shoulder_length=120))["shoulder_slope"]
    assert made.value == pytest.approx(30.0)


def test_slope_that_cannot_be_is_left_out() -> None:
    assert "shoulder_slope" not in estimate(body(side_neck_height=1440, shoulder_height=1240, shoulder_length=120))


def test_natural_waist_from_the_two_other_levels() -> None:
    """Mean differences of the 1988 survey: 33 mm in women, 10 mm in men."""
    assert estimate(body(waist_girth=780))["natural_waist_girth"].value == 747.0
    assert estimate(body("M", waist_girth=850))["natural_waist_girth"].value == 840.0
    assert estimate(body(navel_girth=800))["natural_waist_girth"].value == pytest.approx(190.871 + 0.67516 * 800)


def test_an_estimate_of_an_estimate_says_so_and_is_less_sure() -> None:
    sure = estimate(body(stature=1680, bust_girth=920, natural_waist_girth=747, hip_girth=995))["thigh_girth"]
    unsure = estimate(body(stature=1680, bust_girth=920, waist_girth=780, hip_girth=995))["thigh_girth"]
    assert unsure.value == pytest.approx(sure.value)
    assert unsure.estimated_inputs == ("natural_waist_girth",)
    assert sure.sd is not None
    assert unsure.sd is not None
    assert unsure.sd > sure.sd


def test_a_file_without_sex_uses_women_and_says_so() -> None:
    unknown = estimate(body(None, stature=1680, bust_girth=920))["scye_depth"]
    assert unknown.value == estimate(body("F", stature=1680, bust_girth=920))["scye_depth"].value
    assert unknown.source.endswith("women (the file gives no sex)")
    assert estimate(body("M", stature=1680, bust_girth=920))["scye_depth"].value != unknown.value


@pytest.mark.parametrize("age", [{"age": 8}, {}], ids=["by age", "by stature"])
def test_no_adult_regression_for_a_child(age: dict[str, float]) -> None:
    """What follows from the words, and what children's own figures tell: the foot by stature, the chest where the bust is."""
    given = body(stature=1300, bust_girth=650, natural_waist_girth=560, hip_girth=680, waist_to_hip=150)
    made = estimate(replace(given, measures={**given.measures, **age}))
    assert set(made) == {"waist_to_top_hip", "foot_length", "chest_girth"}
    assert made["chest_girth"].value == 650
    assert made["foot_length"].source.startswith("least squares, child survey of 1977")


def test_no_childrens_figure_for_an_adult() -> None:
    assert "foot_length" not in estimate(body(stature=1650, body_mass=60))
    assert "chest_girth" not in estimate(body(bust_girth=920))
    assert estimate(body("M", chest_girth=1020))["bust_girth"].value == 1020


def test_what_follows_exactly_is_worked_out_and_not_estimated() -> None:
    given = body(natural_waist_height=1060, hip_height=840)
    made = estimate(given)
    assert made["waist_to_hip_height"].exact
    assert history(given, "waist_to_hip_height", made).startswith("worked out: 22 cm, from natural_waist_height")
    assert not estimate(body(natural_waist_girth=700))["waist_girth"].exact
    assert not estimate(body(stature=1650, bust_girth=900, natural_waist_girth=700, hip_girth=950))["waist_to_hip_height"].exact


@pytest.mark.parametrize("name", ["under_bust_girth", "scye_depth", "back_neck_point_to_waist", "thigh_girth"])
def test_real_women_lie_as_far_off_as_the_sd_says(name: str) -> None:
    """The regressions rest on all 2,208 women of the survey; these are 400 of them, from the raw file."""
    errors = []
    for woman in real_women(400, seed=2):
        given = {key: woman.measures[key] for key in FOUR}
        made = estimate(replace(woman, measures=given))[name]
        errors.append((woman.measures[name] - made.value) / (made.sd or math.nan))
    assert abs(statistics.mean(errors)) < 0.15  # three standard errors of a mean of 400
    assert 0.87 < statistics.stdev(errors) < 1.13


def test_trunk_lengths_are_those_that_nothing_tells() -> None:
    """R2 of at most 1/3 from stature and three girths in women."""
    for name, measure in vocabulary().items():
        four = [rule for rule in rules().get(("F", name), ()) if rule.predictors == FOUR]
        if measure.trunk and four:
            assert four[0].r2 is not None
            assert four[0].r2 < 1 / 3, name


def test_every_source_is_named() -> None:
    for made in estimate(real_women(1, seed=3)[0]).values():
        assert made.source


def test_histories_of_a_measured_an_estimated_and_a_missing_value() -> None:
    alto = Body("alto 3", "cm", "F", {"stature": 1680.0, "bust_girth": 920.0}, file="alto_3.toml", lines={"stature": 6})
    made = estimate(alto)
    assert history(alto, "stature", made) == "measured: 168 cm in alto_3.toml line 6"
    assert history(alto, "scye_depth", made) == (
        "estimated 19 ± 1.3 cm, from stature 168 cm, bust_girth 92 cm: 2 + 0.0741 stature + 0.0695 bust_girth "
        "(in mm); least squares, US Army survey of 1988 (NATICK/TR-89/044), R2 0.25; "
        "lengths of the trunk follow no other measurement: measure it"
    )
    assert history(alto, "hand_length", made).startswith("missing: not measured in alto_3.toml")
