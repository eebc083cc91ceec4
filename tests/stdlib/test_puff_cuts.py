"""A sleeve opened by a number of cuts: what must hold stands in puff_cuts.style."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.style_runs import INVENTED, invented, results

STYLE = Path(__file__).parent / "puff_cuts.style"


@pytest.mark.parametrize("settings", [(), ("count=2",), ("count=9", "opened=30 cm"), ("opened=4 cm",)])
def test_cap_and_hem_are_opened_as_asked_and_nothing_under_the_arm(settings: tuple[str, ...]) -> None:
    for one in results(STYLE, [invented(name) for name in INVENTED], settings):
        assert not one.errors
        assert one.holds, (one.name, [check for check in one.checks if not check.holds])


def test_nothing_opened_is_told() -> None:
    (made,) = results(STYLE, [invented("alto_3")], ["opened=0 cm"])
    failed = {check.name for check in made.checks if not check.holds}
    assert {f"{name}.opening_in_all" for name in ("both", "above", "below")} <= failed
