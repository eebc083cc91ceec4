"""Looking over a body before cloth is cut: which measurement is probably wrong, and what it may have been meant to be.

Three tests, since each catches other slips: the plausible range of each measurement, the proportions between two of
them, and the distance from what the others tell, in standard deviations. Then the findings are put down to as few
causes as will explain them. Warnings only: real bodies of every shape must pass.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

from ..diagnostics import body_words as words
from ..diagnostics.diagnostic import Diagnostic, Label
from .body import Body
from .estimates import Rule, rules
from .slips import EXCHANGES, slips
from .tables import read_table
from .units import MM_PER, Unit, plain, shown
from .vocabulary import Sex, vocabulary

Measures = Mapping[str, float]
Test = Literal["range", "proportion", "estimate"]
# Measures to change, their changed values, and the words for the slip.
_Candidate = tuple[tuple[str, ...], Measures, str]

# How far beyond the surveys' extremes a proportion may lie. With 3 % no body of the surveys is flagged.
_MARGIN = 0.03
# Customers have more girth than service members: a proportion that grows with girth gets this much more.
_GIRTH_GROWTH = 1.3
# A thicker waist changes its proportion to bust and hip less than a whole body grows.
_WAIST_GROWTH = 1.12
# Distance from an estimate that is questioned, in standard deviations; more where a predictor lies outside the surveys.
_FAR, _FAR_OUTSIDE = 4.0, 6.0
# So many measurements out of range together, and more than half of all, are one mistake of unit.
_UNIT_SUSPECT = 3
# Facts shown with one warning; more would bury it.
_FACTS = 2


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
    """Every test that an adult's measures fail. `unit` is that of the words only."""
    return (*_ranges(measures, sex, unit), *_proportions(measures, sex, unit), *_distances(measures, sex, unit))


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
            fact = f"{_listed(rule.predictors)} tell {by}: {plain(far, 0)} SD away"
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


def _listed(names: tuple[str, ...]) -> str:
    quoted = [f"`{name}`" for name in names]
    return quoted[0] if len(quoted) == 1 else ", ".join(quoted[:-1]) + " and " + quoted[-1]


@lru_cache(maxsize=1)
def _children() -> Mapping[tuple[str, str], tuple[tuple[float, float, float, float], ...]]:
    """(sex, measure) -> (from age, below age, least, greatest) of the 1977 survey."""
    found: dict[tuple[str, str], list[tuple[float, float, float, float]]] = {}
    for row in read_table("children.csv"):
        band = float(row["age_from"]), float(row["age_to"]) + 1, float(row["least"]), float(row["greatest"])
        found.setdefault((row["sex"], row["name"]), []).append(band)
    return MappingProxyType({key: tuple(bands) for key, bands in found.items()})


def child_findings(measures: Measures, sex: Sex, unit: Unit) -> tuple[Finding, ...]:
    """Ranges of a child's stature, waist and foot at its age, or none where the survey has no such age."""
    found = []
    for name, value in measures.items():
        for start, end, least, greatest in _children().get((sex, name), ()):
            low, high = least * (1 - _MARGIN), greatest * (1 + _MARGIN)
            if start <= measures["age"] < end and not low <= value <= high:
                text = f"plausible at this age is {shown(low, 'length', unit)} to {shown(high, 'length', unit)}"
                found.append(Finding("range", (name,), text))
    return tuple(found)


def review(body: Body) -> tuple[Diagnostic, ...]:
    """Warnings on the measurements of one body, one for each probable cause; none if all is plausible."""
    return _Review(body).run()


@dataclass(frozen=True, slots=True)
class _Repair:
    """Changed values that would let findings vanish, and what slip that would have been."""

    names: tuple[str, ...]
    changes: Measures
    words: str
    left: tuple[Finding, ...]


