"""A population: what each body costs does not grow with the number of the others."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from godet.bodies.body import Body
from godet.bodies.lanes import Population
from support.real_bodies import real_women
from support.style_runs import PATTERNS, prepared, results


@pytest.mark.parametrize("count", [1, 12])
def test_bodies_are_laid_side_by_side_once(count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[int] = []
    laid = Population.of

    def counted(bodies: Sequence[Body]) -> Population:
        made.append(len(bodies))
        return laid(bodies)

    monkeypatch.setattr(Population, "of", counted)
    assert len(results(PATTERNS / "concert_top.style", real_women(count, 5))) == count
    assert made == [count]


def test_asking_for_prepared_bodies_twice_gives_the_same_lanes() -> None:
    ready = prepared(PATTERNS / "concert_top.style", real_women(3, 5))
    assert ready.population is ready.population
