"""The yoke over the shoulder: on every bundled body and on real women (tests/data/README.md) what forward_yoke.style states."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from support.real_bodies import real_women
from support.style_runs import INVENTED, invented, results, sews

STYLE = Path(__file__).parent / "forward_yoke.style"


@pytest.mark.parametrize("settings", [(), ("seam_distance=1 cm",), ("seam_distance=5 cm", "yoke_depth=16 cm")])
def test_seams_and_lengths_on_every_bundled_body(settings: tuple[str, ...]) -> None:
    for one in results(STYLE, [invented(name) for name in INVENTED], settings):
        assert not one.errors
        assert one.holds, [check for check in one.checks if not check.holds]


@pytest.mark.parametrize("forward", [2.0, 5.0])
def test_the_front_seam_lies_before_the_natural_shoulder_by_what_was_asked(forward: float) -> None:
    """The natural shoulder is a straight inner line of the yoke; both ends of the front seam are as far from it."""
    for body in results(STYLE, [invented(name) for name in INVENTED], [f"seam_distance={forward} cm"]):
        (yoke,) = [made.piece.take(np.array([made.lane])) for made in body.pieces if made.name == "yoke"]
        (line,) = [one.drawn for one in yoke.lines if "natural_shoulder" in one.names]
        start, way = line.start[0], line.end[0] - line.start[0]
        (seam,) = yoke.sides("front_yoke_seam")
        for end in (seam.drawn.start[0], seam.drawn.end[0]):
            away = abs(way[0] * (end - start)[1] - way[1] * (end - start)[0]) / np.linalg.norm(way)
            assert away == pytest.approx(forward * 10, abs=0.5)


def test_on_real_women() -> None:
    made = results(STYLE, real_women(100, 11))
    assert not any(one.errors for one in made)
    assert sum(sews(one) for one in made) >= 99


def test_a_yoke_that_would_miss_the_armhole_is_made_deeper_and_told() -> None:
    made = results(STYLE, [invented(name) for name in INVENTED], ["yoke_depth=5 cm"])
    assert all(any(word.name == "yoked.deeper_yoke" for word in one.tidings) for one in made)
    assert all(one.holds for one in made)
