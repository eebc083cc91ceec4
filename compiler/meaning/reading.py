"""The files of a style: the modules it uses and the styles it is built from, each read once, and the scope of each."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Protocol

from ..diagnostics import derive_words
from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Diagnostic, Span, Step
from ..syntax import tree as t
from ..syntax.parser import parse
from ..syntax.words import KINDS
from ..verbs.registry import verbs, words_taken
from .bench import BROKEN, Bench, Scope
from .derive import OF_RECIPES, derive
from .handed_on import hand_on
from .mentioned import mentioned, stray_edits
from .recipes import declare

Missing = Callable[[Span, str, Sequence[str]], Diagnostic]
_HEAD = re.compile(rf"\s*(?:(?:gives|add|change)\s+)?(?:{'|'.join(sorted(KINDS))}|solve)\s+([a-z]\w*)")


class Sources(Protocol):
    """Where modules come from: the standard library, and the folder of the style. Each gives a text or None; a file beside
    the style that is there and cannot be read as text comes with what is wrong with it."""

    def library(self, module: str) -> str | None: ...

    def beside(self, module: str) -> tuple[str | None, tuple[Diagnostic, ...]]: ...

    def modules(self) -> Sequence[str]: ...


@lru_cache(maxsize=64)
def _parsed(text: str, file: str) -> tuple[t.StyleFile, tuple[Diagnostic, ...]]:
    """A module or a base as `parse` reads it: once for all styles of this process that use it."""
    return parse(text, file, words_taken)


@dataclass
class Whole:
    """A file with all it takes from the style it is built from, and from that one's base in turn.

    `own` is the tree of the file alone; `unread` are names whose sentence could not be read; `titles` those of the bases,
    nearest first; `changed` and `removed` as in `Derived`;
    `mentioned` all names the bases write anywhere.
    """

    tree: t.StyleFile
    own: t.StyleFile
    unread: set[str]
    titles: list[str] = field(default_factory=list)
    changed: dict[str, Span] = field(default_factory=dict)
    removed: dict[str, Span] = field(default_factory=dict)
    mentioned: frozenset[str] = frozenset()


class Reader:
    """Reads the files of one style, each once."""

    def __init__(self, bench: Bench, sources: Sources) -> None:
        self.bench = bench
        self.sources = sources
        self.scopes: dict[str, Scope] = {}
        self.wholes: dict[str, Whole] = {}
        self.texts: dict[str, str] = {}

    def scope(self, tree: t.StyleFile) -> Scope:
        """The scope of a file: its recipes, those it uses, and its definitions."""
        scope = Scope(tree.file)
        self.scopes[tree.file] = scope
        stem = tree.file.rpartition("/")[2].removesuffix(".style")
        whole = self.wholes[tree.file] = self._whole(scope, tree, (stem,))
        scope.removed = whole.removed
        sentences = whole.tree.sentences
        for recipe in (sentence for sentence in sentences if isinstance(sentence, t.Recipe)):
            if recipe.name.text in scope.recipes:
                first = scope.recipes[recipe.name.text][0].name.span
                self.bench.report(scope, words.defined_twice(recipe.name.span, recipe.name.text, first))
            elif recipe.name.text in verbs():
                self.bench.report(scope, words.verb_redefined(recipe.name.span, recipe.name.text))
            scope.recipes[recipe.name.text] = (recipe, scope)
        for sentence in sentences:
            if isinstance(sentence, t.Use):
                self._use(scope, sentence)
        hand_on(self.bench, scope)
        for edit in stray_edits(sentences):
            word = "change" if isinstance(edit, (t.Change, t.Alike)) else type(edit).__name__.lower()
            self.bench.report(scope, derive_words.no_base_here(edit.span, word))
        for one in sentences:
            if isinstance(one, OF_RECIPES):
                word = tree.text[one.span.start :].split()[0]
                fix = "it belongs into the braces of a recipe; a style has definitions, seams and checks"
                self.bench.report(scope, words.misplaced(one.span, word, fix))
        declare(self.bench, scope, sentences)
        for name in whole.unread:
            scope.known.setdefault(name, BROKEN)
        return scope

    # ---- a style built from another ------------------------------------------------------------

    def _whole(self, scope: Scope, tree: t.StyleFile, row: tuple[str, ...], asked: t.Word | None = None) -> Whole:
        """The sentences of a file laid over those of its base; `row` are the names of it and those built on it, `asked` is
        the base the first of them names."""
        self.texts[tree.file] = tree.text
        unread = set(self._unread(tree))
        for sentence in tree.sentences:
            if isinstance(sentence, t.Language) and sentence.version.text != "1":
                self.bench.report(scope, words.unknown_language(sentence.span, sentence.version.text))
        title = next((one for one in tree.sentences if isinstance(one, t.Title)), None)
        if title is None or title.base is None:
            return Whole(tree, tree, unread)
        base_tree = self._base(scope, title.base, row, asked or title.base)
        if base_tree is None:  # nothing else can be said
            return Whole(replace(tree, sentences=()), tree, unread)
        self.bench.bases[base_tree.file] = Step(title.base.span, f"in `{title.base.text}`")
        base = self._whole(scope, base_tree, (*row, title.base.text), asked or title.base)
        made = derive(
            base.tree.sentences,
            tree.sentences,
            title.base.text,
            self.texts,
            base.unread,
            lambda problem: self.bench.report(scope, problem),
        )
        named = next((one.text.value for one in base_tree.sentences if isinstance(one, t.Title)), title.base.text)
        return Whole(
            replace(tree, sentences=made.sentences),
            tree,
            unread | base.unread,
            [named, *base.titles],
            base.changed | made.changed,
            base.removed | made.removed,
            base.mentioned | mentioned(base_tree.sentences),
        )

    def _base(self, scope: Scope, name: t.Word, row: tuple[str, ...], asked: t.Word) -> t.StyleFile | None:
        if name.text in row:
            self.bench.report(scope, derive_words.ring_of_styles(asked.span, [*row[row.index(name.text) :], name.text]))
            return None
        found = self._found(scope, name, derive_words.no_base)
        if found is None:
            return None
        tree, told = _parsed(found[1], found[0])
        self.bench.diagnostics.extend(told)
        return tree

    def _unread(self, tree: t.StyleFile) -> list[str]:
        """Names of definitions that could not be read: told once, they are not missed by the sentences that use them."""
        names: list[str] = []
        own = {one.name.text for one in map(t.held, tree.sentences) if isinstance(one, (t.Definition, t.Solve))}
        for problem in self.bench.diagnostics:
            if problem.span is None or problem.span.file != tree.file:
                continue
            lines = tree.text[: problem.span.start].split("\n")
            lines[-1] = tree.text[len(tree.text[: problem.span.start]) - len(lines[-1]) :].split("\n", 1)[0]
            heads = (match for line in reversed(lines[-8:]) if (match := _HEAD.match(line)))
            names += [match.group(1) for match in [next(heads, None)] if match and match.group(1) not in own]
        return names

    # ---- modules -------------------------------------------------------------------------------

    def _use(self, scope: Scope, use: t.Use) -> None:
        module = self._module(scope, use)
        if module is None:
            return
        for name in use.names:
            found = module.recipes.get(name.text)
            known = scope.recipes.get(name.text)
            if found is None or found[1] is not module:
                own = [one for one, (_, home) in module.recipes.items() if home is module]
                self.bench.report(scope, words.not_in_module(name.span, name.text, use.module.text, own))
            elif known is not None and (known[0] is not found[0] or use.span.file == scope.used_in.get(name.text)):
                self.bench.report(scope, words.defined_twice(name.span, name.text, known[0].name.span))
            else:
                scope.recipes[name.text] = found
                scope.used_in[name.text] = use.span.file

    def _module(self, scope: Scope, use: t.Use) -> Scope | None:
        found = self._found(scope, use.module, words.no_module)
        if found is None:
            return None
        file, text = found
        if file in self.scopes:
            return self.scopes[file]
        tree, told = _parsed(text, file)
        self.bench.diagnostics.extend(told)
        return self.scope(tree)

    def _found(self, scope: Scope, module: t.Word, missing: Missing) -> tuple[str, str] | None:
        """File and text of a module or a style, from the library or beside the style; None once it is told what is wrong."""
        name = module.text
        library, (beside, problems) = self.sources.library(name), self.sources.beside(name)
        if library is not None and beside is not None:
            self.bench.report(scope, words.module_twice(module.span, name))
        if beside is not None:
            return f"{name}.style", beside
        if library is not None:
            return f"stdlib/{name}.style", library
        for problem in problems or (missing(module.span, name, self.sources.modules()),):
            self.bench.report(scope, replace(problem, span=module.span))
        return None
