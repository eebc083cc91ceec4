"""Circle skirts and the whole waistband of the library on the bundled bodies and on real women (tests/data/README.md)."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from support.real_bodies import real_women
from support.style_runs import INVENTED, invented, results

STYLE = Path(__file__).parent / "circle_skirts.style"
CIRCLES = {"full": 1.0, "half": 1 / 2, "quarter": 1 / 4}


@pytest.mark.parametrize("settings", [[], ["waist_to_hem=90 cm", "waist_ease=6 cm"]])
@pytest.mark.parametrize("name", INVENTED)
def test_front_and_back_are_parts_of_one_circle(name: str, settings: list[str]) -> None:
    """Waist as asked, hem longer by its share of a turn, both about one middle: on paper the waist's radius is W / (2 pi f)."""
    body = invented(name)
    (made,) = results(STYLE, [body], settings)
    assert not made.errors
    assert made.holds, [check for check in made.checks if not check.holds]
    waist = body.measures["natural_waist_girth"] + (60.0 if settings else 20.0)
    for kind, circles in CIRCLES.items():
        for side in ("front", "back"):
            (found,) = [one for one in made.pieces if one.name == f"{kind}_{side}"]
            lengths = {edge.name: edge.length_mm for edge in found.edges}
            assert 4 * lengths["waistline"] == pytest.approx(waist, abs=1.0)
            assert lengths["side"] == pytest.approx(900.0 if settings else 600.0, abs=1e-6)
            (seam,) = found.piece.sides("side")
            radii = sorted(float(np.linalg.norm(at[0])) for at in (seam.drawn.start, seam.drawn.end))
            assert radii[0] == pytest.approx(waist / circles / (2 * np.pi), abs=1e-6)


@pytest.mark.parametrize("name", INVENTED)
def test_every_notch_of_the_waistband_meets_a_seam_or_a_middle(name: str) -> None:
    (made,) = results(STYLE, [invented(name)])
    pairs = next(seam.notches for seam in made.seams if seam.name == "waist")
    assert len(pairs) >= 3
    assert all(pair.agrees for pair in pairs), pairs


def test_a_part_of_a_circle_too_narrow_for_the_hip_is_told() -> None:
    """A quarter is narrow over the hip: of real women some need more of a circle, and each of them is told so."""
    made = results(STYLE, real_women(100, 5), ["waist_ease=0 cm"])
    assert not any(one.errors for one in made)
    failed = {check.name for one in made for check in one.checks if not check.holds}
    assert failed == {"quarter.pair.hip_room"}
