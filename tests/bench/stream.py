"""So many bodies of a table through `godet prove`: `python tests/bench/stream.py STYLE COUNT [csv|parquet] [JOBS]`.

The rows are women of the survey drawn again at random, each jittered by half a percent: invented. Prints bodies a second, the
milliseconds of processor time of each, and the peak of what the command and its processes hold in memory together, in MiB
(proportional shares, so that what they share counts once; Linux alone tells it). Run it niced: a million take hours.
"""

from __future__ import annotations

import csv
import gzip
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from measuring import ENVIRONMENT, ROOT

WOMEN = ROOT / "patterns" / "populations" / "women_1988.csv.gz"
HEAD = ("name", "sex", "unit")
AT_A_TIME = 10_000
LOOKED_AT = 0.5
"""Seconds between two looks at the memory."""


@dataclass(frozen=True)
class Streamed:
    """What proving a population took: seconds, seconds of processors, MiB at the peak, and what was printed."""

    seconds: float
    processors: float
    peak: float
    said: str


def rows(count: int) -> Iterator[tuple[list[str], list[str], np.ndarray]]:
    """Names of bodies, of measurements, and these (n, k) in mm, some thousands at a time."""
    with gzip.open(WOMEN, "rt") as file:
        head, *women = csv.reader(file)
    columns = [at for at, name in enumerate(head) if name not in HEAD]
    survey = np.array([[float(row[at] or "nan") for at in columns] for row in women])
    chance = np.random.default_rng(1988)
    for first in range(0, count, AT_A_TIME):
        size = min(AT_A_TIME, count - first)
        picked = survey[chance.integers(0, len(survey), size)]
        jitter = (1 + chance.normal(0, 0.005, (size, 1))) * (1 + chance.normal(0, 0.001, picked.shape))
        yield [f"invented {first + k}" for k in range(size)], [head[at] for at in columns], np.round(picked * jitter, 1)


def table(path: str, count: int) -> None:
    """A table of so many invented bodies, CSV or Parquet by its name."""
    if path.endswith(".csv"):
        with open(path, "w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            for number, (names, words, values) in enumerate(rows(count)):
                if not number:
                    writer.writerow([*HEAD, *words])
                filled = ([("" if cell != cell else cell) for cell in row] for row in values.tolist())
                writer.writerows([name, "F", "mm", *row] for name, row in zip(names, filled, strict=True))
        return
    import pyarrow
    import pyarrow.parquet

    opened = None
    for names, words, values in rows(count):
        columns = {"name": names, "sex": ["F"] * len(names), "unit": ["mm"] * len(names)}
        made = pyarrow.table({**columns, **{word: values[:, k] for k, word in enumerate(words)}})
        opened = opened or pyarrow.parquet.ParquetWriter(path, made.schema)
        opened.write_table(made)
    if opened is not None:
        opened.close()


def proved(style: str, path: str, more: Sequence[str] = ()) -> Streamed:
    """The real command on a table, watched."""
    before, start, peak = os.times(), time.perf_counter(), 0.0
    command = [sys.executable, "-m", "godet.cli.main", "prove", style, "--population", path, "--format", "json", *more]
    with tempfile.TemporaryFile("w+", encoding="utf-8") as out:
        with subprocess.Popen(command, stdout=out, stderr=subprocess.STDOUT, cwd=ROOT, env=ENVIRONMENT) as one:
            while one.poll() is None:
                peak = max(peak, sum(map(held, family(one.pid))))
                time.sleep(LOOKED_AT)
        after = os.times()
        out.seek(0)
        spent = after.children_user + after.children_system - before.children_user - before.children_system
        return Streamed(time.perf_counter() - start, spent, peak, out.read())


def family(pid: int) -> list[int]:
    """A process and all that it began."""
    try:
        below = [int(one) for task in Path(f"/proc/{pid}/task").iterdir() for one in (task / "children").read_text().split()]
    except OSError:  # it has ended
        return []
    return [pid, *(one for child in below for one in family(child))]


def held(pid: int) -> float:
    """MiB that a process holds, its share of what it shares with others."""
    try:
        lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    except OSError:
        return 0.0
    return sum(int(line.split()[1]) for line in lines if line.startswith("Pss:")) / 1024


def main(style: str, count: int, kind: str = "csv", jobs: str = "") -> int:
    with tempfile.TemporaryDirectory() as folder:
        path = str(Path(folder) / f"many.{kind}")
        table(path, count)
        found = proved(style, path, ["--jobs", jobs] if jobs else [])
    told = f"{count / found.seconds:.1f} bodies a second, {1000 * found.processors / count:.2f} ms of processors each"
    print(f"{Path(style).stem}, {count} bodies, {kind}: {told}, peak {found.peak:.0f} MiB", flush=True)
    return 0 if '"gates"' in found.said else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], int(sys.argv[2]), *sys.argv[3:]))
