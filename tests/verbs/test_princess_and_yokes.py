"""Princess seams and a yoke with its dart closed out, from the bodices of the library."""

from __future__ import annotations

import random
from pathlib import Path

import numpy as np
import pytest
from godet.geometry.path import ring_area
from godet.pattern.edges import edge_length
from godet.pattern.piece import Piece
from support.real_bodies import real_women
from support.style_runs import on_all, results, sews

STYLE = Path(__file__).parent / "princess.style"


@pytest.mark.parametrize("style", [STYLE, STYLE.with_name("princess_to_the_hip.style")], ids=lambda path: path.stem)
def test_on_every_body_of_the_project_all_seams_hold(style: Path) -> None:
    made = on_all(style)
    assert len(made) >= 3
    assert all(sews(one) for one in made)


@pytest.mark.parametrize("seed", [3, 1911])
def test_princess_seams_sew_within_1_mm_on_real_women_or_the_check_says_so(seed: int) -> None:
    made = results(STYLE, real_women(60, seed))
    assert sum(sews(one) for one in made) >= 57  # 95 of 100
    for one in made:
        assert not one.errors or all(error.fix and error.body == one.name for error in one.errors)
        for seam in one.seams:
            within = 1.0 if seam.name in ("princess", "back_princess") else 0.1
            assert seam.holds == (abs(seam.left_mm - seam.right_mm) <= within)


def test_the_panels_have_all_the_cloth_of_the_front() -> None:
    """Area by Green's theorem: dividing takes nothing away, and a dart closed out turns panels without stretching them."""
    for one in on_all(STYLE):
        pieces = {made.name: made.piece.take(np.array([made.lane])) for made in one.pieces}
        princess = _area(pieces["centre_front"]) + _area(pieces["side_front"])
        yoke = _area(pieces["yoke"]) + _area(pieces["lower_front"])
        taken = pieces["lower_front"].dart("waist_dart")
        assert taken is not None
        # One front has its waist dart to the bust point, the other to a little below it: they differ by that sliver.
        assert yoke - princess == pytest.approx(_sliver(pieces["lower_front"]), abs=1e-3)


def test_the_yoke_of_the_library_is_straight_at_its_seam() -> None:
    """Drawn with the dart folded shut, the closed seam is one straight line."""
    for one in on_all(STYLE):
        yoke = next(made.piece.take(np.array([made.lane])) for made in one.pieces if made.name == "upper_front")
        sides = [side.drawn for side in yoke.sides("yoke_seam")]
        assert edge_length(yoke, "yoke_seam")[0] == pytest.approx(float(np.linalg.norm(sides[-1].end - sides[0].start)), abs=1e-6)


def test_whole_fronts_are_divided_and_joined_again() -> None:
    """What is joined has the cloth of its parts, and they that of the whole (area by Green's theorem)."""
    for one in on_all(STYLE.with_name("whole_fronts.style")):
        assert sews(one)
        area = {made.name: _area(made.piece.take(np.array([made.lane]))) for made in one.pieces}
        assert area["together"] == pytest.approx(area["left_part"] + area["right_part"], rel=1e-9)
        assert area["together"] == pytest.approx(area["middle"] + 2.0 * area["left_panel"], rel=1e-9)


def _area(piece: Piece) -> float:
    return float(ring_area([side.drawn for side in piece.ring])[0])


def _sliver(piece: Piece) -> float:
    """Half of the way from the waist dart to the bust point by the width of the dart."""
    inner, outer = (piece.sides(f"waist_dart.{leg}")[0].drawn for leg in ("inner_leg", "outer_leg"))
    ends = [sorted((path.start[0], path.end[0]), key=lambda spot: spot[1]) for path in (inner, outer)]
    bust = piece.points["bust_point"]
    assert bust is not None
    tip = np.linalg.norm(bust[0] - ends[0][1])
    return float(tip / 2 * np.linalg.norm(ends[0][0] - ends[1][0]))


@pytest.mark.parametrize("seed", [7, 77, 777])
def test_wherever_a_princess_seam_stands_it_sews_within_1_mm_on_real_women_or_is_told(seed: int) -> None:
    pick = random.Random(seed)
    place, rounding, height = pick.uniform(4.0, 9.0), pick.uniform(1.0, 4.0), pick.uniform(0.2, 0.6)
    chosen = [f"place={place:.3f} cm", f"rounding={rounding:.3f} cm", f"seam_height={height:.3f}"]
    made = results(STYLE.with_name("shoulder_princess.style"), real_women(25, seed), chosen)
    drawn = [one for one in made if not one.errors]
    assert len(drawn) >= 24
    for one in drawn:
        for seam in one.seams:
            assert seam.holds == (abs(seam.left_mm - seam.right_mm) <= (2.0 if seam.name == "hips" else 1.0))
    assert sum(all(seam.holds for seam in one.seams if seam.name != "hips") for one in drawn) >= 24
