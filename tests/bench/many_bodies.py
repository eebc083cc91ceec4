"""The budgets of many bodies: time of each, and memory. Run by `budgets.py`."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from functools import cache, partial

from measuring import ENVIRONMENT, ROOT, Row, least, of_children, printed

STYLE = str(ROOT / "patterns" / "concert_top.style")
HALF_BODICE = str(ROOT / "tests" / "bench" / "half_bodice.style")
MANY, FEW = 10_000, 2_000


def half_bodice() -> Iterator[Row]:
    """On lanes against the same draft by hand, body by body; on two processes too, each of which writes its cut lines."""
    hand = _by_hand_each()
    base = f"by hand, body by body: {hand:.2f} ms each"
    one = min(_each(HALF_BODICE, MANY) for _ in range(3))
    yield Row("half bodice to finished pieces: by hand / one of 10,000", hand / one, 15, base, at_least=True)
    two = min(_on_two(HALF_BODICE, MANY) for _ in range(3))
    yield Row("the same on two processes that write their own text", hand / two, 25, base, at_least=True)


def concert_top() -> Iterator[Row]:
    """What it costs that bodies differ in structure, and that they are few."""
    many, alike, few = _each(STYLE, FEW), _each(STYLE, FEW, "alike"), min(_each(STYLE, 100) for _ in range(3))
    base = f"of one structure: {alike:.2f} ms each"
    yield Row("concert top: one of 2,000 / one of 2,000 of one structure", many / alike, 1.3, base)
    yield Row("concert top: one of 100 / one of 2,000", few / many, 1.5, f"of 2,000: {many:.2f} ms each")


def check_and_report() -> Iterator[Row]:
    """What is judged and written of a body against what it takes to evaluate it."""
    import godet
    from godet.bodies.lanes import Population
    from godet.graph.evaluate import evaluate
    from godet.jobs.prepare import prepare_style
    from support.real_bodies import all_women

    women, style = all_women()[:736], godet.open_style(STYLE)
    rows = [{"name": one.name, "sex": one.sex, "unit": one.unit, **one.measures} for one in women]
    on = style.on(rows)
    checked = prepare_style(style.workspace, STYLE, ()).style
    assert checked is not None
    evaluation = least(lambda: evaluate(checked, Population.of(women)), 2)
    base = f"evaluate, one of {len(women)}: {1000 * evaluation / len(women):.2f} ms"
    checks = least(lambda: [one.holds for one in on], 2)
    yield Row("concert top, each body of many: check / evaluate", checks / evaluation, 1.2, base)
    with open(os.devnull, "w", encoding="utf-8") as nowhere:
        report = least(lambda: on.write_report(nowhere, form="json"), 2)
    yield Row("concert top, each body of many: report / evaluate", report / evaluation, 2, base)


def populations() -> Iterator[Row]:
    """The half bodice with all judging, from the rows of a table to the proof, against the same draft body by body."""
    from commands import through_prove

    some, many, two = through_prove()
    hand = _by_hand_each()
    base = f"by hand, body by body: {hand:.2f} ms each"
    yield Row("half bodice: by hand / through `prove`, one process", hand / some, 15, base, at_least=True)
    yield Row("`prove`: each of 100,000 / each of 10,000", many / some, 1.2, f"of 10,000: {some:.2f} ms each")
    yield Row("`prove` of 10,000: seconds of one process / of two", two, 1.6, "with two cores free", at_least=True)


def sizes() -> Iterator[Row]:
    """Ten sizes of a chart against one of them, whole processes."""
    from commands import ten_sizes

    with tempfile.TemporaryDirectory() as folder:
        chart = ten_sizes(folder)
        for style in ("gored_skirt", "puff_sleeve", "concert_top"):
            for command in (["check"], ["build", "--split", "--out", folder]):
                run = ["-m", "godet.cli.main", *command, str(ROOT / "patterns" / f"{style}.style"), "--sizes", chart]
                ten, one = (least(partial(printed, *run, *only), 3, of_children) for only in ([], ["--only", "92"]))
                yield Row(f"{command[0]} of the {style}: ten sizes / one", ten / one, 1.5, f"one: {one:.2f} s")


def memory() -> Iterator[Row]:
    """Peak memory of whole commands on many bodies, above that on one, for each body of a chunk."""
    from godet.jobs.outcome import CHUNK

    commands = (
        (("prove", HALF_BODICE, "--jobs", "1"), MANY),
        (("report", HALF_BODICE, "--format", "json"), MANY),
        (("build", HALF_BODICE), FEW),  # each is drawn, which takes long
    )
    for command, many in commands:
        one, peak = (float(printed("tests/bench/command_memory.py", str(count), *command)) for count in (1, many))
        base = f"a chunk of {CHUNK:,}; one body takes {one:.0f} MiB in all, {many:,} {peak:.0f}"
        yield Row(f"memory of `{command[0]}` on {many:,} bodies: MiB for a body of a chunk", (peak - one) / CHUNK, 0.16, base)


PARTS = (half_bodice, concert_top, check_and_report, populations, sizes, memory)


def _each(path: str, count: int, *how: str) -> float:
    """Milliseconds of a body of so many."""
    return float(printed("tests/bench/population.py", path, str(count), *how))


def _on_two(path: str, count: int) -> float:
    """Milliseconds of a body where two processes share them: of the one that takes longer."""
    command = [sys.executable, "tests/bench/population.py", path, str(count // 2), "written"]
    both = [subprocess.Popen(command, cwd=ROOT, env=ENVIRONMENT, stdout=subprocess.PIPE, text=True) for _ in range(2)]
    found = [one.communicate()[0] for one in both]
    return max(float(one) for one in found) / 2


@cache
def _by_hand_each() -> float:
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
    return 1000.0 * least(lambda: [by_hand.draft(body.measures) for body in women]) / len(women)
