"""Checked styles kept in the user's cache folder, and found again as long as all that was read for them says the same."""

from __future__ import annotations

import gc
import hashlib
import io
import os
import pickle
import sys
from collections.abc import Iterator, Mapping, Sequence
from importlib.util import find_spec
from pathlib import Path

import numpy as np

from ..diagnostics.diagnostic import Diagnostic
from ..folders import cache_folder, keep, kept, shipped
from ..meaning.analysis import Analysis, analyse
from ..meaning.reading import Sources
from ..syntax.source import Source
from ..verbs.kinds import Kind

MOST = 20
"""Styles that are kept, those used last; each takes about a megabyte."""

Settings = Mapping[str, tuple[Kind, float]]
Question = tuple[str, tuple[str, ...], str]
"""What an analysis asked of its sources: for what, with which words, and a digest of the answer."""


class Noting:
    """Sources that note what they are asked, and what they answer."""

    def __init__(self, sources: Sources) -> None:
        self.sources = sources
        self.asked: list[Question] = []

    def library(self, module: str) -> Source | None:
        found = self.sources.library(module)
        self.asked.append(("library", (module,), _digest(found)))
        return found

    def beside(self, module: str) -> tuple[Source | None, tuple[Diagnostic, ...]]:
        found = self.sources.beside(module)
        self.asked.append(("beside", (module,), _digest(found)))
        return found

    def modules(self) -> Sequence[str]:
        found = self.sources.modules()
        self.asked.append(("modules", (), _digest(found)))
        return found


def analyse_or_find(source: Source, sources: Sources, settings: Settings) -> Analysis:
    """As `analyse`; what it comes to of a sound style is kept, one for each path, and found again."""
    try:
        file = cache_folder() / f"style-{_digest(os.path.abspath(source.id))[:24]}.kept"
    except RuntimeError:  # no home folder
        return analyse(source, sources, settings)
    made_of = _digest(sys.version, np.__version__, *_compiler(), source, sorted(settings.items(), key=lambda one: one[0]))
    return _found(file, made_of, sources) or _made(file, made_of, source, sources, settings)


def _found(file: Path, made_of: str, sources: Sources) -> Analysis | None:
    """What is kept, where it was made of the same and its sources still answer as they did."""
    content = kept(file, made_of)
    if content is None:
        return None
    looked_for_rings = gc.isenabled()
    gc.disable()  # all that is read stays
    try:
        reader = io.BytesIO(content)
        asked: list[Question] = pickle.load(reader)
        if any(_digest(getattr(sources, what)(*words)) != answer for what, words, answer in asked):
            return None
        found: Analysis = pickle.load(reader)
        return found
    finally:
        if looked_for_rings:
            gc.enable()


def _made(file: Path, made_of: str, source: Source, sources: Sources, settings: Settings) -> Analysis:
    noting = Noting(sources)
    made = analyse(source, noting, settings)
    if made.style is not None:
        keep(file, made_of, pickle.dumps(noting.asked, 5) + pickle.dumps(made, 5))
        _forget_the_oldest(file.parent)
    return made


def _forget_the_oldest(folder: Path) -> None:
    try:
        kept = sorted(folder.glob("style-*.kept"), key=lambda one: one.stat().st_mtime)
        for one in kept[:-MOST]:
            one.unlink(missing_ok=True)
    except OSError:
        pass  # another process has just done so, or the folder may not be written


def _compiler() -> Iterator[tuple[str, int, int]]:
    """Each file of the compiler and its grammar, and the parser's library, with when it was written and its size."""
    for folder in (Path(__file__).resolve().parents[1], shipped("grammar")):
        yield from _files(str(folder), "")
    library = find_spec("lark")
    if library is not None and library.origin is not None:
        known = os.stat(library.origin)
        yield library.origin, known.st_mtime_ns, known.st_size


def _files(folder: str, below: str) -> Iterator[tuple[str, int, int]]:
    with os.scandir(folder) as found:
        entries = sorted(found, key=lambda one: one.name)
    for one in entries:
        name = f"{below}/{one.name}"
        if one.is_dir():
            yield from _files(one.path, name)
        elif not name.endswith(".pyc"):
            known = one.stat()
            yield name, known.st_mtime_ns, known.st_size


def _digest(*read: object) -> str:
    return hashlib.sha256(repr(read).encode("utf-8", "surrogatepass")).hexdigest()
