"""What is done to pieces before they are sewn to others: interlinings mounted, darts shut, pleats laid, gathers run, and the ends
of folded pieces turned."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from .endings import Endings, edges_of, is_beside_fold
from .panels import CutPiece, Lying, Pieces
from .said import GarmentSaid
from .step import Step


def readied(pieces: Pieces, said: GarmentSaid, ends: Endings) -> Iterator[Step]:
    """All that is done so, interlinings first."""
    for cloth, owners in _mounted(pieces).items():
        yield Step(f"{cloth} on {', '.join(owners)}", "mounted", before=dict.fromkeys(seams_of(said, owners), "mounted"))
    for name, piece in pieces.items():
        if _has_darts(said, piece):
            yield Step(f"darts of {name}", "darts", before=dict.fromkeys(seams_of(said, [name]), "shut"))
        pleated = {(name, edge) for side in piece.said.piece.ring for edge in side.folded}
        over = [one.name for one in said.seams if pleated.intersection(one.edges)]
        if over:
            yield Step(f"pleats of {name}", "pleats", before=dict.fromkeys(over, "laid"))
    for seam in said.seams:
        if seam.gathers and seam.name in (seam.sentence, f"{seam.sentence}.left"):
            edges = " + ".join(".".join(edge) for edge in dict.fromkeys(seam.left))
            both = (one.name for one in said.seams if one.sentence == seam.sentence)
            yield Step(f"gathers on {edges}", "gathers", before=dict.fromkeys(both, "gathered"))
    for name in pieces:
        yield from _turned(pieces, name, ends)


def _turned(pieces: Pieces, name: str, ends: Endings) -> Iterator[Step]:
    """The ends of a piece folded on itself that are sewn up by themselves: before the seams of the edges beside them."""
    own = [atom for atom in ends if pieces[name].lying is Lying.DOUBLED and atom.piece == name and is_beside_fold(pieces, atom)]
    shut = {atom.side for atom in own if any(one.how == "folded" for one in ends[atom])}
    beside = {number for side in shut for number in pieces[name].beside([side])}
    near = [atom for atom in ends if atom.piece == name and atom.side in beside]
    seams = [one.sentence for atom in near for one in ends[atom] if one.how == "seam"]
    if seams:
        edges = (f"{name}.{edge}" for edge in edges_of(pieces, name, shut))
        yield Step(f"ends {' + '.join(edges)}", "ends", before=dict.fromkeys(seams, "turned"))


def seams_of(said: GarmentSaid, pieces: Collection[str]) -> list[str]:
    """The seams that any of some pieces is in, as written."""
    return [one.name for one in said.seams if any(owner in pieces for owner, _ in one.edges)]


def _mounted(pieces: Pieces) -> dict[str, list[str]]:
    """The pieces that are cut in another cloth besides, which is mounted on them, as an interlining; by that cloth."""
    found: dict[str, list[str]] = {}
    for name, piece in pieces.items():
        for cloth in dict.fromkeys(cut.cloth for cut in piece.said.cuts if cut.cloth != piece.cut.cloth):
            found.setdefault(cloth, []).append(name)
    return found


def _has_darts(said: GarmentSaid, piece: CutPiece) -> bool:
    """Whether any dart of a piece is shut by itself, and is no seam that a sentence tells of."""
    sewn = {edge for one in said.seams for owner, edge in one.edges if owner == piece.said.name}
    cloth = piece.said.piece
    legs = [set(dart.leg_names) for dart in cloth.darts]
    legs += [{name for side in hole.sides for name in side.names} for hole in cloth.holes]
    return any(not sewn & names for names in legs)
