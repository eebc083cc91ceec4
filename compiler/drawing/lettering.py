"""Sizes of letters, so that a text's place is settled once for all formats.

Heights are those of capitals, as in ISO 3098-1: 2.5, 3.5, 5 and 7 mm. Widths are Helvetica's published metrics, which
reportlab carries. Writers that can set a text to a width do; room is kept for faces and viewers that do not.
"""

from __future__ import annotations

import re
from functools import lru_cache

from reportlab.pdfbase.pdfmetrics import stringWidth

FACE = "Helvetica"

CAPITAL = 0.718
"""Height of a capital as a share of the size of the type, in Helvetica's metrics."""

VERSION = "\x7f"
"""Stands in a text for the version of its style, until that is written in: no text of a style and no name of a body holds it."""

DIGITS = "0" * 8
"""As wide as any version: Helvetica's digits are of one width."""

LEADING = 1.7
"""From base line to base line, in heights of capitals."""


def type_size(height: float) -> float:
    """The size of type whose capitals are `height` high, in the same unit."""
    return height / CAPITAL


@lru_cache(maxsize=4096)
def text_width(text: str, height: float) -> float:
    """Width in mm of a text whose capitals are `height` mm high."""
    return float(stringWidth(text.replace(VERSION, DIGITS), FACE, type_size(height)))


SPARE = 1.15
"""How much wider common sans-serif faces run than Helvetica at the most, where a viewer has not got that."""


KEPT = "\u00a0"  # stands for a space at which a line is not broken

_MEASURE = re.compile(r"\d[\d.]*( \d+/\d+)? (cm|mm|in)\b")


def _kept(found: re.Match[str]) -> str:
    return found.group().replace(" ", KEPT)


def text_room(text: str, height: float) -> float:
    """Width in mm to keep free for a text, whatever face it is shown in."""
    return SPARE * text_width(text, height)


def wrapped(text: str, height: float, width: float) -> tuple[str, ...]:
    """The text broken between words into lines no wider than `width` mm; a longer word stands alone. A number is not parted
    from its fraction and its unit: `hem 1 9/16 in` in two lines reads as an inch."""
    lines: list[str] = []
    for word in (one.replace(KEPT, " ") for one in _MEASURE.sub(_kept, text).split(" ") if one):
        if lines and text_width(f"{lines[-1]} {word}", height) <= width:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return tuple(lines)
