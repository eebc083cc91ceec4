"""What a node is, as a hash: its operation, its kind, what is fixed of it, and the identities of what it is made from.

Two nodes of one identity have one value on every body and setting of the choices, whatever style, file or process they stand in.
A choice is an input by its name, as a measurement is: its default, its bounds and what it is set to do not enter. Where it
decides what there is (`when`, how many, which arm is drawn), the nodes that are there say so. Where a sentence stands, in
which order, and what its definition is called do not enter; what the cloth carries (names of edges, darts, points, cloths) does.
A solve is hashed as a subgraph, both sides of its equation with a placeholder for the unknown.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

from .payloads import Payload, Solve, marked
from .style import CheckedStyle, NamedCheck, Node

Identity = str
"""Hexadecimal, the same in every process."""

_SIZE = 16
_Unknowns = tuple[tuple[int, int], ...]
"""Solves whose sides are being hashed, outermost first, each with the number of its placeholder."""
_Asked = tuple[int, _Unknowns]
"""A node, and the unknowns it is hashed with."""


def identities(nodes: Sequence[Node]) -> tuple[Identity, ...]:
    """The identity of every node of a style."""
    hashing = _Hashing(nodes)
    return tuple(hashing.of(index).hex() for index in range(len(nodes)))


def fingerprint(style: CheckedStyle) -> str:
    """Eight digits that change when what the style is does (`whole`).

    Digits are of one width, so that no sheet is laid out by its version.
    """
    return f"{int.from_bytes(whole(style), 'big') % 10**8:08d}"


def whole(style: CheckedStyle) -> bytes:
    """What a style is, as a hash: its pieces, seams, checks, specification, promises and words, and what is chosen."""
    known = style.identities

    def named(found: Mapping[str, int]) -> dict[str, Identity]:
        return {name: known[node] for name, node in found.items()}

    def checked(found: Sequence[NamedCheck]) -> dict[str, tuple[Identity, str]]:
        return {one.name: (known[one.node], one.text) for one in found}

    rooms = (style.pieces, style.seams, style.attached, style.fits)
    held = (
        style.title,
        style.built_from,
        tuple(named(room) for room in rooms),
        checked(style.checks),
        checked(style.tidings),
        dict(style.notes),
        {one.name: (one.kind.word, one.low, one.high) for one in style.choices},
        dict(style.chosen),
    )
    return _hash(canonical(held))


def canonical(value: Any) -> bytes:
    """What is fixed of a node as bytes: mappings by their keys, floats to the bit. What has no order is refused."""
    write = _WRITTEN.get(type(value))
    if write is not None:
        return write(value)
    if isinstance(value, Mapping):
        return b"{" + b"".join(sorted(canonical(key) + canonical(held) for key, held in value.items())) + b"}"
    if is_dataclass(value) and not isinstance(value, type):
        return canonical((type(value).__name__, *((one.name, getattr(value, one.name)) for one in fields(value))))
    raise TypeError(f"{type(value).__name__} has no canonical form")


def _text(value: str) -> bytes:
    written = value.encode()
    return b"s%d:%s" % (len(written), written)


def _row(value: Sequence[Any]) -> bytes:
    return b"(" + b"".join([canonical(one) for one in value]) + b")"


_WRITTEN: Mapping[type, Callable[[Any], bytes]] = {
    str: _text,
    float: lambda value: f"f{value.hex()};".encode(),
    bool: lambda value: b"yes;" if value else b"no;",
    int: lambda value: b"i%d;" % value,
    type(None): lambda value: b"none;",
    tuple: _row,
    list: _row,
}


def _hash(written: bytes) -> bytes:
    return hashlib.blake2b(written, digest_size=_SIZE).digest()


class _Hashing:
    """Identities of the nodes of one style, made when they are asked for."""

    def __init__(self, nodes: Sequence[Node]) -> None:
        self.nodes = nodes
        self.reached = reached(nodes, [1 << index if isinstance(node.payload, Solve) else 0 for index, node in enumerate(nodes)])
        self.known: dict[_Asked, bytes] = {}
        self.fixed: dict[int, bytes] = {}  # what is fixed of a node, written out

    def of(self, index: int) -> bytes:
        """The identity of a node, its inputs hashed first: rows of definitions are too long to recurse."""
        todo: list[_Asked] = [(index, ())]
        while todo:
            at = todo[-1]
            parts = self._parts(*at)
            missing = [one for _, one in parts if one not in self.known]
            todo += missing
            if not missing:
                todo.pop()
                if at not in self.known:
                    self.known[at] = self._made(*at, parts)
        return self.known[index, ()]

    def _parts(self, index: int, unknowns: _Unknowns) -> list[tuple[str, _Asked]]:
        """The nodes a node is hashed with, and those of the unknowns that each rests on: what rests on none is the same
        everywhere."""
        if unknowns and index in dict(unknowns):
            return []
        node = self.nodes[index]
        parts = [(f"of {name}", self._asked(arg, unknowns)) for name, arg in node.args.items()]
        inner = (*unknowns, (index, _next(unknowns))) if isinstance(node.payload, Solve) else unknowns
        return parts + [(f"to {name}", self._asked(one, inner)) for name, one in references(node.payload)]

    def _asked(self, index: int, unknowns: _Unknowns) -> _Asked:
        if not unknowns:
            return index, unknowns
        reached = self.reached[index]
        return index, tuple(one for one in unknowns if reached >> one[0] & 1)

    def _made(self, index: int, unknowns: _Unknowns, parts: Sequence[tuple[str, _Asked]]) -> bytes:
        placeholder = dict(unknowns).get(index) if unknowns else None
        if placeholder is not None:
            return _hash(b"unknown %d" % placeholder)
        node = self.nodes[index]
        if index not in self.fixed:
            self.fixed[index] = canonical((type(node.payload).__name__, node.kind.word, _fixed(node.payload)))
        named = sorted((name.encode(), self.known[part]) for name, part in parts)
        open_ = b""
        if isinstance(node.payload, Solve):  # of two that rest on each other one is tried around the other: their order counts
            open_ = canonical((_next(unknowns), tuple(index > other for other, _ in unknowns)))
        return _hash(self.fixed[index] + open_ + b"".join(_text_and(name, digest) for name, digest in named))


def references(payload: Payload) -> list[tuple[str, int]]:
    """The nodes a payload names, but those not settled."""
    named = ((name, getattr(payload, name)) for name in marked(type(payload), "reference"))
    return [(name, one) for name, one in named if one >= 0]


def _fixed(payload: Payload) -> tuple[Any, ...]:
    """What a payload is told, but for what messages alone read and for nodes."""
    return tuple([getattr(payload, name) for name in _fixed_names(type(payload))])


def _fixed_names(kind: type[Payload]) -> tuple[str, ...]:
    if kind not in _FIXED:
        left_out = {*marked(kind, "told"), *marked(kind, "reference")}
        _FIXED[kind] = tuple(one.name for one in fields(kind) if one.name not in left_out)
    return _FIXED[kind]


_FIXED: dict[type[Payload], tuple[str, ...]] = {}


def _text_and(name: bytes, digest: bytes) -> bytes:
    return b"%d:%s%s" % (len(name), name, digest)


def _next(unknowns: _Unknowns) -> int:
    return max((number for _, number in unknowns), default=-1) + 1


def reached(nodes: Sequence[Node], own: Sequence[int]) -> list[int]:
    """Which marks each node rests on, also by the sides of solves: its own are set in `own`, each a bit, as they are here."""
    inputs = [node.inputs() for node in nodes]
    found, grown = list(own), True
    while grown:  # again where the sides of a solve, which stand behind it, rest on others
        grown = False
        for index, behind in enumerate(inputs):
            marks = found[index]
            for one in behind:
                marks |= found[one]
            grown = grown or marks != found[index]
            found[index] = marks
    return found
