"""The families of verbs; importing this enters them all."""

from . import (
    checks,
    darts,
    facing,
    finishing,
    fullness,
    lines,
    marking,
    measuring,
    outlines,
    pieces,
    pleating,
    points,
    sewing,
    slash_lines,
    specification,
    truing,
)

__all__ = [
    "checks",
    "darts",
    "facing",
    "finishing",
    "fullness",
    "lines",
    "marking",
    "measuring",
    "outlines",
    "pieces",
    "pleating",
    "points",
    "sewing",
    "slash_lines",
    "specification",
    "truing",
]
