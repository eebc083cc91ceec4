"""The one place where files are read and written. Everything is written, or nothing is."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import re
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import BinaryIO, Protocol

from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic


class Files(Protocol):
    """What the jobs need of a file system, so that an editor or a test can stand in for it."""

    def read(self, path: str) -> bytes: ...

    def open(self, path: str) -> BinaryIO:
        """A file that is too large to be held, to be read from its start and closed."""
        ...

    def is_folder(self, path: str) -> bool: ...

    def listed(self, folder: str, suffix: str) -> Sequence[str]: ...

    def leads_out(self, path: str, folder: str) -> bool:
        """Whether a path in a folder is, by a link, a file elsewhere."""
        ...

    def write(self, contents: Iterable[tuple[str, bytes]]) -> None: ...

    def append(self, path: str, content: bytes) -> None:
        """Add to the end of a file, at once; it is made where there is none."""
        ...


class Overlaid:
    """Files, some of which have other texts than those that are stored: what an editor holds, or a program made."""

    def __init__(self, below: Files, texts: Mapping[str, str]) -> None:
        self._below, self._texts = below, {os.path.normpath(path): text for path, text in texts.items()}
        if isinstance(below, Overlaid):  # a text edited often is laid over the disk once
            self._below, self._texts = below._below, {**below._texts, **self._texts}
        self.is_folder, self.listed, self.write, self.leads_out = below.is_folder, below.listed, below.write, below.leads_out
        self.open, self.append = below.open, below.append

    def read(self, path: str) -> bytes:
        text = self._texts.get(os.path.normpath(path))
        return self._below.read(path) if text is None else text.encode("utf-8", "surrogatepass")


class ReadOnly:
    """Files that nothing is written to; `read` is what those that are based on it give."""

    def read(self, path: str) -> bytes:
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), path)

    def open(self, path: str) -> BinaryIO:
        return io.BytesIO(self.read(path))

    def is_folder(self, path: str) -> bool:
        return False

    def listed(self, folder: str, suffix: str) -> Sequence[str]:
        return ()

    def leads_out(self, path: str, folder: str) -> bool:
        return False  # a link leads nowhere

    def write(self, contents: Iterable[tuple[str, bytes]]) -> None:
        raise PermissionError(errno.EROFS, os.strerror(errno.EROFS))

    def append(self, path: str, content: bytes) -> None:
        self.write([(path, content)])


class Held(ReadOnly):
    """Texts that were sent here, which were looked at where they were read: there are no other files."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self._texts = {os.path.normpath(path): text for path, text in texts.items()}

    def read(self, path: str) -> bytes:
        text = self._texts.get(os.path.normpath(path))
        return super().read(path) if text is None else text.encode("utf-8", "surrogatepass")


class Disk:
    """The file system of this machine."""

    def read(self, path: str) -> bytes:
        return Path(path).read_bytes()

    def open(self, path: str) -> BinaryIO:
        return Path(path).open("rb")

    def is_folder(self, path: str) -> bool:
        return bool(path) and Path(path).is_dir()  # an empty name is none, not the folder one stands in

    def listed(self, folder: str, suffix: str) -> Sequence[str]:
        return [str(path) for path in sorted(Path(folder).iterdir()) if path.suffix == suffix]

    def leads_out(self, path: str, folder: str) -> bool:
        return not Path(path).resolve().is_relative_to(Path(folder).resolve())

    def write(self, contents: Iterable[tuple[str, bytes]]) -> None:
        """Write all files beside their final names first, one after the other as they come, then rename them; on any
        failure all is as it was before."""
        waiting: list[tuple[str, str]] = []
        try:
            for path, content in contents:
                folder = Path(path).parent
                folder.mkdir(parents=True, exist_ok=True)
                _clear(folder)
                handle, temporary = tempfile.mkstemp(dir=folder, prefix=f".godet-{_HOST}-{os.getpid()}-")
                waiting.append((temporary, path))
                with os.fdopen(handle, "wb") as file:
                    file.write(content)
                os.chmod(temporary, 0o644)
            _renamed(waiting)
        finally:
            for temporary, _ in waiting:
                with contextlib.suppress(FileNotFoundError):
                    os.unlink(temporary)

    def append(self, path: str, content: bytes) -> None:
        with Path(path).open("ab", buffering=0) as file:
            file.write(content)


_HOST = os.uname().nodename if hasattr(os, "uname") else ""
_WAITING = re.compile(r"\.godet-(.*)-(\d+)-[a-z0-9_]+")
"""A file that waits for its name: on which machine it was written, and by which process. What stood at a name before, kept aside
while it changes, has more behind this, and is never cleared."""


@cache
def _clear(folder: Path) -> None:
    """Once in a process: files that wait for names which a process of this machine wanted to give them, and is no more."""
    for name in os.listdir(folder) if _HOST else ():
        found = _WAITING.fullmatch(name)
        if found is not None and found[1] == _HOST and not _runs(int(found[2])):
            with contextlib.suppress(OSError):  # another process has just done so
                os.unlink(folder / name)


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)  # it hears nothing of this
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):  # it is of someone else
        pass
    return True


def _renamed(waiting: Sequence[tuple[str, str]]) -> None:
    """Give files their final names. What stood there is kept aside until all have theirs; on any failure it is put back."""
    for _, path in waiting:
        if os.path.isdir(path):
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), path)
    aside: list[str] = []
    with contextlib.ExitStack() as undo:
        for temporary, path in waiting:
            if os.path.lexists(path):
                aside.append(f"{temporary}-before")
                os.replace(path, aside[-1])
                undo.callback(os.replace, aside[-1], path)
                os.replace(temporary, path)
            else:
                os.replace(temporary, path)
                undo.callback(os.unlink, path)
        undo.pop_all()
    for path in aside:
        os.unlink(path)


def read(files: Files, path: str) -> tuple[bytes | None, Diagnostic | None]:
    """The bytes of a file, or what is wrong with it."""
    try:
        return files.read(path), None
    except (FileNotFoundError, NotADirectoryError):
        return None, words.no_file(path)
    except OSError as error:
        return None, words.unreadable(path, error.strerror or "it is not a file")


def write(files: Files, contents: Iterable[tuple[str, bytes]]) -> Diagnostic | None:
    """Write all files, paths and what is to be in them, or none."""
    at = ""

    def told() -> Iterator[tuple[str, bytes]]:
        nonlocal at
        for path, content in contents:
            at = path
            yield path, content

    try:
        files.write(told())
    except (FileExistsError, NotADirectoryError) as error:
        return words.unwritable(str(error.filename or at), "a file stands where its folder should be")
    except BrokenPipeError:  # of what is printed meanwhile: no fault of a file
        raise
    except OSError as error:
        return words.unwritable(str(error.filename or at), error.strerror or "the system refused")
    return None
