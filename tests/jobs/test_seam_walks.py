"""Notches of declared seams, also of runs of edges, and the walk along a seam. The pieces are straight, so that every place
can be worked out by hand; a seam is laid together by the corners a cutter would lay together."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from godet.cli.main import main
from godet.geometry.length import point_at
from godet.jobs.outcome import outcomes
from godet.jobs.results import BodyResult, PieceResult
from hypothesis import given, settings
from hypothesis import strategies as st
from support.panels import panel
from support.reports import report
from support.style_runs import PATTERNS, on_all
from support.styles import LANGUAGE, written


def drawn(text: str) -> BodyResult:
    prepared = written("language 1\n" + text)
    assert prepared.style is not None, [one.message for one in prepared.diagnostics]
    (result,), _ = outcomes(prepared)
    assert not result.errors
    return result


def notches(pieces: tuple[PieceResult, ...], name: str, edge: str) -> list[tuple[float, int]]:
    """How far outward of the origin the notches of an edge of a panel lie, and their strokes."""
    piece = next(one.piece for one in pieces if one.name == name)
    found = []
    for notch in piece.notches:
        if edge in piece.ring[notch.side].names:
            x = float(point_at(piece.ring[notch.side].drawn, notch.at)[0, 0])
            found.append((abs(x), notch.strokes))
    return sorted(found)


wide = st.floats(70.0, 400.0).map(lambda x: round(x, 1))


@settings(max_examples=25, deadline=None)
@given(a=wide, b=wide, ease=st.floats(1.0, 1.3), turned=st.tuples(st.booleans(), st.booleans(), st.booleans()))
def test_a_band_is_notched_where_the_side_seam_meets_it(
    a: float, b: float, ease: float, turned: tuple[bool, bool, bool]
) -> None:
    """Band from centre front to centre back, sewn to front and back; whichever way the pieces are drawn."""
    long = round((a + b) * ease, 1)
    text = panel("front", a, turned[0], "waist", "centre", "side", "fold centre")
    text += panel("back", b, turned[1], "waist", "centre", "side")
    text += panel("band", long, turned[2], "lower", "end", "tip", "fold end")
    text += "seam side joins front.side to back.side\nseam waist eases band.lower to front.waist + back.waist\n"
    result = drawn(text)
    pieces = result.pieces
    joint = long * a / (a + b)
    stated = (0.25, 0.5, 0.75) if min(long, a + b) >= 400.0 else (0.5,)
    quarters = [share for share in stated if abs(share - a / (a + b)) * (a + b) >= 15.0]
    expected = sorted([joint, *(share * long for share in quarters)])
    np.testing.assert_allclose([at for at, _ in notches(pieces, "band", "lower")], expected, atol=0.001)
    ours = [at for at, _ in notches(pieces, "front", "waist")]
    ours += [a + b - at for at, _ in reversed(notches(pieces, "back", "waist"))]  # the back runs on from side to centre
    np.testing.assert_allclose(ours, [share * (a + b) for share in quarters], atol=0.001)
    strokes = {round(at / long, 6): count for at, count in notches(pieces, "band", "lower")}
    assert all(strokes[round(share, 6)] == (2 if share > a / (a + b) else 1) for share in quarters)
    pairs = next(seam.notches for seam in result.seams if seam.name == "waist")
    assert len(pairs) == len(quarters) + 1  # the notch at the joint meets the corner there
    assert all(pair.gap_mm < 0.5 for pair in pairs)


def test_a_run_whose_ends_nothing_tells_gets_no_notch_that_could_be_wrong() -> None:
    """A strip with two free ends: the middle is the middle either way, the side seam is not."""
    text = panel("front", 150, False, "waist", "centre", "side") + panel("back", 200, False, "waist", "centre", "side")
    text += panel("strip", 350, False, "lower", "front_centre", "back_centre")  # whatever they are called
    text += "seam side joins front.side to back.side\nseam waist joins strip.lower to front.waist + back.waist\n"
    pieces = drawn(text).pieces
    assert [at for at, _ in notches(pieces, "strip", "lower")] == pytest.approx([175.0])
    assert [at for at, _ in notches(pieces, "back", "waist")] == pytest.approx([175.0])
    assert notches(pieces, "front", "waist") == []


def test_the_report_tells_where_notches_do_not_meet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """70 mm from the hem on one side, 62 mm on the other: 8 mm apart."""
    text = panel("front", 150, False, "waist", "centre", "side", "notch side at 7 cm from hem")
    text += panel("back", 200, True, "waist", "centre", "side", "notch side at 62 mm from hem")
    text += "seam side joins front.side to back.side\ncheck meets that notch_gap of side at_most 0.5 mm\n"
    style = tmp_path / "a.style"
    style.write_text("language 1\n" + text, "utf-8")
    body = str(LANGUAGE / "body.toml")
    assert main(["report", str(style), "--body", body, "--format", "json"]) == 1
    (seam,) = json.loads(capsys.readouterr().out)["bodies"][0]["seams"]
    assert not seam["notches_agree"]
    assert [one["gap_mm"] for one in seam["notches"]] == pytest.approx([8.0])
    assert main(["report", str(style), "--body", body]) == 1
    printed = capsys.readouterr().out
    assert "off by 8.0" in printed
    assert "FAILS  meets: notch_gap of side at_most 0.5 mm  (8.0 mm, 0.5 mm)" in printed


def test_the_report_says_of_notches_a_little_off_that_this_is_within_tolerance(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """1.6 mm apart: more than two that agree, less than what sewing is off by."""
    text = panel("front", 150, False, "waist", "centre", "side", "notch side at 7 cm from hem")
    text += panel("back", 200, True, "waist", "centre", "side", "notch side at 68.4 mm from hem")
    style = tmp_path / "a.style"
    style.write_text(f"language 1\n{text}seam side joins front.side to back.side\n", "utf-8")
    main(["report", str(style), "--body", str(LANGUAGE / "body.toml")])
    printed = capsys.readouterr().out
    assert "off by 1.6, within what sewing is off by" in printed
    assert "NOTCH" not in printed


def test_the_report_tells_where_notches_that_meet_differ_in_their_strokes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = panel("front", 150, False, "waist", "centre", "side", "notch side at 7 cm from hem")
    text += panel("back", 200, True, "waist", "centre", "side", "notch side at 7 cm from hem as double")
    text += "seam side joins front.side to back.side\n"
    style = tmp_path / "a.style"
    style.write_text("language 1\n" + text, "utf-8")
    body = str(LANGUAGE / "body.toml")
    main(["report", str(style), "--body", body, "--format", "json"])
    (seam,) = json.loads(capsys.readouterr().out)["bodies"][0]["seams"]
    assert not seam["notches_agree"]
    (notch,) = seam["notches"]
    assert (notch["left_strokes"], notch["right_strokes"], notch["gap_mm"]) == (1, 2, 0.0)
    main(["report", str(style), "--body", body])
    assert "off by 0.0, 1 and 2 strokes" in capsys.readouterr().out


@pytest.mark.parametrize(("there", "gap"), [(70.0, 0.0), (69.6, 0.4), (None, 0.0)])
def test_the_gap_of_stated_notches_is_known_to_a_check(there: float | None, gap: float) -> None:
    """A notch that nothing answers to gets its answer by itself."""
    extra = "" if there is None else f"notch side at {there} mm from hem"
    text = panel("front", 150, False, "waist", "centre", "side", "notch side at 7 cm from hem")
    text += panel("back", 200, True, "waist", "centre", "side", extra)
    text += "seam side joins front.side to back.side\n"
    text += f"check meets that notch_gap of side equals {gap} mm tolerance 0.001 mm\n"
    assert drawn(text).checks[0].holds


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_notch_stated_on_one_side_is_put_on_the_other(mirrored: bool) -> None:
    """7 cm above the hem on both, whichever way the back is drawn, with its own strokes; the middle is notched as well."""
    text = panel("front", 150, False, "waist", "centre", "side", "notch side at 7 cm from hem as triple")
    text += panel("back", 200, mirrored, "waist", "centre", "side") + "seam side joins front.side to back.side\n"
    pieces = drawn(text).pieces
    for name in ("front", "back"):
        piece = next(one.piece for one in pieces if one.name == name)
        heights = {round(float(point_at(piece.ring[n.side].drawn, n.at)[0, 1]), 3): n.strokes for n in piece.notches}
        assert heights == {70.0: 3, 50.0: 1}


def test_notches_stated_on_both_sides_tell_where_the_ease_lies(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A cap of 320 mm on an armhole of 300 mm, notched 80 mm from both ends of both: all the ease lies between."""
    ends = "notch {0} at 8 cm from {1}\n    notch {0} at 8 cm from {2}"
    text = panel("sleeve", 320, False, "cap", "front_seam", "back_seam", ends.format("cap", "front_seam", "back_seam"))
    text += panel("body", 300, True, "armhole", "front_side", "back_side", ends.format("armhole", "front_side", "back_side"))
    text += "seam set_in eases sleeve.cap to body.armhole\ncheck meets that notch_gap of set_in at_most 0.1 mm\n"
    style = tmp_path / "a.style"
    style.write_text("language 1\n" + text, "utf-8")
    assert main(["report", str(style), "--body", str(LANGUAGE / "body.toml")]) == 0
    printed = capsys.readouterr().out
    assert "notches at 80, 220; ease 0.0, 20.0, 0.0" in printed
    assert "holds  meets" in printed
    pieces = drawn(text).pieces
    assert [at for at, _ in notches(pieces, "body", "armhole")] == pytest.approx([80.0, 220.0])


