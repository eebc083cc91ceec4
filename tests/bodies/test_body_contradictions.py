"""Two ways over the same stretch that do not agree: which are questioned, in which words, and how few real bodies are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest
from godet.bodies.body import Body
from godet.bodies.body_file import read_body
from godet.bodies.contradictions import contradictions, pairs
from godet.bodies.plausibility import review
from godet.bodies.vocabulary import Sex, vocabulary
from godet.diagnostics.diagnostic import Diagnostic
from support.real_bodies import all_men, all_women


def questions(measures: dict[str, float], sex: Sex = "F") -> list[Diagnostic]:
    body = Body("alto 3", "cm", sex, measures)
    return [each for each in review(body) if each.code == "W436"]


def test_an_armpit_below_the_bust_is_questioned_with_both_and_what_to_do() -> None:
    (found,) = questions({"armpit_height": 1190, "bust_height": 1220})
    assert found.message == "`armpit_height` of 119 cm and `bust_height` contradict each other"
    assert found.note == "`armpit_height` is 119 cm, `bust_height` is 122 cm: plausible is nothing to 12.5 cm more"
    assert found.fix == "measure `armpit_height` and `bust_height` again"


@pytest.mark.parametrize(
    "measures",
    [
        # A shoulder of 13 cm that falls by 1 cm (4.4 degrees), by 9 cm (44 degrees), and by more than its length.
        {"side_neck_height": 1440, "shoulder_height": 1430, "shoulder_length": 130},
        {"side_neck_height": 1440, "shoulder_height": 1350, "shoulder_length": 130},
        {"side_neck_height": 1440, "shoulder_height": 1300, "shoulder_length": 130},
        # It falls by 23 degrees, the level says 35.
        {"side_neck_height": 1440, "shoulder_height": 1389, "shoulder_length": 130, "shoulder_slope": 35},
        # Down the spine 25 cm to the armpits, by heights 18.
        {"back_neck_height": 1450, "armpit_height": 1270, "scye_depth": 250},
        # Down the spine 46 cm to the waist, by heights 38.
        {"back_neck_height": 1450, "natural_waist_height": 1070, "back_neck_point_to_waist": 460},
        # The front and back parts of the crotch length are 2 cm short of the whole.
        {"total_crotch_length": 760, "front_crotch_length": 350, "back_crotch_length": 390},
        {"natural_waist_height": 1070, "hip_height": 860, "waist_to_hip_height": 180},
        # As wide across the back as half the bust: no room is left for an arm.
        {"bust_girth": 900, "across_back_width": 460},
    ],
)
def test_what_cannot_go_together_is_questioned(measures: dict[str, float]) -> None:
    names = {name for each in questions(measures) for name in each.data["names"]}  # type: ignore[attr-defined]
    assert names == set(measures)


def test_a_front_that_rises_far_over_its_back_is_questioned() -> None:
    """By hand: bust 118 above the waist, 268 over the bust point less 34 aside is 265.8; less 368 and 19.3 that is -3.5."""
    middling: dict[str, float] = {"bust_height": 1176, "natural_waist_height": 1058, "neck_base_girth": 348}
    middling["bust_point_to_bust_point"] = 184
    tapes: dict[str, float] = {"side_neck_point_to_bust_point": 268, "back_neck_point_to_waist": 368}
    assert questions({**middling, **tapes}) == []
    (found,) = questions({**middling, **tapes, "side_neck_point_to_bust_point": 330})
    assert "the front neck point lies 5.9 cm above the back one: plausible is 5 cm below to 5 cm above" in found.note
    (found,) = questions({**middling, **tapes, "back_neck_point_to_waist": 420})
    assert "lies 5.5 cm below the back one" in found.note
    assert questions({**middling, **tapes, "side_neck_point_to_bust_point": 330}, "M") == []


def test_a_tape_that_agrees_is_not_questioned() -> None:
    """A slope of 23.1 degrees by heights, 23 by the level; a whole crotch length equal to its parts."""
    heights = {"side_neck_height": 1442.0, "shoulder_height": 1391.0, "shoulder_length": 130.0, "shoulder_slope": 23.0}
    crotch = {"total_crotch_length": 760.0, "front_crotch_length": 372.0, "back_crotch_length": 390.0}
    assert questions({**heights, **crotch}) == []


@pytest.mark.parametrize("people, sex", [(all_women, "F"), (all_men, "M")], ids=["women", "men"])
def test_no_question_is_put_to_more_than_about_one_real_body_in_a_hundred(
    people: Callable[[], tuple[Body, ...]], sex: Sex
) -> None:
    asked: Counter[tuple[str, ...]] = Counter()
    for body in people():
        asked.update(each.names for each in contradictions(body.measures, sex, "cm"))
    assert max(asked.values()) <= 0.012 * len(people())


def test_a_slip_that_several_contradictions_point_at_is_put_right() -> None:
    woman = replace(all_women()[3], unit="cm")
    slipped = replace(woman, measures={**woman.measures, "armpit_height": woman.measures["armpit_height"] - 100})
    (found,) = review(slipped)
    assert found.data["word"] == "armpit_height"
    assert found.fix.endswith("would fit: one ten too few?")


def test_one_contradiction_alone_names_no_culprit() -> None:
    (found,) = questions({"back_neck_height": 1450, "armpit_height": 1270, "scye_depth": 250})
    assert found.fix == "measure `scye_depth`, `back_neck_height` and `armpit_height` again"


def test_it_points_at_the_lines_of_the_file() -> None:
    text = 'name = "a"\nunit = "cm"\n[measures]\narmpit_height = 119\nbust_height = 122\n'
    body, _ = read_body(text, "a.toml")
    assert body is not None
    (found,) = review(body)
    assert found.span == body.spans["armpit_height"]
    assert [label.span for label in found.labels] == [body.spans["bust_height"]]


def test_the_table_uses_words_of_the_vocabulary_only() -> None:
    assert {name for pair in pairs() for name in (*pair.first.names, *pair.second.names)} <= set(vocabulary())
