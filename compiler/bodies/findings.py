"""What is unlikely about an adult's numbers: each beyond its range, two out of proportion, or far from what the rest tells."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from ..diagnostics.suggest import either
from .contradictions import WearerGroup, contradictions
from .estimates import Rule, rules
from .tables import read_table
from .units import Unit, plain, shown
from .vocabulary import Sex, vocabulary

Measures = Mapping[str, float]
Test = Literal["range", "proportion", "contradiction", "estimate"]

# How far beyond the surveys' extremes a proportion may lie. With 3 % no body of the surveys is flagged.
_MARGIN = 0.03
# Customers have more girth than service members: a proportion that grows with girth gets this much more.
_GIRTH_GROWTH = 1.3
# A thicker waist changes its proportion to bust and hip less than a whole body grows.
_WAIST_GROWTH = 1.12
# Distance from an estimate that is questioned, in standard deviations; more where a predictor lies outside the surveys.
_FAR, _FAR_OUTSIDE = 4.0, 6.0


@dataclass(frozen=True, slots=True)
class Limit:
    """A proportion of two measures: first / second, or first - times x second (mm), between widened extremes."""

    is_ratio: bool
    first: str
    second: str
    times: float
    least: float
    greatest: float

    def of(self, measures: Measures) -> float | None:
        if self.first not in measures or self.second not in measures:
            return None
        one, two = measures[self.first], measures[self.second]
        return one / two if self.is_ratio else one - self.times * two


@dataclass(frozen=True, slots=True)
class Finding:
    """One test that failed: the measures it rests on (the tested one first) and the words for it."""

    test: Test
    names: tuple[str, ...]
    fact: str

    @property
    def key(self) -> tuple[str, tuple[str, ...]]:
        return self.test, self.names


@lru_cache(maxsize=2)
def limits(sex: Sex) -> tuple[Limit, ...]:
    """The proportions of `limits.csv` for one sex, widened as `DATA.md` says."""
    return tuple(_limit(row) for row in read_table("limits.csv") if row["sex"] == sex)


def _limit(row: Mapping[str, str]) -> Limit:
    is_ratio = row["kind"] == "ratio"
    first, (times, second) = row["first"], _factor(row["second"])
    least, greatest = float(row["least"]), float(row["greatest"])
    down, up = _growth(first, second, is_ratio)
    if is_ratio:
        return Limit(True, first, second, 1.0, least * (1 - _MARGIN) / down, greatest * (1 + _MARGIN) * up)
    room = _MARGIN * (greatest - least)
    return Limit(False, first, second, times, least - room, greatest * up + room)


def _factor(text: str) -> tuple[float, str]:
    """`2 body_rise_height` is twice that measure."""
    number, _, name = text.rpartition(" ")
    return (float(number) if number else 1.0), name


def _growth(first: str, second: str, is_ratio: bool) -> tuple[float, float]:
    """Factors down and up by which girth may carry a proportion beyond the surveys."""
    girths = first.endswith("_girth"), second.endswith("_girth")
    if girths == (True, True):
        waist = "waist" in first or "navel" in first
        return 1.0, (_GIRTH_GROWTH if not is_ratio else _WAIST_GROWTH if waist else 1.0)
    if not is_ratio or girths == (False, False):
        return 1.0, 1.0
    return (1.0, _GIRTH_GROWTH) if girths[0] else (_GIRTH_GROWTH, 1.0)


def findings(measures: Measures, sex: Sex, unit: Unit) -> tuple[Finding, ...]:
    """Every test that an adult's measures fail. `unit` is that of the words only.

    A man's `chest_girth` is what the surveys call his bust girth: every test of one holds for the other.
    """
    if sex == "M" and "chest_girth" in measures and "bust_girth" not in measures:
        renamed = {"bust_girth" if name == "chest_girth" else name: value for name, value in measures.items()}
        return tuple(_chest(one) for one in findings(renamed, sex, unit))
    tests = (_ranges, _proportions, _distances)
    return (*(one for test in tests for one in test(measures, sex, unit)), *contradicting(measures, sex, unit))


def _chest(one: Finding) -> Finding:
    names = tuple("chest_girth" if name == "bust_girth" else name for name in one.names)
    return Finding(one.test, names, one.fact.replace("`bust_girth`", "`chest_girth`"))


def contradicting(measures: Measures, people: WearerGroup, unit: Unit) -> Iterator[Finding]:
    """The contradictions among measures, as findings."""
    for one in contradictions(measures, people, unit):
        yield Finding("contradiction", one.names, one.fact)


def _ranges(measures: Measures, sex: Sex, unit: Unit) -> Iterator[Finding]:
    for name, value in measures.items():
        measure = vocabulary()[name]
        ends = measure.plausible(sex)
        if ends is not None and not ends[0] <= value <= ends[1]:
            low, high = (shown(end, measure.kind, unit) for end in ends)
            yield Finding("range", (name,), f"plausible is {low} to {high}")


def _proportions(measures: Measures, sex: Sex, unit: Unit) -> Iterator[Finding]:
    for limit in limits(sex):
        value = limit.of(measures)
        if value is None or limit.least <= value <= limit.greatest:
            continue
        if limit.is_ratio:
            what = f"`{limit.first}` / `{limit.second}`"
            now, low, high = (plain(each, 2) for each in (value, limit.least, limit.greatest))
        else:
            times = "" if limit.times == 1 else f"{plain(limit.times, 0)} x "
            what = f"`{limit.first}` less {times}`{limit.second}`"
            now, low, high = (shown(each, "length", unit) for each in (value, limit.least, limit.greatest))
        yield Finding("proportion", (limit.first, limit.second), f"{what} is {now}, plausible is {low} to {high}")


def _distances(measures: Measures, sex: Sex, unit: Unit) -> Iterator[Finding]:
    for name, value in measures.items():
        rule = _best_fit(name, measures, sex)
        if rule is None or not rule.sd:
            continue
        told = rule.linear([measures[each] for each in rule.predictors])
        far = abs(value - told) / rule.sd
        if far > (_FAR_OUTSIDE if _is_outside(rule, measures, sex) else _FAR):
            kind = vocabulary()[name].kind
            by = f"{shown(told, kind, unit)} with a SD of {shown(rule.sd, kind, unit)}"
            fact = f"{either(rule.predictors, 'and')} tell {by}: {plain(far, 0)} SD away"
            yield Finding("estimate", (name, *rule.predictors), fact)


def _best_fit(name: str, measures: Measures, sex: Sex) -> Rule | None:
    for rule in rules().get((sex, name), ()):
        if rule.kind == "fitted" and all(each in measures for each in rule.predictors):
            return rule
    return None


def _is_outside(rule: Rule, measures: Measures, sex: Sex) -> bool:
    """Whether a predictor lies outside the surveys, so that the straight line is carried further than it was tested."""
    for name in rule.predictors:
        measure = vocabulary()[name]
        seen = measure.seen_women if sex == "F" else measure.seen_men
        if seen is None or not seen[0] <= measures[name] <= seen[1]:
            return True
    return False
