"""What the words of a text stand for, where that is defined, and where else it is named: noted while names are looked up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Literal, NamedTuple

from ..diagnostics.diagnostic import Span
from ..pattern.piece import Piece
from ..syntax.lexer import lex
from ..syntax.tokens import Token
from ..verbs import kinds as k
from .style import Node, Origin

What = Literal[
    "definition", "recipe", "word", "member", "edge", "dart", "point", "measurement", "verb", "module", "reserved word"
]
Key = tuple[str, str, Span | None]


@dataclass(frozen=True, slots=True)
class Symbol:
    """What a word stands for: what that is, its name, the kind of its value, "" where it has none or it is not known, and where
    it is defined: None for what the language and the list of measurements give.

    That is the name there; for a leg of a dart, a side of a seam or one of a repeat that of the whole, and the sentence where a
    verb gives a name that is not written: `left_side` of `unfold`, `with_hem` of `divide`.
    """

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
    """The symbols of a style and of all it is made of. Of a recipe that nothing uses only the name is known.

    `part_names` tells where the names are written of the edges, darts and points that a node gives a piece.
    """

    notes: Sequence[Note]
    nodes: Sequence[Node]
    origins: Sequence[Origin]
    part_names: Mapping[int, Mapping[str, Span]]
    texts: Mapping[str, str]

    def at(self, file: str, offset: int) -> Symbol | None:
        """What the word at an offset of a text stands for; None where no word of a known meaning is."""
        found = [note for note in self._by_file.get(file, ()) if note.span.start <= offset < note.span.end]
        if found:
            return self._symbol(min(found, key=lambda note: note.span.end - note.span.start))
        return _reserved(self.texts.get(file, ""), file, offset)

    def uses(self, symbol: Symbol) -> tuple[Span, ...]:
        """Every place that names it, in all texts; where it is defined is none of them."""
        spans = (span for span in self._named.get(_key(symbol), ()) if span != symbol.defined)
        return tuple(sorted(spans, key=lambda span: (span.file, span.start)))

    @cached_property
    def _by_file(self) -> Mapping[str, Sequence[Note]]:
        found: dict[str, list[Note]] = {}
        for note in dict.fromkeys(self.notes):
            found.setdefault(note.span.file, []).append(note)
        return found

    @cached_property
    def _named(self) -> Mapping[Key, set[Span]]:
        found: dict[Key, set[Span]] = {}
        for note in dict.fromkeys(self.notes):
            found.setdefault(_key(self._symbol(note)), set()).add(note.span)
        return found

    def _symbol(self, note: Note) -> Symbol:
        place = self._made(note.place, note.name) if isinstance(note.place, int) else note.place
        return Symbol(note.what, note.name, note.kind, place)

    def _made(self, owner: int, name: str) -> Span:
        """Where a part of a piece was made: in the first of the sentences that led to the piece whose shape has it. Its name
        there, or that of the dart whose leg it is; the whole sentence where neither is written."""
        made = owner
        while (before := self._before(made, name)) is not None:
            made = before
        names = self.part_names.get(made, {})
        return names.get(name) or names.get(name.rpartition(".")[0]) or self.origins[made].span

    def _before(self, index: int, name: str) -> int | None:
        """The piece a node was made of, as far as that has the part too."""
        return next((one for one in _given(self.nodes[index]) if _has(self.nodes[one].kind, name)), None)


def _key(symbol: Symbol) -> Key:
    """What two symbols have in common that are one: the name, as far as it is written where it is defined, and that place."""
    if symbol.defined is None:
        return symbol.what, symbol.name, None
    return "", _last(symbol.what, symbol.name), symbol.defined


def _last(what: What, name: str) -> str:
    """The name itself, without the piece, the block or the use of a recipe it is in; the legs of a dart are called with it."""
    if what in ("edge", "dart", "point"):
        return name
    return name.rpartition(" ")[2].rpartition(".")[2] if what == "word" else name.rpartition(".")[2]


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
    found = next((one for one in _reserved_words(text, file) if one.start <= offset < one.end), None)
    return None if found is None else Symbol("reserved word", found.text)


@lru_cache(maxsize=32)
def _reserved_words(text: str, file: str) -> tuple[Token, ...]:
    tokens = (token for line in lex(text, file).lines for token in line.tokens)
    return tuple(one for one in tokens if one.text.isidentifier() and one.type not in ("NAME", "STRING", "DOTTED"))
