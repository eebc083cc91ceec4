"""How much ease a seam takes, and between which notches, is written beside the edge that is longer."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from godet.drawing.wording import Gather
from godet.jobs.fullness import eases_on
from godet.jobs.outcome import outcomes
from godet.pattern.which_ends import Sewn
from support.styles import written

BOX = """
piece {name} {{
    point a = starting_point
    point b = a outward 20 cm
    point c = b up {high} cm
    point d = a up {high} cm
    line hem from a to b
    line side from b to c
    line top from c to d
    line middle from d to a
    grain up
    cut 2 as pair
    allow 1 cm
    {notch}
}}
"""


def eases(left: str, right: str, how: str = "eases", notches: tuple[str, str] = ("", "")) -> Mapping[str, tuple[Gather, ...]]:
    sides = BOX.format(name="one", high=left, notch=notches[0]) + BOX.format(name="other", high=right, notch=notches[1])
    prepared = written(f"language 1\n{sides}seam s {how} one.side to other.side\n")
    assert prepared.style is not None, [one.message for one in prepared.diagnostics]
    (result,), _ = outcomes(prepared)
    return eases_on(result, Sewn({one.name: one.piece for one in result.pieces}, result.seams), "cm")


def test_ease_that_is_spread_evenly_is_told_once_for_the_whole_seam() -> None:
    (ease,) = eases("30.6", "30")["one"]
    assert (ease.edge, ease.start) == ("side", 0.0)
    assert ease.stop == pytest.approx(306.0)
    assert ease.text == "ease 0.6 cm, end to end"


def test_ease_that_lies_between_notches_is_told_where_it_lies() -> None:
    """Notches 10 and 22 cm from the hem on the longer side, 10 and 21.2 on the other: 8 mm lie between them, none elsewhere."""
    one, other = (f"notch side at 10 cm from hem\n    notch side at {far} cm from hem" for far in (22, 21.2))
    (ease,) = eases("30", "29.2", notches=(one, other))["one"]
    assert ease.text == "ease 0.8 cm, notch to notch"
    assert [ease.start, ease.stop] == pytest.approx([100.0, 220.0])


@pytest.mark.parametrize(("left", "how"), [("30.05", "eases"), ("30", "joins")])
def test_no_ease_is_told_where_a_seam_takes_none(left: str, how: str) -> None:
    assert not [one for parts in eases(left, "30", how).values() for one in parts]
