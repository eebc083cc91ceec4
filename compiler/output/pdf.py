"""Pages as PDF: vectors at true scale, the same bytes for the same pages."""

from __future__ import annotations

import io
from collections.abc import Sequence

from reportlab import rl_config
from reportlab.lib.rl_accel import fp_str
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from ..drawing.lettering import FACE, type_size
from ..drawing.marks import STYLES, Circle, Curve, Drawing, Label, Layer, Line, Mark, Reals, by_layer
from ..drawing.pages import Page, Pages
from ..drawing.wording import INCH

POINTS = 72.0 / INCH
"""PDF's unit in a millimetre."""

DIGITS = 4

METRE = 999.0
"""Below it, mm, the library writes all of these."""

ROUND = 5.0
"""Round a drawing, mm: more than half of any line's width."""

Box = tuple[float, float, float, float]

rl_config.useA85 = 0  # streams as bytes: smaller by a fifth


def pdf_bytes(pages: Pages) -> bytes:
    """The pages as a PDF file, those in front first."""
    out = io.BytesIO()
    size = (pages.width * POINTS, pages.height * POINTS)
    canvas = Canvas(out, pagesize=size, invariant=1, pageCompression=1)
    canvas.setTitle(pages.title.line)
    canvas.setAuthor("")
    canvas.setCreator("godet")
    canvas.setProducer("godet")
    forms = [_form(canvas, f"piece{number}", drawing) for number, drawing in enumerate(pages.drawings)]
    for marks in pages.front:
        _begin(canvas)
        _draw(canvas, marks)
        canvas.showPage()
    for page in pages.pages:
        _begin(canvas)
        _pattern(canvas, pages, page, forms)
        _draw(canvas, page.marks)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _begin(canvas: Canvas) -> None:
    """Millimetres from here on."""
    canvas.scale(POINTS, POINTS)
    canvas.setLineJoin(1)


def _form(canvas: Canvas, name: str, drawing: Drawing) -> tuple[str, Box]:
    """A drawing written once, to be shown on pages by its name; and the box it lies in, mm."""
    left, bottom, right, top = drawing.bounds
    box = (left - ROUND, bottom - ROUND, right + ROUND, top + ROUND)
    canvas.beginForm(name, *box)
    canvas.setLineJoin(1)
    _draw(canvas, drawing.marks)
    canvas.endForm()
    return name, box


def _pattern(canvas: Canvas, pages: Pages, page: Page, forms: Sequence[tuple[str, Box]]) -> None:
    """The drawings as far as they show on a page."""
    left, bottom, width, height = pages.window
    x, y = (float(step) for step in page.shift)
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(left, bottom, width, height)
    canvas.clipPath(window, stroke=0, fill=0)
    canvas.translate(x, y)
    for name, box in forms:
        if box[0] + x < left + width and left < box[2] + x and box[1] + y < bottom + height and bottom < box[3] + y:
            canvas.doForm(name)
    canvas.restoreState()


def _draw(canvas: Canvas, marks: tuple[Mark, ...]) -> None:
    for layer, held in by_layer(marks).items():
        for mark in held:
            _pen(canvas, layer, isinstance(mark, Line) and mark.solid)
            _mark(canvas, mark)


def _pen(canvas: Canvas, layer: Layer, solid: bool) -> None:
    style = STYLES[layer]
    canvas.setLineWidth(style.width)
    canvas.setDash([] if solid else list(style.dash), 0)
    red, green, blue = (int(style.colour[k : k + 2], 16) / 255 for k in (1, 3, 5))
    if red == green == blue:
        canvas.setStrokeGray(red)
        canvas.setFillGray(red)
    else:
        canvas.setStrokeColorRGB(red, green, blue)
        canvas.setFillColorRGB(red, green, blue)


def _mark(canvas: Canvas, mark: Mark) -> None:
    match mark:
        case Line():
            path = _polyline(mark.points, mark.closed)
            canvas.drawPath(path, stroke=int(not mark.filled), fill=int(mark.filled))
        case Curve():
            canvas.drawPath(_cubics(canvas, mark), stroke=1, fill=0)
        case Circle():
            canvas.setFillGray(1)
            canvas.circle(*_place(mark.centre), mark.radius, stroke=1, fill=1)
        case Label():
            _text(canvas, mark)


def _text(canvas: Canvas, label: Label) -> None:
    if label.boxed:
        canvas.setFillGray(1)
        canvas.drawPath(_polyline(label.box, True), stroke=0, fill=1)
        canvas.setFillGray(0)
    canvas.saveState()
    canvas.translate(*_place(label.at))
    canvas.rotate(round(label.angle, DIGITS))
    canvas.setFont(FACE, type_size(label.height))
    canvas.drawString(0, 0, label.text)
    canvas.restoreState()


def _place(point: Reals) -> tuple[float, float]:
    return round(float(point[0]), DIGITS), round(float(point[1]), DIGITS)


def _polyline(points: Reals, closed: bool) -> PDFPathObject:
    """Written here and not point by point through the library, which takes twice as long for the same text."""
    first, *others = points.tolist()
    written = [f"n {_number(first[0])} {_number(first[1])} m", *(f"{_number(x)} {_number(y)} l" for x, y in others)]
    return PDFPathObject([*written, "h"] if closed else written)


def _number(value: float) -> str:
    """A number as the library writes it, to `DIGITS` places: without zeros that say nothing."""
    if abs(value) > METRE:  # of which it writes fewer places
        return str(fp_str(round(value, DIGITS)))
    text = f"{value:.{DIGITS}f}".rstrip("0").rstrip(".")
    if text.startswith("0."):
        return text[1:]
    return "0" if text == "-0" else text


def _cubics(canvas: Canvas, curve: Curve) -> PDFPathObject:
    path = canvas.beginPath()
    path.moveTo(*_place(curve.spans[0, 0]))
    for span, straight in zip(curve.spans, curve.straight, strict=True):
        if straight:
            path.lineTo(*_place(span[3]))
        else:
            path.curveTo(*_place(span[1]), *_place(span[2]), *_place(span[3]))
    return path
