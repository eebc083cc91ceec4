"""Faults that a cutter makes in how a garment is sewn, put into styles that hold: each is told, by what it is.

The letters group them: a hands, b left and right, c what is left out, d how often it is cut, e order, f notches (see
`tests/jobs`), g closures, h edges, i runs, j the rest."""

from __future__ import annotations

import pytest
from support.sewn_styles import changed, sentence, told, without

OVER_MOUTHS = [
    ("front.upper_side to back.upper_side", "front.side to back.side"),
    (sentence("plain_trousers", "seam", "lower_sides"), ""),
    ("after upper_sides, lower_sides", "after upper_sides"),
]

NAMES_TELL = [
    ("b3: two bands sewn to one edge", "plain_trousers",
     [("joins left_band.lower_edge to front.waistline + back.waistline on left",
       "joins left_band.lower_edge to front.waistline + back.waistline on right")], "E602"),
    ("c2: half an armhole left out", "puff_sleeve", ["front_cap_seam"], "E601"),
    ("j2: shoulders crossed", "concert_top",
     [("joins front.overarm to back.overarm", "joins front.left_overarm to front_facing.right_overarm")], "E604"),
    ("the seam of a drape left out, which is no dart", "concert_top", ["drape_seam"], "E601"),
    ("a slit with a button that is not faced", "concert_top", ["slit_edges"], "E601"),
    ("b1 b4: a left side sewn to a right one", "gored_skirt",
     [("joins front_band.side to back_band.side", "joins front_band.left_side to back_band.right_side")], "E604"),
    ("b2: the left side sewn twice, the right never", "concert_top",
     [("seam side_right joins front.right_side", "seam side_right joins front.left_side")], "E602"),
    ("c7: the side seam of a skirt left out", "gored_skirt", ["sides"], "E601"),
    ("c7: the right side left out, the left stands", "concert_top", ["side_right"], "E601"),
    ("c3: the seam of the yoke left out", "yoke_shirt", ["yoke_back"], "E601"),
    ("c4: the neck seam of the collar left out", "yoke_shirt", ["neck"], "E601"),
    ("c6: the facing's own seams left out", "concert_top", ["facing_overarms"], "E601"),
    ("c1: the seam between band and fronts left out", "yoke_shirt", ["bands"], "E601"),
    ("c5: a binding sewn to nothing", "cowl_top", ["back_neck_bound"], "E611"),
    ("j4: the sleeve's underarm left out", "puff_sleeve", ["sleeve_underarm"], "E601"),
    ("j3: the facing is not closed at the shoulder", "princess_dress_bodice", ["neck_facings"], "E601"),
    ("d1: the back seam of a back that is cut on its fold", "puff_sleeve",
     [("seam sides", "seam front_middle joins front.centre to front.centre sewn open_seam\nseam sides")], "E622"),
    ("d3: one sleeve cut", "puff_sleeve", [("= puffed_sleeve {\n    cut 2 as pair", "= puffed_sleeve {\n    cut 1")], "E609"),
    ("j5: four panels sewn, three cut", "pleated_skirt",
     [("joins panel.top + panel.top + panel.top to", "joins panel.top + panel.top + panel.top + panel.top to")], "E625"),
    ("d2: a bodice that is cut once sewn to itself", "princess_dress_bodice",
     [("cut 2 as pair\n    # Laid", "cut 1\n    # Laid"),
      ("seam princess_back", "seam by_itself joins side_front.side to side_front.side\nseam princess_back")], "E608"),
    ("e1: the facing's shoulder to be sewn after the facing", "puff_sleeve",
     [("back_facing.shoulder sewn open_seam", "back_facing.shoulder sewn open_seam after front_neck_edge")], "E616"),
    ("e2: the sleeve closed, set in, then the side sewn", "puff_sleeve",
     [("seam sides joins front.side to back.side tolerance 2 mm sewn open_seam",
       "seam sides joins front.side to back.side tolerance 2 mm sewn open_seam after front_cap_seam"),
      (sentence("puff_sleeve", "seam", "front_cap_seam"),
       "seam front_cap_seam gathers sleeve.front_cap to front.armhole sewn gathered_seam after sleeve_underarm\n"),
      ("sewn gathered_seam after sides", "sewn gathered_seam")], "E617"),
    ("the two seams of a cap, each after the shoulder", "puff_sleeve",
     [("to front.armhole sewn gathered_seam after sides", "to front.armhole sewn gathered_seam after sides, shoulders"),
      ("to back.armhole sewn gathered_seam after sides", "to back.armhole sewn gathered_seam after sides, shoulders")], "E618"),
    ("h1: hems in no sentence", "gored_skirt",
     [(sentence("gored_skirt", "sewing", "turned_hem"), ""),
      ("    allow 2.5 cm on hem with_corners shaped_to_fold\n", "")], "E601"),
    ("h2: an edge that is sewn and hemmed", "concert_top",
     [("on front.hem + back.hem", "on front.hem + back.hem + back.side")], "E603"),
    ("an edge that is sewn and said to be left", "puff_sleeve",
     [("= puffed_sleeve {\n    cut 2 as pair", "= puffed_sleeve {\n    cut 2 as pair\n    unsewn hem")], "E603"),
    ("h4: fronts sewn to each other", "princess_dress_bodice",
     [("joins side_front.side to side_back.side", "joins side_front.side to side_front.side")], "E601"),
    ("j1: the ends of a doubled band not closed", "puff_sleeve", ["band_ends"], "W621"),
    ("the end of a band with its buttonhole sewn up, the other turned in", "plain_trousers",
     [("joins right_band.end to left_band.end", "joins right_band.end to left_band.front_end")], "W621"),
    ("a waist on which nothing goes, nothing said", "princess_dress_bodice", [("    unsewn waistline\n", "")], "E601"),
    ("the mouth of a pocket sewn up with its bag", "plain_trousers",
     [("seam bags joins pocket_bag.inner_side + pocket_bag.bottom + pocket_bag.outer_edge\n        to pocket_bag.inner_side",
       "seam bags joins pocket_bag.mouth + pocket_bag.inner_side + pocket_bag.bottom + pocket_bag.outer_edge\n        "
       "to pocket_bag.mouth + pocket_bag.inner_side")], "E602"),
    ("facings of the armholes exchanged", "princess_dress_bodice",
     [("joins front_armhole_facing.armhole to centre_front", "joins back_armhole_facing.armhole to centre_front"),
      ("joins back_armhole_facing.armhole to centre_back", "joins front_armhole_facing.armhole to centre_back")], "E630"),
    ("a zip in a seam of both sides, neither said", "gored_skirt",
     [("in (front_band.left_side + side_front.side) as_long_as", "in sides as_long_as"),
      (" on left\n        \"conc", "\n        \"conc")], "E613"),
]  # fmt: skip


