"""A band sewn to a run of gores: each of its notches meets a notch of the gores or a seam between two of them."""

from __future__ import annotations

from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from support.style_runs import PATTERNS, results


def test_each_notch_of_the_band_meets_a_seam_or_a_notch() -> None:
    style = PATTERNS / "gored_skirt.style"
    bodies = prepare(Disk(), str(style), [str(PATTERNS / "bodies")]).bodies
    for one in results(style, bodies):
        found = {seam.name: seam.notches for seam in one.seams}
        for seam in ("front_band_seam", "back_band_seam"):
            assert len(found[seam]) >= 3
            assert all(pair.agrees for pair in found[seam]), (one.name, seam, found[seam])
