"""Fullness: a piece slashed along lines and spread."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ..pattern.piece import Piece, Reals, Told, Trouble
from ..pattern.slash import Cut, Widths, hinged, opened_lengths, slash
from .kinds import PieceKind, piece
from .registry import verb, word
from .slash_lines import cuts_on_subject, must_be_numbered, placed, sketched
from .values import Cuts


def _slash_names(static: Mapping[str, Any]) -> PieceKind:
    sketch, cuts = static["subject"].sketch, cuts_on_subject(static)
    if "hinge" in static and ("far_spread" in static or "last_far_spread" in static):
        raise Trouble("a hinged cut has one opening", "take `hinge` or `far_spread` away")
    if "last_far_spread" in static and "far_spread" not in static:
        raise Trouble("how far the first cut opens at the other edge is not said", "write `far_spread` too")
    must_be_numbered(static, "last_spread", "last_far_spread")
    apexes = [far for _, far, to_apex, _ in cuts.lines if to_apex]
    if apexes and set(apexes) != {static.get("hinge")}:
        raise Trouble("a cut to an apex is hinged there", f"write `hinge {apexes[0]}`")
    drawn = sketched(cuts)
    openings = _openings(drawn, [np.ones(1)] * cuts.count, None, static.get("hinge"))
    return piece(slash(sketch, drawn, openings, still=static.get("still"), bridge=static["bridge"]).piece)


def _openings(
    cuts: Sequence[Cut], widths: Sequence[Reals], far: Sequence[Reals] | None, hinge: str | None
) -> list[Widths]:
    """The openings of each cut at its start and at its end: hinged, or as wide at both ends where no other is said."""
    if hinge is not None:
        return hinged(cuts, hinge, widths)
    return list(zip(widths, widths if far is None else far, strict=True))


def _graded(first: Reals, last: Reals | None, count: int) -> list[Reals]:
    """A width (L,) for each cut, from the first to the last in equal steps. Trouble where one is below nothing."""
    stop = first if last is None else last
    negative = (first < 0) | (stop < 0)
    if negative.any():
        figures = {"first": first, "last": stop}
        raise Trouble("a cut cannot open by less than nothing", "spread by a length from 0", negative, figures)
    return [first + (stop - first) * (k / max(count - 1, 1)) for k in range(count)]


@verb(
    "slash",
    family="fullness",
    doc="Slash a piece along lines and spread it: hinged on an edge, parallel, or by two amounts at the two ends; every cut "
    "alike, or graded from the first to the last. Each edge that opens is reported with its length before and after. The edge "
    "it is hinged on keeps its length and breaks at every cut: `trued` draws it smooth.",
    gives=_slash_names,
    subject=word("piece", "piece", "the piece"),
    words=(
        word("along", "cuts", "the slash lines"),
        word("spread", "length", "how far each cut opens: at the edge it starts on, or across its whole length"),
        word("last_spread", "length", "how far the last cut opens, where the cuts open more and more, or less", optional=True),
        word("far_spread", "length", "how far it opens at the other edge, where that differs", optional=True),
        word("last_far_spread", "length", "how far the last cut opens there, where that differs", optional=True),
        word("hinge", "own mark", "the edge that stays closed, or the dart at whose apex the cut ends", optional=True),
        word("still", "own edge", "an edge of the panel that stays where it is", optional=True),
        word(
            "bridge",
            "one of straight smooth",
            "how gaps are bridged: straight, or trued to one smooth line",
            default="straight",
        ),
    ),
    example="shape full = slash plain along cuts spread 3 cm hinge side",
)
def slash_piece(
    subject: Piece,
    along: Cuts,
    spread: Reals,
    bridge: Any,
    last_spread: Reals | None = None,
    far_spread: Reals | None = None,
    last_far_spread: Reals | None = None,
    hinge: str | None = None,
    still: str | None = None,
) -> Piece:
    drawn = placed(subject, along)
    widths = _graded(spread, last_spread, along.count)
    far = None if far_spread is None else _graded(far_spread, last_far_spread, along.count)
    made = slash(subject, drawn, _openings(drawn, widths, far, hinge), still=still, bridge=bridge)
    grown = [
        Told("slashed and spread", edge, {"before": before, "after": after}, {"ratio": after / before})
        for edge, before, after in opened_lengths(subject, made.piece, drawn)
    ]
    trued = [Told("trued smooth", edge, {"moved at most": moved}) for edge, moved in made.moved.items()]
    return made.piece.telling(*grown, *trued)
