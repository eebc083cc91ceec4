"""What solves cost: a style evaluated on bodies, against the same with every unknown told beforehand.

A solve evaluates what rests on its unknown at both bounds, at four values between them where these bracket no answer, and then
once for each step of false position: some five to ten in all. One inside another does so at every trial of that one.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from unittest.mock import patch

import numpy as np
from godet.bodies.lanes import Population
from godet.graph import evaluate as evaluation
from godet.graph.solving import solved
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from godet.meaning.payloads import Solve
from godet.meaning.style import CheckedStyle
from godet.pattern.piece import Reals
from support.real_bodies import all_women


@dataclass(frozen=True)
class Cost:
    """`ratio` of processor time with solves to that without, and how many `trials` a solve took in the mean."""

    ratio: float
    trials: float


def cost(path: str, count: int, runs: int = 3) -> Cost:
    style = prepare(Disk(), path).style
    assert style is not None
    drawn = [lane for part in evaluation.evaluate(style, Population.of(all_women()[:count])).parts for lane in part.lanes]
    people = Population.of([all_women()[lane] for lane in sorted(drawn)])
    answers = _answers(style, people)

    def told(run: evaluation._Evaluation, index: int, lanes: evaluation.Lanes, values: evaluation.Values) -> Reals:
        return answers[index][run.bodies[lanes]]

    spent: tuple[list[float], list[float]] = ([], [])
    for _ in range(runs):  # in turn, so that what else the machine does falls on both
        spent[0].append(_timed(lambda: evaluation.evaluate(style, people)))
        with patch.object(evaluation._Evaluation, "_solved", told):
            spent[1].append(_timed(lambda: evaluation.evaluate(style, people)))
    return Cost(median(one / other for one, other in zip(*spent, strict=True)), _trials(style, people))


def _answers(style: CheckedStyle, people: Population) -> dict[int, Reals]:
    """What each solve of a style comes to on each body."""
    found = {index: np.zeros(len(people.lane_names)) for index, node in enumerate(style.nodes) if isinstance(node.payload, Solve)}
    for part in evaluation.evaluate(style, people).parts:
        for index, answer in found.items():
            answer[part.lanes] = np.asarray(part.values.get(index, 0.0), dtype=np.float64)
    return found


def _trials(style: CheckedStyle, people: Population) -> float:
    """How often a solve evaluates what rests on its unknown, in the mean."""
    counts: list[int] = []

    def counted(
        surplus: Callable[[Reals], Reals], low: Reals, high: Reals, within: Reals, name: str, kept: bool, share: float
    ) -> Reals:
        number = len(counts)
        counts.append(0)

        def once(trial: Reals) -> Reals:
            counts[number] += 1
            return surplus(trial)

        return solved(once, low, high, within, name, kept, share)

    with patch.object(evaluation, "solved", counted):
        evaluation.evaluate(style, people)
    return sum(counts) / max(len(counts), 1)


def _timed(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start
