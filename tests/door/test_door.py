"""`import godet`: styles, bodies from files and rows, pieces as coordinates, one exception, the same as the commands say."""

from __future__ import annotations

import io
import json
import math
import pickle
import subprocess
import sys
from dataclasses import asdict
from pathlib import Path
from xml.etree import ElementTree

import godet
import numpy as np
import pytest
import shapely
from godet.cli.main import main
from support.style_runs import PATTERNS, ROOT

STYLE = PATTERNS / "gored_skirt.style"
ALTO = PATTERNS / "bodies" / "alto_3.toml"
MEZZO = PATTERNS / "bodies" / "mezzo_2.toml"
ROW = {"name": "alto 9", "unit": "cm", "sex": "F", "natural_waist_girth": 74.5, "hip_girth": 100, "waist_to_hip_height": 21}
SQUARE = """language 1
style "Square"
choice wide = 20 cm between 10 cm and 30 cm
point a = starting_point
point b = a outward wide
point c = b up wide
point d = a up wide
piece square {
    line low from a to b
    line side from b to c
    line top from c to d
    line end from d to a
    grain up
    cut 1
    allow 1 cm
}
"""


@pytest.fixture(scope="module")
def alto() -> godet.Result:
    (result,) = godet.open_style(STYLE).on(ALTO)
    return result


def test_importing_the_package_loads_nothing_heavy_and_its_names_are_those_it_tells() -> None:
    code = (
        "import sys, godet\n"
        "print(*sorted({'numpy', 'shapely', 'lark', 'reportlab', 'svgwrite'} & set(sys.modules)))\n"
        "print(all(getattr(godet, name) is not None for name in godet.__all__), set(godet.__all__) <= set(dir(godet)))\n"
        "print(hasattr(godet, 'no_such_name'))"
    )
    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT / ".package", capture_output=True, check=True, text=True)
    assert ran.stdout.splitlines() == ["", "True True", "False"]


def test_a_square_from_text_has_the_coordinates_it_says() -> None:
    style = godet.open_style("square.style", text=SQUARE, settings={"wide": "15 cm"})
    assert (style.title, style.pieces, style.diagnostics) == ("Square", ("square",), ())
    (result,) = style.check().on({"name": "anna", "unit": "cm", "bust_girth": 92})
    piece = result.pieces["square"]
    assert piece.outline.tolist() == [[0, 0], [150, 0], [150, 150], [0, 150]]
    assert shapely.equals(piece.cut_polygon.normalize(), shapely.box(-10, -10, 160, 160).normalize())
    assert piece.edge_line("side").tolist() == [[150, 0], [150, 150]]
    assert [(edge.name, edge.length_mm, edge.allowance_mm) for edge in piece.edges][:2] == [("low", 150, 10), ("side", 150, 10)]
    with pytest.raises(KeyError):
        piece.edge_line("hem")
    with pytest.raises(ValueError, match="read-only"):
        piece.outline[0] = 1.0


def test_pieces_are_polygons_that_agree_with_the_report(alto: godet.Result) -> None:
    areas = {piece.name: piece.area_mm2 for piece in alto.report().pieces}
    assert list(alto.pieces) == list(areas)
    for name, piece in alto.pieces.items():
        assert piece.outline.dtype == piece.cut_line.dtype == np.float64
        assert piece.polygon.is_valid
        assert piece.polygon.exterior.is_ccw
        assert piece.polygon.area == pytest.approx(areas[name], abs=0.05 * piece.polygon.length)
        assert piece.cut_polygon.buffer(0.2).contains(piece.polygon)
        for edge in piece.edges:
            assert shapely.LineString(piece.edge_line(edge.name)).length == pytest.approx(edge.length_mm, rel=1e-3)


def test_a_piece_and_a_result_show_themselves(alto: godet.Result) -> None:
    whole, one = alto._repr_svg_(), alto.pieces[next(iter(alto.pieces))]._repr_svg_()
    assert whole is not None
    for text in (whole, one):
        picture = ElementTree.fromstring(text)
        assert max(float(picture.attrib[side].removesuffix("mm")) for side in ("width", "height")) <= 160.0
    assert len(one) < len(whole)
    assert f"{len(alto.pieces)} pieces" in repr(alto)


