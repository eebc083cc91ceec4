"""Tables: a value by rows of a measurement or a choice, with what happens between and beyond the rows."""

from __future__ import annotations

from dataclasses import replace

from ..diagnostics import meaning_words as words
from ..diagnostics import table_words, value_words
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.rows import BETWEEN, BEYOND, read_off
from . import payloads as p
from .checker import BROKEN, Checker, Scope
from .style import Typed

MEANINGS = {
    "by": "the measurement, or other value, that tells the row",
    "between_rows": f"one of {', '.join(BETWEEN)}",
    "beyond_rows": f"one of {', '.join(BEYOND)}",
}


def table(checker: Checker, scope: Scope, sentence: t.Definition) -> Typed:
    """`table rise by hip_girth between_rows straight beyond_rows held { row 90 cm is 26 cm … }`: a value for each body."""
    given = {clause.word.text: clause for clause in sentence.clauses}
    for clause in sentence.clauses:
        if clause.word.text not in MEANINGS:
            return checker.report(scope, words.unknown_word(clause.word.span, "table", clause.word.text, list(MEANINGS)))
        if given[clause.word.text] is not clause:
            return checker.report(scope, words.word_twice(clause.word.span, "table", clause.word.text))
    for name, meaning in MEANINGS.items():
        if name not in given:
            return checker.report(scope, words.missing_word(sentence.name.span, "table", name, meaning))
    by = checker.value(scope, given["by"].value)
    if by.kind is not k.BROKEN and by.kind not in k.QUANTITIES:
        by = checker.report(scope, value_words.wrong_kind(given["by"].value.span, "length", by.kind.word))
    between = _one_of(checker, scope, given["between_rows"], BETWEEN)
    beyond = _one_of(checker, scope, given["beyond_rows"], BEYOND)
    rows = _rows(checker, scope, sentence, None if by.kind is k.BROKEN else by.kind)
    if by.kind is k.BROKEN or rows is None or not between or not beyond:
        return BROKEN
    kind, pairs = rows
    keys, values = (tuple(column) for column in zip(*sorted(pairs), strict=True))
    told = {"angle": " angle", "number": " ratio"}.get(by.kind.word, "")
    made = checker.node(scope, p.Table(keys, values, between, beyond, told), kind, sentence.span, {"by": by})
    if by.constant is None or (beyond == "refused" and not keys[0] <= by.constant <= keys[-1]):
        return made
    constant = float(read_off([by.constant], keys, values, between, beyond)[0])
    if by.chosen:
        return replace(made, constant=constant, chosen=True)
    return Typed(kind, checker.constant(scope, kind, constant, sentence.span).node, constant)


def _one_of(checker: Checker, scope: Scope, clause: t.Clause, options: tuple[str, ...]) -> str:
    written = clause.value.text if isinstance(clause.value, t.Name) else ""
    if written in options:
        return written
    checker.report(scope, value_words.one_of(clause.value.span, clause.word.text, options))
    return ""


def _rows(
    checker: Checker, scope: Scope, sentence: t.Definition, by: k.Kind | None
) -> tuple[k.Kind, list[tuple[float, float]]] | None:
    """The kind of the values, and each row as numbers; None with an error where a row cannot be one."""
    pairs: list[tuple[float, float]] = []
    kind: k.Kind | None = None
    seen: dict[float, t.Statement] = {}
    for row in sentence.block or ():
        clauses = row.clauses if isinstance(row, t.Statement) and row.verb.text == "row" else ()
        if not isinstance(row, t.Statement) or row.subject is None or [one.word.text for one in clauses] != ["is"]:
            checker.report(scope, table_words.no_row(row.span))
            return None
        key, value = checker.value(scope, row.subject, by), checker.value(scope, clauses[0].value, kind)
        if k.BROKEN in (key.kind, value.kind):
            return None
        if key.constant is None or value.constant is None:
            place = row.subject if key.constant is None else clauses[0].value
            checker.report(scope, value_words.not_constant(place.span, "row"))
            return None
        if key.constant in seen:
            checker.report(scope, table_words.row_twice(row.span, seen[key.constant].span))
            return None
        kind, seen[key.constant] = value.kind, row
        pairs.append((key.constant, value.constant))
    if kind is None or len(pairs) < 2 or kind not in k.QUANTITIES:
        checker.report(scope, table_words.too_few_rows(sentence.name.span, sentence.name.text))
        return None
    return kind, pairs
