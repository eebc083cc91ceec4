"""Pleats and tucks along slash lines."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.pleating import Pleating
from ..pattern.pleats import pleat
from .kinds import PieceKind, piece
from .registry import verb, word
from .slash_lines import cuts_on_subject, must_be_numbered, placed, sketched
from .values import Cuts


def _pleat_names(static: Mapping[str, Any]) -> PieceKind:
    sketch, cuts = static["subject"].sketch, cuts_on_subject(static)
    must_be_numbered(static, "last_depth", "last_far_depth")
    if "last_far_depth" in static and "far_depth" not in static:
        raise Trouble("how deep the first pleat is at the other end is not said", "write `far_depth` too")
    how = Pleating(
        static["kind"],
        (None, None),
        static.get("toward"),
        static.get("called", "pleat"),
        static.get("free"),
        "sewn" in static or static["kind"] == "tuck",
        tapered="far_depth" in static,
    )
    return piece(pleat(sketch, sketched(cuts), how, still=static.get("still")))


@verb(
    "pleat",
    family="fullness",
    doc="Lay pleats or tucks along slash lines: cloth is put in, folded away again where the edge is sewn. "
    "Inner lines `pleat_k1.fold`, `pleat_k1.inner_fold`, `pleat_k1.placement` (of the second fold `far_fold` and so on). "
    "Accordion pleats stand in an even zigzag: between their folds, halfway, lie counter-folds, `inner_fold` before each and "
    "`far_inner_fold` behind the last. What is folded away at an edge is `pleat_k1.underlay`, at the other end `far_underlay`.",
    gives=_pleat_names,
    subject=word("piece", "piece", "the piece as it looks when the pleats lie folded"),
    words=(
        word("along", "cuts", "the lines the pleats stand on"),
        word("depth", "length", "how deep each fold is: it takes twice as much; box and inverted pleats have two folds"),
        word("last_depth", "length", "how deep the last is, where they are deeper and deeper, or less", optional=True),
        word("far_depth", "length", "its depth at the other end of the line, where that differs", optional=True),
        word("last_far_depth", "length", "how deep the last is there, where that differs", optional=True),
        word(
            "kind",
            "one of knife box inverted accordion tuck",
            "laid to one side; two folds apart; two folds that meet; a standing zigzag; or sewn down",
        ),
        word("toward", "own edge", "the edge the folds of knife pleats and tucks point to", optional=True),
        word("called", "new name", "what the pleats are called, where it is not `pleat`", optional=True),
        word("free", "own edge", "the edge at which they hang free: its length is that of the cloth", optional=True),
        word("sewn", "length", "how far down from the first edge they are sewn; a tuck all the way", optional=True),
        word("still", "own edge", "an edge of the panel that stays where it is", optional=True),
    ),
    example="shape calm = leave base.back.waist_dart as ease\n"
    "lines folds = slash_lines calm.shoulder to calm.hem count 2 from neckline\n"
    "shape pleated = pleat calm along folds depth 2 cm kind knife toward side free hem",
)
def pleat_piece(
    subject: Piece,
    along: Cuts,
    depth: Reals,
    kind: Any,
    last_depth: Reals | None = None,
    far_depth: Reals | None = None,
    last_far_depth: Reals | None = None,
    toward: str | None = None,
    called: str = "pleat",
    free: str | None = None,
    sewn: Reals | None = None,
    still: str | None = None,
) -> Piece:
    first = (depth, depth if far_depth is None else far_depth)
    near = depth if last_depth is None else last_depth
    last = (near, near if far_depth is None else far_depth if last_far_depth is None else last_far_depth)
    for one, other in (first, last):
        negative = (one < 0) | (other < 0) | (np.maximum(one, other) <= COINCIDE)
        if negative.any():
            raise Trouble("a pleat needs a depth above nothing", "give it a depth", negative, {"depth": one})
    how = Pleating(kind, first, toward, called, free, sewn is not None or kind == "tuck", sewn, last)
    return pleat(subject, placed(subject, along), how, still=still)
