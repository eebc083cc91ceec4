"""The raglan of the library: the neck it takes from the body it gives to the sleeve, and its seams are the body's."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from godet.pattern.edges import edge_length
from support.real_bodies import real_women
from support.style_runs import PATTERNS, results

STYLE = Path(__file__).parent / "raglan.style"


def test_raglan_seams_and_necks_agree_pair_by_pair_on_every_body_of_the_project() -> None:
    """They are the same lines, laid elsewhere (geometry): a hundredth of a millimetre is rounding."""
    bodies = prepare(Disk(), str(STYLE), [str(PATTERNS / "bodies")]).bodies
    for one in results(STYLE, bodies):
        assert not one.errors
        assert one.holds
        pieces = {made.name: made.piece.take(np.array([made.lane])) for made in one.pieces}
        for half in ("front", "back"):
            for edge in ("raglan_seam", "armhole"):
                body, sleeve = (edge_length(pieces[name], edge)[0] for name in (half, f"{half}_sleeve"))
                assert body == pytest.approx(sleeve, abs=0.01)


def test_at_least_95_of_100_women_have_a_raglan() -> None:
    made = results(STYLE, real_women(100, 11))
    assert sum(not one.errors and one.holds for one in made) >= 95
    assert all(error.fix and error.body == one.name for one in made for error in one.errors)
