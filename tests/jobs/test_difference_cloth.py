"""Styles of the project as they are compared: what is said of seams, checks, fit and finished measurements."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from godet.diagnostics.diagnostic import Diagnostic
from godet.difference.cloth import BodyCloth, compare
from godet.jobs.difference_cloth import body_cloth
from support.style_runs import PATTERNS, invented, results


@lru_cache(maxsize=4)
def side(style: str, *choices: str) -> BodyCloth:
    return body_cloth(results(PATTERNS / f"{style}.style", [invented("alto_3")], choices)[0])


def test_a_longer_sleeve_is_a_finished_measurement_beyond_its_tolerance() -> None:
    (body,) = compare([side("concert_top")], [side("concert_top", "overarm = 24 cm")]).bodies
    assert [(one.name, round(one.more, 1), one.beyond) for one in body.finished] == [("overarm_length", 20.0, True)]
    assert not body.sayings  # seams, checks and fit hold as they did


def test_everything_a_body_comes_to_is_among_what_is_compared() -> None:
    (found,) = results(PATTERNS / "concert_top.style", [invented("alto_3")])
    said = {(one.kind, one.name) for one in side("concert_top").sayings}
    assert {("seam", one.name) for one in found.seams} <= said
    assert {("check", one.name) for one in found.checks} <= said
    assert {("fit", one.name) for one in found.fits} <= said
    rows = found.specification
    assert {("closure", one.name) for one in rows.closures} | {("sewing", one.name) for one in rows.sewing} <= said
    assert {one.name for one in side("concert_top").finished} == {one.name for one in rows.finished}
    assert set(side("concert_top").pieces) == {one.name for one in found.pieces}


def test_a_longer_slit_is_told_of_its_opening_and_its_closure() -> None:
    (body,) = compare([side("concert_top")], [side("concert_top", "opening = 16 cm")]).bodies
    changed = {(one.kind, what) for one in body.sayings for what, *_ in one.numbers}
    assert {kind for kind, _ in changed} & {"closure", "opening"}


def test_a_body_that_cannot_be_drawn_says_why() -> None:
    (found,) = results(PATTERNS / "concert_top.style", [invented("alto_3")])
    undrawn = replace(found, pieces=(), errors=(Diagnostic("E999", "the slit is longer than the centre back"),))
    assert body_cloth(undrawn).errors == ("the slit is longer than the centre back",)
