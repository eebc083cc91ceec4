"""Collar, overblouse and puff sleeve of the library: what must hold stands as checks and seams in the styles beside this file."""

from __future__ import annotations

from pathlib import Path

import pytest
from godet.bodies.body import Body
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from support.real_bodies import real_women
from support.style_runs import PATTERNS, results, sews
from support.styles import Written

HERE = Path(__file__).parent
NOBODY = Body("nobody", "cm", "F", {"upper_arm_girth": 290.0})


def test_collar_and_overblouse_on_real_women() -> None:
    made = results(HERE / "collars.style", real_women(100, 1988))
    assert sum(sews(one) for one in made) >= 99


@pytest.mark.parametrize("settings", [(), ("spread=30 cm",), ("spread=2 cm", "raised=0 cm", "let_down=0 cm"), ("raised=8 cm",)])
def test_a_puff_opens_by_what_was_asked(settings: tuple[str, ...]) -> None:
    (made,) = results(HERE / "puff.style", [NOBODY], settings)
    assert not made.errors
    assert made.holds, [check for check in made.checks if not check.holds]
    assert len(made.checks) >= 4


def test_flat_collar_on_real_women() -> None:
    made = results(HERE / "flat_collar.style", real_women(100, 1988))
    assert sum(sews(one) for one in made) >= 98


def test_a_flat_collar_deeper_than_the_shoulder_is_long_is_told_at_its_depth() -> None:
    text = (HERE / "flat_collar.style").read_text("utf-8").replace("overlap 1.5 cm using", "depth 14 cm overlap 1.5 cm using")
    made = prepare(Written(text), "a.style", [str(PATTERNS / "bodies" / "alto_3.toml")])
    (error,) = outcomes(made)[0][0].errors
    assert error.message == "`depth` is outside its bounds"
    assert error.span is not None
    assert text[error.span.start : error.span.end] == "14 cm"
