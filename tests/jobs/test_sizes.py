"""A style on the sizes of a chart: the same as on bodies, laid on one another, and its growth."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import asdict
from functools import partial
from pathlib import Path
from xml.etree import ElementTree

import godet
import numpy as np
import openpyxl
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely
from godet.cli.main import main
from godet.drawing.growth import growth_drawing
from godet.drawing.marks import Circle, Label, Line
from godet.drawing.nest_signs import SAID, button_trails, sign_sample
from godet.grading.growth import UNEVEN
from godet.jobs import growth
from godet.jobs.build import Wanted
from godet.jobs.nest import nest_plate
from godet.output.growth import growth_csv, growth_text
from godet.output.growth_records import GrowthReport
from godet.output.json_text import json_text
from support.schemas import keeps_to

HERE = Path(__file__).parents[1] / "language" / "sizes.style"
STYLE = """language 1
style "Half"
use plain_half from shapes
block base = plain_half with bust_ease 8 cm
shape straight = leave base.front.side_dart as ease then leave waist_dart as ease
piece front = straight {
    grain up
    cut 1 on fold
    allow 1 cm
    notch side at 10 cm from armhole
}
finished around_half measures (length of front.hem) tolerance 6 mm "along the hem"
"""
CHART = """chart,"Invented"
unit,cm
sex,F
sample,88
measurement,80,84,88,92
bust_girth,80,84,88,92
"""
NUMBERS = re.compile(r"-?[\d.]+")


def sized(folder: Path, style: str = STYLE, chart: str = CHART, only: str = "") -> godet.OnSizes:
    (folder / "invented.csv").write_text(chart)
    return godet.open_style(HERE, text=style).sizes(folder / "invented.csv", only=only)


@pytest.fixture(scope="module")
def on(tmp_path_factory: pytest.TempPathFactory) -> godet.OnSizes:
    return sized(tmp_path_factory.mktemp("sizes"))


@pytest.fixture(scope="module")
def grown(on: godet.OnSizes) -> GrowthReport:
    return on.growth()


def steps(report: GrowthReport, point: str) -> list[tuple[float, float]]:
    (piece,) = report.pieces
    return [(step.across_mm, step.up_mm) for one in piece.points if one.name == point for step in one.steps]


def test_a_column_of_the_chart_is_a_body_file_with_its_numbers(on: godet.OnSizes) -> None:
    style = godet.open_style(HERE, text=STYLE)
    row = {"name": "84", "unit": "cm", "sex": "F", "bust_girth": 84}
    (alone,) = (asdict(one.report()) for one in style.on(row))
    of_chart = next(asdict(one.report()) for one in on if one.name == "84")
    assert json.dumps(of_chart) == json.dumps(alone)


def test_four_centimetres_of_bust_are_one_on_a_quarter(grown: GrowthReport) -> None:
    """The underarm of the half is drafted at a quarter of the bust; the neck does not know the bust."""
    assert grown.sizes == ("80", "84", "88", "92")
    assert steps(grown, "hem by side") == [(10.0, 0.0)] * 3
    assert steps(grown, "side by armhole") == [(10.0, 0.0)] * 3
    assert steps(grown, "shoulder by neckline") == [(0.0, 0.0)] * 3


def test_steps_add_up_to_the_last_digit(grown: GrowthReport) -> None:
    for point in grown.pieces[0].points:
        for way, away in (("across_mm", point.across_from_sample_mm), ("up_mm", point.up_from_sample_mm)):
            thousandths = [round(getattr(step, way) * 1000) for step in point.steps]
            assert sum(thousandths) == round(away[-1] * 1000) - round(away[0] * 1000)


def test_growth_is_that_of_another_alignment_less_the_growth_of_its_point(tmp_path: Path, grown: GrowthReport) -> None:
    other = sized(tmp_path, STYLE.replace("    cut 1", "    sizes_meet_on hem at side along centre\n    cut 1")).growth()
    assert other.pieces[0].stated
    assert not grown.pieces[0].stated
    by_name = {point.name: point.steps for point in grown.pieces[0].points}
    for point in other.pieces[0].points:
        for step, before, moved in zip(point.steps, by_name[point.name], by_name["hem by side"], strict=True):
            assert step.across_mm == pytest.approx(before.across_mm - moved.across_mm, abs=2e-3)
            assert step.up_mm == pytest.approx(before.up_mm - moved.up_mm, abs=2e-3)


def test_sizes_overlap_where_a_step_is_less_than_both_tolerances(grown: GrowthReport) -> None:
    (finished,) = grown.finished
    assert [b - a for a, b in zip(finished.sizes_mm, finished.sizes_mm[1:], strict=False)] == pytest.approx([10.0] * 3)
    assert finished.overlaps == (True, True, True)  # 10 mm a step, 6 either way


def test_a_sentence_that_switches_is_named_with_its_place_and_what_turns(tmp_path: Path) -> None:
    wanted = "length free = larger of (21.3 cm, bust_girth / 4)\n"
    style = STYLE.replace("piece front", f"{wanted}shape longer = lengthen straight.hem at side by free - 18 cm\npiece front")
    style = style.replace("piece front = straight", "piece front = longer")
    found = sized(tmp_path, style)
    (switch,) = found.growth().switches
    (sentence,) = switch.sentences
    assert sentence.sentence == wanted.strip()
    assert (switch.size_from, switch.size_to) == ("84", "88")
    assert sentence.at_mm == pytest.approx(852.0, abs=1.0)
    assert (sentence.before, sentence.after) == ("21.3 cm", "bust_girth / 4")
    assert "hem by side" in {one.point for one in switch.points}


def test_what_bends_without_a_switch_is_not_called_one(tmp_path: Path) -> None:
    """The hem widens with the square of the bust, and the larger of two lengths is the same in all sizes."""
    free = "length free = larger of (1 cm, bust_girth * bust_girth / 1 m - 60 cm)\n"
    style = STYLE.replace("piece front", f"{free}shape longer = lengthen straight.hem at side by free\npiece front")
    grown = sized(tmp_path, style.replace("piece front = straight", "piece front = longer")).growth()
    wider = [across for across, _ in steps(grown, "hem by side")]
    assert np.diff(wider).min() > 2 * UNEVEN
    assert (grown.switches, grown.unseen) == ((), ())


def test_where_nothing_is_drawn_between_sizes_it_is_told_that_no_switch_is_known_there(tmp_path: Path) -> None:
    """The notch lies on the side in all four sizes, and beyond its end between 84 and 88."""
    free = "length free = 5 mm + (bust_girth - 84 cm) * (bust_girth - 88 cm) / 4 cm\n"
    style = STYLE.replace("piece front", f"{free}piece front").replace("at 10 cm from", "at free from")
    report = sized(tmp_path, style).growth()
    (unseen,) = report.unseen
    assert (unseen.size_from, unseen.size_to, unseen.at, unseen.pieces) == ("84", "88", (1.2, 1.4, 1.6, 1.8), ("front",))
    assert "not drawn at 4 places between 84 and 88" in growth_text(report, str, "mm")


def outlines(svg: str) -> dict[str, np.ndarray]:
    """The cut line of every size in a nest, points (n, 2), y down."""
    found = {}
    for one in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}path"):
        source = one.get("data-source", "")
        numbers = [float(n) for n in NUMBERS.findall(one.get("d", ""))]
        if source.startswith("size ") and len(numbers) > 20 and "C" not in one.get("d", ""):
            found[source.removeprefix("size ")] = np.array(numbers).reshape(-1, 2)
    return found


def test_every_cut_line_of_the_nest_is_that_of_the_size_alone(on: godet.OnSizes, tmp_path: Path) -> None:
    built = on.build(tmp_path)
    drawn = outlines(Path(built.written[0]).read_text("utf-8"))
    alone = {result.name: result.pieces["front"].cut_line for result in on}
    assert set(drawn) == set(alone)
    up = {size: points * [1.0, -1.0] for size, points in drawn.items()}
    shift = up["88"].min(axis=0) - alone["88"].min(axis=0)  # all are drafted from where they are laid
    for size, points in up.items():
        whole = shapely.LinearRing(alone[size])
        assert max(whole.distance(shapely.Point(point)) for point in points - shift) < 0.002
        on_fold = alone[size][np.abs(alone[size][:, 0] - alone[size][:, 0].min()) < 0.001]
        assert shapely.LineString(points - shift).length == pytest.approx(whole.length - np.ptp(on_fold[:, 1]), abs=0.01)


def paths(page: pypdfium2.PdfPage) -> Iterator[np.ndarray]:
    for thing in page.get_objects(max_depth=1):
        for k in range(pdfium.FPDFFormObj_CountObjects(thing.raw) if thing.type == pdfium.FPDF_PAGEOBJ_FORM else 0):
            path = pdfium.FPDFFormObj_GetObject(thing.raw, k)
            rows = []
            for n in range(pdfium.FPDFPath_CountSegments(path)):
                x, y = pdfium.c_float(), pdfium.c_float()
                pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(path, n), x, y)
                rows.append((x.value, y.value))
            if len(rows) > 20:
                yield np.array(rows)


def test_the_pages_have_the_lines_of_the_sheet(on: godet.OnSizes, tmp_path: Path) -> None:
    built = on.build(tmp_path)
    drawn = outlines(Path(built.written[0]).read_text("utf-8"))
    document = pypdfium2.PdfDocument(Path(built.written[1]).read_bytes())
    found = [one - one.min(axis=0) for page in document for one in paths(page)]
    for points in drawn.values():
        wanted = points * [1.0, -1.0]
        wanted = wanted - wanted.min(axis=0)
        assert any(one.shape == wanted.shape and float(np.abs(one - wanted).max()) < 0.01 for one in found)


def test_every_size_is_written_in_its_line_and_in_the_legend(on: godet.OnSizes, tmp_path: Path) -> None:
    text = Path(on.build(tmp_path).written[0]).read_text("utf-8")
    said = [one.text for one in ElementTree.fromstring(text).iter("{http://www.w3.org/2000/svg}text")]
    assert {"80", "84", "88", "92", "88, the sample", "84 and 92"} <= set(said)


def test_sets_of_each_size_are_what_each_body_would_be(on: godet.OnSizes, tmp_path: Path) -> None:
    built = on.build(tmp_path, apart=True)
    names = [f"sizes_{size}.{kind}" for size in (80, 84, 88, 92) for kind in ("svg", "pdf")]
    assert [Path(path).name for path in built.written] == names


def test_a_toile_is_of_one_size(on: godet.OnSizes, tmp_path: Path) -> None:
    with pytest.raises(godet.StyleError) as raised:
        on.build(tmp_path, toile=True)
    assert "a toile is sewn in one size" in raised.value.diagnostics[0].message
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("only", [",", " ", " , ,"])
def test_sizes_asked_for_without_a_name_are_not_none_of_them_in_silence(tmp_path: Path, only: str) -> None:
    none = sized(tmp_path, only=only)
    assert [one.message for one in none.diagnostics] == ["some sizes are asked for, and none is named"]
    with pytest.raises(godet.StyleError):
        none.growth()


def test_some_sizes_are_laid_on_the_nearest_to_the_sample(tmp_path: Path) -> None:
    report = sized(tmp_path, only="80,84").growth()
    assert (report.sizes, report.sample) == (("80", "84"), "84")


def test_growth_as_csv_has_a_row_for_each_step(grown: GrowthReport) -> None:
    rows = [line.split(",") for line in growth_csv(grown).splitlines()]
    assert rows[0][:4] == ["piece", "point", "size_from", "size_to"]
    assert ["front", "hem by side", "80", "84", "10.000", "0.000", "-10.000", "0.000", "no"] in rows


def test_growth_keeps_to_its_schema(grown: GrowthReport) -> None:
    schema = godet.schema("grade")
    keeps_to(json.loads(json_text(grown)), schema, schema, "growth")


def test_commands_for_sizes(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    style, chart = "patterns/gored_skirt.style", "patterns/charts/women_1988.csv"
    assert main(["check", style, "--sizes", chart, "--only", "84,96"]) == 0
    assert "2 sizes: all hold" in capsys.readouterr().out
    assert main(["build", style, "--sizes", chart, "--only", "84,90", "--out", str(tmp_path)]) == 2
    assert "size `90` is not in the chart" in capsys.readouterr().err
    assert main(["build", style, "--sizes", chart, "--body", "patterns/bodies/alto_3.toml"]) == 2
    assert "stand together" in capsys.readouterr().err
    assert main(["build", style, "--body", "patterns/bodies/alto_3.toml", "--apart"]) == 2
    assert "no chart is given" in capsys.readouterr().err
    assert main(["build", style, "--sizes", chart, "--only", "84", "--toile", "--out", str(tmp_path)]) == 2
    assert "add `--apart`" in capsys.readouterr().err
    assert main(["grade", style]) == 2
    assert "--sizes CHART" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_a_spreadsheet_is_read_as_the_csv_it_would_be_saved_as(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for row in CHART.splitlines():
        cells = [cell.strip('"') for cell in row.split(",")]
        book.active.append([float(cell) if cell.isdigit() else cell for cell in cells])
    book.save(tmp_path / "invented.xlsx")
    (tmp_path / "invented.csv").write_text(CHART)
    style = godet.open_style(HERE, text=STYLE)
    sheet, text = (style.sizes(tmp_path / f"invented.{kind}").chart for kind in ("xlsx", "csv"))
    assert sheet is not None
    assert text is not None
    assert [dict(body.measures) for body in sheet.bodies()] == [dict(body.measures) for body in text.bodies()]
    assert (sheet.title, sheet.sample) == (text.title, text.sample)


def test_what_is_no_spreadsheet_is_told(tmp_path: Path) -> None:
    (tmp_path / "chart.xlsx").write_bytes(b"no sheet")
    (told,) = godet.open_style(HERE, text=STYLE).sizes(tmp_path / "chart.xlsx").diagnostics
    assert told.code == "E436"


def test_two_sentences_told_of_sizes_stay_two_though_they_say_the_same(tmp_path: Path) -> None:
    tells = "".join(f'tell {name} when bust_girth more_than {cm} cm "wide"\n' for name, cm in (("wide", 83), ("large", 91)))
    on = sized(tmp_path, STYLE.replace("piece front", f"{tells}piece front"))
    said = nest_plate(on._prepared, on._run, Wanted()).title.cautions
    assert [one for one in said if one.startswith("Size")] == [
        "Sizes 84, 88, 92: wide (84: 840.0 mm; 88: 880.0 mm; 92: 920.0 mm)",
        "Size 92: wide (920.0 mm)",
    ]


def test_no_size_is_written_over_another_or_over_a_notch(on: godet.OnSizes) -> None:
    prepared, run = on._prepared, on._run
    for drawing in nest_plate(prepared, run, Wanted()).drawings:
        labels = [mark for mark in drawing.marks if isinstance(mark, Label) and mark.source.startswith("size")]
        boxes = [shapely.Polygon(label.box) for label in labels]
        notches = [shapely.LineString(mark.points) for mark in drawing.marks if isinstance(mark, Line) and mark.layer == "notch"]
        assert not [1 for k, box in enumerate(boxes) for other in boxes[k + 1 :] if box.intersects(other)]
        assert not [1 for box in boxes for notch in notches if box.intersects(notch)]
        assert {"80", "84", "88", "92"} <= {label.text for label in labels}  # along the side, where they lie 1 cm apart


def test_a_corner_has_a_trail_through_all_sizes(on: godet.OnSizes) -> None:
    (drawing,) = nest_plate(on._prepared, on._run, Wanted()).drawings
    trails = [mark.points for mark in drawing.marks if isinstance(mark, Line) and mark.source == "trail" and not mark.closed]
    assert sorted(len(points) for points in trails) == [4, 4]  # underarm and hem; neck and shoulder do not move
    assert all(np.diff(points[:, 0]) == pytest.approx([10.0] * 3) for points in trails)


def test_grade_prints_growth_and_draws_it(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    style, chart, picture = "patterns/gored_skirt.style", "patterns/charts/women_1988.csv", tmp_path / "growth.svg"
    assert main(["grade", style, "--sizes", chart, "--only", "84,88", "--picture", str(picture)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].endswith("growth from size to size  (lengths in mm)")
    assert any(line.split()[:3] == ["left_front_seam", "by", "band_seam"] for line in lines)
    assert any(line.split()[:1] == ["garment_waist"] for line in lines)
    said = picture.read_text("utf-8")
    assert "Numbers: growth from 84 to 88, across, up, in mm" in said
    assert "Arrow head: 88, the largest size" in said
    assert main(["grade", style, "--sizes", chart, "--only", "84", "--picture", str(picture)]) == 0


def test_a_length_in_words_says_of_which_size_it_is(tmp_path: Path) -> None:
    style = STYLE.replace("    cut 1", '    remark "stay tape {length of base.front.neckline}"\n    cut 1')
    on = sized(tmp_path, style, only="80,84")
    (drawing,) = nest_plate(on._prepared, on._run, Wanted()).drawings
    words = " ".join(mark.text for mark in drawing.marks if isinstance(mark, Label))
    assert "lengths told here are those of 84" in words


PANEL = """language 1
style "Panel"
length wide = bust_girth / 4
length bulge = BULGE
point low = starting_point outward wide
point high = low up 40 cm
point middle = low up 20 cm outward bulge
point top = starting_point up 40 cm
shape half {
    line hem from starting_point to low
    curve side from low to high through middle
    line waist from high to top
    line centre from top to starting_point
}
piece front = half {
    grain up
    cut 2 as pair
    sizes_meet_on hem at centre along centre
}
"""


def test_a_size_that_bulges_out_of_the_run_is_told_where_it_is_proved_and_drawn(tmp_path: Path) -> None:
    found = sized(tmp_path, PANEL.replace("BULGE", "3 * larger of (21 cm - wide, 0 mm)"))
    (told,) = found.crossed()
    assert told.code == "W336"
    assert told.data["of"] == ("front", "side")
    assert re.search(r"along `side` 80-84 by (9\.\d|10\.0) mm, in the other steps by 0\.\d mm at most$", told.message)
    assert found.build(tmp_path / "out").doubts == (told,)


def test_lines_that_cross_evenly_from_size_to_size_are_not_told(tmp_path: Path) -> None:
    """As where a level falls while girths grow."""
    assert sized(tmp_path, PANEL.replace("BULGE", "3 * (25 cm - wide)")).crossed() == ()


SHIRT = """language 1
style "Shirt front"
use shirt from blocks/overblouse
block base = shirt with bust_ease 18 cm armhole_ease 9 cm shoulder_out 1 cm for_bust no
piece front = base.front {
    grain up
    cut 1 on fold
}
"""


def test_a_mans_loose_armhole_on_a_small_chest_is_not_hollowed(tmp_path: Path) -> None:
    """The arm has its width; what the armhole is longer goes into its depth, not into the across front."""
    style = godet.open_style(HERE, text=SHIRT)
    found = style.sizes("patterns/charts/men_1988.csv")
    assert found.crossed() == ()
    underarm = [up for _, up in steps(found.growth(), "side by armhole")]
    assert min(underarm) > -4.0
    assert max(underarm) < 0.0


def test_what_is_told_of_several_sizes_has_the_figure_of_each(tmp_path: Path) -> None:
    beyond = "length beyond = bust_girth - 82 cm\ntell wide when beyond more_than 1 cm \"so much beyond 82\"\n"
    on = sized(tmp_path, STYLE.replace("piece front", f"{beyond}piece front", 1))
    (told,) = [line for line in nest_plate(on._prepared, on._run, Wanted()).title.cautions if "beyond" in line]
    assert told == "Sizes 84, 88, 92: so much beyond 82 (84: 20.0 mm; 88: 60.0 mm; 92: 100.0 mm)"


def test_growth_is_drawn_in_the_unit_of_the_chart_and_no_number_lies_on_another_or_on_an_arrow(tmp_path: Path) -> None:
    inches = CHART.replace("unit,cm", "unit,in").replace("80,84,88,92\n", "32,34,36,38\n").replace("sample,88", "sample,36")
    run = sized(tmp_path, chart=inches)._run
    (piece,) = run.pieces
    drawn = growth_drawing("front", piece.sizes["36"].piece, piece.corners, run.at, partial(growth.grown, unit="in"))
    numbers = [mark for mark in drawn.marks if isinstance(mark, Label) and mark.boxed]
    assert [mark.text for mark in numbers] == ["1 1/2, 0"] * 2  # a quarter of six inches, at underarm and hem
    boxes = [shapely.Polygon(mark.box) for mark in drawn.marks if isinstance(mark, Label)]
    arrows = [shapely.LineString(mark.points) for mark in drawn.marks if isinstance(mark, Line)]
    assert not [1 for k, box in enumerate(boxes) for other in (*boxes[:k], *arrows) if box.intersects(other)]


def test_buttons_of_other_sizes_are_crosses_on_a_trail_with_its_ends_named() -> None:
    middles = [{"top": np.array([0.0, 5.0 * k]), "hole": np.array([0.0, 5.0 * k])} for k in range(4)]
    marks = button_trails(["80", "84", "88", "92"], middles, 2)
    crosses = [mark for mark in marks if isinstance(mark, Line) and mark.source.startswith("size")]
    assert {mark.source for mark in crosses} == {"size 80", "size 84", "size 92"}  # a button in its hole has one trail
    assert len(crosses) == 6
    assert [mark.text for mark in marks if isinstance(mark, Label)] == ["80", "92"]
    assert button_trails(["80", "84"], [{"top": np.zeros(2)}, {"top": np.zeros(2)}], 0) == []


def test_the_legend_tells_the_signs_that_the_nest_has(on: godet.OnSizes) -> None:
    told = {text for _, text in nest_plate(on._prepared, on._run, Wanted()).title.legend}
    assert {SAID["laid"], SAID["corner"], "thin: the sewing line, and what lies within, of 88"} <= told
    assert SAID["buttons"] not in told  # it has none
    assert not [mark for mark in sign_sample("laid", np.zeros(2)) if isinstance(mark, Circle)]  # a ring is drilled
