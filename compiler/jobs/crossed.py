"""Lines of neighbouring sizes that cross where those of the others do not: a size is out of the run, though all that must hold of
it alone may hold."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from statistics import median

from ..bodies.units import Unit
from ..diagnostics import grading_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..finish.finished import FinishedPiece
from ..grading.laying import SizesLaid
from ..grading.lines import crossings
from .numbers import in_unit
from .prepare import Prepared

TOLD = 3.0
"""Lines that cross by so much more (mm) than those of half of the steps are told where sizes are proved or drawn: ours. Evenly
they cross wherever a level falls while girths grow, as an underarm does."""


def crossed(prepared: Prepared, piece: str, sizes: Mapping[str, FinishedPiece], lie: SizesLaid, unit: Unit) -> Diagnostic | None:
    """A warning for a piece whose lines cross so, with its edges and the steps of the chart."""
    style, say, steps = prepared.style, in_unit(unit), _steps(sizes, lie)
    assert style is not None
    if not steps:
        return None
    span = style.definitions.get(piece, style.origins[style.pieces[piece]].sentence)
    told = {edge: [(step, say(by)) for step, by in some.items()] for edge, (some, _) in steps.items()}
    others = {edge: say(most) for edge, (_, most) in steps.items()}
    return words.sizes_cross(span, piece, told, others, max(by for some, _ in steps.values() for by in some.values()))


def _steps(sizes: Mapping[str, FinishedPiece], lie: SizesLaid) -> Mapping[str, tuple[Mapping[str, float], float]]:
    """By edge and step, as `84-88`, by how much the lines cross (mm), where that is told, and by how much they do at most in the
    other steps."""
    names = [f"{one}-{other}" for one, other in pairwise(sizes)]
    found: dict[str, dict[str, float]] = {}
    for one in crossings(sizes, lie):
        row = found.setdefault(one.edge, dict.fromkeys(names, 0.0))
        step = f"{one.size_from}-{one.size_to}"
        row[step] = max(row[step], one.by_mm)
    told = {edge: {step: by for step, by in row.items() if by > median(row.values()) + TOLD} for edge, row in found.items()}
    rest = {edge: max(by for step, by in row.items() if step not in told[edge]) for edge, row in found.items()}
    return {edge: (some, rest[edge]) for edge, some in told.items() if some}
