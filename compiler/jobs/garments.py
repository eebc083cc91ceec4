"""The garment on bodies: its openings with their girths, whether the body gets in, and what of the cloth does not go together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..assembly.endings import Ending
from ..assembly.faults import Fault
from ..assembly.order import as_said
from ..assembly.panels import Atom, Laid, Pieces
from ..assembly.proof import prove
from ..assembly.surface import Opening
from ..assembly.whole import Whole, whole
from ..bodies.body import Body
from ..diagnostics import assembly_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..geometry.lanes import Lanes, decide, in_groups
from ..geometry.length import length
from ..geometry.tolerances import SEW
from ..meaning.style import CheckedStyle
from ..output.records import ClosureRow
from ..pattern.piece import Piece
from ..pattern.turned_over import alike_turned_over
from .assembled import Assembly, in_words
from .getting_in import gets_in
from .numbers import column
from .results import UNJUDGED, AssemblyResult, BodyResult, OpeningResult, SeamResult

NEAR = 0.02
"""An opening whose girth is within this share of the girth a closure states is the one that it states (ours)."""


@dataclass(frozen=True)
class _Judged:
    """The garment of bodies on which it goes together alike, by their lanes: what is wrong with it on all of them, and its
    openings with their girths (mm), body by body."""

    lanes: Lanes
    made: Whole
    wrong: Sequence[Diagnostic]
    girths: Sequence[Sequence[float]]


def garments(
    style: CheckedStyle, assembly: Assembly, pieces: Mapping[str, Piece], results: Sequence[BodyResult], bodies: Sequence[Body]
) -> list[AssemblyResult]:
    """The garment on each of some bodies that were finished together, whose pieces these are."""
    if not assembly.judged:
        return [UNJUDGED] * len(results)
    found: dict[int, AssemblyResult] = {}
    for _, judged in in_groups(len(results), lambda lanes: _judged(style, assembly, pieces, lanes)):
        for k, lane in enumerate(judged.lanes.tolist()):
            girths = [row[k] for row in judged.girths]
            found[lane] = _on(style, assembly, judged, girths, results[lane], bodies[lane])
    return [found[lane] for lane in range(len(results))]


def _judged(style: CheckedStyle, assembly: Assembly, pieces: Mapping[str, Piece], lanes: Lanes) -> _Judged:
    """The garment on some of the bodies. Raises Disagreement."""
    cloth = {name: piece.take(lanes) for name, piece in pieces.items()}
    made = whole(prove(assembly.whole.structure.said.on(cloth)))
    more = _beyond(assembly.whole.faults, made.faults)
    girths = [_girths(cloth, made, one, lanes.size) for one in made.laid.surface.openings]
    return _Judged(lanes, made, [*in_words(style, more), *unlike(style, made)], girths)


def _on(
    style: CheckedStyle, assembly: Assembly, judged: _Judged, girths: Sequence[float], result: BodyResult, body: Body
) -> AssemblyResult:
    """The garment on one body."""
    made = judged.made
    reached = _reached(made, girths, result)
    openings = tuple(
        _opening(made, one, girths[k], [row for row, numbers in reached if k in numbers])
        for k, one in enumerate(made.laid.surface.openings)
    )
    told = [*judged.wrong, *_on_body(style, made, openings, result, body)]
    holds = assembly.holds and not any(one.is_error for one in told)
    return AssemblyResult(holds, openings, tuple(one.on(result.name) for one in told), made)


def in_order_of(seams: Sequence[SeamResult], garment: AssemblyResult) -> list[SeamResult]:
    """Seams in the order in which a garment is sewn; where it was not judged, in that which their sentences ask for."""
    names = [one.seam for one in garment.whole.order] if garment.whole else as_said({one.name: one.after for one in seams})
    order = {name: k for k, name in enumerate(names)}
    return sorted(seams, key=lambda one: order.get(one.name, len(order)))


def _beyond(known: Sequence[Fault], found: Sequence[Fault]) -> list[Fault]:
    """The faults that only cloth tells of: none of what is told of the style."""
    causes = {(one.kind, one.sentences) for one in known}
    loose = {edge for one in known if one.kind == "ends_in_nothing" for edge in one.edges}
    return [
        one
        for one in found
        if (not loose.issuperset(one.edges) if one.kind == "ends_in_nothing" else (one.kind, one.sentences) not in causes)
    ]


def _girths(pieces: Mapping[str, Piece], made: Whole, opening: Opening, count: int) -> list[float]:
    """How long (mm) an opening is on each body, as sewn."""
    total = np.zeros(1)
    for atom in _around(made, opening):
        total = total + length(pieces[atom.piece].ring[atom.side].drawn)
    return column(total, count)


def _around(made: Whole, opening: Opening) -> list[Atom]:
    """The sides that go round an opening. Of a band on its fold whose ends are free these are those it is sewn on by: its ends
    lie on each other, and what laps over adds nothing."""
    pieces, ends = made.structure.pieces, made.structure.endings
    found: dict[Atom, None] = {}
    for atom in opening.atoms:
        piece = pieces[atom.piece]
        theirs = [one for one in opening.atoms if (one.piece, one.panel) == (atom.piece, atom.panel)]
        sewn = [one for one in ends if (one.piece, one.panel, one.copy) == (atom.piece, atom.panel, atom.copy)]
        sewn = [one for one in sewn if one not in theirs and any(how.how == "seam" for how in ends[one])]
        free = piece.laid is Laid.DOUBLED and len(theirs) > 1
        found |= dict.fromkeys(sewn if free and sewn else [atom])
    return [*found]


def _reached(made: Whole, girths: Sequence[float], result: BodyResult) -> list[tuple[ClosureRow, frozenset[int]]]:
    """Each closure that is set in with the openings, by number, that it widens: of one that is shorter than what it is set into
    the one whose girth it states, of equal ones the first."""
    found = []
    for row in result.specification.closures:
        numbers = frozenset(number for one in made.closings if one.closure.name == row.name for number in one.reaches)
        if numbers and row.girth_mm is not None and row.long_mm < row.place_mm - SEW:
            stated = row.girth_mm
            numbers = frozenset((min(sorted(numbers), key=lambda k: abs(girths[k] - stated)),))
        found.append((row, numbers))
    return found


def _opening(made: Whole, opening: Opening, girth: float, closures: Sequence[ClosureRow]) -> OpeningResult:
    pieces, ends = made.structure.pieces, made.structure.endings
    edges = tuple(dict.fromkeys(f"{atom.piece}.{_called(pieces, atom.piece, atom.side)}" for atom in opening.atoms))
    names = {edge.partition(".")[2] for edge in edges}
    finished = tuple(dict.fromkeys(how for atom in opening.atoms for how in _finished(made, ends.get(atom, ()))))
    called = names.pop() if len(names) == 1 else " + ".join(edges)
    opened = girth + 2.0 * sum(row.long_mm for row in closures)
    return OpeningResult(called, edges, opening.half, girth, opened, finished, tuple(row.name for row in closures))


def _finished(made: Whole, ends: Sequence[Ending]) -> list[str]:
    """How an edge is finished, by what sentences say of it, or else its piece."""
    return [_how(made, end) for end in ends if end.sentence] or [end.how for end in ends]


def _how(made: Whole, end: Ending) -> str:
    """How a sentence finishes an edge: by a way of sewing, that of the seam it is in, or a closure."""
    seam = made.structure.said.seam(end.sentence)
    if seam is not None:
        return seam.sewn or ("faced" if end.how == "facing" else seam.name)
    return end.sentence


def _called(pieces: Pieces, name: str, side: int) -> str:
    """An edge by its most general name."""
    return pieces[name].said.piece.ring[side].edge


def unlike(style: CheckedStyle, made: Whole) -> Iterator[Diagnostic]:
    """Pieces cut twice alike that are sewn on the left and on the right, and are another shape turned over. Raises
    Disagreement."""
    pieces = made.structure.pieces
    for name, piece in pieces.items():
        halves = {one.half for one in made.structure.sewn for stretch in one.stretches() if stretch.edge[0] == name}
        if piece.laid is Laid.ALIKE and {"left", "right"} <= halves and not decide(alike_turned_over(piece.said.piece)):
            yield words.not_alike(style.definitions[name], name)


def _on_body(
    style: CheckedStyle, made: Whole, openings: Sequence[OpeningResult], result: BodyResult, body: Body
) -> Iterator[Diagnostic]:
    """What does not hold of the lengths on one body; of openings only where the garment hangs together."""
    yield from _strokes(style, result)
    if not made.faults:
        yield from [*_closures(style, made, openings, result)] or gets_in(style, made, openings, result, body)


def _closures(style: CheckedStyle, made: Whole, openings: Sequence[OpeningResult], result: BodyResult) -> Iterator[Diagnostic]:
    """Closures that do not end at the opening whose girth they state."""
    placed = {one.closure.name for one in made.closings}
    for row in result.specification.closures:
        girth = row.girth_mm
        if girth is None or row.name not in placed:
            continue
        halves = {one.half for one in openings if row.name in one.closures} or {"left", "right", None}  # not the hem of a leg
        near = [one for one in openings if one.half in halves and abs(one.girth_mm - girth) <= NEAR * girth]
        near.sort(key=lambda one: one.half is not None)
        if near and not any(row.name in one.closures for one in near):
            yield words.not_reached(style.definitions[row.name], row.name, near[0].name)


def _strokes(style: CheckedStyle, result: BodyResult) -> Iterator[Diagnostic]:
    """Pieces whose notches meet others of the same strokes in another order, over all their seams."""
    for piece in dict.fromkeys(one.name for one in result.pieces):
        met = [(seam, pair) for seam in result.seams for pair in _met(seam, piece)]
        ours, theirs = [mine for _, (mine, _) in met], [its for _, (_, its) in met]
        if ours != theirs and sorted(ours) == sorted(theirs):
            seam, (mine, its) = next(one for one in met if one[1][0] != one[1][1])
            left, right = (next(iter(run)) for run in (seam.left, seam.right))
            yield words.turned_round(style.definitions[seam.name], seam.name, piece, (left, right), (mine, its))
            return


def _met(seam: SeamResult, piece: str) -> list[tuple[int, int]]:
    """The strokes of the notches of a piece in a seam, each with those they meet on another piece."""
    mine = [all(edge.partition(".")[0] == piece for edge in run) for run in (seam.left, seam.right)]
    if mine[0] == mine[1]:
        return []
    pairs = [(one.left_strokes, one.right_strokes) for one in seam.notches if one.left_strokes and one.right_strokes]
    return pairs if mine[0] else [(b, a) for a, b in pairs]
