"""The families of verbs; importing this enters them all."""

from . import (
    darts,
    facing,
    finishing,
    fullness,
    lines,
    measuring,
    outlines,
    pieces,
    pleating,
    points,
    sewing,
    specification,
)

__all__ = [
    "darts",
    "facing",
    "finishing",
    "fullness",
    "lines",
    "measuring",
    "outlines",
    "pieces",
    "pleating",
    "points",
    "sewing",
    "specification",
]
