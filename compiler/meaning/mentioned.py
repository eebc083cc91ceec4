"""What the sentences of a style mention, and which of its base nothing uses any more."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence

from ..syntax import tree as t
from ..syntax.words import KINDS, WORDED
from .in_text import names_in

# Kinds that serve other sentences; the rest are results of their own.
DRAFTED = KINDS - WORDED - {"seam"} | {"sewing"}


def mentioned(sentences: Sequence[t.Sentence]) -> frozenset[str]:
    """The first word of every name that is written as a value."""
    return frozenset(name.parts[0].text for sentence in sentences for name in written_names(sentence))


def reckoned(sentences: Sequence[t.Sentence]) -> frozenset[str]:
    """The same without names that only say from which end, or at which: these are of edges."""
    found: set[str] = set()
    for sentence in sentences:
        ends = {end.span for node in _nodes([sentence]) for end in _ends(node)}
        found |= {name.parts[0].text for name in written_names(sentence) if name.span not in ends}
    return frozenset(found)


def _ends(node: object) -> Iterator[t.Expr]:
    if isinstance(node, t.SoFar):
        yield node.end
    elif isinstance(node, t.Spot) and isinstance(node.place, t.Name):
        yield node.place


def written_names(sentence: t.Sentence) -> Iterator[t.Name]:
    """Every name that is written as a value, in braces too, also those of a text."""
    for node in _nodes([sentence]):
        if isinstance(node, t.Name):
            yield node
        elif isinstance(node, t.Text):
            yield from names_in(node)


def values_in(expr: t.Expr) -> Iterator[t.Name]:
    """The names an expression reckons with: not those that work on a piece stands by, which may be edges of it."""
    waiting: list[object] = [expr]
    while waiting:
        node = waiting.pop()
        if isinstance(node, t.Name):
            yield node
        elif not isinstance(node, (t.Operation, t.Chain, t.SoFar, t.Spot, t.Between)):
            waiting.extend(t.within(node))


def stray_edits(sentences: Sequence[t.Sentence]) -> list[t.Edit]:
    """`change`, `add` and `without` where there is nothing they could work on."""
    found: list[t.Edit] = []
    for sentence in sentences:
        if isinstance(sentence, t.Edit):
            found.append(sentence)
        elif not isinstance(sentence, t.Broken):
            found += stray_edits(getattr(t.held(sentence), "block", None) or ())
    return found


def _nodes(sentences: Sequence[t.Sentence]) -> Iterator[object]:
    waiting: list[object] = [*sentences]
    while waiting:
        node = waiting.pop()
        yield node
        waiting.extend(t.within(node))


def left_over(
    drafts: Mapping[str, t.Definition | t.Solve], users: Mapping[str, set[str]], before: Container[str]
) -> list[str]:
    """Those of the `drafts` of the base that were used there (`before`) and now serve only each other, in order."""
    idle: set[str] = set()
    while True:
        more = {
            name
            for name, sentence in drafts.items()
            if name not in idle
            and name in before
            and (isinstance(sentence, t.Solve) or sentence.kind.text in DRAFTED)
            and users.get(name, set()) - {name} <= idle
        }
        if not more:
            return [name for name in drafts if name in idle]
        idle |= more
