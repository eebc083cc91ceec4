"""The marks a drawing is made of. Millimetres, x to the right, y up; what a mark looks like is settled by its layer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .lettering import VERSION, text_room, text_width

Reals = NDArray[np.float64]
Layer = Literal[
    "cut", "sew", "old", "new", "fold", "hem_fold", "dart", "grain", "notch", "inner", "guide", "gather", "frame", "join",
    "label", "level", "level_strong", "seam_1", "seam_2", "seam_3", "seam_4", "seam_5", "seam_6", "seam_7", "seam_8",
    "faced", "hemmed", "held", "folded", "closed", "left", "nothing", "ring",
    "was", "was_sewn", "was_notch", "still", "now", "moved", "shift",
    "trail", "size_1", "size_2", "size_3", "size_4", "size_5", "size_6", "size_7", "size_8", "size_9", "size_10", "size_11",
]


@dataclass(frozen=True)
class Style:
    """Width of a line in mm, its dashes as lengths drawn and left out, mm, none for a continuous line, and its colour."""

    width: float
    dash: tuple[float, ...] = ()
    colour: str = "#000000"


# Kinds and widths of line after ISO 128-2, in the order in which the layers lie on each other.
STYLES: dict[Layer, Style] = {
    "old": Style(0.25, (2.0, 1.0)),
    "level": Style(0.18, (14.0, 2.0, 0.6, 2.0)),
    "level_strong": Style(0.35, (14.0, 2.0, 0.6, 2.0)),
    "guide": Style(0.25, (14.0, 2.0, 0.6, 2.0)),
    # Of a nest: the farther a size is from the sample, the farther down. Types of line 02, 04, 07, 08, 05, 03, 12, 09, 06, 10, 15
    # of ISO 128-2, of lengths in widths of the line (gap 3, short 6, dash 12, long 24; a dot 2, lest a print lose it).
    "trail": Style(0.18),
    "size_11": Style(0.3, (3.6, 0.9, 3.6, 0.9, 0.6, 0.9, 0.6, 0.9, 0.6, 0.9)),
    "size_10": Style(0.3, (3.6, 0.9, 0.6, 0.9)),
    "size_9": Style(0.3, (7.2, 0.9, 0.6, 0.9, 0.6, 0.9, 0.6, 0.9)),
    "size_8": Style(0.3, (7.2, 0.9, 1.8, 0.9, 1.8, 0.9)),
    "size_7": Style(0.3, (3.6, 0.9, 0.6, 0.9, 0.6, 0.9)),
    "size_6": Style(0.3, (3.6, 5.4)),
    "size_5": Style(0.3, (7.2, 0.9, 0.6, 0.9, 0.6, 0.9)),
    "size_4": Style(0.3, (7.2, 0.9, 1.8, 0.9)),
    "size_3": Style(0.5, (1.0, 1.5)),
    "size_2": Style(0.3, (7.2, 0.9, 0.6, 0.9)),
    "size_1": Style(0.3, (3.6, 0.9)),
    "inner": Style(0.25),
    "sew": Style(0.25),
    "hem_fold": Style(0.25, (6.0, 1.5)),
    "dart": Style(0.25),
    "gather": Style(0.25),
    "fold": Style(0.35, (12.0, 1.5, 0.5, 1.5)),
    "cut": Style(0.5),
    "new": Style(0.5),
    "notch": Style(0.35),
    "grain": Style(0.35),
    # Of a seam map: dashes tell seams apart without colour, and colours by lightness too, for eyes that see no red or green.
    "seam_1": Style(0.6, (), "#000000"),
    "seam_2": Style(0.6, (5.0, 1.5), "#0072b2"),
    "seam_3": Style(0.6, (1.6, 1.2), "#d55e00"),
    "seam_4": Style(0.6, (5.0, 1.2, 1.0, 1.2), "#009e73"),
    "seam_5": Style(0.6, (2.5, 3.0), "#a04080"),
    "seam_6": Style(0.6, (9.0, 1.2, 3.0, 1.2), "#d99000"),
    "seam_7": Style(0.6, (0.7, 0.7), "#3a9ad9"),
    "seam_8": Style(0.6, (3.0, 1.0, 1.0, 1.0, 1.0, 1.0), "#7a5c2e"),
    "faced": Style(0.3, (0.3, 0.9)),
    "hemmed": Style(0.25),
    "held": Style(0.25, (1.6, 0.7)),
    "folded": Style(0.3, (6.0, 1.0, 0.5, 1.0, 0.5, 1.0)),
    "closed": Style(0.25),
    "left": Style(0.18),
    # Of a piece as it was and as it is: what moved is thick, dashed and coloured, so that a black print tells it too.
    "was": Style(0.4, (1.8, 1.0), "#8a8a8a"),
    "was_sewn": Style(0.25, (0.6, 0.8), "#8a8a8a"),
    "still": Style(0.18),
    "now": Style(0.4),
    "moved": Style(0.9, (6.0, 0.8), "#b0003a"),
    "was_notch": Style(0.5, (0.8, 0.6), "#8a8a8a"),
    "shift": Style(0.35),
    "nothing": Style(1.0, (3.0, 2.0), "#c00000"),
    "ring": Style(0.25),
    "frame": Style(0.18),
    "join": Style(0.18, (3.0, 1.5)),
    "label": Style(0.25),
}


@dataclass(frozen=True, eq=False)
class Line:
    """Straight from point to point (n, 2). `filled`: a filled shape without an outline. `solid`: no dashes."""

    layer: Layer
    points: Reals
    closed: bool = False
    filled: bool = False
    solid: bool = False
    source: str = ""


@dataclass(frozen=True, eq=False)
class Curve:
    """A chain of cubics (k, 4, 2); straight[i] marks those that are lines."""

    layer: Layer
    spans: Reals
    straight: tuple[bool, ...]
    source: str = ""


@dataclass(frozen=True, eq=False)
class Circle:
    """An open circle, white inside, about `centre` (2,)."""

    layer: Layer
    centre: Reals
    radius: float
    source: str = ""


@dataclass(frozen=True, eq=False)
class Label:
    """A line of text: `at` (2,) is the left end of its base line, `height` that of its capitals, `angle` in degrees.

    `boxed` keeps the lines beneath off the letters.
    """

    text: str
    at: Reals
    height: float
    angle: float = 0.0
    source: str = ""
    boxed: bool = False
    layer: Layer = "label"

    @property
    def width(self) -> float:
        return text_width(self.text, self.height)

    @property
    def box(self) -> Reals:
        """The corners (4, 2) of the room for the text with its descenders, anticlockwise from the lower left."""
        low, high, long = -0.3 * self.height, 1.05 * self.height, text_room(self.text, self.height)
        corners = np.array([[0.0, low], [long, low], [long, high], [0.0, high]])
        return self.at + corners @ turned(self.angle)


Mark = Line | Curve | Circle | Label


@dataclass(frozen=True, eq=False)
class Drawing:
    """Marks of one piece and its outline (n, 2): the closed line that no other piece may cross. `listed` is what a list of
    the pieces says of it."""

    name: str
    marks: tuple[Mark, ...]
    outline: Reals
    listed: str = ""

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of all marks, mm."""
        points = np.concatenate([self.outline, *(extent(mark) for mark in self.marks)])
        (left, bottom), (right, top) = points.min(axis=0), points.max(axis=0)
        return float(left), float(bottom), float(right), float(top)

    def moved(self, shift: Reals) -> Drawing:
        return replace(self, marks=tuple(moved(mark, shift) for mark in self.marks), outline=self.outline + shift)

    def of_version(self, version: str) -> Drawing:
        """The drawing with the version written in where a sign stands for it; nothing else moves."""
        marks = (
            replace(one, text=one.text.replace(VERSION, version)) if isinstance(one, Label) else one for one in self.marks
        )
        return replace(self, marks=tuple(marks))


