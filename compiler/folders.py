"""Where the files shipped with the compiler lie, beside the package in a checkout, inside it in a wheel; and its cache folder."""

from __future__ import annotations

import hashlib
import os
import tempfile
from pathlib import Path


def shipped(name: str) -> Path:
    """The folder `name` ("grammar", "stdlib") that belongs to this compiler.

    Raises FileNotFoundError when it is missing: then the installation is damaged.
    """
    # The package may be reached through a symbolic link; only its real place has neighbours.
    package = Path(__file__).resolve().parent
    for folder in (package / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the folder {name!r} is missing beside {package}")


def cache_folder() -> Path:
    """Where is kept what takes long to make: `godet` in the user's cache folder. Raises RuntimeError where there is no home."""
    base = os.environ.get("XDG_CACHE_HOME")
    return (Path(base) if base else Path.home() / ".cache") / "godet"


def keep(file: Path, key: str, content: bytes) -> None:
    """Write a file of the cache, whole or not at all, since another process may read it now; `key` says what it was made of."""
    try:
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=file.parent, delete=False) as part:
            try:
                part.write(_sealed(key, content) + content)
            except OSError:
                os.unlink(part.name)
                raise
        os.replace(part.name, file)
    except OSError:
        pass  # without a cache every start is slower, and nothing else changes


def kept(file: Path, key: str) -> bytes | None:
    """What a file of the cache holds; None where there is none, where it was made of something else, is damaged, or is another
    user's: what it holds is trusted with running code."""
    try:
        with file.open("rb") as opened:
            if hasattr(os, "getuid") and os.fstat(opened.fileno()).st_uid != os.getuid():
                return None
            seal, content = opened.read(SEAL), opened.read()
        if seal != _sealed(key, content):
            return None
        os.utime(file)  # the oldest are those not used for longest
        return content
    except OSError:
        return None


SEAL = hashlib.sha256().digest_size


def _sealed(key: str, content: bytes) -> bytes:
    return hashlib.sha256(key.encode("utf-8") + b"\0" + content).digest()
