"""`each piece { … }`: statements that hold for every piece that is cut, unless it says otherwise itself.

Order of strength: what a piece states for an edge by name; what is stated here for it by name; the piece's plain width; the plain
width here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..diagnostics import chain_words as words
from ..pattern.piece import Piece
from ..syntax import tree as t
from ..verbs import kinds as k
from .allowances import WIDTHS, is_plain, named_on
from .both_sides import SIDES, is_both, on_side
from .checker import Checker, Scope
from .fits import all_known, is_cut
from .style import Typed
from .told_apart import head_of

SHARED = ("grain", *WIDTHS)


def declare_each_piece(checker: Checker, scope: Scope, sentences: Sequence[t.Sentence]) -> None:
    """Keep what all pieces start from; told where it is said twice, or says what each piece has for itself."""
    for one in (one for one in sentences if isinstance(one, t.EachPiece)):
        if checker.each_piece is not None:
            checker.report(scope, words.each_piece_twice(one.span, checker.each_piece.span))
            continue
        for inner in one.block:
            if not isinstance(inner, t.Broken) and (not isinstance(inner, t.Statement) or inner.verb.text not in SHARED):
                checker.report(scope, words.not_of_each_piece(inner.span, head_of(inner), SHARED))
        checker.each_piece = one


Said = set[tuple[str, str]]
"""Verbs, each with an edge it is said of, or "" where it is said of none by name."""


def shared(checker: Checker, own: Sequence[t.Statement], piece: Typed) -> list[t.Statement]:
    """What a piece that is cut takes from `each piece`, beside what it states itself, or the shape it is made of did."""
    if checker.each_piece is None or not isinstance(piece.kind, k.PieceKind):
        return []
    said = {(one.verb.text, name) for one in own for name in ([""] if is_plain(one) else [e.text for e in named_on(one)])}
    said |= _said_before(checker, piece.node)
    fold = _fold(own, piece.kind)
    found = []
    for one in checker.each_piece.block:
        if isinstance(one, t.Statement) and one.verb.text in SHARED:
            taken = _taken(checker, one, said, piece.kind.sketch, fold)
            found += [] if taken is None else [taken]
    return found


def _fold(own: Sequence[t.Statement], kind: k.PieceKind) -> str | None:
    """The edge that lies on the fold when a piece is cut: none of a pair."""
    fold = kind.sketch.fold
    for one in own:
        if one.verb.text == "fold" and isinstance(one.subject, t.Name):
            fold = one.subject.text
    pair = any(isinstance(clause.value, t.Name) and clause.value.text == "pair" for one in own for clause in one.clauses)
    return None if pair or any(one.verb.text == "off_fold" for one in own) else fold


def _said_before(checker: Checker, index: int) -> Said:
    """What was stated for the shapes a piece is made of, back to its draft."""
    found: Said = set()
    following: int | None = index
    while following is not None:
        node = checker.nodes[following]
        if node.verb in SHARED:
            found |= {(node.verb, str(edge)) for edge in node.words.get("on", ("",))}
        following = node.before
    return found


def _taken(checker: Checker, one: t.Statement, said: Said, sketch: Piece, fold: str | None) -> t.Statement | None:
    """A statement as far as it holds for a piece: of the edges named, those that are cut on it and that it says nothing of."""
    edges = [edge for edge in sketch.edge_names() if edge != fold]
    verb, on = one.verb.text, named_on(one)
    if not on:
        return None if (verb, "") in said else one
    has = {name.text: [one for one in _as_called(name, sketch) if one.text in edges] for name in on}
    checker.met.update(name for name, called in has.items() if called)
    left = tuple(name for called in has.values() for name in called if (verb, name.text) not in said)
    if not left:
        return None
    those: t.Expr = left[0] if len(left) == 1 else t.Listed(left, left[0].span.to(left[-1].span))
    clauses = tuple(t.Clause(clause.word, those) if clause.word.text == "on" else clause for clause in one.clauses)
    return replace(one, clauses=clauses)


def _as_called(name: t.Name, sketch: Piece) -> list[t.Name]:
    """An edge as a piece calls it: one that it has on both sides by two names."""
    return [on_side(name, side, name.text) for side in SIDES] if is_both(sketch, name.text) else [name]


def met_by_none(checker: Checker, scope: Scope) -> None:
    """An error for each edge named for all pieces that none of them has, where all of them are known."""
    if not all_known(checker, scope):
        return
    for one in checker.each_piece.block if checker.each_piece is not None else ():
        for name in named_on(one) if isinstance(one, t.Statement) and one.verb.text in SHARED else ():
            if name.text not in checker.met:
                checker.report(scope, words.edge_of_no_piece(name.span, name.text, _edges(scope)))


def _edges(scope: Scope) -> set[str]:
    kinds = [one.kind for name, one in scope.known.items() if name in scope.sentences and is_cut(scope.sentences[name])]
    return {edge for kind in kinds if isinstance(kind, k.PieceKind) for edge in kind.sketch.edge_names()}
