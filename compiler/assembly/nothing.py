"""What ends in nothing, one fault for one cause: the edges that one missing sentence leaves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..pattern.darts import is_open_below
from ..pattern.ends import body_side, plain
from ..pattern.which_ends import Name
from .endings import Endings, Loose, edges_of
from .faults import Fault
from .groups import Groups
from .panels import Atom, CutPiece, Pieces
from .proof import Structure
from .said import GarmentSaid

SAME_SENTENCE, SAME_WAY = 3, 1
"""How much it speaks for two loose edges as the two sides of one seam that what stands beside them ends in one sentence, or in
the same way."""


@dataclass(frozen=True)
class _Edges:
    """Edges that end in nothing: the fault they would be, their sides, and what stands beside these."""

    fault: Fault
    atoms: tuple[Atom, ...]
    beside: Counter[tuple[str, str]]


def in_nothing(structure: Structure, groups: Sequence[Loose]) -> list[Fault]:
    """Edges that end in nothing, those of one cause as one; where the seam that names them cannot be sewn, that is told."""
    told = {side for fault in structure.faults for side in _sides(structure.pieces, fault)}
    found = [_edges(structure, one) for one in groups if any((atom.piece, atom.side) not in told for atom in one.atoms)]
    found = _joined(found, list(_same(structure.pieces, found)))
    found = _joined(found, list(_two_sides(found)))
    return [*(one.fault for one in found), *_open_darts(structure)]


def _as_one(cause: Sequence[_Edges]) -> _Edges:
    """Some edges as one fault: what tells most of the fix, with all of them."""
    faults = [one.fault for one in cause]
    first = next((one for one in faults if one.twin_in or one.across_in), faults[0])
    halves = {one.half for one in faults}
    edges = tuple(dict.fromkeys(edge for one in faults for edge in one.edges))
    half = halves.pop() if len(halves) == 1 else None
    fault = replace(first, sentences=faults[0].sentences, edges=edges, half=half)
    beside = sum((one.beside for one in cause), Counter[tuple[str, str]]())
    return _Edges(fault, tuple(atom for one in cause for atom in one.atoms), beside)


def _edges(structure: Structure, one: Loose) -> _Edges:
    pieces = structure.pieces
    twin = _twin_in(pieces, one, structure.endings) if one.half is not None else ""
    across = None if twin else _lies_on(one, structure)
    fault = Fault("ends_in_nothing", (one.edges[0][0],), one.edges, half=one.half, twin_in=twin)
    if across is not None:
        edge = across[0].piece, edges_of(pieces, across[0].piece, {across[0].side})[0]
        fault = replace(fault, across=edge, across_in=across[1])
    return _Edges(fault, one.atoms, Counter(_beside(structure, one)))


def _beside(structure: Structure, one: Loose) -> Iterator[tuple[str, str]]:
    """How the sides end that stand beside some loose ones, each by the way and the sentence."""
    for atom in one.atoms:
        piece = structure.pieces[atom.piece]
        for number in piece.beside([atom.side]):
            other = Atom(atom.piece, atom.panel, atom.copy, number)
            if other not in one.atoms:
                ends = dict.fromkeys((str(end.how), end.sentence) for end in structure.endings.get(other, ()))
                yield from ends or [("fold", "")]


# ---- one cause -------------------------------------------------------------------------------------


def _joined(found: Sequence[_Edges], pairs: Sequence[tuple[int, int]]) -> list[_Edges]:
    """Groups of edges, some pairs of which have one cause."""
    groups = Groups(range(len(found))).join_all(pairs)
    return [_as_one([found[k] for k in row]) for row in groups.rows()]


def _same(pieces: Pieces, found: Sequence[_Edges]) -> Iterator[tuple[int, int]]:
    """Those that are one edge on both halves, or lie over one seam."""
    for k, one in enumerate(found):
        for n, other in enumerate(found[:k]):
            seam = one.fault.across_in.partition(".")[0]
            over_one = seam != "" and seam == other.fault.across_in.partition(".")[0]
            twins = any(_is_twin(pieces[a.piece], a, b) for a in one.atoms for b in other.atoms)
            if over_one or twins or set(one.fault.edges) & set(other.fault.edges):
                yield n, k


def _two_sides(found: Sequence[_Edges]) -> Iterator[tuple[int, int]]:
    """Those of which each is the likeliest other side of the other."""
    likely = [[_alike(one, other) if one is not other else 0 for other in found] for one in found]
    for k, row in enumerate(likely):
        yield from ((n, k) for n in range(k) if row[n] and row[n] == max(row) == max(likely[n]))


def _alike(one: _Edges, other: _Edges) -> int:
    """How much speaks for two groups of edges as the sides of one seam: what stands beside them ends alike."""
    ways = [Counter({how: 1 for how, _ in group.beside}) for group in (one, other)]
    sentences = sum(1 for _, sentence in one.beside.keys() & other.beside.keys() if sentence)
    return SAME_SENTENCE * sentences + SAME_WAY * sum((ways[0] & ways[1]).values())


# ---- what is beside, on the other half, under it -----------------------------------------------------


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


# ---- darts that are no darts ---------------------------------------------------------------------------


def _open_darts(structure: Structure) -> Iterator[Fault]:
    """The legs of a dart that was opened to an edge are a seam like any other, of which a sentence tells."""
    sewn = {edge for seam in structure.said.seams for edge in seam.edges}
    for name, piece in structure.pieces.items():
        cloth = piece.said.piece
        for dart in (one for one in cloth.darts if is_open_below(cloth, one)):
            legs: list[Name] = [(name, leg) for leg in dart.leg_names if (name, leg) not in sewn]
            if legs:
                yield Fault("ends_in_nothing", (name,), tuple(legs))


# ---- what follows from a part that is sewn to nothing ----------------------------------------------------


def told_once(faults: Sequence[Fault], loose: Sequence[Fault]) -> list[Fault]:
    """All faults, but that what is sewn to nothing of the rest tells of its own loose edges, and of those that it leaves."""
    found, left = list(faults), list(loose)
    for apart in [one for one in faults if one.kind == "two_things"]:
        own = [one for one in left if any(owner in apart.pieces for owner, _ in one.edges)]
        own = own or (left if len(left) == 1 else [])
        edges = tuple(dict.fromkeys(edge for one in own for edge in one.edges))
        left = [one for one in left if one not in own]
        found[found.index(apart)] = replace(apart, edges=edges)
        found = [one for one in found if one.kind != "not_fastened" or not set(one.pieces) <= set(apart.pieces)]
    return [*found, *left]


def idle(said: GarmentSaid, faults: Sequence[Fault]) -> list[Fault]:
    """Ways of sewing by which nothing is sewn, where nothing else is wrong of which it is a part."""
    return [Fault("way_idle", said.idle)] if said.idle and not faults else []
