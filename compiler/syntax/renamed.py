"""Words of verbs that have been renamed: an old text still compiles, with a warning, and the formatter rewrites it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from .tokens import Token
from .tree import Clause, Definition, Operation, Sentence, Statement
from .words import WORD_TYPES

# (verb, its word of old) -> the word now
RENAMED = {("seam", "allowing"): "within", ("trued", "allowing"): "within", ("finished", "allowing"): "within"}
_OLD = frozenset(word for _, word in RENAMED)


def mend(tokens: list[Token], sentence: Sentence) -> list[tuple[Token, str, str]]:
    """Write the new words into the tokens of a sentence that was read; what was changed: the token, its verb, the old word."""
    if not any(token.text in _OLD for token in tokens):
        return []
    at = {token.start: token for token in tokens}
    found = []
    for verb, clause in _clauses(sentence):
        old = clause.word.text
        if (verb, old) in RENAMED and (token := at.get(clause.word.span.start)) is not None:
            token.text = RENAMED[verb, old]
            token.type = WORD_TYPES.get(token.text, "NAME")
            found.append((token, verb, old))
    return sorted(found, key=lambda one: one[0].start)


def _clauses(sentence: Sentence) -> Iterator[tuple[str, Clause]]:
    """Every clause of a sentence with the verb it belongs to; those of its block are sentences of their own."""
    waiting: list[object] = [sentence]
    while waiting:
        node = waiting.pop()
        verb = node.kind.text if isinstance(node, Definition) else ""
        if isinstance(node, Operation | Statement):
            verb = node.verb.text
        if isinstance(node, Definition | Operation | Statement):
            yield from ((verb, clause) for clause in node.clauses)
        if isinstance(node, tuple):
            waiting.extend(node)
        elif is_dataclass(node):
            waiting.extend(getattr(node, field.name) for field in fields(node) if field.name != "block")
