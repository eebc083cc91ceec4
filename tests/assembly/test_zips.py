"""Where a zip or a loop opens a garment: in a side from the armhole, in a seam closed at both ends, in an edge sewn to its own
second layer."""

from __future__ import annotations

from pathlib import Path

import pytest
from godet.jobs.seam_map import seam_map
from support.hand_made import TOP, changed, made, opened, told
from support.style_runs import invented, prepared, results

COLLAR = TOP[TOP.index("length neck") : TOP.index("seam shoulders")]
SHELL = changed(
    TOP,
    (COLLAR, ""),
    (TOP[TOP.index("seam collar_ends") :], ""),
    ("outward 9 cm", "outward 13 cm"),
    ("front.hem + back.hem + front.armhole + back.armhole", "front.hem + back.hem + front.neckline + back.neckline"),
    ("sewing plain_seam", "trim zip as_long_as 20 cm\nsewing plain_seam"),
)
"""A sleeveless top of a wide neck whose armholes are not finished yet."""

FACED = (
    SHELL
    + """sewing faced stitch 301
piece front_facing = facing front_half along armhole depth 4 cm {
    grain up
    cut 2 as pair
    allow 0 cm on inner_edge
}
piece back_facing = facing back_half along armhole depth 4 cm {
    grain up
    cut 2 as pair
    allow 0 cm on inner_edge
}
seam facing_shoulders joins front_facing.shoulder to back_facing.shoulder sewn plain_seam
seam facing_sides joins front_facing.side to back_facing.side on right sewn plain_seam
seam armholes joins front_facing.armhole + back_facing.armhole to front.armhole + back.armhole
        sewn faced after shoulders, sides
"""
)
ZIP = "closure side_zip in sides.left as_long_as 20 cm closed_by zip\n"


# ---- the ends of a facing --------------------------------------------------------------------------


def test_what_the_map_draws_as_ending_in_nothing_is_told(tmp_path: Path) -> None:
    """With a zip beside them the left ends of the facing are turned in; without they are raw cloth."""
    for name, text, codes, drawn in (("zip", FACED + ZIP, [], set()), ("none", FACED, ["E601"], {"side"})):
        assert told(text) == codes
        path = tmp_path / f"{name}.style"
        path.write_text(text, "utf-8")
        ready = prepared(path, [invented("alto_3")])
        found = seam_map(ready, results(path, [invented("alto_3")])[0])
        assert found is not None
        assert {edge.name for piece in found.pieces for edge in piece.edges if "nothing" in edge.finishes} == drawn


# ---- the girth that a closure states ---------------------------------------------------------------

DOUBLE = changed(
    SHELL,
    ("unfold front_half across centre {\n    grain up\n    cut 1",
     "front_half {\n    fold centre\n    grain up\n    cut 2 on fold"),
    ("unfold back_half across centre {\n    grain up\n    cut 1", "back_half {\n    grain up\n    cut 4 as pair"),
    (" + front.neckline + back.neckline", " + front.armhole + back.armhole"),
) + """seam necks joins front.neckline + back.neckline to front.neckline + back.neckline sewn plain_seam
seam backs joins back.centre to back.centre sewn plain_seam
"""
"""A top of two layers that are turned at the neck and at the open back."""


def test_the_girth_that_an_opening_in_an_edge_sewn_to_its_second_layer_has_closed() -> None:
    """Not that of the ring on which its two edges lie too."""
    loops = "closure loops in back.centre as_long_as 52 cm closed_by zip which_widens {} to_pass head_girth\n"
    assert told(DOUBLE + loops.format("57 cm")) == []
    assert told(DOUBLE + loops.format("50 cm")) == ["W629"]


DRESS = changed(
    FACED.replace("on right ", ""),
    ("unfold back_half across centre {\n    grain up\n    cut 1", "back_half {\n    grain up\n    cut 2 as pair"),
) + "seam centre_back joins back.centre to back.centre sewn plain_seam\n"


@pytest.mark.parametrize(
    ("long", "girth", "codes"), [(40, "90 cm", []), (40, "57 cm", []), (40, "50 cm", ["W629"]), (12, "90 cm", ["W629"])]
)
def test_a_zip_from_the_neck_past_the_armholes_states_the_girth_of_the_waist(long: int, girth: str, codes: list[str]) -> None:
    zip_ = f"closure back_zip in centre_back as_long_as {long} cm closed_by zip which_widens {girth} to_pass hip_girth\n"
    assert told(DRESS + zip_) == codes


def test_a_zip_from_the_armhole_states_the_girth_of_the_waist() -> None:
    assert told(FACED + ZIP.replace("\n", " which_widens 90 cm to_pass hip_girth\n")) == []


# ---- where a closure ends --------------------------------------------------------------------------

NOTCHES = """
    notch left_side at 2 cm from left_armhole called zip_top
    notch left_side at 22 cm from left_armhole called zip_end"""
SLIT = changed(
    SHELL,
    ("unfold front_half across centre {", "unfold front_half across centre {" + NOTCHES),
    ("unfold back_half across centre {", "unfold back_half across centre {" + NOTCHES),
    (" + front.neckline + back.neckline", " + front.neckline + back.neckline + front.armhole + back.armhole"),
    (
        "seam sides joins front.side to back.side sewn plain_seam\n",
        """seam right_side joins front.right_side to back.right_side sewn plain_seam
seam above joins front.left_side between zip_top and left_armhole to back.left_side between zip_top and left_armhole
        sewn plain_seam
seam beside joins front.left_side between zip_top and zip_end to back.left_side between zip_top and zip_end sewn plain_seam
seam below joins front.left_side between zip_end and hem to back.left_side between zip_end and hem sewn plain_seam
""",
    ),
)


def test_a_zip_within_a_seam_that_is_sewn_above_and_below_it() -> None:
    assert told(SLIT + "closure side_zip in beside as_long_as 20 cm closed_by zip\n") == []
    assert told(SLIT + "closure side_zip in (front.left_side between zip_top and zip_end) as_long_as 20 cm closed_by zip\n") == []


def test_a_facing_sewn_shut_across_the_zip_that_opens_its_edge() -> None:
    """One that is turned in beside the zip is not, nor that of an armhole without one."""
    closed = FACED.replace("on right sewn", "sewn")
    assert told(closed + ZIP) == ["E634"]
    assert told(FACED + ZIP) == []
    assert told(closed) == []
    assert "`on right`" in made(closed + ZIP).wrong[0].fix


def test_an_edge_that_ends_at_a_place_without_a_name_says_which_end() -> None:
    style = opened(changed(SHELL, ("line hem from low to far_low", "line hem from low to (low outward 30 cm)")))
    (one,) = (one for one in style.diagnostics if one.is_error)
    assert (one.code, "`hem` ends at a place that has no name" in one.message) == ("E227", True)
    assert "`point hem_end = …`" in one.fix
