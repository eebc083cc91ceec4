"""`godet check --watch`: styles are checked again whenever a file that they rest on changes."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Collection, Mapping

from ..door.style import open_style
from ..jobs.files import Disk
from ..jobs.watched import Watched
from .checking import check_styles

EVERY = 0.25
"""Seconds from one look at the files to the next."""
SETTLED = 0.1
"""Seconds for which a file that changed must stay as it is: what saves it may write it in parts."""


def watch(given: argparse.Namespace) -> int:
    """Check styles, and again what changes rest on, until ctrl-C; the worst of the exit codes at that time."""
    seen = {path: Watched(Disk()) for path in given.styles}
    styles = {path: open_style(path, settings=given.set, files=seen[path]) for path in seen}
    codes = {path: check_styles([styles[path]], given) for path in seen}
    try:
        while True:
            files = dict.fromkeys(path for one in seen.values() for path in one.files)
            _tell(f"waiting for a change of {_listed(tuple(files))}; ctrl-C ends")
            for path, changed in _next(seen).items():
                _tell(f"changed: {', '.join(changed)}")
                seen[path].forget()
                styles[path] = styles[path].edited()
                codes[path] = check_styles([styles[path]], given)
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return max(codes.values())


def _next(seen: Mapping[str, Watched]) -> Mapping[str, Collection[str]]:
    """By style the files that are other than when they were read, as soon as there are any and they stay as they are."""
    while True:
        time.sleep(EVERY)
        found = {path: changed for path, one in seen.items() if (changed := one.changed())}
        if found:
            break
    while True:
        before = [one.now() for one in seen.values()]
        time.sleep(SETTLED)
        if before == [one.now() for one in seen.values()]:
            return found


def _listed(files: tuple[str, ...]) -> str:
    shown = ", ".join(files[:3])
    return shown if len(files) <= 3 else f"{shown} and {len(files) - 3} more"


def _tell(text: str) -> None:
    """On stderr, behind all that was found, which whoever reads it may wait for."""
    sys.stdout.flush()
    print(text, file=sys.stderr, flush=True)
