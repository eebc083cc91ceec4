"""Where the files shipped with the compiler lie: beside the package in a checkout, inside it in a wheel."""

from __future__ import annotations

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
