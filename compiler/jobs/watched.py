"""Files that remember what was asked of them, so that it can be asked again whether anything has changed."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from typing import BinaryIO

from .files import Files

_Asked = tuple[str, str, str]
"""What was asked (`read`, `is_folder`, `listed`), of which path, and which suffix."""


class Watched:
    """Files on disk, with what was read and looked for among them."""

    def __init__(self, below: Files) -> None:
        self._below = below
        self._seen: dict[_Asked, object] = {}
        self.leads_out, self.write, self.append = below.leads_out, below.write, below.append

    @property
    def files(self) -> tuple[str, ...]:
        """The files that were read and are there, in the order of reading."""
        return tuple(path for (what, path, _), was in self._seen.items() if what == "read" and was is not None)

    def changed(self) -> tuple[str, ...]:
        """The paths of which something is other than when it was asked."""
        return tuple(dict.fromkeys(asked[1] for asked, was in self._seen.items() if self._answer(asked) != was))

    def now(self) -> Sequence[object]:
        """What would be answered now."""
        return [self._answer(asked) for asked in self._seen]

    def forget(self) -> None:
        self._seen.clear()

    def read(self, path: str) -> bytes:
        self._note(("read", path, ""))
        return self._below.read(path)

    def open(self, path: str) -> BinaryIO:
        self._note(("read", path, ""))
        return self._below.open(path)

    def is_folder(self, path: str) -> bool:
        self._note(("is_folder", path, ""))
        return self._below.is_folder(path)

    def listed(self, folder: str, suffix: str) -> Sequence[str]:
        self._note(("listed", folder, suffix))
        return self._below.listed(folder, suffix)

    def _note(self, asked: _Asked) -> None:
        """Before it is answered: what changes meanwhile is seen as a change."""
        self._seen.setdefault(asked, self._answer(asked))

    def _answer(self, asked: _Asked) -> object:
        what, path, suffix = asked
        if what == "read":
            return _stamp(path)
        if what == "is_folder":
            return self._below.is_folder(path)
        return _inside(self._below, path, suffix)


def _stamp(path: str) -> tuple[int, int, int] | None:
    """What changes with the content of a file; None where there is none."""
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def _inside(files: Files, folder: str, suffix: str) -> Iterable[str]:
    try:
        return tuple(files.listed(folder, suffix))
    except OSError:
        return ()