def test_a_ratio_to_nothing_is_no_number_in_the_report(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """JSON has no infinity."""
    text = panel("front", 150, False, "waist", "centre", "side")
    text += "point close = front_a up 0.0000001 mm\npoint third = front_a outward 10 cm\npoint fourth = third up 10 cm\n"
    text += "piece wedge {\n    line tip from front_a to close\n    line upper from close to fourth\n"
    text += "    line outer from third to fourth\n    line hem from front_a to third\n    cut 1\n}\n"
    text += "seam gone gathers front.side to wedge.tip\n"
    style = tmp_path / "a.style"
    style.write_text("language 1\n" + text, "utf-8")
    body = str(LANGUAGE / "body.toml")
    assert main(["report", str(style), "--body", body, "--format", "json"]) == 0
    out = capsys.readouterr().out
    assert json.loads(out, parse_constant=pytest.fail)["bodies"][0]["seams"][0]["ratio"] is None
    assert main(["report", str(style), "--body", body]) == 0
    assert "gathered to nothing" in capsys.readouterr().out


@pytest.mark.parametrize(("said", "strokes"), [("", 1), (" notched double", 2), (" notched triple", 3)])
def test_a_seam_may_state_the_strokes_of_its_notches(said: str, strokes: int) -> None:
    text = panel("front", 200, False, "waist", "centre", "side") + panel("back", 200, True, "waist", "centre", "side")
    pieces = drawn(text + f"seam side joins front.side to back.side{said}\n").pieces
    for name in ("front", "back"):
        assert [count for _, count in notches(pieces, name, "side")] == [strokes]


def test_a_piece_sewn_several_times_gets_no_notch_that_is_right_once_only() -> None:
    """Three panels to a band of two halves: the band is notched at the panels' seams, the panels not at the band's joint,
    where that is the middle of one of them alone."""
    text = panel("panel", 100, False, "top", "one_side", "other_side")
    text += panel("band", 150, False, "lower", "front", "end", "fold front")
    text += "seam together joins panel.one_side to panel.other_side\n"
    text += "seam waist joins panel.top + panel.top + panel.top to band.lower + band.lower\n"
    pieces = drawn(text).pieces
    assert notches(pieces, "panel", "top") == []
    assert [at for at, _ in notches(pieces, "band", "lower")] == pytest.approx([50.0])


@pytest.mark.parametrize(("count", "notches"), [(1, []), (2, [150.0])])
def test_a_pleat_has_its_own_notches(count: int, notches: list[float]) -> None:
    """A panel 30 cm wide with pleats spread evenly: one stands in its middle, where the seam would have its notch."""
    text = (
        "language 1\npoint a = starting_point\npoint b = a outward 30 cm\npoint c = b up 20 cm\npoint d = a up 20 cm\n"
        "piece plain {\n    line low from a to b\n    line side from b to c\n    line top from c to d\n    line end from d to a\n"
        "    grain up\n    cut 1\n}\n"
        f"lines folds = slash_lines plain.top running_to plain.low count {count}\n"
        "piece laid_in = pleat plain along folds depth 2 cm as box {\n    grain up\n    cut 1\n}\n"
        "seam upper joins laid_in.top to plain.top\n"
    )
    (seam,) = report(written(text)).bodies[0].seams
    assert [one.right_mm for one in seam.notches] == pytest.approx(notches)


def test_at_a_box_pleat_in_its_middle_a_back_has_the_notches_of_the_pleat_alone() -> None:
    """Alike on both sides of the middle; where the halves of the yoke meet there is nothing to be put beside them."""
    result = next(one for one in on_all(PATTERNS / "yoke_shirt.style") if one.name == "alto 3")
    back, yoke = (next(one.piece for one in result.pieces if one.name == name) for name in ("back", "yoke"))
    at_top = [point_at(back.ring[one.side].drawn, one.at)[0] for one in back.notches]
    places = sorted(float(x) + 50.0 for x, y in at_top if y > 290.0)  # of the middle of the pleat, opened
    assert places == pytest.approx([-75.0, -25.0, 25.0, 75.0])
    (pair,) = next(seam.notches for seam in result.seams if seam.name == "yoke_back")
    assert pair.agrees
    assert [one.why for one in yoke.notches if one.seam == "yoke_back"] == ["unseen"]


def strokes_of(text: str, *seams: str) -> dict[str, list[int]]:
    """The strokes of all notches of each piece."""
    pieces = drawn(text + "".join(f"seam s{k} joins {seam}\n" for k, seam in enumerate(seams))).pieces
    return {one.name: sorted(notch.strokes for notch in one.piece.notches) for one in pieces}


@pytest.mark.parametrize(
    ("one", "other", "edge", "strokes"),
    [
        ("front", "back", "side", 1),
        ("side_back", "middle_back", "side", 2),
        ("back", "sleeve", "side", 2),
        ("front", "sleeve", "side", 1),
        ("left_back", "right_back", "centre", 1),
    ],
)
def test_two_strokes_mean_the_back(one: str, other: str, edge: str, strokes: int) -> None:
    worn = [next((f"worn {side}" for side in ("left", "right") if side in name), "") for name in (one, other)]
    text = panel(one, 150, False, "waist", "centre", "side", worn[0])
    text += panel(other, 150, True, "waist", "centre", "side", worn[1])
    assert strokes_of(text, f"{one}.{edge} to {other}.{edge}") == {one: [strokes], other: [strokes]}


def test_an_edge_that_is_called_a_centre_is_none_by_its_name() -> None:
    """Two strokes where a back is sewn to another piece, whatever its edge is called; one where it is sewn to itself."""
    text = panel("back", 150, False, "waist", "centre_edge", "mid") + panel("panel", 150, True, "waist", "centre_edge", "mid")
    assert strokes_of(text, "back.centre_edge to panel.centre_edge") == {"back": [2], "panel": [2]}
    assert strokes_of(text, "back.mid to back.mid") == {"back": [1], "panel": []}


def test_seams_that_share_a_notch_share_its_strokes() -> None:
    """A back sewn to a collar and, along the same edge, to a front: one notch there, with two strokes on all three."""
    text = "".join(panel(name, 150, False, "waist", "centre", "side") for name in ("back", "collar", "front"))
    found = strokes_of(text, "back.waist to collar.waist", "back.waist to front.waist")
    assert found == {"back": [2, 2], "collar": [2], "front": [2]}
    text = "".join(panel(name, 150, False, "waist", "centre", "side") for name in ("back", "front"))
    assert strokes_of(text, "back.waist to front.waist") == {"back": [1], "front": [1]}


@pytest.mark.parametrize(("long", "count"), [(120, 1), (390, 1), (410, 3)])
def test_a_short_eased_seam_is_notched_at_its_half_alone(long: int, count: int) -> None:
    """A shoulder of 12 cm eased by 6 mm has one notch; a long seam has three, to spread the ease by."""
    text = panel("yoke", long + 6, False, "waist", "centre", "side") + panel("front", long, False, "waist", "centre", "side")
    pieces = drawn(text + "seam shoulder eases yoke.waist to front.waist\n").pieces
    assert [len(one.piece.notches) for one in pieces] == [count, count]


def test_a_dart_in_the_middle_of_an_edge_takes_the_place_of_its_notch() -> None:
    """The snips of its legs are all that is wanted there; opposite it, on the other side, there is one."""
    dart = "fold centre\n    dart middle on waist at 7.5 cm from side width 2 cm "
    dart += "ending_at (starting_point outward 7.5 cm up 3 cm)"
    text = panel("front", 170, False, "waist", "centre", "side", dart)
    text += panel("skirt", 150, False, "waist", "centre", "side", "fold centre")
    pieces = drawn(text + "seam waist joins front.waist to skirt.waist tolerance 1 cm\n").pieces
    assert [len(one.piece.notches) for one in pieces] == [0, 1]


def test_the_middle_of_two_halves_of_one_edge_has_its_notch_on_both_sides() -> None:
    """Sewn as two halves, a yoke shows nothing where these go over into each other."""
    text = panel("yoke", 150, False, "waist", "centre", "side") + panel("back", 150, False, "waist", "centre", "side")
    for name in ("yoke", "back"):
        text = text.replace(f"piece {name} {{", f"shape {name}_half {{").replace("    cut 1\n    allow 1 cm\n", "", 1)
    for name in ("yoke", "back"):
        text += f"shape {name}_worn = {name}_half {{\n    fold centre\n    worn left\n}}\n"
        text += f"piece {name} = unfold {name}_worn across centre {{\n    cut 1\n    allow 1 cm\n}}\n"
    result = drawn(text + "seam yoke_seam joins back.waist to yoke.left_waist + yoke.right_waist\n")
    pieces = {one.name: one.piece for one in result.pieces}
    assert [(len(one.notches), [notch.strokes for notch in one.notches]) for one in pieces.values()] == [(1, [1]), (1, [1])]


def test_at_the_centre_of_an_unfolded_back_two_strokes_would_mean_nothing() -> None:
    """A band round it is notched with one there, with two where it goes over the rest of the back."""
    back = panel("back", 150, False, "waist", "centre", "side").replace("piece back {", "shape half {").replace("    cut 1\n", "")
    back = back.replace("    allow 1 cm\n", "") + "shape worn_half = half {\n    fold centre\n    worn left\n}\n"
    back += "piece back = unfold worn_half across centre {\n    cut 1\n    allow 1 cm\n}\n"
    band = panel("band", 450, False, "lower", "end", "other_end")
    text = back + band + "seam upper gathers band.lower to back.waist\n"
    assert sorted(notch.strokes for notch in drawn(text).pieces[0].piece.notches) == [1, 2, 2]


@pytest.mark.parametrize(
    ("said", "stated", "left"),
    [("", "", 1), (" notched not_at_all", "", 0), (" notched not_at_all", "notch side at 2 cm from hem", 1)],
)
def test_a_seam_can_be_told_to_put_no_notches(said: str, stated: str, left: int) -> None:
    """But for the answer to one that is stated on its other side."""
    text = panel("front", 200, False, "waist", "centre", "side", stated) + panel("back", 200, True, "waist", "centre", "side")
    pieces = drawn(text + f"seam side joins front.side to back.side{said}\n").pieces
    assert [len(notches(pieces, name, "side")) for name in ("front", "back")] == [left, left]


@pytest.mark.parametrize(("stated", "count"), [("", [1, 1]), ("notch waist at 5 cm from side", [1, 1])])
def test_an_eased_seam_keeps_to_the_notches_that_are_stated(stated: str, count: list[int]) -> None:
    """At its half where none is stated; else as stated, on both sides, and nowhere else."""
    text = panel("yoke", 126, False, "waist", "centre", "side", f"fold centre\n    {stated}")
    text += panel("front", 120, False, "waist", "centre", "side", "fold centre")
    pieces = drawn(text + "seam shoulder eases yoke.waist to front.waist\n").pieces
    assert [len(one.piece.notches) for one in pieces] == count
    ends = [min(float(one.piece.notches[0].at[0]), 126 - float(one.piece.notches[0].at[0])) for one in pieces]
    assert ends[0] == pytest.approx(50.0 if stated else 63.0, abs=0.1)


@pytest.mark.parametrize(("ours", "holds"), [("0 mm", True), ("40 mm", False)])
def test_a_notch_at_an_end_is_no_partner_of_one_within(ours: str, holds: bool) -> None:
    """As of a pocket bag, notched at the ends of its mouth, whose side has a balance notch in the mouth; two within must meet."""
    text = panel("bag", 140.0, False, "mouth", "one", "two", f"notch mouth at {ours} from one")
    text += panel("front", 140.0, False, "side", "three", "four", "notch side at 60 mm from three")
    (seam,) = drawn(text + "seam pocket joins bag.mouth to front.side\n").seams
    assert seam.holds is holds
