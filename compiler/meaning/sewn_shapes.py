"""Seams on the edge of a shape where the edge of the piece that is cut from it is meant: they are held by their lengths, and the
piece gets no notch of them."""

from __future__ import annotations

from collections.abc import Iterator

from ..diagnostics import meaning_words as words
from ..pattern.ends import halves_of
from ..verbs import kinds as k
from . import payloads as p
from .checker import Checker, Scope
from .followed import lineage
from .style import CheckedStyle


def told(checker: Checker, scope: Scope, style: CheckedStyle) -> None:
    """A warning for each seam on an edge of a shape that pieces are cut from which carry this edge."""
    behind = {name: lineage(checker, node) for name, node in style.pieces.items()}
    names = {node: name for name, node in sorted(style.names.items(), key=lambda one: -one[0].count("."))}
    for seam, index in style.seams.items():
        for owner, name in dict.fromkeys(_edges(checker, index)):
            if owner in style.pieces.values():
                continue
            cut = [f"{one}.{name}" for one, nodes in behind.items() if owner in nodes and _has(checker, style.pieces[one], name)]
            if cut:
                written = f"{names.get(owner, '')}.{name}"
                checker.report(scope, words.seam_on_shape(checker.origins[index].span, seam, written, cut))


def _has(checker: Checker, piece: int, edge: str) -> bool:
    """Whether a piece that is cut carries an edge, on one half or on both."""
    kind = checker.nodes[piece].kind
    return isinstance(kind, k.PieceKind) and bool(halves_of(kind.sketch, edge))


def _edges(checker: Checker, index: int) -> Iterator[tuple[int, str]]:
    """The edges both sides of a seam are made of: the node of their piece, and their name on it."""
    node = checker.nodes[index]
    assert isinstance(node.kind, k.SeamKind)
    for word in (node.kind.how, "to"):
        waiting = [node.args[word]]
        while waiting:
            found = checker.nodes[waiting.pop()]
            if isinstance(found.payload, p.EdgeOf):
                yield found.args["piece"], found.payload.name
            elif not isinstance(found.kind, k.PieceKind):
                waiting += found.args.values()
