"""Finding the wrong measurement: real women pass, slips are caught and named."""

import random
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from godet.bodies.body import Body
from godet.bodies.body_file import read_body
from godet.bodies.plausibility import review
from godet.diagnostics.diagnostic import Diagnostic
from support.real_bodies import all_men, all_women, real_women

INVENTED = sorted((Path(__file__).parents[2] / "patterns" / "bodies").glob("*.toml"))
SAMPLE = [replace(woman, unit="cm") for woman in real_women(40, seed=11)]
# What a bodice needs: the measurements of an ordinary client.
CLIENT = (
    "stature",
    "head_girth",
    "neck_base_girth",
    "bust_girth",
    "under_bust_girth",
    "natural_waist_girth",
    "hip_girth",
    "back_neck_point_to_waist",
    "front_neck_point_to_waist",
    "scye_depth",
    "shoulder_length",
    "across_back_width",
    "bust_point_to_bust_point",
    "side_neck_point_to_bust_point",
    "upper_arm_girth",
)
Slipped = Callable[[random.Random, Body], dict[str, float]]


def client(body: Body, unit: str = "cm") -> Body:
    measures = {name: body.measures[name] for name in CLIENT}
    return replace(body, measures=measures, unit="in" if unit == "in" else "mm" if unit == "mm" else "cm")


def times(factor: float, only_girths: bool = False) -> Slipped:
    def slip(dice: random.Random, body: Body) -> dict[str, float]:
        name = dice.choice([name for name in CLIENT if name.endswith("_girth") or not only_girths])
        return {name: body.measures[name] * factor}

    return slip


def swapped(first: str, second: str) -> Slipped:
    return lambda dice, body: {first: body.measures[second], second: body.measures[first]}


def hits(changed: dict[str, float], warnings: tuple[Diagnostic, ...]) -> list[Diagnostic]:
    return [each for each in warnings if {each.data.get("word"), each.data.get("first")} & set(changed)]


@pytest.mark.parametrize("people", [all_women, all_men])
def test_few_real_bodies_are_questioned_and_none_refused(people: Callable[[], tuple[Body, ...]]) -> None:
    """The sharp 0.1 to 99.9 % limits of the data notes question 8 %; a warning that cries wolf is not read."""
    warned = [body for body in people() if review(body)]
    assert len(warned) / len(people()) < 0.03
    assert not any(each.is_error for body in warned for each in review(body))


@pytest.mark.parametrize("path", INVENTED, ids=lambda path: path.stem)
def test_invented_bodies_are_plausible(path: Path) -> None:
    body, _ = read_body(path.read_text("utf-8"), path.name)
    assert body is not None
    assert review(body) == ()


# Bust and hip exchanged is not here: in most women the two girths are too alike to tell.
@pytest.mark.parametrize(
    "unit, slip, share",
    [
        ("cm", times(1 / 2.54), 1.0),
        ("in", times(2.54), 1.0),
        ("cm", times(10), 1.0),
        ("cm", times(0.1), 1.0),
        ("cm", times(0.5, only_girths=True), 1.0),
        ("cm", swapped("natural_waist_girth", "hip_girth"), 0.99),
        ("cm", swapped("bust_girth", "natural_waist_girth"), 0.99),
        ("cm", swapped("back_neck_point_to_waist", "front_neck_point_to_waist"), 0.9),
    ],
    ids=[
        "inches in cm",
        "cm in inches",
        "tenfold",
        "tenth",
        "half",
        "waist and hip",
        "bust and waist",
        "front and back",
    ],
)
def test_share_of_slips_caught_and_named(unit: str, slip: Slipped, share: float) -> None:
    dice = random.Random(7)
    caught = named = warnings = 0
    for woman in SAMPLE:
        body = client(woman, unit)
        changed = slip(dice, body)
        found = review(replace(body, measures={**body.measures, **changed}))
        about = hits(changed, found)
        caught += bool(about)
        named += any("would fit" in each.fix or each.code == "W434" for each in about)
        warnings += len(found)
    assert caught >= share * len(SAMPLE)
    assert named >= 0.9 * caught
    assert warnings <= 1.25 * len(SAMPLE), "one warning for one cause"


def test_a_slip_is_put_right_in_words() -> None:
    woman = client(all_women()[0])
    name = "hip_girth"
    body = replace(woman, measures={**woman.measures, name: woman.measures[name] / 2.54})
    (warning,) = review(body)
    assert warning.code == "W431"
    assert warning.body == woman.name
    assert warning.message == "`hip_girth` of 40.6 cm is far from every body measured"
    # The surveys have 787 to 1341 mm; x 0.95 and x 1.3.
    assert warning.note.startswith("plausible is 74.8 cm to 174.3 cm")
    assert warning.fix == "103.1 cm would fit: written in inches in a file in cm?"


def test_an_exchanged_pair_points_at_both_lines() -> None:
    text = 'name = "alto 3"\nunit = "cm"\n[measures]\nbust_girth = 92\nnatural_waist_girth = 99.5\nhip_girth = 74.5\n'
    body, _ = read_body(text, "alto_3.toml")
    assert body is not None
    (warning,) = review(body)
    assert warning.code == "W434"
    assert warning.message == "`natural_waist_girth` of 99.5 cm and `hip_girth` of 74.5 cm look exchanged"
    assert warning.span == body.spans["natural_waist_girth"]
    assert warning.labels[0].span == body.spans["hip_girth"]


@pytest.mark.parametrize("unit, factor", [("cm", 10.0), ("in", 25.4)])
def test_a_whole_file_in_another_unit_is_one_warning(unit: str, factor: float) -> None:
    for woman in SAMPLE:
        body = client(woman, "mm")
        body = replace(body, measures={name: value / factor for name, value in body.measures.items()})
        (warning,) = review(body)
        assert warning.code == "W435"
        assert warning.data["fits"] == unit


def test_two_causes_are_two_warnings() -> None:
    woman = client(all_women()[1])
    wrong = {"hip_girth": woman.measures["hip_girth"] / 2, "stature": woman.measures["stature"] / 10}
    found = review(replace(woman, measures={**woman.measures, **wrong}))
    assert {each.data["word"] for each in found} == set(wrong)
    assert len(found) == 2


def test_a_value_far_from_what_the_others_tell() -> None:
    """Neck height is told by stature and girths to 10 mm; 60 mm less is possible, but not here."""
    woman = replace(all_women()[2], unit="cm")
    body = replace(woman, measures={**woman.measures, "back_neck_height": woman.measures["back_neck_height"] - 60})
    found = [each for each in review(body) if each.data.get("word") == "back_neck_height"]
    assert len(found) == 1
    assert "SD away" in found[0].note or "plausible is" in found[0].note


def test_the_same_body_gives_the_same_warnings() -> None:
    body = replace(SAMPLE[0], measures={**SAMPLE[0].measures, "hip_girth": 500.0, "stature": 900.0})
    assert review(body) == review(body)


def test_a_body_of_one_measurement_is_no_trouble() -> None:
    assert review(Body("x", "cm", None, {"stature": 1650.0})) == ()
    assert review(Body("x", "cm", None, {})) == ()
