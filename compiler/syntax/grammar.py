"""The parser's table: built from the grammar once, kept in the user's cache folder, loaded once per process."""

from __future__ import annotations

import hashlib
import io
import pickle
import sys
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import lark
from lark.lexer import Lexer as LarkLexer

from ..folders import cache_folder, keep, kept, shipped
from .builder import Builder
from .tokens import Token


class GroupLexer(LarkLexer):
    """Hands the tokens of one sentence to the parser as they are."""

    def __init__(self, _conf: object) -> None:
        pass

    def lex(self, tokens: Sequence[Token]) -> Iterator[Token]:  # type: ignore[override]
        return iter(tokens)


def grammar_text() -> str:
    return (shipped("grammar") / "style.lark").read_text(encoding="utf-8")


def build(text: str, strict: bool = False) -> lark.Lark:
    """A parser for the grammar, made anew. With `strict` every conflict in the grammar is an error."""
    return lark.Lark(
        text,
        start="sentence",
        parser="lalr",
        lexer=GroupLexer,
        maybe_placeholders=True,
        strict=strict,
        transformer=Builder(),
    )


@cache
def parser() -> lark.Lark:
    """The parser of one sentence."""
    text = grammar_text()
    key = hashlib.sha256("\0".join((text, lark.__version__, sys.version)).encode()).hexdigest()
    try:
        file = cache_folder() / f"grammar-{key[:24]}.table"
    except RuntimeError:  # no home folder
        return build(text)
    return _load(file, key) or _build_and_keep(text, file, key)


def _load(file: Path, key: str) -> lark.Lark | None:
    """The kept parser, or None when there is none or it is damaged."""
    content = kept(file, key)
    if content is None:
        return None
    table: dict[str, Any] = pickle.loads(content)
    # The public `load` takes no callbacks; the key names the version of the library this was tried with.
    loaded: lark.Lark = lark.Lark._load_from_dict(  # type: ignore[no-untyped-call]
        table["data"], table["memo"], transformer=Builder()
    )
    return loaded


def _build_and_keep(text: str, file: Path, key: str) -> lark.Lark:
    made = build(text)
    table = io.BytesIO()
    made.save(table, exclude_options=("transformer",))
    keep(file, key, table.getvalue())
    return made
