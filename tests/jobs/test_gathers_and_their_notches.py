"""Gathers lie between the notches that bound them, and a piece made by blending an edge is held to its block's promises."""

from __future__ import annotations

import pytest
from godet.jobs.files import Disk
from godet.jobs.fullness import gathered, gathers_on
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from godet.pattern.which_ends import Sewn
from support.style_runs import PATTERNS, invented, prepared, results
from support.styles import written


def test_nothing_is_gathered_between_the_underarm_and_the_pitch_of_a_puff() -> None:
    style = PATTERNS / "puff_sleeve.style"
    for result in results(style, prepare(Disk(), str(style), [str(PATTERNS / "bodies")]).bodies):
        parts = gathered(result, Sewn({one.name: one.alone().piece for one in result.pieces}, result.seams))
        seams = {seam.name: seam for seam in result.seams}
        for cap, name, foot in (("front_cap", "front_cap_seam", 0.34), ("back_cap", "back_cap_seam", 0.40)):
            (part,) = parts[f"sleeve.{cap}"]
            seam = seams[name]
            # The foot is a share of the armhole, as long on both sides; all the rest is gathered.
            assert part.stop_mm - part.start_mm == pytest.approx(seam.left_mm - foot * seam.right_mm, abs=0.5)
            assert part.to_mm == pytest.approx((1.0 - foot) * seam.right_mm, abs=0.5)


def test_a_drape_gathered_to_a_short_seam_is_shared_out_where_it_can_be_snipped() -> None:
    """Near the point of the dart the allowances of its legs run together: there is no cut edge at the first quarter."""
    style = PATTERNS / "concert_top.style"
    for result in results(style, [invented("alto_3"), invented("alto_5")]):
        (seam,) = (seam for seam in result.seams if seam.name == "drape_seam")
        assert seam.right_mm < 200.0 < seam.left_mm
        assert [pair.left_mm / seam.left_mm for pair in seam.notches] == pytest.approx([0.5, 0.75], abs=1e-3)
        (below,) = (seam for seam in result.seams if seam.name == "below_drape")
        assert below.notches[0].left_mm == pytest.approx(0.0)  # where the gathers end
        assert below.notches[0].right_mm == pytest.approx(0.0)
        assert [pair.right_mm / seam.right_mm for pair in seam.notches] == pytest.approx([0.5, 0.75], abs=1e-3)


def test_a_blended_hem_leaves_the_promises_of_the_block() -> None:
    style = prepared(PATTERNS / "yoke_shirt.style").style
    assert style is not None
    assert {"base.bust", "base.waist", "base.hem"} <= set(style.fits)


def test_each_panel_of_a_skirt_is_gathered_to_its_own_share_of_the_band() -> None:
    """Front and back of one seam: what is written on each is what lies in the band there, and together they are the band."""
    made = written(SKIRT)
    (result,), _ = outcomes(made)
    sewn = Sewn({one.name: one.alone().piece for one in result.pieces}, result.seams)
    found = {edge: part.to_mm for edge, (part,) in gathered(result, sewn).items()}
    assert found == {"front.top": pytest.approx(300.0), "back.top": pytest.approx(400.0)}
    said = [one.text for ends in gathers_on(result, sewn, "cm").values() for one in ends]
    assert sorted(said) == ["gather to 30 cm", "gather to 40 cm"]


SKIRT = """language 1
use straight_band from bands/waistband
point a = starting_point
point b = a outward 60 cm
point c = b down 60 cm
point d = a down 60 cm
point e = a outward 80 cm
point f = e down 60 cm
piece front {
    line top from a to b
    line side from b to c
    line hem from c to d
    line centre from d to a
    cut 1
    allow 1 cm
    grain up
}
piece back {
    line top from a to e
    line side from e to f
    line hem from f to d
    line centre from d to a
    cut 1
    allow 1 cm
    grain up
}
piece band = straight_band with seam_length 70 cm {
    cut 1 on fold
    allow 1 cm
}
seam sides joins front.side to back.side
seam waist gathers front.top + back.top to band.lower_edge
"""
