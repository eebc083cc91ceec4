"""A sentence that cannot be read -> what is known of it: its head, its kind, and the names it may have given or named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from ..diagnostics.diagnostic import Span
from .refused import Takes
from .tokens import Token
from .tree import Broken, Sentence, Word
from .words import HEADS

_HEAD_TYPES = frozenset(word.upper() for word in HEADS)
_LISTING = frozenset(("USE", "CHANGE", "WITHOUT"))
"""Types of the first word of sentences that may list several names before anything else."""
_NAMELESS = frozenset(("language", "style", "needs"))


def broken(tokens: Sequence[Token], block: tuple[Sentence, ...] | None, takes: Takes) -> Broken:
    """What is known of a sentence of these words. `takes` tells the words of a verb: where one of them stands in place of the
    name, that is missing."""
    tokens = [token for i, token in enumerate(tokens) if i == 0 or token.text != tokens[i - 1].text]  # a word may stand twice
    if len(tokens) > 2 and tokens[0].type == "NAME" and tokens[1].type == "KIND":  # its head is misspelt
        made = broken(tokens[1:], block, takes)
        return replace(made, head="", span=made.span.to(tokens[0].span))
    heads = list(takewhile(lambda token: token.type in _HEAD_TYPES or token.type == "KIND", tokens))
    head = next((token.text for token in heads if token.type != "KIND"), "style" if tokens[0].type == "STRING" else "")
    kind = next((token.text for token in heads if token.type == "KIND"), "")
    span = Span(tokens[0].file, tokens[0].start, tokens[-1].end)
    names = () if head in _NAMELESS else _names(tokens, len(heads), takes(kind or head))
    return Broken(head, kind, names, block, span)


def _names(tokens: Sequence[Token], start: int, words: Sequence[str]) -> tuple[Word, ...]:
    """The names before the `=`; without one, those that follow the head."""
    equals = next((i for i, token in enumerate(tokens) if token.type == "EQ"), None)
    if equals is not None and not any(token.type == "LPAR" for token in tokens[:equals]):
        return _words(tokens[:equals], ())
    if tokens[0].type in _LISTING:
        return _words(list(takewhile(lambda token: token.type not in ("FROM", "WITH"), tokens[start:])), words)
    if len(tokens) == 1 and tokens[0].type == "NAME":  # its head, half typed
        return ()
    following = list(takewhile(lambda token: token.type in ("NAME", "COMMA"), tokens[start:]))
    if tokens[0].type == "NAME":  # its head is missing, or misspelt
        following = following[: 2 if "COMMA" not in (token.type for token in following) else None]
    else:
        kindless = tokens[0].type in ("TAKES", "GIVES") and start == 1
        following = [token for token in following if token.text not in words][: 2 if kindless else 1]
    return _words(following, words)


def _words(tokens: Sequence[Token], words: Sequence[str]) -> tuple[Word, ...]:
    named = [token for token in tokens if token.type == "NAME"]
    if any(token.guessed for token in named):
        return ()
    return tuple(Word(token.text, token.span) for token in named if token.text not in words)
