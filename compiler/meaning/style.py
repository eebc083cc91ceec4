"""The checked style: a flat graph of typed nodes, recipes written out, every name settled. No numbers yet."""

from __future__ import annotations

import copyreg
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from ..diagnostics.diagnostic import Span, Step
from ..verbs.kinds import DartKind, EdgeKind, Kind, PieceKind
from ..verbs.values import listed
from .payloads import Call, Payload, Solve


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a node was written: its place, the sentence it belongs to, and the recipes it was reached through.

    `name` is the whole name of the definition (`base.scye_level`), or "" inside a sentence.
    """

    span: Span
    sentence: Span
    name: str = ""
    trace: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class Node:
    """One value of the style: an operation with what it is told without a body, and `args`, the nodes it is made from. The kind
    follows from these. Where it is written stands beside (`CheckedStyle.origins`): two sentences that say the same stay two
    nodes, so that each is told at its own place, and are one by their identity."""

    payload: Payload
    kind: Kind = field(compare=False)
    args: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def verb(self) -> str:
        """The verb it applies, if it does."""
        return self.payload.verb if isinstance(self.payload, Call) else ""

    @property
    def words(self) -> Mapping[str, Any]:
        """The words of the verb that are known without a body."""
        return self.payload.words if isinstance(self.payload, Call) else {}

    @property
    def before(self) -> int | None:
        """What a sentence goes on with: its piece or its subject; of one of several changed together its own edge."""
        part = self.words.get("part")
        if isinstance(part, int):
            edges = listed(self.args, "subject") or [self.args["subject"], self.args["to"]]
            return edges[part]
        return self.args.get("piece", self.args.get("subject"))

    def equation(self) -> tuple[int, ...]:
        """Both sides of a solve's equation; nothing of another node."""
        return (self.payload.left, self.payload.right) if isinstance(self.payload, Solve) else ()

    def inputs(self) -> tuple[int, ...]:
        """All it may rest on: what it is made from, and for a solve both sides of its equation, which stand behind it."""
        return (*self.args.values(), *self.equation())


def _held(values: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(values)


copyreg.pickle(MappingProxyType, lambda held: (_held, (dict(held),)))  # so that a checked style can be kept, and sent on


CARRIED = (PieceKind, DartKind)
"""Kinds by which cloth goes from one piece to the next; of an edge only where a piece is made of it, as by `smooth`."""


def made_from(nodes: Sequence[Node], index: int) -> list[int]:
    """What a node takes its cloth from: pieces and darts, and the edge a piece is made of."""
    node = nodes[index]
    found = [one for one in node.args.values() if isinstance(nodes[one].kind, CARRIED)]
    edge = node.before if isinstance(node.kind, CARRIED) else None
    return found if edge is None or not isinstance(nodes[edge].kind, EdgeKind) else [*found, edge]


def made_by(nodes: Sequence[Node], index: int, verb: str, until: Collection[str] = ()) -> bool:
    """Whether a verb is among the sentences that led to a piece, back to its draft, or to one of the verbs `until`."""
    following: int | None = index
    while following is not None:
        node = nodes[following]
        if node.verb == verb:
            return True
        if node.verb in until:
            return False
        following = node.before
    return False


@dataclass(frozen=True, slots=True)
class Typed:
    """A node with its kind; `constant` is its value where that is known without a body (mm, radians, or a number), `chosen`
    whether that rests on choices as they are set: what is decided by it is decided, but what is reckoned with it is a node."""

    kind: Kind
    node: int
    constant: float | None = None
    chosen: bool = False


@dataclass(frozen=True)
class BlockKind(Kind):
    """What a block gives: a number of named things; `members` maps a name to its kind and its node. `shared` are names that
    several of them have, or may have, so that none is reached by `with_NAME`. `partial` where a sentence of the block cannot be
    read: what it lacks may be given there. `places` tells where a member's name is written, or that of the whole."""

    members: Mapping[str, tuple[Kind, int]]
    shared: frozenset[str] = frozenset()
    partial: bool = False
    places: Mapping[str, Span] = field(default_factory=lambda: MappingProxyType({}), compare=False)


def reversed_bounds(low: Typed, high: Typed) -> bool:
    """Whether two values known without a body have nothing between them, the first being the greater."""
    return low.constant is not None and high.constant is not None and low.constant > high.constant


@dataclass(frozen=True, slots=True)
class Choice:
    """A choice of the style: default and bounds in mm, radians or as a number (a flag is 0 or 1)."""

    name: str
    kind: Kind
    default: float
    low: float | None
    high: float | None
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class NamedCheck:
    """A check of the style: its own name, the condition as written, and the text the cutter gave it.

    `tells`: the text is told where the condition holds, and nothing fails. `own`: the style says it, not a module it uses.
    """

    name: str
    node: int
    written: str
    text: str
    tells: bool = False
    own: bool = True


@dataclass(frozen=True, slots=True)
class CheckedStyle:
    """All that evaluation needs. Tuples are in the order of the file; `pieces` are those to be cut, by name.

    `choices` are what may be set, `chosen` the values they have, by their whole names: these are no part of the nodes, but where
    one decides what there is (`when`, how many), its nodes are there or not. `names` maps every definition, inside recipes too,
    to its node; `measures` maps each measurement used to the places that ask for it; `texts` maps a file to its text;
    `attached` are the sentences of the specification by name, `notes` the texts at the end of these and of seams.
    `built_from` are the titles of the styles it is built from, nearest first; `changed` maps a definition that is changed in
    it to the sentence in the base; `definitions` maps each of `names` to its sentence. `fits` are the promises of fit that its
    pieces are held to, by name, `base.bust` for one of a block. `tidings` are what is told where its condition holds. `links`
    maps the node of each link of a chain, but of the last, to what is written there. `identities` are those of the nodes.
    """

    title: str
    file: str
    nodes: tuple[Node, ...]
    origins: tuple[Origin, ...]
    pieces: Mapping[str, int]
    seams: Mapping[str, int]
    checks: tuple[NamedCheck, ...]
    choices: tuple[Choice, ...]
    names: Mapping[str, int]
    measures: Mapping[str, tuple[Span, ...]]
    texts: Mapping[str, str]
    attached: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    notes: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    built_from: tuple[str, ...] = ()
    changed: Mapping[str, Span] = field(default_factory=lambda: MappingProxyType({}))
    definitions: Mapping[str, Span] = field(default_factory=lambda: MappingProxyType({}))
    fits: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    tidings: tuple[NamedCheck, ...] = ()
    links: Mapping[int, Span] = field(default_factory=lambda: MappingProxyType({}))
    chosen: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    identities: tuple[str, ...] = ()
