"""The sentences that cloth went through: of a piece all, of an edge, a dart or a point of it those that made or changed it."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..diagnostics.diagnostic import Span
from ..geometry.tolerances import COINCIDE
from ..meaning.style import CARRIED, CheckedStyle, Node, made_from
from ..pattern.ends import plain
from ..pattern.piece import Piece, Reals
from ..verbs.kinds import MEASURED, POINT, DartKind, EdgeKind, PieceKind
from ..verbs.values import Edge, Value


@dataclass(frozen=True)
class Passed:
    """A node that cloth went through, and what it calls the edge, dart or point that is followed: "" of a whole piece.

    `drawn` is the line or curve that this node made an edge of the piece. `stated`: told by the statement in braces it stands
    in, not by the definition.
    """

    node: int
    name: str
    changed: bool
    drawn: int | None = None
    stated: bool = True


def way_of(style: CheckedStyle, values: Mapping[int, Value], start: int, name: str, lane: int) -> list[Passed]:
    """The way of a piece, or of something of it by its name, from where it was drawn. `lane` is a body's place in the values."""
    found: list[Passed] = []
    at: int | None = start
    while at is not None:
        node = style.nodes[at]
        before = _before(style.nodes, at, name)
        if isinstance(node.kind, PieceKind):
            after, was = values.get(at), None if before is None else values.get(before[0])
            same = name != "" and before is not None and _alike(was, before[1], after, name, lane)
            found.append(Passed(at, name, not same or name in _said(node), node.args.get(name) if before is None else None))
        at, name = (None, name) if before is None else before
    return found[::-1]


def sentence_of(style: CheckedStyle, one: Passed) -> Span:
    """The link of a chain, the statement in braces, or the definition that a node stands in."""
    origin = style.origins[one.node]
    return style.links.get(one.node, origin.sentence if one.stated else style.definitions.get(origin.name, origin.sentence))


def last_of_each(style: CheckedStyle, way: Sequence[Passed]) -> list[Passed]:
    """Of each definition, or link of a chain, where it left the piece: what its braces state is one with it."""
    names = [(style.origins[one.node].name, style.links.get(one.node)) for one in way]
    last = dict(zip(names, way, strict=True))
    return [replace(last[name], stated=False) for name in dict.fromkeys(names)]


def inputs_of(style: CheckedStyle, index: int, named: Container[int]) -> list[int]:
    """The numbers and points with a name that a sentence is given, through the nameless values in it."""
    found: list[int] = []
    todo = [*style.nodes[index].args.values()]
    while todo:
        arg = todo.pop(0)
        node = style.nodes[arg]
        if arg in named and (node.kind == POINT or node.kind in MEASURED):
            found += [] if arg in found else [arg]
        elif arg not in named and not isinstance(node.kind, CARRIED):
            todo = [*node.args.values(), *todo]
    return found


def _before(nodes: Sequence[Node], index: int, name: str) -> tuple[int, str] | None:
    """The piece that one is made of, and what it calls what is followed there; None where there is none that has it."""
    for one in made_from(nodes, index):
        owner = one
        while isinstance(nodes[owner].kind, EdgeKind | DartKind) and "piece" in nodes[owner].args:
            owner = nodes[owner].args["piece"]
        kind = nodes[owner].kind
        if not isinstance(kind, PieceKind):
            continue
        if name == "":
            return owner, name
        known = {*kind.sketch.edge_names(), *kind.sketch.dart_names(), *kind.sketch.points}
        there = next((other for other in _names_before(nodes[index], name) if other in known), None)
        if there is not None:
            return owner, there
    return None


def _names_before(node: Node, name: str) -> list[str]:
    """What a piece may have called before a sentence what is called so after it, the likeliest first."""
    if node.words.get("as") == name and node.verb == "rename":
        return list(node.words["marks"])
    assert isinstance(node.kind, PieceKind)
    sides = node.kind.sketch.sides(name)
    return [name, *(other for side in sides for other in reversed(side.names)), plain(name)]


def _said(node: Node) -> set[str]:
    """What a statement is said of."""
    found: set[str] = set()
    for said in (node.words[word] for word in ("on", "subject") if word in node.words):
        found.update(one for one in (said if isinstance(said, tuple) else (said,)) if isinstance(one, str))
    return found


def _alike(one: Value, called: str, other: Value, name: str, lane: int) -> bool:
    """Whether something of a piece lies on another, by its name there, as it did: told of a body."""
    if not isinstance(one, Piece) or not isinstance(other, Piece):
        return True
    rows = [_points(piece, what, lane) for piece, what in ((one, called), (other, name))]
    return rows[0].shape == rows[1].shape and bool((np.abs(rows[0] - rows[1]) <= COINCIDE).all())


def _points(piece: Piece, name: str, lane: int) -> Reals:
    """Control points (n, 2) of an edge, of the legs of a dart, or a point."""
    dart = piece.dart(name)
    names = (dart.first, dart.second) if dart is not None else (name,)
    lines = [side.drawn.controls for one in names for side in Edge(piece, one).sides]
    hole = piece.hole(name)
    lines += [side.drawn.controls for side in hole.sides] if hole is not None else []
    point = piece.points.get(name)
    lines += [] if point is None else [point[:, None, None, :]]
    rows = [(line[lane] if line.shape[0] > 1 else line[0]).reshape(-1, 2) for line in lines]
    return np.concatenate(rows) if rows else np.zeros((0, 2))
