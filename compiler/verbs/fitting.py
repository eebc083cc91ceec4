"""Fit: what a block promises of the body at a level or along a length, and what the finished garment comes to there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

import numpy as np

from ..pattern.levels import level_length
from ..pattern.piece import Piece, Reals, Trouble
from .attached import Fit
from .kinds import AttachedKind, Kind
from .registry import verb, word

Round = Literal["body", "arm", "leg"]

DRAFTED, CUT = "drafted", "cut"
"""What the checker calls the pieces a promise is measured on: those a block gives, and those of the style that come from them."""


def _promised(static: Mapping[str, Any]) -> Kind:
    if ("over" in static) != ("under" in static):
        lone, other = ("over", "under") if "over" in static else ("under", "over")
        raise Trouble(f"`{lone}` is written without `{other}`", f"add `{other}` and its length: a tolerance each way")
    if "within" in static and "over" in static:
        raise Trouble("the tolerance is said twice", "write `within`, or `over` and `under`")
    if "measures" in static and static["round"] != "body":
        raise Trouble("a length is not measured round anything", "take `round` away, or write `level` in place of `measures`")
    return AttachedKind("fit")


@verb(
    "fit",
    family="specification",
    doc="What the garment promises of the body: its girth at a level, darts and pleats as sewn and all pieces together, or a "
    "length of the draft, with the ease it gives there. In a block it holds of the block's own pieces, and of the finished "
    "pieces of every style that come from them, which may have more; a garment smaller than the body is told.",
    gives=_promised,
    words=(
        word("level", "level", "the level the girth is measured along", optional=True),
        word("measures", "length", "the length that is compared, where it is no girth", optional=True),
        word("round", "one of body arm leg", "what is measured round; of arms and legs one", default="body"),
        word("body", "length", "what the body measures there"),
        word("ease", "length", "what the garment has more than the body", default="0 mm"),
        word("within", "length", "by how much that may be off; at least so much where nothing is said", optional=True),
        word("over", "length", "by how much it may be over, where that differs from under", optional=True),
        word("under", "length", "by how much it may be under", optional=True),
    ),
    either=(("level", "measures"),),
    example="fit at_waist level waist body natural_waist_girth ease 10 cm within 1 cm\n"
    "piece fitted = draft {\n    cut 2 as pair\n    mark waistline called waist as level from centre to side\n}",
)
def fit(
    body: Reals | None,
    ease: Reals,
    round: Round,
    level: str | None = None,
    measures: Reals | None = None,
    within: Reals | None = None,
    over: Reals | None = None,
    under: Reals | None = None,
    **pieces: Piece,
) -> Fit:
    drafted = measures
    cut: Reals | None = None
    if level is not None:
        ours, theirs = ([one for name, one in pieces.items() if name.startswith(kind)] for kind in (DRAFTED, CUT))
        drafted = _girth(ours, level, 2.0 if round == "body" else 1.0) if ours else None
        cut = _garment(theirs, level, round)
    most, least = (within, within) if within is not None else (over, under)
    return Fit(body, ease, most, np.zeros(1) if least is None else least, drafted, cut)


def _girth(pieces: Sequence[Piece], level: str, copies: float) -> Reals:
    return np.asarray(sum((level_length(one, level) * copies for one in pieces), np.zeros(1)))


def _garment(pieces: Sequence[Piece], level: str, round: Round) -> Reals | None:
    """The girth (L,) mm of the cut pieces at a level: round the body each as often as it is cut, twice on the fold; round an arm
    or a leg once. None where no piece is there, or on no body."""
    found = [(one, level_length(one, level)) for one in pieces]
    there = [(one, long) for one, long in found if (long > 0.0).any()]
    if not there:
        return None
    return np.asarray(sum((long * (_copies(one) if round == "body" else 1.0) for one, long in there), np.zeros(1)))


def _copies(piece: Piece) -> float:
    count = piece.finish.cuts[0].count if piece.finish.cuts else 1
    return count * (1.0 if piece.fold is None else 2.0)


def given_ease(value: Fit) -> Reals:
    """What the garment has more than the body (L,) mm, at its smallest. Trouble where the body was not measured there."""
    if value.body is None:
        raise Trouble("the body was not measured there", "measure it: `godet measures` says how")
    return value.garment - value.body


def garment(value: Fit) -> Reals:
    """What the garment measures (L,) mm."""
    return value.garment
