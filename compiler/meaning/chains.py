"""Chains: `half_front then unfold across centre then …`. Each link is done to the piece in hand and gives the next one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..diagnostics import chain_words as words
from ..diagnostics import meaning_words, value_words
from ..syntax import tree as t
from ..syntax.words import HEADED
from ..verbs import kinds as k
from ..verbs.registry import verbs
from .checker import BROKEN, Checker, Scope
from .handed_on import subject_of
from .names import is_part, sketch_names, why_gone
from .operations import called, operation
from .recipes import lost_takes
from .style import BlockKind, Typed

WHOLE = ("piece", "named piece", "shape")
PARTS = ("edge", "dart", "path", "sewable", "mark", "marks")


def chain(checker: Checker, scope: Scope, expr: t.Chain) -> Typed:
    """The node of a chain: that of its last link."""
    return _after(checker, scope, expr, expr.links)


def before_last(checker: Checker, scope: Scope, expr: t.Chain) -> Typed:
    """The piece that the last link is done to, for one that draws."""
    piece = _after(checker, scope, expr, expr.links[:-1])
    _noted(checker, piece, expr.links[-2] if len(expr.links) > 1 else expr.start)
    return piece


def _noted(checker: Checker, piece: Typed, done: t.Expr) -> None:
    """What gave the piece in hand, where that was an operation, for whoever asks where a piece comes from."""
    if isinstance(done, t.Operation) and piece.kind is not k.BROKEN:
        checker.links[piece.node] = done.span


def _after(checker: Checker, scope: Scope, expr: t.Chain, links: Sequence[t.Operation]) -> Typed:
    piece = checker.value(scope, expr.start, k.PIECE)
    for number, link in enumerate(links):
        if piece.kind is k.BROKEN:
            return BROKEN
        _noted(checker, piece, links[number - 1] if number else expr.start)
        again = sum(one.verb.text == link.verb.text for one in links[:number]) + 1
        inner = in_hand(scope, piece, called(expr.start))
        inner.link = link.verb.text if again == 1 else f"{link.verb.text}_{again}"
        piece = _done(checker, inner, link, piece)
        if isinstance(piece.kind, BlockKind):
            return checker.report(scope, words.one_of_several(link.span, link.verb.text, next(iter(piece.kind.members))))
        if piece.kind is not k.BROKEN and not isinstance(piece.kind, k.PieceKind):
            return checker.report(scope, words.gives_no_piece(link.span, link.verb.text, value_words.one(piece.kind.word)))
    return piece


def in_hand(scope: Scope, piece: Typed, name: str) -> Scope:
    """The scope of a link: names of the piece in hand come before those of the style."""
    return Scope(scope.file, scope, scope.prefix, scope.trace, own=piece, in_hand=name)


def _done(checker: Checker, scope: Scope, link: t.Operation, piece: Typed) -> Typed:
    name = link.verb.text
    wanted, recipe = _works_on(scope, name), scope.recipe(name)
    if recipe is not None and not wanted and lost_takes(recipe[0]):
        return BROKEN
    if wanted is None:
        return operation(checker, scope, link)  # which tells that there is no such verb
    if wanted in WHOLE:
        if link.subject is not None:
            return checker.report(scope, words.piece_in_hand(link.subject.span, name))
        return operation(checker, scope, link, piece)
    if wanted not in PARTS:
        return checker.report(scope, words.goes_on_with_nothing(link.verb.span, name))
    return operation(checker, scope, link) if parts_known(checker, scope, link, piece) else BROKEN


def parts_known(checker: Checker, scope: Scope, link: t.Operation, piece: Typed) -> bool:
    """Whether what a link works on is said, and are parts of the piece in hand; else it is told."""
    assert isinstance(piece.kind, k.PieceKind)
    if link.subject is None:
        checker.report(scope, words.part_missing(link.verb.span, link.verb.text, _works_on(scope, link.verb.text) or "edge"))
        return False
    for part in _names(link.subject):
        if is_part(piece.kind.sketch, part.text):
            continue
        if len(part.parts) > 1 and scope.holder(part.parts[0].text):
            checker.report(scope, words.part_of_another(part.span, part.text))
        else:
            gone = why_gone(piece.kind.sketch, part.text)
            checker.report(scope, meaning_words.no_edge(part.span, part.text, sketch_names(piece.kind), gone))
        return False
    return True


def _works_on(scope: Scope, name: str) -> str | None:
    """The kind a verb or recipe works on, "" for none; None where nothing is called so."""
    recipe, verb = scope.recipe(name), verbs().get(name)
    if recipe is not None:
        take = subject_of(recipe[0])
        return take.kind.text if take is not None else ""
    if verb is None or verb.statement or name in HEADED:
        return None
    return verb.subject.want if verb.subject is not None else ""


def _names(expr: t.Expr | None) -> Iterator[t.Name]:
    """The names of a part: one, or several put end to end."""
    if isinstance(expr, t.Name):
        yield expr
    elif isinstance(expr, t.Spot):
        yield from _names(expr.edge)
    elif isinstance(expr, t.Arithmetic):
        yield from _names(expr.left)
        yield from _names(expr.right)
