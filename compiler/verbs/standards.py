"""Lists of words and numbers of open standards, kept in `standards.toml` and read when one is first asked for."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources


@dataclass(frozen=True)
class Standard:
    """One list. `words` maps what is written to what it means; `form` is what an entry looks like where more exist than are
    listed, else ""; `fix` says how one is written."""

    title: str
    standard: str
    words: Mapping[str, str]
    form: str = ""
    fix: str = ""

    def looks_right(self, written: str) -> bool:
        """Whether it may be an entry that is not listed here."""
        return bool(self.form) and re.fullmatch(self.form, written) is not None

    def near(self, written: str) -> tuple[str, ...]:
        """Listed entries of the same class, where the standard has classes: those that begin as it does."""
        for length in range(len(written) - 1 if self.form else 0, 0, -1):
            found = [one for one in self.words if one.startswith(written[:length])]
            if found:
                return tuple(found[:4])
        return ()


@lru_cache(maxsize=1)
def standards() -> Mapping[str, Standard]:
    """All lists by name."""
    text = resources.files(__package__).joinpath("standards.toml").read_text("utf-8")
    return {name: Standard(**table) for name, table in tomllib.loads(text).items()}


def meaning(name: str, written: str) -> str:
    """What an entry of a list means; the entry itself where it is not listed."""
    return standards()[name].words.get(written, written)
