"""A first style of one's own: one that draws, for a few kinds of garment, with comments that teach (`first/`)."""

from __future__ import annotations

import re
from importlib import resources
from pathlib import Path

from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic
from .files import Files, write

SUFFIX = ".style"


def kinds() -> tuple[str, ...]:
    """The kinds of garment there is a first style of."""
    names = (one.name for one in resources.files(__package__).joinpath("first").iterdir())
    return tuple(sorted(name.removesuffix(SUFFIX) for name in names))


def begin(files: Files, name: str, kind: str) -> tuple[str, Diagnostic | None]:
    """Write the first style of a kind; the file it stands in, and why it was not written. Nothing is overwritten."""
    path = Path(name.removesuffix(SUFFIX) + SUFFIX)
    if not re.fullmatch("[a-z][a-z0-9_]*", path.stem):
        return str(path), words.bad_style_name(path.stem, _as_word(path.stem))
    if _stands(files, str(path)):
        return str(path), words.already_there(str(path))
    return str(path), write(files, [(str(path), _text(kind, path.stem).encode("utf-8"))])


def _text(kind: str, stem: str) -> str:
    """The first style of a kind, with a title after the name of its file."""
    text = resources.files(__package__).joinpath("first", kind + SUFFIX).read_text("utf-8")
    title = stem.replace("_", " ")
    return text.replace(f'style "First {kind}"', f'style "{title[0].upper()}{title[1:]}"')


def _as_word(stem: str) -> str:
    return re.sub("[^a-z0-9]+", "_", stem.lower()).strip("_0123456789") or "my_style"


def _stands(files: Files, path: str) -> bool:
    try:
        files.read(path)
    except FileNotFoundError:
        return False
    except OSError:  # something stands there that cannot be read
        return True
    return True
