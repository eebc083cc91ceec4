"""An edge trued over panels as they are sewn: smooth at every seam, whichever way the panels lie on the paper."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from godet.geometry.motion import rotation
from godet.pattern.check import faults
from godet.pattern.edges import edge_length, rename
from godet.pattern.extend import extended
from godet.pattern.panels_trued import smoothed_over
from godet.pattern.piece import Piece, Trouble
from godet.pattern.truing import Seamed, kink
from godet.pattern.unfold import mirror
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import front, lanes, moved, names_of, skirt

law = settings(max_examples=25, deadline=None)


def panel(width: float, sag: float, names: tuple[str, str], raised: float) -> Piece:
    """A panel with its seams called so, its waistline higher by `raised` at the second, on two bodies."""
    plain = replace(skirt([width, 1.3 * width], sag=sag), fold=None, worn=None)
    called = rename(plain, {"centre": names[0], "side": names[1]})
    return extended(called, names[1], "waistline", lanes(raised))


def lying(piece: Piece, way: str) -> Piece:
    return {"alike": piece, "over": mirror(piece), "turned": moved(piece, rotation(np.array([[30.0, -40.0]]), lanes(0.7)))}[way]


@law
@given(
    st.floats(-4.0, 4.0),
    st.floats(5.0, 30.0),
    st.sampled_from(["alike", "over", "turned"]),
    st.sampled_from(["alike", "over", "turned"]),
)
def test_it_runs_on_over_every_seam_and_both_its_sides_change_alike(raised: float, sag: float, one: str, other: str) -> None:
    front_panel = panel(200.0, sag, ("centre", "first"), raised)
    middle = lying(panel(150.0, sag, ("first", "second"), raised), one)
    last = lying(panel(180.0, sag, ("second", "side"), raised), other)
    panels = [(front_panel, "waistline"), (middle, "waistline"), (last, "waistline")]
    made, gone = smoothed_over(panels)
    for k, seam in enumerate(("first", "second")):
        sides = [Seamed(piece, "waistline", seam) for piece in (made[k], made[k + 1])]
        assert float(np.degrees(kink(*sides)).max()) < 0.2  # the corner is cut on the seam itself, the line is met on its tangent
        grown = [edge_length(made[k + n], seam) - edge_length(panels[k + n][0], seam) for n in (0, 1)]
        np.testing.assert_allclose(grown[0], grown[1], atol=0.05)
        assert (np.abs(grown[0]) <= gone + 0.5).all()
    for seam, k in (("centre", 0), ("side", 2)):
        np.testing.assert_allclose(edge_length(made[k], seam), edge_length(panels[k][0], seam), atol=1e-9)
    for piece, (old, _) in zip(made, panels, strict=True):
        assert faults(piece) == []
        assert names_of(piece) == names_of(old)
    flat, _ = smoothed_over([(front_panel, "waistline"), *((lying(p, "alike"), e) for p, e in panels[1:])])
    for piece, same in zip(made, flat, strict=True):
        np.testing.assert_allclose(edge_length(piece, "waistline"), edge_length(same, "waistline"), atol=1e-6)


def test_what_cannot_be_trued_over_panels_is_refused() -> None:
    one, other = panel(200.0, 20.0, ("centre", "side"), 0.0), panel(200.0, 20.0, ("centre", "side"), 0.0)
    with pytest.raises(Trouble, match="not told by the names"):
        smoothed_over([(one, "waistline"), (other, "waistline")])
    with pytest.raises(Trouble, match="one seam edge for each two"):
        smoothed_over([(one, "waistline"), (other, "waistline")], ("side", "centre"))
    with pytest.raises(Trouble, match="is not at an end"):
        smoothed_over([(one, "waistline"), (other, "waistline")], ("hem",))
    with pytest.raises(Trouble, match="one panel"):
        smoothed_over([(one, "waistline")])
    with pytest.raises(Trouble, match="broken by a dart"):
        smoothed_over([(front(), "armhole"), (mirror(front()), "armhole")], ("side",))
