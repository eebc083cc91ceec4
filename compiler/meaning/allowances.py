"""What is stated for allowances: once for each edge, and not for one that lies on the fold, where nothing is cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Span
from ..syntax import tree as t
from ..verbs.kinds import PieceKind
from .checker import Checker, Scope
from .in_braces import as_written
from .style import CheckedStyle, Node

WIDTHS = ("allow", "turn_under")
ONE_EACH = ("grain", "press", "cut_corner")
"""Statements of which a later one would take the place of an earlier one of the same grain, dart or corner."""


def named_on(statement: t.Statement) -> list[t.Name]:
    """The edges a statement is `on`, as written."""
    on = next((clause.value for clause in statement.clauses if clause.word.text == "on"), None)
    items = on.items if isinstance(on, t.Listed) else () if on is None else (on,)
    return [item for item in items if isinstance(item, t.Name)]


def is_plain(statement: t.Statement) -> bool:
    """Whether a statement is of no edge by name: it holds where nothing else does. A part of an edge is one of that part."""
    return not any(clause.word.text == "on" for clause in statement.clauses)


def stated_once(checker: Checker, scope: Scope, statements: Sequence[t.Statement]) -> bool:
    """Whether no edge is given two allowances, nor all the others, and nothing else is said twice of which one alone can hold;
    each second sentence is told."""
    return all([_allowed_once(checker, scope, statements), _one_of_each(checker, scope, statements)])


def _one_of_each(checker: Checker, scope: Scope, statements: Sequence[t.Statement]) -> bool:
    said: dict[tuple[str, str], Span] = {}
    sound = True
    for one in (one for one in statements if one.verb.text in ONE_EACH):
        first = said.setdefault((one.verb.text, "" if one.verb.text == "grain" else as_written(one.subject)), one.span)
        if first is not one.span:
            checker.report(scope, words.stated_twice(one.span, one.verb.text, first))
            sound = False
    return sound


def _allowed_once(checker: Checker, scope: Scope, statements: Sequence[t.Statement]) -> bool:
    said: dict[tuple[str, str], Span] = {}
    sound = True
    for one in (one for one in statements if one.verb.text in WIDTHS):
        places = [(edge.text, edge.span) for edge in named_on(one)]
        for name, place in [("", one.span)] if is_plain(one) else places:
            first = said.setdefault((one.verb.text, name), place)
            if first is not place:
                checker.report(scope, words.allowed_twice(place, name, first))
                sound = False
    return sound


def allowed_on_fold(checker: Checker, scope: Scope, style: CheckedStyle) -> None:
    """An error for each sentence that gives the fold of a piece to be cut an allowance, with the one that lays it on the fold;
    or an edge across which the piece was unfolded."""
    told: set[tuple[Span, str]] = set()
    for name, index in style.pieces.items():
        for fold, opened, start in _folds(style, index):
            laid = _said(style.nodes, start, "fold", {"subject": fold}) if opened is None else opened
            for verb in WIDTHS:
                sentence = _said(style.nodes, start, verb, {"on": fold})
                span = None if sentence is None else style.origins[sentence].span
                if span is not None and (span, fold) not in told:
                    told.add((span, fold))
                    place = None if laid is None else style.origins[laid].span
                    checker.report(scope, words.allowed_on_fold(span, name, fold, place, opened is not None))


def _folds(style: CheckedStyle, index: int) -> Iterator[tuple[str, int | None, int]]:
    """The edges of a piece that are not cut since they lie on its fold, or did before it was unfolded: each with the sentence
    that unfolds it, and from where on back to look for what was stated for it."""
    kind = style.nodes[index].kind
    if isinstance(kind, PieceKind) and kind.sketch.fold is not None:
        yield kind.sketch.fold, None, index
    at: int | None = index
    while at is not None:
        node = style.nodes[at]
        before = node.before
        if node.verb == "unfold" and before is not None:
            yield str(node.words["across"]), at, before
        at = before


def _said(nodes: tuple[Node, ...], index: int, verb: str, settled: Mapping[str, str]) -> int | None:
    """The node of the last sentence of a verb, with these words, on the way back from a piece to its draft."""
    at: int | None = index
    while at is not None:
        node = nodes[at]
        if node.verb == verb and all(want in _words(node.words.get(key)) for key, want in settled.items()):
            return at
        at = node.before
    return None


def _words(value: object) -> tuple[object, ...]:
    return tuple(value) if isinstance(value, Mapping | tuple | list | frozenset | set) else (value,)
