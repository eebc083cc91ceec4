"""Princess seams to the waist: what shoulder_princess.style states, on bundled bodies and real women (tests/data/README.md)."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.real_bodies import real_women
from support.style_runs import INVENTED, invented, results, sews

STYLE = Path(__file__).parent / "shoulder_princess.style"
MORE = ("shoulder_share=0.3", "rounding=3 cm")


@pytest.mark.parametrize("settings", [(), MORE, ("shoulder_share=0.7",)])
def test_all_seams_and_checks_hold_on_every_bundled_body(settings: tuple[str, ...]) -> None:
    for one in results(STYLE, [invented(name) for name in INVENTED], settings):
        assert not one.errors
        assert one.holds, [check for check in one.checks if not check.holds]


@pytest.mark.parametrize("settings", [(), MORE])
def test_on_real_women(settings: tuple[str, ...]) -> None:
    made = results(STYLE, real_women(60, 11), settings)
    assert not any(one.errors for one in made)
    assert all(seam.holds for one in made for seam in one.seams)
    assert sum(sews(one) for one in made) >= 59
