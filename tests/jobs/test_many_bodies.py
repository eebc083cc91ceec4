"""A population: what each body costs does not grow with the number of the others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest
from godet.bodies.body import Body
from godet.bodies.lanes import Population
from godet.jobs.build import Plate, Wanted, build
from godet.jobs.files import Disk
from godet.jobs.keeping import Keeping
from godet.jobs.results import BodyResult
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


def test_a_body_is_drawn_when_the_files_of_the_one_before_are_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[str] = []

    def draw(made: Plate, keeping: Keeping) -> str:
        drawn.append(made.title.body)
        return f"<svg>{made.title.body}</svg>"

    class Watched(Disk):
        def write(self, contents: Iterable[tuple[str, bytes]]) -> None:
            for number, _ in enumerate(contents):
                assert len(drawn) == number // 3 + 1

    monkeypatch.setattr("godet.jobs.build.as_svg", draw)
    told: list[BodyResult] = []
    built = build(Watched(), prepared(PATTERNS / "gored_skirt.style", real_women(4, 5)), str(tmp_path), Wanted(), told.append)
    assert len(built.written) == 12
    assert len(drawn) == len(told) == 4
