"""Units of body files: reading inches and fractions, and writing a value back as a cutter would."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

Unit = Literal["cm", "mm", "in"]

MM_PER: dict[Unit, float] = {"cm": 10.0, "mm": 1.0, "in": 25.4}

# A tape in inches is marked in eighths or sixteenths; thirty-seconds is the finest rule in use.
FINEST_INCH = 32
SIXTEENTHS = 16  # what a workroom writes
_AS_WRITTEN = 1e-6  # of a thirty-second: through mm and back, and not by chance
_INCHES = re.compile(r"(?:(\d{1,3})(?: +|$))?(?:(\d{1,2})/(\d{1,2}))?")
_LOOSE_INCHES = re.compile(
    r"\s*(\d{1,3})?(?:[\s\-+]|and)*(?:(\d{1,2})\s*/\s*(\d{1,2}))?\s*(?:in|inch|inches|\"|'')?\.?\s*"
)


def parse_inches(text: str) -> float | None:
    """Inches of `36`, `36 1/2` or `5/8` (proper fractions, halves to thirty-seconds), or None if not written so."""
    match = _INCHES.fullmatch(text.strip())
    return None if match is None else _inches(match)


def inches_meant(text: str) -> str | None:
    """What a badly written number of inches (`36-1/2`, `36 1/2"`) should have been, or None if that is not clear."""
    match = _LOOSE_INCHES.fullmatch(text)
    value = None if match is None else _inches(match)
    return None if value is None else inches_text(value)


def _inches(match: re.Match[str]) -> float | None:
    whole, top, bottom = match.groups()
    if whole is None and top is None:
        return None
    value = float(whole or 0)
    if top is None:
        return value
    over, under = int(top), int(bottom)
    if under not in (2, 4, 8, 16, FINEST_INCH) or not 0 < over < under:
        return None
    return value + over / under


def inches_text(value: float) -> str:
    """`36 1/2` for 36.5, to the nearest sixteenth; a thirty-second that was written in a body file stays."""
    finest = FINEST_INCH if abs(value * FINEST_INCH - round(value * FINEST_INCH)) < _AS_WRITTEN else SIXTEENTHS
    whole, rest = divmod(abs(round(value * finest)), finest)
    sign = "-" if round(value * finest) < 0 else ""
    if rest == 0:
        return f"{sign}{whole}"
    fraction = Fraction(rest, finest)
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def shown(value: float, kind: str, unit: Unit) -> str:
    """A value in mm, degrees, kg or years as text: lengths in the unit of the body's file."""
    if kind == "angle":
        return f"{plain(value, 1)} deg"
    if kind == "mass":
        return f"{plain(value, 1)} kg"
    if kind == "years":
        return f"{plain(value, 1)} years"
    if unit == "in":
        return f"{inches_text(value / MM_PER['in'])} in"
    return f"{plain(value / MM_PER[unit], 1 if unit == 'cm' else 0)} {unit}"


def plain(value: float, places: int) -> str:
    """A number with at most so many decimals, without trailing zeros and without a negative nought."""
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