def written(style: str, edits: list[str] | list[tuple[str, str]]) -> str:
    """A style without seams by their names, or with places changed."""
    (*named,) = (one for one in edits if isinstance(one, str))
    return without(style, named[0]) if named else changed(style, *(one for one in edits if not isinstance(one, str)))


@pytest.mark.parametrize(("style", "edits", "code"), [case[1:] for case in NAMES_TELL], ids=[case[0] for case in NAMES_TELL])
def test_what_names_tell(style: str, edits: list[str] | list[tuple[str, str]], code: str) -> None:
    assert code in told(style, written(style, edits))


INNER_SHUT = ("front_band_facing.right_side to back_band_facing.right_side", "front_band_facing.side to back_band_facing.side")
"""The left ends of the inside of a waistband sewn to each other too."""

BODIES_TELL = [
    ("the sides sewn over the mouths of the pockets in them", "plain_trousers", OVER_MOUTHS, "E635"),
    ("the mouth of a pocket sewn up by itself", "plain_trousers",
     [("seam bags joins", "seam shut joins front.mouth to back.mouth sewn plain_seam\nseam bags joins")], "E635"),
    ("both bags of a pocket on one side", "plain_trousers",
     [(sentence("plain_trousers", "seam", "front_pockets"), ""), ("after front_pockets, back", "after back"),
      ("after front_pockets, back", "after back")], "E601"),
    ("e3: the band closed, sewn on, then the sleeve closed", "puff_sleeve",
     [(sentence("puff_sleeve", "seam", "sleeve_underarm"), ""),
      ("sewn gathered_seam\n        after sleeve_underarm \"the band is closed first, then folded over the seam\"\n",
       "sewn gathered_seam after band_ends\n"
       "seam sleeve_underarm joins sleeve.front_seam to sleeve.back_seam sewn open_seam after sleeve_hem\n")], "E617"),
    ("a1: a whole front drawn for the wrong hand", "concert_top",
     [("lowered 1.3 cm shoulder_angle of (180 deg - back_angle)",
       "lowered 1.3 cm shoulder_angle of (180 deg - back_angle) {\n    worn right\n}")], "E605"),
    ("A10: a cap sewn to a shoulder, the other shoulder to the armhole", "puff_sleeve",
     [("eases back.shoulder to front.shoulder", "eases sleeve.front_cap to front.shoulder"),
      ("gathers sleeve.front_cap to front.armhole", "gathers back.shoulder to front.armhole")], "E610"),
    ("i1: a run over what is not sewn there", "yoke_shirt",
     [("joins button_band.band_seam to", "joins button_band.inside_edge to")], "E612"),
    ("a placket that only its cuff holds", "yoke_shirt",
     [(sentence("yoke_shirt", "seam", "over_placket_edge"), ""), (" after over_placket_edge", "")], "E601"),
    ("a2 a3: half of a band drawn for the wrong hand", "gored_skirt",
     [("skirt.back_band {\n    worn right", "skirt.back_band {\n    worn left")], "W605"),
    ("g3: a zip that does not reach the top of the band", "gored_skirt",
     [("in (front_band.left_side + side_front.side) as_long_as", "in sides as_long_as"), INNER_SHUT], "E614"),
    ("g1: a zip in the wrong seam", "gored_skirt",
     [("in (front_band.left_side + side_front.side) as_long_as", "in front_seams.left as_long_as"), INNER_SHUT], "E614"),
    ("g2: the closure left out", "gored_skirt", [(sentence("gored_skirt", "closure", "side_zip"), ""), INNER_SHUT], "W620"),
    ("an inner band sewn shut across the zip", "gored_skirt", [INNER_SHUT], "E634"),
    ("g2: the zip of a bodice left out", "puff_sleeve", [(sentence("puff_sleeve", "closure", "back_zip"), "")], "E601"),
    ("a back neck facing on the fold across the zip", "princess_dress_bodice",
     [("along neckline depth of facing_deep {\n    cut 2 as pair\n    cut 2 as pair in fusing\n}\n\npiece back_armhole",
       "along neckline depth of facing_deep {\n    fold centre\n    cut 1 on fold\n    cut 1 on fold in fusing\n}\n\n"
       "piece back_armhole")], "E638"),
    ("g2: the fly of trousers left out", "plain_trousers", [(sentence("plain_trousers", "closure", "fly_front"), "")], "E635"),
    ("g2: a slit marked by a line over the edge, and no closure", "plain_trousers",
     [(sentence("plain_trousers", "closure", "fly_front"), ""), ("    mark fly called", "    mark between_them called"),
      ("# Waistband in",
       "curve between_them = legs.front.crotch_seam between zip_end and waist_corner\n\n# Waistband in")], "E635"),
    ("a fly of which a wrong girth is stated", "plain_trousers",
     [("which_widens waist_sewn", "which_widens waist_sewn + 5 cm")], "W629"),
    ("h3: a sleeve turned round", "puff_sleeve",
     [("gathers sleeve.front_cap to front.armhole", "gathers sleeve.front_cap to back.armhole"),
      ("gathers sleeve.back_cap to back.armhole", "gathers sleeve.back_cap to front.armhole")], "E623"),
    ("d4: sleeves cut alike", "puff_sleeve", [("= puffed_sleeve {\n    cut 2 as pair", "= puffed_sleeve {\n    cut 2")], "E607"),
]  # fmt: skip


@pytest.mark.parametrize(("style", "edits", "code"), [case[1:] for case in BODIES_TELL], ids=[case[0] for case in BODIES_TELL])
def test_what_a_body_tells(style: str, edits: list[tuple[str, str]], code: str) -> None:
    assert code in told(style, changed(style, *edits), body=True)
