"""Whether a style makes one garment: what is proved of its names and their order, without a body."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..pattern.piece import Piece
from .endings import Endings, Loose, endings, facings, loose, lying_with
from .faults import Fault
from .panels import Atom, Laid, Pieces
from .said import GarmentSaid
from .sewn import Sewn, Stretch, atoms, sewn
from .spare import spare
from .ways import Meeting, Way, laid, meetings


@dataclass(frozen=True)
class Structure:
    """The panels of a garment, its seams as often as they are sewn, how every edge ends, which end in nothing, the parts it comes
    to, and what else is wrong with these. `ways` are those to lay each seam that its names leave; `may_lie` the edges of facings
    that in one of several ways lie with an edge that ends."""

    pieces: Pieces
    said: GarmentSaid
    sewn: tuple[Sewn, ...]
    ways: Mapping[str, list[Way]]
    meetings: tuple[Meeting, ...]
    inside: frozenset[str]
    endings: Endings
    may_lie: frozenset[Atom]
    loose: tuple[Loose, ...]
    parts: tuple[frozenset[tuple[str, int]], ...]
    faults: tuple[Fault, ...]


def prove(said: GarmentSaid) -> Structure:
    """The structure of a garment with what is wrong with it."""
    pieces = Pieces.of(said.pieces)
    ways = laid(sketches(pieces), said.seams)
    made, wrong = sewn(pieces, said.seams)
    met = list(meetings(pieces, made, ways))
    inside = facings(pieces, made)
    ends = endings(pieces, said, made, met, inside)
    free, whole = loose(pieces, ends, met), parts(pieces, made)
    faults = [
        *wrong,
        *_ended(pieces, said, ends),
        *_apart(pieces, whole, wrong),
        *_not_fastened(pieces, ends),
        *_sewn_shut(pieces, made, ends),
        *([] if wrong else spare(pieces, made, ends)),
    ]
    may = frozenset(atom for atom, _ in lying_with(_if_laid(pieces, made, ways), said, inside, ends))
    return Structure(pieces, said, tuple(made), ways, tuple(met), inside, ends, may, tuple(free), tuple(whole), tuple(faults))


def _if_laid(pieces: Pieces, made: Sequence[Sewn], ways: Mapping[str, list[Way]]) -> Iterator[Meeting]:
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


# ---- one garment -----------------------------------------------------------------------------------


def parts(pieces: Pieces, made: Sequence[Sewn]) -> list[frozenset[tuple[str, int]]]:
    """The panels, by piece and number, that seams of any kind hold together; the largest part first."""
    group = {(name, n): (name, n) for name, piece in pieces.items() for n in range(piece.count)}

    def first(panel: tuple[str, int]) -> tuple[str, int]:
        while group[panel] != panel:
            panel = group[panel]
        return panel

    for seam in made:
        panels = [(stretch.edge[0], layer.panel) for stretch in seam.stretches() for layer in stretch.layers]
        for panel in panels[1:]:
            group[first(panel)] = first(panels[0])
    found: dict[tuple[str, int], set[tuple[str, int]]] = {}
    for panel in group:
        found.setdefault(first(panel), set()).add(panel)
    return sorted((frozenset(one) for one in found.values()), key=len, reverse=True)


def _apart(pieces: Pieces, whole: Sequence[frozenset[tuple[str, int]]], wrong: Sequence[Fault]) -> list[Fault]:
    """Pieces that are sewn to nothing of the rest."""
    told = {owner for fault in wrong for owner, _ in fault.of}
    found = {}
    for part in whole[1:]:
        names = tuple(dict.fromkeys(name for name in pieces if name in {one for one, _ in part}))
        if not any(pieces[name].said.apart or name in told for name in names):
            found[names] = Fault("two_things", (names[0],), pieces=names, counts=(len(whole),))
    return list(found.values())


def _not_fastened(pieces: Pieces, endings: Endings) -> list[Fault]:
    """Doubled pieces both of whose ends are turned in, one of which nothing fastens."""
    found = list[str]()
    for name, piece in pieces.items():
        ends = [(atom, how) for atom, how in endings.items() if atom.piece == name]
        turned = {atom.side for atom, how in ends if any(one.how == "folded" for one in how)}
        turned |= {atom.side for atom, how in ends if not any(one.how == "seam" for one in how) and piece.is_buttoned(atom)}
        held = {atom.side for atom, how in ends if piece.is_buttoned(atom) or any(one.how == "closure" for one in how)}
        if piece.laid is Laid.DOUBLED and len(turned) > 1 and turned - held:
            found.append(name)
    return [Fault("not_fastened", tuple(found), pieces=tuple(found))] if found else []


def _sewn_shut(pieces: Pieces, made: Sequence[Sewn], ends: Endings) -> list[Fault]:
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
