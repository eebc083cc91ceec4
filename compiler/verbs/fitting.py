"""Fit: what a block promises of the body at a level or along a length, and what the finished garment comes to there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

import numpy as np

from ..geometry.lanes import agree
from ..pattern.covers import OF_LEGS
from ..pattern.levels import cut_away, level_length
from ..pattern.piece import Piece, Reals, Trouble
from .attached import Fit
from .kinds import AttachedKind, Kind
from .registry import verb, word
from .values import listed

Round = Literal["body", "arm", "leg"]

SHELL = "shell"
"""The cloth a garment is made of, where a piece says nothing else."""

LEAST = 1.0
"""Less cloth than this (mm) at a level is none: what is left of a level that was cut away."""

DRAFTED, CUT = "drafted", "cut"
"""What the checker calls the pieces a promise is measured on: those a block gives, and those of the style that come from them."""


def _promised(static: Mapping[str, Any]) -> Kind:
    over, under = "over_by_at_most", "under_by_at_most"
    if (over in static) != (under in static):
        lone, other = (over, under) if over in static else (under, over)
        raise Trouble(f"`{lone}` is written without `{other}`", f"add `{other}` and its length: a tolerance each way")
    if "tolerance" in static and over in static:
        raise Trouble("the tolerance is said twice", f"write `tolerance`, or `{over}` and `{under}`")
    if "measures" in static and static["round"] != "body":
        raise Trouble("a length is not measured round anything", "take `round` away, or write `at_level` in place of `measures`")
    return AttachedKind("fit")


@verb(
    "fit",
    family="specification",
    doc="What the garment promises of the body: its girth at a level, darts and pleats as sewn and all pieces together, or a "
    "length, with the ease it gives there. In a block a girth holds of the block's own pieces, and of the finished pieces of "
    "every style that come from them, which may have more; a garment smaller than the body is told. What is cut in another "
    "cloth than the shell counts where no piece in this covers the same part of the body: else it is a lining. A length holds "
    "of the draft; what a style makes of it is told beside it, where its pieces still carry the edges.",
    gives=_promised,
    words=(
        word("at_level", "level", "the level the girth is measured along; left out, that of its own name", optional=True),
        word("measures", "length", "the length that is compared, where it is no girth", optional=True),
        word("round", "one of body arm leg", "what is measured round; of arms and legs one", default="body"),
        word("over", "length", "what the body measures there"),
        word("ease", "length", "what the garment has more than the body", default="0 mm"),
        word("tolerance", "length", "by how much that may be off; at least so much where nothing is said", optional=True),
        word("over_by_at_most", "length", "by how much it may be over, where that differs", optional=True),
        word("under_by_at_most", "length", "by how much it may be under", optional=True),
    ),
    either=(("at_level", "measures"),),
    example="fit at_waist at_level waist over natural_waist_girth ease 10 cm tolerance 1 cm\n"
    "piece fitted = draft {\n    cut 2 as pair\n    mark_level waist along waistline meeting centre, side\n}",
)
def fit(
    over: Reals | None,
    ease: Reals,
    round: Round,
    at_level: str | None = None,
    measures: Reals | None = None,
    tolerance: Reals | None = None,
    over_by_at_most: Reals | None = None,
    under_by_at_most: Reals | None = None,
    followed: Reals | None = None,
    **pieces: Piece,
) -> Fit:
    drafted, cut = measures, _carried(followed)
    if at_level is not None:
        ours, theirs = listed(pieces, DRAFTED), listed(pieces, CUT)
        drafted = _girth(ours, at_level, [halves(one, at_level) if round == "body" else 1.0 for one in ours])
        shown = outer(theirs)
        cut = _girth(shown, at_level, [copies(one, at_level) if round == "body" else 1.0 for one in shown])
    most, least = (tolerance, tolerance) if tolerance is not None else (over_by_at_most, under_by_at_most)
    return Fit(over, ease, most, np.zeros(1) if least is None else least, drafted, cut)


def _carried(length: Reals | None) -> Reals | None:
    """A length (L,) as it was followed to the pieces that are cut; None where nothing of it is left. Raises Disagreement."""
    return length if length is None or agree((length > LEAST).astype(np.int64)) else None


def _girth(pieces: Sequence[Piece], level: str, copies: Sequence[float]) -> Reals | None:
    """The girth (L,) mm at a level of pieces, each so many times; None where none is there. Raises Disagreement where some
    bodies have cloth at the level and others have none."""
    found = [level_length(one, level) + opened(one, level) for one in pieces]
    if not found:
        return None
    total: Reals = np.asarray(sum((long * many for long, many in zip(found, copies, strict=True)), np.zeros(1)))
    return total if agree((total > LEAST).astype(np.int64)) else None


def opened(piece: Piece, level: str) -> Reals:
    """How much (L,) mm of a level edges of a piece cut away that are meant to."""
    away = cut_away(piece, level) if piece.finish.opens else {}
    return np.asarray(sum((off for edge, off in away.items() if edge in piece.finish.opens), np.zeros(1)))


def halves(piece: Piece, level: str) -> float:
    """How often a piece of a block goes round the body at a level: a half, or one leg, twice, a whole piece once."""
    half = _goes_over_fold(piece, level) or piece.worn is not None or piece.covers in OF_LEGS
    return 2.0 if half else 1.0


def outer_cloth(cloths: Sequence[Sequence[str]]) -> str:
    """Of the cloths pieces are cut in, that which is worn outside: the shell, or where nothing is cut in it, the first."""
    return next((SHELL for names in cloths if SHELL in names), next((names[0] for names in cloths if names), SHELL))


def worn_outside(pieces: Sequence[Piece], cloths: Sequence[Sequence[str]]) -> list[bool]:
    """Whether each of pieces, with the cloths it is cut in, is worn outside: it is cut in the outer cloth, or covers a part of
    the body that nothing in this covers, as the back of a waistcoat in satin. A lining is worn inside, not beside."""
    shell = outer_cloth(cloths)
    covered = {one.covers: shell for one, names in zip(pieces, cloths, strict=True) if shell in names}
    for one, names in zip(pieces, cloths, strict=True):
        if names and one.covers is not None and not one.inside:
            covered.setdefault(one.covers, names[0])
    return [shell in names or covered.get(one.covers) in names for one, names in zip(pieces, cloths, strict=True)]


def outer(pieces: Sequence[Piece]) -> list[Piece]:
    """Those of pieces that are worn outside."""
    shown = worn_outside(pieces, [[cut.cloth for cut in one.finish.cuts] for one in pieces])
    return [one for one, is_shown in zip(pieces, shown, strict=True) if is_shown]


def _goes_over_fold(piece: Piece, level: str) -> bool:
    """Whether a level goes on over the fold of a piece; one along a band that is folded lengthwise lies there twice, cloth on
    cloth, and goes round once."""
    if piece.fold is None:
        return False
    ends = {end for sign in piece.signs.values() if sign.kind == "level" and sign.level == level for end in sign.ends}
    return piece.worn is not None or not ends or piece.fold in ends


def copies(piece: Piece, level: str) -> float:
    """How often a cut piece goes round the body at a level: as often as it is cut, twice on the fold, a half at most twice."""
    cuts = piece.finish.cuts
    count = next((cut.count for cut in cuts if cut.cloth == SHELL), cuts[0].count if cuts else 1)
    if piece.fold is not None:
        return 2.0 * count if _goes_over_fold(piece, level) else float(count)
    return float(min(count, 2) if piece.worn is not None else count)


def given_ease(value: Fit) -> Reals:
    """What the garment has more than the body (L,) mm. Trouble where the body was not measured there."""
    if value.body is None:
        raise Trouble("the body was not measured there", "measure it: `godet measures` says how")
    return garment(value) - value.body


def garment(value: Fit) -> Reals:
    """What the garment measures (L,) mm. Trouble where no cloth of it is there."""
    if value.garment is None:
        raise Trouble("no piece of the garment lies at this level", "ask only where it covers the body")
    return value.garment
