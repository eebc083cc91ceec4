"""The bust dart low in the side: on every bundled body and on real women (tests/data/README.md) what low_darts.style states."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.real_bodies import real_women
from support.style_runs import INVENTED, invented, results, sews

STYLE = Path(__file__).parent / "low_darts.style"


@pytest.mark.parametrize("settings", [(), ("shortening=0 cm",), ("shortening=5 cm",)])
def test_dart_and_sides_on_every_bundled_body(settings: tuple[str, ...]) -> None:
    for one in results(STYLE, [invented(name) for name in INVENTED], settings):
        assert not one.errors
        assert one.holds, [check for check in one.checks if not check.holds]


def test_on_real_women() -> None:
    made = results(STYLE, real_women(100, 11))
    assert not any(one.errors for one in made)
    assert sum(sews(one) for one in made) >= 98


def test_a_dart_that_starts_high_is_told() -> None:
    (made,) = results(STYLE, [invented("alto_3")], ["start_height=16 cm"])
    assert {check.name for check in made.checks if not check.holds} == {"front.low_side_dart.dart_slope"}
