"""The list of what was made for clients: a line of JSON for each, added when its files have their names.

It holds digests and no measurements. A client that stands in several lines is that of the last.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from pathlib import PurePath

from .files import Files

LIST = "made.jsonl"


@dataclass(frozen=True)
class Made:
    """What was made: of which style (`_toile` behind it for that of a toile), for whom, of what (a key), in which files by their
    digests; whether all of it holds, and how much does not, in words; of how many things it was warned, and which measurements
    were not taken."""

    style: str
    id: str
    key: str
    files: Mapping[str, str]
    holds: bool
    failing: str
    warnings: int
    estimated: tuple[str, ...]

    @property
    def line(self) -> bytes:
        return json.dumps(asdict(self), ensure_ascii=False).encode("utf-8") + b"\n"


class MadeList:
    """The list in a folder. Only lines of one style are looked at; all are kept."""

    def __init__(self, files: Files, folder: str, style: str) -> None:
        self._files, self._folder, self._path = files, folder, str(PurePath(folder) / LIST)
        self.style = style
        self.of: dict[str, Made] = {}
        """The last line of each client."""
        self.names: dict[str, None] = {}
        """Every file that was ever written."""
        try:
            content = files.read(self._path)
        except OSError:  # none is there yet
            content = b""
        self._is_torn = bool(content) and not content.endswith(b"\n")
        for line in content.splitlines():
            self._read(line)

    def _read(self, line: bytes) -> None:
        """A line; whom one is of that was cut off, where a run was ended, is made again."""
        try:
            found = json.loads(line)
            one = Made(**{**found, "files": dict(found["files"]), "estimated": tuple(found["estimated"])})
        except (ValueError, TypeError, KeyError):
            return
        if one.style == self.style:
            self.of[one.id] = one
            self.names.update(dict.fromkeys(one.files))

    def has(self, id: str, key: str) -> bool:
        """Whether all files of a client are there as they were written, of what they would be made of now."""
        one = self.of.get(id)
        return one is not None and one.key == key and all(self._digest(name) == digest for name, digest in one.files.items())

    def add(self, one: Made) -> None:
        self._files.append(self._path, b"\n" * self._is_torn + one.line)
        self._is_torn = False
        self.of[one.id] = one

    def left(self, current: Iterable[str]) -> tuple[str, ...]:
        """Files that were written once, are there, and are of nobody who is current."""
        others = self.names.keys() - {name for id in current if id in self.of for name in self.of[id].files}
        return tuple(str(PurePath(self._folder) / name) for name in self.names if name in others and self._digest(name))

    def _digest(self, name: str) -> str:
        try:
            return digest(self._files.read(str(PurePath(self._folder) / name)))
        except OSError:
            return ""


def digest(content: bytes) -> str:
    """The digest of a file."""
    return hashlib.sha256(content).hexdigest()
