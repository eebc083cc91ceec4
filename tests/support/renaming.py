"""Styles whose names mean nothing: every name that a text gives to something is another word, the same wherever it stands.

The words of the language stay, and so do those that it makes names with: what stands behind a dot (`dart.apex`) unless a text
gives it, and what is written before a name for a side of the body or for one of several pieces (`left_side`, `with_neckline`).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import get_args

from godet.bodies.body import Body
from godet.bodies.vocabulary import canonical
from godet.diagnostics.diagnostic import Diagnostic
from godet.jobs.files import Disk
from godet.jobs.prepare import Prepared
from godet.jobs.workspace import Modules, Workspace
from godet.meaning.analysis import analyse
from godet.meaning.drafted import WORDS
from godet.pattern.covers import Covers
from godet.syntax.lexer import lex
from godet.syntax.source import Source
from godet.syntax.tokens import Token
from godet.syntax.words import KINDS, RESERVED
from godet.verbs.measuring import OF
from godet.verbs.registry import verbs

from .style_runs import PATTERNS, ROOT

BEFORE = ("left_", "right_", "with_")
"""What the language writes before a name."""

NAMING = {*KINDS, "recipe", "called", "as", "solve", "naming"}
"""Behind these stands a new name."""


class RenamedModules(Modules):
    """The modules of a style with their names changed as its own are."""

    def library(self, module: str) -> Source | None:
        source = super().library(module)
        return None if source is None else Source(source.id, renamed(source.text))

    def beside(self, module: str) -> tuple[Source | None, tuple[Diagnostic, ...]]:
        source, problems = super().beside(module)
        return None if source is None else Source(source.id, renamed(source.text)), problems


def prepared_anew(style: Path, bodies: Sequence[Body]) -> Prepared:
    """A style with bodies, all its names and those of its modules called otherwise."""
    source = Source(str(style), renamed(style.read_text("utf-8")))
    made = analyse(source, RenamedModules(Workspace(Disk()), source.id), {})
    assert made.style is not None, [one.message for one in made.diagnostics]
    return Prepared(made, tuple(bodies), made.diagnostics, {})


def renamed(text: str) -> str:
    """The text with every name that the library or a bundled style gives called otherwise."""
    made, end = "", 0
    for token in _tokens(text):
        if token.type in ("NAME", "DOTTED"):
            made += text[end : token.start] + ".".join(_new(one) for one in token.text.split("."))
            end = token.end
    return made + text[end:]


def _new(word: str) -> str:
    names = new_names()
    if word in names:
        return names[word]
    before, bare = _parted(word)
    return before + names.get(bare, bare)


def _parted(word: str) -> tuple[str, str]:
    """What the language writes before a name, and the name."""
    before = next((one for one in BEFORE if word.startswith(one)), "")
    return before, word.removeprefix(before)


@cache
def new_names() -> Mapping[str, str]:
    """`n0`, `n1` … for every name given in the library or a bundled style that is no word of the language."""
    texts = [path.read_text("utf-8") for folder in (ROOT / "stdlib", PATTERNS) for path in sorted(folder.rglob("*.style"))]
    given = dict.fromkeys(name for text in texts for name in _given(text))
    own = language_words()
    return {name: f"n{k}" for k, name in enumerate(given) if name not in own and canonical(name) is None}


def _given(text: str) -> Iterator[str]:
    """The names a text gives, without what the language writes before them."""
    for before, token in itertools.pairwise(_tokens(text)):
        if before.text in NAMING and token.type == "NAME":
            yield _parted(token.text)[1]


def _tokens(text: str) -> Iterator[Token]:
    """The words and signs of a text, but for the names of modules: what stands behind `from` in a line that begins with `use` or
    `style`."""
    for line in lex(text, "").lines:
        of_module = line.tokens[0].text in ("use", "style")
        yield from itertools.takewhile(lambda one: not of_module or one.text != "from", line.tokens)  # noqa: B023


@cache
def language_words() -> frozenset[str]:
    """Words that mean something by themselves, wherever they stand."""
    entries = verbs()
    words = [word for entry in entries.values() for word in (*entry.words, entry.subject) if word is not None]
    listed = [option for word in words if word.want.startswith("one of") for option in word.want.split()[2:]]
    told = (*listed, *(word.name for word in words), *(word for row in WORDS.values() for word in row))
    return frozenset({*RESERVED, *entries, *OF, *get_args(Covers), *told, "inner_edge", "starting_point", "shell", "apex"})
