"""Colours of a terminal, for what is to be found at a glance: how grave it is, and where it stands."""

from __future__ import annotations

import os
from typing import Literal, TextIO

Role = Literal["", "error", "warning", "place"]
"""What part of a line is, where it has a colour of its own."""

_CODES = {"error": "1;35", "warning": "33", "place": "36"}


def painted(text: str, role: Role) -> str:
    """A text in the colour of its role, ended behind it."""
    return f"\x1b[{_CODES[role]}m{text}\x1b[0m" if role and text else text


def are_wanted(stream: TextIO) -> bool:
    """Whether colours are written to a stream: only to a terminal that shows them, and not where `NO_COLOR` is set."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
