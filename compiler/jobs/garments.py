"""The garment on bodies: its openings with their girths, whether the body gets in, and what of the cloth does not go together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..assembly.faults import BESIDE, Fault
from ..assembly.order import as_said
from ..assembly.panels import Lying
from ..assembly.proof import prove
from ..assembly.whole import Whole, whole
from ..bodies.body import Body
from ..diagnostics import assembly_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..geometry.lanes import Lanes, decide, in_groups
from ..meaning.style import CheckedStyle
from ..pattern.piece import Piece
from ..pattern.turned_over import alike_turned_over
from .assembled import Assembly, in_words
from .getting_in import gets_in, limbs_get_in, runs_past
from .levels_round import LevelOnAll, levels_on_all
from .limbs import LimbOnAll, limb_on_all
from .numbers import in_unit
from .results import UNJUDGED, AssemblyResult, BodyResult, OpeningResult, SeamResult
from .rings import RingOnAll, RingOnBody, name_of, on_all, opening_result
from .zip_notches import misplaced

NEAR = 0.02
"""An opening whose girth is within this share of the girth that a closure states is taken to be as wide (ours)."""


@dataclass(frozen=True)
class _Judged:
    """The garment of bodies on which it goes together alike, by their lanes: what is wrong with it on all of them, its openings,
    from each inward, its levels, and those openings, by their numbers, that go round limbs."""

    lanes: Lanes
    made: Whole
    wrong: Sequence[Diagnostic]
    openings: Sequence[Sequence[RingOnAll]]
    levels: Sequence[LevelOnAll]
    limbs: Sequence[tuple[int, LimbOnAll]]


def garments(
    style: CheckedStyle, assembly: Assembly, pieces: Mapping[str, Piece], results: Sequence[BodyResult], bodies: Sequence[Body]
) -> list[AssemblyResult]:
    """The garment on each of some bodies that were finished together, whose pieces these are."""
    if not assembly.judged:
        return [UNJUDGED] * len(results)
    found: dict[int, AssemblyResult] = {}
    all_of = len(results)

    def judged_on(lanes: Lanes) -> _Judged:
        cloth = pieces if lanes.size == all_of else {name: piece.take(lanes) for name, piece in pieces.items()}
        return _judged(style, assembly, cloth, lanes)

    for _, judged in in_groups(all_of, judged_on):
        for k, lane in enumerate(judged.lanes.tolist()):
            found[lane] = _on(style, assembly, judged, k, results[lane], bodies[lane])
    return [found[lane] for lane in range(all_of)]


def _judged(style: CheckedStyle, assembly: Assembly, cloth: Mapping[str, Piece], lanes: Lanes) -> _Judged:
    """The garment on some of the bodies, of which this is the cloth. Raises Disagreement."""
    made = whole(prove(assembly.whole.structure.said.on(cloth)))
    more = _beyond(assembly.whole.faults, made.faults)
    openings = [on_all(cloth, rings, lanes.size) for rings in made.rings]
    found = ((number, limb_on_all(made, number, cloth, lanes.size)) for number in range(len(openings)))
    limbs = [(number, limb) for number, limb in found if limb is not None]
    levels = levels_on_all(style, made, cloth, lanes.size)
    return _Judged(lanes, made, [*in_words(style, more), *unlike(style, made)], openings, levels, limbs)


def _on(style: CheckedStyle, assembly: Assembly, judged: _Judged, k: int, result: BodyResult, body: Body) -> AssemblyResult:
    """The garment on one body, of those on which it goes together alike that of number `k`."""
    made = judged.made
    rows = {row.name: row for row in result.specification.closures}
    rings = [[one.of(k, rows) for one in inward] for inward in judged.openings]
    openings = tuple(opening_result(made, *row) for row in zip(made.laid.surface.openings, rings, strict=False))
    told = [*judged.wrong, *_on_body(style, result, body)]
    if all(one.kind in BESIDE for one in made.faults):  # openings are known only where the garment hangs together
        told += [*_closures(style, made, rings, result, body)] or _put_on(style, judged, k, openings, result, body)
    holds = assembly.holds and not any(one.is_error for one in told)
    return AssemblyResult(holds, openings, tuple(one.on(result.name) for one in told), made)


def in_order_of(seams: Sequence[SeamResult], garment: AssemblyResult) -> list[SeamResult]:
    """Seams in the order in which a garment is sewn; where it was not judged, in that which their sentences ask for."""
    names = [one.name for one in garment.whole.order] if garment.whole else as_said({one.name: one.after for one in seams})
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


def unlike(style: CheckedStyle, made: Whole) -> Iterator[Diagnostic]:
    """Pieces cut twice alike that are sewn on the left and on the right, and are another shape turned over. Raises
    Disagreement."""
    pieces = made.structure.pieces
    for name, piece in pieces.items():
        halves = {one.half for one in made.structure.sewn for stretch in one.stretches() if stretch.edge[0] == name}
        if piece.lying is Lying.ALIKE and {"left", "right"} <= halves and not decide(alike_turned_over(piece.said.piece)):
            yield words.not_alike(style.definitions[name], name)


def _on_body(style: CheckedStyle, result: BodyResult, body: Body) -> Iterator[Diagnostic]:
    """What does not hold of the lengths on one body."""
    yield from _strokes(style, result)
    yield from misplaced(style, result, body)


def _put_on(
    style: CheckedStyle, judged: _Judged, k: int, openings: Sequence[OpeningResult], result: BodyResult, body: Body
) -> list[Diagnostic]:
    """What of the body does not get into the garment."""
    fits, rows = {one.name: one for one in result.fits}, {row.name: row for row in result.specification.closures}
    levels = [there for one in judged.levels if (there := one.of(k, fits, rows)) is not None]
    in_all = gets_in(style, judged.made, openings, levels, result, body)
    return [*in_all, *limbs_get_in(style, openings, judged.limbs, k, result, body)]


def _closures(
    style: CheckedStyle, made: Whole, rings: Sequence[Sequence[RingOnBody]], result: BodyResult, body: Body
) -> Iterator[Diagnostic]:
    """Closures whose upper end is at no opening, or at one of another girth than they state, which is not of a level below."""
    say = in_unit(body.unit)
    placed = {one.closure.name for one in made.closings if one.reaches or not one.within}
    is_set_in = {one.closure.name: one.closure.set_in for one in made.closings}
    for row in (one for one in result.specification.closures if one.name in placed):
        place = style.definitions[row.name]
        there = [ring for inward in rings if row.name in inward[0].closures for ring in inward]
        if not there:
            yield words.begins_nowhere(place, row.name)
        elif row.girth_mm is not None and all(abs(one.girth_mm - row.girth_mm) > NEAR * row.girth_mm for one in there):
            near = min(there, key=lambda one: one.girth_mm)
            if row.girth_mm > near.girth_mm and runs_past(made, row.name, row.long_mm, body):
                continue
            laps = row.girth_mm < near.girth_mm and row.lapping_mm is None and not is_set_in[row.name]
            opening = name_of(made, near.atoms)
            yield words.other_girth(place, row.name, say(row.girth_mm), opening, say(near.girth_mm), laps)


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
