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
from .slash_lines import cuts_on_subject, must_be_graded, placed, sketched
from .values import Cuts, listed


def _pleat_names(static: Mapping[str, Any]) -> PieceKind:
    sketch, cuts = static["subject"].sketch, cuts_on_subject(static)
    must_be_graded(static, "depth", "far_depth")
    how = Pleating(
        static["as"],
        (None, None),
        static.get("toward"),
        static.get("called", "pleat"),
        static.get("leaving_free"),
        "sewn" in static or static["as"] == "tuck",
        tapered=bool(listed(static, "far_depth")),
    )
    return piece(pleat(sketch, sketched(cuts), how, still=static.get("keeping")))


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
        word(
            "depth",
            "several length",
            "how deep each fold is: it takes twice as much; box and inverted pleats have two folds; of two lengths, that of the "
            "first and of the last",
        ),
        word("far_depth", "several length", "at the other end of the lines, where that differs; of two likewise", optional=True),
        word(
            "as",
            "one of knife box inverted accordion tuck",
            "laid to one side; two folds apart; two folds that meet; a standing zigzag; or sewn down",
        ),
        word("toward", "own edge", "the edge the folds of knife pleats and tucks point to", optional=True),
        word("called", "new name", "what the pleats are called, where it is not `pleat`", optional=True),
        word("leaving_free", "own edge", "the edge at which they hang free: its length is that of the cloth", optional=True),
        word("sewn", "length", "how far down from the first edge they are sewn; a tuck all the way", optional=True),
        word("keeping", "own edge", "an edge of the panel that stays where it is", optional=True),
    ),
    example="shape calm = leave base.back.waist_dart as ease\n"
    "lines folds = slash_lines calm.shoulder running_to calm.hem count 2 beginning_at neckline\n"
    "shape pleated = pleat calm along folds depth 2 cm as knife toward side leaving_free hem",
)
def pleat_piece(
    subject: Piece,
    along: Cuts,
    as_: Any,
    toward: str | None = None,
    called: str = "pleat",
    leaving_free: str | None = None,
    sewn: Reals | None = None,
    keeping: str | None = None,
    **depths: Reals,
) -> Piece:
    near = listed(depths, "depth")
    far = listed(depths, "far_depth") or near
    first, last = (near[0], far[0]), (near[-1], far[-1])
    for one, other in (first, last):
        negative = (one < 0) | (other < 0) | (np.maximum(one, other) <= COINCIDE)
        if negative.any():
            raise Trouble("a pleat needs a depth above nothing", "give it a depth", negative, {"depth": one})
    how = Pleating(as_, first, toward, called, leaving_free, sewn is not None or as_ == "tuck", sewn, last)
    return pleat(subject, placed(subject, along), how, still=keeping)
