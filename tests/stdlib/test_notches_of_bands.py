"""A band sewn to a run of gores: each of its notches meets a notch of the gores or a seam between two of them. Bindings are notched,
and square where their ends lie in seams."""

from __future__ import annotations

import pytest
from godet.geometry.path import end_direction
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from support.style_runs import PATTERNS, on_all, results


def test_each_notch_of_the_band_meets_a_seam_or_a_notch() -> None:
    style = PATTERNS / "gored_skirt.style"
    bodies = prepare(Disk(), str(style), [str(PATTERNS / "bodies")]).bodies
    for one in results(style, bodies):
        found = {seam.name: seam.notches for seam in one.seams}
        for seam in ("front_band_seam", "back_band_seam"):
            assert len(found[seam]) >= 3
            assert all(pair.agrees for pair in found[seam]), (one.name, seam, found[seam])


def test_the_binding_of_an_armhole_is_notched_at_the_shoulder_and_that_of_the_neck_ends_square() -> None:
    for one in on_all(PATTERNS / "cowl_top.style"):
        pieces = {made.name: made for made in one.pieces}
        shoulder = next(edge.length_mm for edge in pieces["front"].edges if edge.name == "left_armhole")
        bound = [seam for seam in one.seams if seam.name.startswith("armholes_bound")]
        assert len(bound) == 2
        for (pair,) in (seam.notches for seam in bound):
            assert pair.agrees
            assert pair.left_mm == pytest.approx(shoulder, abs=0.5)
        for name, lean in (("armhole_binding", 0.5**0.5), ("neck_binding", 0.0)):
            (end,) = pieces[name].piece.sides("end")
            assert end_direction(end.drawn)[:, 0] == pytest.approx(lean)
