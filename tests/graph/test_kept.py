"""After an edit only what changed is evaluated again, and all values are those of an evaluation from nothing, to the bit."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Sequence
from dataclasses import fields, replace
from functools import lru_cache
from random import Random
from typing import Any

import numpy as np
import pytest
from godet.bodies.lanes import Population
from godet.graph import evaluate as evaluating
from godet.graph.evaluate import Evaluated, Failure, evaluate, evaluate_again
from godet.graph.kept import Kept
from godet.graph.operations import OPERATIONS
from godet.graph.resting import needed
from godet.graph.solving import solved
from godet.meaning.identity import identities
from godet.meaning.payloads import Measure, Solve, marked
from godet.meaning.style import CheckedStyle, Node
from godet.verbs.kinds import LENGTH
from godet.verbs.values import Value, value_at
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from support.bits import same
from support.edited import compiled, edited_at_random, replaced, shuffled, text_of
from support.style_runs import invented

BODIES = [invented(name) for name in ("alto_3", "mezzo_2", "soprano_1")]


def of_body(found: Evaluated, style: CheckedStyle, lane: int) -> dict[int, Value] | Failure:
    """All that results of a style rest on, on one body; or why there is nothing."""
    part = found.of(lane)
    if part is None:
        return next(replace(one, lane=0) for one in found.failures if one.lane == lane)
    values, at = part[0].values, np.array([part[1]])
    return {index: value_at(values[index], at) for index in needed(style)}


def assert_same(style: CheckedStyle, one: Evaluated, other: Evaluated, lanes: Sequence[tuple[int, int]]) -> None:
    for first, second in lanes:
        left, right = of_body(one, style, first), of_body(other, style, second)
        if isinstance(left, Failure) or isinstance(right, Failure):
            assert left == right
            continue
        assert [index for index in left if not same(left[index], right[index])] == []


def assert_near(style: CheckedStyle, one: Evaluated, other: Evaluated, lanes: Sequence[tuple[int, int]]) -> None:
    """Numbers and points in other company: inner lines may come in other parts there, which ends in the last digits."""
    for first, second in lanes:
        left, right = of_body(one, style, first), of_body(other, style, second)
        if isinstance(left, Failure) or isinstance(right, Failure):
            assert left == right
            continue
        for index, value in left.items():
            if isinstance(value, np.ndarray):
                assert np.asarray(right[index]) == pytest.approx(value, abs=1e-6), told(style.nodes[index])


Count = Callable[[], int]


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> Count:
    """How many operations and solves were worked out since it was asked last."""
    count = 0

    def counting(run: Callable[..., Any]) -> Callable[..., Any]:
        def once(*args: Any) -> Any:
            nonlocal count
            count += 1
            return run(*args)

        return once

    monkeypatch.setattr(evaluating, "OPERATIONS", {op: counting(run) for op, run in OPERATIONS.items()})
    monkeypatch.setattr(evaluating, "solved", counting(solved))

    def asked() -> int:
        nonlocal count
        told, count = count, 0
        return told

    return asked


def again(text: str, kept: Kept, people: Population) -> tuple[CheckedStyle, Evaluated, Kept]:
    style = compiled(text)
    return style, *evaluate_again(style, people, kept)


LATE = ("    allow 3 cm on hem with_corners shaped_to_fold", "    allow 4 cm on hem with_corners shaped_to_fold")
MIDDLE = ("overarm = 22 cm", "overarm = 23 cm")
EARLY = ("bust_ease 8 cm", "bust_ease 9 cm")


@pytest.mark.parametrize(("edit", "share"), [(LATE, 0.1), (MIDDLE, 0.6), (EARLY, 1.0)])
def test_only_what_changed_is_evaluated(edit: tuple[str, str], share: float, counted: Count) -> None:
    text, people = text_of("concert_top"), Population.of(BODIES[:1])
    style, _, kept = again(text, Kept(), people)
    everything = counted()
    edited, found, later = again(replaced(text, *edit), kept, people)
    worked_out = counted()
    before, found_now = set(identities(style.nodes)), identities(edited.nodes)
    new = [index for index in needed(edited) if found_now[index] not in before]
    assert 0 < worked_out < share * everything
    if new and not any(isinstance(edited.nodes[index].payload, Solve) for index in new):  # a choice makes no new nodes
        assert worked_out <= len(new)
    assert_same(edited, found, evaluate(edited, people), [(0, 0)])
    counted()
    again(replaced(text, *edit), later, people)
    assert counted() == 0


def test_a_comment_or_another_order_evaluates_nothing(counted: Count) -> None:
    text, people = text_of("gored_skirt"), Population.of(BODIES)
    _, _, kept = again(text, Kept(), people)
    assert counted() > 0
    style, found, kept = again(shuffled(text, Random(3)), kept, people)
    assert counted() == 0
    assert_same(style, found, evaluate(style, people), [(0, 0), (1, 1), (2, 2)])


def test_of_a_body_measured_anew_only_what_rests_on_the_measurement_is_evaluated(counted: Count) -> None:
    text = text_of("pleated_skirt")
    style, _, kept = again(text, Kept(), Population.of(BODIES))
    everything = counted()
    body = BODIES[1]
    anew = replace(body, measures={**body.measures, "natural_waist_girth": body.measures["natural_waist_girth"] + 5.0})
    people = Population.of([BODIES[2], anew, BODIES[0]])
    found, _ = evaluate_again(style, people, kept)
    assert 0 < counted() < everything
    assert_same(style, found, evaluate(style, people), [(0, 0), (1, 1), (2, 2)])


def test_of_a_choice_set_anew_only_what_rests_on_it_is_evaluated(counted: Count) -> None:
    text, people = text_of("concert_top"), Population.of(BODIES)
    _, _, kept = again(text, Kept(), people)
    everything = counted()
    style = compiled(text, settings={"opening": (LENGTH, 160.0)})
    found, kept = evaluate_again(style, people, kept)
    assert 0 < counted() < 0.3 * everything
    assert_same(style, found, evaluate(style, people), [(0, 0), (1, 1), (2, 2)])
    counted()
    evaluate_again(style, people, kept)
    assert counted() == 0


def test_a_failure_is_not_kept_and_is_told_where_it_stands_now(counted: Count) -> None:
    text = text_of("pleated_skirt")
    body = replace(BODIES[1], measures={name: one for name, one in BODIES[1].measures.items() if name == "age"})
    people = Population.of([BODIES[0], body])
    _, first, kept = again(text, Kept(), people)
    counted()
    style, second, _ = again("# first\n\n" + shuffled(text, Random(1)), kept, people)
    assert len(first.failures) == len(second.failures) == 1
    assert counted() < 20
    assert isinstance(style.nodes[second.failures[0].node].payload, Measure)
    assert_same(style, second, evaluate(style, people), [(0, 0), (1, 1)])


@lru_cache(maxsize=8)
def at_first(name: str) -> Kept:
    return again(text_of(name), Kept(), Population.of(BODIES))[2]


@settings(max_examples=3, deadline=None, phases=[Phase.generate], suppress_health_check=[HealthCheck.too_slow])
@given(
    name=st.sampled_from(["concert_top", "gored_skirt", "plain_trousers", "pleated_skirt", "yoke_shirt"]),
    seed=st.integers(0, 2**32),
)
def test_kept_and_fresh_and_alone_and_together_are_one(name: str, seed: int) -> None:
    """Two edits, one after the other, of a width, a choice or a place anywhere in a style; in one company to the bit."""
    random, text, people, kept = Random(seed), text_of(name), Population.of(BODIES), at_first(name)
    lane = random.randrange(len(BODIES))
    alone, kept_alone = Population.of([BODIES[lane]]), Kept()
    for _ in range(2):
        text = edited_at_random(text, random)
        style, found, kept = again(text, kept, people)
        fresh, fresh_alone = evaluate(style, people), evaluate(style, alone)
        assert_same(style, found, fresh, [(number, number) for number in range(len(BODIES))])
        found_alone, kept_alone = evaluate_again(style, alone, kept_alone)
        assert_same(style, found_alone, fresh_alone, [(0, 0)])
        assert_near(style, fresh_alone, fresh, [(0, lane)])
        assert_near(style, evaluate_again(style, alone, kept)[0], fresh_alone, [(0, 0)])
        assert_near(style, evaluate_again(style, people, kept_alone)[0], fresh, [(0, 0), (1, 1), (2, 2)])


@pytest.mark.parametrize("name", ["concert_top", "yoke_shirt", "plain_trousers"])
def test_nodes_of_one_identity_have_one_value(name: str) -> None:
    style, people = compiled(text_of(name)), Population.of(BODIES[:2])
    found, known = evaluate(style, people), identities(style.nodes)
    first: dict[str, int] = {}
    values = of_body(found, style, 0)
    assert not isinstance(values, Failure)
    twice = 0
    for index, value in values.items():
        other = first.setdefault(known[index], index)
        twice += other != index
        assert same(value, values[other]), (told(style.nodes[index]), told(style.nodes[other]))
    assert twice > 100


@pytest.mark.parametrize("name", ["concert_top", "yoke_shirt"])
def test_nodes_of_one_identity_say_the_same(name: str) -> None:
    """Of one operation, told the same but for what messages alone read, and made from nodes that say the same."""
    style = compiled(text_of(name))
    first: dict[str, Node] = {}
    for node, known in zip(style.nodes, style.identities, strict=True):
        other = first.setdefault(known, node)
        left_out = {*marked(type(node.payload), "told"), *marked(type(node.payload), "reference")}
        for one in fields(node.payload):
            assert one.name in left_out or getattr(node.payload, one.name) == getattr(other.payload, one.name)
        assert {key: style.identities[at] for key, at in node.args.items()} == {
            key: style.identities[at] for key, at in other.args.items()
        }
    assert len(first) < len(style.nodes)


def test_a_checked_style_can_be_pickled() -> None:
    style, people = compiled(text_of("concert_top")), Population.of(BODIES[:1])
    again = pickle.loads(pickle.dumps(style))
    assert (again.nodes, again.origins, again.identities) == (style.nodes, style.origins, style.identities)
    assert_same(style, evaluate(again, people), evaluate(style, people), [(0, 0)])


def told(node: Node) -> str:
    return repr(node.payload)
