"""Notches in words: where each stands on its edge, in how many strokes, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from ..bodies.units import Unit
from ..geometry.length import length
from ..output.summary import counted
from ..pattern.piece import Notch, Piece, Why
from ..pattern.ring import edge_run
from .numbers import quantity
from .results import BodyResult

REASONS: Mapping[Why, str] = {
    "half": "half of seam {}",
    "quarter": "a quarter of seam {}",
    "answer": "seam {}, where one is stated on the other side",
    "dart": "seam {}, opposite a dart",
    "joint": "seam {}, where edges of the other side are joined or turn a corner",
    "unseen": "seam {}, where nothing else is seen of an edge's end",
}


def notches_told(result: BodyResult, name: str, edge: str, *, seam: str = "") -> list[str]:
    """The notches of an edge of a finished piece, or of one seam on it, in order; none where the edge is on none that is cut."""
    found = next((one for one in result.pieces if one.name == name), None)
    if found is None or not found.piece.run(edge):
        return []
    piece = found.alone().piece
    told = [(at, told) for at, notch, told in _along(piece, edge, result.unit) if not seam or notch.stated or notch.seam == seam]
    return [words for _, words in sorted(told)]


def of_seam(result: BodyResult, name: str) -> list[tuple[str, str]]:
    """Each notch of a seam, with the edge it is on as `piece.edge`."""
    seam = next((one for one in result.seams if one.name == name), None)
    places: Sequence[str] = () if seam is None else tuple(dict.fromkeys((*seam.left, *seam.right)))
    parted = [(place, *place.split(".", 1)) for place in places]
    return [(place, told) for place, piece, edge in parted for told in notches_told(result, piece, edge, seam=name)]


def _along(piece: Piece, edge: str, unit: Unit) -> Iterator[tuple[float, Notch, str]]:
    numbers = [i % len(piece.ring) for i in edge_run(piece, edge)]
    before, ends = 0.0, {}
    for i in numbers:
        ends[i] = before
        before += float(length(piece.ring[i].drawn)[0])
    first, last = (piece.ring[i % len(piece.ring)].edge for i in (numbers[0] - 1, numbers[-1] + 1))
    for notch in (one for one in piece.notches if one.side in ends):
        at = ends[notch.side] + float(np.asarray(notch.at)[0])
        near = f"{quantity(at, 'length', unit)} from {first}" if at <= before / 2 else ""
        place = near or f"{quantity(before - at, 'length', unit)} from {last}"
        strokes = "" if notch.strokes == 1 else f", {counted(notch.strokes, 'stroke')}"
        yield at, notch, f"{place}{strokes}: {_why(notch)}"


def _why(notch: Notch) -> str:
    if notch.why is not None:
        return REASONS[notch.why].format(notch.seam)
    return f"stated, called {notch.name}" if notch.name else "stated" if notch.stated else "of what is folded or slit there"
