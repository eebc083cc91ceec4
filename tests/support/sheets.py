"""The bundled styles on the bodies that come with them: pieces and sheet of each, drawn once for all tests that look at them."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from godet.jobs.build import Plate, Wanted, plate
from godet.jobs.outcome import outcomes
from godet.jobs.results import BodyResult
from godet.pattern.piece import Piece

from .style_runs import PATTERNS, invented, prepared


@lru_cache(maxsize=64)
def on_body(style: str, body: str) -> tuple[BodyResult, dict[str, Piece]]:
    """What a style comes to on a body, both by name, and its pieces."""
    (result,), _ = outcomes(prepared(PATTERNS / f"{style}.style", [invented(body)]))
    return result, {one.name: one.piece.take(np.array([one.lane])) for one in result.pieces}


@lru_cache(maxsize=64)
def sheet_of(style: str, body: str) -> Plate:
    """The same as it is drawn."""
    made = prepared(PATTERNS / f"{style}.style", [invented(body)])
    return plate(made, on_body(style, body)[0], made.bodies[0], Wanted())
