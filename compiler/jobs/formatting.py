"""Format: the one layout of a style file."""

from __future__ import annotations

from dataclasses import dataclass

from ..diagnostics.diagnostic import Diagnostic
from ..syntax.formatter import format_style
from ..syntax.one_line import meaning
from ..syntax.source import decode
from .files import Files, read


@dataclass(frozen=True)
class Formatted:
    """A file, its text as it is (None when unreadable) and as it should be, and what is wrong with it."""

    path: str
    before: str | None
    after: str | None
    diagnostics: tuple[Diagnostic, ...]

    @property
    def changed(self) -> bool:
        return self.before != self.after


def formatted(files: Files, path: str) -> Formatted:
    """The canonical text of a style file; a file with errors keeps its own."""
    content, problem = read(files, path)
    if content is None:
        return Formatted(path, None, None, (problem,) if problem else ())
    text, problems = decode(content, path)
    if text is None:
        return Formatted(path, None, None, problems)
    after, found = format_style(text, path)
    return Formatted(path, text, after, (*problems, *found))


def meant(files: Files, path: str) -> tuple[str, tuple[Diagnostic, ...]]:
    """The sentences of a style file, one a line, without comments, sorted; of a file with errors its text as it is, "" of one
    that cannot be read."""
    content, problem = read(files, path)
    if content is None:
        return "", (problem,) if problem else ()
    text, problems = decode(content, path)
    if text is None:
        return "", problems
    told, found = meaning(text, path)
    return told, (*problems, *found)
