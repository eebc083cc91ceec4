"""The pieces of the bundled styles, judged as a head cutter would before cutting them."""

from __future__ import annotations

import numpy as np
import pytest
from godet.drawing.arrange import arrange
from godet.drawing.marks import Label, Line
from godet.drawing.pages import paginate
from godet.finish.halves import centres_of
from godet.geometry.length import direction_at, length, point_at
from godet.geometry.path import chain
from godet.jobs.build import CAUTIONS, FITTER, Wanted, plate
from godet.jobs.files import Disk
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from godet.jobs.toile import toile
from godet.pattern.edges import edge_path
from godet.pattern.piece import Piece
from support.panels import panel
from support.reports import as_text, report
from support.sheets import on_body, sheet_of
from support.style_runs import PATTERNS, prepared
from support.styles import written

BODIES = ("soprano_1", "alto_3", "alto_5", "mezzo_2", "soprano_2")


def places(piece: Piece, *edges: str) -> np.ndarray:
    """Points (201, 2) spread along edges, in the order in which the ring runs."""
    path = chain([one for edge in edges for one in edge_path(piece, edge)])
    return point_at(path, np.linspace(0.0, 1.0, 201) * length(path))


@pytest.mark.parametrize("body", BODIES)
def test_the_pocket_bag_of_the_trousers_lies_along_their_side_and_is_nowhere_hollow_below_it(body: str) -> None:
    _, pieces = on_body("plain_trousers", body)
    bag, side = pieces["pocket_bag"], places(pieces["front"], "side")
    for place in places(bag, "mouth", "upper_side"):
        assert np.linalg.norm(side - place, axis=1).min() < 4.0  # side's points lie 6 mm apart at most
    turns = []
    for edge in ("inner_side", "bottom", "outer_edge"):
        (path,) = edge_path(bag, edge)
        ways = direction_at(path, np.linspace(0.0, 1.0, 21) * length(path))
        turns += [float(np.arctan2(way[1], way[0])) for way in ways]
    assert (np.diff(np.unwrap(turns)) > -1e-6).all()


@pytest.mark.parametrize("body", BODIES)
def test_the_pocket_bag_hangs_clear_of_the_front_darts(body: str) -> None:
    _, pieces = on_body("plain_trousers", body)
    hung = places(pieces["pocket_bag"], "top")[:, 0].min()
    for dart in pieces["front"].darts:
        legs = [pieces["front"].sides(leg)[0].drawn for leg in (dart.first, dart.second)]
        assert hung >= max(end[0, 0] for leg in legs for end in (leg.start, leg.end)) + 4.0


@pytest.mark.parametrize("body", BODIES)
def test_the_yoke_of_the_shirt_has_straight_shoulders(body: str) -> None:
    """Where its dart was closed it broke by up to 6 degrees."""
    _, pieces = on_body("yoke_shirt", body)
    for name in ("left_shoulder", "right_shoulder"):
        at = places(pieces["yoke"], name)
        assert np.linalg.norm(np.diff(at, axis=0), axis=1).sum() - np.linalg.norm(at[-1] - at[0]) < 1e-6


@pytest.mark.parametrize("style", ["concert_top", "plain_trousers", "yoke_shirt"])
def test_a_style_that_buys_buttons_shows_where_they_are_sewn(style: str) -> None:
    result, pieces = on_body(style, "alto_3")
    assert any(trim.name == "button" for trim in result.specification.trims)
    assert any(sign.kind == "button" for piece in pieces.values() for sign in piece.signs.values())


@pytest.mark.parametrize("body", BODIES)
def test_a_back_shoulder_has_a_dart_that_can_be_sewn_or_is_eased(body: str) -> None:
    """Alto 3 had a dart of 2.7 mm."""
    result, pieces = on_body("puff_sleeve", body)
    (seam,) = (seam for seam in result.seams if seam.name == "shoulders")
    ease = seam.left_mm - seam.right_mm
    dart = pieces["back"].dart("shoulder_dart")
    assert 6.0 - 1e-6 <= ease < (6.1 if dart else 12.0)  # the shoulder is trued over its dart, which makes it a little longer
    if dart is not None:
        first, second = pieces["back"].sides(dart.first), pieces["back"].sides(dart.second)
        assert np.linalg.norm(first[0].drawn.start - second[-1].drawn.end) >= 6.0 - 1e-6


