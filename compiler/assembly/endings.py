"""How every edge of every panel ends: in a seam, in a hem, bare, in a closure, folded in, or in nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from ..pattern.which_ends import Name
from .groups import Groups
from .panels import Atom, CutPiece, Half, Lying, Pieces
from .said import ClosureSaid, GarmentSaid
from .sewn import SewnOnce, atoms
from .turned import turned_in
from .ways import Meeting

How = Literal["seam", "facing", "way", "closure", "hem", "raw", "fastened", "unsewn", "folded", "with_facing"]
"""`facing`: a seam by which a facing lies on it; `with_facing`: of a facing, it ends with the edge it lies on."""

OPEN: frozenset[How] = frozenset(("closure", "fastened", "unsewn", "raw", "way", "hem"))
"""Where an edge ends so, the facing that lies on it has an edge there that nothing else holds."""


@dataclass(frozen=True)
class Ending:
    """One way an edge ends, and the sentence that says so, "" where the piece does."""

    how: How
    sentence: str = ""


Endings = Mapping[Atom, Sequence[Ending]]


def facings(pieces: Pieces, sewn: Sequence[SewnOnce]) -> frozenset[str]:
    """The pieces that lie inside: those that say so, and those in another cloth than the most that are sewn on an edge of this
    which is sewn to something else as well; but none that alone covers a part of the body."""
    often: dict[Atom, set[str]] = {}
    for seam in sewn:
        for atom in atoms(pieces, seam.stretches()):
            often.setdefault(atom, set()).add(seam.name)
    found = {name for name, piece in pieces.items() if piece.said.piece.inside}
    others = {name for name, piece in pieces.items() if name not in found and piece.cut.cloth != pieces.main_cloth}
    covered = {None} | {piece.said.piece.covers for name, piece in pieces.items() if name not in found | others}
    others = {name for name in others if pieces[name].said.piece.covers in covered}
    for seam in sewn:
        for side, across in ((seam.left, seam.right), (seam.right, seam.left)):
            owners = {stretch.edge[0] for stretch in side}
            on = {stretch.edge[0] for stretch in across}
            if owners <= others and not on <= others and any(len(often[atom]) > 1 for atom in atoms(pieces, across)):
                found |= owners
    return frozenset(found)


def endings(
    pieces: Pieces, said: GarmentSaid, sewn: Sequence[SewnOnce], meetings: Iterable[Meeting], inside: frozenset[str]
) -> Endings:
    """How each side of each panel ends; `meetings` are those of every way to lay a seam that is left: a facing that lies with an
    edge in one of them may be turned so."""
    found: dict[Atom, list[Ending]] = {atom: [] for atom in pieces.atoms()}
    for seam in sewn:
        _sewn_in(pieces, seam, inside, found)
    for closure in said.closures:
        for atom in closed(pieces, closure):
            found[atom].append(Ending("closure", closure.name))
    for way in said.sewing:
        for owner, edge in way.on:
            for atom in pieces[owner].atoms():
                if atom.side in pieces[owner].along(edge):
                    found[atom].append(Ending("way", way.name))
    for atom in found:
        found[atom] += _stated(pieces, atom)
    for atom, name in dict(_lying_with(meetings, said, inside, found)).items():
        found[atom].append(Ending("with_facing", name))
    _folded_in(pieces, found)
    return found


def _sewn_in(pieces: Pieces, seam: SewnOnce, inside: frozenset[str], found: dict[Atom, list[Ending]]) -> None:
    lies = [bool(side) and all(one.edge[0] in inside for one in side) for side in (seam.left, seam.right)]
    for side, across in ((0, 1), (1, 0)):
        how: How = "facing" if lies[across] and not lies[side] else "seam"
        for atom in atoms(pieces, (seam.left, seam.right)[side]):
            found[atom].append(Ending(how, seam.name))


def closed(pieces: Pieces, closure: ClosureSaid) -> list[Atom]:
    """The sides that end in a closure which is in edges: buttons and loops on one leave it to be finished."""
    found = []
    for edge in closure.edges:
        for half, layers in pieces[edge[0]].layers(edge[1]).items():
            if closure.on in ("both", None) or half in (closure.on, None):
                found += [atom for layer in layers for atom in pieces.atoms_of(edge, layer)]
    return [atom for atom in found if not pieces[atom.piece].is_buttoned(atom)]


def _stated(pieces: Pieces, atom: Atom) -> list[Ending]:
    """What its piece says of a side."""
    piece = pieces[atom.piece]
    said, names = piece.said, set(piece.side(atom).names)
    rows: tuple[tuple[How, frozenset[str]], ...] = (
        ("hem", said.hemmed),
        ("raw", said.raw),
        ("fastened", said.fastened),
        ("unsewn", said.unsewn),
    )
    return [Ending(how) for how, edges in rows if names & edges]


def _lying_with(
    meetings: Iterable[Meeting], said: GarmentSaid, inside: frozenset[str], found: Endings
) -> Iterator[tuple[Atom, str]]:
    """The free edge of a facing beside the seam by which it lies on a piece, with that seam, where the edge it lies on is open
    there, or in a seam that a closure opens."""
    opened = {one.seam for one in said.closures}
    closed_in = (ends for ends in found.values() if any(end.how == "closure" for end in ends))
    opened |= {end.sentence for ends in closed_in for end in ends if end.how == "seam"}
    for one in meetings:
        for here, there in ((0, 1), (1, 0)):
            beside, across = one.beside[here], one.beside[there]
            lies = one.own[here].piece in inside and one.own[there].piece not in inside
            if not lies or beside is None or across is None or found[beside]:
                continue
            if any(ending.how in OPEN or ending.sentence in opened for ending in found[across]):
                yield beside, one.seam.name


def _folded_in(pieces: Pieces, found: dict[Atom, list[Ending]]) -> None:
    """The ends of a doubled piece beside its fold lie on themselves; of one folded along a line inside it what that lays on a
    sewn edge is turned in. Where the line lies no sketch knows: there all is that nothing else holds."""
    sewn: dict[tuple[str, int], set[int]] = {}
    for atom, ends in found.items():
        if pieces[atom.piece].said.folds and any(end.how == "seam" for end in ends):
            sewn.setdefault((atom.piece, atom.panel), set()).add(atom.side)
    each = {(name, frozenset(sides)) for (name, _), sides in sewn.items()}
    turned = {(name, sides): _turned(pieces[name], sides) for name, sides in each}
    for atom, ends in found.items():
        folded = atom.side in turned.get((atom.piece, frozenset(sewn.get((atom.piece, atom.panel), ()))), ())
        if not ends and (folded or (pieces[atom.piece].lying is Lying.DOUBLED and is_beside_fold(pieces, atom))):
            ends.append(Ending("folded"))


def _turned(piece: CutPiece, sewn: frozenset[int]) -> frozenset[int]:
    return frozenset(piece.sides) if piece.said.piece.is_sketch else turned_in(piece.said.piece, sewn)


def is_beside_fold(pieces: Pieces, atom: Atom) -> bool:
    """Whether a side is an end of a piece that is folded: it stands beside the fold."""
    sketch = pieces[atom.piece].said.piece
    ring = sketch.ring
    return any(sketch.fold in ring[(atom.side + step) % len(ring)].names for step in (-1, 1))


@dataclass(frozen=True)
class Loose:
    """Edges that end in nothing and follow each other: by piece and name, and the half where it is only one."""

    edges: tuple[Name, ...]
    atoms: tuple[Atom, ...]
    half: Half


def loose(pieces: Pieces, ends: Endings, meetings: Iterable[Meeting]) -> list[Loose]:
    """What ends in nothing, in groups of one cause: what follows each other on a panel, or where a seam brings it together."""
    free = [atom for atom, found in ends.items() if not found]
    groups = Groups(free)

    def join(one: Atom | None, two: Atom | None) -> None:
        if one is not None and two is not None and one in groups and two in groups:
            groups.join(one, two)

    for atom in free:
        join(atom, next_on(pieces, atom))
        join(atom, Atom(atom.piece, 0, 0, atom.side))  # what is cut alike or as a pair is one edge of the style
    for one in meetings:
        join(*one.beside)
    return [of_sides(pieces, row) for row in groups.rows()]


def of_sides(pieces: Pieces, row: Sequence[Atom]) -> Loose:
    """Some sides that end in nothing as one group."""
    return Loose(_named(pieces, row), tuple(row), _half(pieces, row))


def next_on(pieces: Pieces, atom: Atom) -> Atom | None:
    """The side that follows on the outline of a panel, darts shut; None over a fold."""
    piece = pieces[atom.piece]
    number = piece.beside([atom.side])[1]
    return Atom(atom.piece, atom.panel, atom.copy, number) if number in piece.sides else None


def _half(pieces: Pieces, row: Sequence[Atom]) -> Half:
    halves = {pieces[atom.piece].half(atom) for atom in row}
    return halves.pop() if len(halves) == 1 else None


def _named(pieces: Pieces, row: Sequence[Atom]) -> tuple[Name, ...]:
    """The edges that some sides make up, by their longest names."""
    found: dict[Name, None] = {}
    by_piece: dict[str, set[int]] = {}
    for atom in row:
        by_piece.setdefault(atom.piece, set()).add(atom.side)
    for name, sides in by_piece.items():
        for edge in edges_of(pieces, name, sides):
            found[name, edge] = None
    return tuple(found)


def edges_of(pieces: Pieces, name: str, sides: set[int]) -> list[str]:
    """The fewest names of edges that are some sides of a piece, in the order of its ring."""
    piece, left, found = pieces[name], set(sides), []
    runs = {edge: set(piece.along(edge)) for i in sorted(sides) for edge in piece.said.piece.ring[i].names}
    for edge in sorted(runs, key=lambda one: (-len(runs[one]), "." in one)):
        if runs[edge] <= sides and runs[edge] & left:
            found.append(edge)
            left -= runs[edge]
    found += [piece.said.piece.ring[i].names[-1] for i in sorted(left)]  # of an edge the rest of which ends otherwise
    return sorted(dict.fromkeys(found), key=lambda one: min(runs[one], default=0))
