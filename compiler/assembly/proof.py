"""Whether a style makes one garment: what is proved of its names and their order, without a body."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..pattern.covers import HALVES, Half
from ..pattern.piece import Piece
from ..pattern.which_ends import Name
from .endings import Endings, Loose, edges_of, endings, facings, is_beside_fold, loose
from .faults import Fault
from .groups import Groups
from .openings import sewn_over
from .panels import Atom, Lying, Pieces
from .said import GarmentSaid
from .sewn import SewnOnce, Stretch, atoms, laid_open, sewn
from .spare import spare
from .ways import Meeting, Way, meetings, ways_of


@dataclass(frozen=True)
class Structure:
    """The panels of a garment, its seams as often as they are sewn, how every edge ends, which end in nothing, the parts it comes
    to, and what else is wrong with these. `ways` are those to lay each seam that its names leave."""

    pieces: Pieces
    said: GarmentSaid
    sewn: tuple[SewnOnce, ...]
    ways: Mapping[str, list[Way]]
    meetings: tuple[Meeting, ...]
    inside: frozenset[str]
    endings: Endings
    loose: tuple[Loose, ...]
    parts: tuple[frozenset[tuple[str, int]], ...]
    faults: tuple[Fault, ...]

    def beside(self, atom: Atom) -> list[Atom]:
        """The sides of the cloth, or of the half of a fold, that a side is of."""
        return self._by_cloth[atom.piece, atom.panel, atom.copy]

    @cached_property
    def _by_cloth(self) -> Mapping[tuple[str, int, int], list[Atom]]:
        found: dict[tuple[str, int, int], list[Atom]] = {}
        for one in self.endings:
            found.setdefault((one.piece, one.panel, one.copy), []).append(one)
        return found


def prove(said: GarmentSaid) -> Structure:
    """The structure of a garment with what is wrong with it."""
    pieces = laid_open(Pieces.of(said.pieces), said.seams)
    ways = ways_of(sketches(pieces), said.seams)
    made, wrong = sewn(pieces, said.seams)
    met = list(meetings(pieces, made, ways))
    inside = facings(pieces, made)
    ends = endings(pieces, said, made, [*met, *_if_laid(pieces, made, ways)], inside)
    free, whole = loose(pieces, ends, met), parts(pieces, made)
    shut = sewn_over(pieces, said, made)
    faults = [
        *wrong,
        *shut,
        *_beside(shut, _ended(pieces, said, ends)),
        *_apart(pieces, said, whole, wrong),
        *_not_fastened(pieces, made, ends),
        *_sewn_shut(pieces, made, ends),
        *_hems(pieces, said, ends),
        *_not_bought(said),
        *_exchanged(pieces, made, inside, ends),
        *([] if wrong or free else spare(pieces, made, ends)),  # which follows from an edge in nothing
    ]
    return Structure(pieces, said, tuple(made), ways, tuple(met), inside, ends, tuple(free), tuple(whole), tuple(faults))


def _if_laid(pieces: Pieces, made: Sequence[SewnOnce], ways: Mapping[str, list[Way]]) -> Iterator[Meeting]:
    """The ends of the seams that names leave several ways to lay, in each of these."""
    for name, several in ways.items():
        if len(several) > 1:
            seams = [one for one in made if one.name == name]
            for way in several:
                yield from meetings(pieces, seams, {name: [way]})


def sketches(pieces: Pieces) -> dict[str, Piece]:
    return {name: piece.said.piece for name, piece in pieces.items()}


# ---- every edge ends in one way ------------------------------------------------------------------


def _ended(pieces: Pieces, said: GarmentSaid, ends: Endings) -> list[Fault]:
    """Edges that end in more than one way, each cause once."""
    found: dict[tuple[object, ...], Fault] = {}
    for atom, ways in ends.items():
        seams = list(dict.fromkeys(end.sentence for end in ways if end.how == "seam"))
        edge = (atom.piece, _edge_in(pieces, said, atom, seams))
        seams = [name for name in seams if not _is_caught(said, name, seams)]
        if len(seams) > 1:
            found.setdefault(("twice", edge, *seams), Fault("sewn_twice", tuple(seams), (edge,)))
        other = next((end.sentence for end in ways if end.how == "way"), "")
        if seams and other:
            found.setdefault((other, edge), Fault("seam_and_hem", (other, seams[0]), (edge,)))
        if seams and any(end.how == "unsewn" for end in ways):
            found.setdefault(("unsewn", edge), Fault("seam_and_hem", (seams[0],), (edge,)))
    return list(found.values())


def _beside(shut: Sequence[Fault], ended: Sequence[Fault]) -> list[Fault]:
    """Edges that end in more than one way, but for the opening of which it is told that a seam shuts it."""
    seams = {(one.sentences[0], owner) for one in shut for owner, _ in one.edges}
    return [one for one in ended if not any((name, one.edges[0][0]) in seams for name in one.sentences)]


def _edge_in(pieces: Pieces, said: GarmentSaid, atom: Atom, seams: Sequence[str]) -> str:
    """What a side is called in the first of some seams, else its own name."""
    names = pieces[atom.piece].side(atom).names
    for name in seams:
        seam = said.seam(name)
        for owner, edge in seam.edges if seam else ():
            if owner == atom.piece and edge in names:
                return edge
    return names[0]


def _is_caught(said: GarmentSaid, name: str, seams: Sequence[str]) -> bool:
    """Whether an edge that is in some seams is laid on in one of these and caught in another."""
    seam = said.seam(name)
    return seam is not None and any(other in seam.caught_in for other in seams)


def _hems(pieces: Pieces, said: GarmentSaid, ends: Endings) -> list[Fault]:
    """Edges that are turned up, and no way of sewing says how they are sewn: all one fault."""
    sides: dict[str, set[int]] = {}
    for atom, found in ends.items():
        if found and all(end.how == "hem" for end in found):
            sides.setdefault(atom.piece, set()).add(atom.side)
    edges = tuple((name, edge) for name, own in sides.items() for edge in edges_of(pieces, name, own))
    return [Fault("hem_not_sewn", (edges[0][0], *said.idle[:1]), edges)] if edges else []


def _not_bought(said: GarmentSaid) -> list[Fault]:
    """Closures and buttons of a style that buys nothing to close them, and closures that name nothing of what it buys."""
    buttoned = [one.name for one in said.pieces.values() if one.fastenings]
    names = [one.name for one in said.closures] or buttoned
    if names and not said.fasteners:
        return [Fault("no_trim", tuple(names), pieces=() if said.closures else tuple(names))]
    open_ = tuple(one.name for one in said.closures if not one.is_bought)
    return [Fault("not_closed_by", open_)] if open_ else []


def _exchanged(pieces: Pieces, made: Sequence[SewnOnce], inside: frozenset[str], ends: Endings) -> list[Fault]:
    """Facings of a front that finish the edge of a back alone, or the other way round; that they are as long does not tell. An
    edge that is in a seam besides is not finished by them. All one fault."""
    found: dict[str, tuple[Name, Name]] = {}
    for seam in made:
        for run, across in ((seam.left, seam.right), (seam.right, seam.left)):
            facing, outer = ({one.edge[0] for one in side} for side in (run, across))
            halves = [frozenset(_half(pieces[name].said.piece) for name in names) for names in (facing, outer)]
            faces = facing <= inside and not outer & inside and not _seams_of(ends, atoms(pieces, across))
            if faces and set(halves) == OPPOSITE:
                found.setdefault(seam.name, (run[0].edge, across[0].edge))
    edges = tuple(edge for both in found.values() for edge in both)
    unsaid = (owner for owner, _ in edges[::2] if not pieces[owner].said.piece.inside)
    return [Fault("exchanged", tuple(found), edges, pieces=tuple(dict.fromkeys(unsaid)))] if found else []


OPPOSITE: set[frozenset[Half | None]] = {frozenset(("front",)), frozenset(("back",))}


def _half(piece: Piece) -> Half | None:
    return HALVES.get(piece.covers) if piece.covers else None


# ---- one garment -----------------------------------------------------------------------------------


def parts(pieces: Pieces, made: Sequence[SewnOnce]) -> list[frozenset[tuple[str, int]]]:
    """The panels, by piece and number, that seams of any kind hold together; the largest part first."""
    groups = Groups((name, n) for name, piece in pieces.items() for n in range(piece.count))
    groups.join_all([(one.edge[0], layer.panel) for one in seam.stretches() for layer in one.layers] for seam in made)
    return sorted(map(frozenset, groups.rows()), key=len, reverse=True)


def _apart(
    pieces: Pieces, said: GarmentSaid, whole: Sequence[frozenset[tuple[str, int]]], wrong: Sequence[Fault]
) -> list[Fault]:
    """Pieces that are sewn to nothing of the rest, with those of their own seams that are caught in another."""
    told = {owner for fault in wrong for owner, _ in fault.of}
    found = {}
    for part in whole[1:]:
        names = tuple(dict.fromkeys(name for name in pieces if name in {one for one, _ in part}))
        if not any(pieces[name].said.apart or name in told for name in names):
            caught = [one.name for one in said.seams if one.caught_in and {owner for owner, _ in one.edges} <= set(names)]
            found[names] = Fault("two_things", (names[0], *caught), pieces=names, counts=(len(whole),))
    return list(found.values())


def _not_fastened(pieces: Pieces, made: Sequence[SewnOnce], endings: Endings) -> list[Fault]:
    """Ends of doubled pieces that are turned in and that nothing fastens, where the other end is turned in too, or is the one
    with the buttons, and sewn to something."""
    shut = {one.name for one in made if one.seam.left == one.seam.right}
    found: dict[Name, None] = {}
    for name, piece in pieces.items():
        ends = {atom: how for atom, how in endings.items() if atom.piece == name and is_beside_fold(pieces, atom)}
        free = {atom for atom, how in ends.items() if not any(one.how == "seam" and one.sentence not in shut for one in how)}
        inward = {atom.side for atom in free if any(one.how in ("folded", "seam") for one in ends[atom])}
        held = {atom.side for atom in free if piece.is_buttoned(atom) or any(one.how == "closure" for one in ends[atom])}
        buttoned = {atom.side for atom in ends if piece.is_buttoned(atom)}
        if piece.lying is Lying.DOUBLED and len(inward | buttoned) > 1:
            found |= dict.fromkeys((name, edge) for side in sorted(inward - held) for edge in edges_of(pieces, name, {side}))
    owners = dict.fromkeys(name for name, _ in found)
    return [Fault("not_fastened", tuple(owners), tuple(found), pieces=tuple(owners))] if found else []


def _sewn_shut(pieces: Pieces, made: Sequence[SewnOnce], ends: Endings) -> list[Fault]:
    """Bags whose two layers, sewn to each other, both lie on one side of a part of a seam, so that none is on the other side."""
    bags = {one.left[0].edge[0] for one in made if one.seam.left == one.seam.right and one.left != one.right}
    found: dict[str, Fault] = {}
    for seam in made:
        for run, across in ((seam.left, seam.right), (seam.right, seam.left)):
            layered = len(run) == 1 and run[0].edge[0] in bags and len(run[0].layers) > 1
            sewn_in = _seams_of(ends, atoms(pieces, across)) - {seam.name} if layered else set()
            for name in sorted(sewn_in):
                if _seams_of(ends, _rest(pieces, across)) & {name}:
                    found.setdefault(seam.name, Fault("sewn_shut", (seam.name, name), (run[0].edge, across[0].edge)))
    return list(found.values())


def _seams_of(ends: Endings, sides: Sequence[Atom]) -> set[str]:
    return {end.sentence for atom in sides for end in ends.get(atom, ()) if end.how == "seam"}


def _rest(pieces: Pieces, run: Sequence[Stretch]) -> list[Atom]:
    """The sides beside those of a run."""
    sides = set(atoms(pieces, run))
    beside = (replace(atom, side=number) for atom in sides for number in pieces[atom.piece].beside([atom.side]))
    return [atom for atom in beside if atom not in sides]
