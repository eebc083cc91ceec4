"""The files of a style: the modules it uses and the styles it is built from, each read once, and the scope of each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial
from typing import Protocol

from ..diagnostics import derive_words
from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Diagnostic, Span, Step
from ..syntax import tree as t
from ..syntax.parser import parse
from ..syntax.source import Source
from ..verbs.registry import verbs, words_taken
from . import misnamed
from .checker import Checker, Scope
from .defaults import defaults_read
from .derive import OF_RECIPES, derive
from .handed_on import hand_on
from .mentioned import mentioned, stray_edits
from .recipes import declare
from .told_apart import head_of, name_of

Missing = Callable[[Span, str, Sequence[str]], Diagnostic]


class Sources(Protocol):
    """Where modules come from: the standard library, and the folder of the style. Each gives a text or None; a file beside
    the style that is there and cannot be read as text comes with what is wrong with it."""

    def library(self, module: str) -> Source | None: ...

    def beside(self, module: str) -> tuple[Source | None, tuple[Diagnostic, ...]]: ...

    def modules(self) -> Sequence[str]: ...


@lru_cache(maxsize=64)
def parsed(source: Source) -> tuple[t.StyleFile, tuple[Diagnostic, ...]]:
    """A text as `parse` reads it: once for all analyses of this process that need it, as long as it says the same."""
    return parse(source.text, source.id, words_taken)


@dataclass
class MergedFile:
    """A file with all it takes from the style it is built from, and from that one's base in turn.

    `own` is the tree of the file alone; `titles` those of the bases, nearest first; `changed` and `removed` as in `Derived`;
    `mentioned` all names the bases write anywhere; `lossy` where the base itself is not known.
    """

    tree: t.StyleFile
    own: t.StyleFile
    titles: list[str] = field(default_factory=list)
    changed: dict[str, Span] = field(default_factory=dict)
    removed: dict[str, Span] = field(default_factory=dict)
    mentioned: frozenset[str] = frozenset()
    lossy: bool = False


class Reader:
    """Reads the files of one style, each once."""

    def __init__(self, checker: Checker, sources: Sources) -> None:
        self.checker = checker
        self.sources = sources
        self.scopes: dict[str, Scope] = {}
        self.wholes: dict[str, MergedFile] = {}
        self.texts: dict[str, str] = {}
        checker.texts = self.texts

    def scope(self, tree: t.StyleFile) -> Scope:
        """The scope of a file: its recipes, those it uses, and its definitions."""
        scope = Scope(tree.file)
        self.scopes[tree.file] = scope
        stem = tree.file.rpartition("/")[2].removesuffix(".style")
        whole = self.wholes[tree.file] = self._whole(scope, tree, (stem,))
        scope.removed, scope.lossy = whole.removed, whole.lossy
        sentences = whole.tree.sentences
        for recipe in (sentence for sentence in sentences if isinstance(sentence, t.Recipe)):
            if recipe.name.text in scope.recipes:
                first = scope.recipes[recipe.name.text][0].name.span
                self.checker.report(scope, words.defined_twice(recipe.name.span, recipe.name.text, first))
                scope.lossy = True
            elif recipe.name.text in verbs():
                self.checker.report(scope, words.verb_redefined(recipe.name.span, recipe.name.text))
                scope.lossy = True  # what it should be called may be asked for
            scope.recipes[recipe.name.text] = (recipe, scope)
            self.checker.note(recipe.name.span, "recipe", recipe.name.text, place=recipe.name.span)
        for sentence in sentences:
            if isinstance(sentence, t.Use):
                self._use(scope, sentence)
            elif isinstance(sentence, t.Broken) and sentence.head == "use":
                scope.lose(sentence)
        hand_on(self.checker, scope)
        for edit in stray_edits(sentences):
            word = "change" if isinstance(edit, (t.Change, t.ChangeValues)) else type(edit).__name__.lower()
            self.checker.report(scope, derive_words.no_base_here(edit.span, word))
        for one in sentences:
            if isinstance(one, OF_RECIPES):
                fix = "it belongs into the braces of a recipe; a style has definitions, seams and checks"
                self.checker.report(scope, words.misplaced(one.span, head_of(one), fix))
        declare(self.checker, scope, sentences)
        for recipe, home in scope.recipes.values():
            if home is scope:
                defaults_read(self.checker, scope, recipe)
        return scope

    # ---- a style built from another ------------------------------------------------------------

    def _whole(self, scope: Scope, tree: t.StyleFile, row: tuple[str, ...], asked: t.Word | None = None) -> MergedFile:
        """The sentences of a file laid over those of its base; `row` are the names of it and those built on it, `asked` is
        the base the first of them names."""
        self.texts[tree.file] = tree.text
        self.checker.trees[tree.file] = tree
        for sentence in tree.sentences:
            if isinstance(sentence, t.Language) and sentence.version.text != "1":
                self.checker.report(scope, words.unknown_language(sentence.span, sentence.version.text))
        title = next((one for one in tree.sentences if isinstance(one, t.Title)), None)
        if title is None and any(isinstance(one, t.Broken) and one.head in ("style", "") for one in tree.sentences):
            return _without_base(tree)
        if title is None or title.base is None:
            return MergedFile(tree, tree)
        base_tree = self._base(scope, title.base, row, asked or title.base)
        if base_tree is None:
            return _without_base(tree)
        edits = [one for one in tree.sentences if isinstance(one, t.Broken) and one.head in ("", "change", "without")]
        self.checker.muted = self.checker.muted or not all(one.names for one in edits)
        self.checker.bases[base_tree.file] = Step(title.base.span, f"in `{title.base.text}`")
        base = self._whole(scope, base_tree, (*row, title.base.text), asked or title.base)
        known = {name.text for one in base.tree.sentences if (name := name_of(one)) is not None}
        self.checker.half_edited = self.checker.half_edited or any(
            known.isdisjoint(name.text for name in one.names) for one in edits
        )
        made = derive(
            base.tree.sentences,
            tree.sentences,
            title.base.text,
            lambda problem: self._edited(scope, problem),
            lambda name, old: self.checker.note(name.span, "definition", name.text, place=old.span),
        )
        named = next((one.text.value for one in base_tree.sentences if isinstance(one, t.Title)), title.base.text)
        return MergedFile(
            replace(tree, sentences=made.sentences),
            tree,
            [named, *base.titles],
            base.changed | made.changed,
            base.removed | made.removed,
            base.mentioned | mentioned(base_tree.sentences),
            base.lossy,
        )

    def _edited(self, scope: Scope, problem: Diagnostic) -> None:
        """Keep what is wrong with an edit. What it names is not changed as was meant: the sentences of the base, which hold
        there, are not to blame for what comes of it."""
        self.checker.half_edited = self.checker.half_edited or problem.is_error
        self.checker.report(scope, problem)

    def _base(self, scope: Scope, name: t.Word, row: tuple[str, ...], asked: t.Word) -> t.StyleFile | None:
        if name.text in row:
            self.checker.report(scope, derive_words.ring_of_styles(asked.span, [*row[row.index(name.text) :], name.text]))
            return None
        found = self._found(scope, name, derive_words.no_base)
        if found is None:
            return None
        return self._tree(name, found)

    def _tree(self, name: t.Word, source: Source) -> t.StyleFile:
        self.checker.note(name.span, "module", source.id, place=Span(source.id, 0, 0))
        tree, told = parsed(source)
        self.checker.diagnostics.extend(told)
        return tree

    # ---- modules -------------------------------------------------------------------------------

    def _use(self, scope: Scope, use: t.Use) -> None:
        module = self._module(scope, use)
        if module is None:
            for name in use.names:
                scope.lose(_unread(name))
            return
        for name in use.names:
            found = module.recipes.get(name.text)
            if found is not None:
                self.checker.note(name.span, "recipe", name.text, place=found[0].name.span)
            known = scope.recipes.get(name.text)
            if found is None and (module.lossy or module.is_broken(name.text)):
                scope.lose(_unread(name))
            elif found is None or found[1] is not module:
                own = [one for one, (_, home) in module.recipes.items() if home is module]
                places = {one: module.recipes[one][0].name.span for one in own}
                home, near = self._home_of(name.text), misnamed.among(name.text, places)
                told = words.not_in_module(name.span, name.text, use.module.text, own, home, near)
                self.checker.look_later(told, partial(misnamed.of_recipes, self.checker, places))
                self.checker.report(scope, told)
                scope.lossy = True  # which recipe was meant is not known
            elif known is not None and (known[0] is not found[0] or use.span.file == scope.used_in.get(name.text)):
                self.checker.report(scope, words.defined_twice(name.span, name.text, known[0].name.span))
            else:
                scope.recipes[name.text] = found
                scope.used_in[name.text] = use.span.file

    def _home_of(self, recipe: str) -> str:
        """The module of the library that has a recipe of this name; "" where none does."""
        for module in self.sources.modules():
            source = self.sources.library(module)
            if source is not None and any(
                isinstance(one, t.Recipe) and one.name.text == recipe for one in parsed(source)[0].sentences
            ):
                return module
        return ""

    def _module(self, scope: Scope, use: t.Use) -> Scope | None:
        found = self._found(scope, use.module, words.no_module)
        if found is None:
            return None
        if found.id in self.scopes:
            self.checker.note(use.module.span, "module", found.id, place=Span(found.id, 0, 0))
            return self.scopes[found.id]
        return self.scope(self._tree(use.module, found))

    def _found(self, scope: Scope, module: t.Word, missing: Missing) -> Source | None:
        """The text of a module or a style, from the library or beside the style; None once it is told what is wrong."""
        name = module.text
        library, (beside, problems) = self.sources.library(name), self.sources.beside(name)
        if library is not None and beside is not None:
            self.checker.report(scope, words.module_twice(module.span, name))
        if beside is not None or library is not None:
            return beside or library
        for problem in problems or (missing(module.span, name, self.sources.modules()),):
            self.checker.report(scope, replace(problem, span=module.span))
        return None


def _unread(name: t.Word) -> t.Broken:
    """A recipe that cannot be had: its name is known, and silent."""
    return t.Broken("use", "", (name,), None, name.span)


def _without_base(tree: t.StyleFile) -> MergedFile:
    """A file whose base is not known: what it adds is, and what it changes is known by name."""
    sentences: list[t.Sentence] = []
    for one in tree.sentences:
        inner = one.sentence if isinstance(one, t.Add | t.Change) else one
        if isinstance(one, t.Add) or not isinstance(one, t.Edit):
            sentences.append(inner)
        elif isinstance(one, t.Change) and (name := name_of(inner)) is not None:
            sentences.append(t.Broken("change", "", (name,), None, one.span))
    edited = any(isinstance(one, t.Edit) for one in tree.sentences)
    return MergedFile(replace(tree, sentences=tuple(sentences)), tree, lossy=edited)
