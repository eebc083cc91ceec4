"""Every block of the upper body on bodies far outside the survey: each draws, or it is told why not, in words and with numbers.

The bodies are invented, from fixed seeds: real women scaled to sizes nobody in the survey has, children, and bodies whose
measurements contradict each other.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from godet.bodies.body import Body
from godet.jobs.results import BodyResult
from support.real_bodies import all_women
from support.style_runs import results

BLOCKS = {
    "bodice": "blocks/bodice",
    "long_bodice": "blocks/bodice",
    "torso": "blocks/torso",
    "long_torso": "blocks/torso",
    "overblouse": "blocks/overblouse",
    "shirt": "blocks/overblouse",
}
STYLE = """language 1
style "Odd"
use {block} from {module}
block base = {block} with bust_ease 12 cm
piece back = base.back {{
    cut 2 as pair
}}
piece front = base.front {{
    cut 2 as pair
}}
seam side joins front.side to back.side tolerance 0.1 mm
"""
ALWAYS = (
    *("bust_girth", "natural_waist_girth", "hip_girth", "neck_base_girth", "back_neck_point_to_waist"),
    *("shoulder_length", "stature"),
)


def scaled(count: int) -> list[Body]:
    """Real women with all girths and all lengths scaled: a bust from 60 to 180 cm."""
    pick = random.Random(11)
    made = []
    for woman in pick.sample(all_women(), count):
        wide, high = pick.uniform(0.75, 1.6), pick.uniform(0.8, 1.15)
        measures = {name: one * (wide if name.endswith("girth") else high) for name, one in woman.measures.items()}
        made.append(Body(woman.name, "mm", "F", measures))
    return made


def children(count: int) -> list[Body]:
    """Children of 75 to 150 cm, measured as a tailor measures them: hardly a waist, nothing of a bust."""
    pick = random.Random(12)
    made = []
    for number in range(count):
        tall = pick.uniform(750, 1500)
        chest = tall * pick.uniform(0.42, 0.56)
        measures = {
            "stature": tall,
            "bust_girth": chest,
            "natural_waist_girth": chest * pick.uniform(0.85, 1.02),
            "hip_girth": chest * pick.uniform(0.98, 1.15),
            "neck_base_girth": chest * 0.46,
            "back_neck_point_to_waist": tall * 0.235,
            "front_neck_point_to_waist": tall * 0.2,
            "shoulder_length": tall * 0.066,
            "across_back_width": chest * 0.43,
            "age": 8.0,
        }
        made.append(Body(f"child {number}", "mm", "F", measures))
    return made


def contradicting(count: int) -> list[Body]:
    """Every measurement somewhere between the limits of people, whatever the others are; some left out."""
    pick = random.Random(13)
    made = []
    for number in range(count):
        bust, waist = pick.uniform(650, 1750), pick.uniform(850, 1250)
        measures = {
            "bust_girth": bust,
            "natural_waist_girth": bust * pick.uniform(0.55, 1.35),
            "hip_girth": bust * pick.uniform(0.7, 1.5),
            "upper_chest_girth": bust - pick.uniform(-40, 250),
            "under_bust_girth": bust - pick.uniform(-20, 350),
            "neck_base_girth": pick.uniform(280, 560),
            "back_neck_point_to_waist": pick.uniform(300, 520),
            "front_neck_point_to_waist": pick.uniform(250, 480),
            "shoulder_length": pick.uniform(85, 190),
            "across_back_width": pick.uniform(260, 560),
            "armscye_girth": pick.uniform(280, 640),
            "bust_point_to_bust_point": pick.uniform(120, 330),
            "side_neck_point_to_bust_point": pick.uniform(180, 460),
            "scye_depth": pick.uniform(130, 290),
            "shoulder_slope": pick.uniform(0, 50),
            "natural_waist_height": waist,
            "bust_height": waist + pick.uniform(-30, 260),
            "armpit_height": waist + pick.uniform(40, 330),
            "stature": pick.uniform(1350, 2100),
        }
        kept = {name: one for name, one in measures.items() if name in ALWAYS or pick.random() < 0.75}
        made.append(Body(f"odd {number}", "mm", "F", kept))
    return made


@pytest.fixture(scope="module", params=sorted(BLOCKS))
def style(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("odd") / f"{request.param}.style"
    file.write_text(STYLE.format(block=request.param, module=BLOCKS[request.param]), "utf-8")
    return file


def is_told(one: BodyResult) -> bool:
    """Drawn with sides that sew together; or why not, where, and what to do about it."""
    if not one.errors:
        return len(one.pieces) == 2 and all(seam.holds for seam in one.seams)
    return all(error.fix and error.span is not None and error.body == one.name for error in one.errors)


def test_bodies_beyond_the_survey_are_drawn(style: Path) -> None:
    made = results(style, scaled(60))
    assert all(is_told(one) for one in made)
    assert sum(not one.errors for one in made) >= 57


def test_children_are_drawn(style: Path) -> None:
    made = results(style, children(30))
    assert all(is_told(one) for one in made)
    assert sum(not one.errors for one in made) >= 29


def test_bodies_that_contradict_themselves_are_drawn_or_told_why_not(style: Path) -> None:
    made = results(style, contradicting(80))
    assert all(is_told(one) for one in made)
    told = {error.message for one in made for error in one.errors}
    assert any("is outside its bounds" in message for message in told)


def test_who_lacks_what_no_draft_can_do_without_is_told_all_of_it_at_once(style: Path) -> None:
    (one,) = results(style, [Body("bare", "mm", "F", {"stature": 1650.0, "waist_girth": 700.0, "age": 6.0})])
    asked = {"bust_girth", "neck_base_girth", "back_neck_point_to_waist", "shoulder_length"}
    assert asked <= {error.message.split("`")[1] for error in one.errors}