@pytest.mark.parametrize("body", BODIES)
def test_the_cowl_top_has_no_corner_in_its_sides_and_shoulders(body: str) -> None:
    """On alto 5 the back shoulder broke by 10 degrees where its dart had been, and the sides at the waist."""
    _, pieces = on_body("cowl_top", body)
    for name, edge in (("back", "left_shoulder"), ("back", "left_side"), ("front", "left_side")):
        points = places(pieces[name], edge)
        ways = np.unwrap(np.arctan2(*np.diff(points, axis=0).T[::-1]))
        assert np.degrees(np.abs(np.diff(ways)).max()) < 3.0, (name, edge)


def test_a_man_has_a_chest() -> None:
    """In the report and on the pieces; what lies across it above is called otherwise."""
    made = sheet_of("tenor_shirt", "bass_2")
    said = [mark.text for drawing in made.drawings for mark in drawing.marks if isinstance(mark, Label)]
    assert {"chest", "across chest"} <= set(said)
    assert not any("bust" in text for text in said)
    prepared_files = prepare(Disk(), str(PATTERNS / "tenor_shirt.style"), [str(PATTERNS / "bodies" / "bass_2.toml")])
    (fit,) = (line for line in as_text(report(prepared_files)).splitlines() if line.startswith("  base chest"))
    assert fit.split()[-1] == "holds"


def test_the_bands_and_cuffs_of_the_shirt_say_that_they_are_a_pair() -> None:
    _, pieces = on_body("yoke_shirt", "alto_3")
    assert all(cut.mirrored for cut in pieces["button_band"].finish.cuts)
    assert "a pair" in " ".join(map(str, pieces["cuffs"].finish.remarks))


def test_the_slit_of_the_cuff_runs_straight_through_the_allowance() -> None:
    made = sheet_of("yoke_shirt", "alto_3")
    (sleeve,) = (drawing for drawing in made.drawings if drawing.name == "sleeve")
    slit = [mark.points for mark in sleeve.marks if isinstance(mark, Line) and mark.source == "cuff_slit"]
    upright = [points for points in slit if len(points) == 2 and abs(points[1, 1] - points[0, 1]) > 5.0]
    assert upright
    assert all(abs(points[1, 0] - points[0, 0]) < 0.01 for points in upright)


@pytest.mark.parametrize("body", BODIES)
def test_the_slit_of_the_cuff_has_the_box_that_its_plackets_are_stitched_to(body: str) -> None:
    """Cut up to 1 cm below the end of the box, and snipped into both its corners."""
    result, pieces = on_body("yoke_shirt", body)
    ends = {name: pieces["sleeve"].sides(name)[0].drawn for name in ("cuff_slit", "box_front", "box_back", "box_end")}
    top = {ends["cuff_slit"].start[0, 1], ends["cuff_slit"].end[0, 1]}
    corners = np.stack([ends["box_end"].start[0], ends["box_end"].end[0]])
    assert np.allclose(corners[:, 1] - max(top), 10.0)
    assert np.isclose(np.ptp(corners[:, 0]), 10.0)
    snips = np.concatenate([side.drawn.controls[0, :, (0, 3)].reshape(-1, 2) for side in pieces["sleeve"].sides("snips")])
    assert all(np.linalg.norm(snips - corner, axis=1).min() < 1e-6 for corner in corners)
    sewn = {seam.name: seam for seam in result.seams}
    for seam, side in (("over_placket_edge", "box_front"), ("under_strip_edge", "box_back")):
        assert sewn[seam].holds
        assert np.isclose(sewn[seam].right_mm, length(ends[side])[0])


@pytest.mark.parametrize("body", ["alto_3", "alto_5"])
@pytest.mark.parametrize("style", ["concert_top", "long_top"])
def test_the_cut_line_of_a_toile_has_no_hook_at_the_pit(style: str, body: str) -> None:
    """The underarm bends too much for a wide allowance, the side has one: between them the cut line turns by half a right
    angle at most."""
    result, _ = on_body(style, body)
    made = prepared(PATTERNS / f"{style}.style")
    assert made.style is not None
    kept = toile(made.style, result, {one.name: one.piece for one in result.pieces}).pieces
    cut, pit = kept["back"].cut[0], kept["back"].piece.sides("underarm")[0].drawn.start[0]
    ways = np.diff(np.concatenate([cut, cut[:1]]), axis=0)
    kept_ways = np.linalg.norm(ways, axis=1) > 0.01
    ways, starts = ways[kept_ways], cut[kept_ways]
    turns = np.arctan2(*(ways * np.roll(ways, 1, axis=0)[:, ::-1] @ [1.0, -1.0], (ways * np.roll(ways, 1, axis=0)).sum(axis=1)))
    near = np.linalg.norm(starts - pit, axis=1) < 60.0
    assert near.sum() > 4
    assert np.degrees(np.abs(turns[near]).max()) < 45.0