def test_a_body_is_the_same_from_a_file_and_from_a_row(alto: godet.Result) -> None:
    measures = {name: value / 10 if unit_of(name) else value for name, value in alto.body.measures.items()}
    row = {"name": "alto 3", "unit": "cm", "sex": "F", **measures, "knee_girth": None, "foot_length": math.nan}
    given = {name: value for name, value in row.items() if name not in measures or value == measures[name]}
    (other,) = godet.open_style(STYLE).on([given])
    first, second = (asdict(one.report()) for one in (alto, other))
    assert {key for key in first if first[key] != second[key]} <= {"estimated_how"}  # which names the file


def unit_of(name: str) -> bool:
    from godet.bodies.vocabulary import vocabulary

    return vocabulary()[name].kind == "length"


def test_numbers_of_a_table_are_numbers_and_what_is_missing_was_not_measured() -> None:
    row = {**ROW, "hip_girth": np.float32(100.0), "natural_waist_girth": np.int64(74), "bust_girth": np.nan, "knee_girth": None}
    (body,) = godet.open_style(STYLE).on(row).bodies
    assert dict(body.measures) == {"hip_girth": 1000.0, "natural_waist_girth": 740.0, "waist_to_hip_height": 210.0}


@pytest.mark.parametrize(
    ("change", "code_and_words"),
    [
        ({"hip_girth": "wide"}, 'hip_girth = "wide"'),
        ({"hip_girth": [1, 2]}, "hip_girth"),
        ({"hip girth": 90}, '"hip girth" = 90.0'),
        ({"unit": "ell"}, 'unit = "ell"'),
        ({"name": None}, "name"),
        ({"hip_girth": 1000}, "hip_girth = 1000.0"),
    ],
)
def test_what_is_wrong_with_a_row_is_told_with_its_place(change: dict[str, object], code_and_words: str) -> None:
    rows = [ROW, {**ROW, "name": "other", **change}]
    on = godet.open_style(STYLE).on(rows)
    with pytest.raises(godet.StyleError) as caught:
        next(iter(on))
    said = str(caught.value)
    assert code_and_words in said
    assert "row 2" in said
    assert "fix: " in said
    assert "row 1" not in said


def test_errors_of_style_and_bodies_come_in_one_exception_as_the_command_prints_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    style, body = tmp_path / "bad.style", tmp_path / "bad.toml"
    style.write_text(SQUARE.replace("a outward wide", "a outward wid"), "utf-8")
    body.write_text('name = "b"\nunit = "cm"\n[measures]\nhip_girth = "wide"\n', "utf-8")
    opened = godet.open_style(style)
    with pytest.raises(godet.StyleError, match="wid"):
        opened.check()
    with pytest.raises(godet.StyleError) as caught:
        opened.on(body).check()
    assert main(["check", str(style), "--body", str(body)]) == 2
    assert capsys.readouterr().err.strip() == str(caught.value)
    assert len({one.code for one in caught.value.diagnostics}) > 1
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)  # it may come from another process


def test_a_body_that_cannot_be_drawn_is_a_result_with_errors_and_the_others_go_on() -> None:
    text = SQUARE.replace("a outward wide", "a outward bust_girth")
    first, second = godet.open_style("s.style", text=text).on([{**ROW, "name": "no"}, {**ROW, "name": "yes", "bust_girth": 92}])
    assert (bool(first.errors), first.holds, dict(first.pieces), first._repr_svg_()) == (True, False, {}, None)
    assert second.pieces
    with pytest.raises(godet.StyleError, match="no"):
        first.svg()


