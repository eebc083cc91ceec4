"""Fullness: a piece slashed along lines and spread."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ..pattern.piece import OperationNote, Piece, Reals, Trouble
from ..pattern.slash import SlashLine, Widths, hinged, opened_lengths, slash
from .kinds import PieceKind, piece
from .registry import verb, word
from .slash_lines import cuts_on_subject, must_be_graded, placed, sketched
from .values import Cuts, listed


def _slash_names(static: Mapping[str, Any]) -> PieceKind:
    sketch, cuts = static["subject"].sketch, cuts_on_subject(static)
    if "hinged_at" in static and listed(static, "far_by"):
        raise Trouble("a hinged cut has one opening", "take `hinged_at` or `far_by` away")
    must_be_graded(static, "open_each_by", "far_by")
    apexes = [far for _, far, to_apex, _ in cuts.lines if to_apex]
    if apexes and set(apexes) != {static.get("hinged_at")}:
        raise Trouble("a cut to an apex is hinged there", f"write `hinged_at {apexes[0]}`")
    drawn = sketched(cuts)
    openings = _openings(drawn, [np.ones(1)] * cuts.count, None, static.get("hinged_at"))
    return piece(slash(sketch, drawn, openings, still=static.get("keeping"), bridge=static["gaps_drawn"]).piece)


def _openings(
    cuts: Sequence[SlashLine], widths: Sequence[Reals], far: Sequence[Reals] | None, hinge: str | None
) -> list[Widths]:
    """The openings of each cut at its start and at its end: hinged, or as wide at both ends where no other is said."""
    if hinge is not None:
        return hinged(cuts, hinge, widths)
    return list(zip(widths, widths if far is None else far, strict=True))


def _graded(widths: Sequence[Reals], count: int) -> list[Reals]:
    """A width (L,) for each cut, from the first to the last in equal steps. Trouble where one is below nothing."""
    first, stop = widths[0], widths[-1]
    negative = (first < 0) | (stop < 0)
    if negative.any():
        figures = {"first": first, "last": stop}
        raise Trouble("a cut cannot open by less than nothing", "open it by a length from 0", negative, figures)
    return [first + (stop - first) * (k / max(count - 1, 1)) for k in range(count)]


@verb(
    "slash",
    family="fullness",
    doc="Slash a piece along lines and spread it: hinged on an edge, parallel, or by two amounts at the two ends; every cut "
    "alike, or graded from the first to the last. Each edge that opens is reported with its length before and after. The edge "
    "it is hinged on keeps its length and breaks at every cut: `smooth` draws it anew.",
    gives=_slash_names,
    subject=word("piece", "piece", "the piece"),
    words=(
        word("along", "cuts", "the slash lines"),
        word(
            "open_each_by",
            "several length",
            "how far each cut opens: at the edge it starts on, or across its whole length; of two, the first and the last",
        ),
        word(
            "far_by", "several length", "how far it opens at the other edge, where that differs; of two likewise", optional=True
        ),
        word("hinged_at", "own mark", "the edge that stays closed, or the dart at whose apex the cut ends", optional=True),
        word("keeping", "own edge", "an edge of the panel that stays where it is", optional=True),
        word(
            "gaps_drawn",
            "one of straight smooth",
            "how the edge is drawn over the gaps: straight, or trued to one smooth line",
            default="straight",
        ),
    ),
    example="shape full = slash plain along cuts open_each_by 3 cm hinged_at side",
)
def slash_piece(
    subject: Piece, along: Cuts, gaps_drawn: Any, hinged_at: str | None = None, keeping: str | None = None, **widths: Reals
) -> Piece:
    lines = placed(subject, along)
    near, far = listed(widths, "open_each_by"), listed(widths, "far_by")
    openings = _openings(
        lines, _graded(near, along.count), _graded(far, along.count) if far else None, hinged_at
    )
    made = slash(subject, lines, openings, still=keeping, bridge=gaps_drawn)
    grown = [
        OperationNote("slashed and spread", edge, {"before": before, "after": after}, {"ratio": after / before})
        for edge, before, after in opened_lengths(subject, made.piece, lines)
    ]
    trued = [OperationNote("trued smooth", edge, {"moved at most": moved}) for edge, moved in made.moved.items()]
    return made.piece.with_note(*grown, *trued)
