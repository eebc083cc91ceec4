"""The smallest parts of a text, with their places."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..diagnostics.diagnostic import Diagnostic, Span
from .tree import Comment


class Token:
    """A word, number, text or sign. `type` is its name in the grammar; `start` and `end` are offsets in the text.

    `text` is what it stands for: after a slip it holds the mended spelling, while the place still covers what was
    written. `guessed` where another word may have been meant.
    """

    __slots__ = ("end", "file", "guessed", "start", "text", "type")

    # The parser library copies these to its end mark; our places are `start` and `end`.
    start_pos = end_pos = line = column = end_line = end_column = None

    def __init__(self, type: str, text: str, start: int, end: int, file: str) -> None:
        self.type = type
        self.text = text
        self.start = start
        self.end = end
        self.file = file
        self.guessed = False

    @property
    def span(self) -> Span:
        return Span(self.file, self.start, self.end)

    def __repr__(self) -> str:
        return f"{self.type}({self.text!r})"


@dataclass(slots=True)
class Line:
    """One line that holds more than a comment. `broken` when a slip inside it has been reported already; `uncertain` when what
    was meant by one of them is not clear."""

    indent: int
    tokens: list[Token] = field(default_factory=list)
    broken: bool = False
    uncertain: bool = False


@dataclass(slots=True)
class Lexed:
    """A text cut into lines of tokens, and its comments beside them."""

    lines: list[Line] = field(default_factory=list)
    comments: list[Comment] = field(default_factory=list)
    diagnostics: list[Diagnostic] = field(default_factory=list)
