"""Pleats and tucks along slash lines."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.pleats import Pleating, pleat
from .kinds import PieceKind, piece
from .registry import verb, word
from .slash_lines import cuts_on_subject, placed, sketched
from .values import Cuts


def _pleat_names(static: Mapping[str, Any]) -> PieceKind:
    sketch, cuts = static["subject"].sketch, cuts_on_subject(static)
    how = Pleating(
        static["kind"],
        (None, None),
        static.get("toward"),
        static.get("called", "pleat"),
        static.get("free"),
        "sewn" in static or static["kind"] == "tuck",
    )
    return piece(pleat(sketch, sketched(cuts), how, still=static.get("still")))


@verb(
    "pleat",
    family="fullness",
    doc="Lay pleats or tucks along slash lines: cloth is put in, folded away again where the edge is sewn. "
    "Inner lines `pleat_k1.fold`, `pleat_k1.inner_fold`, `pleat_k1.placement` (of the second fold `far_fold` and so on).",
    gives=_pleat_names,
    subject=word("piece", "piece", "the piece as it looks when the pleats lie folded"),
    words=(
        word("along", "cuts", "the lines the pleats stand on"),
        word("depth", "length", "how deep each fold is: it takes twice as much; box and inverted pleats have two folds"),
        word("far_depth", "length", "its depth at the other end of the line, where that differs", optional=True),
        word(
            "kind",
            "one of knife box inverted accordion tuck",
            "laid to one side; two folds apart; two folds that meet; standing; or sewn down",
        ),
        word("toward", "own edge", "the edge the folds of knife pleats and tucks point to", optional=True),
        word("called", "new name", "what the pleats are called, where it is not `pleat`", optional=True),
        word("free", "own edge", "the edge at which they hang free: its length is that of the cloth", optional=True),
        word("sewn", "length", "how far down from the first edge they are sewn; a tuck all the way", optional=True),
        word("still", "own edge", "an edge of the panel that stays where it is", optional=True),
    ),
    example="lines folds = slash_lines band.upper to band.lower count 3\n"
    "piece pleated = pleat band along folds depth 1.5 cm kind knife toward end free lower",
)
def pleat_piece(
    subject: Piece,
    along: Cuts,
    depth: Reals,
    kind: Any,
    far_depth: Reals | None = None,
    toward: str | None = None,
    called: str = "pleat",
    free: str | None = None,
    sewn: Reals | None = None,
    still: str | None = None,
) -> Piece:
    far = depth if far_depth is None else far_depth
    negative = (depth < 0) | (far < 0) | (np.maximum(depth, far) <= COINCIDE)
    if negative.any():
        raise Trouble("a pleat needs a depth above nothing", "give it a depth", negative, {"depth": depth})
    how = Pleating(kind, (depth, far), toward, called, free, sewn is not None or kind == "tuck", sewn)
    return pleat(subject, placed(subject, along), how, still=still)
