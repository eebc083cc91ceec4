"""Sentences on one line each, without their comments: what is compared and shown where layout is no difference."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..diagnostics.diagnostic import Diagnostic
from .bracketing import bracketed
from .formatter import joined
from .joints import jointed
from .layout import Group
from .lexer import lex
from .parser import layout, read
from .tree import Sentence, held

Key = tuple[str, int, str]
"""By what a line is sorted: the sentence of the file it is of, how deep it stands in that, and itself."""


def one_line(text: str) -> str:
    """A sentence as it is written, up to its braces."""
    lines = lex(text, "").lines
    tokens = [token for line in lines for token in line.tokens]
    end = next((i for i, token in enumerate(tokens) if token.text == "{"), len(tokens))
    return joined(tokens[:end], 0, end, text)


def meaning(text: str, file: str) -> tuple[str, tuple[Diagnostic, ...]]:
    """The sentences of a text, one on a line, without comments, what stands in braces behind the name of what it is of, and in an
    order that is not that of the text: of two texts that say the same in another layout or order it is the same. A text with
    errors comes back unchanged, with its diagnostics."""
    lexed = lex(text, file)
    groups, earlier = layout(lexed)
    tree, diagnostics = read(lexed, groups, earlier, text, file)
    if any(one.is_error for one in diagnostics):
        return text, diagnostics
    found = sorted(_lines(groups, tree.sentences, text, ()))
    return "".join(f"{line}\n" for _, _, line in found), diagnostics


def _lines(groups: Sequence[Group], sentences: Sequence[Sentence], text: str, place: tuple[str, ...]) -> Iterator[Key]:
    for group, sentence in zip(groups, sentences, strict=True):
        one = held(sentence)
        tokens = bracketed(jointed(group.tokens, sentence), sentence)
        line = joined(tokens, 0, len(tokens), text)
        name = getattr(getattr(one, "name", None), "text", "") or line
        yield (place or (name,))[0], len(place), ": ".join((*place, line))
        yield from _lines(group.block or (), getattr(one, "block", None) or (), text, (*place, name))