def test_files_and_results_are_those_of_the_command(tmp_path: Path) -> None:
    seen: list[str] = []
    bodies = ["--body", str(ALTO), "--body", str(MEZZO)]
    built = godet.open_style(STYLE).on([ALTO, MEZZO]).build(tmp_path / "ours", each=lambda one: seen.append(one.name))
    assert main(["build", str(STYLE), *bodies, "--out", str(tmp_path / "its")]) == 0
    assert len(built.written) == 6
    for path in built.written:
        assert Path(path).read_bytes() == (tmp_path / "its" / Path(path).name).read_bytes()
    (result,) = godet.open_style(STYLE).on(ALTO)
    assert result.svg().encode() == (tmp_path / "ours" / "gored_skirt_alto_3.svg").read_bytes()
    assert result.pdf() == (tmp_path / "ours" / "gored_skirt_alto_3.pdf").read_bytes()
    assert (result.seam_map() or "").encode() == (tmp_path / "ours" / "gored_skirt_alto_3_seams.svg").read_bytes()
    assert result.pdf(paper="a3") != result.pdf()
    assert seen == ["alto 3", "mezzo 2"]
    (tmp_path / "file").write_text("")
    with pytest.raises(godet.StyleError, match="file"):
        godet.open_style(STYLE).on(ALTO).build(tmp_path / "file")


@pytest.mark.parametrize("form", ["text", "json"])
def test_the_report_is_that_of_the_command(form: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", str(STYLE), "--body", str(ALTO), "--body", str(MEZZO), "--format", form]) == 0
    printed = capsys.readouterr().out
    on, out = godet.open_style(STYLE).on([ALTO, MEZZO]), io.StringIO()
    on.write_report(out, form="json" if form == "json" else "text")
    assert out.getvalue() == printed
    if form == "json":
        assert json.loads(json.dumps(asdict(on.report()))) == json.loads(printed)


def test_warnings_of_style_body_and_pieces_stand_in_the_report_each_once() -> None:
    text = SQUARE.replace("    grain up\n", "") + "length idle = 3 cm\n"
    people = [{**ROW, "name": f"b{k}", "hip_girth": 100 + k} for k in range(5)]
    warnings = godet.open_style("s.style", text=text).on([*people, {**ROW, "name": "odd", "hip_girth": 47}]).report().warnings
    assert len([one for one in warnings if "how it lies to the grain" in one]) == 1
    assert "b0, b1, b2 and 3 bodies more" in next(one for one in warnings if "grain" in one)
    assert any("idle" in one for one in warnings)
    assert any("hip_girth" in one for one in warnings)


def test_a_piece_has_notches_darts_grain_and_partners() -> None:
    (result,) = godet.open_style(PATTERNS / "puff_sleeve.style").on(ALTO)
    for piece in result.pieces.values():
        assert piece.grain is not None
        assert np.linalg.norm(piece.grain) == pytest.approx(1.0)
        for notch in piece.notches:
            assert shapely.Point(notch.at).distance(shapely.LineString(piece.edge_line(notch.edge))) < 0.1
            assert notch.strokes.shape[1:] == (2, 2)
        for dart in piece.darts:
            for leg in (dart.inner, dart.outer):
                assert min(np.linalg.norm(leg[0] - dart.apex), np.linalg.norm(leg[-1] - dart.apex)) < 0.01
        with pytest.raises(KeyError):
            piece.partners("nowhere")


@pytest.mark.parametrize("name", ["puff_sleeve", "yoke_shirt", "pleated_skirt"])
def test_what_an_edge_is_sewn_to_is_sewn_to_it(name: str) -> None:
    (result,) = godet.open_style(PATTERNS / f"{name}.style").on(ALTO)
    told = [one for piece in result.pieces.values() for edge in piece.edges for one in piece.partners(edge.name)]
    assert {one.seam for one in told} == {seam.name for seam in result.seams}
    for one in told:
        for place in one.edges:
            piece, edge = place.split(".", 1)
            assert one.seam in {back.seam for back in result.pieces[piece].partners(edge)}


def test_a_seam_map_is_a_picture_and_a_text(alto: godet.Result) -> None:
    drawn = alto.seam_map()
    assert drawn is not None
    assert drawn._repr_svg_() == drawn
    assert ElementTree.fromstring(drawn).tag.endswith("svg")


def test_sizes_that_make_no_nest_show_no_picture_and_bodies_with_errors_no_table() -> None:
    style = godet.open_style(STYLE)
    assert style.sizes(PATTERNS / "charts" / "no_such_chart.csv")._repr_svg_() is None
    assert style.on({"name": "anna", "unit": "cm", "waist": 70})._repr_html_() is None
