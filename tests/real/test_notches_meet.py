"""The law of notches: along any seam of any bundled style, on real women and men, each pair meets within 0.5 mm after ease,
in as many strokes on one side as on the other.

Bodies: US Army survey of 1988, Gordon and others, NATICK/TR-89/044 (tests/data/README.md).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.real_bodies import real_men, real_women
from support.style_runs import PATTERNS, results


@pytest.mark.parametrize("style", sorted(PATTERNS.glob("*.style")), ids=lambda path: path.stem)
def test_notches_meet_on_every_seam(style: Path) -> None:
    sound = [one for one in results(style, [*real_women(12, 3), *real_men(8, 3)]) if not one.errors]
    assert len(sound) >= 18
    for one in sound:
        found = {seam.name: seam.notches for seam in one.seams}
        assert sum(len(pairs) for pairs in found.values()) >= len(found) / 2
        apart = {seam: pair for seam, pairs in found.items() for pair in pairs if not (pair.gap_mm <= 0.5 and pair.agrees)}
        assert not apart, one.name
