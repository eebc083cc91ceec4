"""Garments written after the rules, from the manual alone: they go together without a false alarm, and a seam left out of one is
told. All are invented."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from godet.assembly.proof import prove
from godet.assembly.said import GarmentSaid
from godet.assembly.whole import whole
from godet.jobs.results import BodyResult
from support.style_runs import invented, prepared, results

UNSEEN = {path.stem: path for path in sorted((Path(__file__).parent / "unseen").glob("*.style"))}
MISSED = {
    "wrap_skirt": {"tie_points"},  # the end of a doubled strip is turned in where no seam is on it, and a tie needs no fastening
}
BODIES = ("alto_3", "soprano_1")


@cache
def said_of(style: str) -> GarmentSaid:
    assembly = prepared(UNSEEN[style]).assembly
    assert assembly is not None
    assert assembly.judged
    return assembly.whole.structure.said


@cache
def worn(style: str) -> Sequence[BodyResult]:
    return results(UNSEEN[style], [invented(one) for one in BODIES])


@pytest.mark.parametrize("style", UNSEEN)
def test_it_holds_and_nothing_is_told(style: str) -> None:
    for result in worn(style):
        assert result.errors == ()
        assert [one.message for one in result.warnings if one.code.startswith("W6")] == []
        assert [one.message for one in result.assembly.wrong] == []
        assert result.holds


@cache
def on_cloth(style: str) -> GarmentSaid:
    return said_of(style).on({one.name: one.alone().piece for one in worn(style)[0].pieces})


@pytest.mark.parametrize("style", UNSEEN)
def test_a_seam_left_out_is_told(style: str) -> None:
    """By names, or on cloth."""
    names = dict.fromkeys(seam.sentence for seam in said_of(style).seams)
    missed = {name for name in names if not (left_out(said_of(style), name) or left_out(on_cloth(style), name))}
    assert missed == MISSED.get(style, set())


def left_out(said: GarmentSaid, name: str) -> bool:
    """Whether anything is told of a garment without one of its seams."""
    rest = tuple(replace(one, after=(), caught_in=()) for one in said.seams if one.sentence != name)
    closures = tuple(one for one in said.closures if one.seam.partition(".")[0] != name)
    return bool(whole(prove(replace(said, seams=rest, closures=closures))).faults)
