"""The set-in sleeve of the library: its cap against the armhole, its notches, and on real women (tests/data/README.md).

What must hold on every body stands as checks in sleeves.style.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.graph.evaluate import evaluate
from support.real_bodies import real_women
from support.style_runs import prepared, results

HERE = Path(__file__).parent
GIVEN = HERE / "set_in.style"
NOBODY = Body("nobody", "cm", "F", {"upper_arm_girth": 290.0})


def cap_height(wide: float) -> float:
    made = prepared(GIVEN, [NOBODY], [f"sleeve_width={wide} cm"])
    assert made.style is not None
    node = made.style.names["cap_height"]
    (part,) = evaluate(made.style, made.population, [node]).parts
    return float(np.asarray(part.values[node])[0]) / 10


@pytest.mark.parametrize("ease", [0, 0.02, 0.05, 0.08])
def test_the_cap_has_the_wanted_ease(ease: float) -> None:
    (made,) = results(GIVEN, [NOBODY], [f"cap_ease={ease}"])
    assert not made.errors
    found = {edge.name: edge.length_mm / 10 for edge in made.pieces[0].edges}
    assert found["front_cap"] + found["back_cap"] == pytest.approx(44 * (1 + ease), abs=0.002)
    assert found["front_seam"] == pytest.approx(found["back_seam"], abs=1e-6)


def test_a_lower_cap_makes_a_wider_sleeve() -> None:
    """Plane geometry; an armhole of 44 cm and a cap of a third of it give 32.796 cm by straight slants, a quarter 38.105 cm.

    The cap is a curve and longer than its slants, so it lies below them by less than a fifth.
    """
    heights = [cap_height(wide) for wide in (32.796, 35, 38.105)]
    assert heights[0] > heights[1] > heights[2]
    assert heights[0] == pytest.approx(44 / 3, rel=0.2)
    assert heights[2] == pytest.approx(44 / 4, rel=0.2)


def test_the_head_is_notched_at_the_shoulder_and_at_both_pitches() -> None:
    """One stroke in front, two in the back; at 0.34 of the front armhole and 0.40 of the back one from the underarm."""
    (made,) = results(GIVEN, [NOBODY])
    piece = made.pieces[0].piece
    lengths = {edge.name: edge.length_mm for edge in made.pieces[0].edges}
    found: dict[tuple[str, int], list[float]] = {}
    for one in piece.notches:
        found.setdefault((piece.ring[one.side].edge, one.strokes), []).append(float(one.at[0]))
    cap = piece.ring[piece.run("front_cap")[0]].drawn
    rising = bool(cap.start[0, 1] < cap.end[0, 1])
    front, back = 0.34 * 210, 0.40 * 230
    ends = lengths["front_cap"], lengths["back_cap"]
    in_front = [front, ends[0]] if rising else [0.0, ends[0] - front]
    assert sorted(found["front_cap", 1]) == pytest.approx(in_front, abs=1e-6)
    assert found["back_cap", 2] == pytest.approx([ends[1] - back if rising else back], abs=1e-6)
    assert len(piece.notches) == 3


def test_a_sleeve_too_wide_for_its_armhole_is_told_before_it_is_drawn() -> None:
    (made,) = results(GIVEN, [NOBODY], ["sleeve_width=52 cm"])
    assert made.errors
    assert "armhole deeper" in made.errors[0].fix
    (told,) = made.checks  # of what needs no drawing
    assert told.name == "sleeve.armhole_room"
    assert "less ease at the upper arm" in told.advice


@pytest.mark.parametrize("seed", [1, 1988])
def test_a_sleeve_for_the_armhole_of_real_women(seed: int) -> None:
    made = results(HERE / "sleeves.style", real_women(100, seed))
    assert sum(not one.errors and one.holds for one in made) >= 94
