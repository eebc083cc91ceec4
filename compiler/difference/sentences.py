"""The sentences of a style and of all it is made of, each with its place, its kind, its name, and what it comes to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from ..diagnostics.diagnostic import Span
from ..meaning.identity import Identity
from ..meaning.reading import parsed
from ..meaning.style import CheckedStyle
from ..meaning.told_apart import head_of
from ..syntax import tree as t
from ..syntax.one_line import one_line
from ..syntax.source import Source
from .said import Called, Form, Part, as_called, form_of, parts_of

OWN = ""
"""The module of a style itself."""

Place = tuple[str, ...]
"""The recipes and braces a sentence stands in, from outside."""


@dataclass(frozen=True)
class Sentence:
    """A sentence of a style or a module. `head` is its kind (`piece`, `allow`, `takes`), `name` what it defines, "" nothing;
    `identities` are those of all that it comes to in this style, sorted; none where that is not known. `braces`: it stands in
    the braces of a definition, whose identities it has. `whole` are the names it has in the style; `unread` its text, where it
    cannot be read."""

    module: str
    place: Place
    head: str
    name: str
    node: t.Sentence
    identities: tuple[Identity, ...] = ()
    braces: bool = False
    whole: tuple[str, ...] = ()
    unread: str = ""

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        return self.called(as_called)

    def called(self, called: Called) -> tuple[Part, ...]:
        """What it says, with names of definitions as they are called now."""
        return (Part("", self.unread, ("unread", self.unread)),) if self.unread else parts_of(self.node, called)

    @cached_property
    def subject(self) -> Form:
        """What a sentence without a name is of: the edges it is `on`, else what it works on."""
        return () if self.name else form_of(_subject(self.node))


@dataclass(frozen=True)
class SideOfStyle:
    """All sentences of a side of a style, in the order they stand; `defined` are the places where a name is that of a definition,
    so that it may be called otherwise without being another."""

    sentences: tuple[Sentence, ...]
    defined: frozenset[tuple[str, Place, str]]


def sentences_of(file: str, texts: Mapping[str, str], style: CheckedStyle | None) -> SideOfStyle:
    """The sentences of a style in `file`; `texts` are those of all files it is made of, `style` what they come to."""
    known = _identities(style)
    found: list[Sentence] = []
    for path, text in texts.items():
        gathering = _Gathering(module_of(path, file), text, known, found)
        gathering.add(parsed(Source(path, text))[0].sentences, ())
    names = ((one.module, one.place, one.name) for one in found if one.name and not one.braces)
    return SideOfStyle(tuple(found), frozenset(names))


def module_of(path: str, file: str) -> str:
    """A file by the name under which a style uses it."""
    if path == file:
        return OWN
    folder = file.rpartition("/")[0]
    inside = path.removeprefix(f"{folder}/") if folder and not path.startswith("stdlib/") else path
    return inside.removesuffix(".style")


Known = Mapping[Span, Sequence[tuple[str, Identity]]]


def _identities(style: CheckedStyle | None) -> Known:
    """By sentence the names it has in the style, and the identities these come to."""
    found: dict[Span, list[tuple[str, Identity]]] = {}
    if style is None:
        return found
    for name, node in style.names.items():
        if name in style.definitions:
            found.setdefault(style.definitions[name], []).append((name, style.identities[node]))
    for check in (*style.checks, *style.tidings):
        found.setdefault(style.origins[check.node].sentence, []).append((check.name, style.identities[check.node]))
    return found


@dataclass
class _Gathering:
    """Walks the sentences of one file."""

    module: str
    text: str
    known: Known
    found: list[Sentence] = field(default_factory=list)

    def add(self, sentences: Sequence[t.Sentence], place: Place, owner: Sentence | None = None) -> None:
        for one in sentences:
            for made in self._made(one, place, owner):
                self.found.append(made)
                self._within(made, owner)

    def _made(self, one: t.Sentence, place: Place, owner: Sentence | None) -> Iterator[Sentence]:
        match one:
            case t.Use():
                for name in one.names:
                    yield Sentence(self.module, place, "use", name.text, one)
            case t.Without() if one.subject is None:
                for name in one.names:
                    yield Sentence(self.module, place, "without", name.text, one)
            case _:
                yield self._one(one, place, owner)

    def _one(self, one: t.Sentence, place: Place, owner: Sentence | None) -> Sentence:
        held = t.held(one)
        head = "each piece" if isinstance(held, t.EachPiece) else head_of(held)
        head = f"change {head}" if isinstance(one, t.Change) else head
        if isinstance(held, t.Broken):
            written = one_line(self.text[held.span.start : held.span.end])
            head = held.head or held.kind or "unreadable"
            return Sentence(self.module, place, head, _name(held), one, braces=owner is not None, unread=written)
        if owner is not None:
            return Sentence(self.module, place, head, _name(held), one, owner.identities, True)
        known = sorted(set(self.known.get(held.span, ())))
        identities = tuple(sorted(identity for _, identity in known))
        return Sentence(self.module, place, head, _name(held), one, identities, False, tuple(name for name, _ in known))

    def _within(self, made: Sentence, owner: Sentence | None) -> None:
        """What stands in its braces: of a recipe and a repeat sentences that are as those outside, of others what is of them."""
        held = t.held(made.node)
        block = getattr(held, "block", None)
        if block is None:
            return
        inner = made.name or made.head
        is_open = owner is None and isinstance(held, (t.Recipe, t.Each))
        self.add(block, (*made.place, inner), None if is_open else made)


def _name(held: t.Sentence) -> str:
    match held:
        case t.Definition() | t.Check() | t.Solve() | t.Recipe() | t.Takes():
            return held.name.text
        case t.ChangeValues() | t.Without() | t.Broken():
            return ", ".join(name.text for name in held.names)
        case t.Needs():
            return held.name.text
        case t.TakesAll():
            return f"all of {held.recipe.text}"
        case t.GivesAll():
            return f"all of {held.source.text}"
        case t.Each():
            return held.name.text
        case _:
            return ""


def _subject(node: t.Sentence) -> object:
    """What tells a statement from others of its verb."""
    held = t.held(node)
    if not isinstance(held, (t.Statement, t.ChangeValues, t.Without)):
        return None
    clauses = held.clauses if isinstance(held, t.Statement) else ()
    on = next((one.value for one in clauses if one.word.text == "on"), None)
    if on is None:
        return None if isinstance(held.subject, (t.Quantity, t.Number)) else held.subject
    return on if not isinstance(on, t.Listed) else tuple(sorted(on.items, key=lambda one: repr(form_of(one, as_called))))
