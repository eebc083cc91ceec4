"""Why bodies cannot be drawn: the sentence that fails, what a solve tried, all measurements that are missing, pieces that are no
cloth."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ..bodies.units import Unit
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Step
from ..finish.judge import faults as judged
from ..finish.together import Garment
from ..graph.evaluate import Evaluated, Failure, Part
from ..graph.operations import not_measured
from ..graph.resting import needed
from ..meaning.payloads import Measure, Solve
from ..meaning.style import CheckedStyle, Origin
from ..pattern.check import faults
from ..pattern.piece import Piece
from .numbers import digits_in, quantity
from .prepare import Prepared
from .results import BodyResult
from .workspace import LIBRARY


def errors_of(style: CheckedStyle, prepared: Prepared, evaluated: Evaluated) -> dict[int, list[Diagnostic]]:
    found: dict[int, list[Diagnostic]] = {}
    for failure in evaluated.failures:
        told = [(failure.node, failure.message, failure.fix)]
        if isinstance(style.nodes[failure.node].payload, Measure):  # all that is missing at once, not one a run
            missing, of_child = _missing(style, prepared, failure.lane), prepared.bodies[failure.lane].is_child
            told = [(node, *not_measured(name, of_child)) for node, name in missing.items()] or told
        unit = prepared.bodies[failure.lane].unit
        say = digits_in(unit)
        for index, message, fix in told:
            origin, solve = style.origins[index], style.nodes[index].payload
            error = words.sentence_fails(origin.span, message, fix, failure.figures, say)
            if failure.tries and isinstance(solve, Solve):
                tries = _tries(style, solve, failure, unit)
                error = words.unsolved(origin.span, message, solve.advice or fix, solve.name, tries)
            found.setdefault(failure.lane, []).append(_where(error, origin).on(prepared.bodies[failure.lane].name))
    return found


def _where(error: Diagnostic, origin: Origin) -> Diagnostic:
    """The error with its way. One inside the library is told at the sentence of the style that uses it: that can be changed."""
    if not origin.trace or not origin.span.file.startswith(f"{LIBRARY}/"):
        return error.within(*origin.trace)
    used, *further = origin.trace
    failing = Step(origin.span, f"it fails {origin.trace[-1].text}", inside=True)
    return replace(error, span=used.span).within(*further, failing)


def _tries(style: CheckedStyle, solve: Solve, failure: Failure, unit: Unit) -> list[tuple[str, str]]:
    """What a solve tried and by how much it missed, as a cutter reads them."""
    kind, of = style.nodes[failure.node].kind.word, style.nodes[solve.left].kind.word
    ways = ("too much", "too little")

    def said(value: float, what: str) -> str:
        return quantity(value, what, unit, exact=True)

    return [(said(value, kind), f"{said(abs(over), of)} {ways[over < 0]}") for value, over in failure.tries]


def _missing(style: CheckedStyle, prepared: Prepared, lane: int) -> dict[int, str]:
    """Nodes and names of the measurements a style cannot do without that this body neither has nor lets be estimated."""
    people = prepared.population
    payloads = ((index, style.nodes[index].payload) for index in needed(style))
    asked = {index: payload.name for index, payload in payloads if isinstance(payload, Measure)}
    return {index: name for index, name in asked.items() if not any(known[lane] for known in people.value(name)[1:])}


def add_faults(
    style: CheckedStyle,
    prepared: Prepared,
    part: Part,
    pieces: Mapping[str, Piece],
    errors: dict[int, list[Diagnostic]],
) -> None:
    """Pieces that cross themselves or are no cloth are errors of their body."""
    for name, piece in pieces.items():
        span = style.definitions[name]
        for message, lanes in faults(piece):
            for at in np.flatnonzero(np.broadcast_to(lanes, part.lanes.shape)):
                lane = int(part.lanes[at])
                told = words.faulty_piece(span, name, message).on(prepared.bodies[lane].name)
                errors.setdefault(lane, []).append(told)


def cut_faults(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> list[tuple[Diagnostic, ...]]:
    """For each body of a group what is wrong with the cut lines of its pieces."""
    found: list[list[Diagnostic]] = [[] for _ in results]
    for name, cloth in garment.pieces.items():
        for message, where in judged(cloth):
            told = words.faulty_cut_line(style.definitions[name], name, message)
            for lane in np.flatnonzero(np.broadcast_to(where, (len(results),))).tolist():
                found[lane].append(told.on(results[lane].name))
    return [tuple(row) for row in found]
