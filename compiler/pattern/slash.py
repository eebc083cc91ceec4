"""Slash and spread: cuts from edge to edge, or to the apex of a dart, opened by stated amounts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

import numpy as np

from ..geometry.lanes import agree, join
from ..geometry.length import length
from ..geometry.tolerances import COINCIDE
from .darts import no_such_dart
from .piece import Part, Piece, Reals, Side, Trouble
from .ring import End, RingPlace, edge_run, edge_total, place_on, point_of, record, settled, shared_names
from .spread import Bridge, Chord, opened
from .truing import true_edge

Width = Reals | None
Widths = tuple[Width, Width]
Bridging = Literal["straight", "smooth"]

SAME_MARK = 10.0 * COINCIDE
"""Positions along a slashed edge closer than this (mm) are one cut: lengths of its strips add up with rounding."""


@dataclass(frozen=True)
class OnEdge:
    """An end of a cut on an edge, `at` (L,) mm along it from `from_end` as travelled, darts closed (sketch: None)."""

    edge: str
    at: Reals | None = None
    from_end: End = "start"


@dataclass(frozen=True)
class AtApex:
    """An end of a cut at the apex of a dart on an edge (the upper one, if it was opened to the edge)."""

    dart: str


@dataclass(frozen=True)
class SlashLine:
    """A line to cut along, from start to end, straight or by inner points (L, 2). In a sketch `sure` tells whether every body
    has it."""

    start: OnEdge | AtApex
    end: OnEdge | AtApex
    through: tuple[Reals, ...] = ()
    sure: bool = True


@dataclass(frozen=True)
class Slashed:
    """The piece after slashing, and how far (L,) mm each edge that was trued smooth moved away from its strips."""

    piece: Piece
    moved: Mapping[str, Reals] = field(default_factory=lambda: MappingProxyType({}))


def on_edge(piece: Piece, edge: str, share: Reals | float, from_end: End = "start") -> OnEdge:
    """The place a share (L,) of the way along an edge, from its `from_end`."""
    edge_run(piece, edge)
    return OnEdge(edge, None if piece.is_sketch else edge_total(piece, edge) * share, from_end)


def evenly(piece: Piece, near: str, far: str, count: int, from_end: End = "start") -> tuple[SlashLine, ...]:
    """`count` cuts that part both edges evenly, numbered along `near` from its `from_end`; they cannot cross."""
    if count < 1:
        raise Trouble("there must be at least one cut", "let `count` be 1 or more")
    other: End = "end" if from_end == "start" else "start"
    shares = [k / (count + 1) for k in range(1, count + 1)]
    return tuple(SlashLine(on_edge(piece, near, share, from_end), on_edge(piece, far, share, other)) for share in shares)


def hinged(cuts: Sequence[SlashLine], hinge: str, widths: Sequence[Width]) -> list[Widths]:
    """Openings of cuts that stay closed on the edge (or at the dart's apex) `hinge`, one width (L,) for each cut."""
    made: list[Widths] = []
    shut = np.zeros(1)
    for k, (cut, width) in enumerate(zip(cuts, widths, strict=True), 1):
        ends = [hinge == (end.edge if isinstance(end, OnEdge) else end.dart) for end in (cut.start, cut.end)]
        if sum(ends) != 1:
            where = "both ends" if all(ends) else "no end"
            raise Trouble(
                f"cut {k} has {where} on the hinge `{hinge}`", "the hinge is the edge at one end of every cut"
            )
        made.append((shut, width) if ends[0] else (width, shut))
    return made


def parallel(widths: Sequence[Width]) -> list[Widths]:
    """Openings of cuts whose panels move apart square to the cut, one width (L,) for each."""
    return [(width, width) for width in widths]


def slash(
    piece: Piece,
    cuts: Sequence[SlashLine],
    openings: Sequence[Widths],
    *,
    still: str | None = None,
    bridge: Bridging = "straight",
) -> Slashed:
    """The piece cut and opened: `openings` are the widths (L,) across each cut at its start and at its end, mm.

    A width of zero at one end hinges the cut there; equal widths part it square to the cut. In a sketch a width may be
    None: it opens. The panel with the edge `still` stays (by default that with the fold, else that with most outline).
    Each gap is bridged by a straight side with the names of its edge and `EDGE.gap_kN`, N the number of the cut; the
    strips of a slashed edge are `EDGE.strip_k0` and so on from the end its first cut is measured from. Cuts not opened
    leave no trace. `smooth` replaces each opened edge by one smooth side. Trouble and Disagreement as `opened` gives.
    """
    open_ends = [(_opens(a), _opens(b)) for a, b in openings]
    for k, (cut, ends) in enumerate(zip(cuts, open_ends, strict=True), 1):
        for end, is_open in zip((cut.start, cut.end), ends, strict=True):
            if is_open and isinstance(end, AtApex):
                raise Trouble(
                    f"cut {k} opens at the apex of `{end.dart}`", "let it hinge there: no opening at that end"
                )
    places = [(_place(piece, cut.start), _place(piece, cut.end)) for cut in cuts]
    used = [k for k, ends in enumerate(open_ends) if any(ends)]
    if not used:
        return Slashed(record(piece, dict.fromkeys(_parts(cuts), "the cuts were not opened")))
    named = _without_old_parts(piece, _edges(cuts))
    if piece.is_sketch:
        made = _sketched(named, cuts, open_ends)
    else:
        chords = [_chord(named, cuts[k], places[k], openings[k], k) for k in used]
        made = _strips(named, opened(named, chords, still=still), cuts)
    there = set(made.edge_names())
    made = replace(made, parts=MappingProxyType({**made.parts, **_parts(cuts)}))
    why = "the edge was slashed again and its parts have new names"
    made = record(made, {name: why for name in piece.edge_names() if name not in there})
    if bridge == "straight":
        return Slashed(made)
    return _smooth(made, {edge: _spans(piece, cuts, edge) for edge in _opened_edges(cuts, open_ends)})


def opened_lengths(before: Piece, after: Piece, cuts: Sequence[SlashLine]) -> list[tuple[str, Reals, Reals]]:
    """Of every edge of the ring on which cuts have opened: its name, and its length (L,) mm before and after."""
    both = [(edge, edge_total(before, edge), edge_total(after, edge)) for edge in _edges(cuts)]
    return [(edge, one, two) for edge, one, two in both if (np.abs(two - one) > COINCIDE).any()]


def _opens(width: Width) -> bool:
    """Whether an end opens. Raises Disagreement when some lanes open and others do not."""
    return width is None or bool(agree((np.abs(width) > COINCIDE).astype(np.int64)))


def _chord(piece: Piece, cut: SlashLine, places: tuple[RingPlace, RingPlace], widths: Widths, number: int) -> Chord:
    """The cut as one to be opened, with the sides that bridge its gaps."""
    start, end = (np.zeros(1) if width is None else width for width in widths)
    bridges = []
    for here, place, width in zip((cut.start, cut.end), places, (start, end), strict=True):
        bridges.append(_gap(piece, here, place, number) if isinstance(here, OnEdge) and _opens(width) else None)
    return Chord(f"cut {number + 1}", places, (bridges[0], bridges[1]), (start, end), through=cut.through)


def _place(piece: Piece, end: OnEdge | AtApex) -> RingPlace:
    """The place on the ring of an end of a cut."""
    if isinstance(end, OnEdge):
        return settled(piece, place_on(piece, end.edge, end.at, end.from_end))
    dart = piece.dart(end.dart)
    if dart is None:
        hole = piece.hole(end.dart)
        if hole is not None:
            raise Trouble(f"the dart `{end.dart}` has two ends", "open it to an edge first")
        raise no_such_dart(piece, end.dart)
    return RingPlace(edge_run(piece, dart.second)[0])


def drawn_cut(piece: Piece, cut: SlashLine) -> Reals:
    """The line of a cut on the cloth (L, n, 2): from its start by its inner points to its end."""
    ends = [point_of(piece, _place(piece, end)) for end in (cut.start, cut.end)]
    assert ends[0] is not None, "a sketch has no lines"
    assert ends[1] is not None
    return join([one[:, None] for one in (ends[0], *cut.through, ends[1])], 1)


def _cut_edges(cut: SlashLine) -> list[str]:
    return [end.edge for end in (cut.start, cut.end) if isinstance(end, OnEdge)]


def _edges(cuts: Sequence[SlashLine]) -> list[str]:
    return list(dict.fromkeys(edge for cut in cuts for edge in _cut_edges(cut)))


def _opened_edges(cuts: Sequence[SlashLine], open_ends: Sequence[tuple[bool, bool]]) -> list[str]:
    """Edges on which a gap opens."""
    edges = []
    for cut, ends in zip(cuts, open_ends, strict=True):
        both = zip((cut.start, cut.end), ends, strict=True)
        edges += [end.edge for end, is_open in both if is_open and isinstance(end, OnEdge)]
    return list(dict.fromkeys(edges))


def _ends_on(cuts: Sequence[SlashLine], edge: str) -> list[OnEdge]:
    return [end for cut in cuts for end in (cut.start, cut.end) if isinstance(end, OnEdge) and end.edge == edge]


def _gap_numbers(cuts: Sequence[SlashLine], open_ends: Sequence[tuple[bool, bool]], edge: str) -> list[int]:
    """Numbers of the cuts that open on an edge."""
    return [
        k for k, (cut, ends) in enumerate(zip(cuts, open_ends, strict=True), 1) if edge in _opened_edges([cut], [ends])
    ]


def gap_name(edge: str, number: int) -> str:
    """What the gap of a cut, numbered from 1, is called on an edge it opens."""
    return f"{edge}.gap_k{number}"


def _strip_name(edge: str, number: int) -> str:
    return f"{edge}.strip_k{number}"


def _parts(cuts: Sequence[SlashLine]) -> dict[str, Part]:
    """What the names of all strips are, and of the gaps of all cuts, whether they open or not."""
    found: dict[str, Part] = {}
    for edge in _edges(cuts):
        found |= {_strip_name(edge, n): Part(edge) for n in range(len(_ends_on(cuts, edge)) + 1)}
        found |= {gap_name(edge, n): Part(edge, is_gap=True) for n in _gap_numbers(cuts, [(True, True)] * len(cuts), edge)}
    return found


def _without_old_parts(piece: Piece, edges: Sequence[str]) -> Piece:
    """The piece without the names an earlier slash gave to parts of these edges."""
    old = {name for name, part in piece.parts.items() if part.edge in edges}
    ring = tuple(replace(side, names=tuple(n for n in side.names if n not in old)) for side in piece.ring)
    parts = {name: part for name, part in piece.parts.items() if name not in old}
    return replace(piece, ring=ring, parts=MappingProxyType(parts)) if old else piece


def _gap(piece: Piece, end: OnEdge, place: RingPlace, number: int) -> Bridge:
    """The side that bridges an end of a cut: the names of the side cut, and its own."""
    side = piece.ring[place.side]
    before = side if bool((place.at > COINCIDE).all()) else piece.ring[place.side - 1]
    return Bridge(((*shared_names(before, side, end.edge), gap_name(end.edge, number + 1)),))


def _strips(before: Piece, piece: Piece, cuts: Sequence[SlashLine]) -> Piece:
    """The opened piece with names for the strips of every slashed edge; a cut not opened parts two names, not sides."""
    ring = list(piece.ring)
    for edge in _edges(cuts):
        numbers, ends = list(edge_run(piece, edge)), _ends_on(cuts, edge)
        marks = np.stack(np.broadcast_arrays(*_marks(before, edge, ends)), axis=1)
        if ends[0].from_end == "end":
            numbers.reverse()
        passed = np.zeros((1, 1))
        for i in numbers:
            if any(gap_name(edge, k) in ring[i].names for k in range(1, len(cuts) + 1)):
                continue
            reached = passed + length(ring[i].drawn)[:, None]
            first = agree((marks <= passed + SAME_MARK).sum(axis=1))
            last = agree((marks < reached - SAME_MARK).sum(axis=1))
            names = tuple(_strip_name(edge, n) for n in range(first, max(first, last) + 1))
            ring[i] = replace(ring[i], names=(*ring[i].names, *names))
            passed = reached
    return replace(piece, ring=tuple(ring))


def _marks(piece: Piece, edge: str, ends: Sequence[OnEdge]) -> list[Reals]:
    """Where (L,) each cut stood on the edge, all measured from the end the first was measured from."""
    total = edge_total(piece, edge)
    at = [np.zeros(1) if end.at is None else end.at for end in ends]
    return [s if end.from_end == ends[0].from_end else total - s for s, end in zip(at, ends, strict=True)]


def _spans(piece: Piece, cuts: Sequence[SlashLine], edge: str) -> int:
    """Of how many spans a smooth line is drawn: as many as the edge had before, but no more than it has strips."""
    strips = 1 + sum(1 for cut in cuts if edge in _cut_edges(cut))
    return 1 if piece.is_sketch else min(strips, sum(piece.ring[i].drawn.controls.shape[1] for i in edge_run(piece, edge)))


def _smooth(piece: Piece, edges: Mapping[str, int]) -> Slashed:
    moved = {}
    for edge, spans in edges.items():
        piece, moved[edge] = true_edge(piece, edge, spans=spans)
    return Slashed(piece, MappingProxyType(moved))


def _sketched(piece: Piece, cuts: Sequence[SlashLine], open_ends: Sequence[tuple[bool, bool]]) -> Piece:
    """The names after slashing: strips and gaps stand for the first side of each slashed edge."""
    ring = [side for k, side in enumerate(piece.ring) if k == 0 or side.names != piece.ring[k - 1].names]
    for edge in _edges(cuts):
        i = next(k for k, side in enumerate(ring) if edge in side.names)
        names = ring[i].names
        parts = [Side((*names, _strip_name(edge, 0)))]
        opened = _gap_numbers(cuts, open_ends, edge)
        for n, k in enumerate((k for k, cut in enumerate(cuts, 1) if edge in _cut_edges(cut)), 1):
            parts += [Side((*names, gap_name(edge, k)))] if k in opened else []
            parts.append(Side((*names, _strip_name(edge, n))))
        ring[i : i + 1] = parts if _ends_on(cuts, edge)[0].from_end == "start" else parts[::-1]
    notches = tuple(replace(one, side=_first_of(ring, piece.ring[one.side])) for one in piece.notches)
    return record(replace(piece, ring=tuple(ring), notches=notches, uncertain=piece.uncertain | _unsure(cuts)), {})


def _first_of(ring: Sequence[Side], old: Side) -> int:
    """The first side of a sketch that has all the names of one before."""
    return next(k for k, side in enumerate(ring) if set(old.names) <= set(side.names))


def _unsure(cuts: Sequence[SlashLine]) -> frozenset[str]:
    """Names of the gaps of cuts that not every body has, and of the strips beyond them."""
    names = set()
    for edge in _edges(cuts):
        numbers = [k for k, cut in enumerate(cuts, 1) if edge in _cut_edges(cut)]
        for n, k in enumerate(numbers, 1):
            names |= set() if cuts[k - 1].sure else {gap_name(edge, k), _strip_name(edge, n)}
    return frozenset(names)
