"""What proves without a body that a style, or a piece of it, is the same: hashes over identities."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from ..meaning.identity import Identity, canonical, reached
from ..meaning.payloads import EdgeOf, Setting
from ..meaning.style import CheckedStyle
from ..verbs.kinds import AttachedKind, PieceKind, SeamKind

Root = str
Proof = Literal["same", "outline", "open", "new", "gone"]
"""`same`: the finished piece is the same for every body. `outline`: its lines and allowances are, but what it is sewn to is not,
so that notches and corners may be others. `open`: it may be another."""

_SIZE = 16


@dataclass(frozen=True)
class PieceRoot:
    """Of a piece `whole` is all that its finished cloth rests on, `outline` what is drawn of it before it is sewn."""

    whole: Root
    outline: Root


@dataclass(frozen=True)
class Roots:
    """Of a style: its `cloth` (finished pieces, seams, specification, what choices are set to), what is `promised` of it (checks,
    fits) and the `words` that are said with it (names, texts, bounds of choices); pieces, seams and rows of the specification
    by name. Two of one value are the same for every body."""

    cloth: Root
    promised: Root
    words: Root
    pieces: Mapping[str, PieceRoot]
    seams: Mapping[str, Root]
    rows: Mapping[str, Root]

    @property
    def whole(self) -> Root:
        return _hash((self.cloth, self.promised, self.words))


def roots(style: CheckedStyle) -> Roots:
    """The roots of a checked style."""
    reading = _Reading(style)
    pieces = {name: reading.piece(node) for name, node in style.pieces.items()}
    seams, rows = ({name: reading.of(node) for name, node in some.items()} for some in (style.seams, style.attached))
    cloth = _hash(tuple(sorted(some) for some in ([one.whole for one in pieces.values()], seams.values(), rows.values())))
    checks = [(reading.of(one.node), one.tells) for one in (*style.checks, *style.tidings)]
    promised = _hash((sorted(checks), sorted(reading.of(node) for node in style.fits.values())))
    return Roots(cloth, promised, _hash(_words(style)), pieces, seams, rows)


def piece_proof(old: PieceRoot | None, new: PieceRoot | None) -> Proof:
    """What is proved of a piece that both sides have, or one."""
    if old is None or new is None:
        return "new" if old is None else "gone"
    return "same" if old.whole == new.whole else "outline" if old.outline == new.outline else "open"


class _Reading:
    """A style whose nodes are hashed with what the choices that they rest on are set to."""

    def __init__(self, style: CheckedStyle) -> None:
        self.style = style
        names = sorted({node.payload.name for node in style.nodes if isinstance(node.payload, Setting)})
        self.names = names
        bits = {name: 1 << place for place, name in enumerate(names)}
        own = [bits[node.payload.name] if isinstance(node.payload, Setting) else 0 for node in style.nodes]
        self.reached = reached(style.nodes, own)
        self.sewn = {name: self._pieces_of(node) for name, node in style.seams.items()}

    def of(self, node: int) -> Root:
        """A node, and what it rests on of what is chosen."""
        marks = self.reached[node]
        chosen = [(name, self.style.chosen.get(name)) for place, name in enumerate(self.names) if marks >> place & 1]
        return _hash((self.style.identities[node], tuple(chosen)))

    def piece(self, node: int) -> PieceRoot:
        """A piece: itself and its seams, in which the pieces stand that it is sewn to. Which ends meet of a seam may show on what
        else these are sewn to, of which it counts what is said."""
        identity = self.style.identities[node]
        own = [name for name, others in self.sewn.items() if identity in others]
        partners = {one for name in own for one in self.sewn[name]}
        beside = [name for name, others in self.sewn.items() if name not in own and not partners.isdisjoint(others)]
        seams = sorted(self.of(self.style.seams[name]) for name in own)
        said = sorted(repr(self._said(self.style.seams[name])) for name in beside)
        outline = self.of(node)
        return PieceRoot(_hash((outline, tuple(seams), tuple(said))), outline)

    def _pieces_of(self, seam: int) -> frozenset[Identity]:
        """The pieces whose edges a seam sews."""
        found: set[Identity] = set()
        todo = [seam]
        while todo:
            node = self.style.nodes[todo.pop()]
            for arg in node.args.values():
                kind = self.style.nodes[arg].kind
                if isinstance(kind, PieceKind):
                    found.add(self.style.identities[arg])
                elif not isinstance(kind, (SeamKind, AttachedKind)):
                    todo.append(arg)
        return frozenset(found)

    def _said(self, index: int) -> tuple[Any, ...]:
        """What a seam says, edges by their names."""
        node = self.style.nodes[index]
        if isinstance(node.payload, EdgeOf):
            return (node.payload.name,)
        kinds = {name: self.style.nodes[arg].kind for name, arg in node.args.items()}
        edges = [name for name, kind in kinds.items() if not isinstance(kind, (PieceKind, SeamKind, AttachedKind))]
        return (node.verb, *sorted((name, self._said(node.args[name])) for name in edges))


def _words(style: CheckedStyle) -> tuple[object, ...]:
    """All that is printed or asked, and is no cloth."""
    rooms: Sequence[Mapping[str, int]] = (style.pieces, style.seams, style.attached, style.fits)
    return (
        style.title,
        style.built_from,
        tuple({name: style.identities[node] for name, node in room.items()} for room in rooms),
        {one.name: (style.identities[one.node], one.text) for one in (*style.checks, *style.tidings)},
        dict(style.notes),
        {one.name: (one.kind.word, one.low, one.high, one.text) for one in style.choices},
    )


def _hash(held: object) -> Root:
    return hashlib.blake2b(canonical(held), digest_size=_SIZE).hexdigest()
