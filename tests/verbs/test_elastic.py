"""What a trim draws in: each edge as often as its piece is cut, and of what is on both sides that of one."""

from __future__ import annotations

import pytest
from godet.jobs.outcome import outcomes
from godet.output.records import TrimRow
from support.styles import said, written

LEG = """language 1
point low = starting_point
point far_low = low outward 25 cm
point far_fork = far_low up 60 cm
point far_high = far_low up 85 cm
point high = low up 85 cm
each piece {
    cut 2 as pair
    grain up
    allow 1 cm
}
shape leg {
    line hem from low to far_low
    line inseam from far_low to far_fork
    line crotch from far_fork to far_high
    line waistline from far_high to high
    line side from high to low
}
piece front = leg {
    cut 2 as pair
}
piece back = leg {
    cut 2 as pair
}
seam sides joins front.side to back.side
seam inseams joins front.inseam to back.inseam
seam centre_front joins front.crotch to front.crotch
seam centre_back joins back.crotch to back.crotch
"""
LEG = LEG.replace("    cut 2 as pair\n    grain up", "    grain up")


def trim(sentence: str, style: str = LEG) -> TrimRow:
    ((result,), _) = outcomes(written(f"{style}{sentence}\n"))
    assert not result.errors, [one.message for one in result.errors]
    return result.specification.trims[0]


def test_a_waist_of_pairs_goes_round_the_body() -> None:
    made = trim("trim elastic draws front.waistline + back.waistline to 75 cm")
    assert (made.place, made.times, made.place_mm, made.many) == (("front.waistline", "back.waistline"), (2, 2), 1000.0, 1)
    assert made.amount_mm == 750.0


def test_an_edge_that_is_written_as_often_as_it_is_cut_counts_no_more_than_that() -> None:
    four = "front.waistline + back.waistline + back.waistline + front.waistline"
    made = trim(f"trim elastic draws {four} to 75 cm")
    assert (made.times, made.place_mm) == ((2, 2), 1000.0)


def test_the_hem_of_each_leg_is_drawn_in_by_itself() -> None:
    made = trim("trim elastic draws front.hem + back.hem to 30 cm")
    assert (made.times, made.place_mm, made.amount_mm, made.many) == ((1, 1), 500.0, 300.0, 2)


@pytest.mark.parametrize(("cut", "times"), [("cut 1 on fold", 2), ("cut 1", 1)])
def test_a_piece_on_the_fold_counts_twice_and_one_that_is_cut_once_does_not(cut: str, times: int) -> None:
    folded = LEG.replace("    line side", "    fold side\n    line side") if "fold" in cut else LEG
    style = folded.partition("seam sides")[0]
    style = style.replace("piece front = leg {\n    cut 2 as pair", f"piece front = leg {{\n    {cut}")
    style = style.replace("piece back = leg {\n    cut 2 as pair\n}\n", "")
    assert trim("trim elastic draws front.waistline to 20 cm", style).times == (times,)


def test_what_was_counted_is_told_where_it_is_too_short() -> None:
    told = said(written(f"{LEG}trim elastic draws front.waistline + back.waistline to 105 cm\n"))
    assert "what is drawn in, `front.waistline` twice and `back.waistline` twice, is no longer than" in told
    assert "the edges 1000.0 mm, drawn to 1050.0 mm" in told


SEWN = """sewing casing stitch 301 on front.waistline + back.waistline
sewing hemmed stitch 301 on front.hem + back.hem
trim elastic draws front.waistline + back.waistline to 75 cm
"""


def does_not_pass(wide: str, elastic: bool) -> list[str]:
    sentences = [line for line in SEWN.splitlines() if elastic or "elastic" not in line]
    text = LEG.replace("outward 25 cm", f"outward {wide}") + "\n".join(sentences) + "\n"
    ((result,), _) = outcomes(written(text))
    return [one.message for one in result.assembly.wrong]


def test_elastic_opens_a_waist_no_further_than_its_cloth_and_a_hip_must_pass_that() -> None:
    """The hip measures 100 cm, and so does a waist of four times 25."""
    assert does_not_pass("25 cm", elastic=True) == []
    (told,) = does_not_pass("24 cm", elastic=True)
    assert told.startswith("the hip (1000.0 mm) does not pass waistline: 960.0 mm, with its elastic stretched")
    (plain,) = does_not_pass("24 cm", elastic=False)
    assert plain.endswith("960.0 mm, and no closure is there")


def casing_told(sentence: str, rows: str = "", seams: str = "") -> list[str]:
    style = LEG.replace("piece front = leg {\n", f"piece front = leg {{\n{rows}")
    ((result,), _) = outcomes(written(f"{style}{seams}{sentence}\n"))
    assert not result.errors, [one.message for one in result.errors]
    return [one.message for one in result.warnings if one.code == "W339"]


@pytest.mark.parametrize(
    ("allowed", "under", "wide", "told"),
    [
        ("4 cm", "1 cm", "2.5 cm", False),
        ("4 cm", "1 cm", "3 cm", True),
        ("3 cm", "", "2.5 cm", False),
        ("2.5 cm", "", "2.5 cm", True),
    ],
)
def test_elastic_wider_than_the_hem_it_runs_in_is_told(allowed: str, under: str, wide: str, told: bool) -> None:
    """4 cm, of which 1 is turned under, make a casing of 3 cm, 28 mm inside its stitching."""
    rows = f"    allow {allowed} on waistline\n" + (f"    turn_under {under} on waistline\n" if under else "")
    found = casing_told(f"trim elastic draws front.waistline to 30 cm width {wide}", rows)
    assert bool(found) is told
    if told and under:
        assert found == [
            "`elastic` is 30.0 mm wide, and the casing of `front.waistline` 28.0 mm inside its stitching: it does not go in"
        ]


@pytest.mark.parametrize(("deep", "told"), [("3 cm", True), ("3.5 cm", False)])
def test_elastic_wider_than_the_folded_band_is_told(deep: str, told: bool) -> None:
    band = (
        "use plain_band from bands/waistband\n"
        f"piece band = plain_band with seam_length 1 m depth {deep} {{\n"
        "    cut 1 on fold\n    grain along upper_edge\n    allow 1 cm\n}\n"
        "seam waist joins front.waistline + back.waistline to band.lower_edge tolerance 1 m\n"
    )
    assert bool(casing_told("trim elastic draws front.waistline + back.waistline to 70 cm width 3 cm", seams=band)) is told


def test_elastic_that_is_laid_on_runs_in_no_casing_nor_is_a_narrow_one_told_whose_width_nobody_says() -> None:
    way = 'sewing laid_on stitch 406 seam "7.15.02" on front.waistline\n'
    assert casing_told(f"{way}trim elastic draws front.waistline to 30 cm width 3 cm") == []
    assert casing_told("trim elastic draws front.waistline to 30 cm") == []
