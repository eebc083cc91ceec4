"""Budgets of the house, measured as ratios in one run: `python tests/bench/budgets.py`. Nothing here is a test.

Some of them alone by the names of their functions: `python tests/bench/budgets.py cold_check an_edit`.
What a ratio must not pass stands beside it. A part that cannot be measured is told with its reason, and the others go on. Each
figure is the median of several runs; the baseline is timed in the same run. Processes find their compiled modules kept, as
those of an installed package are. All but memory and the parser is measured in processor time, on which other work of the
machine tells least. A yard is 10,000 additions of a (1, 64, 2) array in the same process.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tempfile
import time
import tokenize
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from godet.bodies.body import Body
    from godet.jobs.build import Plate
    from godet.jobs.prepare import Prepared
    from godet.jobs.results import BodyResult

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
STYLE = str(ROOT / "patterns" / "concert_top.style")
PRINCESS = str(ROOT / "patterns" / "princess_dress_bodice.style")
BODY = str(ROOT / "patterns" / "bodies" / "alto_3.toml")
HALF_BODICE = str(ROOT / "tests" / "bench" / "half_bodice.style")
SIZED = ("gored_skirt", "puff_sleeve", "concert_top")
KEPT = {**os.environ, "PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": str(Path(tempfile.gettempdir()) / "godet-bench")}


def timed(work: Callable[[], object], runs: int = 5, clock: Callable[[], float] = time.perf_counter) -> float:
    """Median seconds of a call, after one that is not counted."""
    work()
    spent = []
    for _ in range(runs):
        start = clock()
        work()
        spent.append(clock() - start)
    return median(spent)


def of_children() -> float:
    """Processor seconds of the processes that have ended."""
    spent = os.times()
    return spent.children_user + spent.children_system


def yard() -> float:
    """Processor seconds of a yard."""
    import numpy as np

    one, other = np.ones((1, 64, 2)), np.full((1, 64, 2), 0.5)
    return timed(lambda: [one + other for _ in range(10_000)], clock=time.process_time)


def process(*arguments: str) -> Callable[[], subprocess.CompletedProcess[str]]:
    return lambda: subprocess.run([sys.executable, *arguments], check=True, capture_output=True, cwd=ROOT, env=KEPT, text=True)


def told(what: str, ratio: float, budget: str) -> None:
    print(f"{ratio:8.2f}   budget {budget:<12}   {what}", flush=True)


def one_body() -> None:
    from godet.jobs.build import Wanted, as_pdf, as_svg, plate
    from godet.jobs.files import Disk
    from godet.jobs.outcome import outcomes
    from godet.jobs.prepare import prepare

    def ready() -> tuple[Prepared, BodyResult, Body]:
        prepared = prepare(Disk(), STYLE, [BODY])
        return prepared, outcomes(prepared)[0][0], prepared.bodies[0]

    def plate_of(prepared: Prepared, result: BodyResult, body: Body) -> Plate:
        return plate(prepared, result, body, Wanted())

    def both_files(prepared: Prepared, result: BodyResult, body: Body) -> None:
        made = plate_of(prepared, result, body)
        as_svg(made)
        as_pdf(made, "a4")

    def svg_file(prepared: Prepared, result: BodyResult, body: Body) -> None:
        as_svg(plate_of(prepared, result, body))

    long, clock = yard(), time.process_time
    told("warm compile, evaluation and SVG of one body / yard", timed(lambda: svg_file(*ready()), clock=clock) / long, "34")
    told("the same with its PDF", timed(lambda: both_files(*ready()), clock=clock) / long, "none")


EDITS = {
    "a comment": ("language 1\n", "language 1\n# {}\n", "0.3", "8"),
    "a hem allowance": ("    allow 3 cm on hem ", "    allow 3.0{} cm on hem ", "0.5", "8"),
    "the ease of the bust": ("bust_ease 8 cm", "bust_ease 8.0{} cm", "none", "34"),
}


def an_edit() -> None:
    """From the saved text to the sheet, warm: what is kept is found again, against the same text opened afresh."""
    import godet

    text = Path(STYLE).read_text("utf-8")

    def sheet(style: godet.Style) -> godet.Style:
        for result in style.on(BODY):
            result.svg()
        return style

    first = sheet(godet.open_style(STYLE))
    long = yard()
    for name, (old, new, budget, yards) in EDITS.items():
        texts = [text.replace(old, new.format(number)) for number in range(1, 9)]
        fresh, edited = iter(texts), iter(texts)
        whole = timed(partial(lambda texts: sheet(godet.open_style(STYLE, text=next(texts))), fresh), clock=time.process_time)
        again = timed(partial(lambda texts: sheet(first.edited(next(texts))), edited), clock=time.process_time)
        told(f"an edit, {name}: from text to sheet, what is kept found again / afresh", again / whole, budget)
        told("    the same / yard", again / long, yards)
        print(f"    of {first.work} made anew {sheet(first.edited(texts[0])).work}")


def cold_check() -> None:
    baseline = timed(process("-c", "import numpy, shapely, lark"), clock=of_children)
    check = timed(process("-m", "godet.cli.main", "check", STYLE, "--body", BODY), clock=of_children)
    told("cold check, whole process / process that imports numpy, shapely and lark", check / baseline, "2.5")


def many_bodies() -> None:
    """The half bodice on lanes against the same draft body by body; then the cost of each of many."""
    counts = (1, 1_000, 10_000, 100_000)
    found = {count: process("tests/bench/population.py", HALF_BODICE, str(count))().stdout.split() for count in counts}
    each, peak = ({count: float(row[k]) for count, row in found.items()} for k in (0, 1))
    hand = by_hand_each()
    told("half bodice by hand, one body after the other / one of 10,000 on lanes, one thread", hand / each[10_000], "15")
    told("one body alone on lanes / by hand", each[1] / hand, "none")
    told("one of 100,000 / one of 1,000", each[100_000] / each[1_000], "0.8 to 1.2")
    told("peak memory of 100,000 / of 10,000", peak[100_000] / peak[10_000], "as near 1 as the bodies themselves allow")
    top = process("tests/bench/population.py", STYLE, "2000")().stdout.split()
    alone = process("tests/bench/population.py", STYLE, "1")().stdout.split()
    told("concert top: one body alone / one of 2,000", float(alone[0]) / float(top[0]), "none")


def populations() -> None:
    """The half bodice with allowances, notches and all judging, from the rows of a table to the proof, against the same draft
    body by body."""
    from commands import through_prove

    some, many, two = through_prove()
    told("half bodice by hand, one body after the other / through `prove`, one process", by_hand_each() / some, "15")
    told("prove: each of 100,000 / each of 10,000", many / some, "0.8 to 1.2")
    told("prove: seconds of one process / of two, 10,000 bodies, the same bytes (with two cores free)", two, "1.6")


def sizes() -> None:
    """Ten sizes of a chart against one of them, whole processes."""
    from commands import ten_sizes

    with tempfile.TemporaryDirectory() as folder:
        chart = ten_sizes(folder)
        for style in SIZED:
            for command in (["check"], ["build", "--split", "--out", folder]):
                run = ["-m", "godet.cli.main", *command, str(ROOT / "patterns" / f"{style}.style"), "--sizes", chart]
                ten, one = (timed(process(*run, *only), runs=3, clock=of_children) for only in ([], ["--only", "92"]))
                told(f"{command[0]} {style}: ten sizes / one", ten / one, "1.5")


def memory_of_commands() -> None:
    """Peak memory of whole commands on bodies in files: of more than a chunk of them it should not grow with their number."""
    for command in (["check", HALF_BODICE], ["report", HALF_BODICE, "--format", "json"], ["report", HALF_BODICE]):
        few, many = (
            float(process("tests/bench/command_memory.py", str(count), *command)().stdout) for count in (2_000, 10_000)
        )
        name = f"peak memory of {command[0]}{'' if len(command) < 3 else ' as JSON'}: 10,000 bodies / 2,000"
        told(name, many / few, "as near 1 as the bodies themselves allow")
    counts = ("2000", "4000")  # every body is drawn, which takes long: two chunks of them against one
    few, many = (float(process("tests/bench/command_memory.py", count, "build", HALF_BODICE)().stdout) for count in counts)
    told("peak memory of build: 4,000 bodies / 2,000", many / few, "as near 1 as the bodies themselves allow")


def solving() -> None:
    """With solves against the same with their unknowns told: where it is more, a solve repeats what it need not."""
    from solves import cost

    for path, many, few in ((STYLE, "1.25", "1.25"), (PRINCESS, "1.25", "1.5")):
        for count, budget in ((300, many), (1, few)):
            found = cost(path, count)
            told(
                f"{Path(path).stem}, {count} at a time: with solves, each of {found.trials:.1f} trials / unknowns told",
                found.ratio,
                budget,
            )


def by_hand_each() -> float:
    """Milliseconds of a body drafted by `by_hand.py`, whose cut lines must have the areas of ours."""
    import by_hand
    import shapely
    from godet.finish.finished import finished
    from godet.graph.evaluate import evaluate
    from godet.jobs.files import Disk
    from godet.jobs.prepare import prepare
    from godet.pattern.piece import Piece
    from support.real_bodies import all_women

    women = all_women()[:200]
    prepared = replace(prepare(Disk(), HALF_BODICE), bodies=women)
    assert prepared.style is not None
    (part,) = evaluate(prepared.style, prepared.population).parts
    drafts = [by_hand.draft(body.measures) for body in women]
    for node, cuts in zip(prepared.style.pieces.values(), zip(*drafts, strict=True), strict=True):
        piece = part.values[node]
        assert isinstance(piece, Piece)
        areas = shapely.area(shapely.polygons(finished(piece).cut))
        assert abs(areas / shapely.area(cuts) - 1.0).max() < 0.002
    spent = []
    for _ in range(3):
        start = time.process_time()
        for body in women:
            by_hand.draft(body.measures)
        spent.append(time.process_time() - start)
    return 1000.0 * median(spent) / len(women)


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


PARTS = (parsing, cold_check, one_body, an_edit, solving, many_bodies, populations, sizes, memory_of_commands)


def main(wanted: list[str]) -> int:
    """Each part after the other; 1 where one could not be measured."""
    broken = 0
    for part in PARTS:
        if wanted and part.__name__ not in wanted:
            continue
        try:
            part()
        except (subprocess.CalledProcessError, AssertionError, ValueError) as error:
            broken = 1
            reason = (getattr(error, "stderr", "") or f"{type(error).__name__}: {error}").strip().splitlines()
            print(f"       -   {part.__name__} could not be measured: {reason[-1]}", flush=True)
    return broken


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
