"""Real bodies for tests: the women and men of the open 1988 survey (see patterns/populations/README.md)."""

from __future__ import annotations

import csv
import gzip
import random
from functools import lru_cache
from pathlib import Path

from godet.bodies.body import Body

POPULATIONS = Path(__file__).parents[2] / "patterns" / "populations"


@lru_cache(maxsize=1)
def all_women() -> tuple[Body, ...]:
    """All 1,472 women, in the order of the file."""
    return _read("women_1988.csv.gz")


@lru_cache(maxsize=1)
def all_men() -> tuple[Body, ...]:
    """All 1,183 men, in the order of the file."""
    return _read("men_1988.csv.gz")


def real_women(count: int, seed: int) -> list[Body]:
    """So many different women picked at random; the same seed picks the same ones."""
    return random.Random(seed).sample(all_women(), count)


def real_men(count: int, seed: int) -> list[Body]:
    """So many different men picked at random; the same seed picks the same ones."""
    return random.Random(seed).sample(all_men(), count)


def _read(name: str) -> tuple[Body, ...]:
    with gzip.open(POPULATIONS / name, "rt", encoding="utf-8", newline="") as file:
        return tuple(_body(row, name) for row in csv.DictReader(file))


def _body(row: dict[str, str], file: str) -> Body:
    measures = {name: float(value) for name, value in row.items() if name not in ("name", "sex", "unit") and value}
    return Body(name=row["name"], unit="mm", sex="F" if row["sex"] == "F" else "M", measures=measures, file=file)
