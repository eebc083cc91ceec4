"""Faults that a cutter makes in how a garment is sewn, put into styles that hold: each is told, by what it is."""

from __future__ import annotations

import pytest
from support.sewn_styles import changed, sentence, told, without

NAMES_TELL = [
    ("a left side sewn to a right one", "gored_skirt",
     [("joins front_band.side to back_band.side", "joins front_band.left_side to back_band.right_side")], "E604"),
    ("the left side sewn twice, the right never", "concert_top",
     [("seam side_right joins front.right_side", "seam side_right joins front.left_side")], "E602"),
    ("the side seam of a skirt left out", "gored_skirt", ["sides"], "E601"),
    ("the right side left out, the left stands", "concert_top", ["side_right"], "E601"),
    ("the seam of the yoke left out", "yoke_shirt", ["yoke_back"], "E601"),
    ("the neck seam of the collar left out", "yoke_shirt", ["neck"], "E601"),
    ("the facing's own seams left out", "concert_top", ["facing_overarms"], "E601"),
    ("the seam between band and fronts left out", "yoke_shirt", ["bands"], "E601"),
    ("a binding sewn to nothing", "cowl_top", ["back_neck_bound"], "E611"),
    ("the sleeve's underarm left out", "puff_sleeve", ["sleeve_underarm"], "E601"),
    ("the facing is not closed at the shoulder", "princess_dress_bodice", ["neck_facings"], "E601"),
    ("the back seam of a back that is cut on its fold", "puff_sleeve",
     [("seam sides", "seam front_middle joins front.centre to front.centre sewn pressed_open\nseam sides")], "E622"),
    ("one sleeve cut", "puff_sleeve", [("= puffed_sleeve {\n    cut 2 as pair", "= puffed_sleeve {\n    cut 1")], "E609"),
    ("four panels sewn, three cut", "pleated_skirt",
     [("joins panel.top + panel.top + panel.top to", "joins panel.top + panel.top + panel.top + panel.top to")], "E625"),
    ("a bodice that is cut once sewn to itself", "princess_dress_bodice",
     [("cut 2 as pair\n    unsewn waistline\n    # Its", "cut 1\n    unsewn waistline\n    # Its"),
      ("seam princess_back", "seam by_itself joins side_front.side to side_front.side\nseam princess_back")], "E608"),
    ("the facing's shoulder to be sewn after the facing", "puff_sleeve",
     [("back_facing.shoulder sewn pressed_open", "back_facing.shoulder sewn pressed_open after front_neck_edge")], "E616"),
    ("the sleeve closed, set in, then the side sewn", "puff_sleeve",
     [("seam sides joins front.side to back.side tolerance 2 mm sewn pressed_open",
       "seam sides joins front.side to back.side tolerance 2 mm sewn pressed_open after front_armhole"),
      (sentence("puff_sleeve", "seam", "front_armhole"),
       "seam front_armhole gathers sleeve.front_cap to front.armhole sewn gathered after sleeve_underarm\n"),
      ("sewn gathered after sides", "sewn gathered")], "E617"),
    ("hems in no sentence", "gored_skirt",
     [(sentence("gored_skirt", "sewing", "hemmed"), ""), ("    allow 2.5 cm on hem corners folded\n", "")], "E601"),
    ("an edge that is sewn and hemmed", "concert_top",
     [("on front.hem + back.hem", "on front.hem + back.hem + back.side")], "E603"),
    ("an edge that is sewn and said to be left", "puff_sleeve",
     [("= puffed_sleeve {\n    cut 2 as pair", "= puffed_sleeve {\n    cut 2 as pair\n    unsewn hem")], "E603"),
    ("fronts sewn to each other", "princess_dress_bodice",
     [("joins side_front.side to side_back.side", "joins side_front.side to side_front.side")], "E601"),
    ("the ends of a doubled band not closed", "puff_sleeve", ["band_ends"], "W621"),
    ("a waist on which nothing goes, nothing said", "princess_dress_bodice", [("    unsewn waistline\n", "")], "E601"),
    ("a zip in a seam of both sides, neither said", "gored_skirt",
     [("in (front_band.left_side + side_front.side) long", "in sides long"), (" on left ", " ")], "E613"),
]  # fmt: skip


def written(style: str, edits: list[str] | list[tuple[str, str]]) -> str:
    """A style without seams by their names, or with places changed."""
    (*named,) = (one for one in edits if isinstance(one, str))
    return without(style, named[0]) if named else changed(style, *(one for one in edits if not isinstance(one, str)))


@pytest.mark.parametrize(("style", "edits", "code"), [case[1:] for case in NAMES_TELL], ids=[case[0] for case in NAMES_TELL])
def test_what_names_tell(style: str, edits: list[str] | list[tuple[str, str]], code: str) -> None:
    assert code in told(style, written(style, edits))


BODIES_TELL = [
    ("half of a band drawn for the wrong hand", "gored_skirt",
     [("skirt.back_band {\n    worn right", "skirt.back_band {\n    worn left")], "W605"),
    ("a zip that does not reach the top of the band", "gored_skirt",
     [("in (front_band.left_side + side_front.side) long", "in sides long")], "E614"),
    ("a zip in the wrong seam", "gored_skirt",
     [("in (front_band.left_side + side_front.side) long", "in front_seams.left long")], "E614"),
    ("the closure left out", "gored_skirt", [(sentence("gored_skirt", "closure", "side_zip"), "")], "W620"),
    ("the slit of a neck left out", "puff_sleeve", [(sentence("puff_sleeve", "closure", "back_slit"), "")], "E601"),
    ("a sleeve turned round", "puff_sleeve",
     [("gathers sleeve.front_cap to front.armhole", "gathers sleeve.front_cap to back.armhole"),
      ("gathers sleeve.back_cap to back.armhole", "gathers sleeve.back_cap to front.armhole")], "E623"),
    ("sleeves cut alike", "puff_sleeve", [("= puffed_sleeve {\n    cut 2 as pair", "= puffed_sleeve {\n    cut 2")], "E607"),
]  # fmt: skip


@pytest.mark.parametrize(("style", "edits", "code"), [case[1:] for case in BODIES_TELL], ids=[case[0] for case in BODIES_TELL])
def test_what_a_body_tells(style: str, edits: list[tuple[str, str]], code: str) -> None:
    assert code in told(style, changed(style, *edits), body=True)
