"""Counting many bodies: any parting and any order come to the same, and what tells a failure is what made it fail."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from godet.population.bins import BARS, WIDE, bars, binned, inside, quantile
from godet.population.moments import Moments, Sums, forward, products
from godet.population.tally import Answer, Bodies, Key, Number, Tally, tally
from godet.population.telling import RANGE_FROM, best_cut, examples, told
from hypothesis import given, settings
from hypothesis import strategies as st

CHECK, ERROR = ("check", "room"), ("told", "E301")
CM = 10_000  # thousandths of a mm


def part_of(rows: Sequence[tuple[int, int, int]]) -> Tally:
    """Bodies of three measurements, of which a check asks that the first is 20 cm more than the second; they are not drawn where
    the third is below 10 cm."""
    measures = np.array(rows, dtype=np.int64).reshape(-1, 3)
    drawn = measures[:, 2] >= 10 * CM
    room = measures[:, 0] - measures[:, 1] - 20 * CM
    passed = np.stack([drawn, drawn, drawn & (room >= 0), drawn], axis=1)
    names = [f"{a} {b} {c}" for a, b, c in rows]
    bodies = Bodies(names, [name.encode() for name in names], measures, np.ones_like(measures, dtype=bool), passed)
    number = Number(np.where(drawn, room, 0), drawn, np.zeros_like(room), None)
    answers: dict[Key, Answer] = {CHECK: Answer(2, drawn & (room < 0), (0, 1, 2), number)}
    if not drawn.all():
        answers[ERROR] = Answer(0, ~drawn, (0, 1, 2), told="too small")
    return tally(bodies, answers, Counter({("third", "a guess"): len(rows)}))


def said(found: Tally) -> list[object]:
    """All that is told of a tally."""
    rows: list[object] = [found.count, found.in_order, found.alone, sorted(found.estimated.items()), found.some]
    for key in sorted(found.asked, key=repr):
        one = found.asked[key]
        telling = told(found, key)
        rows += [key, one.failed, telling, examples(one, telling), one.room, sorted(one.bins.items()), one.told, one.some]
    return rows


length = st.integers(8 * CM, 120 * CM)
people = st.lists(st.tuples(length, length, st.integers(9 * CM, 60 * CM)), min_size=1, max_size=40)


@settings(max_examples=60, deadline=None)
@given(rows=people, data=st.data())
def test_any_parting_and_any_order_come_to_the_same(rows: list[tuple[int, int, int]], data: st.DataObject) -> None:
    mixed = data.draw(st.permutations(rows))
    cuts = sorted(data.draw(st.sets(st.integers(1, len(rows)), max_size=4)) | {0, len(rows)})
    parts = [part_of(mixed[a:b]) for a, b in pairwise(cuts)]
    found = Tally()
    for one in parts:
        found = found + one
    assert said(found) == said(part_of(rows))


def some(count: int, seed: int = 1) -> list[tuple[int, int, int]]:
    numbers = np.random.default_rng(seed).normal((95, 72, 35), (8, 8, 4), (count, 3))
    return [(int(a), int(b), max(int(c), 10 * CM)) for a, b, c in (numbers * CM).tolist()]


def test_the_two_measurements_behind_a_margin_tell_it_and_its_line_parts_who_fails() -> None:
    found = part_of(some(300))
    asked, telling = found.asked[CHECK], told(found, CHECK)
    assert set(telling.measures) == {0, 1}
    assert telling.share > 0.999999
    constant, *slopes = telling.line
    for one in found.some:
        value = constant + sum(slope * (one.measures[at] or 0) for slope, at in zip(slopes, telling.measures, strict=True))
        assert (value < 0) == (CHECK in one.failing)
    nearest, middle, farthest = (one.room or 0 for _, one in examples(asked, telling))
    assert 0 > nearest > middle > farthest == asked.room.least
    assert sum(one < middle for one in (each.room or 0 for each in asked.some)) in range(asked.failed // 3, asked.failed)


def test_a_range_tells_how_many_pass_inside() -> None:
    rows = some(300)
    found = part_of(rows)
    failing = [a for a, b, _ in rows if a - b < 20 * CM]
    ranges = {one.measure: one for one in told(found, CHECK).ranges}
    assert (ranges[0].low, ranges[0].high) == (min(failing), max(failing))
    inside_it = [a for a, b, _ in rows if min(failing) <= a <= max(failing) and a - b >= 20 * CM]
    assert abs(ranges[0].others - len(inside_it)) <= 2  # those within half a mm of its ends count as inside


def test_an_error_is_told_by_the_cut_that_parts_best() -> None:
    rows = [*some(100), *((a, b, 10 * CM - 1 - k) for k, (a, b, _) in enumerate(some(RANGE_FROM, 2)))]
    found = told(part_of(rows), ERROR)
    assert (found.by, found.measures, found.share) == ("cut", (2,), 1.0)
    assert found.ranges[0].others == 0


def test_fewer_than_eight_failures_have_no_range() -> None:
    rows = [*some(100), *((a, b, 9 * CM) for a, b, _ in some(RANGE_FROM - 1, 2))]
    assert told(part_of(rows), ERROR).measures == ()
    tight = [(95 * CM + k, 75 * CM, 30 * CM) for k in range(50)]
    tight += [(90 * CM - k, 75 * CM, 30 * CM) for k in range(RANGE_FROM - 1)]
    assert told(part_of(tight), CHECK).tells
    assert told(part_of(tight), CHECK).ranges == ()
    assert told(part_of([*tight, (80 * CM, 75 * CM, 30 * CM)]), CHECK).ranges


def test_noise_is_told_by_nothing() -> None:
    rng = np.random.default_rng(3)
    columns = rng.integers(0, CM, (500, 4))
    found = Moments.of(rng.integers(0, CM, 500), columns, np.ones_like(columns, dtype=bool))
    assert forward(found)[-1][1] < 0.1


@given(st.lists(st.integers(-(10**7), 10**7), min_size=2, max_size=30))
def test_explained_variance_is_that_of_least_squares(values: list[int]) -> None:
    value = np.array(values, dtype=np.int64)
    rng = np.random.default_rng(len(values))
    columns = np.stack([value // 3 + rng.integers(-5000, 5000, value.size), rng.integers(0, 9000, value.size)], axis=1)
    found = Moments.of(value, columns, np.ones_like(columns, dtype=bool))
    if np.ptp(value) and value.size > 3 and np.linalg.matrix_rank(columns - columns.mean(axis=0)) == 2:
        full = np.column_stack([np.ones(value.size), columns])
        rest = value - full @ np.linalg.lstsq(full, value.astype(float), rcond=None)[0]
        assert np.isclose(found.explained(0, 1), 1 - (rest @ rest) / ((value - value.mean()) @ (value - value.mean())), atol=1e-6)


def test_products_beyond_64_bits_are_exact() -> None:
    huge = np.full((3, 1), 2**40, dtype=np.int64)
    assert products(huge, huge)[0, 0] == 3 * 2**80
    assert Sums.of(huge[:, 0]).sd == 0.0


@given(st.lists(st.integers(-(10**6), 10**6), min_size=1, max_size=50))
def test_every_value_is_in_a_bar_or_told_to_be_beyond(values: list[int]) -> None:
    numbers = np.array(values, dtype=np.int64)
    bins = binned(numbers)
    p1, p99 = quantile(bins, 0.01), quantile(bins, 0.99)
    found = bars(bins, min(p1, -5000), max(p99, 5000))
    assert len(found.counts) == BARS
    assert sum(found.counts) + found.below + found.above == len(values)
    ends = found.low, found.low + BARS * found.width
    assert found.below == sum(one < ends[0] for one in values)
    assert found.above == sum(one >= ends[1] for one in values)
    assert (-found.low - found.width // 2) % found.width == 0  # 0 stands in the middle of a bar
    assert inside(bins, min(values), max(values)) == len(values)
    assert abs(p99 - np.sort(numbers)[int(np.ceil(0.99 * len(values))) - 1]) <= WIDE // 2


def test_the_best_cut_of_mixed_values_is_that_of_a_search() -> None:
    rng = np.random.default_rng(5)
    values, failed = rng.integers(0, 20, 60).astype(float), rng.random(60) < 0.3
    tried = [((values <= at)[failed].mean() + (values > at)[~failed].mean()) / 2 for at in range(-1, 20)]
    assert np.isclose(best_cut(values, failed), max(*tried, *(1 - one for one in tried)))
