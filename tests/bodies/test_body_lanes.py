"""Many bodies side by side give what each gives alone."""

from dataclasses import replace

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.bodies.estimates import estimate
from godet.bodies.lanes import Population
from godet.bodies.vocabulary import vocabulary
from hypothesis import given, settings
from hypothesis import strategies as st
from support.real_bodies import real_women

WOMEN = real_women(12, seed=5)


def thinned(body: Body, kept: set[str], sex: str | None, age: float | None) -> Body:
    measures = {name: value for name, value in body.measures.items() if name in kept}
    if age is not None:
        measures["age"] = age
    return replace(body, measures=measures, sex="F" if sex == "F" else "M" if sex == "M" else None)


@st.composite
def mixed_bodies(draw: st.DrawFn) -> list[Body]:
    names = sorted(WOMEN[0].measures)
    kept = st.sets(st.sampled_from(names), max_size=12)
    four = {"stature", "bust_girth", "natural_waist_girth", "hip_girth"}
    bodies = []
    for woman in WOMEN[: draw(st.integers(1, 6))]:
        keep = draw(kept) | (four if draw(st.booleans()) else set())
        bodies.append(
            thinned(woman, keep, draw(st.sampled_from(["F", "M", None])), draw(st.sampled_from([None, 9, 40])))
        )
    return bodies


@given(mixed_bodies())
@settings(max_examples=30, deadline=None)
def test_lanes_agree_with_each_body_alone(bodies: list[Body]) -> None:
    population = Population.of(bodies)
    alone = [estimate(body) for body in bodies]
    for name in population.names:
        values, measured, estimated = population.value(name)
        assert values.shape == measured.shape == estimated.shape == (len(bodies),)
        for lane, body in enumerate(bodies):
            exact = name in alone[lane] and alone[lane][name].exact
            assert measured[lane] == (name in body.measures or exact)
            assert estimated[lane] == (name in alone[lane] and not exact)
            if name in body.measures:
                assert values[lane] == body.measures[name]
            elif name in alone[lane]:
                assert values[lane] == pytest.approx(alone[lane][name].value, abs=1e-9)
            else:
                assert np.isnan(values[lane])


def test_what_follows_exactly_counts_as_measured() -> None:
    """So that `waist_to_hip_height otherwise …` takes the difference of the heights before any rule of thumb."""
    heights = {"natural_waist_height", "hip_height", "side_neck_height", "shoulder_height", "shoulder_length"}
    woman, other = thinned(WOMEN[0], heights, "F", None), thinned(WOMEN[1], {"natural_waist_height"}, "F", None)
    for name in ("waist_to_hip_height", "shoulder_slope"):
        _, measured, estimated = Population.of([woman, other]).value(name)
        assert measured.tolist() == [True, False]
        assert not estimated[0]
    values, *_ = Population.of([woman]).value("waist_to_hip_height")
    assert values[0] == woman.measures["natural_waist_height"] - woman.measures["hip_height"]


def test_a_batch_gives_the_same_bits_as_one_by_one() -> None:
    batch = Population.of(WOMEN)
    for name in ("top_hip_girth", "waist_to_top_hip", "shoulder_slope", "mid_thigh_girth"):
        singles = [Population.of([woman]).value(name)[0][0] for woman in WOMEN]
        np.testing.assert_array_equal(batch.value(name)[0], singles)


def test_names_and_lanes() -> None:
    population = Population.of(WOMEN)
    assert population.names == tuple(vocabulary())
    assert population.lane_names == tuple(woman.name for woman in WOMEN)


def test_a_caller_cannot_spoil_the_values() -> None:
    population = Population.of(WOMEN)
    population.value("bust_girth")[0][:] = 0
    assert population.value("bust_girth")[0][0] == WOMEN[0].measures["bust_girth"]


def test_a_word_outside_the_vocabulary_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(KeyError):
        Population.of(WOMEN).value("bust")


def test_history_of_a_lane() -> None:
    population = Population.of([thinned(WOMEN[0], {"stature", "bust_girth"}, "F", None), WOMEN[1]])
    assert population.history("scye_depth", 0).startswith("estimated ")
    assert population.history("scye_depth", 1).startswith("measured: ")


def test_no_bodies_are_no_lanes() -> None:
    values, measured, estimated = Population.of([]).value("scye_depth")
    assert values.shape == measured.shape == estimated.shape == (0,)
