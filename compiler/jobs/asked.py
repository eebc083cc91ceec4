"""What a name that is asked for stands for: a definition, something of a piece, a block, several of one name, or sentences."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ..bodies.vocabulary import canonical
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.suggest import did_you_mean
from ..meaning.style import CheckedStyle, made_from
from ..verbs.kinds import Kind, PieceKind

What = Literal["one", "block", "members", "sentences"]


@dataclass(frozen=True)
class Asked:
    """A node; with a `part`, the edge, dart or point of it that is asked for. Of a block the pieces it gives; the `members` of a
    name are all that begins with it, and need not be known on every body; the `sentences` those with the verb `part`."""

    what: What
    nodes: tuple[int, ...]
    part: str = ""


def asked(style: CheckedStyle, name: str) -> tuple[Asked | None, Diagnostic | None]:
    """What a name stands for, or why for nothing."""
    node = _called(style, name)
    if node is not None:
        return Asked("one", (node,)), None
    owner, _, part = name.rpartition(".")
    while owner and (style.names.get(owner) is None or part not in _parts(style.nodes[style.names[owner]].kind)):
        owner, _, last = owner.rpartition(".")
        part = f"{last}.{part}"
    if owner:
        return Asked("one", (style.names[owner],), part), None
    ends = [one for one in style.names if one.endswith(f".{name}")]  # short for the one definition that ends so
    if len(ends) == 1:
        return Asked("one", (style.names[ends[0]],)), None
    given = (node for one, node in style.names.items() if one.rpartition(".")[0] == name)
    pieces = tuple(dict.fromkeys(node for node in given if isinstance(style.nodes[node].kind, PieceKind)))
    if pieces:
        return Asked("block", pieces), None
    inside = tuple(node for one, node in style.names.items() if one.startswith(f"{name}."))
    if inside:
        return Asked("members", inside), None
    owner, _, verb = name.rpartition(".")
    said = _sentences(style, style.names[owner], verb) if owner in style.pieces else ()
    return (Asked("sentences", said, verb), None) if said else (None, _unfound(style, name, ends))


def _called(style: CheckedStyle, name: str) -> int | None:
    """The node of a definition or a check by its whole name."""
    if name in style.names:
        return style.names[name]
    return next((one.node for one in (*style.checks, *style.tidings) if one.name == name), None)


def _sentences(style: CheckedStyle, node: int, verb: str) -> tuple[int, ...]:
    """The nodes with a verb that the cloth of a piece went through, as of its grain, its buttons, what it is cut of."""
    found: list[int] = []
    way: list[int] = [node]
    while way:
        here = way.pop()
        found += [here] if style.nodes[here].verb == verb else []
        way = [one for one in made_from(style.nodes, here) if isinstance(style.nodes[one].kind, PieceKind)][:1]
    return tuple(found[::-1])


def _unfound(style: CheckedStyle, name: str, ends: Sequence[str]) -> Diagnostic:
    """Why there is nothing to explain; `ends` are names that end in this one."""
    if ends:
        return words.several(name, ends[:6])
    measure = canonical(name)
    parts = [f"{piece}.{part}" for piece, node in style.pieces.items() for part in _parts(style.nodes[node].kind)]
    return words.not_used(measure) if measure else words.no_such_name(name, did_you_mean(name, [*style.names, *parts]))


def _parts(kind: Kind) -> tuple[str, ...]:
    """The names of edges, darts and points of a piece."""
    sketch = kind.sketch if isinstance(kind, PieceKind) else None
    return () if sketch is None else (*sketch.edge_names(), *sketch.dart_names(), *sketch.points)
