"""Where the files shipped with the compiler lie, beside the package in a checkout, inside it in a wheel; and its cache folder."""

from __future__ import annotations

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


def store(file: Path, content: bytes) -> None:
    """Write a file of the cache, whole or not at all: another process may read it now."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=file.parent, delete=False) as part:
            part.write(content)
        os.replace(part.name, file)
    except OSError:
        pass  # without a cache every start is slower, and nothing else changes
