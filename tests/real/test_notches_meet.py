"""The law of notches: along any seam of any bundled style, on real women and men, each pair meets within 0.5 mm after ease,
in as many strokes on one side as on the other. And no false alarm: on those it is for, nothing of a bundled style is doubted.

Bodies: US Army survey of 1988, Gordon and others, NATICK/TR-89/044 (tests/data/README.md).
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest
from godet.jobs.results import BodyResult
from support.real_bodies import real_men, real_women
from support.style_runs import PATTERNS, results

FOR_MEN = ("tenor_shirt", "mens_trousers")
WOMEN = 12
NARROW_CLOTH = "W306"  # it is true of full women: the wide front of a top with sleeves does not lie on its cloth


@lru_cache(maxsize=1)
def worn(style: Path) -> tuple[BodyResult, ...]:
    """A style on the women and, behind them, the men."""
    return results(style, [*real_women(WOMEN, 3), *real_men(8, 3)])


STYLES = pytest.mark.parametrize("style", sorted(PATTERNS.glob("*.style")), ids=lambda path: path.stem, scope="module")


@STYLES
def test_notches_meet_on_every_seam(style: Path) -> None:
    sound = [one for one in worn(style) if not one.errors]
    assert len(sound) >= 18
    for one in sound:
        found = {seam.name: seam.notches for seam in one.seams}
        assert sum(len(pairs) for pairs in found.values()) >= len(found) / 2
        apart = {seam: pair for seam, pairs in found.items() for pair in pairs if not (pair.gap_mm <= 0.5 and pair.agrees)}
        assert not apart, one.name


@STYLES
def test_nothing_of_a_bundled_style_is_doubted(style: Path) -> None:
    meant = worn(style)[WOMEN:] if style.stem in FOR_MEN else worn(style)[:WOMEN]
    doubted = [told for one in meant for told in one.warnings if told.code != NARROW_CLOTH]
    assert [(told.code, told.message) for told in doubted] == []
