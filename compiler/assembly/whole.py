"""The garment as a whole: laid out as one surface, its openings, its closures, the order in which it is sewn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .closures import Closing, closings, reaching_nothing, shut, unsaid
from .endings import Loose, of_sides
from .facing_shut import facings_shut, facings_whole
from .fastening import steps
from .faults import BESIDE, Fault
from .laying import Laid, lay
from .nothing import idle, in_nothing, told_once
from .order import Place, sewing_order
from .proof import Structure
from .readied import readied
from .rings import Ring, rings
from .said import GarmentSaid
from .sewn import atoms
from .strips import open_rings
from .surface import Outline
from .turning_out import closed_bags
from .ways import joints, meetings, met_within


@dataclass(frozen=True)
class Whole:
    """A garment laid out. `sure` is whether every seam is laid in a way that is known; `faults` is all that is wrong
    with it; `rings`, of each opening, are that and those further in through which must go what goes through it."""

    structure: Structure
    outline: Outline
    laid: Laid
    closings: tuple[Closing, ...]
    rings: tuple[tuple[Ring, ...], ...]
    order: tuple[Place, ...]
    sure: bool
    faults: tuple[Fault, ...]


def whole(structure: Structure) -> Whole:
    """Lay out a garment."""
    said, pieces = structure.said, structure.pieces
    laid_on = _laid_on(structure)
    outline = Outline(pieces, structure.inside | laid_on, _bags(structure))
    closed, closed_ways = shut(pieces, said, structure.sewn, structure.endings)
    ways = {**structure.ways, **{name: [way] for name, way in closed_ways.items()}}
    known = {name: one for name, one in ways.items() if len(one) == 1}
    told = not _sketched(said) or len(known) == len(ways)
    laid = lay(outline, [*structure.sewn, *closed], ways if told else known)
    found = closings(outline, said, laid.surface)
    sure = told and not laid.untried
    chosen = laid.ways if sure else {name: way for name, (way,) in known.items()}
    met = list(meetings(pieces, laid.sewn, {name: [way] for name, way in chosen.items()}))
    over = list(joints(pieces, laid.sewn, chosen))
    done = list(readied(pieces, said, structure.endings))
    done += steps(outline, said, structure.endings, laid.surface, found, met, laid_on)
    order, wrong = sewing_order(structure, met, over, done, (outline, laid.surface.glued))
    free = in_nothing(structure, _of_one_cause(structure, laid))
    faults = [*told_once(structure.faults, free), *wrong, *unsaid(said, structure.sewn)]
    hangs_together = not free and all(one.kind in BESIDE for one in structure.faults)
    if sure and hangs_together:  # what follows from what ends in nothing, or cannot be sewn, is not told as well
        within = met_within(pieces, laid.sewn, chosen)
        of_cloth = []
        if not _sketched(said):
            of_cloth = facings_shut(structure, laid.surface, found, [*met, *within])
            of_cloth += facings_whole(structure, laid.surface, found, met)
            of_cloth += open_rings(outline, structure.endings, laid.surface)
            of_cloth += closed_bags(structure, laid_on)
        faults += [*_laid_wrong(laid)] or [*reaching_nothing(said, found), *of_cloth]
    faults += idle(said, faults)
    numbers = () if _sketched(said) else range(len(laid.surface.openings))
    inward = [tuple(rings(structure, outline, laid, found, number)) for number in numbers]
    return Whole(structure, outline, laid, tuple(found), tuple(inward), tuple(order), sure, tuple(faults))


def _sketched(said: GarmentSaid) -> bool:
    return any(one.piece.is_sketch for one in said.pieces.values())


def _laid_on(structure: Structure) -> frozenset[str]:
    """The pieces that are sewn on inside the outline of another, as a pocket or a placket is, or caught in a seam of others."""
    found: set[str] = set()
    for seam in structure.sewn:
        for run, across in ((seam.left, seam.right), (seam.right, seam.left)):
            if across and not any(structure.pieces[owner].said.piece.run(edge) for owner, edge in (one.edge for one in across)):
                found |= {one.edge[0] for one in run} - {one.edge[0] for one in across}
    return frozenset(found | {name for name in structure.pieces if _is_caught(structure.said, name)})


def _is_caught(said: GarmentSaid, name: str) -> bool:
    """Whether a piece is held by nothing but seams of others in which it is caught, as a loop or a tie."""
    holding = [one for one in said.seams if name in (owners := {owner for owner, _ in one.edges}) and len(owners) > 1]
    caught = {other for one in holding for other in one.caught_in}
    into = [one for other in caught if (one := said.seam(other)) is not None]
    by_others = all(owner != name for one in into for owner, _ in one.edges)
    return bool(holding) and all(one.caught_in for one in holding) and by_others


def _bags(structure: Structure) -> frozenset[str]:
    """The pieces whose two layers are sewn to each other and each to an edge that nothing else is sewn to, as the bag of a pocket
    between two seams: they go on from the one edge to the other."""
    shut = {one.left[0].edge[0] for one in structure.sewn if one.seam.left == one.seam.right and one.left != one.right}
    beside: dict[str, list[bool]] = {}
    for seam in structure.sewn:
        for run, across in ((seam.left, seam.right), (seam.right, seam.left)):
            if len(run) == 1 and run[0].edge[0] in shut and seam.seam.left != seam.seam.right:
                ends = [structure.endings.get(atom, ()) for atom in atoms(structure.pieces, across)]
                alone = bool(ends) and all(sum(one.how in ("seam", "facing") for one in how) == 1 for how in ends)
                beside.setdefault(run[0].edge[0], []).append(len(run[0].layers) == 1 and alone)
    return frozenset(name for name, found in beside.items() if all(found) and name not in structure.inside)


def _of_one_cause(structure: Structure, laid: Laid) -> list[Loose]:
    """What ends in nothing, one group for what follows each other round an opening."""
    groups = [*structure.loose]
    for opening in laid.surface.openings:
        ring = opening.atoms
        for one, two in zip(ring, (*ring[1:], ring[0]), strict=True):
            both = [next((group for group in groups if atom in group.atoms), None) for atom in (one, two)]
            if both[0] is not None and both[1] is not None and both[0] is not both[1]:
                made = of_sides(structure.pieces, [*both[0].atoms, *both[1].atoms])
                groups = [group for group in groups if group is not both[1]]
                groups[groups.index(both[0])] = made
    return groups


def _laid_wrong(laid: Laid) -> Iterator[Fault]:
    """What does not fit together of a garment laid out, the causes first; what follows from one is not told as well."""
    unmet = {one.name: (a.edge, b.edge) for one, a, b in laid.surface.unmet}
    for name, edges in unmet.items():
        yield Fault("unmet", (name,), edges)
    twisted = {one.name: one.seam for one in laid.faces.clashes}
    if twisted and not unmet:
        pieces = (owner for seam in twisted.values() for owner, _ in seam.edges)
        yield Fault("twist", tuple(twisted), pieces=tuple(dict.fromkeys(pieces)))
    if unmet or twisted:
        return
    for wrong in laid.wrong:
        both = wrong.wrong, wrong.right
        yield Fault("wrong_name" if wrong.only_named else "wrong_hand", both, pieces=both)
    if laid.sewn and (laid.surface.handles is None or laid.surface.handles % 1.0):
        yield Fault("no_sheet", (next((one for one in laid.sewn if one.may_turn), laid.sewn[0]).name,))
