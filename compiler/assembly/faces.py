"""Which face of each panel shows: seams are sewn right sides together, so that all that is drawn for one hand shows one face.

Rings run counter-clockwise, face up. Of two panels that lie flat beside each other with the same face up, the edges between them
run against each other; a panel that is cut mirrored runs the other way round, and so does the other half of a fold.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..pattern.ends import plain
from .panels import HALVES, Atom, Lying, Pieces
from .sewn import SewnOnce
from .surface import Glued, Step, Surface

Node = tuple[str, int]
"""What shows one face: a piece, under 0; each panel by its own number, where they are laid as a seam wants them."""


@dataclass(frozen=True)
class Faces:
    """The face, 1 or -1, of each piece, by classes of those that seams hold together; seams that ask for both."""

    classes: tuple[dict[Node, int], ...]
    clashes: tuple[SewnOnce, ...]


def faces(pieces: Pieces, made: Surface) -> Faces:
    """The faces that the seams of the outer cloth ask for."""
    if any(piece.said.piece.is_sketch for piece in pieces.values()):
        return Faces((), ())  # whose rings may run either way round
    root: dict[Node, tuple[Node, int]] = {}

    def find(node: Node) -> tuple[Node, int]:
        face = 1
        while root.setdefault(node, (node, 1))[0] != node:
            node, turned = root[node]
            face *= turned
        return node, face

    clashes: dict[int, SewnOnce] = {}
    for number, one in enumerate(made.glued):
        for a, b, same in _asked(pieces, one):
            (first, mine), (second, its) = find(a), find(b)
            if first == second and mine * its != same:
                clashes[number] = one.seam
            elif first != second:
                root[first] = second, mine * its * same
    rows: dict[Node, dict[Node, int]] = {}
    for node in list(root):
        first, face = find(node)
        rows.setdefault(first, {})[node] = face
    return Faces(tuple(rows.values()), tuple(clashes.values()))


def _asked(pieces: Pieces, one: Glued) -> Iterator[tuple[Node, Node, int]]:
    """What a seam asks of the panels at its two ends: whether they show the same face."""
    for at in (0, -1):
        a, b = one.left[at], one.right[at]
        if a[0] != b[0]:
            yield _node(pieces, a[0]), _node(pieces, b[0]), -_sense(pieces, a) * _sense(pieces, b)


def _node(pieces: Pieces, atom: Atom) -> Node:
    piece = pieces[atom.piece]
    free = piece.lying is Lying.DOUBLED or (piece.lying is Lying.ALIKE and piece.count == len(HALVES))
    return atom.piece, atom.panel if free else 0


def _sense(pieces: Pieces, step: Step) -> int:
    """Whether a step runs round its panel as that is drawn, face up (1), or the other way (-1)."""
    atom, forward = step
    turned = (pieces[atom.piece].is_mirrored(atom.panel)) != (atom.copy == 1)
    return 1 if forward != turned else -1


@dataclass(frozen=True)
class WrongHand:
    """Two pieces of which one is drawn for the wrong hand; whether only its names are: of a pair, or of one that is alike on both
    halves, the cloth comes out right, and what is called left is right."""

    wrong: str
    right: str
    only_named: bool


def wrong_hands(pieces: Pieces, made: Faces) -> list[WrongHand]:
    """Pieces that say which half they are, or have a left and a right, and show another face than most that are sewn to them."""
    found = []
    for row in made.classes:
        sided = {name: face for (name, _), face in row.items() if _has_hands(pieces, name)}
        shown = [*sided.values()]
        wrong = min((1, -1), key=lambda face: (shown.count(face), face == (shown or [1])[0]))
        rest = [name for name, face in sided.items() if face != wrong]
        found += [WrongHand(name, rest[0], _only_named(pieces, name)) for name, face in sided.items() if face == wrong and rest]
    return found


def _has_hands(pieces: Pieces, name: str) -> bool:
    piece = pieces[name]
    if piece.lying is Lying.PAIR:
        return piece.said.piece.worn is not None and piece.count == len(HALVES)
    return piece.lying is Lying.CENTRED and piece.count == 1 and not piece.said.laid_open


def _only_named(pieces: Pieces, name: str) -> bool:
    piece = pieces[name]
    if piece.lying is Lying.PAIR or piece.folds_open:
        return True
    names = [{plain(one) for one in side.names} for side in piece.said.piece.ring]
    count = len(names)
    turned = names[::-1]
    return any(turned[k:] + turned[:k] == names for k in range(count))
