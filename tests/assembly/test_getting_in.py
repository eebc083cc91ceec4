"""What of a body gets into a garment: through its openings, past what is narrow between them, and into its sleeves and legs."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from support.sewn_styles import changed, opened, sentence
from support.style_runs import PATTERNS, invented, results

ALTO = PATTERNS / "bodies" / "alto_3.toml"

DRESS = """language 1
use long_bodice from blocks/bodice
choice waist_ease = 4 cm between 2 cm and 40 cm
choice zip_long = 50 cm between 10 cm and 60 cm
choice give = 0 between 0 and 1
block base = long_bodice with bust_ease 8 cm hip_ease 8 cm hip_to_hem 30 cm using waist_ease
shape eased_back = leave base.back.shoulder_dart as ease
each piece {
    grain up
    allow 1 cm
    allow 0 cm on neckline, armhole
    allow 3 cm on hem
}
piece back = eased_back {
    cut 2 as pair
    worn right
    edge opening = centre between neckline and zip_long from neckline
    edge shut = centre between zip_long from neckline and hem
}
piece front = pivot base.front.bust_dart into side at 5 cm from armhole called side_dart {
    cut 1 on fold
    worn left
}
seam shoulders eases back.shoulder to front.shoulder sewn plain
seam sides joins front.side to back.side tolerance 5 cm sewn plain
seam centre_back joins back.shut to back.shut sewn plain
closure back_zip in back.opening as_long_as zip_long closed_by zip
trim zip as_long_as zip_long
sewing plain stitch 301
sewing bound stitch 301 on front.neckline + back.neckline + front.armhole + back.armhole
sewing hemmed stitch 301 on front.hem + back.hem
cloth shell width 140 cm stretch give
"""


def put_on(style: str, *edits: tuple[str, str]) -> list[str]:
    """What is told of a style, changed, as it is put on by alto 3: hip 995 mm, bust 920 mm, upper arm 290 mm."""
    (result,) = opened(style, changed(style, *edits)).on(ALTO)
    assert not result.errors, [one.message for one in result.errors]
    return [one.message for one in result.assembly.wrong]


def test_the_bust_must_pass_the_waist_of_a_dress_unless_it_is_open_there_or_wide_or_stretches(tmp_path: Path) -> None:
    """A zip that ends above the waist, just past it, well past it; with the first, more girth, and cloth that stretches."""
    path = tmp_path / "dress.style"
    path.write_text(DRESS, "utf-8")
    zips = [{"zip_long": 300.0}, {"zip_long": 410.0}, {"zip_long": 550.0}]
    settings = [*zips, *({"zip_long": 300.0, **more} for more in ({"waist_ease": 240.0}, {"give": 0.05}, {"give": 0.2}))]
    alto = invented("alto_3")
    made = results(path, [replace(alto, name=f"alto {k}", choices=one) for k, one in enumerate(settings)])
    assert [one.errors for one in made] == [()] * len(settings)
    told = [[wrong.message.removeprefix("the bust (920.0 mm) does not pass ") for wrong in one.assembly.wrong] for one in made]
    assert told[0] == ["the waist of the garment: 785.3 mm, closed all round"]
    assert len(told[1]) == 1
    assert told[1][0].endswith("with its closure open")
    assert told[4] == ["the waist of the garment: 785.3 mm, stretched 824.5 mm, closed all round"]
    assert told[2] == told[3] == told[5] == []


SLIT = [
    (" = necked_back {\n", " = necked_back {\n    edge slit = centre between neckline and 14 cm from neckline\n"
     "    edge below = centre between 14 cm from neckline and waistline\n"),
    (sentence("puff_sleeve", "closure", "back_zip"), "closure back_zip in back.slit as_long_as 14 cm closed_by zip, hook\n"
     "seam centre_back joins back.below to back.below sewn open_seam\n"),
]  # fmt: skip
"""The bodice opened by no more than a slit at the neck."""


def test_a_bodice_that_opens_at_the_neck_alone_cannot_be_put_on_over_a_bound_waist() -> None:
    told = put_on("puff_sleeve", *SLIT)
    assert told == ["the bust (920.0 mm) does not pass the waist of the garment: 805.0 mm, closed all round"]


def test_a_band_narrower_than_the_arm_there_is_told_once() -> None:
    """Cut 24.8 cm on an arm of 29, it held its check, which asks how much is gathered into it."""
    edits = [("(upper_arm_girth + 3 cm)", "(upper_arm_girth - 4.2 cm)"), (sentence("puff_sleeve", "fit", "band_room"), "")]
    (told,) = put_on("puff_sleeve", *edits)
    assert told.startswith("sleeve_band.upper_edge (248.0 mm) is narrower than the arm it goes round")


def test_pockets_in_the_sides_are_no_limbs_so_that_the_hip_is_held_to_the_waist_of_trousers() -> None:
    fly = sentence("plain_trousers", "closure", "fly_front")
    shorter = fly.partition("which_widens")[0].replace("as_long_as zip_long", "as_long_as 8 cm") + "\n"
    told = put_on("plain_trousers", (fly, shorter))
    assert told == ["the hip (995.0 mm) does not pass waistline: 925.0 mm, with its closure open"]


def test_a_band_through_which_no_hand_goes_is_told_once() -> None:
    alto = invented("alto_3")
    bandaged = replace(alto, measures={**alto.measures, "hand_girth": 330.0})
    (result,) = results(PATTERNS / "puff_sleeve.style", [bandaged])
    (told,) = [one.message for one in result.assembly.wrong]
    assert told.startswith("the hand (330.0 mm) does not pass sleeve_band.upper_edge: 320.0 mm")


SLIM = """point slim_WHAT_top = base.WHAT.side at armhole
point WHAT_in = base.WHAT.centre at hem
point WHAT_narrow = (base.WHAT.side at hem) inward NARROW
shape slim_WHAT = replace base.WHAT.side + base.WHAT.hem {
    curve side from slim_WHAT_top to WHAT_narrow leaving along base.WHAT.side
    curve hem from WHAT_narrow to WHAT_in leaving square_to side arriving inward
}
"""
"""The front or the back of a camisole, its hem narrowed."""


def test_the_bust_must_pass_a_hem_narrower_than_the_top_that_straps_and_bindings_hold_open(tmp_path: Path) -> None:
    """The hem is the lower opening though it is the narrower, and though the upper one runs along bindings alone."""
    bound = (Path(__file__).parent / "unseen" / "camisole.style").read_text("utf-8")
    told = []
    for narrow in ("0 cm", "7 cm"):
        front, back = (SLIM.replace("WHAT", one).replace("NARROW", narrow) for one in ("front", "back"))
        text = bound.replace("shape moved = pivot base.front", front + "shape moved = pivot slim_front")
        text = text.replace("shape back_top_cut = replace ", back + "shape back_top_cut = replace ")
        edges = "{0}.neckline + {0}.shoulder + {0}.armhole {{"
        text = text.replace(edges.format("base.back"), edges.format("slim_back"))
        path = tmp_path / f"camisole_{narrow[0]}.style"
        path.write_text(text, "utf-8")
        (result,) = results(path, [invented("alto_3")])
        assert not result.errors, [one.message for one in result.errors]
        told.append([one.message for one in result.assembly.wrong])
    assert told[0] == []
    assert [one.partition(" mm, and no closure")[0].rpartition(": ")[0] for one in told[1]] == [
        "the bust (920.0 mm) does not pass hem"
    ]
