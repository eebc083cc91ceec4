"""Many bodies: what each comes to does not depend on the chunk it is in, and chunks wait until they are asked for."""

from __future__ import annotations

import gc
import weakref
from dataclasses import replace
from functools import lru_cache

import pytest
from godet.bodies.body import Body
from godet.graph import evaluate
from godet.graph.evaluate import Evaluated
from godet.jobs import outcome
from godet.jobs.outcome import results_of
from godet.jobs.prepare import Prepared
from godet.jobs.results import BodyResult
from support.real_bodies import real_women
from support.style_runs import PATTERNS, ROOT, prepared

STYLES = (PATTERNS / "gored_skirt.style", ROOT / "tests" / "real" / "bodices.style")


def people() -> tuple[Body, ...]:
    """Women, one of whom, the fifth, was not measured."""
    women = real_women(11, 41)
    women[4] = replace(women[4], measures={"age": 40.0})
    return tuple(women)


@lru_cache(maxsize=2)
def ready(number: int) -> Prepared:
    return prepared(STYLES[number], people())


def come_to(number: int, chunk: int) -> list[BodyResult]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(outcome, "CHUNK", chunk)
        return list(results_of(ready(number)))


@lru_cache(maxsize=2)
def together(number: int) -> list[BodyResult]:
    return come_to(number, 1000)


def numbers(one: BodyResult) -> dict[str, float]:
    edges = {f"{piece.name}.{edge.name}": edge.length_mm for piece in one.pieces for edge in piece.edges}
    return edges | {seam.name: seam.left_mm for seam in one.seams}


@pytest.mark.parametrize(("number", "chunk"), [(0, 1), (0, 4), (0, 10), (1, 3)])
def test_chunks_change_no_number(number: int, chunk: int) -> None:
    found = come_to(number, chunk)
    assert [one.name for one in found] == [body.name for body in people()]
    for one, other in zip(found, together(number), strict=True):
        assert [error.message for error in one.errors] == [error.message for error in other.errors]
        assert numbers(one) == pytest.approx(numbers(other), abs=1e-9)


@pytest.mark.parametrize("number", [0, 1])
def test_one_of_them_cannot_be_drawn_and_the_others_can(number: int) -> None:
    assert [bool(one.errors) for one in together(number)] == [k == 4 for k in range(11)]


def test_whoever_holds_the_last_body_of_a_chunk_does_not_hold_the_chunk(monkeypatch: pytest.MonkeyPatch) -> None:
    """So the next chunk is begun when the one before is gone: memory is that of one chunk."""
    monkeypatch.setattr(outcome, "CHUNK", 4)
    results = results_of(replace(ready(0), bodies=ready(0).bodies[5:]))
    kept = [weakref.ref(next(results).pieces[0].cloth) for _ in range(3)]
    last = next(results)
    gc.collect()
    assert [one() for one in kept] == [None, None, None]
    assert {len(one.cloth.cut) for one in last.pieces} == {1}
    assert numbers(last) == pytest.approx(numbers(together(0)[8]), abs=1e-9)


def test_a_chunk_is_begun_when_it_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[int] = []
    true = evaluate._Evaluation.all

    def counted(run: evaluate._Evaluation) -> Evaluated:
        begun.append(run.bodies.size)
        return true(run)

    monkeypatch.setattr(outcome, "CHUNK", 4)
    monkeypatch.setattr(evaluate._Evaluation, "all", counted)
    for taken, _ in enumerate(results_of(replace(ready(0), bodies=tuple(real_women(11, 41))))):
        assert len(begun) == taken // 4 + 1
    assert begun == [4, 4, 3]
