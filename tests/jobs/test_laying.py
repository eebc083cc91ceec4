"""Pieces that cannot be laid on their cloth, and allowances that cannot be folded back, as they say."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from godet.diagnostics.diagnostic import Diagnostic
from godet.finish.together import Garment
from godet.geometry.lanes import Disagreement
from godet.geometry.length import length
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import Prepared
from godet.jobs.results import BodyResult
from godet.meaning.style import CheckedStyle
from support.doubts import box
from support.panels import panel
from support.style_runs import PATTERNS, invented, prepared
from support.styles import written


def doubts(made: Prepared, *codes: str) -> list[Diagnostic]:
    """The warnings of these codes of the one body."""
    ((result,), _) = outcomes(made)
    return [one for one in result.warnings if one.code in codes]


def of_grain(made: Prepared) -> list[Diagnostic]:
    return doubts(made, "W302", "W303")


SHAPE = "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"


def told(inside: str) -> list[tuple[str, str]]:
    """Codes and words of the warnings for a front with this in its braces; its centre, on the fold, stands upright."""
    made = written(f"{SHAPE}piece front = base.front {{\n    cut 1 on fold\n    allow 1 cm\n{inside}}}\n")
    return [(one.code, one.message) for one in of_grain(made)]


def test_a_piece_that_is_cut_without_a_grain_is_told() -> None:
    assert told("") == [("W302", "`front` is cut, and nothing says how it lies to the grain")]


@pytest.mark.parametrize("grain", ["up", "outward", "up as bias", "up as cross", "along centre"])
def test_cloth_is_folded_along_the_thread_across_it_or_on_the_bias(grain: str) -> None:
    assert told(f"    grain {grain}\n") == []


def test_a_fold_off_the_grain_is_told_and_by_how_much() -> None:
    """The neckline rises 7 cm over 7 cm, the shoulder falls 4 over 11: that far the shoulder lies off the thread across."""
    off = np.degrees(np.arctan2(4.0, 11.0))
    assert told("    grain along neckline\n") == []  # 45 degrees to the centre: on the bias
    assert told("    grain along shoulder\n") == [("W303", f"the fold `centre` of `front` lies {off:.1f} degrees off the grain")]


def test_a_fold_that_is_bent_is_told() -> None:
    """Slashed from the side to the centre and hinged there, the centre is bent."""
    slashed = (
        "shape calm = leave base.front.side_dart as ease\nshape plain = leave calm.waist_dart as ease\n"
        "lines cuts = slash_lines plain.side running_to plain.centre count 2\n"
        "piece spread_out = slash plain along cuts open_each_by 2 cm hinged_at centre {\n"
        "    cut 1 on fold\n    grain up\n    allow 1 cm\n}\n"
    )
    (one,) = doubts(written(SHAPE + slashed), "W305")
    assert one.message.startswith("the fold `centre` of `spread_out` is not straight: it bends by ")


def test_the_warning_stands_at_the_sentence_of_the_piece_not_at_the_last_of_its_braces() -> None:
    inside = "    cut 1 on fold\n    grain along shoulder\n    notch side at 7 cm from hem\n"
    text = f"{SHAPE}piece front = base.front {{\n{inside}}}\n"
    (one,) = of_grain(written(text))
    assert one.span is not None
    assert text[one.span.start : one.span.end].startswith("piece front =")


def test_a_pair_has_no_fold_to_lay() -> None:
    made = written(f"{SHAPE}piece front = base.front {{\n    cut 2 as pair\n    grain along shoulder\n    allow 1 cm\n}}\n")
    assert of_grain(made) == []


HOOKED = """language 1
point low = starting_point outward 20 cm
point turn = low outward 2 cm up 2 cm
point high = turn up 20 cm
point top = starting_point up 22 cm
piece panel {
    line hem from starting_point to low
    curve underside = quarter with from low to turn leaving up
    line side from turn to high
    line upper from high to top
    line centre from top to starting_point
    cut 1
    grain up
    allow 0 cm
    allow DEEP on hem with_corners shaped_to_fold
}
"""


@pytest.mark.parametrize(("deep", "count"), [("1.8 cm", 0), ("2.2 cm", 1)])
def test_a_hem_deeper_than_the_curve_beside_it_goes_on_cannot_be_folded(deep: str, count: int) -> None:
    """The curve leaves the hem square and has turned level, a quarter of a circle, 2 cm above it."""
    made = written(HOOKED.replace("DEEP", deep))
    assert [one.code for one in doubts(made, "W304")] == ["W304"] * count


@pytest.mark.parametrize(("width", "fits"), [(61, True), (59, False)])
def test_a_piece_wider_than_its_cloth_is_told(width: int, fits: bool) -> None:
    """A quarter of a bust of 92 and 8 is 25 cm: both halves, and 5 cm of allowance at each side, take 60 cm."""
    made = written(
        f"{SHAPE}cloth shell width {width} cm\n"
        "piece front = base.front {\n    cut 1 on fold\n    grain up\n    allow 1 cm\n    allow 5 cm on side\n}\n"
    )
    found = [one.message for one in doubts(made, "W306")]
    assert found == ([] if fits else ["`front` takes 60.0 cm of the width of `shell`, which is 59.0 cm wide"])


@pytest.mark.parametrize(("wide", "codes"), [(5.5, ["W308"]), (6.0, [])])
def test_a_dart_too_narrow_to_be_sewn_is_told(wide: float, codes: list[str]) -> None:
    text = (
        "language 1\npoint a = starting_point\npoint b = a outward 20 cm\npoint c = b up 30 cm\npoint d = a up 30 cm\n"
        "piece half {\n"
        "    line hem from a to b\n    line side from b to c\n    line shoulder from c to d\n    line centre from d to a\n"
        f"    dart blade on shoulder at 1/2 from side width {wide} mm as_long_as 7 cm\n    grain up\n"
        "    cut 2 as pair\n    allow 1 cm\n}\n"
    )
    made = written(text)
    found = doubts(made, "W308")
    assert [one.code for one in found] == codes
    assert all(one.message == "the dart `blade` of `half` is only 5.5 mm wide" for one in found)


def test_a_run_that_lies_nobody_knows_how_is_told_and_gets_no_notch() -> None:
    """Eight panels that are sewn to each other in no sentence could lie in 256 ways."""
    panels = "".join(panel(f"p{k}", 100, False, "top", "left", "right") for k in range(9))
    run = " + ".join(f"p{k}.top" for k in range(8))
    made = written(f"language 1\n{panels}seam waist joins p8.top to {run} tolerance 1 m\n")
    (one,) = doubts(made, "W309")
    assert one.message == "which ends of the edges in `waist` meet is not told: it gets no notches of its own"
    ((result,), _) = outcomes(made)
    assert all(not one.piece.notches for one in result.pieces)


def panels(rises: str, extra: str = "") -> Prepared:
    """Two panels 20 cm wide whose tops rise so far toward the side at which they are sewn to each other."""
    text = "language 1\n"
    for name, way in (("front", "outward"), ("back", "inward")):
        text += (
            f"point {name}_low = starting_point\npoint {name}_side = {name}_low {way} 20 cm\n"
            f"point {name}_end = {name}_side up 30 cm + {rises}\n"
            f"point {name}_top = {name}_low up 30 cm\nshape {name}_drawn {{\n    line hem from {name}_low to {name}_side\n"
            f"    line side from {name}_side to {name}_end\n    line top from {name}_end to {name}_top\n"
            f"    line centre from {name}_top to {name}_low\n}}\n"
            f"piece {name} = {name}_drawn {{\n    cut 1\n    allow 1 cm\n    grain up\n{extra if name == 'back' else ''}}}\n"
        )
    return written(text + "seam sides joins front.side to back.side\n")


@pytest.mark.parametrize(("rises", "broken"), [("0.5 cm", False), ("1 cm", True), ("10 cm", False)])
def test_an_edge_that_breaks_over_a_seam_is_told_without_being_asked(rises: str, broken: bool) -> None:
    """By twice the slope of the tops; what breaks by half a right angle or more is a point that is meant."""
    found = [one.message for one in doubts(panels(rises), "W310")]
    told = "`front.top` does not run on into `back.top` once `sides` is sewn: it breaks by 6 degrees"
    assert found == ([told] if broken else [])


def test_necklines_drawn_round_that_make_a_point_over_the_shoulder_are_told() -> None:
    """Each leaves its shoulder 22.6 degrees off square, as round necks do that take no heed of each other."""
    text = "language 1\n"
    for name in ("front", "back"):
        text += (
            f"point {name}_a = starting_point\npoint {name}_b = {name}_a outward 20 cm\npoint {name}_c = {name}_b up 30 cm\n"
            f"point {name}_d = {name}_c inward 12 cm\npoint {name}_e = {name}_a up 20 cm\n"
            f"point {name}_under = {name}_d inward 5 cm down 12 cm\n"
        )
        text += (
            f"piece {name} {{\n    line hem from {name}_a to {name}_b\n    line side from {name}_b to {name}_c\n"
            f"    line shoulder from {name}_c to {name}_d\n    curve neckline from {name}_d to {name}_e "
            f"leaving toward {name}_under arriving inward\n    line centre from {name}_e to {name}_a\n"
            "    cut 2 as pair\n    grain up\n    allow 1 cm\n}\n"
        )
    seams = "seam shoulders joins back.shoulder to front.shoulder\nseam sides joins back.side to front.side\n"
    (found,) = doubts(written(f"{text}{seams}"), "W310")
    assert found.message.endswith("once `shoulders` is sewn: it breaks by 45 degrees")


def test_a_piece_that_lies_inside_is_folded_back_and_does_not_run_on() -> None:
    assert doubts(panels("1 cm", "    lies inside\n"), "W310") == []


def test_an_edge_that_breaks_over_a_dart_is_told_with_what_mends_it() -> None:
    """A dart across a straight shoulder whose apex lies far to one side: shut, the shoulder is bent."""
    text = (
        "language 1\npoint low = starting_point\npoint right = low outward 20 cm\npoint top_right = right up 30 cm\n"
        "point top = low up 30 cm\npoint aside = low outward 14 cm up 20 cm\n"
        "shape drawn {\n    line hem from low to right\n    line side from right to top_right\n"
        "    line shoulder from top_right to top\n    line centre from top to low\n"
        "    dart blade on shoulder at 1/2 from centre width 3 cm ending_at aside\n}\n"
    )
    cut = " {\n    cut 1\n    allow 1 cm\n    grain up\n}\n"
    (found,) = doubts(written(text + "piece back = drawn" + cut), "W311")
    assert found.message.startswith("`back.shoulder` breaks by ")
    assert "`blend shoulder over blade`" in found.fix
    assert doubts(written(text + "piece back = drawn then blend shoulder over blade moving_at_most 2 cm" + cut), "W311") == []


def test_legs_of_a_dart_that_differ_are_told_until_they_are_made_alike() -> None:
    cut = " {\n    cut 1 on fold\n    allow 1 cm\n    grain up\n}\n"
    (found,) = doubts(written(SHAPE + "piece front = base.front" + cut), "W312")
    assert found.message == "the legs of `side_dart` on `front` differ by 7.7 mm"
    assert doubts(written(SHAPE + "piece front = base.front then equalise_legs side_dart" + cut), "W312") == []


def test_curves_sewn_to_one_edge_that_make_a_point_over_a_run_are_told() -> None:
    """By 42 degrees, as necklines do that a hood is sewn to: no point is meant in what is sewn to one edge."""
    text, cut = "language 1\n", "    cut 2 as pair\n    grain up\n    allow 1 cm\n}\n"
    for name in ("front", "back"):
        text += (
            f"point {name}_a = starting_point\npoint {name}_b = {name}_a outward 20 cm\npoint {name}_g = {name}_b up 20 cm\n"
            f"point {name}_c = {name}_b up 30 cm\npoint {name}_d = {name}_c inward 12 cm up 2 cm\n"
            f"point {name}_e = {name}_a up 20 cm\npoint {name}_p = {name}_c inward 6 cm up 1 cm\n"
            f"point {name}_n = {name}_p down 31 cm\npoint {name}_under = {name}_d inward 7 cm down 12 cm\n"
        )
        neck = (
            f"    curve neckline from {name}_d to {name}_e leaving toward {name}_under arriving inward\n"
            f"    line centre from {name}_e to {name}_a\n{cut}"
        )
        side = f"    line side from {name}_b to {name}_g\n    line armhole from {name}_g to {name}_c\n"
        if name == "back":
            text += f"piece back {{\n    line hem from back_a to back_b\n{side}    line shoulder from back_c to back_d\n{neck}"
            continue
        text += (
            "piece centre_front {\n    line hem from front_a to front_n\n    line panel from front_n to front_p\n"
            f"    line shoulder from front_p to front_d\n{neck}piece side_front {{\n    line hem from front_n to front_b\n{side}"
            f"    line shoulder from front_c to front_p\n    line panel from front_p to front_n\n{cut}"
        )
    text += box("hood", "40 cm", "    cut 2 as pair\n    grain up\n    allow 1 cm\n", "piece")
    text += (
        "seam panels joins centre_front.panel to side_front.panel\nseam sides joins back.side to side_front.side\n"
        "seam shoulders joins centre_front.shoulder + side_front.shoulder to back.shoulder\n"
        "seam on_hood joins hood.hem to centre_front.neckline + back.neckline tolerance 1 m\n"
    )
    found = [one.message for one in doubts(written(text), "W310") if "neckline" in one.message]
    told = "`centre_front.neckline` does not run on into `back.neckline` once `shoulders` is sewn: it breaks by 42 degrees"
    assert found == [told]


def test_bodies_that_part_where_they_are_warned_of_are_each_warned_of_their_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of three bodies the middle one is of another structure for what is warned of: it has its own garment there."""

    def warned(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> list[tuple[Diagnostic, ...]]:
        names = [one.name for one in results]
        if "alto_5" in {one.replace(" ", "_") for one in names} and len(names) > 1:
            raise Disagreement(np.array([int(one.replace(" ", "_") == "alto_5") for one in names]))
        lengths = np.broadcast_to(length(garment.pieces["front"].piece.sides("hem")[0].drawn), len(names)).tolist()
        return [(Diagnostic("W999", f"{long:.3f}"),) for long in lengths]

    monkeypatch.setattr("godet.jobs.outcome.warnings_on", warned)
    bodies = [invented(name) for name in ("alto_3", "alto_5", "soprano_1")]
    made, _ = outcomes(prepared(PATTERNS / "cowl_top.style", bodies))
    told = [one.warnings[0].message for one in made]
    assert len(set(told)) == 3
    alone = [outcomes(prepared(PATTERNS / "cowl_top.style", [one]))[0][0].warnings[0].message for one in bodies]
    assert told == alone
