"""The checker: scopes, the growing list of nodes, and the diagnostics found so far."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from ..bodies.vocabulary import canonical
from ..diagnostics import meaning_words as words
from ..diagnostics.derive_words import STILL_USED
from ..diagnostics.diagnostic import Diagnostic, Label, Lack, Span, Step
from ..syntax import tree as t
from ..verbs import kinds as k
from . import rings
from .mentioned import mentioned
from .payloads import Constant, Measure, Payload
from .stack import ROOM, Stack
from .style import Choice, Node, Origin, Typed
from .symbols import Note, What, part_of


@dataclass(eq=False)
class Scope:
    """Where names are looked up: a module, one use of a recipe, or the block of a piece.

    `prefix` is what its names are called from outside; `holders` tells the sentence a definition stands in (`gives`,
    `each`, or itself); `places` where a name it was given is declared; `drafted` the darts drafted with each edge; `own` the
    piece in whose block it stands, as far as it is made: its edges and points may be named there without it; `in_hand`
    what that is called where they come before what the style calls so, and `link` what
    the link of the chain is called among others;
    `taken` the words of the recipe whose use it is, `handed` what it gives of blocks that it hands on whole;
    `used_in` the file that brought a recipe in with `use`;
    `removed` what the style takes away from the one it is built from, and where;
    `twice` the names that two of its sentences define: which is meant nobody knows, nor what the other should be called;
    `broken` the names of sentences that cannot be read: known, and silent. `lossy` where such a sentence may have named more than
    is known of it: what is not found here may be its, and is not missed; `loose` the same of the parts of a piece, in its braces,
    and `unmade` the words of sentences there that make nothing.
    """

    file: str
    parent: Scope | None = None
    prefix: str = ""
    trace: tuple[Step, ...] = ()
    sentences: dict[str, t.Definition | t.Solve] = field(default_factory=dict)
    known: dict[str, Typed] = field(default_factory=dict)
    holders: dict[str, t.Sentence] = field(default_factory=dict)
    places: dict[str, Span] = field(default_factory=dict)
    drafted: dict[str, list[t.Definition]] = field(default_factory=dict)
    recipes: dict[str, tuple[t.Recipe, Scope]] = field(default_factory=dict)
    own: Typed | None = None
    in_hand: str | None = None
    link: str = ""
    used: set[str] = field(default_factory=set)
    taken: set[str] = field(default_factory=set)
    handed: dict[str, Typed] = field(default_factory=dict)
    used_in: dict[str, str] = field(default_factory=dict)
    removed: dict[str, Span] = field(default_factory=dict)
    broken: dict[str, t.Broken] = field(default_factory=dict)
    twice: set[str] = field(default_factory=set)
    lossy: bool = False
    loose: bool = False
    unmade: set[str] = field(default_factory=set)

    def lose(self, sentence: t.Broken) -> None:
        """Enter what is known of a sentence that cannot be read: its names stay silent, wherever they are used."""
        for name in sentence.names:
            self.broken.setdefault(name.text, sentence)
            if name.text not in self.sentences and name.text not in self.known and canonical(name.text) is None:
                self.known[name.text] = BROKEN
                self.places[name.text] = name.span
        nameless = sentence.head in NAMELESS or (sentence.head == "each" and sentence.kind)
        self.lossy = self.lossy or not (sentence.names or nameless)

    def may_miss(self, lack: Lack, name: str) -> bool:
        """Whether an error that what is written as `name` is not there may come of a sentence that is broken itself."""
        part = lack is not Lack.NOTHING
        own = (self.lossy and lack is Lack.NAME) or (self.loose and part) or (name in self.unmade and part)
        return own or (self.parent is not None and self.parent.may_miss(lack, name))

    def place_of(self, name: str) -> Span | None:
        """Where a name of this scope is defined, as far as that is written."""
        return self.sentences[name].name.span if name in self.sentences else self.places.get(name)

    def is_broken(self, name: str) -> bool:
        """Whether a sentence that cannot be read may have given the name."""
        return name in self.broken or (self.parent is not None and self.parent.is_broken(name))

    def holder(self, name: str) -> Scope | None:
        """The nearest scope that defines the name."""
        scope: Scope | None = self
        while scope is not None:
            if name in scope.known or name in scope.sentences:
                return scope
            scope = scope.parent
        return None

    def recipe(self, name: str) -> tuple[t.Recipe, Scope] | None:
        scope: Scope | None = self
        while scope is not None:
            if name in scope.recipes:
                return scope.recipes[name]
            scope = scope.parent
        return None

    def all_recipes(self) -> list[str]:
        """The names of all recipes that could have been meant here."""
        return [*self.recipes, *(self.parent.all_recipes() if self.parent else ())]

    def piece(self) -> Typed | None:
        """The piece in whose block this stands; None outside of one."""
        if self.own is not None or self.parent is None:
            return self.own
        return self.parent.piece()

    def all_taken(self) -> set[str]:
        """The words of the recipe this stands in; none in a style."""
        return self.taken | (set() if self.parent is None else self.parent.all_taken())

    def visible(self) -> list[str]:
        """All names that could have been meant here."""
        names: list[str] = []
        scope: Scope | None = self
        while scope is not None:
            names += [*scope.sentences, *scope.known]
            if scope.own is not None and isinstance(scope.own.kind, k.PieceKind):
                names += [*scope.own.kind.sketch.edge_names(), *scope.own.kind.sketch.points]
            scope = scope.parent
        return list(dict.fromkeys(names))


class Checker:
    """Nodes and diagnostics of one style; equal measurements share a node.

    `bases` are the files the style is built from, with the sentence that says so; `missed` the places that ask for a name
    taken away, with their sentence; `users` the sentences that ask for a name of the style.

    Expressions, names and sentences are made of one another; `elaborate` and `define` let each room's file call the
    others without importing them.
    """

    def __init__(self, settings: Mapping[str, tuple[k.Kind, float]], elaborate: Elaborate, define: Define) -> None:
        self._elaborate = elaborate
        self._define = define
        self.misfits: set[Span] = set()  # what recipes take, where default or bounds are of another kind
        self.nodes: list[Node] = []
        self.origins: list[Origin] = []  # of the nodes
        self.diagnostics: list[Diagnostic] = []
        self.names: dict[str, int] = {}
        self.definitions: dict[str, Span] = {}
        self.links: dict[int, Span] = {}  # the nodes of links of chains, the last left out
        self.measures: dict[str, list[Span]] = {}
        self.settings = settings
        self.checks: list[tuple[Scope, t.Check]] = []
        self.choices: list[Choice] = []
        self.chosen: dict[str, float] = {}  # what they are set to, by their whole names
        self.unsettled: list[tuple[Scope, t.Solve, Typed]] = []  # solves whose equation is not made yet
        self.each_piece: t.EachPiece | None = None  # what all pieces start from
        self.met: set[str] = set()  # edges named there that some piece has
        self.style: Scope | None = None  # that of the style itself, once its sentences are known
        self.promises: dict[str, tuple[Scope, t.Definition]] = {}  # of fit, by their whole names
        self.promised: dict[str, Typed] = {}  # those made
        self.cloths: list[tuple[Scope, t.Name]] = []  # where a piece is said to be cut in one
        self._ring: list[tuple[Scope, str, Span]] = []
        self._ringed: set[tuple[Scope, str]] = set()  # what stands in a ring that is told
        self.sentence: list[tuple[Span, str]] = []
        self._stack = Stack()
        self._shared: dict[tuple[str, object], Typed] = {}
        self._unknown: set[tuple[str, str]] = set()  # names nothing is called, and the file that asks for them
        self._told: set[tuple[str, Span | None]] = set()
        self.astray: dict[tuple[str, Span | None], Meant] = {}  # of errors: what may have been meant, found when all was read
        self._mentions: dict[str, frozenset[str]] = {}  # by file
        self.bases: dict[str, Step] = {}
        self.absent: dict[str, Span] = {}  # sentences that are not there, and the `when` that says so
        self.missed: dict[str, dict[Span, str]] = {}
        self.users: dict[str, set[str]] = {}
        self.texts: Mapping[str, str] = {}  # of the files, by name
        self.trees: dict[str, t.StyleFile] = {}  # the same, as they were read
        self.notes: list[Note] = []  # what was looked up
        self.part_names: dict[int, dict[str, Span]] = {}  # where the parts of pieces are named that nodes give them
        self.half_edited = False  # a sentence to be changed or taken away is not in the base
        self.muted = False  # what of the base is changed is not known: nothing can be said of the rest
        self.several: list[tuple[Scope, Span, Mapping[str, tuple[k.Kind, int]]]] = []  # what verbs gave as blocks

    def value(self, scope: Scope, expr: t.Expr, want: k.Kind | None = None) -> Typed:
        """The node of an expression, of the wanted kind."""
        stack = self._stack
        if stack.depth >= ROOM:
            if stack.is_full:
                return self.report(scope, words.too_deep(expr.span, DEEPEST))
            return stack.further(lambda: self.value(scope, expr, want))
        stack.depth += 1
        try:
            return self._elaborate(self, scope, expr, want)
        finally:
            stack.depth -= 1

    def note(self, span: Span, what: What, name: str, kind: k.Kind | None = None, place: Span | int | None = None) -> None:
        """Keep what a word was found to stand for."""
        self.notes.append(Note(span, what, name, "" if kind is None or kind is k.BROKEN else kind.word, place))

    def note_name(self, scope: Scope, word: t.Word) -> None:
        """The same of a name that is not asked for its value."""
        holder = scope.holder(word.text)
        if holder is not None:
            self.note(word.span, "definition", f"{holder.prefix}{word.text}", place=holder.place_of(word.text))

    def note_new(self, word: t.Word, prefix: str = "", kind: k.Kind | None = None) -> None:
        """The same of the name of something new."""
        self.note(word.span, "definition", f"{prefix}{word.text}", kind, word.span)

    def name_parts(self, made: Typed, names: Iterable[t.Word]) -> None:
        """Keep where the parts are named that a node gives its piece."""
        if made.kind is not k.BROKEN:
            self.part_names.setdefault(made.node, {}).update({word.text: word.span for word in names})

    def note_part(self, span: Span, owner: Typed | None, name: str) -> None:
        """The same of a part of a piece, or of the piece that an edge or a dart is on."""
        if owner is not None and isinstance(owner.kind, (k.PieceKind, k.EdgeKind, k.DartKind)):
            what = part_of(owner.kind.sketch, name)
            if what is not None:
                self.notes.append(Note(span, what, name, what, owner.node))

    def lookup(self, scope: Scope, word: t.Word) -> Typed | None:
        """The definition of a plain name seen from a scope, made when it is first asked for; None if there is none."""
        holder = scope.holder(word.text)
        if holder is None:
            return self._taken_away(scope, word)
        found = self._found(scope, holder, word)
        what: What = "word" if word.text in holder.taken else "definition"
        self.note(word.span, what, f"{holder.prefix}{word.text}", found.kind, holder.place_of(word.text))
        return found

    def made_alone(self, scope: Scope, name: str) -> Typed:
        """A definition of a scope, made because it stands there: that is no use of it."""
        asked = name in scope.used
        made = self.lookup(scope, scope.sentences[name].name) or BROKEN
        if not asked:
            scope.used.discard(name)
        return made

    def _found(self, scope: Scope, holder: Scope, word: t.Word) -> Typed:
        holder.used.add(word.text)
        if holder.parent is None and self.sentence:
            self.users.setdefault(word.text, set()).add(self.sentence[-1][1].split(".")[0])
        if word.text in holder.known:
            return BROKEN if word.text in holder.twice else holder.known[word.text]
        for index, (busy, name, _) in enumerate(self._ring):
            if busy is holder and name == word.text:
                names = [one for _, one, _ in self._ring[index:]] + [word.text]
                spans = [place for _, _, place in self._ring[index + 1 :]] + [word.span]
                whole = {(busy, one) for busy, one, _ in self._ring[index:]}
                if whole & self._ringed:  # of that a ring was told already
                    return BROKEN
                self._ringed |= whole
                made = [home.sentences[one] for home, one in whole]
                return self.report(scope, rings.told(made, names, spans, self.texts))
        if len(self._ring) >= DEEPEST:
            return self.report(scope, words.too_deep(word.span, DEEPEST))
        self._ring.append((holder, word.text, word.span))
        try:
            found = self._made(holder, holder.sentences[word.text])
        finally:
            self._ring.pop()
        holder.known[word.text] = found
        return BROKEN if word.text in holder.twice else found

    def _taken_away(self, scope: Scope, word: t.Word) -> Typed | None:
        """None, or broken where the name is one the style takes away from its base: told once, with all that use it."""
        home = scope
        while home.parent is not None:
            home = home.parent
        if word.text not in home.removed:
            return None
        self.missed.setdefault(word.text, {}).setdefault(word.span, self.sentence[-1][1] if self.sentence else "")
        return BROKEN

    def _made(self, scope: Scope, sentence: t.Definition | t.Solve) -> Typed:
        name = f"{scope.prefix}{sentence.name.text}"
        self.sentence.append((sentence.span, name))
        try:
            found = self._define(self, scope, sentence)
        finally:
            self.sentence.pop()
        if found.node >= 0:  # neither broken nor a block, which is many values
            self.names.setdefault(name, found.node)
            self.definitions.setdefault(name, sentence.span)
        return found

    def written(self, span: Span) -> str:
        """What stands in the text there, on one line."""
        return " ".join(self.texts.get(span.file, "")[span.start : span.end].split())

    def report(self, scope: Scope, diagnostic: Diagnostic) -> Typed:
        """Keep a diagnostic, with the way through the recipes, once for each place; the sentence is broken."""
        if self.muted or (self.half_edited and self._of_base(diagnostic)):
            return BROKEN
        if diagnostic.span is not None and scope.may_miss(diagnostic.lack, self.written(diagnostic.span)):
            return BROKEN
        key = (diagnostic.code, diagnostic.span)
        if key not in self._told and not self._misread(diagnostic.span):
            self._told.add(key)
            base = self.bases.get(diagnostic.span.file) if diagnostic.span is not None else None
            if base is not None and diagnostic.is_error:
                diagnostic = replace(diagnostic, fix=f"{diagnostic.fix}; or change this sentence, or take it away")
            self.diagnostics.append(diagnostic.within(*scope.trace, *((base,) if base else ())))
        return BROKEN

    def look_later(self, told: Diagnostic, meant: Meant) -> None:
        """Keep how to find, in the end, what may have been meant: for the first error of a place, the only one that is told."""
        self.astray.setdefault((told.code, told.span), meant)

    def report_unknown(self, scope: Scope, diagnostic: Diagnostic, name: str) -> Typed:
        """The same of a name that nothing is called: told where it stands first in the style, for it is one slip."""
        if (name, scope.file) in self._unknown:
            return BROKEN
        self._unknown.add((name, scope.file))
        return self.report(scope, diagnostic)

    def mentions(self, file: str) -> frozenset[str]:
        """The first word of every name that a file writes as a value."""
        if file not in self._mentions:
            self._mentions[file] = mentioned(self.trees[file].sentences)
        return self._mentions[file]

    def is_unknown(self, name: str) -> bool:
        """Whether it was told that nothing is called so."""
        return any(name == one for one, _ in self._unknown)

    def _of_base(self, diagnostic: Diagnostic) -> bool:
        return diagnostic.code == STILL_USED or (diagnostic.span is not None and diagnostic.span.file in self.bases)

    def _misread(self, span: Span | None) -> bool:
        """Whether the place could not be read to begin with: what it means was told there already."""
        places = [one.span for one in self.diagnostics if one.unread and one.span is not None]
        return span is not None and any(
            one.file == span.file and one.start <= span.start and span.end <= one.end for one in places
        )

    def node(
        self,
        scope: Scope,
        payload: Payload,
        kind: k.Kind,
        span: Span,
        args: Mapping[str, Typed] | None = None,
    ) -> Typed:
        """Add a node; broken inputs make it broken."""
        given = args or {}
        if any(arg.kind is k.BROKEN for arg in given.values()) or kind is k.BROKEN:
            return BROKEN
        sentence, name = self.sentence[-1] if self.sentence else (span, "")
        self.origins.append(Origin(span, sentence, name, scope.trace))
        self.nodes.append(Node(payload, kind, {key: arg.node for key, arg in given.items()}))
        return Typed(kind, len(self.nodes) - 1)

    def taken_back(self) -> Node:
        """The node that was made last, which is not to stand: it is made anew with more."""
        self.origins.pop()
        self.part_names.pop(len(self.origins), None)
        return self.nodes.pop()

    def constant(self, scope: Scope, kind: k.Kind, value: float, span: Span) -> Typed:
        made = self.node(scope, Constant(bool(value) if kind is k.FLAG else float(value)), kind, span)
        return replace(made, constant=value)

    def measure(self, scope: Scope, name: str, kind: k.Kind, span: Span) -> Typed:
        self.measures.setdefault(name, []).append(span)
        shared = self._shared.get(("measure", name))
        if shared is None:
            shared = self.node(scope, Measure(name, kind is k.ANGLE), kind, span)
            self._shared["measure", name] = shared
        return shared


BROKEN = Typed(k.BROKEN, -1)
NAMELESS = ("language", "style", "check", "tell", "needs")
"""Heads of sentences that name nothing others could use."""
DEEPEST = 300
"""How many definitions may rest on each other in one row; longer ones are no draft."""
Elaborate = Callable[[Checker, Scope, t.Expr, "k.Kind | None"], Typed]
Define = Callable[[Checker, Scope, "t.Definition | t.Solve"], Typed]
Meant = Callable[[], tuple[Label, ...]]
"""The second places of an error, once all is known."""
