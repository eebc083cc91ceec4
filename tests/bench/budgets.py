"""Budgets of the house, measured as ratios in one run: `python tests/bench/budgets.py`. Nothing here is a test.

Each figure is the median of several runs; the baseline is timed in the same run, in turn with what it is compared to.
"""

from __future__ import annotations

import io
import subprocess
import sys
import time
import tokenize
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from godet.bodies.body import Body
    from godet.jobs.outcome import BodyResult
    from godet.jobs.prepare import Prepared

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
STYLE = str(ROOT / "patterns" / "concert_top.style")
BODY = str(ROOT / "patterns" / "bodies" / "alto_3.toml")


def timed(work: Callable[[], object], runs: int = 7) -> float:
    """Median seconds of a call, after one that is not counted."""
    work()
    spent = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        spent.append(time.perf_counter() - start)
    return median(spent)


def process(*arguments: str) -> Callable[[], object]:
    return lambda: subprocess.run([sys.executable, *arguments], check=True, capture_output=True, cwd=ROOT)


def told(what: str, ratio: float, budget: str) -> None:
    print(f"{what}: {ratio:.2f} (budget {budget})")


def one_body() -> None:
    from godet.drawing.arrange import arrange
    from godet.jobs.build import drawn, plate
    from godet.jobs.files import Disk
    from godet.jobs.outcome import outcomes
    from godet.jobs.prepare import prepare
    from godet.output.svg import svg_text

    def ready() -> tuple[Prepared, BodyResult, Body]:
        prepared = prepare(Disk(), STYLE, [BODY])
        return prepared, outcomes(prepared)[0][0], prepared.bodies[0]

    baseline = timed(process("-c", "import numpy, shapely"))
    svg = timed(lambda: svg_text(arrange(*plate(*ready()))))
    told("warm compile, evaluation and SVG of one body / process that imports numpy and shapely", svg / baseline, "0.5")
    both = timed(lambda: drawn(*ready(), "a4"))
    told("the same with its PDF", both / baseline, "none")


def cold_check() -> None:
    baseline = timed(process("-c", "import numpy, shapely, lark"))
    check = timed(process("-m", "godet.cli.main", "check", STYLE, "--body", BODY))
    told("cold check, whole process / process that imports numpy, shapely and lark", check / baseline, "3")


def many_bodies() -> None:
    from godet.jobs.files import Disk
    from godet.jobs.outcome import outcomes
    from godet.jobs.prepare import prepare
    from support.real_bodies import all_women

    prepared = prepare(Disk(), STYLE)
    women = all_women()

    def seconds_each(count: int) -> float:
        bodies = tuple(women[k % len(women)] for k in range(count))
        return timed(lambda: outcomes(replace(prepared, bodies=bodies)), 3) / count

    alone, hundred, thousand = seconds_each(1), seconds_each(100), seconds_each(1000)
    told("one body alone / one of 100 together", alone / hundred, "as large as can be")
    told("one body alone / one of 1,000 together", alone / thousand, "15 against per-body Python")


def parsing() -> None:
    from godet.syntax.parser import parse

    text = "\n".join(path.read_text("utf-8") for path in sorted((ROOT / "stdlib").rglob("*.style")))
    tokens = timed(lambda: [0 for _ in _tokens(text)])
    told(
        "lines a second of our parser / of the standard library's tokenize",
        tokens / timed(lambda: parse(text, "all")),
        "at least 0.17",
    )


def _tokens(text: str) -> list[tokenize.TokenInfo]:
    found = []
    try:
        for token in tokenize.generate_tokens(io.StringIO(text).readline):
            found.append(token)
    except (tokenize.TokenError, IndentationError):
        pass
    return found


if __name__ == "__main__":
    parsing()
    cold_check()
    one_body()
    many_bodies()
