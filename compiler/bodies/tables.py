"""The tables of numbers that ship with this room."""

from __future__ import annotations

import csv
from importlib import resources


def read_table(name: str) -> list[dict[str, str]]:
    """The rows of one of this room's CSV files."""
    return list(csv.DictReader(resources.files(__package__).joinpath(name).read_text("utf-8").splitlines()))
