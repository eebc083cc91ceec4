"""The body words: complete, plausible for real bodies, and helpful when mistyped."""

import csv
import subprocess
import sys
from importlib import resources

import pytest
from godet.bodies.vocabulary import canonical, meanings, short_forms, suggestions, vocabulary
from support.real_bodies import all_women

# Names and numbers read in a public list of ISO 8559-1:2017.
ISO_NUMBERS = {
    "neck_girth": "5.3.2",
    "neck_base_girth": "5.3.3",
    "bust_girth": "5.3.4",
    "under_bust_girth": "5.3.8",
    "waist_girth": "5.3.10",
    "top_hip_girth": "5.3.12",
    "hip_girth": "5.3.13",
    "upper_arm_girth": "5.3.16",
    "wrist_girth": "5.3.19",
    "thigh_girth": "5.3.20",
    "mid_thigh_girth": "5.3.21",
    "across_back_shoulder_width": "5.4.3",
    "back_neck_point_to_waist": "5.4.5",
    "back_neck_point_to_wrist": "5.4.17",
    "hand_girth": "5.5.1",
    "outer_arm_length": "5.7.8",
}


@pytest.mark.parametrize("name, number", ISO_NUMBERS.items())
def test_words_carry_the_numbers_of_the_standard(name: str, number: str) -> None:
    assert vocabulary()[name].iso == number


def test_no_other_word_claims_a_number() -> None:
    assert {name for name, measure in vocabulary().items() if measure.iso} == set(ISO_NUMBERS)


def test_every_word_says_what_it_is_and_how_to_take_it() -> None:
    for measure in vocabulary().values():
        assert measure.what, measure.name
        assert measure.how, measure.name


def test_every_real_woman_is_within_every_range() -> None:
    for woman in all_women():
        for name, value in woman.measures.items():
            ends = vocabulary()[name].plausible("F")
            assert ends is not None, name
            assert ends[0] < value < ends[1], (woman.name, name)


def test_ranges_end_below_any_slip_of_unit_for_most_words() -> None:
    """A middling girth read in the wrong unit falls outside; else a range would be of no use."""
    for measure in vocabulary().values():
        if measure.is_girth and measure.seen_women:
            middle = sum(measure.seen_women) / 2
            low, high = measure.plausible("F") or (0, 0)
            assert middle * 2.54 > high, measure.name
            assert middle / 2.54 < low, measure.name


def test_short_forms_lead_to_words_and_are_none_themselves() -> None:
    assert short_forms()["back_waist_length"] == "back_neck_point_to_waist"
    for short, name in short_forms().items():
        assert name in vocabulary()
        assert short not in vocabulary()
        assert short in vocabulary()[name].short_forms
        assert not meanings(short)


def test_the_waist_is_three_levels_and_never_a_short_form() -> None:
    assert canonical("waist") is None
    assert meanings("waist") == ("natural_waist_girth", "waist_girth", "navel_girth")


@pytest.mark.parametrize(
    "typed, meant",
    [
        ("bust", "bust_girth"),
        ("bust_girt", "bust_girth"),
        ("Hip-Girth", "hip_girth"),
        ("back waist length", "back_neck_point_to_waist"),
        ("scye_dept", "scye_depth"),
        ("sholder_length", "shoulder_length"),
        ("nape_to_waste", "back_neck_point_to_waist"),
    ],
)
def test_a_mistyped_word_is_understood(typed: str, meant: str) -> None:
    assert suggestions(typed)[0] == meant


def test_nonsense_has_no_suggestion() -> None:
    assert suggestions("xyzzy") == ()


def test_unclear_words_mean_words_of_the_vocabulary() -> None:
    for typed in ("waist", "hip", "rise", "scye", "arm_length", "knee", "chest", "neck"):
        assert len(meanings(typed)) >= 2
        assert all(name in vocabulary() for name in meanings(typed))


def test_tables_use_words_of_the_vocabulary_only() -> None:
    folder = resources.files("godet.bodies")
    estimates = list(csv.DictReader(folder.joinpath("estimates.csv").read_text().splitlines()))
    limits = list(csv.DictReader(folder.joinpath("limits.csv").read_text().splitlines()))
    used = {row["target"] for row in estimates} | {name for row in estimates for name in row["predictors"].split()}
    used |= {row["first"] for row in limits} | {row["second"].split()[-1] for row in limits}
    assert used <= set(vocabulary())


def test_loading_the_vocabulary_loads_no_numpy() -> None:
    code = (
        "import sys, godet.bodies.vocabulary as v, godet.bodies.body_file, godet.bodies.plausibility; v.vocabulary();"
        "assert 'numpy' not in sys.modules"
    )
    folder = str(resources.files("godet")).rsplit("godet", 1)[0]
    subprocess.run([sys.executable, "-c", code], check=True, env={"PYTHONPATH": folder})
