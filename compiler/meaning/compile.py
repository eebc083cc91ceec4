"""Text to checked style: read the modules, enter the names, elaborate every sentence, collect what is to be cut."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Protocol

from ..bodies.vocabulary import vocabulary
from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..syntax import tree as t
from ..syntax.parser import parse
from ..syntax.words import KINDS
from ..verbs import kinds as k
from .bench import BROKEN, DEEPEST, Bench, Scope
from .expressions import condition, value
from .recipes import declare
from .sentences import define
from .specification import cloths_declared, misplaced, stands_alone
from .style import CheckedStyle, NamedCheck, Typed

_HEAD = re.compile(rf"\s*(?:gives\s+)?(?:{'|'.join(sorted(KINDS))}|solve)\s+([a-z]\w*)")


class Sources(Protocol):
    """Where modules come from: the standard library, and the folder of the style. Each gives a text or None."""

    def library(self, module: str) -> str | None: ...

    def beside(self, module: str) -> str | None: ...

    def modules(self) -> Sequence[str]: ...


class _Reader:
    """Reads the modules of one style, each once."""

    def __init__(self, bench: Bench, sources: Sources) -> None:
        self.bench = bench
        self.sources = sources
        self.scopes: dict[str, Scope] = {}
        self.texts: dict[str, str] = {}

    def scope(self, tree: t.StyleFile) -> Scope:
        """The scope of a file: its recipes, those it uses, and its definitions."""
        scope = Scope(tree.file)
        self.texts[tree.file] = tree.text
        self.scopes[tree.file] = scope
        own = [sentence for sentence in tree.sentences if isinstance(sentence, t.Recipe)]
        for recipe in own:
            if recipe.name.text in scope.recipes:
                first = scope.recipes[recipe.name.text][0].name.span
                self.bench.report(scope, words.defined_twice(recipe.name.span, recipe.name.text, first))
            scope.recipes[recipe.name.text] = (recipe, scope)
        for sentence in tree.sentences:
            if isinstance(sentence, t.Use):
                self._use(scope, sentence)
            elif isinstance(sentence, t.Language) and sentence.version.text != "1":
                self.bench.report(scope, words.unknown_language(sentence.span, sentence.version.text))
        declare(self.bench, scope, tree.sentences)
        for name in self._unread(tree):
            scope.known.setdefault(name, BROKEN)
        return scope

    def _unread(self, tree: t.StyleFile) -> list[str]:
        """Names of definitions that could not be read: told once, they are not missed by the sentences that use them."""
        names: list[str] = []
        for problem in self.bench.diagnostics:
            if problem.span is None or problem.span.file != tree.file:
                continue
            lines = tree.text[: problem.span.start].split("\n")
            lines[-1] = tree.text[len(tree.text[: problem.span.start]) - len(lines[-1]) :].split("\n", 1)[0]
            heads = (match for line in reversed(lines[-8:]) if (match := _HEAD.match(line)))
            names += [
                match.group(1) for match in [next(heads, None)] if match and match.group(1) not in self._own(tree)
            ]
        return names

    @staticmethod
    def _own(tree: t.StyleFile) -> set[str]:
        return {one.name.text for one in tree.sentences if isinstance(one, (t.Definition, t.Solve))}

    def _use(self, scope: Scope, use: t.Use) -> None:
        module = self._module(scope, use)
        if module is None:
            return
        for name in use.names:
            found = module.recipes.get(name.text)
            if found is None or found[1] is not module:
                own = [one for one, (_, home) in module.recipes.items() if home is module]
                self.bench.report(scope, words.not_in_module(name.span, name.text, use.module.text, own))
            elif name.text in scope.recipes:
                first = scope.recipes[name.text][0].name.span
                self.bench.report(scope, words.defined_twice(name.span, name.text, first))
            else:
                scope.recipes[name.text] = found

    def _module(self, scope: Scope, use: t.Use) -> Scope | None:
        name = use.module.text
        library, beside = self.sources.library(name), self.sources.beside(name)
        if library is not None and beside is not None:
            self.bench.report(scope, words.module_twice(use.module.span, name))
            return None
        text = library if library is not None else beside
        if text is None:
            self.bench.report(scope, words.no_module(use.module.span, name, self.sources.modules()))
            return None
        file = f"stdlib/{name}.style" if library is not None else f"{name}.style"
        if file in self.scopes:
            return self.scopes[file]
        tree, found = parse(text, file)
        self.bench.diagnostics.extend(found)
        return self.scope(tree)


def compile_style(
    text: str, file: str, sources: Sources, settings: Mapping[str, tuple[k.Kind, float]]
) -> tuple[CheckedStyle | None, tuple[Diagnostic, ...]]:
    """Check a style without any body. `settings` are kinds and values of choices (mm, radians or bare numbers).

    The style is None when there is an error; warnings alone leave it whole.
    """
    tree, found = parse(text, file)
    with _room_for_rows():
        return _checked(tree, found, sources, settings)


@contextmanager
def _room_for_rows() -> Iterator[None]:
    """Definitions are elaborated inside one another, up to `DEEPEST` of them with brackets in each: more calls than usual."""
    before = sys.getrecursionlimit()
    sys.setrecursionlimit(max(before, 150 * DEEPEST))
    try:
        yield
    finally:
        sys.setrecursionlimit(before)


def _checked(
    tree: t.StyleFile, found: Sequence[Diagnostic], sources: Sources, settings: Mapping[str, tuple[k.Kind, float]]
) -> tuple[CheckedStyle | None, tuple[Diagnostic, ...]]:
    bench = Bench(settings, value, define)
    bench.diagnostics.extend(found)
    reader = _Reader(bench, sources)
    scope = reader.scope(tree)
    for name in list(scope.sentences):
        asked = name in scope.used
        bench.lookup(scope, scope.sentences[name].name)
        if not asked:  # being elaborated here is no use
            scope.used.discard(name)
    bench.checks = [(scope, one) for one in tree.sentences if isinstance(one, t.Check)] + bench.checks
    misplaced(bench, scope, tree.sentences)
    cloths_declared(bench, scope)
    checks = _checks(bench, reader.texts)
    style = _collected(bench, tree, scope, checks, reader.texts)
    if not any(one.is_error for one in bench.diagnostics):  # a broken sentence may have been the one that uses it
        _unused(bench, scope, style)
    _settings(bench, settings)
    diagnostics = tuple(bench.diagnostics)
    return (None if any(one.is_error for one in diagnostics) else style), diagnostics


def _checks(bench: Bench, texts: Mapping[str, str]) -> tuple[NamedCheck, ...]:
    made: list[NamedCheck] = []
    names: dict[str, Span] = {}
    for scope, check in bench.checks:
        name = f"{scope.prefix}{check.name.text}"
        if name in names:
            bench.report(scope, words.defined_twice(check.name.span, name, names[name]))
        names[name] = check.name.span
        bench.sentence.append((check.span, name))
        node = condition(bench, scope, check.condition)
        bench.sentence.pop()
        written = _condition_text(texts[check.span.file][check.span.start : check.span.end])
        if node.kind is not k.BROKEN:
            made.append(NamedCheck(name, node.node, written, check.text.value if check.text else ""))
    return tuple(made)


def _condition_text(sentence: str) -> str:
    """What a check states, as written: between `that` and the text it may end with."""
    _, _, stated = " ".join(sentence.split()).partition(" that ")
    return stated[: stated.index('"')].rstrip() if '"' in stated else stated


def _collected(
    bench: Bench, tree: t.StyleFile, scope: Scope, checks: tuple[NamedCheck, ...], texts: Mapping[str, str]
) -> CheckedStyle:
    title = next((one.text.value for one in tree.sentences if isinstance(one, t.Title)), tree.file)
    known: dict[str, Typed] = {name: scope.known.get(name, BROKEN) for name in scope.sentences}
    cut = [name for name, sentence in scope.sentences.items() if _is_cut(sentence)]
    pieces = {name: known[name].node for name in cut if isinstance(known[name].kind, k.PieceKind)}
    seams = {name: one.node for name, one in known.items() if isinstance(one.kind, k.SeamKind)}
    attached = {name: one.node for name, one in known.items() if isinstance(one.kind, k.AttachedKind)}
    notes = {name: _text_of(scope.sentences[name]) for name in (*seams, *attached)}
    measures = {name: tuple(spans) for name, spans in sorted(bench.measures.items())}
    return CheckedStyle(
        title,
        tree.file,
        tuple(bench.nodes),
        pieces,
        seams,
        checks,
        tuple(bench.choices),
        bench.names,
        measures,
        texts,
        attached,
        {name: note for name, note in notes.items() if note},
    )


def _text_of(sentence: t.Definition | t.Solve) -> str:
    return sentence.text.value if isinstance(sentence, t.Definition) and sentence.text else ""


def _is_cut(sentence: t.Definition | t.Solve) -> bool:
    block = (sentence.block if isinstance(sentence, t.Definition) else None) or ()
    return any(isinstance(one, t.Statement) and one.verb.text == "cut" for one in block)


def _unused(bench: Bench, scope: Scope, style: CheckedStyle) -> None:
    """A definition nothing uses is worth a word where it is not a result."""
    results = {*style.pieces, *style.seams, *(name for name in style.attached if stands_alone(scope.sentences[name]))}
    for name, sentence in scope.sentences.items():
        if name in scope.used or name in results or scope.known.get(name, BROKEN).kind is k.BROKEN:
            continue
        if isinstance(sentence, t.Solve) or sentence.kind.text in ("piece", "seam"):
            continue
        bench.report(scope, words.unused(sentence.name.span, name, [*scope.visible(), *vocabulary()]))


def _settings(bench: Bench, settings: Iterable[str]) -> None:
    known = [choice.name for choice in bench.choices]
    for name in settings:
        if name not in known:
            bench.diagnostics.append(words.no_choice(name, known))
