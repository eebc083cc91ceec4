"""The families of verbs; importing this enters them all."""

from . import darts, finishing, fullness, lines, measuring, outlines, pieces, points, sewing

__all__ = ["darts", "finishing", "fullness", "lines", "measuring", "outlines", "pieces", "points", "sewing"]
