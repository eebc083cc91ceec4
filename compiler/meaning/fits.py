"""Promises of fit: each is measured on the pieces its block gives and on the pieces to be cut that come from these."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ..diagnostics import meaning_words as words
from ..pattern.levels import levels_of
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.fitting import CUT, DRAFTED
from ..verbs.registry import verbs
from ..verbs.values import numbered
from . import payloads as p
from .checker import BROKEN, Checker, Scope
from .followed import Follower, lineage, outside
from .operations import apply
from .style import Typed, made_by

INSIDE = ("facing", "lies")
"""Verbs that say that a piece is worn inside another, and no second time round the body."""


def is_cut(sentence: t.Definition | t.Solve) -> bool:
    """Whether a definition is a piece, which is cut in cloth."""
    return isinstance(sentence, t.Definition) and sentence.kind.text == "piece"


def kept(checker: Checker) -> Mapping[str, int]:
    """The nodes of all promises the pieces of a style are held to, by name."""
    made: dict[str, Typed | None] = {}
    while further := [name for name in checker.promises if name not in made]:  # one may ask for a block that promises in turn
        made |= {name: promised(checker, name) for name in further}
    return {name: one.node for name, one in made.items() if one is not None and one.kind is not k.BROKEN}


def promised(checker: Checker, name: str) -> Typed | None:
    """The node of a promise; None where no piece that is cut comes from its block."""
    if name not in checker.promised:
        scope, sentence = checker.promises[name]
        checker.sentence.append((sentence.span, name))
        checker.note(sentence.name.span, "definition", name, k.Kind("fit"), sentence.name.span)
        made = _made(checker, scope, sentence)
        checker.sentence.pop()
        if made is None:
            return None
        checker.promised[name] = made
        if made.kind is not k.BROKEN:
            checker.names.setdefault(name, made.node)
            checker.definitions.setdefault(name, sentence.span)
    return checker.promised[name]


def _made(checker: Checker, scope: Scope, sentence: t.Definition) -> Typed | None:
    if sentence.when is not None or sentence.value is not None:
        return checker.report(scope, words.promise_unread(sentence.span, verbs()["fit"].example.partition("\n")[0]))
    style = checker.style
    assert style is not None
    drafted = {} if scope is style else _given(checker, scope)
    cut = _cut(checker, style)
    if not all_known(checker, style) or any(one.kind is k.BROKEN for one in (*drafted.values(), *cut.values())):
        return BROKEN  # which is told already
    if scope is not style and (scope.lossy or any(one.head in ("gives", "") for one in scope.broken.values())):
        return BROKEN
    outer = [one for one in cut.values() if not any(made_by(checker.nodes, one.node, verb) for verb in INSIDE)]
    theirs = [one for one in outer if scope is style or lineage(checker, one.node) & _nodes(drafted)]
    if cut and not theirs:
        return None
    made = apply(checker, scope, verbs()["fit"], None, _with_level(sentence), sentence.span)
    if made.kind is k.BROKEN:
        return BROKEN
    node = checker.taken_back()  # what its words came to; the pieces it is measured on make it whole
    level = node.words.get("at_level")
    known = {one for typed in (*drafted.values(), *theirs) for one in _levels(typed)}
    if level is not None and level not in known:
        return checker.report(scope, words.no_level(sentence.span, level, sorted(known)))
    args = {name: Typed(checker.nodes[one].kind, one) for name, one in node.args.items()}
    args["over"] = _where_known(checker, scope, sentence, args["over"])
    for what, pieces in ((DRAFTED, [*drafted.values()]), (CUT, theirs)):
        having = [one for one in pieces if level in _levels(one)]
        args |= {numbered(what, number): one for number, one in enumerate(having)}
    if level is None and drafted and theirs:
        follower = Follower(checker, scope, sentence.span, tuple(drafted.values()), outside(checker, theirs))
        followed = follower.followed(args["measures"])
        args |= {} if followed is None else {"followed": followed}
    return checker.node(scope, node.payload, made.kind, sentence.span, args)


def _with_level(sentence: t.Definition) -> tuple[t.Clause, ...]:
    """The clauses of a promise: where it measures no length and names no level, its own name is that of the level."""
    if any(clause.word.text in ("at_level", "measures") for clause in sentence.clauses):
        return sentence.clauses
    own = sentence.name
    return t.Clause(t.Word("at_level", own.span), t.Name((own,), own.span)), *sentence.clauses


def _levels(typed: Typed) -> tuple[str, ...]:
    assert isinstance(typed.kind, k.PieceKind)
    return levels_of(typed.kind.sketch)


def _nodes(pieces: Mapping[str, Typed]) -> set[int]:
    return {one.node for one in pieces.values()}


def _given(checker: Checker, scope: Scope) -> dict[str, Typed]:
    """The pieces a recipe gives."""
    names = [name for name in scope.sentences if isinstance(scope.holders[name], t.Gives)]
    handed = {name: one for name, one in scope.handed.items() if isinstance(one.kind, k.PieceKind) or one.kind is k.BROKEN}
    return _pieces(checker, scope, names) | handed


def _cut(checker: Checker, style: Scope) -> dict[str, Typed]:
    """The pieces of the style that are cut."""
    return _pieces(checker, style, [name for name, sentence in style.sentences.items() if is_cut(sentence)])


def all_known(checker: Checker, style: Scope) -> bool:
    """Whether all pieces of the style are sound, and no sentence that cannot be read may be one."""
    made = [one for one in style.broken.values() if one.head in ("", "add", "change")]
    lost = style.lossy or any(one.kind in ("piece", "") for one in made)
    return not lost and all(one.kind is not k.BROKEN for one in _cut(checker, style).values())


def _pieces(checker: Checker, scope: Scope, names: Iterable[str]) -> dict[str, Typed]:
    found = {name: checker.lookup(scope, scope.sentences[name].name) or BROKEN for name in names}
    return {name: one for name, one in sorted(found.items()) if isinstance(one.kind, k.PieceKind) or one.kind is k.BROKEN}


def _where_known(checker: Checker, scope: Scope, sentence: t.Definition, body: Typed) -> Typed:
    """What the body measures, of bodies on whom that was taken or can be estimated: a promise draws nothing, so that a
    measurement it alone asks for is not needed."""
    seen: set[int] = set()
    waiting, asks = [body.node], []
    while waiting:
        index = waiting.pop()
        node = checker.nodes[index]
        if index not in seen:
            seen.add(index)
            asks += [node.payload.name] if isinstance(node.payload, p.Measure) else []
            waiting += [] if isinstance(node.payload, p.Fallback | p.Chosen) else list(node.args.values())
    return checker.node(scope, p.Known(tuple(sorted(set(asks)))), body.kind, sentence.span, {"first": body})
