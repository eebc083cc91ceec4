"""Lengths a block promises of its own pieces, followed to the pieces that are cut: where these still carry the edges, whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..diagnostics.diagnostic import Span
from ..pattern.ends import ends_of, halves_of
from ..pattern.piece import Piece
from ..verbs import kinds as k
from ..verbs.fitting import SHELL, worn_outside
from ..verbs.values import numbered
from . import payloads as p
from .checker import Checker, Scope
from .style import Node, Typed, made_from


def lineage(checker: Checker, start: int) -> set[int]:
    """The nodes of all pieces a piece is made from, itself among them."""
    seen: set[int] = set()
    waiting = [start]
    while waiting:
        index = waiting.pop()
        if index not in seen:
            seen.add(index)
            waiting += made_from(checker.nodes, index)
    return seen


def outside(checker: Checker, pieces: Sequence[Typed]) -> list[Typed]:
    """Those of pieces that are worn outside: a lining cut like them carries their edges too."""
    sketches = [one.kind.sketch for one in pieces if isinstance(one.kind, k.PieceKind)]
    shown = worn_outside(sketches, [_cloths(checker, one.node) for one in pieces])
    return [one for one, is_shown in zip(pieces, shown, strict=True) if is_shown]


def _cloths(checker: Checker, index: int) -> list[str]:
    """The cloths a piece is said to be cut in."""
    found: list[str] = []
    following: int | None = index
    while following is not None and not isinstance(checker.nodes[following].payload, p.Uncut):
        node = checker.nodes[following]
        found += reversed(node.words.get("in", (SHELL,))) if node.verb == "cut" else ()
        following = node.before
    return found[::-1]


@dataclass(frozen=True)
class Follower:
    """What a promise of a block rests on: the pieces the block gives, and those of the style that are cut of their cloth."""

    checker: Checker
    scope: Scope
    span: Span
    drafted: Sequence[Typed]
    cut: Sequence[Typed]

    def followed(self, length: Typed) -> Typed | None:
        """A length of the block's pieces on those that are cut. None where it is no length of these, and as below."""
        return self._followed(length) if self._rests_on_drafted(length.node) else None

    def _followed(self, length: Typed) -> Typed | None:
        """The same length on the cut pieces. None where it is more than lengths of edges reckoned together, or where a piece
        that is cut does not carry such an edge with both its ends: then what is measured is the draft alone."""
        node = self.checker.nodes[length.node]
        if not self._rests_on_drafted(length.node):
            return length
        if node.payload == p.Of("length"):
            return self._edge(self.checker.nodes[node.args["target"]])
        if not isinstance(node.payload, p.Arithmetic | p.Negative):
            return None
        args = {name: self._followed(Typed(self.checker.nodes[arg].kind, arg)) for name, arg in node.args.items()}
        known = {name: arg for name, arg in args.items() if arg is not None}
        return self.checker.node(self.scope, node.payload, node.kind, self.span, known) if known == args else None

    def _rests_on_drafted(self, start: int) -> bool:
        pieces = {one.node for one in self.drafted}
        oldest, seen, waiting = min(pieces), set[int](), [start]
        while waiting:
            index = waiting.pop()
            if index in pieces:
                return True
            if index > oldest and index not in seen:  # what was laid down before the pieces does not rest on them
                seen.add(index)
                waiting += self.checker.nodes[index].args.values()
        return False

    def _edge(self, edge: Node) -> Typed | None:
        """The length of an edge of a block's piece on the cut pieces that carry it."""
        if not isinstance(edge.payload, p.EdgeOf):
            return None
        owner = next((one for one in self.drafted if one.node == edge.args["piece"]), None)
        if owner is None:
            return None
        drafted, name = sketch_of(owner), edge.payload.name
        carriers = [
            one
            for one in self.cut
            if sketch_of(one).covers == drafted.covers
            and halves_of(sketch_of(one), name)
            and owner.node in lineage(self.checker, one.node)
        ]
        if not _is_whole(drafted, [sketch_of(one) for one in carriers], name):
            return None
        pieces = {numbered("piece", number): one for number, one in enumerate(carriers)}
        return self.checker.node(self.scope, p.Followed(name, owner.node), k.LENGTH, self.span, pieces)


def sketch_of(typed: Typed) -> Piece:
    assert isinstance(typed.kind, k.PieceKind)
    return typed.kind.sketch


def _is_whole(drafted: Piece, carriers: Sequence[Piece], name: str) -> bool:
    """Whether pieces carry an edge of a draft as a whole: from the edge it begins at, to that it ends at, and where it is
    divided between two pieces, both at the edge along which they are sewn. An inner line, as a fold that was opened, is whole."""
    if len(carriers) == 1 and not carriers[0].run(halves_of(carriers[0], name)[0]):
        return True
    wanted = ends_of(drafted, name)
    found = [end for one in carriers for end in ends_of(one, name)]
    for end in wanted:
        met = next((one for one in found if one & end), None)
        if met is None:
            return False
        found.remove(met)
    while found:
        end = found.pop()
        other = next((one for one in found if one & end), None)
        if other is None:
            return False
        found.remove(other)
    return bool(carriers)
