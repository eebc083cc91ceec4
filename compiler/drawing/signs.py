"""The trade's signs: arrows, the bracket of a fold, drill holes, the wave of a gather."""

from __future__ import annotations

import math

import numpy as np

from .lettering import text_width
from .marks import Circle, Label, Layer, Line, Mark, Reals

HEAD = 6.0
"""Length of an arrow head, mm; a third as wide."""

BRACKET = 12.0
"""Depth of the bracket of a fold, mm."""

WAVE_LENGTH = 6.0
WAVE_HEIGHT = 1.3
WAVE_INSIDE = 4.0
"""How far inside the sewing line the wave of a gather runs, mm."""

HOLE = 1.5
"""Radius of a drill hole and of the circle at a dart's apex, mm."""


CROSS = 2.5
"""Half the length of the strokes that cross where an opening ends, mm."""

TICK = 2.0
"""Half the length of the tick across a level of the body, and how far inside the seam it stands, mm."""

BUTTON = 4.0
"""Radius of the sign of a button, mm."""

BAR = 4.0
"""Length of the bars across the ends of a buttonhole, mm."""


def across(way: Reals) -> Reals:
    """Directions turned a quarter to the left: into the cloth."""
    return np.stack([-way[..., 1], way[..., 0]], axis=-1)


def readable(way: Reals) -> float:
    """The angle in degrees, over -90 up to 90, of text that runs along `way` without standing on its head."""
    angle = float(np.degrees(np.arctan2(way[1], way[0])))
    return angle - 180.0 * math.ceil((angle - 90.0 - 1e-6) / 180.0)


def centred(text: str, middle: Reals, height: float, angle: float, source: str = "", boxed: bool = False) -> Label:
    """The text with its middle, half the height of a capital above the base line, at `middle` (2,)."""
    turn = np.radians(angle)
    right = np.array([np.cos(turn), np.sin(turn)])
    at = middle - right * text_width(text, height) / 2 - across(right) * height / 2
    return Label(text, at, height, angle, source, boxed)


def arrow(layer: Layer, tail: Reals, tip: Reals, both: bool = False, source: str = "", head: float = HEAD) -> list[Mark]:
    """A line with a filled head, `head` mm long, at its tip, and at its tail too where `both`. The line stops inside the head."""
    way = (tip - tail) / np.linalg.norm(tip - tail)
    back = head / 2 * way
    stem = np.stack([tail + back if both else tail, tip - back])
    marks: list[Mark] = [Line(layer, stem, solid=True, source=source)]
    for end, ahead in [(tip, way), (tail, -way)][: 2 if both else 1]:
        wing = across(ahead) * head / 6
        points = np.stack([end, end - head * ahead + wing, end - head * ahead - wing])
        marks.append(Line(layer, points, closed=True, filled=True, source=source))
    return marks


def bracket_ends(start: Reals, end: Reals) -> Reals:
    """Corners (4, 2) of the bracket inside a fold from start to end (2,): both ends on the fold, then those inside."""
    reach, inward = 0.15 * (end - start), BRACKET * across((end - start) / np.linalg.norm(end - start))
    a, b = start + reach, end - reach
    return np.stack([a, b, b + inward, a + inward])


def fold_bracket(start: Reals, end: Reals, source: str) -> list[Mark]:
    """The bracket inside a fold from start to end (2,): its two ends point at the fold."""
    a, b, inner_b, inner_a = bracket_ends(start, end)
    marks: list[Mark] = [Line("fold", np.stack([inner_a, inner_b]), solid=True, source=source)]
    return marks + arrow("fold", inner_a, a, source=source) + arrow("fold", inner_b, b, source=source)


def fold_words(start: Reals, end: Reals, text: str, height: float, share: float, source: str) -> Label:
    """Words inside the bracket, their middle at a share of the fold's length."""
    way = (end - start) / np.linalg.norm(end - start)
    return centred(text, start + share * (end - start) + across(way) * BRACKET / 2, height, readable(way), source)


def drill_hole(centre: Reals, source: str) -> list[Mark]:
    """A circle of 3 mm with a cross through it."""
    arm = np.array([HOLE + 1.0, 0.0])
    cross = [Line("dart", np.stack([centre - v, centre + v]), source=source) for v in (arm, arm[::-1])]
    return [Circle("dart", centre, HOLE, source), *cross]


def button(centre: Reals, source: str) -> list[Mark]:
    """The place of a button: a circle of 8 mm with a cross in it, lying aslant so that it is no drill hole."""
    arms = [np.array([BUTTON, BUTTON]) * 0.5, np.array([BUTTON, -BUTTON]) * 0.5]
    cross = [Line("inner", np.stack([centre - arm, centre + arm]), source=source) for arm in arms]
    return [Circle("inner", centre, BUTTON, source), *cross]


def buttonhole(start: Reals, end: Reals, source: str) -> list[Mark]:
    """A bar as long as the buttonhole, with a short bar across each end."""
    arm = across((end - start) / np.linalg.norm(end - start)) * BAR / 2
    ends = [Line("inner", np.stack([tip - arm, tip + arm]), source=source) for tip in (start, end)]
    return [Line("inner", np.stack([start, end]), source=source), *ends]


def gather_wave(points: Reals, source: str) -> list[Mark]:
    """A wave inside the run of points (n, 2) of a sewing line, from end to end."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    marks = np.concatenate([[0.0], np.cumsum(steps)])
    total = float(marks[-1])
    waves = max(1, round((total - WAVE_LENGTH) / WAVE_LENGTH))
    if total < 2 * WAVE_LENGTH:
        return []
    s = np.linspace(WAVE_LENGTH / 2, total - WAVE_LENGTH / 2, 8 * waves + 1)
    at = _along(points, marks, s)
    way = _along(points, marks, s + 0.1) - _along(points, marks, s - 0.1)
    inward = across(way / np.linalg.norm(way, axis=1)[:, None])
    depth = WAVE_INSIDE + WAVE_HEIGHT * np.sin(2 * np.pi * np.arange(s.size) / 8)
    return [Line("gather", at + depth[:, None] * inward, source=source)]


def _along(points: Reals, marks: Reals, s: Reals) -> Reals:
    return np.stack([np.interp(s, marks, points[:, axis]) for axis in (0, 1)], axis=1)


def ending(at: Reals, source: str) -> list[Mark]:
    """Two crossed strokes on a seam, where an opening in it ends."""
    arms = [np.array([CROSS, CROSS]), np.array([CROSS, -CROSS])]
    return [Line("notch", np.stack([at - arm, at + arm]), source=source) for arm in arms]


def landmark(at: Reals, source: str) -> list[Mark]:
    """A small upright cross, drawn lightly."""
    arms = [np.array([TICK, 0.0]), np.array([0.0, TICK])]
    return [Line("level", np.stack([at - arm, at + arm]), solid=True, source=source) for arm in arms]
