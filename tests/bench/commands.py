"""Populations and sizes through the commands, parts of `budgets.py`: `python tests/bench/budgets.py populations sizes`."""

from __future__ import annotations

import csv
import tempfile
from pathlib import Path

from measuring import ROOT
from stream import Streamed, proved, table

CHART = ROOT / "patterns" / "charts" / "women_1988.csv"
HALF_BODICE = str(ROOT / "tests" / "bench" / "half_bodice.style")
FEW, SOME, MANY = 1_000, 10_000, 100_000


def through_prove() -> tuple[float, float, float]:
    """Milliseconds of one processor for each further body of the half bodice, beyond 1,000 up to 10,000 and up to 100,000, from
    the rows to the proof; and how much sooner two processes are done with 10,000 than one, to the same byte."""
    found: dict[int, Streamed] = {}
    with tempfile.TemporaryDirectory() as folder:
        for count in (FEW, SOME, MANY):
            table(path := str(Path(folder) / f"{count}.csv"), count)
            found[count] = proved(HALF_BODICE, path, ["--jobs", "1"])
            if count == SOME:
                two = proved(HALF_BODICE, path, ["--jobs", "2"])
    assert two.said == found[SOME].said
    some, many = (1000 * (found[count].processors - found[FEW].processors) / (count - FEW) for count in (SOME, MANY))
    return some, many, found[SOME].seconds / two.seconds


def ten_sizes(folder: str) -> str:
    """The chart of the survey with one size more, as its last step goes on."""
    with CHART.open(encoding="utf-8", newline="") as file:
        lines = list(csv.reader(file))
    first = next(at for at, line in enumerate(lines) if line[:1] == ["measurement"])
    for line in lines[first:]:
        if len(line) > 1:
            line.append(f"{2 * float(line[-1]) - float(line[-2]):g}")
    with open(path := str(Path(folder) / "ten.csv"), "w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(lines)
    return path
