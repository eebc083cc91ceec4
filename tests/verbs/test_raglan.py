"""The raglan of the library: the neck it takes from the body it gives to the sleeve, and its seams are the body's."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from godet.pattern.edges import edge_length
from godet.pattern.truing import angle_at, corner_at
from support.real_bodies import real_women
from support.style_runs import PATTERNS, results

STYLE = Path(__file__).parent / "raglan.style"


def test_raglan_seams_and_necks_agree_pair_by_pair_on_every_body_of_the_project() -> None:
    """The same lines, laid elsewhere; the sleeve's are smoothed where they meet, by less than two seam lines differ unseen."""
    bodies = prepare(Disk(), str(STYLE), [str(PATTERNS / "bodies")]).bodies
    for one in results(STYLE, bodies):
        assert not one.errors
        assert one.holds
        pieces = {made.name: made.piece.take(np.array([made.lane])) for made in one.pieces}
        for half in ("front", "back"):
            for edge in ("raglan_seam", "armhole"):
                body, sleeve = (edge_length(pieces[name], edge)[0] for name in (half, f"{half}_sleeve"))
                assert body == pytest.approx(sleeve, abs=0.3)
            sleeve_piece = pieces[f"{half}_sleeve"]
            found = angle_at(sleeve_piece, corner_at(sleeve_piece, "raglan_seam", "armhole"))
            np.testing.assert_allclose(np.degrees(found), 180.0, atol=1e-6)  # no bend at the notch of the pitch


def test_at_least_95_of_100_women_have_a_raglan() -> None:
    """What the bodice itself fails to give is its own matter."""
    made = results(STYLE, real_women(100, 11))
    assert sum(not one.errors and all(check.holds for check in one.checks if check.name[:5] != "base.") for one in made) >= 95
    assert all(error.fix and error.body == one.name for one in made for error in one.errors)
