"""Hybrids of two sides of a style: texts that lie over those of the new side, and are read as any style; no file is written."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

from ..diagnostics.diagnostic import Diagnostic
from ..difference.changes import Made, hybrids_of
from ..difference.roots import Roots, roots
from ..difference.sentences import OWN, Sentence, SideOfStyle, module_of
from ..syntax import tree as t
from .prepare import Prepared, prepare_style
from .sides import SUFFIX
from .workspace import LIBRARY, Library, Workspace


class Style(Protocol):
    """A style that both sides have and that can be read on both."""

    @property
    def file(self) -> str: ...
    @property
    def old(self) -> Prepared | None: ...
    @property
    def new(self) -> Prepared | None: ...
    @property
    def sentences(self) -> tuple[SideOfStyle, SideOfStyle]: ...
    @property
    def roots(self) -> tuple[Roots | None, Roots | None]: ...
    def renamed(self, kind: str) -> Mapping[str, str]: ...


@dataclass(frozen=True)
class Hybrid:
    """A style of which these edits are made; `roots` None: it has errors."""

    made: Made
    prepared: Prepared
    roots: Roots | None

    @property
    def error(self) -> Diagnostic | None:
        return None if self.roots is not None else next(one for one in self.prepared.diagnostics if one.is_error)


class Making:
    """Makes the hybrids of a style, each once; `place` is where the new side lies."""

    def __init__(self, style: Style, place: Workspace, settings: Sequence[str]) -> None:
        assert style.old is not None
        assert style.new is not None
        self.style, self.place, self.settings = style, place, settings
        self.hybrids = hybrids_of(*style.sentences, (_Written(style.old.texts), _Written(style.new.texts)))
        self.all: Made = frozenset(range(len(self.hybrids.edits)))
        self.old = Hybrid(frozenset(), style.old, style.roots[0])
        self.new = Hybrid(self.all, style.new, style.roots[1])
        self._known: dict[Made, Hybrid] = {}

    def hybrid(self, made: Made) -> Hybrid:
        found = self._known.get(made)
        if found is None:
            prepared = prepare_style(self.workspace(made), self.style.file, self.settings)
            known = None if prepared.style is None else roots(prepared.style)
            found = self._known[made] = Hybrid(made, prepared, known)
        return found

    def keeps_both_ends(self, silent: Made) -> bool:
        """Whether with only these edits it is the old side, and with all the new one."""
        ends = ((self.hybrid(silent), self.old), (self.hybrid(self.all), self.new))
        return all(one.roots is not None and other.roots is not None and one.roots == other.roots for one, other in ends)

    def workspace(self, made: Made) -> Workspace:
        """The texts of the new side, over which those lie that are made of both; what only the old side uses lies beside."""
        texts = self.hybrids.texts(made)
        for file, text in self._only_old.items():
            texts.setdefault(file, text)
        library = {name.removeprefix(f"{LIBRARY}/"): text for name, text in texts.items() if _is_library(name)}
        files = {self._path(name): text for name, text in texts.items() if not _is_library(name)}
        return Workspace(self.place.files, files, library=_Overlaid(self.place.library, library))

    def edit_at(self, error: Diagnostic, made: Made) -> int | None:
        """By which edit what an error points at is as it is."""
        if error.span is None:
            return None
        return self.hybrids.edit_at(module_of(error.span.file, self.style.file), made, error.span.start)

    def _path(self, module: str) -> str:
        if module == OWN:
            return self.style.file
        return os.path.join(os.path.dirname(self.style.file), f"{module}{SUFFIX}")

    @cached_property
    def _only_old(self) -> Mapping[str, str]:
        """The texts of modules that the new side does not use."""
        sides = (self.style.old, self.style.new)
        old, new = ({_module(path, one): text for path, text in one.texts.items()} for one in sides if one is not None)
        return {module: text for module, text in old.items() if module not in new}


def _module(path: str, one: Prepared) -> str:
    return module_of(path, one.analysis.tree.file if one.analysis is not None else "")


def _is_library(module: str) -> bool:
    return module.startswith(f"{LIBRARY}/")


@dataclass(frozen=True)
class _Written:
    """Writes sentences as they stand in these texts; those of which one says several names, name by name."""

    texts: Mapping[str, str]

    def __call__(self, one: Sentence) -> str:
        match one.node:
            case t.Use(module=module):
                return f"use {one.name} from {module.text}"
            case t.Without(subject=None):
                return f"without {one.name}"
        span = one.node.span
        return self.texts[span.file][span.start : span.end]


@dataclass(frozen=True)
class _Overlaid:
    """A library some of whose modules have other texts."""

    below: Library
    texts: Mapping[str, str]

    def text(self, module: str) -> str | None:
        return self.texts.get(module) or self.below.text(module)

    def modules(self) -> Sequence[str]:
        return sorted({*self.below.modules(), *self.texts})