def test_a_centre_is_known_by_what_it_is_not_by_its_name() -> None:
    """An edge on the fold, and one a back is sewn to itself at; not one that is only called so."""
    text = panel("front", 150, False, "waist", "mid", "centre", "fold mid") + panel("back", 150, False, "waist", "mid", "side")
    made = written(f"language 1\n{text}seam long joins back.mid to back.mid\nseam sides joins front.centre to back.side\n")
    (result,), _ = outcomes(made)
    found = {one.name: one.piece for one in result.pieces}
    assert centres_of("front", found["front"], result.seams) == ("mid",)
    assert centres_of("back", found["back"], result.seams) == ("mid",)
    drawings = plate(made, result, made.bodies[0], Wanted()).drawings
    said = {mark.text for drawing in drawings for mark in drawing.marks if isinstance(mark, Label)}
    assert {"centre back, long", "sides"} <= said
    assert "centre front" not in said  # it is said with `on the fold`, in the bracket


def test_what_is_told_of_a_body_stands_on_its_sheet_and_on_its_first_page() -> None:
    (result, _), made = on_body("concert_top", "alto_5"), sheet_of("concert_top", "alto_5")
    told = {one.name.rpartition(".")[2]: one for one in result.tidings}
    assert "hollow_top_line" in told
    sheet = arrange(made.drawings, made.title)
    front = paginate(made.drawings, made.title, "a4", made.title.cautions).front[0]
    for marks in (sheet.frame, front):
        labels = [mark for mark in marks if isinstance(mark, Label)]
        said = " ".join(mark.text for mark in labels)
        assert " ".join(told["hollow_top_line"].text.split()[:8]) in said
        assert all(mark.at[1] > 0.0 for mark in labels)


@pytest.mark.parametrize("style", ["plain_trousers", "yoke_shirt"])
def test_no_second_page_in_front_is_printed_for_two_lines(style: str) -> None:
    """The map gives way: the list of the pieces of both went on overleaf by a line or two."""
    made = sheet_of(style, "alto_3")
    notes = (*CAUTIONS, *made.title.cautions, FITTER)
    assert len(paginate(made.drawings, made.title, "a4", notes).front) == 1


def test_a_title_stands_clear_of_the_rows_below_it() -> None:
    """What hangs from its letters is a fifth of their height."""
    made = sheet_of("puff_sleeve", "alto_3")
    (back,) = (drawing for drawing in made.drawings if drawing.name == "back")
    labels = [mark for mark in back.marks if isinstance(mark, Label)]
    title = max(labels, key=lambda mark: mark.height)
    rows = [mark for mark in labels if mark.source == title.source and mark.at[1] < title.at[1]]
    below = max(rows, key=lambda mark: mark.at[1])
    assert title.at[1] - (below.at[1] + below.height) > 0.4 * title.height


def test_words_along_an_edge_are_not_run_together_with_all_that_follows() -> None:
    """The button band said all it had in one row along its edge."""
    made = sheet_of("yoke_shirt", "alto_3")
    (band,) = (drawing for drawing in made.drawings if drawing.name == "button band")
    rows = [mark.text for mark in band.marks if isinstance(mark, Label) and "cut 2" in mark.text]
    assert rows
    assert not any("Yoke shirt" in row or "allowance" in row for row in rows)


@pytest.mark.parametrize("style", ["concert_top", "long_top"])
def test_the_underarm_level_of_a_kimono_has_nothing_of_its_sleeve(style: str) -> None:
    """The seam under the sleeve is called as that level is; the level ends at the body."""
    result, _ = on_body(style, "alto_3")
    (fit,) = (one for one in result.fits if one.name == "base.underarm")
    assert fit.garment_mm == pytest.approx(fit.drafted_mm, abs=40.0)


@pytest.mark.parametrize("style", ["puff_sleeve", "yoke_shirt"])
@pytest.mark.parametrize(("body", "short"), [("alto_3", 22.0), ("alto_5", 31.0)])
def test_a_wide_bust_dart_ends_farther_from_the_bust_point(style: str, body: str, short: float) -> None:
    """One of 21 degrees would make a peak."""
    result, _ = on_body(style, body)
    piece = next(one.alone().piece for one in result.pieces if one.name == "front")
    (tip,) = (piece.sides(dart.first)[-1].drawn.end for dart in piece.darts if dart.name == "side_dart")
    bust_point = piece.points["bust_point"]
    assert bust_point is not None
    assert np.linalg.norm(tip - bust_point) == pytest.approx(short, abs=1.0)
