"""Files read back by other hands: true scale, the same bytes twice, every piece in its place."""

from __future__ import annotations

import ctypes
import re
from pathlib import Path
from xml.etree import ElementTree

import godet
import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from godet.drawing.arrange import Title, arrange
from godet.drawing.marks import Drawing, Line
from godet.drawing.pages import Pages, paginate
from godet.drawing.piece import plain_piece
from godet.drawing.wording import PieceInfo
from godet.finish.finished import finished
from godet.output.pdf import pdf_bytes
from godet.output.svg import svg_text
from support.drawn_pieces import band, front, loop, top

TITLE = Title("Concert top", "alto 3")
SVG = "{http://www.w3.org/2000/svg}"
MM = 25.4 / 72
CLOSE = 0.05


def drawings() -> tuple[Drawing, ...]:
    pieces = {"front": front(), "whole top": top(), "band": band(), "loop": loop()}
    infos = {name: PieceInfo(name, "Concert top", "alto 3") for name in pieces}
    return tuple(plain_piece(finished(piece), infos[name]).worded() for name, piece in pieces.items())


def tree() -> ElementTree.Element:
    return ElementTree.fromstring(svg_text(arrange(drawings(), TITLE)))


def numbers(text: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", text)]


def test_svg_is_at_true_scale() -> None:
    """A millimetre is a user unit, and the test square is 100 of them."""
    root = tree()
    sizes = [float(root.attrib[key].removesuffix("mm")) for key in ("width", "height")]
    assert root.attrib["width"].endswith("mm")
    assert [float(part) for part in root.attrib["viewBox"].replace(",", " ").split()] == [0.0, 0.0, *sizes]
    square = next(e for e in root.iter() if e.attrib.get("data-source") == "test square 100 mm")
    assert np.ptp(numbers(square.attrib["d"]), axis=0) == pytest.approx([100.0, 100.0], abs=0.002)


def test_svg_has_a_group_for_each_layer_and_names_its_sources() -> None:
    root = tree()
    groups = {group.attrib["id"]: group for group in root.iter(f"{SVG}g") if "id" in group.attrib}
    assert {"cut", "sew", "fold", "hem_fold", "dart", "grain", "notch", "guide", "label"} <= set(groups)
    assert groups["cut"].attrib["stroke-width"] == "0.5"
    sewn = {(part.attrib.get("data-piece"), e.attrib["data-source"]) for part in groups["sew"] for e in part}
    assert {("front", "armhole"), ("whole top", "left_side")} <= sewn
    armhole = next(e for e in groups["sew"].iter() if e.attrib.get("data-source") == "armhole")
    assert "C" in armhole.attrib["d"]


def test_svg_has_the_pieces_y_down() -> None:
    """The same points as in the drawing, measured from the top."""
    sheet = arrange(drawings(), TITLE)
    root = ElementTree.fromstring(svg_text(sheet))
    cut = next(g for g in root.iter(f"{SVG}g") if g.attrib.get("id") == "cut")
    for part in cut:
        drawing = next(d for d in sheet.drawings if d.name == part.attrib["data-piece"])
        mark = next(m for m in drawing.marks if isinstance(m, Line) and m.layer == "cut")
        read = np.array(numbers(part[0].attrib["d"]))
        assert read == pytest.approx(np.stack([mark.points[:, 0], sheet.height - mark.points[:, 1]], 1), abs=0.00051)


def test_svg_escapes_what_a_user_writes() -> None:
    drawing = plain_piece(finished(loop()), PieceInfo("a < b & \"c\"", "Été")).worded()
    root = ElementTree.fromstring(svg_text(arrange([drawing], TITLE)))
    assert 'a < b & "c"' in {e.text for e in root.iter(f"{SVG}text")}


def test_the_same_input_gives_the_same_bytes() -> None:
    assert svg_text(arrange(drawings(), TITLE)) == svg_text(arrange(drawings(), TITLE))
    assert pdf_bytes(paginate(drawings(), TITLE)) == pdf_bytes(paginate(drawings(), TITLE))


def boxes(page: pypdfium2.PdfPage) -> list[tuple[float, ...]]:
    """Bounds in mm of the path objects of a page and of the forms it shows, from the points of their segments: the pen does
    not count."""
    found = []
    for thing in page.get_objects(max_depth=1):
        if thing.type == pdfium.FPDF_PAGEOBJ_PATH:
            found.append(_box(thing.raw, thing.get_matrix()))
        for k in range(pdfium.FPDFFormObj_CountObjects(thing.raw) if thing.type == pdfium.FPDF_PAGEOBJ_FORM else 0):
            inner = pypdfium2.PdfObject(pdfium.FPDFFormObj_GetObject(thing.raw, k), page=page, pdf=page.pdf)
            if inner.type == pdfium.FPDF_PAGEOBJ_PATH:
                found.append(_box(inner.raw, inner.get_matrix().multiply(thing.get_matrix())))
    return found


def _box(path: object, matrix: pypdfium2.PdfMatrix) -> tuple[float, ...]:
    points = []
    for k in range(pdfium.FPDFPath_CountSegments(path)):
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(path, k), x, y)
        points.append(matrix.on_point(x.value, y.value))
    low, high = np.min(points, axis=0) * MM, np.max(points, axis=0) * MM
    return (*low.tolist(), *high.tolist())


