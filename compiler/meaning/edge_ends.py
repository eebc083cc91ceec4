"""The ends of an edge as they are written, by `from` and `to`."""

from __future__ import annotations

from ..syntax import tree as t


def ends_of(sentence: t.Definition) -> tuple[str, str] | None:
    """The names of the points an edge runs between, from its own words or those of the verb that makes it."""
    ends = written_ends(sentence)
    first, last = ends.get("from"), ends.get("to")
    return (first.text, last.text) if isinstance(first, t.Name) and isinstance(last, t.Name) else None


def written_ends(sentence: t.Definition) -> dict[str, t.Expr]:
    """What is written for the ends of an edge, by `from` and `to`."""
    clauses = sentence.value.clauses if isinstance(sentence.value, t.Operation) else sentence.clauses
    return {clause.word.text: clause.value for clause in clauses if clause.word.text in ("from", "to")}
