"""Children by children's figures, men by men's: what is questioned, what is not, and what is said to be unknown.

Children: survey of 1977, tests/data/children_1977.csv.gz."""

from __future__ import annotations

import csv
import gzip
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest
from godet.bodies.body import Body
from godet.bodies.estimates import estimate
from godet.bodies.plausibility import review
from support.real_bodies import real_men, real_women

DATA = Path(__file__).parents[1] / "data" / "children_1977.csv.gz"
WORDS = {
    "age_years": "age",
    "stature": "stature",
    "mass_kg": "body_mass",
    "waist_circumference": "waist_girth",
    "foot_length": "foot_length",
}


@lru_cache(maxsize=1)
def all_children() -> tuple[Body, ...]:
    """Every child of the survey whose five numbers are all there, 3,803 of 3,899."""
    with gzip.open(DATA, "rt", encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if all(row[column] for column in WORDS)]
    return tuple(
        Body(row["subject"], "cm", "F" if row["sex"] == "F" else "M", {word: float(row[key]) for key, word in WORDS.items()})
        for row in rows
    )


def codes(sex: str = "F", **measures: float) -> list[str]:
    return [each.code for each in review(Body("treble 1", "cm", "M" if sex == "M" else "F", measures))]


def test_no_child_of_the_survey_is_questioned() -> None:
    assert not [child for child in all_children() if review(child)]


@pytest.mark.parametrize("word", ["waist_girth", "natural_waist_girth"])
def test_a_waist_of_35_for_53_is_questioned_and_put_right(word: str) -> None:
    (found,) = review(Body("treble 1", "cm", "F", {"age": 6.0, "stature": 1170.0, word: 350.0}))
    assert found.message == f"`{word}` of 35 cm is far from every body measured"
    assert found.fix == "53 cm would fit: two digits exchanged?"


def test_two_digits_of_a_waist_exchanged_are_mostly_seen() -> None:
    """Of young children whose waist reads as another number backwards, and far from it."""
    caught = tried = 0
    for child in all_children():
        waist = round(child.measures["waist_girth"] / 10)
        turned = waist % 10 * 10 + waist // 10
        if child.measures["age"] < 8 and waist < 100 and abs(turned - waist) >= 15:
            tried += 1
            caught += bool(review(replace(child, measures={**child.measures, "waist_girth": 10.0 * turned})))
    assert tried > 500
    assert caught > 0.8 * tried


def test_a_childs_stature_is_held_against_its_age() -> None:
    """8 and 9 years: 1115 to 1504 mm in the survey."""
    assert codes(age=8, stature=1300) == []
    assert codes(age=8, stature=1690) == ["W431"]
    assert codes(age=12.5, stature=1690) == []


def test_what_has_no_childrens_figures_is_said_to_have_none_and_not_held_against_adults() -> None:
    measures = {"age": 8.0, "stature": 1300.0, "hip_girth": 690.0, "back_neck_point_to_waist": 290.0}
    found = review(Body("treble 1", "cm", "F", measures))
    assert [each.code for each in found] == ["W438"]
    assert "no figures for `hip_girth` and `back_neck_point_to_waist`" in found[0].note


def test_a_childs_heights_must_come_in_their_order() -> None:
    assert codes(age=8, stature=1300, natural_waist_height=800, hip_height=820) == ["W436", "W438"]


def test_teenagers_are_held_against_their_age_up_to_20() -> None:
    """A waist of 50 cm is no woman's (56.8 less 5 % is 54.0) and no girl's at 18 (59.7 less 3 % is 57.9); 56 is a woman's."""
    assert codes(age=18, stature=1550, natural_waist_girth=560) == ["W431"]
    assert codes(age=25, stature=1550, natural_waist_girth=560) == []


def test_from_17_adults_figures_hold_as_well() -> None:
    assert "scye_depth" in estimate(Body("a", "cm", "F", {"age": 17.0, "stature": 1650.0, "bust_girth": 880.0}))
    assert "scye_depth" not in estimate(Body("a", "cm", "F", {"age": 16.0, "stature": 1650.0, "bust_girth": 880.0}))
    assert codes(age=18, stature=1650, bust_girth=880, hip_girth=1500) == ["W432"]


def test_a_child_without_its_age_is_asked_for_it() -> None:
    (found,) = review(Body("treble 1", "cm", None, {"stature": 1170.0, "chest_girth": 600.0, "hip_girth": 640.0}))
    assert found.code == "W437"
    assert found.fix == "write the age in years among the measures, such as `age = 7.5`"
    # A grown woman whose stature was written in inches is no child.
    assert codes(stature=66, bust_girth=900, hip_girth=980) == ["W431"]


def test_children_lie_as_far_from_their_estimates_as_the_sd_says() -> None:
    for word in ("waist_girth", "body_mass", "foot_length"):
        off = []
        for child in all_children()[::7]:
            if child.measures["age"] < 17:
                made = estimate(replace(child, measures={k: v for k, v in child.measures.items() if k != word}))[word]
                off.append((child.measures[word] - made.value) / (made.sd or 1))
        spread = (sum(each**2 for each in off) / len(off)) ** 0.5
        assert 0.8 < spread < 1.2, word


def test_a_mans_chest_is_his_bust_in_every_test() -> None:
    """A scye depth 9 cm too long: the armpits would lie where the lowest ribs are."""
    for man in real_men(40, seed=4):
        given = {name: man.measures[name] for name in ("stature", "scye_depth")}
        body = replace(man, unit="cm", measures={**given, "chest_girth": man.measures["bust_girth"]})
        assert review(body) == ()
        (found,) = review(replace(body, measures={**body.measures, "scye_depth": given["scye_depth"] + 90}))
        assert found.data["word"] == "scye_depth"
        assert "would fit" in found.fix


def test_a_man_is_judged_and_estimated_by_men() -> None:
    """The mean man of 1988 has a chest of 991 and an armscye of 446 mm, a woman of that chest one of 395."""
    chest = {"chest_girth": 991.0}
    man, woman = Body("bass 2", "cm", "M", chest), Body("alto 3", "cm", "F", {"bust_girth": 991.0})
    assert estimate(man)["armscye_girth"].value == pytest.approx(129.02 + 0.31926 * 991)
    assert estimate(woman)["armscye_girth"].value == pytest.approx(118.614 + 0.27859 * 991)
    tall = {"stature": 2000.0}
    assert codes("M", **tall) == []
    assert codes("F", **tall) == []
    assert codes("M", **tall, hip_girth=760) != codes("F", **tall, hip_girth=1100)


def test_real_women_are_no_children() -> None:
    assert not any(woman.is_child for woman in real_women(200, seed=8))
