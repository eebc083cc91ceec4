"""Whether the edges that a trim draws in go round the body, or close on one side of it, as the hems of sleeves and legs do."""

from __future__ import annotations

from collections.abc import Iterator

from ..pattern.ends import ends_of
from ..pattern.piece import Piece
from ..syntax import tree as t
from ..verbs import kinds as k
from . import payloads as p
from .checker import Checker, Scope
from .operations import summands
from .style import Typed

SEWN = ("joins", "eases", "gathers", "to")


def drawn_round(checker: Checker, scope: Scope, made: Typed) -> Typed:
    """A trim with what its edges are called and what they go round, where it draws any in.

    They go round the body where one of them ends at an edge that is sewn to its like on the other half, as at a crotch; where
    one of them is on the fold, or of a piece cut once, its cut tells (`_counted` in verbs/specification.py). Seams are read as
    they are written: one may rest on what the trim comes to.
    """
    if made.kind is k.BROKEN or "draws" not in checker.nodes[made.node].args:
        return made
    edges = list(_edges(checker, checker.nodes[made.node].args["draws"]))
    own, sewn = _sewn_names(scope)
    beside = {
        f"{piece}.{one}"
        for owner, name in edges
        for piece in _names_of(checker, owner)
        for end in ends_of(_sketch(checker, owner), name)
        for one in end
    }
    is_sleeve = all(_sketch(checker, owner).covers == "sleeve" for owner, _ in edges)
    one_side = is_sleeve or (bool(beside & sewn) and not beside & own)
    span = checker.origins[made.node].span
    node = checker.taken_back()
    assert isinstance(node.payload, p.Call)
    args = {name: Typed(checker.nodes[one].kind, one) for name, one in node.args.items()}
    called = tuple(".".join([*_names_of(checker, owner)[:1], name]) for owner, name in edges)
    words = {**node.payload.words, "round": "side" if one_side else "body", "called": called}
    return checker.node(scope, p.Call(node.payload.verb, words), made.kind, span, args)


def _edges(checker: Checker, index: int) -> Iterator[tuple[int, str]]:
    """The edges that are put end to end in a node: the node of their piece, and their name on it."""
    node = checker.nodes[index]
    if isinstance(node.payload, p.EdgeOf):
        yield node.args["piece"], node.payload.name
    else:
        for arg in node.args.values():
            yield from _edges(checker, arg)


def _sketch(checker: Checker, owner: int) -> Piece:
    kind = checker.nodes[owner].kind
    assert isinstance(kind, k.PieceKind)
    return kind.sketch


def _names_of(checker: Checker, owner: int) -> list[str]:
    return [name for name, node in checker.names.items() if node == owner]


def _sewn_names(scope: Scope) -> tuple[set[str], set[str]]:
    """Edges, as `piece.edge`, that seams of a style sew to their like; and all that they sew."""
    own, sewn = set[str](), set[str]()
    for sentence in scope.sentences.values():
        if isinstance(sentence, t.Definition) and sentence.kind.text == "seam":
            runs = [_names(clause.value) for clause in sentence.clauses if clause.word.text in SEWN]
            own |= set.intersection(*runs) if runs else set()
            sewn |= set().union(*runs)
    return own, sewn


def _names(value: t.Expr) -> set[str]:
    parts = (one.value if isinstance(one, t.Between) else one for one in summands(value))
    return {one.text for one in parts if isinstance(one, t.Name)}
