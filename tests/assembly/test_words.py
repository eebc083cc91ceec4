"""What a style may say beside its seams: an edge left unsewn, a thing apart, the side a seam is on, what is caught in it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import godet.jobs
import pytest
from godet.cli.main import main
from godet.door.style import open_style
from support.sewn_styles import changed, opened, sentence, told
from support.style_runs import PATTERNS, prepared

BELT = """point belt_start = starting_point
point belt_stop = belt_start outward 60 cm
point low_stop = belt_stop down 4 cm
point low_start = belt_start down 4 cm
piece belt {
    line upper from belt_start to belt_stop
    line end from belt_stop to low_stop
    line lower from low_stop to low_start
    line other_end from low_start to belt_start
    grain along upper
    cut 2
    allow 1 cm
}

seam belt_edges joins belt.end + belt.upper + belt.other_end + belt.lower
        to belt.end + belt.upper + belt.other_end + belt.lower sewn plain_seam
"""


@pytest.mark.parametrize(("said", "codes"), [("", ["E611"]), ("    lies apart\n", [])])
def test_a_belt_is_a_thing_apart_when_it_says_so(said: str, codes: list[str]) -> None:
    belt = BELT.replace("    cut 2\n", f"    cut 2\n{said}")
    sides = sentence("gored_skirt", "seam", "sides")
    assert told("gored_skirt", changed("gored_skirt", (sides, belt + sides))) == codes


def test_what_is_caught_in_a_seam_and_sewn_to_nothing_is_told_so() -> None:
    belt = BELT.replace(" sewn plain_seam\n", " sewn plain_seam caught_in sides\n")
    sides = sentence("gored_skirt", "seam", "sides")
    assembly = opened("gored_skirt", changed("gored_skirt", (sides, belt + sides))).assembly
    assert assembly is not None
    (one,) = (one for one in assembly.diagnostics if one.code == "E611")
    assert one.note == "`caught_in` of `belt_edges` tells when it is sewn, not to what"
    assert "`seam NAME joins belt." in one.fix


def test_a_waist_is_left_to_the_skirt_of_another_style() -> None:
    bare = changed("princess_dress_bodice", *[("    unsewn waistline\n", "")] * 4)
    assembly = opened("princess_dress_bodice", bare).assembly
    assert assembly is not None
    (told_of,) = assembly.diagnostics
    assert told_of.message == (
        "`centre_front.waistline`, `side_front.waistline`, `centre_back.waistline` and `side_back.waistline` end in nothing: "
        "no seam, no hem, no binding"
    )
    assert "`unsewn waistline`" in told_of.fix


def test_one_band_is_sewn_to_one_half() -> None:
    assert told("plain_trousers", changed("plain_trousers", ("back.waistline on left", "back.waistline"))) == ["E609"]


def test_an_edge_that_is_laid_on_another_is_caught_in_its_seam() -> None:
    twice = "seam tied joins front_facing.left_overarm to back.overarm sewn open_seam{}\nseam underarms"
    for caught, codes in ((" caught_in overarms, facing_overarms", []), ("", ["E602"])):
        assert told("concert_top", changed("concert_top", ("seam underarms", twice.format(caught)))) == codes


def test_a_seam_of_the_other_half_is_pointed_to() -> None:
    one = opened("yoke_shirt", changed("yoke_shirt", ("on both sewn", "sewn"))).assembly
    assert one is not None
    assert all("add `on both`" in told_of.fix for told_of in one.diagnostics)
    assert one.diagnostics


def test_a_style_that_does_not_say_how_it_is_sewn_is_a_draft() -> None:
    text = re.sub(r"^sewing .*\n(?:[ ]+\S.*\n)*", "", changed("gored_skirt"), flags=re.MULTILINE)
    style = opened("gored_skirt", re.sub(r" sewn \w+", "", text))
    assert style.assembly is not None
    assert (style.has_errors, style.assembly.judged, style.assembly.diagnostics) == (False, False, ())
    assert style.assembly.told.startswith("assembly: not judged, since no `sewing` says how")


def test_a_facings_own_seams_stand_before_the_facing() -> None:
    made = prepared(PATTERNS / "princess_dress_bodice.style").assembly
    assert made is not None
    order = {one.name: one for one in made.whole.order}
    assert [*order].index("neck_facings") < [*order].index("front_neck_edge")
    assert (order["neck_facings"].moved_before, order["neck_facings"].why) == ("front_neck_edge", "faced_over")


def test_check_report_and_build_tell_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, body = tmp_path / "skirt.style", str(PATTERNS / "bodies" / "alto_3.toml")
    hemmed = sentence("gored_skirt", "sewing", "turned_hem")
    path.write_text(changed("gored_skirt", (hemmed, ""), ("on hem with_corners shaped_to_fold", "on hem")), "utf-8")
    message = "`front.hem`, `side_front.hem`, `side_back.hem` and `back.hem` end in nothing"

    def run(*args: str) -> tuple[int, str]:
        code = main([*args])
        return code, "".join(capsys.readouterr())

    for more in ([], ["--body", body]):
        code, told_there = run("check", str(path), *more)
        assert (code, told_there.count(message)) == (1, 1)
    code, told_there = run("build", str(path), "--body", body, "--out", str(tmp_path))
    assert (code, told_there.count(message)) == (1, 1)
    assert "the seams do not make a garment" in (tmp_path / "skirt_alto_3.svg").read_text("utf-8").replace("\n", " ")
    code, written = run("report", str(path), "--body", body, "--format", "json")
    report = json.loads(written)
    assert (code, report["assembly"]["judged"], report["bodies"][0]["assembly"]["holds"]) == (1, True, False)
    assert [message in one for one in report["assembly"]["messages"]] == [True]
    assert {"panel": "back", "edge": "hem", "ends_in": []} in report["assembly"]["edges"]


@pytest.mark.parametrize(
    ("said", "codes"),
    [("cut 2 on fold", ["E633"]), ("cut 1 on fold\n    cut 1 on fold in fusing", []), ("cut 3 on fold", ["E633"])],
)
def test_cloth_that_is_cut_and_in_no_seam_by_itself_is_told(said: str, codes: list[str]) -> None:
    front = changed("puff_sleeve", ("    cut 1 on fold\n", f"    {said}\n"))
    assert told("puff_sleeve", front) == codes


def test_a_second_pair_is_told_with_what_to_write() -> None:
    assembly = opened("gored_skirt", changed("gored_skirt", ("cut 2 as pair", "cut 4 as pair"))).assembly
    assert assembly is not None
    (told_of,) = assembly.diagnostics
    assert (told_of.code, "cut 4 times" in told_of.message, "`cut 2 as pair`" in told_of.fix) == ("E633", True, True)


HALVES = """language 1
style "Halves"
use straight_band from bands/waistband
point a = starting_point
point b = a outward 40 cm
point c = b down 60 cm
point d = a down 60 cm
shape half {
    line waistline from a to b
    line side from b to c
    line hem from c to d
    line centre from d to a
    fold centre
    grain up
    allow 1 cm
}
piece front = half {
    worn left
    cut 1 on fold
}
piece back = half {
    worn right
    cut 1 on fold
}
piece band = straight_band with seam_length 90 cm {
    cut 1 on fold
    allow 1 cm
}
seam waist_seam gathers front.waistline + back.waistline to band.lower_edge sewn plain
seam sides joins front.side to back.side sewn plain
sewing plain stitch 301
sewing h stitch 301 on front.hem + back.hem + band.end + band.lap_end + band.lap_edge
"""


@pytest.mark.parametrize(
    ("front_worn", "waist", "code"),
    [
        ("    worn left\n", "front.waistline + back.waistline", "E609"),
        ("", "front.waistline + back.waistline", "E632"),
        ("    worn left\n", "back.waistline + front.waistline + front.waistline + back.waistline", ""),
    ],
)
def test_the_edge_of_a_half_on_the_fold_is_named_as_often_as_it_is_sewn(front_worn: str, waist: str, code: str) -> None:
    text = HALVES.replace("front.waistline + back.waistline to", f"{waist} to").replace("    worn left\n", front_worn)
    text = text if front_worn else text.replace("    worn right\n", "")
    made = open_style("halves.style", text=text).assembly
    assert made is not None
    assert [one.code for one in made.diagnostics] == [code] * bool(code)
    assert all("unfold" in one.fix for one in made.diagnostics)


def test_a_gathered_skirt_with_pockets_and_without_its_zip_does_not_let_the_hip_in() -> None:
    """The pockets in its sides are no openings, and the band opens by what is sewn to it, not by its free ends."""
    skirt = (Path(godet.jobs.__file__).parent / "first" / "dirndl.style").read_text("utf-8")
    bare = re.sub(r"^closure .*\n(?: .*\n)*", "", skirt, flags=re.MULTILINE)
    found = {}
    for what, text in (("zip", skirt), ("none", bare)):
        (result,) = open_style("skirt.style", text=text).on(PATTERNS / "bodies" / "alto_3.toml")
        found[what] = [one.code for one in result.assembly.wrong]
        assert [round(one.girth_mm) for one in result.assembly.openings] == [1520, 760]
    assert found == {"zip": [], "none": ["W620"]}


def test_gathers_that_gather_nothing_are_told() -> None:
    found = {}
    for long in ("80 cm", "60 cm"):
        text = HALVES.replace("seam_length 90 cm", f"seam_length {long}")
        (result,) = open_style("halves.style", text=text).on(PATTERNS / "bodies" / "alto_3.toml")
        found[long] = [one.code for one in result.warnings if one.code == "W335"]
    assert found == {"80 cm": ["W335"], "60 cm": []}
