"""A sleeve whose halves are exchanged is told by the shape of its cap, where no notch tells it."""

from __future__ import annotations

import pytest
from support.doubts import CUT, box, doubts


def set_in(fore: str, aft: str, down: str) -> str:
    """A sleeve whose halves are sewn to a front and a back as told; the left one lies so far lower in its first quarter."""
    cap = (
        "point left = starting_point\npoint right = starting_point outward 32 cm\n"
        "point top = starting_point outward 16 cm up 12 cm\n"
        "point hollow = partway from left to top by 1/4\npoint low_left = starting_point down 10 cm\n"
        "point low_right = right down 10 cm\npiece sleeve {\n"
        "    curve right_half from right to top leaving inward arriving inward\n"
        f"    curve left_half from top to left through (hollow down {down}) leaving inward arriving inward\n"
        "    line left_seam from left to low_left\n    line hem from low_left to low_right\n"
        f"    line right_seam from low_right to right\n    covers sleeve\n{CUT}}}\n"
    )
    return (
        "language 1\n"
        + box("front", "30 cm", f"{CUT}    covers bodice_front\n", "piece")
        + box("back", "30 cm", f"{CUT}    covers bodice_back\n", "piece")
        + f"{cap}seam fore eases sleeve.{fore} to front.side tolerance 1 cm\n"
        f"seam aft eases sleeve.{aft} to back.side tolerance 1 cm\n"
    )


@pytest.mark.parametrize(("fore", "aft", "told"), [("left_half", "right_half", False), ("right_half", "left_half", True)])
def test_the_half_that_is_hollowed_more_belongs_in_front(fore: str, aft: str, told: bool) -> None:
    found = [one.message for one in doubts(set_in(fore, aft, "2.5 cm"), "W340")]
    message = "`sleeve` is turned round: `left_half`, the half of its cap that is hollowed more, is sewn to the back"
    assert found == [message] * told


def test_a_cap_that_is_alike_on_both_sides_may_be_sewn_either_way() -> None:
    for names in (("left_half", "right_half"), ("right_half", "left_half")):
        assert doubts(set_in(*names, "1.6 cm"), "W340") == []
