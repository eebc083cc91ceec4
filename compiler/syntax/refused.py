"""A sentence that the grammar does not take, as those see it who tell why."""

from __future__ import annotations

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass

from .tokens import Token

Takes = Callable[[str], Sequence[str]]
"""The words that a verb takes, by its name; none where it is not known."""

OPENERS = frozenset(("EQ", "THEN", "LPAR", "THAT", "WHEN", "OTHERWISE", "AND", "OR", "NOT", "COMPARE", "EQUALS"))
"""A value or an operation begins behind one of these."""

_ENDS = frozenset(("END", "STRING", "WHEN", "OTHERWISE", "COMPARE", "EQUALS", "OR"))


@dataclass(frozen=True, slots=True)
class Refused:
    """A sentence, the index of the token that could not follow, what could have, and which words a verb takes."""

    tokens: list[Token]
    at: int
    expected: Set[str]
    takes: Takes

    @property
    def bad(self) -> Token:
        return self.tokens[self.at]

    @property
    def before(self) -> Token:
        return self.tokens[self.at - 1] if self.at else self.bad

    @property
    def head(self) -> Token:
        return self.tokens[0]

    @property
    def start(self) -> int:
        """Where the operation or the sentence begins that the refused word stands in."""
        depth = 0
        for i in range(self.at - 1, -1, -1):
            kind = self.tokens[i].type
            depth += (kind == "RPAR") - (kind == "LPAR")
            if depth < 0 or (depth == 0 and kind in OPENERS):
                return i + 1
        return 0

    def until_end(self, first: int) -> str:
        """What is written from one word on to where its value or the sentence ends."""
        depth, last = 0, first
        while last < len(self.tokens):
            kind = self.tokens[last].type
            depth += (kind == "LPAR") - (kind == "RPAR")
            if depth < 0 or (depth == 0 and kind in _ENDS):
                break
            last += 1
        return written(self.tokens[first:last])


def written(tokens: Sequence[Token]) -> str:
    """Words as they are written, one space apart."""
    text = " ".join(token.text for token in tokens)
    return text.replace(" ,", ",").replace("( ", "(").replace(" )", ")")
