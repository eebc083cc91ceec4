"""A band sewn to a run of gores: each of its notches meets a notch of the gores or a seam between two of them. Gores are notched
at the hip, bindings at the shoulder."""

from __future__ import annotations

import pytest
from godet.geometry.length import point_at
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


def test_the_seams_of_the_gores_are_notched_at_the_hip_on_both_sides() -> None:
    for one in on_all(PATTERNS / "gored_skirt.style"):
        for name, piece in {made.name: made.alone().piece for made in one.pieces if "band" not in made.name}.items():
            hip = float(piece.sides("hip")[0].drawn.start[0, 1])
            heights = [float(point_at(piece.ring[notch.side].drawn, notch.at)[0, 1]) for notch in piece.notches]
            assert sum(abs(height - hip) < 2.0 for height in heights) == 2, (one.name, name, hip, heights)
        assert all(seam.notches_agree for seam in one.seams)
