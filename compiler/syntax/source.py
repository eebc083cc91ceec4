"""A text with its name, and the bytes of a file -> its text."""

from __future__ import annotations

import codecs
from dataclasses import dataclass

from ..diagnostics import syntax_words as say
from ..diagnostics.diagnostic import Diagnostic

SourceId = str
"""The path by which the places of a text are printed. No two texts have the same."""


@dataclass(frozen=True, slots=True)
class Source:
    """A text of a style, of a module beside it or of the library, wherever it is kept."""

    id: SourceId
    text: str


def decode(data: bytes, file: str) -> tuple[str | None, tuple[Diagnostic, ...]]:
    """The text in `data` with plain line ends and without a byte order mark; None and an error if it is no text."""
    data = data.removeprefix(codecs.BOM_UTF8)
    if 0 in data:
        return None, (say.not_text(file, data.count(b"\n", 0, data.index(0)) + 1),)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        return None, (say.not_utf8(file, data.count(b"\n", 0, error.start) + 1, data[error.start]),)
    return text.replace("\r\n", "\n").replace("\r", "\n"), ()
