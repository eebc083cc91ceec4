"""The fit contract of the set-in sleeve on all real women and men of tests/data: what is geometry holds on each of them, what
rests on the shape of the arm on 99 of 100.

Measured on the drawn outlines. Limits are those of the draft as it was laid down and tried on these bodies, by
another program; its armholes are the arm hole of the body and 2, 3 and 4 cm, 48.5 percent in front.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from support.contract import ALL, MOST, Contract
from support.drawn_styles import Drawings, drawings
from support.real_bodies import all_men, all_women

STYLES = Path(__file__).parent / "sleeves"
CM = 10.0


HAIR = 0.01  # mm below the corners of the underarm


def contract(made: Drawings, mens: bool, deeper: float) -> Contract:
    table = Contract(f"set-in sleeve, armhole {deeper:g} cm over the armscye, {'men' if mens else 'women'}")
    front, back = (made.numbers(f"{half}_armhole") for half in ("front", "back"))
    front_cap, back_cap = (made.of_edge("sleeve", f"{half}_cap") for half in ("front", "back"))
    armhole, eased = front + back, front_cap + back_cap - front - back
    ends = made.ends("sleeve", "front_cap")
    underarm, top = ends if np.all(ends[1][:, 1] > ends[0][:, 1]) else ends[::-1]
    hem, height = made.of_edge("sleeve", "hem"), top[:, 1]
    arm, wrist, share = (6.0, 9.0, 4.0) if mens else (5.0, 8.0, 5.0)
    upper = made.width_at("sleeve", underarm[:, 1] - HAIR) - made.body("upper_arm_girth")
    elbow = made.width_at("sleeve", height - made.body("upper_arm_length")) - made.body("elbow_girth")
    long = height - made.middle("sleeve", "hem")[:, 1] - made.body("outer_arm_length")
    add = table.add
    add("upper arm", upper / CM, arm - 0.05, arm + 0.05, ALL)
    add("elbow", elbow / CM, 2.5, share=MOST)
    add("hem less wrist", (hem - made.body("wrist_girth")) / CM, wrist - 0.05, wrist + 0.25, MOST)
    add("hem less hand", (hem - made.body("hand_girth")) / CM, 2.0, share=MOST)
    add("top to middle of hem", long / CM, 0.94, 1.06, ALL)
    add("cap ease, percent", 100 * eased / armhole, share - 0.1, share + 0.1, ALL)
    add("front share of the ease", (front_cap - front) / eased, 0.38, 0.52, ALL)
    add("cap height", (height - underarm[:, 1]) / armhole, 0.18, 0.35, MOST)
    add("underarm seams differ, mm", made.of_edge("sleeve", "front_seam") - made.of_edge("sleeve", "back_seam"), -0.1, 0.1, ALL)
    for row, edges in (("cap at the underarm", ("front_cap", "back_cap")), ("hem at the seam", ("hem", "hem"))):
        corners = [made.corner("sleeve", edge, f"{half}_seam") for edge, half in zip(edges, ("front", "back"), strict=True)]
        add(row, corners[0] + corners[1], 179.5, 180.5, ALL)
    for half in ("front", "back"):
        bends, radius = made.bending("sleeve", f"{half}_cap")
        add(f"{half} cap bends", bends, 1, 1, ALL)
        add(f"{half} cap, tightest radius", radius / CM, 3.5, share=ALL)
    return table


@pytest.mark.parametrize("deeper", [2.0, 3.0, 4.0])
@pytest.mark.parametrize("mens", [False, True], ids=["women", "men"])
def test_every_row_of_the_sleeve_holds(mens: bool, deeper: float) -> None:
    people = all_men() if mens else all_women()
    made = drawings(STYLES / "set_in.style", people, [f"mens={'yes' if mens else 'no'}", f"deeper={deeper} cm"])
    assert made.failed == 0
    assert not contract(made, mens, deeper).failing()
