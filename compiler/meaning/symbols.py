"""What the words of a text stand for, where that is defined, and where else it is named: noted while names are looked up."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

from ..diagnostics.diagnostic import Span
from ..pattern.piece import Piece
from ..syntax.lexer import lex
from ..verbs import kinds as k
from .payloads import Outline
from .style import Node, Origin

What = Literal[
    "definition", "recipe", "word", "member", "edge", "dart", "point", "measurement", "verb", "module", "reserved word"
]


@dataclass(frozen=True, slots=True)
class Symbol:
    """What a word stands for: what that is, its name, the kind of its value, "" where it has none or it is not known, and where
    it is defined: None for what the language and the list of measurements give."""

    what: What
    name: str
    kind: str = ""
    defined: Span | None = None


class Note(NamedTuple):
    """One word as it was looked up. `place` is where it is defined: a place in a text, or the node of the piece it is part of."""

    span: Span
    what: What
    name: str
    kind: str = ""
    place: Span | int | None = None


@dataclass(frozen=True)
class Symbols:
    """The symbols of a style and of all it is made of. Of a recipe that nothing uses only the name is known."""

    notes: Sequence[Note]
    nodes: Sequence[Node]
    origins: Sequence[Origin]
    texts: Mapping[str, str]

    def at(self, file: str, offset: int) -> Symbol | None:
        """What the word at an offset of a text stands for; None where no word of a known meaning is."""
        found = [note for note in self._by_file.get(file, ()) if note.span.start <= offset < note.span.end]
        if found:
            return self._symbol(min(found, key=lambda note: note.span.end - note.span.start))
        return _reserved(self.texts.get(file, ""), file, offset)

    def uses(self, symbol: Symbol) -> tuple[Span, ...]:
        """Every place that names it, in all texts; where it is defined is none of them."""
        spans = {note.span for note, one in self._all if _same(one, symbol) and note.span != symbol.defined}
        return tuple(sorted(spans, key=lambda span: (span.file, span.start)))

    @cached_property
    def _by_file(self) -> Mapping[str, Sequence[Note]]:
        found: dict[str, list[Note]] = {}
        for note in self.notes:
            found.setdefault(note.span.file, []).append(note)
        return found

    @cached_property
    def _all(self) -> Sequence[tuple[Note, Symbol]]:
        return [(note, self._symbol(note)) for note in dict.fromkeys(self.notes)]

    def _symbol(self, note: Note) -> Symbol:
        place = self._made(note.place, note.name) if isinstance(note.place, int) else note.place
        return Symbol(note.what, note.name, note.kind, place)

    def _made(self, owner: int, name: str) -> Span:
        """Where a part of a piece was made: in the first of the sentences that led to the piece whose shape has it."""
        made = owner
        while (before := self._before(made, name)) is not None:
            made = before
        node = self.nodes[made]
        edge = node.args.get(name) if isinstance(node.payload, Outline) else None
        return self._word(self.origins[made].span if edge is None else self.origins[edge].sentence, name)

    def _before(self, index: int, name: str) -> int | None:
        """The piece a node was made of, as far as that has the part too."""
        return next((one for one in _given(self.nodes[index]) if _has(self.nodes[one].kind, name)), None)

    def _word(self, span: Span, name: str) -> Span:
        """The word itself in the sentence that makes it; the whole where it is not written there."""
        text = self.texts.get(span.file, "")[span.start : span.end]
        found = re.search(rf"\b{re.escape(name)}\b", text)
        return span if found is None else Span(span.file, span.start + found.start(), span.start + found.end())


def _same(one: Symbol, other: Symbol) -> bool:
    if one.defined is None or other.defined is None:
        return (one.what, one.name, one.defined) == (other.what, other.name, other.defined)
    return one.defined == other.defined


def _given(node: Node) -> Iterator[int]:
    """The nodes a node may have its parts from, what it works on first."""
    first = [node.args[name] for name in ("piece", "subject") if name in node.args]
    yield from first
    yield from (one for one in node.args.values() if one not in first)


def _has(kind: k.Kind, name: str) -> bool:
    return isinstance(kind, (k.PieceKind, k.EdgeKind, k.DartKind)) and part_of(kind.sketch, name) is not None


def part_of(sketch: Piece, name: str) -> Literal["edge", "dart", "point"] | None:
    """What a piece calls so."""
    if name in sketch.edge_names():
        return "edge"
    if name in sketch.dart_names():
        return "dart"
    return "point" if name in sketch.points else None


def _reserved(text: str, file: str, offset: int) -> Symbol | None:
    """A word of the language itself."""
    for line in lex(text, file).lines:
        for token in line.tokens:
            if token.start <= offset < token.end and token.text.isidentifier() and token.type != "NAME":
                return Symbol("reserved word", token.text) if token.type not in ("STRING", "DOTTED") else None
    return None
