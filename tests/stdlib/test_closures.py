"""Vents, a faced slit and button stands of the library: what must hold stands in closures.style."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.style_runs import INVENTED, invented, results

STYLE = Path(__file__).parent / "closures.style"
SETTINGS = [(), ("hem_out=-3 cm", "wide=5 cm"), ("hem_out=8 cm", "long=25 cm", "wide=1.5 cm")]


@pytest.mark.parametrize("settings", SETTINGS)
def test_vent_slit_and_stand_on_every_bundled_body(settings: tuple[str, ...]) -> None:
    for one in results(STYLE, [invented(name) for name in INVENTED], settings):
        assert not one.errors
        assert one.holds, (one.name, [check for check in one.checks if not check.holds])


def test_a_vent_along_a_seam_that_bends_is_told() -> None:
    """Folded back it would not lie on the piece: 50 cm from the hem the side of a skirt of 60 cm is well above the hip."""
    (made,) = results(STYLE, [invented("alto_3")], ["long=50 cm"])
    failed = {check.name for check in made.checks if not check.holds}
    assert {"vented_back.seam_bend", "vented_front.seam_bend"} <= failed
