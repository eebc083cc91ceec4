"""Slash lines on a piece: evenly spread, fanned, at stated places, along a drawn line, in to a dart's apex."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ..geometry.crossing import paths
from ..geometry.lanes import agree
from ..geometry.length import length, part
from ..geometry.path import Path, flatten_fixed, reverse
from ..geometry.tolerances import ROUNDING
from ..pattern.edges import edge_from
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.ring import End, edge_run, edge_total
from ..pattern.slash import AtApex, OnEdge, SlashLine
from ..pattern.spacing import About, must_go_together
from .kinds import CutsKind
from .points import as_path
from .registry import PlacedEdge, verb, word
from .values import CutLine, Cuts, Edge, listed

BENDS = 12
"""Corners a cut along a curve has for each of its spans: chords of a centimetre or less, where scissors follow a line."""

NEAR = PlacedEdge("first", "first_share", last=PlacedEdge("last", "last_share", end="until"), required=False)
FAR = PlacedEdge(
    "far_first",
    "far_first_share",
    end="far_from",
    last=PlacedEdge("far_last", "far_last_share", end="far_until"),
    required=False,
)
OTHER: Mapping[End, End] = {"start": "end", "end": "start"}


def _lines(static: Mapping[str, Any]) -> CutsKind:
    near, far = static["subject"], static["running_to"]
    if near.sketch is not far.sketch and near.sketch != far.sketch:
        raise Trouble("the slash lines run between edges of two pieces", "name two edges of the same piece")
    for one in (near, far):
        dart = next((hole.name for hole in one.sketch.holes if one.name in hole.leg_names), None)
        if dart is not None:
            fix = (
                f"open it first, for example to the hem: `open … to hem`, and take the legs of `{dart}` from that piece"
            )
            raise Trouble(f"`{dart}` has two ends: its legs lie inside the piece, and no cut can start there", fix)
    _must_be_placed(static)
    end = _counted_from(Edge(near.sketch, near.name), Edge(far.sketch, far.name), static)
    lines = ((near.name, far.name, False, end or "start"),) * static.get("up_to", static.get("count", 1))
    return CutsKind("lines", near.sketch, lines, 1 if "apart" in static else len(lines), end is not None or len(lines) == 1)


def _counted_from(near: Edge, far: Edge, said: Mapping[str, Any]) -> End | None:
    """The end of the first edge, as travelled, that the cuts are counted from; None where nothing tells it."""
    for name in ("from", "beginning_at"):
        if said.get(name) is not None:
            return edge_from(near.piece, near.name, said[name])
    return OTHER[edge_from(far.piece, far.name, said["far_from"])] if said.get("far_from") is not None else None


def _must_be_placed(static: Mapping[str, Any]) -> None:
    """Trouble when what is said of the places of the cuts does not go together."""
    count, placed = static.get("count", 1), [name for name in ("from", "far_from") if name in static]
    if min(count, static.get("up_to", 1)) < 1:
        raise Trouble("there must be at least one cut", "write a number from 1")
    must_go_together(static)
    spread = "apart" if "apart" in static else "following" if "following" in static else ""
    if spread and (placed or "clear" in static):
        what = "spreads the cuts over the whole edge" if spread == "apart" else "gives the cut its place"
        raise Trouble(f"`{spread}` {what}", f"take it away, or {'the places on the edges' if placed else '`clear`'}")
    if spread and ("count" in static if spread == "apart" else count > 1):
        raise Trouble(f"`{spread}` tells how many cuts there are", "take it or `count` away")
    if count == 1 and ("until" in static or "far_until" in static):
        raise Trouble("a part of an edge is for the first and the last of several cuts", "write a `count` from 2")
    if count == 1 and len(placed) == 1 and not spread:
        raise Trouble("a single cut needs a place on both edges", "write `at` and a place behind both edges")
    if "clear" in static and "far_from" in static:
        raise Trouble("`clear` spreads the cuts evenly, and their places are said", "take one of the two away")
    if "beginning_at" in static and placed:
        raise Trouble("the places on the edges say where the cuts begin", "take `beginning_at` away")


@verb(
    "slash_lines",
    family="fullness",
    doc="Lines to slash along, from one edge of a piece to another: evenly spread, at stated places, fanned, or one that "
    "follows a drawn line.",
    gives=_lines,
    subject=word(
        "edge",
        "edge",
        "the edge the cuts start on, which may be the leg of a dart; with the part that the first and the last of them end, or "
        "the place where a single one starts, or all do",
        place=NEAR,
    ),
    words=(
        word("running_to", "edge", "the edge they run to, with the part, or the place, that they end on", place=FAR),
        word("count", "count", "how many, on every body; one where nothing is said", optional=True),
        word("apart", "length", "about how far apart, evenly over the edge: as many as that takes on each body", optional=True),
        word("up_to", "count", "the most of them there may be", optional=True),
        word("clear", "length", "what is left uncut of the far edge at both its ends", optional=True),
        word("beginning_at", "own end", "the end of the first edge they are counted from, where no place says it", optional=True),
        word("following", "path", "a line or curve of the draft that crosses both edges, for a single cut", optional=True),
    ),
    example="lines cuts = slash_lines plain.waist_dart.outer_leg running_to plain.side count 4",
)
def slash_lines(
    subject: Edge,
    running_to: Edge,
    count: int = 1,
    apart: Reals | None = None,
    up_to: int = 1,
    clear: Reals | None = None,
    following: Path | Edge | None = None,
    **where: Any,
) -> Cuts:
    said = {name.rstrip("_"): value for name, value in where.items()}
    end = _counted_from(subject, running_to, said) or "start"
    if following is not None:
        return Cuts(subject.piece, (_following(subject, running_to, as_path(following), end),))
    if apart is not None:
        total = edge_total(subject.piece, subject.name)
        count = max(About(apart, up_to).spaces(total, subject.name, -1) - 1, 1)
    near = _shares(count, _placed_at(subject, end, said, "first", "from"), _placed_at(subject, end, said, "last", "until"))
    far_end = OTHER[end]
    long = edge_total(running_to.piece, running_to.name)
    last = _placed_at(running_to, far_end, said, "far_last", "far_until")
    first = _placed_at(running_to, far_end, said, "far_first", "far_from")
    far = _shares(count, first, last) if first is not None else _clear_of_ends(long, count, clear)
    _must_not_cross(near, far)
    cuts = (CutLine(subject.name, running_to.name, one, two, end) for one, two in zip(near, far, strict=True))
    return Cuts(subject.piece, tuple(cuts))


def _placed_at(edge: Edge, counted: End, said: Mapping[str, Any], name: str, end: str) -> Reals | None:
    """A place as a share (L,) of the edge from the end that is counted from, or None where none is said."""
    if said.get(end) is None:
        return None
    at: Reals | None = said.get(name)
    share: Reals | None = said.get(f"{name}_share")
    far = share if at is None else at / edge_total(edge.piece, edge.name)
    assert far is not None
    return far if edge_from(edge.piece, edge.name, said[end]) == counted else 1.0 - far


def _must_not_cross(near: Sequence[Reals], far: Sequence[Reals]) -> None:
    """Trouble where the first and the last of several lines lie the other way round on the far edge."""
    crossed = np.asarray((near[-1] - near[0]) * (far[-1] - far[0]) < -ROUNDING)
    if crossed.any():
        raise Trouble("the slash lines cross", "count both parts from the ends on the same side", crossed)


def _shares(count: int, first: Reals | None, last: Reals | None) -> list[Reals]:
    """Where each cut stands, as a share (L,) of an edge: evenly spread, or from the first place to the last."""
    if first is None:
        return [np.array([k / (count + 1)]) for k in range(1, count + 1)]
    step = np.zeros(1) if last is None else (last - first) / (count - 1)
    return [first + k * step for k in range(count)]


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
    end = edge_from(near.sketch, near.name, static["from"])
    return CutsKind("lines", near.sketch, ((near.name, static["to_apex_of"], True, end),), 1, True)


@verb(
    "slash_in",
    family="fullness",
    doc="A line to slash along from an edge in to the apex of a dart, where it is hinged: as it opens, the dart closes or opens.",
    gives=_inward,
    subject=word("edge", "edge", "the edge, at the place the cut starts on", place=PlacedEdge("at", "share")),
    words=(
        word("to_apex_of", "own dart", "the dart at whose apex the cut ends"),
    ),
    example="lines cut_in = slash_in plain.side at 6 cm from armhole to_apex_of waist_dart",
)
def slash_in(subject: Edge, to_apex_of: str, from_: str, at: Reals | None = None, share: Reals | None = None) -> Cuts:
    total = edge_total(subject.piece, subject.name)
    along = share if at is None else at / total
    assert along is not None
    end = edge_from(subject.piece, subject.name, from_)
    return Cuts(subject.piece, (CutLine(subject.name, to_apex_of, along, along, end, to_apex=True),))


def placed(piece: Piece, cuts: Cuts) -> list[SlashLine]:
    """The cuts on cloth: the far edge runs round the ring the other way, so it is counted from its other end."""
    made = []
    for one in cuts.lines:
        start = OnEdge(one.edge, edge_total(piece, one.edge) * one.share, one.from_end)
        far = None if one.to_apex else OnEdge(one.far, edge_total(piece, one.far) * one.far_share, OTHER[one.from_end])
        made.append(SlashLine(start, far or AtApex(one.far), one.through))
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
        given = len(listed(static, said))
        if given > 2:
            raise Trouble(f"`{said}` lists more than the first and the last", "write one length, or two with a comma")
        if given > 1 and cuts.count == 1:
            raise Trouble("there is one cut, and no last one beside it", f"write one length behind `{said}`")
        if given > 1 and not cuts.numbered:
            fix = "draw the lines with `beginning_at`: the first is the one next to the edge named there"
            raise Trouble(f"`{said}` tells the first from the last cut, and from which end they count is not said", fix)


def sketched(cuts: CutsKind) -> Sequence[SlashLine]:
    """The cuts on a sketch: where they lie is not known."""
    return [
        SlashLine(OnEdge(near, None, end), AtApex(far) if to_apex else OnEdge(far, None, OTHER[end]), sure=k < cuts.sure)
        for k, (near, far, to_apex, end) in enumerate(cuts.lines)
    ]
