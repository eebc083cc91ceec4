"""Looking over a body before cloth is cut: which measurement is probably wrong, and what it may have been meant to be.

Four tests, since each catches other slips: the plausible range of each measurement, the proportions between two of
them, the distance from what the others tell, in standard deviations, and ways over the same stretch that contradict each other.
A child is held against children. Then the findings are put down to as few causes as will explain them. Warnings only: real
bodies of every shape must pass.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ..diagnostics import body_words as words
from ..diagnostics.diagnostic import Diagnostic, Label
from .body import Body
from .children import TEENS_TO_AGE, child_findings, strain, without_figures
from .findings import Finding, Measures, Test, contradicting, findings
from .slips import EXCHANGES, slips
from .units import MM_PER, shown
from .vocabulary import vocabulary

# Measures to change, their changed values, and the words for the slip.
_Candidate = tuple[tuple[str, ...], Measures, str]

# So many measurements out of range together, and more than half of all, are one mistake of unit.
_UNIT_SUSPECT = 3
# Facts shown with one warning; more would bury it.
_FACTS = 2
# The least child of the survey, less 3 %; a stature below is a slip. mm.
_SHORTEST_CHILD = 780.0


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
        self.child = body.is_child and "age" in body.measures
        self.warnings: list[Diagnostic] = []

    def run(self) -> tuple[Diagnostic, ...]:
        measures = dict(self.body.measures)
        if self._is_child_without_age(measures):
            self.warnings.append(words.child_without_age(self.body.name, self.body.spans.get("stature"), self._shown("stature")))
            self.child = True
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
        if "age" in measures and self.child and (unheld := without_figures(measures, self.body.survey_sex)):
            self.warnings.append(words.no_figures_of_children(self.body.name, self.body.spans.get("age"), unheld))
        return tuple(self.warnings)

    def _findings(self, measures: Measures) -> tuple[Finding, ...]:
        sex, unit = self.body.survey_sex, self.body.unit
        if self.child:
            return (*child_findings(measures, sex, unit), *contradicting(measures, "C", unit))
        if measures.get("age", TEENS_TO_AGE) < TEENS_TO_AGE:  # held in both surveys
            return (*child_findings(measures, sex, unit), *findings(measures, sex, unit))
        return findings(measures, sex, unit)

    def _is_child_without_age(self, measures: Measures) -> bool:
        """Whether it is small all over, rather than one number a slip: no adult's stature, nor another girth of an adult."""
        if "age" in measures or not self.body.is_child or measures["stature"] < _SHORTEST_CHILD:
            return False
        ends = {name: vocabulary()[name].plausible(self.body.survey_sex) for name in measures if vocabulary()[name].is_girth}
        held = [(measures[name], end) for name, end in ends.items() if end is not None]
        return not held or any(value < end[0] for value, end in held)

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
            if _is_thin(set(found) - set(kept), len(names)):
                continue
            if len(kept) < len(found if best is None else best.left) or (best and self._is_likelier(changes, best, kept)):
                best = _Repair(names, changes, text, kept)
        return best

    def _is_likelier(self, changes: Measures, best: _Repair, kept: tuple[Finding, ...]) -> bool:
        """Of two changes that explain as much, the one whose value is the commoner at a child's age: its ranges are wide."""
        if not self.child or "age" not in self.body.measures or len(kept) > len(best.left):
            return False
        age, sex = self.body.measures["age"], self.body.survey_sex
        one, other = (max(strain(name, value, age, sex) for name, value in each.items()) for each in (changes, best.changes))
        return one < other

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
            labels = self._labels(name, [each for each in found if each.test == "proportion"])
            self.warnings.append(words.out_of_proportion(body, span, name, value, facts, would_fit, labels))
        elif "contradiction" in tests:
            against = [each for each in found if each.test == "contradiction"]
            names = tuple(dict.fromkeys([name, *(other for each in against[:_FACTS] for other in each.names)]))
            values = tuple(self._shown(each) for each in names)
            facts, labels = [each.fact for each in against][:_FACTS], self._labels(name, against)
            self.warnings.append(words.contradiction(body, span, names, values, facts, would_fit, labels))
        else:
            self.warnings.append(words.far_from_estimate(body, span, name, value, facts, would_fit))

    def _labels(self, name: str, found: list[Finding]) -> tuple[Label, ...]:
        """The places of the other measures that findings rest on, the first few."""
        others = sorted({other for each in found for other in each.names if other != name})
        places = [self.body.spans.get(other) for other in others][:_FACTS]
        return tuple(Label(place, "beside this") for place in places if place)

    def _shown(self, name: str) -> str:
        return shown(self.body.measures[name], vocabulary()[name].kind, self.body.unit)


def _is_thin(gone: set[Finding], changed: int) -> bool:
    """Whether a single finding is all that a change explains, and too little: a distance from an estimate is too little to
    call two measures exchanged, a contradiction to say which of its measures is the wrong one."""
    tests = [each.test for each in gone]
    return tests == ["contradiction"] or (changed > 1 and tests == ["estimate"])


# What one finding says against the measure tested, and against the others it rests on.
_WEIGHT: Mapping[Test, tuple[float, float]] = MappingProxyType(
    {"range": (3.0, 0.0), "proportion": (1.0, 1.0), "contradiction": (1.0, 1.0), "estimate": (1.0, 0.5)}
)


def _suspects(found: tuple[Finding, ...]) -> tuple[str, ...]:
    """The measures that findings rest on, the most suspected first; order of finding breaks ties."""
    weights: dict[str, float] = {}
    for each in found:
        own, rest = _WEIGHT[each.test]
        for at, name in enumerate(each.names):
            weights[name] = weights.get(name, 0.0) + (rest if at else own)
    return tuple(sorted(weights, key=lambda name: -weights[name]))
