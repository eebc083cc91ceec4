"""Fullness: slash lines on a piece, and the piece slashed along them and spread."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ..pattern.edges import edge_from
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.ring import End, edge_total
from ..pattern.slash import AtApex, Cut, OnEdge, evenly, hinged, parallel, slash
from .kinds import CutsKind, PieceKind, piece
from .registry import verb, word
from .values import Cuts, Edge


def _lines(static: Mapping[str, Any]) -> CutsKind:
    near, far = static["subject"], static["to"]
    if near.sketch is not far.sketch and near.sketch != far.sketch:
        raise Trouble("the slash lines run between edges of two pieces", "name two edges of the same piece")
    for one in (near, far):
        dart = one.name.partition(".")[0]
        if any(hole.name == dart for hole in one.sketch.holes):
            fix = (
                f"open it first, for example to the hem: `open … to hem`, and take the legs of `{dart}` from that piece"
            )
            raise Trouble(f"`{dart}` has two ends: its legs lie inside the piece, and no cut can start there", fix)
    count = static.get("count", 1)
    return CutsKind("lines", near.sketch, near.name, far.name, count)


@verb(
    "slash_lines",
    family="fullness",
    doc="Lines to slash along, from one edge of a piece to another: so many evenly spread, or one at a stated place.",
    gives=_lines,
    subject=word("edge", "edge", "the edge the cuts start on; it may be the leg of a dart"),
    words=(
        word("to", "edge", "the edge they run to"),
        word("count", "count", "how many, evenly spread", default="1"),
        word("clear", "length", "what is left uncut of the far edge at both its ends", default="0 mm"),
        word("at", "length", "for a single cut: where it starts along the first edge", optional=True),
        word("far_at", "length", "for a single cut: where it ends along the other edge", optional=True),
        word("from", "own end", "the end of the first edge that is counted and measured from", optional=True),
    ),
    example="lines cuts = slash_lines plain.waist_dart.outer_leg to plain.side count 4",
)
def slash_lines(
    subject: Edge,
    to: Edge,
    count: int,
    clear: Reals,
    at: Reals | None = None,
    far_at: Reals | None = None,
    from_: str | None = None,
) -> Cuts:
    if count < 1:
        raise Trouble("there must be at least one cut", "write a count from 1")
    end: End = "start" if from_ is None else edge_from(subject.piece, subject.name, from_)
    near_total, far_total = edge_total(subject.piece, subject.name), edge_total(to.piece, to.name)
    if at is not None or far_at is not None:
        if count != 1 or at is None or far_at is None:
            raise Trouble("a single cut needs `at` and `far_at`", "give both, without `count`")
        return Cuts(
            subject.piece, subject.name, to.name, (at / near_total)[:, None], (far_at / far_total)[:, None], end
        )
    short = 2 * clear >= far_total
    if short.any():
        raise Trouble(
            "nothing is left of the far edge to cut to",
            "leave less clear",
            short,
            {"far edge": far_total, "clear": clear},
        )
    steps = np.arange(1, count + 1)[None, :] / (count + 1)
    rest = (1 - 2 * clear / far_total)[:, None]
    return Cuts(subject.piece, subject.name, to.name, steps, (clear / far_total)[:, None] + rest * steps, end)


def _inward(static: Mapping[str, Any]) -> CutsKind:
    near = static["subject"]
    return CutsKind("lines", near.sketch, near.name, static["apex"], 1, to_apex=True)


@verb(
    "slash_in",
    family="fullness",
    doc="A line to slash along from an edge in to the apex of a dart, where it is hinged: as it opens, the dart closes or opens.",
    gives=_inward,
    subject=word("edge", "edge", "the edge the cut starts on"),
    words=(
        word("apex", "own dart", "the dart at whose apex the cut ends"),
        word("at", "length", "where it starts along the edge", optional=True),
        word("share", "number", "where it starts, as a share of the edge", optional=True),
        word("from", "own end", "the end of the edge that is measured from"),
    ),
    either=(("at", "share"),),
    example="lines cut_in = slash_in plain.side apex waist_dart at 6 cm from armhole",
)
def slash_in(subject: Edge, apex: str, from_: str, at: Reals | None = None, share: Reals | None = None) -> Cuts:
    total = edge_total(subject.piece, subject.name)
    part = share if at is None else at / total
    assert part is not None
    end = edge_from(subject.piece, subject.name, from_)
    return Cuts(subject.piece, subject.name, apex, part[:, None], part[:, None], end, to_apex=True)


def placed(piece: Piece, cuts: Cuts) -> list[Cut]:
    """The cuts on cloth: the far edge runs round the ring the other way, so it is counted from its other end."""
    if cuts.to_apex:
        start = edge_total(piece, cuts.edge) * cuts.shares[:, 0]
        return [Cut(OnEdge(cuts.edge, start, cuts.from_end), AtApex(cuts.far))]
    other: End = "end" if cuts.from_end == "start" else "start"
    near, far = edge_total(piece, cuts.edge), edge_total(piece, cuts.far)
    return [
        Cut(
            OnEdge(cuts.edge, near * cuts.shares[:, k], cuts.from_end),
            OnEdge(cuts.far, far * cuts.far_shares[:, k], other),
        )
        for k in range(cuts.count)
    ]


def cuts_on_subject(static: Mapping[str, Any]) -> CutsKind:
    """The slash lines, if they were drawn on the piece that is worked on."""
    cuts = static["along"]
    if not isinstance(cuts, CutsKind):
        raise Trouble("slash lines are wanted here", "make them with `slash_lines`")
    if cuts.sketch != static["subject"].sketch:
        raise Trouble("the slash lines were drawn on another piece", "draw them on the piece that is slashed")
    return cuts


def sketched(cuts: CutsKind) -> Sequence[Cut]:
    """The cuts on a sketch: where they lie is not known."""
    if cuts.to_apex:
        return (Cut(OnEdge(cuts.edge), AtApex(cuts.far)),)
    return evenly(cuts.sketch, cuts.edge, cuts.far, cuts.count)


def _slash_names(static: Mapping[str, Any]) -> PieceKind:
    sketch, cuts = static["subject"].sketch, cuts_on_subject(static)
    if "hinge" in static and "far_spread" in static:
        raise Trouble("a hinged cut has one opening", "take `hinge` or `far_spread` away")
    if cuts.to_apex and static.get("hinge") != cuts.far:
        raise Trouble("a cut to an apex is hinged there", f"write `hinge {cuts.far}`")
    drawn = sketched(cuts)
    widths: Sequence[Reals] = [np.ones(1)] * cuts.count
    openings = parallel(widths) if "hinge" not in static else hinged(drawn, static["hinge"], widths)
    return piece(slash(sketch, drawn, openings, still=static.get("still"), bridge=static["bridge"]).piece)


@verb(
    "slash",
    family="fullness",
    doc="Slash a piece along lines and spread it: hinged on an edge, parallel, or by two amounts at the two ends.",
    gives=_slash_names,
    subject=word("piece", "piece", "the piece"),
    words=(
        word("along", "cuts", "the slash lines"),
        word("spread", "length", "how far each cut opens: at the edge it starts on, or across its whole length"),
        word("far_spread", "length", "how far it opens at the other edge, where that differs", optional=True),
        word("hinge", "own mark", "the edge that stays closed, or the dart at whose apex the cut ends", optional=True),
        word("still", "own edge", "an edge of the panel that stays where it is", optional=True),
        word(
            "bridge",
            "one of straight smooth",
            "how gaps are bridged: straight, or trued to one smooth line",
            default="straight",
        ),
    ),
    example="piece full = slash plain along cuts spread 3 cm hinge side",
)
def slash_piece(
    subject: Piece,
    along: Cuts,
    spread: Reals,
    bridge: Any,
    far_spread: Reals | None = None,
    hinge: str | None = None,
    still: str | None = None,
) -> Piece:
    negative = spread < 0
    if negative.any():
        raise Trouble(
            "a cut cannot open by less than nothing", "spread by a length from 0", negative, {"spread": spread}
        )
    drawn = placed(subject, along)
    widths = [spread] * along.count
    if hinge is not None:
        openings = hinged(drawn, hinge, widths)
    elif far_spread is not None:
        openings = [(spread, far_spread)] * along.count
    else:
        openings = parallel(widths)
    return slash(subject, drawn, openings, still=still, bridge=bridge).piece
