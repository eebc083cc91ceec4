"""What the specification must keep to before any body is known: listed words, declared cloths, sentences in their place."""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics import specification_words as words
from ..syntax import tree as t
from ..syntax.words import WORDED
from ..verbs.standards import standards
from . import misnamed
from .checker import Checker, Scope

UNSAID = "shell"  # the cloth of a piece whose `cut` names none


def listed(checker: Checker, scope: Scope, name: str, expr: t.Expr) -> str:
    """The entry of a standard's list that is written; "" with an error where there is none."""
    match expr:
        case t.Name() | t.Text():
            written = expr.text if isinstance(expr, t.Name) else expr.value
        case t.Number():
            written = expr.written
        case _:
            written = ""
    known = standards()[name]
    if written in known.words:
        return written
    about = (known.title, known.standard, known.words, known.near(written))
    if known.looks_right(written):
        checker.report(scope, words.questioned(expr.span, written, *about))
        return written
    checker.report(scope, words.not_listed(expr.span, written, *about, known.fix))
    return ""


def cloths_declared(checker: Checker, scope: Scope) -> None:
    """Where a style declares any cloth, every piece of it is cut in one that is declared."""
    cloths = [name for name, one in scope.sentences.items() if isinstance(one, t.Definition) and one.kind.text == "cloth"]
    if not cloths:
        return
    cloths += scope.broken
    for place, name in checker.cloths:
        scope.used.add(name.text)
        if name.text not in cloths:
            places = {one: scope.sentences[one].name.span for one in cloths if one in scope.sentences}
            idle = {one: span for one, span in places.items() if misnamed.is_idle(checker, one, span)}
            labels = misnamed.among(name.text, idle)
            checker.report_unknown(place, words.no_cloth(name.span, name.text, cloths, labels), name.text)
    for definition in scope.sentences.values():
        block = (definition.block if isinstance(definition, t.Definition) else None) or ()
        cuts = [one for one in block if isinstance(one, t.Statement) and one.verb.text == "cut"]
        for cut in cuts:
            if not any(clause.word.text == "in" for clause in cut.clauses):
                scope.used.add(UNSAID)
                if UNSAID not in cloths:
                    checker.report(scope, words.cut_in_nothing(cut.span, cloths))


def stands_alone(sentence: t.Definition | t.Solve) -> bool:
    """Whether a sentence of the specification says something by itself: a cloth must be cut, a way of sewing be used."""
    if not isinstance(sentence, t.Definition) or sentence.kind.text == "cloth":
        return False
    return sentence.kind.text != "sewing" or any(clause.word.text == "on" for clause in sentence.clauses)


def misplaced(checker: Checker, scope: Scope, sentences: Sequence[t.Sentence]) -> None:
    """A sentence of the specification inside braces would go unread."""
    for sentence in sentences:
        inner = getattr(sentence, "block", None) or ()
        for one in inner:
            held = one.definition if isinstance(one, t.Gives) else one
            if isinstance(held, t.Definition) and held.kind.text in WORDED and not (
                held.kind.text == "fit" and isinstance(sentence, t.Recipe)
            ):
                checker.report(scope, words.beside_pieces(held.span, held.kind.text))
        misplaced(checker, scope, inner)
