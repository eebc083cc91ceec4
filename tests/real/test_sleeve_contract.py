"""The fit contract of the set-in sleeve on all real women and men of tests/data: each row holds for the share that it states.

Measured on the drawn outlines. Limits and shares are those of the draft as it was laid down and tried on these bodies, by
another program; its armholes are the arm hole of the body and 2, 3 and 4 cm, 48.5 percent in front.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from support.contracts import Drawings, Row, assert_rows, drawings
from support.real_bodies import all_men, all_women

STYLES = Path(__file__).parent / "sleeves"
CM = 10.0


def width_at(made: Drawings, level: np.ndarray) -> np.ndarray:
    """Width of the sleeve between its straight seams at a level, mm."""
    places = []
    for seam in ("front_seam", "back_seam"):
        one, two = made.ends("sleeve", seam)
        share = (level - one[:, 1]) / (two[:, 1] - one[:, 1])
        places.append(one[:, 0] + share * (two[:, 0] - one[:, 0]))
    return np.asarray(places[1] - places[0])


def rows(made: Drawings, mens: bool, deeper: float) -> dict[str, Row]:
    front, back = (made.numbers(f"{half}_armhole") for half in ("front", "back"))
    front_cap, back_cap = (made.of_edge("sleeve", f"{half}_cap") for half in ("front", "back"))
    armhole, eased = front + back, front_cap + back_cap - front - back
    underarm, top = made.ends("sleeve", "front_cap")[0], made.ends("sleeve", "back_cap")[0]
    if not np.all(top[:, 1] > underarm[:, 1]):
        underarm, top = made.ends("sleeve", "front_cap")[1], made.ends("sleeve", "front_cap")[0]
    hem = made.of_edge("sleeve", "hem")
    arm, wrist, share = (6.0, 9.0, 4.0) if mens else (5.0, 8.0, 5.0)
    half = {seam: made.of_edge("sleeve", seam) for seam in ("front_seam", "back_seam")}
    elbow = width_at(made, top[:, 1] - made.body("upper_arm_length"))
    return {
        "upper arm": Row((width_at(made, underarm[:, 1]) - made.body("upper_arm_girth")) / CM, arm - 0.05, arm + 0.05),
        "elbow": Row((elbow - made.body("elbow_girth")) / CM, 2.5, stated=100.0 if mens else 99.8 if deeper == 2 else 99.9),
        "hem less wrist": Row((hem - made.body("wrist_girth")) / CM, wrist - 0.05, wrist + 0.25, 99.2 if mens else 99.7),
        "hem less hand": Row((hem - made.body("hand_girth")) / CM, 2.0, stated=100.0 if mens else 99.9),
        "top to middle of hem": Row(
            ((top - made.middle("sleeve", "hem"))[:, 1] - made.body("outer_arm_length")) / CM, 0.94, 1.06
        ),
        "cap ease, percent": Row(100 * eased / armhole, share - 0.1, share + 0.1),
        "front share of the ease": Row((front_cap - front) / eased, 0.38, 0.52),
        "cap height": Row((top - underarm)[:, 1] / armhole, 0.18, 0.35, 99.7 if deeper == 2 and not mens else 100.0),
        "underarm seams differ, mm": Row(np.abs(half["front_seam"] - half["back_seam"]), 0.0, 0.1),
        "cap at the underarm": Row(
            made.corner("sleeve", "front_cap", "front_seam") + made.corner("sleeve", "back_cap", "back_seam"), 179.5, 180.5
        ),
        "hem at the seam": Row(
            made.corner("sleeve", "hem", "front_seam") + made.corner("sleeve", "hem", "back_seam"), 179.5, 180.5
        ),
        "front cap bends": Row(made.bends("sleeve", "front_cap"), 1, 1),
        "back cap bends": Row(made.bends("sleeve", "back_cap"), 1, 1),
        "tightest radius": Row(
            np.minimum(made.tightest("sleeve", "front_cap"), made.tightest("sleeve", "back_cap")) / CM, 3.5
        ),
    }


@pytest.mark.parametrize("deeper", [2.0, 3.0, 4.0])
@pytest.mark.parametrize("mens", [False, True], ids=["women", "men"])
def test_every_row_of_the_sleeve_holds(mens: bool, deeper: float) -> None:
    people = all_men() if mens else all_women()
    made = drawings(STYLES / "set_in.style", people, [f"mens={'yes' if mens else 'no'}", f"deeper={deeper} cm"])
    assert made.failed == 0
    assert_rows(rows(made, mens, deeper))
