"""Whether a style makes one garment: what is proved of its names and their order, without a body."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..pattern.ends import body_side, plain
from ..pattern.piece import Piece
from .endings import Endings, Loose, edges_of, endings, facings, loose
from .faults import Fault
from .panels import Atom, CutPiece, Laid, Pieces
from .said import GarmentSaid
from .sewn import Sewn, sewn
from .ways import Meeting, Way, laid, meetings


@dataclass(frozen=True)
class Structure:
    """The panels of a garment, its seams as often as they are sewn, how every edge ends, which end in nothing, the parts it comes
    to, and what else is wrong with these. `ways` are those to lay each seam that its names leave."""

    pieces: Pieces
    said: GarmentSaid
    sewn: tuple[Sewn, ...]
    ways: Mapping[str, list[Way]]
    meetings: tuple[Meeting, ...]
    inside: frozenset[str]
    endings: Endings
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
    ]
    return Structure(pieces, said, tuple(made), ways, tuple(met), inside, ends, tuple(free), tuple(whole), tuple(faults))


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


def in_nothing(structure: Structure, groups: Sequence[Loose]) -> list[Fault]:
    """Edges that end in nothing, those of one cause as one; where the seam that names them cannot be sewn, that is told."""
    pieces, told = structure.pieces, {edge for fault in structure.faults for edge in _sides(structure.pieces, fault)}
    found: dict[object, Fault] = {}
    for one in groups:
        if all((atom.piece, atom.side) in told for atom in one.atoms):
            continue
        twin = _twin_in(pieces, one, structure.endings) if one.half is not None else ""
        across = None if twin else _lies_on(one, structure)
        fault = Fault("ends_in_nothing", (one.edges[0][0],), one.edges, half=one.half, twin_in=twin)
        if across is not None:
            edge = across[0].piece, edges_of(pieces, across[0].piece, {across[0].side})[0]
            fault = replace(fault, across=edge, across_in=across[1])
        same = (cause for cause, known in found.items() if set(known.edges) & set(fault.edges))
        cause = fault.across_in.partition(".")[0] or next(same, one)
        known = found.get(cause)
        edges = dict.fromkeys((*known.edges, *fault.edges)) if known else fault.edges
        half = fault.half if known is None or known.half == fault.half else None
        found[cause] = replace(known or fault, edges=tuple(edges), half=half)
    return list(found.values())


def _twin_in(pieces: Pieces, one: Loose, ends: Endings) -> str:
    """The seam of the same edge on the other half of the wearer, "" where that is in none."""
    first = one.atoms[0]
    piece = pieces[first.piece]
    for atom, how in ends.items():
        same = atom.piece == first.piece and atom.side == first.side and piece.half(atom) != one.half
        if same or _is_twin(piece, first, atom):
            return next((end.sentence for end in how if end.how == "seam"), "")
    return ""


def _is_twin(piece: CutPiece, one: Atom, two: Atom) -> bool:
    """Whether two sides of a whole piece are one edge on both halves."""
    if one.piece != two.piece or body_side(piece.side(one)) in (None, body_side(piece.side(two))):
        return False
    return body_side(piece.side(two)) is not None and plain(piece.side(one).names[-1]) == plain(piece.side(two).names[-1])


def _lies_on(one: Loose, structure: Structure) -> tuple[Atom, str] | None:
    """The sewn edge on which the free edge of a facing lies, and its seam."""
    inside = structure.inside
    for meeting in structure.meetings:
        for here, there in ((0, 1), (1, 0)):
            across = meeting.beside[there]
            if meeting.beside[here] in one.atoms and meeting.own[here].piece in inside and across is not None:
                seam = next((end.sentence for end in structure.endings[across] if end.how == "seam"), "")
                if seam and across.piece not in inside:
                    return across, seam
    return None


def _sides(pieces: Pieces, fault: Fault) -> set[tuple[str, int]]:
    return {(owner, i) for owner, edge in fault.of for i in pieces[owner].along(edge)}


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
    found = []
    for name, piece in pieces.items():
        ends = [(atom, how) for atom, how in endings.items() if atom.piece == name]
        turned = {atom.side for atom, how in ends if any(one.how == "folded" for one in how)}
        turned |= {atom.side for atom, how in ends if not any(one.how == "seam" for one in how) and _has_buttons(piece, atom)}
        held = {atom.side for atom, how in ends if _has_buttons(piece, atom) or any(one.how == "closure" for one in how)}
        if piece.laid is Laid.DOUBLED and len(turned) > 1 and turned - held:
            found.append(Fault("not_fastened", (name,), pieces=(name,)))
    return found


def _has_buttons(piece: CutPiece, atom: Atom) -> bool:
    return bool(piece.said.buttoned.intersection(piece.side(atom).names))
