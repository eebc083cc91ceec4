"""Real bodies for tests: the women of the open 1988 survey (see tests/data/README.md)."""

from __future__ import annotations

import csv
import gzip
import random
from functools import lru_cache
from pathlib import Path

from godet.bodies.body import Body

_FILE = Path(__file__).parents[1] / "data" / "bodies_1988_women.csv.gz"


@lru_cache(maxsize=1)
def all_women() -> tuple[Body, ...]:
    """All 1,472 women, in the order of the file."""
    with gzip.open(_FILE, "rt", encoding="utf-8", newline="") as file:
        return tuple(_body(row) for row in csv.DictReader(file))


def real_women(count: int, seed: int) -> list[Body]:
    """So many different women picked at random; the same seed picks the same ones."""
    return random.Random(seed).sample(all_women(), count)


def _body(row: dict[str, str]) -> Body:
    measures = {name: float(value) for name, value in row.items() if name not in ("body", "sex") and value}
    return Body(name=row["body"], unit="mm", sex="F", measures=measures, file=_FILE.name)
