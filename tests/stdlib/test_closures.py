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


SLIT = """language 1
use bodice from blocks/bodice
use slit_facing from closures/vent

block base = bodice with bust_ease 8 cm
piece back = base.back {
    grain up
    cut 2 as pair
    edge slit = centre between neckline and 12 cm from neckline
}
piece back_facing = slit_facing base.back slit_length 12 cm depth 5 cm {
    cut 2 as pair
}
check as_long_as_the_slit that length of back_facing.faced_slit equals length of back.slit tolerance 0.1 mm
check farther_than_the_slit that length of back_facing.centre equals 15 cm tolerance 0.1 mm
"""


def test_the_facing_of_a_slit_shows_where_it_ends_and_goes_on_3_cm_farther(tmp_path: Path) -> None:
    path = tmp_path / "slit.style"
    path.write_text(SLIT, "utf-8")
    for one in results(path, [invented(name) for name in INVENTED]):
        asked = {check.name: check.holds for check in one.checks}
        assert not one.errors
        assert asked["as_long_as_the_slit"]
        assert asked["farther_than_the_slit"]
