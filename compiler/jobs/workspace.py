"""All texts a style may be made of: those stored beside it, those an editor holds in their place, and the library."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Protocol

from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..folders import shipped
from ..meaning.analysis import Analysis, analyse
from ..syntax.source import Source, decode
from ..verbs.kinds import Kind
from .compiled import analyse_or_find
from .files import Files, Overlaid, read

LIBRARY = "stdlib"
Found = tuple[Source | None, tuple[Diagnostic, ...]]
"""A text, or what is wrong with it."""


class Library(Protocol):
    """The modules of a library, by their names."""

    def text(self, module: str) -> str | None: ...

    def modules(self) -> Sequence[str]: ...


class FolderLibrary:
    """A library in a folder of the disk; without one the library that belongs to this compiler."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or shipped(LIBRARY)

    def text(self, module: str) -> str | None:
        path = self.folder / f"{module}.style"
        return path.read_text("utf-8", "replace") if path.is_file() else None

    def modules(self) -> Sequence[str]:
        return sorted(path.relative_to(self.folder).with_suffix("").as_posix() for path in self.folder.rglob("*.style"))


class Workspace:
    """Reads every text, each under one id: that of a style is its path as it is given, that of a module beside it the path from
    there, and that of the library begins with `stdlib/`. `open` are texts by path that stand in for what is stored. Where the
    workspace `keeps`, what a style comes to is kept in the user's cache folder. `library` stands in for that of this compiler."""

    def __init__(
        self,
        files: Files,
        open: Mapping[str, str] | None = None,
        keeps: bool = False,
        library: Library | None = None,
    ) -> None:
        self.keeps = keeps
        self.library: Library = library or FolderLibrary()
        self.files: Files = Overlaid(files, open) if open else files

    def source(self, path: str) -> Found:
        """The text of a file."""
        content, problem = read(self.files, path)
        if content is None:
            return None, (problem,) if problem else ()
        text, problems = decode(content, path)
        return None if text is None else Source(_id(path), text), problems

    def analyse(self, source: Source, settings: Mapping[str, tuple[Kind, float]]) -> Analysis:
        """All that is known of a style, by what is written now."""
        make = analyse_or_find if self.keeps else analyse
        return make(source, Modules(self, source.id), settings)


def _id(path: str) -> str:
    """A path as it is given; where a file beside would be called as one of the library, it is told apart."""
    inside = Path(path).parts[:1] == (LIBRARY,) and not Path(path).resolve().is_relative_to(shipped(LIBRARY).resolve())
    return f"./{path}" if inside else path


class Modules:
    """The modules a style may use: those of the standard library, and those in its folder."""

    def __init__(self, workspace: Workspace, style: str) -> None:
        self.workspace = workspace
        self.folder = os.path.dirname(style)

    def library(self, module: str) -> Source | None:
        text = self.workspace.library.text(module)
        return None if text is None else Source(f"{LIBRARY}/{module}.style", text)

    def beside(self, module: str) -> Found:
        path = os.path.join(self.folder, f"{module}.style")
        found, problems = self.workspace.source(path)
        if found is None and problems == (words.no_file(path),):
            return None, ()
        if self.workspace.files.leads_out(path, self.folder):
            return None, (words.leads_out(path, self.folder),)
        return found, problems

    def modules(self) -> Sequence[str]:
        files = self.workspace.files
        beside = files.listed(self.folder, ".style") if files.is_folder(self.folder) else ()
        return sorted([*self.workspace.library.modules(), *(Path(path).stem for path in beside)])
