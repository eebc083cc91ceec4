"""What holds by its numbers and cannot be made up as it is said: trims too short or few, closing at an edge, hems too deep."""

from __future__ import annotations

import pytest
from support.doubts import CUT, box, doubts

OPEN = "language 1\n" + box("one", "30 cm", CUT, "piece")


@pytest.mark.parametrize(("bought", "told"), [("15 cm", True), ("18 cm", False)])
def test_a_zip_bought_shorter_than_it_opens_is_told(bought: str, told: bool) -> None:
    zip_ = f"trim zip as_long_as {bought}\nclosure side_zip in one.side as_long_as 18 cm closed_by zip"
    found = [one.message for one in doubts(f"{OPEN}{zip_}\n", "W341")]
    assert found == ["`zip` is 150.0 mm long, and `side_zip`, which it closes, opens 180.0 mm"] * told
    assert doubts(f"{OPEN}{zip_}, hook\ntrim hook count 1\n", "W341") == []


@pytest.mark.parametrize(("bought", "told"), [("count 3", False), ("count 2", True), ("as_long_as 5 cm", True)])
def test_fewer_buttons_bought_than_marked_are_told(bought: str, told: bool) -> None:
    rows = CUT + "    buttons on centre between 2 cm from hem and 18 cm from hem count 3 inset_by 1 cm\n"
    piece = box("one", "30 cm", rows, "piece")
    assert bool(doubts(f"language 1\n{piece}trim thing {bought}\n", "W342")) is told
    facing = piece.replace("    cut 1\n", "    cut 1\n    lies inside\n")
    assert doubts(f"language 1\n{facing}trim thing {bought}\n", "W342") == []


@pytest.mark.parametrize(
    ("inset", "told"),
    [
        ("", "over `centre`: it cannot be worked so near an edge"),
        (" inset_by 3 mm", "3.0 mm from `centre`: 11.0 mm wide, it stands out over the edge"),
        (" inset_by 8 mm", ""),
    ],
)
def test_buttons_and_buttonholes_at_an_edge_are_told_once_for_a_row(inset: str, told: str) -> None:
    row = "on centre between 2 cm from hem and 18 cm from hem count 3"
    rows = CUT + f"    buttons {row}{inset}\n    buttonholes {row} inset_by 2 cm as_long_as 1.5 cm\n"
    found = [one.message for one in doubts("language 1\n" + box("one", "30 cm", rows, "piece"), "W345")]
    assert found == [f"a button of `one` lies {told}"] * bool(told)


def test_a_button_that_stands_out_over_an_edge_is_told() -> None:
    """One for a buttonhole of 1.6 cm is at least 12 mm wide."""
    rows = CUT + "    buttons on centre between 2 cm from hem and 18 cm from hem count 3 inset_by 5 mm\n"
    assert doubts("language 1\n" + box("one", "30 cm", rows, "piece"), "W345") == []
    rows += "    buttonholes on centre between 2 cm from hem and 18 cm from hem count 3 inset_by 3 cm as_long_as 1.6 cm\n"
    (found,) = doubts("language 1\n" + box("one", "30 cm", rows, "piece"), "W345")
    assert found.message == "a button of `one` lies 5.0 mm from `centre`: 12.0 mm wide, it stands out over the edge"


def test_on_a_fold_a_button_may_stand() -> None:
    rows = f"{CUT}    buttons on centre between 2 cm from hem and 18 cm from hem count 3\n"
    folded = "language 1\n" + box("one", "30 cm", "    fold centre\n" + rows.replace("cut 1", "cut 1 on fold"), "piece")
    assert doubts(folded, "W345") == []


@pytest.mark.parametrize(
    ("deep", "sewn", "told"),
    [
        ("6 cm on hem with_corners shaped_to_fold", "", True),
        ("3 cm on hem with_corners shaped_to_fold", "", False),
        ("6 cm on hem", 'sewing hemmed stitch 301 seam "6.03.01" on panel.hem\n', True),
        ("6 cm on hem", "", False),
    ],
    ids=["shaped", "not so deep", "said to be turned twice", "an edge of which nothing is said"],
)
def test_a_hem_deeper_than_its_curve_can_turn_is_told(deep: str, sewn: str, told: bool) -> None:
    """A quarter of a circle of 65 cm: a hem of 6 cm has 2 * 6 / 65 = 18 percent more cloth than its place."""
    text = (
        "language 1\npoint o = starting_point\npoint a = o down 25 cm\npoint b = o outward 25 cm\npoint c = o outward 65 cm\n"
        "point d = o down 65 cm\n"
        "piece panel {\n    curve waist from a to b leaving outward arriving up\n    line side from b to c\n"
        "    curve hem from c to d leaving down arriving inward\n    line centre from d to a\n"
        f"    cut 1\n    grain up\n    allow 1 cm\n    allow {deep}\n}}\n" + sewn
    )
    found = [one.message for one in doubts(text, "W346")]
    message = "`panel.hem` is turned up by 60.0 mm, and so curved that its raw edge is 18 percent longer than what it lies on"
    assert found == [message] * told


@pytest.mark.parametrize(("bought", "told"), [("count 3", False), ("count 1", True), ("as_long_as 5 cm", False)])
def test_fewer_buttons_bought_than_buttonholes_are_told_where_no_place_of_a_button_is_marked(bought: str, told: bool) -> None:
    rows = CUT + "    buttonholes on centre between 2 cm from hem and 18 cm from hem count 3 inset_by 2 cm as_long_as 1.5 cm\n"
    found = [one.message for one in doubts(f"language 1\n{box('one', '30 cm', rows, 'piece')}trim thing {bought}\n", "W342")]
    assert found == ["3 buttonholes are worked, and 1 of anything is bought by number"] * told


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("trim buckle count 2\nclosure belted in belt.side as_long_as 20 cm closed_by buckle\n", True),
        ("trim label count 2\n", True),
        ("trim hook count 1\nclosure hooked in one.centre as_long_as 5 cm closed_by hook\n", False),
    ],
    ids=["the buckle of a belt", "a label", "a hook of the same closure"],
)
def test_what_closes_another_piece_is_no_button(more: str, told: bool) -> None:
    """Three buttons are marked, two bought."""
    rows = CUT + "    buttons on centre between 2 cm from hem and 18 cm from hem count 3 inset_by 1 cm\n"
    text = "language 1\n" + box("one", "30 cm", rows, "piece") + box("belt", "60 cm", CUT, "piece")
    text += "trim button count 2\nclosure buttoned in one.centre as_long_as 18 cm closed_by button\n"
    assert bool(doubts(text + more, "W342")) is told
