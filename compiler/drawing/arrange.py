"""Several pieces on one plate, with a title and the squares by which a print is checked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .lettering import text_room, wrapped
from .marks import STYLES, Drawing, Label, Layer, Line, Mark, Reals, Sheet
from .nest_signs import SAID, NestSign, sign_sample
from .signs import centred
from .wording import Unit

GAP = 20.0
"""Between pieces, and round the plate, mm."""

BROADER = 1.4
"""A plate is laid out about this much wider than high."""

SQUARE_MM = 100.0
SQUARE_INCH = 101.6
CAUTION = "Check the test square before cutting"
TITLE_HEIGHT = 7.0
LINE_HEIGHT = 3.5
SAMPLE_LINE = 40.0
"""How long (mm) a line of the legend is: two of the longest patterns of dashes and more."""

SIGN = 8.0
"""Width (mm) of a sign of the legend."""

NOTE_WIDTH = 220.0
"""Of lines of text beside the test squares, mm."""


@dataclass(frozen=True)
class Title:
    """What stands in the title of a sheet; `cautions` are lines on whom the garment is for, and what
    is told of this body; `legend` says of the lines of a nest which sizes are drawn so, and what its signs are."""

    style: str
    body: str = ""
    unit: Unit = "cm"
    cautions: tuple[str, ...] = ()
    legend: tuple[tuple[Layer | NestSign, str], ...] = ()

    @property
    def line(self) -> str:
        return ", ".join(part for part in (self.style, self.body) if part)

    @property
    def units(self) -> str:
        return "lengths in centimetres" if self.unit == "cm" else "lengths in inches"


def arrange(drawings: Sequence[Drawing], title: Title) -> Sheet:
    """The drawings on shelves above a strip with title and test squares."""
    return on_shelves(drawings, title.line, title_strip(title, np.array([GAP, GAP])))


def on_shelves(drawings: Sequence[Drawing], title: str, strip: tuple[Sequence[Mark], float, float]) -> Sheet:
    """The drawings on shelves, the highest first, 20 mm apart, above a strip: its marks, from 20 mm right and up, its width and
    height, mm."""
    frame, strip_width, strip_height = strip
    boxes = {id(d): d.bounds for d in drawings}
    order = sorted(drawings, key=lambda d: (-(boxes[id(d)][3] - boxes[id(d)][1]), d.name))
    area = sum((right - left + GAP) * (top - bottom + GAP) for left, bottom, right, top in boxes.values())
    widest = max([strip_width, *(right - left for left, _, right, _ in boxes.values())])
    limit = max(widest, (BROADER * area) ** 0.5)
    placed: list[Drawing] = []
    x = y = tallest = reach = 0.0
    for drawing in order:
        left, bottom, right, top = boxes[id(drawing)]
        if x > 0.0 and x + right - left > limit:
            x, y, tallest = 0.0, y + tallest + GAP, 0.0
        placed.append(drawing.moved(np.array([GAP + x - left, y - bottom])))
        reach, tallest = max(reach, x + right - left), max(tallest, top - bottom)
        x += right - left + GAP
    base = np.array([0.0, strip_height + 2 * GAP])
    width, height = max(reach, strip_width) + 2 * GAP, base[1] + y + tallest + GAP
    return Sheet(title, width, height, tuple(d.moved(base) for d in placed), tuple(frame))


def by_itself(drawing: Drawing) -> Sheet:
    """One drawing with nothing about it."""
    left, bottom, right, top = drawing.bounds
    placed = drawing.moved(np.array([GAP - left, GAP - bottom]))
    return Sheet(drawing.name, right - left + 2 * GAP, top - bottom + 2 * GAP, (placed,))


def title_strip(title: Title, corner: Reals) -> tuple[list[Mark], float, float]:
    """Title and test squares with their lower left corner at `corner` (2,), and the width and height they take."""
    marks = square(corner, SQUARE_MM, "100 mm")
    marks += square(corner + np.array([SQUARE_MM + GAP, 0.0]), SQUARE_INCH, "4 in")
    beside = corner + np.array([2 * GAP + SQUARE_MM + SQUARE_INCH, 0.0])
    rows = [(title.line, TITLE_HEIGHT), (CAUTION, LINE_HEIGHT), (f"scale 1:1, {title.units}", LINE_HEIGHT)]
    rows += [(line, LINE_HEIGHT) for text in title.cautions for line in wrapped(text, LINE_HEIGHT, NOTE_WIDTH)]
    high = max(SQUARE_MM, sum(2.0 * height for _, height in rows) + 2.0 * LINE_HEIGHT * len(title.legend))
    y, widest = high, 0.0
    for text, height in rows:
        y -= 2.0 * height
        label = Label(text, beside + np.array([0.0, y]), height, source="title")
        widest = max(widest, text_room(label.text, label.height))
        marks.append(label)
    for layer, text in title.legend:
        y -= 2.0 * LINE_HEIGHT
        sample = legend_line(layer, text, beside + np.array([0.0, y]))
        widest = max(widest, legend_room(layer) + text_room(text, LINE_HEIGHT))
        marks += sample
    return marks, float(beside[0] - corner[0]) + widest, max(SQUARE_INCH, high)


def legend_line(layer: Layer | NestSign, text: str, at: Reals) -> list[Mark]:
    """A line or a sign as it is drawn, and behind it what is drawn so, its base line at `at` (2,)."""
    words = Label(text, at + np.array([legend_room(layer), 0.0]), LINE_HEIGHT, source="legend")
    middle = at + np.array([0.0, LINE_HEIGHT / 2])
    sign = next((one for one in SAID if one == layer), None)
    if sign is not None:
        return [*sign_sample(sign, middle + np.array([SIGN / 2, 0.0])), words]
    line = next(one for one in STYLES if one == layer)
    return [Line(line, np.stack([middle, middle + np.array([SAMPLE_LINE, 0.0])]), source="legend"), words]


def legend_room(layer: Layer | NestSign) -> float:
    """How far (mm) right of a line or a sign of the legend its words begin."""
    return LINE_HEIGHT + (SAMPLE_LINE if layer in STYLES else SIGN)


def square(corner: Reals, side: float, text: str) -> list[Mark]:
    """A square to check a print by, its lower left corner at `corner` (2,), with its measure inside."""
    ring = corner + side * np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    outline = Line("frame", ring, closed=True, source=f"test square {text}")
    return [outline, centred(text, corner + side / 2, LINE_HEIGHT, 0.0, "test square")]
