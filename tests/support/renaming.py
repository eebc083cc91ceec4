"""Styles whose names mean nothing: every name that a text gives to something is another word, the same wherever it stands.

The words of the language stay, and so do those that it makes names with: what stands behind a dot (`dart.apex`) unless a text
gives it, and what is written before a name for a side of the body or for one of several pieces (`left_side`, `with_neckline`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import get_args

from godet.bodies.vocabulary import canonical
from godet.folders import shipped
from godet.jobs.files import Disk, Modules
from godet.jobs.prepare import Prepared, with_bodies
from godet.meaning.compile import compile_style
from godet.pattern.piece import Covers
from godet.syntax.lexer import lex
from godet.syntax.tokens import Token
from godet.syntax.words import KINDS, RESERVED
from godet.verbs.measuring import OF
from godet.verbs.registry import Word, verbs

BEFORE = ("left_", "right_", "with_")
"""What the language writes before a name."""

NAMING = {*KINDS, "recipe", "called", "as", "solve", "naming"}
"""Behind these stands a new name."""


class RenamedModules(Modules):
    """The modules of a style with their names changed as its own are."""

    def library(self, module: str) -> str | None:
        text = super().library(module)
        return None if text is None else renamed(text)

    def beside(self, module: str):  # type: ignore[no-untyped-def]  # as it is there
        text, problems = super().beside(module)
        return None if text is None else renamed(text), problems


def compiled(path: str, bodies: list[str], *, anew: bool) -> Prepared:
    """A style on bodies, under its own names or `anew`."""
    text = Disk().read(path).decode()
    modules = RenamedModules(Disk(), path) if anew else Modules(Disk(), path)
    style, problems = compile_style(renamed(text) if anew else text, path, modules, {})
    return with_bodies(Disk(), Prepared(style, (), tuple(problems), {}), bodies)


def renamed(text: str) -> str:
    """The text with every name that the library or a bundled style gives called otherwise; paths of modules stay."""
    made, end = "", 0
    for token in _tokens(text):
        if token.type in ("NAME", "DOTTED"):
            made += text[end : token.start] + ".".join(_new(one) for one in token.text.split("."))
            end = token.end
    return made + text[end:]


def _new(word: str) -> str:
    names = new_names()
    before = next((one for one in BEFORE if word.startswith(one)), "")
    return names[word] if word in names else before + names.get(word.removeprefix(before), word.removeprefix(before))


@cache
def new_names() -> Mapping[str, str]:
    """`n1`, `n2` … for every name given in the library or a bundled style that is no word of the language."""
    folders = (shipped("stdlib"), shipped("patterns"))
    texts = [path.read_text("utf-8") for folder in folders for path in sorted(folder.rglob("*.style"))]
    given = dict.fromkeys(name for text in texts for name in _given(text))
    own = language_words()
    return {name: f"n{k}" for k, name in enumerate(given) if name not in own and canonical(name) is None}


def _given(text: str) -> Iterator[str]:
    """The names a text gives, without what the language writes before them."""
    tokens = [*_tokens(text)]
    for before, token in zip(tokens, tokens[1:], strict=False):
        if before.text in NAMING and token.type == "NAME":
            prefix = next((one for one in BEFORE if token.text.startswith(one)), "")
            yield token.text.removeprefix(prefix)


def _tokens(text: str) -> Iterator[Token]:
    """The words and signs of a text but for the modules that are used."""
    for line in lex(text, "").lines:
        used = line.tokens[0].text == "use" or [one.text for one in line.tokens[:1]] == ["style"]
        yield from line.tokens if not used else [one for one in line.tokens if one.text != "from"][: _before_from(line.tokens)]


def _before_from(tokens: list[Token]) -> int:
    return next((k for k, one in enumerate(tokens) if one.text == "from"), len(tokens))


@cache
def language_words() -> frozenset[str]:
    """Words that mean something by themselves, wherever they stand."""
    entries = verbs()
    words: list[Word] = [word for entry in entries.values() for word in (*entry.words, *filter(None, [entry.subject]))]
    listed = [option for word in words if word.want.startswith("one of") for option in word.want.split()[2:]]
    return frozenset({*RESERVED, *entries, *OF, *get_args(Covers), *listed, *(word.name for word in words), "origin", "shell"})