class _Review:
    """One look over one body: findings, then causes until none is left."""

    def __init__(self, body: Body) -> None:
        self.body = body
        self.warnings: list[Diagnostic] = []

    def run(self) -> tuple[Diagnostic, ...]:
        measures = dict(self.body.measures)
        found = self._findings(measures)
        if found and self._is_unit_wrong(measures, found):
            return tuple(self.warnings)
        while found:
            repair = self._best_repair(measures, found)
            if repair is None:
                found = self._unexplained(found)
                continue
            gone = tuple(each for each in found if each not in repair.left)
            self._say(repair, gone)
            measures.update(repair.changes)
            found = repair.left
        return tuple(self.warnings)

    def _findings(self, measures: Measures) -> tuple[Finding, ...]:
        test = child_findings if self.body.is_child else findings
        return test(measures, self.body.survey_sex, self.body.unit)

    def _is_unit_wrong(self, measures: Measures, found: tuple[Finding, ...]) -> bool:
        """Whether another unit for the whole file explains nearly everything; then says so."""
        lengths = [name for name in measures if vocabulary()[name].kind == "length"]
        wrong = [each for each in found if each.test == "range" and each.names[0] in lengths]
        if len(wrong) < _UNIT_SUSPECT or 2 * len(wrong) <= len(lengths):
            return False
        for other, size in MM_PER.items():
            changed = {name: measures[name] * size / MM_PER[self.body.unit] for name in lengths}
            left = [each for each in self._findings({**measures, **changed}) if each.test == "range"]
            if other != self.body.unit and 4 * len(left) < len(wrong):
                span = self.body.spans.get("unit")
                self.warnings.append(words.unit_of_all(self.body.name, span, self.body.unit, other, len(wrong)))
                return True
        return False

    def _best_repair(self, measures: Measures, found: tuple[Finding, ...]) -> _Repair | None:
        """The change that clears most findings, all of those of the measures it touches, and makes no new one."""
        best: _Repair | None = None
        old = {each.key for each in found}
        for names, changes, text in self._candidates(measures, found):
            left = self._findings({**measures, **changes})
            if any(each.key not in old or set(names) & set(each.names) for each in left):
                continue
            kept = tuple(each for each in found if each.key in {other.key for other in left})
            if len(names) > 1 and _is_thin(set(found) - set(kept)):
                continue
            if len(kept) < len(found if best is None else best.left):
                best = _Repair(names, changes, text, kept)
        return best

    def _candidates(self, measures: Measures, found: tuple[Finding, ...]) -> Iterator[_Candidate]:
        """Slips worth trying: exchanged pairs first, then each suspected measure, the most suspected first."""
        suspects = _suspects(found)
        for one, two in EXCHANGES:
            if one in measures and two in measures and (one in suspects or two in suspects):
                yield (one, two), {one: measures[two], two: measures[one]}, ""
        for name in suspects:
            measure = vocabulary()[name]
            if measure.kind == "length":
                for slip in slips(measures[name], self.body.unit, measure.is_girth):
                    if slip.value > 0:
                        fits = f"{shown(slip.value, 'length', self.body.unit)} would fit: {slip.words}"
                        yield (name,), {name: slip.value}, fits

    def _unexplained(self, found: tuple[Finding, ...]) -> tuple[Finding, ...]:
        """One warning on the measure that most findings point at; returns those that do not involve it."""
        name = _suspects(found)[0]
        self._say_one(name, tuple(each for each in found if name in each.names), "")
        return tuple(each for each in found if name not in each.names)

    def _say(self, repair: _Repair, gone: tuple[Finding, ...]) -> None:
        if len(repair.names) == 1:
            self._say_one(repair.names[0], gone, repair.words)
            return
        first, second = repair.names
        values = (self._shown(first), self._shown(second))
        span, other = self.body.spans.get(first), self.body.spans.get(second)
        label = Label(other, "this one with it") if other else None
        facts = [each.fact for each in gone[:_FACTS]]
        self.warnings.append(words.exchanged(self.body.name, span, first, second, values, facts, label))

    def _say_one(self, name: str, found: tuple[Finding, ...], would_fit: str) -> None:
        tests = {each.test for each in found}
        facts = [each.fact for each in sorted(found, key=lambda each: each.names[0] != name)][:_FACTS]
        span, value, body = self.body.spans.get(name), self._shown(name), self.body.name
        if "range" in tests:
            self.warnings.append(words.out_of_range(body, span, name, value, facts, would_fit))
        elif "proportion" in tests:
            others = {other for each in found if each.test == "proportion" for other in each.names if other != name}
            spans = [(other, self.body.spans.get(other)) for other in sorted(others)][:_FACTS]
            labels = tuple(Label(place, "beside this") for _, place in spans if place)
            self.warnings.append(words.out_of_proportion(body, span, name, value, facts, would_fit, labels))
        else:
            self.warnings.append(words.far_from_estimate(body, span, name, value, facts, would_fit))

    def _shown(self, name: str) -> str:
        return shown(self.body.measures[name], vocabulary()[name].kind, self.body.unit)


def _is_thin(found: set[Finding]) -> bool:
    """Whether a single distance from an estimate is all there is: too little to call two measures exchanged."""
    return len(found) == 1 and all(each.test == "estimate" for each in found)


# What one finding says against the measure tested, and against the others it rests on.
_WEIGHT: Mapping[Test, tuple[float, float]] = MappingProxyType(
    {"range": (3.0, 0.0), "proportion": (1.0, 1.0), "estimate": (1.0, 0.5)}
)


def _suspects(found: tuple[Finding, ...]) -> tuple[str, ...]:
    """The measures that findings rest on, the most suspected first; order of finding breaks ties."""
    weights: dict[str, float] = {}
    for each in found:
        own, rest = _WEIGHT[each.test]
        for at, name in enumerate(each.names):
            weights[name] = weights.get(name, 0.0) + (rest if at else own)
    return tuple(sorted(weights, key=lambda name: -weights[name]))
