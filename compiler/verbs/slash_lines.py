"""Slash lines on a piece: evenly spread, fanned, at stated places, along a drawn line, in to a dart's apex."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ..geometry.crossing import paths
from ..geometry.lanes import agree
from ..geometry.length import length, part
from ..geometry.path import Path, flatten_fixed, reverse
from ..pattern.edges import edge_from
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.ring import End, edge_run, edge_total
from ..pattern.slash import AtApex, Cut, OnEdge
from ..pattern.spacing import About, must_go_together
from .kinds import CutsKind
from .points import as_path
from .registry import Place, verb, word
from .values import CutLine, Cuts, Edge

BENDS = 12
"""Corners a cut along a curve has for each of its spans: chords of a centimetre or less, where scissors follow a line."""

NEAR_PLACES, FAR_PLACES = ("first", "last"), ("far_first", "far_last")


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
    _must_be_placed(static)
    lines = ((near.name, far.name, False, _counted_from(static)),) * static.get("up_to", static.get("count", 1))
    return CutsKind("lines", near.sketch, lines, 1 if "apart" in static else len(lines), "from" in static or len(lines) == 1)


def _counted_from(static: Mapping[str, Any]) -> End:
    """The end of the first edge, as the sketch is travelled."""
    near = static["subject"]
    return edge_from(near.sketch, near.name, static["from"]) if "from" in static else "start"


def _must_be_placed(static: Mapping[str, Any]) -> None:
    """Trouble when what is said of the places of the cuts does not go together."""
    count, said = static.get("count", 1), set(static)
    if min(count, static.get("up_to", 1)) < 1:
        raise Trouble("there must be at least one cut", "write a number from 1")
    must_go_together(said)
    if "apart" in said:
        others = [name for name in ("count", "following", *NEAR_PLACES, *FAR_PLACES) if name in said]
        if others:
            raise Trouble("`apart` spreads the cuts over the whole edge", f"take `{others[0]}` or `apart` away")
    if "following" in said:
        others = [name for name in (*NEAR_PLACES, *FAR_PLACES, "clear") if name in said]
        if others or count > 1:
            raise Trouble("a cut that follows a line has its place", f"take `{[*others, 'count'][0]}` away")
        return
    for first, last in (NEAR_PLACES, FAR_PLACES):
        if last in said and (first not in said or count == 1):
            fix = f"write `{first}` too" if first not in said else "write a `count` from 2"
            raise Trouble(f"`{last}` is the place of the last of several cuts, as `{first}` is that of the first", fix)
    if "clear" in said and "far_first" in said:
        raise Trouble("`clear` spreads the cuts evenly, `far_first` places them", "take one of the two away")
    if count == 1 and ("first" in said) != ("far_first" in said):
        raise Trouble("a single cut needs `first` and `far_first`", "give both")
    if "from" not in said and said.intersection(("first", "far_first")):
        fix = f"write `from` and the edge it meets at that end of `{static['subject'].name}`"
        raise Trouble("from which end the places are measured is not said", fix)


@verb(
    "slash_lines",
    family="fullness",
    doc="Lines to slash along, from one edge of a piece to another: evenly spread, at stated places, fanned, or one that "
    "follows a drawn line.",
    gives=_lines,
    subject=word("edge", "edge", "the edge the cuts start on; it may be the leg of a dart"),
    words=(
        word("to", "edge", "the edge they run to"),
        word("count", "count", "how many, on every body; one where nothing is said", optional=True),
        word("apart", "length", "about how far apart, evenly over the edge: as many as that takes on each body", optional=True),
        word("up_to", "count", "the most of them there may be", optional=True),
        word("clear", "length", "what is left uncut of the far edge at both its ends", optional=True),
        word("first", "length", "where the first cut starts along the first edge; all do, without `last`", optional=True),
        word("last", "length", "where the last cut starts; those between are evenly spread", optional=True),
        word("far_first", "length", "where the first cut ends along the other edge, from its end on that side", optional=True),
        word("far_last", "length", "where the last cut ends along the other edge; all end at one without it", optional=True),
        word("from", "own end", "the end of the first edge that is counted and measured from, where that matters", optional=True),
        word("following", "path", "a line or curve of the draft that crosses both edges, for a single cut", optional=True),
    ),
    example="lines cuts = slash_lines plain.waist_dart.outer_leg to plain.side count 4",
)
def slash_lines(
    subject: Edge,
    to: Edge,
    count: int = 1,
    apart: Reals | None = None,
    up_to: int = 1,
    clear: Reals | None = None,
    first: Reals | None = None,
    last: Reals | None = None,
    far_first: Reals | None = None,
    far_last: Reals | None = None,
    from_: str | None = None,
    following: Path | Edge | None = None,
) -> Cuts:
    end: End = "start" if from_ is None else edge_from(subject.piece, subject.name, from_)
    if following is not None:
        return Cuts(subject.piece, (_following(subject, to, as_path(following), end),))
    if apart is not None:
        total = edge_total(subject.piece, subject.name)
        count = max(About(apart, up_to).spaces(total, subject.name, -1) - 1, 1)
    near = _shares(edge_total(subject.piece, subject.name), count, first, last)
    total = edge_total(to.piece, to.name)
    far = _shares(total, count, far_first, far_last) if far_first is not None else _clear_of_ends(total, count, clear)
    lines = zip(near, far, strict=True)
    return Cuts(subject.piece, tuple(CutLine(subject.name, to.name, one, two, end) for one, two in lines))


def _shares(total: Reals, count: int, first: Reals | None, last: Reals | None) -> list[Reals]:
    """Where each cut stands, as a share (L,) of an edge: evenly spread, or from the first place to the last."""
    if first is None:
        return [np.array([k / (count + 1)]) for k in range(1, count + 1)]
    step = np.zeros(1) if last is None else (last - first) / (count - 1)
    return [(first + k * step) / total for k in range(count)]


def _clear_of_ends(total: Reals, count: int, clear: Reals | None) -> list[Reals]:
    """Evenly spread places as shares (L,) of the far edge, `clear` (L,) mm left at both its ends."""
    left = np.zeros(1) if clear is None else clear
    short = 2 * left >= total
    if short.any():
        figures = {"far edge": total, "clear": left}
        raise Trouble("nothing is left of the far edge to cut to", "leave less clear", short, figures)
    rest = 1 - 2 * left / total
    return [left / total + rest * k / (count + 1) for k in range(1, count + 1)]


def _following(near: Edge, far: Edge, path: Path, end: End) -> CutLine:
    """The cut along the part of a drawn line between two edges."""
    (start, at), (stop, far_at) = _met(near, path), _met(far, path)
    backward = agree((stop < start).astype(np.int64)) == 1
    between = part(path, stop, start) if backward else part(path, start, stop)
    bends = flatten_fixed(reverse(between) if backward else between, BENDS)
    through = tuple(bends[:, k] for k in range(1, bends.shape[1] - 1))
    here, there = at / edge_total(near.piece, near.name), far_at / edge_total(far.piece, far.name)
    return CutLine(
        near.name,
        far.name,
        here if end == "start" else 1 - here,
        1 - there if end == "start" else there,
        end,
        through=through,
    )


def _met(edge: Edge, path: Path) -> tuple[Reals, Reals]:
    """Where (L,) mm along a drawn line it crosses an edge, and where along the edge as travelled."""
    passed = np.zeros(1)
    for number in edge_run(edge.piece, edge.name):
        side = edge.piece.ring[number].drawn
        on_path, on_side, _, ok = paths(path, side)
        if agree(ok.astype(np.int64)):
            return on_path, passed + on_side
        passed = passed + length(side)
    raise Trouble(f"the line to follow does not cross `{edge.name}`", "draw it on over both edges")


def _inward(static: Mapping[str, Any]) -> CutsKind:
    near = static["subject"]
    return CutsKind("lines", near.sketch, ((near.name, static["apex"], True, _counted_from(static)),), 1, True)


@verb(
    "slash_in",
    family="fullness",
    doc="A line to slash along from an edge in to the apex of a dart, where it is hinged: as it opens, the dart closes or opens.",
    gives=_inward,
    subject=word("edge", "edge", "the edge, at the place the cut starts on", place=Place("at", "share")),
    words=(
        word("apex", "own dart", "the dart at whose apex the cut ends"),
    ),
    example="lines cut_in = slash_in plain.side at 6 cm from armhole apex waist_dart",
)
def slash_in(subject: Edge, apex: str, from_: str, at: Reals | None = None, share: Reals | None = None) -> Cuts:
    total = edge_total(subject.piece, subject.name)
    along = share if at is None else at / total
    assert along is not None
    end = edge_from(subject.piece, subject.name, from_)
    return Cuts(subject.piece, (CutLine(subject.name, apex, along, along, end, to_apex=True),))


def placed(piece: Piece, cuts: Cuts) -> list[Cut]:
    """The cuts on cloth: the far edge runs round the ring the other way, so it is counted from its other end."""
    made = []
    for one in cuts.lines:
        start = OnEdge(one.edge, edge_total(piece, one.edge) * one.share, one.from_end)
        other: End = "end" if one.from_end == "start" else "start"
        far = None if one.to_apex else OnEdge(one.far, edge_total(piece, one.far) * one.far_share, other)
        made.append(Cut(start, far or AtApex(one.far), one.through))
    return made


def cuts_on_subject(static: Mapping[str, Any]) -> CutsKind:
    """The slash lines, if they were drawn on the piece that is worked on."""
    cuts = static["along"]
    if not isinstance(cuts, CutsKind):
        raise Trouble("slash lines are wanted here", "make them with `slash_lines`")
    if cuts.sketch != static["subject"].sketch:
        raise Trouble("the slash lines were drawn on another piece", "draw them on the piece that is slashed")
    return cuts


def must_be_graded(static: Mapping[str, Any], *words: str) -> None:
    """Trouble where what is said of the first and the last of several cuts leaves open which these are, or says more."""
    cuts = cuts_on_subject(static)
    for said in words:
        if f"{said} 2" in static:
            raise Trouble(f"`{said}` lists more than the first and the last", "write one length, or two with a comma")
        if f"{said} 1" in static and cuts.count == 1:
            raise Trouble("there is one cut, and no last one beside it", f"write one length behind `{said}`")
        if f"{said} 1" in static and not cuts.numbered:
            fix = "draw the lines with `from`: the first is the one next to the edge named there"
            raise Trouble(f"`{said}` tells the first from the last cut, and from which end they count is not said", fix)


def sketched(cuts: CutsKind) -> Sequence[Cut]:
    """The cuts on a sketch: where they lie is not known."""
    other: Mapping[End, End] = {"start": "end", "end": "start"}
    return [
        Cut(OnEdge(near, None, end), AtApex(far) if to_apex else OnEdge(far, None, other[end]), sure=k < cuts.sure)
        for k, (near, far, to_apex, end) in enumerate(cuts.lines)
    ]
