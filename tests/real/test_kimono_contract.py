"""The fit contract of the kimono pair, long and short, on all real women and men of the survey.

Measured on the drawn outlines, on plain blocks invented for this test, and on bodice and torso of the library. The limits are
those of the draft as it was laid down; what geometry gives holds on every body, what rests on the shape of the body on at least
99 of 100, the short sleeves on a bodice whose front is turned by the whole bust dart among them.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.geometry.path import start_direction
from godet.pattern.piece import Piece
from support.contract import ALL, MOST, Contract
from support.drawn_styles import Drawings, Reals, drawings, whole
from support.real_bodies import all_men, all_women

STYLES = Path(__file__).parent / "sleeves"
CM = 10.0


def across(way: Reals, point: Reals) -> Reals:
    """Distance square to a direction."""
    return np.asarray(np.abs(way[:, 0] * point[:, 1] - way[:, 1] * point[:, 0]) / np.linalg.norm(way, axis=1))


def room(made: Drawings, pair: str) -> Reals:
    """Both distances of the pits from the overarms beyond the tips, mm."""
    total: Reals = np.zeros(1)
    for half in ("front", "back"):
        tip = made.numbers(f"{pair}.{half}_layout.tip")
        end = made.numbers(f"{pair}.{half}_half.hem_top")
        pit = made.numbers(f"{pair}.{half}_half.pit_point")
        total = total + across(end - tip, pit - tip)
    return total


def reach(made: Drawings, pair: str) -> Reals:
    """From the tip to the hem, on the front, mm."""
    tip, end = made.numbers(f"{pair}.front_layout.tip"), made.numbers(f"{pair}.front_half.hem_top")
    return np.asarray(np.linalg.norm(end - tip, axis=1))


def off_the_shoulder(made: Drawings, piece: str, block: str) -> Reals:
    """By how much an overarm leaves the neck beside the shoulder of its block, degrees."""
    parts = []
    for drawn, plain, lanes in zip(made.values[piece], made.values[block], made.lanes, strict=True):
        assert isinstance(drawn, Piece)
        assert isinstance(plain, Piece)
        ways = []
        for one, edge in ((drawn, "overarm"), (plain, "shoulder")):
            path = whole(one, edge)
            way = start_direction(path)
            last = path.controls[:, -1, 3] - path.controls[:, -1, 2]
            backward = path.start[:, :1] > path.end[:, :1]
            ways.append(np.where(backward, -last / np.linalg.norm(last, axis=1, keepdims=True), way))
        found = np.degrees(np.arccos(np.clip(np.sum(ways[0] * ways[1], axis=1), -1, 1)))
        parts.append(np.broadcast_to(found, lanes.shape))
    return np.concatenate(parts)


def contract(made: Drawings, length: str) -> Contract:
    table = Contract(f"kimono pair, {length}")
    pair = f"{length}.pair"
    front, back = ("front", "back") if length == "long" else ("short_front", "short_back")
    arm, wrist = made.body("upper_arm_girth"), made.body("wrist_girth")
    stated = wrist + 120 if length == "long" else arm + 80
    asked = made.body("outer_arm_length") + 10 if length == "long" else made.numbers(f"{pair}.reach_drawn")
    add = table.add
    for edge in ("overarm", "underarm", "side"):
        add(f"{edge}, front less back, mm", made.of_edge(front, edge) - made.of_edge(back, edge), -1, 1, ALL)
    for half, piece in (("front", front), ("back", back)):
        add(f"{half} overarm to the shoulder, degrees", off_the_shoulder(made, piece, f"plain_{half}"), 0, 0.1, ALL)
        add(f"{half} least radius under the arm", made.bending(piece, "underarm")[1] / CM, 0.9, share=MOST)
    hems = made.of_edge(front, "sleeve_hem") + made.of_edge(back, "sleeve_hem")
    corners = made.corner(front, "sleeve_hem", "underarm") + made.corner(back, "sleeve_hem", "underarm")
    add("room at the pits less upper arm", (room(made, pair) - arm) / CM, 7.0, 9.0, MOST)
    add("hem less stated", (hems - stated) / CM, -0.05, 0.4, MOST)
    add("reach less asked", (reach(made, pair) - asked) / CM, -0.2, 0.2, ALL)
    add("hem at the underarm, both, degrees", corners, 178, 182, ALL)
    add("pit below the armpit", made.numbers(f"{pair}.pit_depth") / CM, 1, 13, MOST)
    add("bend at the tip, front, degrees", np.degrees(made.numbers(f"{pair}.front_bend")), -16, 14, MOST)
    return table


@pytest.mark.parametrize(
    ("blocks", "mens"),
    [("kimono_blocks", False), ("kimono_blocks", True), ("kimono_bodice", False), ("kimono_torso", True)],
    ids=["women", "men", "bodice", "torso"],
)
def test_every_row_of_the_kimono_pairs_holds(blocks: str, mens: bool) -> None:
    people = all_men() if mens else all_women()
    settings = [f"mens={'yes' if mens else 'no'}"] if blocks == "kimono_blocks" else []
    made = drawings(STYLES / f"{blocks}.style", people, settings, ("long", "short", "front", "back", "plain"))
    assert made.failed == 0
    for table in (contract(made, "long"), contract(made, "short")):
        assert not table.failing(), table.text()
