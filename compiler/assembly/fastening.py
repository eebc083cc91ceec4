"""What is a step of sewing beside the seams: closures, buttons, interlinings, darts, hems and other edges; after which seams
they come, before which, and of a closure whether it is set in in the round."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from .closures import Closing
from .endings import Endings, How
from .groups import Groups
from .panels import Atom, CutPiece
from .said import GarmentSaid, SewingSaid
from .surface import Corner, Glued, Outline, Surface, end_of, panels_of
from .ways import Meeting

Fastening = Literal["closure", "buttons", "mounted", "darts", "hem", "edges"]

WhyFastened = Literal["set_into", "closes_over", "covers", "finished", "mounted", "shut"]
"""A closure comes after the seam it is set into, and after one its run goes on over; before the seam that covers its end;
buttons and hems
after all that their piece is sewn in; what is mounted on it, and darts, before."""


At = Mapping[Corner, Sequence[Atom]]
"""By each corner the sides that end in it, on all panels that meet there."""


@dataclass(frozen=True)
class Step:
    """A closure, or buttons, interlinings, darts or hems of pieces: the seams it comes after, and those it comes before, with the
    reason."""

    name: str
    kind: Fastening
    after: Mapping[str, WhyFastened] = field(default_factory=dict)
    before: Mapping[str, WhyFastened] = field(default_factory=dict)


def steps(
    outline: Outline,
    said: GarmentSaid,
    ends: Endings,
    made: Surface,
    closings: Sequence[Closing],
    met: Sequence[Meeting],
) -> Iterator[Step]:
    """The closures that are set in, as written, then buttons, interlinings, darts and hems piece by piece, then other edges;
    of two that come after the same seam the later one here is done first."""
    there = _by_corner(outline, made) if closings else {}
    for closure in (one for one in said.closures if one.set_in):
        own, over, covers = (dict[str, None]() for _ in range(3))
        for one in (each for each in closings if each.closure.name == closure.name):
            own |= dict.fromkeys(([closure.seam] if closure.seam else []) + _names(ends, (atom for atom, _ in one.run), "seam"))
            over |= dict.fromkeys(_gone_over(outline, ends, made, there, one))
            covers |= dict.fromkeys(_covering(outline, ends, made, there, one))
        after: dict[str, WhyFastened] = {**dict.fromkeys(over, "closes_over"), **dict.fromkeys(own, "set_into")}
        yield Step(closure.name, "closure", after, dict.fromkeys((name for name in covers if name not in after), "covers"))
    for closure in said.closures:
        edged = dict.fromkeys(owner for owner, _ in closure.edges)
        if not closure.set_in and closure.is_bought and not any(said.pieces[one].fastenings for one in edged):
            yield Step(closure.name, "buttons", dict.fromkeys(_seams_of(said, edged), "finished"))
    for name, piece in outline.pieces.items():
        if piece.said.fastenings:
            seams = _seams_of(said, [name])
            yield Step(f"{' and '.join(piece.said.fastenings)} of {name}", "buttons", dict.fromkeys(seams, "finished"))
    for cloth, owners in _mounted(outline).items():
        yield Step(f"{cloth} on {', '.join(owners)}", "mounted", before=dict.fromkeys(_seams_of(said, owners), "mounted"))
    for name, piece in outline.pieces.items():
        if _has_darts(said, piece):
            yield Step(f"darts of {name}", "darts", before=dict.fromkeys(_seams_of(said, [name]), "shut"))
    for hemmed in dict.fromkeys(_hemmed(outline, way) for way in said.sewing):
        if hemmed:
            yield Step(f"hem of {', '.join(hemmed)}", "hem", dict.fromkeys(_seams_of(said, hemmed), "finished"))
    for way in said.sewing:
        held = dict.fromkeys(owner for owner, _ in way.on)
        over = dict.fromkeys([] if _hemmed(outline, way) else _run_over(way, ends, met))
        if over:
            yield Step(f"{way.name} of {', '.join(held)}", "edges", dict.fromkeys(over, "finished"))


def _run_over(way: SewingSaid, ends: Endings, met: Sequence[Meeting]) -> Iterator[str]:
    """The seams over which the edges of a way of sewing run on from one piece to the next, as those of a slit over the seams it
    lies between: it comes after these. Of other edges nothing tells when they are done."""
    for one in met:
        if one.own[0].piece == one.own[1].piece:  # the ring of a binding, which is turned over what it is sewn to
            continue
        both = [ends.get(atom, ()) if atom is not None else () for atom in one.beside]
        if all(any(end.how == "way" and end.sentence == way.name for end in found) for found in both):
            yield one.seam.name


def _mounted(outline: Outline) -> dict[str, list[str]]:
    """The pieces that are cut in another cloth besides, which is mounted on them, as an interlining; by that cloth."""
    found: dict[str, list[str]] = {}
    for name, piece in outline.pieces.items():
        for cloth in dict.fromkeys(cut.cloth for cut in piece.said.cuts if cut.cloth != piece.cut.cloth):
            found.setdefault(cloth, []).append(name)
    return found


def _seams_of(said: GarmentSaid, pieces: Collection[str]) -> list[str]:
    return [one.name for one in said.seams if any(owner in pieces for owner, _ in one.edges)]


def _has_darts(said: GarmentSaid, piece: CutPiece) -> bool:
    """Whether any dart of a piece is shut by itself, and is no seam that a sentence tells of."""
    sewn = {edge for one in said.seams for owner, edge in one.edges if owner == piece.said.name}
    cloth = piece.said.piece
    legs = [set(dart.leg_names) for dart in cloth.darts]
    legs += [{name for side in hole.sides for name in side.names} for hole in cloth.holes]
    return any(not sewn & names for names in legs)


def _hemmed(outline: Outline, way: SewingSaid) -> tuple[str, ...]:
    """The pieces on which there are edges of a way of sewing, if it holds any that is turned up."""
    pieces = {owner: outline.pieces[owner] for owner, _ in way.on}
    sides = ((pieces[owner].said, pieces[owner].said.piece.ring[i]) for owner, edge in way.on for i in pieces[owner].along(edge))
    return tuple(pieces) if any(said.hemmed & set(side.names) for said, side in sides) else ()


def _names(ends: Endings, atoms: Iterable[Atom], *hows: How) -> list[str]:
    return [end.sentence for atom in atoms for end in ends.get(atom, ()) if end.how in hows]


def _gone_over(outline: Outline, ends: Endings, made: Surface, there: At, one: Closing) -> Iterator[str]:
    """The seams over which the run of a closure goes on from one piece to the next."""
    for (a, forward), (b, _) in itertools.pairwise(one.run):
        if a.piece != b.piece:
            yield from _names(ends, there[made.at(outline, end_of((a, forward), True))], "seam")


def _covering(outline: Outline, ends: Endings, made: Surface, there: At, one: Closing) -> Iterator[str]:
    """The seams on the edges at which a closure comes out at an opening; not those on its own edges, as that of a fly facing,
    which is sewn on before or after as is the custom."""
    for k, is_open in zip((0, -1), one.open_at, strict=True):
        for atom in there[made.at(outline, end_of(one.run[k], bool(k)))] if is_open else ():
            if not any(end.sentence in (one.closure.name, one.closure.seam) for end in ends.get(atom, ())):
                yield from _names(ends, [atom], "seam", "facing")


def _by_corner(outline: Outline, made: Surface) -> At:
    found: dict[Corner, list[Atom]] = {}
    for atom in outline.atoms:
        for corner in dict.fromkeys(made.at(outline, (atom, end)) for end in (0, 1)):
            found.setdefault(corner, []).append(atom)
    return found


def in_the_round(glued: Sequence[Glued], step: Step, done: Collection[str]) -> bool | None:
    """Whether a closure is set in where the cloth is a tube by then: of two panels, that something joins them besides the seam it
    is set into; of a slit in one, that seams lead from this back to it. None of one that lies on no outer cloth."""
    own = {step.name, *(name for name, why in step.after.items() if why == "set_into")}
    across = {
        ((a.piece, a.panel), (b.piece, b.panel))
        for one in glued
        if one.seam.name in own
        for (a, _), (b, _) in zip(one.left, one.right, strict=False)
    }
    if not across:
        return None
    sewn = [panels_of(one) for one in glued if one.seam.name in done and one.seam.name not in own]
    return any(_joined(sewn, *pair) for pair in across)


def _joined(sewn: Sequence[Sequence[tuple[str, int]]], one: tuple[str, int], two: tuple[str, int]) -> bool:
    """Whether seams, each by its panels, join two panels, or lead from one back to itself."""
    if one != two:
        groups = Groups([one, two]).join_all(sewn)
        return groups.first(one) == groups.first(two)
    groups = Groups([one]).join_all(seam for seam in sewn if one not in seam)
    beside = [groups.first(panel) for seam in sewn if one in seam for panel in seam if panel != one]
    return len(set(beside)) < len(beside) or any(seam == [one] for seam in sewn)