@dataclass(frozen=True, eq=False)
class Sheet:
    """Drawings on paper of a width and height in mm, its lower left corner at (0, 0), and the marks about them."""

    title: str
    width: float
    height: float
    drawings: tuple[Drawing, ...]
    frame: tuple[Mark, ...] = ()

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All of it."""
        return (*(mark for drawing in self.drawings for mark in drawing.marks), *self.frame)


def turned(degrees: float) -> Reals:
    """The matrix (2, 2) that turns rows of points anticlockwise when they are multiplied by it from the right."""
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return np.array([[c, s], [-s, c]])


def extent(mark: Mark) -> Reals:
    """Points (n, 2) whose bounding box holds the mark."""
    match mark:
        case Line():
            return mark.points
        case Curve():
            return mark.spans.reshape(-1, 2)
        case Circle():
            return np.stack([mark.centre - mark.radius, mark.centre + mark.radius])
        case Label():
            return mark.box


def moved(mark: Mark, shift: Reals) -> Mark:
    """The mark shifted by (2,) mm."""
    match mark:
        case Line():
            return replace(mark, points=mark.points + shift)
        case Curve():
            return replace(mark, spans=mark.spans + shift)
        case Circle():
            return replace(mark, centre=mark.centre + shift)
        case Label():
            return replace(mark, at=mark.at + shift)


def laid(mark: Mark, turn: complex, shift: complex) -> Mark:
    """The mark turned and shifted as points taken as complex numbers are by `turn` and `shift`."""

    def there(points: Reals) -> Reals:
        z = (points[..., 0] + 1j * points[..., 1]) * turn + shift
        return np.stack([z.real, z.imag], axis=-1)

    match mark:
        case Line():
            return replace(mark, points=there(mark.points))
        case Curve():
            return replace(mark, spans=there(mark.spans))
        case Circle():
            return replace(mark, centre=there(mark.centre))
        case Label():
            return replace(mark, at=there(mark.at), angle=mark.angle + float(np.degrees(np.angle(turn))))


def by_layer(marks: Iterable[Mark]) -> dict[Layer, list[Mark]]:
    """Marks gathered by layer, in the order in which the layers are drawn; layers without marks are left out."""
    found: dict[Layer, list[Mark]] = {layer: [] for layer in STYLES}
    for mark in marks:
        found[mark.layer].append(mark)
    return {layer: held for layer, held in found.items() if held}
