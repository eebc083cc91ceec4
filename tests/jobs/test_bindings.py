"""Strips that bind a round edge and do not give are told; on the bias they are not."""

from __future__ import annotations

import pytest
from support.sewn_styles import changed, opened
from support.style_runs import PATTERNS

ALTO = PATTERNS / "bodies" / "alto_3.toml"
CUT = "    cut 2 as pair\n    allow 0 cm\n    allow 1 cm on end, start_end\n    notch"


@pytest.mark.parametrize(("grain", "told"), [("", False), ("outward", True), ("up", True), ("up as bias", False)])
def test_a_strip_along_a_thread_round_an_armhole_is_told_once(grain: str, told: bool) -> None:
    """As the recipe gives it, it lies on the bias; the binding of the neck, on a flat curve, stays as it is."""
    given = CUT.replace("    allow 0", f"    grain {grain}\n    allow 0", 1) if grain else CUT
    (result,) = opened("cowl_top", changed("cowl_top", (CUT, given))).on(ALTO)
    assert not result.errors, [one.message for one in result.errors]
    found = [one for one in result.warnings if one.code == "W348"]
    assert len(found) == told
    assert all("armholes_bound.left" in str(one.data["of"]) and "armhole_binding" in str(one.data["of"]) for one in found)
