"""Garments written after the rules, from the manual alone: they go together without a false alarm, and a seam left out of one is
told. All are invented."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from godet.assembly.proof import prove
from godet.assembly.said import GarmentSaid
from godet.assembly.whole import whole
from godet.jobs.outcome import outcomes
from support.style_runs import invented, prepared

UNSEEN = {path.stem: path for path in sorted((Path(__file__).parent / "unseen").glob("*.style"))}
BODIES = ("alto_3", "soprano_1")


@cache
def said_of(style: str) -> GarmentSaid:
    assembly = prepared(UNSEEN[style]).assembly
    assert assembly is not None
    assert assembly.judged
    return assembly.whole.structure.said


@pytest.mark.parametrize("style", UNSEEN)
def test_it_holds_and_nothing_is_told(style: str) -> None:
    for result in outcomes(prepared(UNSEEN[style], [invented(one) for one in BODIES]))[0]:
        assert result.errors == ()
        assert [one.message for one in result.warnings if one.code.startswith("W6")] == []
        assert [one.message for one in result.assembly.wrong] == []
        assert result.holds


MISSED = {"dirndl": {"front_pockets", "back_pockets"}}
"""With one side of its pockets left out a bag hangs on the other, as a patch would: a slit in a side may be faced so."""


@pytest.mark.parametrize("style", UNSEEN)
def test_a_seam_left_out_is_told(style: str) -> None:
    said, missed = said_of(style), set[str]()
    for name in dict.fromkeys(seam.sentence for seam in said.seams):
        rest = tuple(replace(one, after=(), caught_in=()) for one in said.seams if one.sentence != name)
        closures = tuple(one for one in said.closures if one.seam.partition(".")[0] != name)
        if not whole(prove(replace(said, seams=rest, closures=closures))).faults:
            missed.add(name)
    assert missed == MISSED.get(style, set())