def one_block(width: float, height: float) -> Pages:
    ring = np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])
    return paginate([Drawing("block", (Line("cut", ring, closed=True),), ring)], TITLE)


def test_pdf_is_at_true_scale() -> None:
    """The test squares on the front page, and a piece of 100 by 150 mm on the next, by the bounds of their paths."""
    document = pypdfium2.PdfDocument(pdf_bytes(one_block(100.0, 150.0)))
    assert [MM * size for size in document[0].get_size()] == pytest.approx([210.0, 297.0], abs=0.01)
    front_sizes = [(right - left, top_ - low) for left, low, right, top_ in boxes(document[0])]
    for side in (100.0, 101.6):
        assert min(abs(w - side) + abs(h - side) for w, h in front_sizes) < 2 * CLOSE
    sizes = [(right - left, top_ - low) for left, low, right, top_ in boxes(document[1])]
    assert min(abs(w - 100.0) + abs(h - 150.0) for w, h in sizes) < 2 * CLOSE


def test_pdf_rendered_at_600_dots_an_inch_measures_100_mm() -> None:
    """Across the middle of the test square only its two sides are met: their distance on the rendered page."""
    document = pypdfium2.PdfDocument(pdf_bytes(one_block(50.0, 50.0)))
    left, low, right, top_ = min(boxes(document[0]), key=lambda b: abs(b[2] - b[0] - 100) + abs(b[3] - b[1] - 100))
    image = np.asarray(document[0].render(scale=600 / 72, grayscale=True).to_numpy()).squeeze()
    dot = 25.4 / 600
    row = image[round((297.0 - (low + 0.25 * (top_ - low))) / dot)]
    dark = np.flatnonzero(row < 200) * dot
    first = dark[(dark > left - 1) & (dark < left + 1)].mean()
    last = dark[(dark > right - 1) & (dark < right + 1)].mean()
    assert last - first == pytest.approx(100.0, abs=CLOSE)


def test_pdf_pages_show_the_pieces_where_the_layout_has_them() -> None:
    """The cut line of each piece, read from every page it lies on, is at the place its page's shift gives it."""
    pages = paginate(drawings(), TITLE)
    document = pypdfium2.PdfDocument(pdf_bytes(pages))
    assert len(document) == 1 + len(pages.pages)
    seen = set()
    for number, page in enumerate(pages.pages, start=1):
        read = np.array(boxes(document[number]))
        for drawing in pages.drawings:
            mark = next(m for m in drawing.marks if isinstance(m, Line) and m.layer == "cut")
            low, high = mark.points.min(axis=0) + page.shift, mark.points.max(axis=0) + page.shift
            found = np.abs(read - np.concatenate([low, high])).max(axis=1).min() < CLOSE
            seen |= {drawing.name} if found else set()
            on_page = (high > 15.0).all() and (low < [195.0, 282.0]).all()
            assert found or not on_page
    assert seen == {drawing.name for drawing in pages.drawings}


def test_pdf_pages_carry_their_name_and_the_style() -> None:
    pages = paginate(drawings(), TITLE)
    document = pypdfium2.PdfDocument(pdf_bytes(pages))
    front_text = document[0].get_textpage().get_text_bounded()
    assert "Check the test square before cutting" in front_text
    for number, page in enumerate(pages.pages, start=1):
        text = document[number].get_textpage().get_text_bounded()
        assert f"{page.name} Concert top, alto 3" in " ".join(text.split())


NEST = """language 1
style "Flap"
choice long = 15 cm between 5 cm and 100 cm
point low = starting_point
point out = low outward bust_girth / 8
point top = low up long
point out_top = out up long
piece flap {
    line hem from low to out
    line side from out to out_top
    line upper from out_top to top
    line centre from top to low
    grain up
    cut 1
}
"""
CHART = "unit,cm\nsex,F\nsample,80\nmeasurement,80,84,88\nbust_girth,80,84,88\n"


@pytest.mark.parametrize(("rows", "highs"), [("", (150.0, 150.0, 150.0)), ("choice long,60,61,62\n", (600.0, 610.0, 620.0))])
def test_a_nest_is_at_true_scale_on_every_page(tmp_path: Path, rows: str, highs: tuple[float, ...]) -> None:
    """An eighth of the bust is 100, 105 and 110 mm; a nest too high for one page has the same lines on each."""
    (tmp_path / "run.csv").write_text(CHART + rows)
    built = godet.open_style(tmp_path / "flap.style", text=NEST).sizes(tmp_path / "run.csv").build(tmp_path)
    document = pypdfium2.PdfDocument(next(Path(one) for one in built.written if one.endswith(".pdf")).read_bytes())
    assert all([MM * side for side in page.get_size()] == pytest.approx([210.0, 297.0], abs=0.01) for page in document)
    nested = 0
    for page in document:
        corners = np.array(boxes(page)).reshape(-1, 4)
        sides = corners[:, 2:] - corners[:, :2]
        off = [np.abs(sides - one).max(axis=1).min(initial=9.0) for one in zip((100.0, 105.0, 110.0), highs, strict=True)]
        assert max(off) < CLOSE or min(off) > 1.0
        nested += max(off) < CLOSE
    assert nested == (1 if highs[0] < 200.0 else 3)
