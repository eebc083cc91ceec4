"""Estimates of what was not measured, each with its standard deviation, its source and what it came from.

The rules stand in `estimates.csv` (see `DATA.md`): regressions on the 1988 survey, definitions, and a few differences
of level; for children, regressions on the survey of 1977. What follows exactly from what was measured is as good as measured.
For a measure that is missing otherwise, the rule with the smallest standard deviation serves among those whose predictors are
all known. Only where there is none may a predictor be such an estimate itself; the result says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeVar

from .body import Body
from .tables import read_table
from .units import plain, shown
from .vocabulary import Sex, Wearer, vocabulary

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = TypeVar("Numbers", float, NDArray[np.float64])
else:
    Numbers = TypeVar("Numbers")

_SURVEY = "US Army survey of 1988 (NATICK/TR-89/044)"
_SOURCES: Mapping[str, str] = MappingProxyType(
    {
        "fitted": f"least squares, {_SURVEY}",
        "definition": "by definition",
        "slope": f"by definition; the heights as taken in the {_SURVEY}",
        "vertical": "a difference of heights; over the curve of the hip it is a little longer, how much is not known",
        "same place": "taken at the same place",
        "same place of a child": "taken at the same place on a child",
        "children": "least squares, child survey of 1977 (UM-HSRI-77-17), ages 2 to 16",
        "waist level": f"mean difference of the two waist levels, {_SURVEY}",
        "interpolated": f"interpolated between girths, {_SURVEY}; halfway from natural waist to hip, tested on nobody",
        "median": f"the middle of the {_SURVEY}; no other measurement tells it",
    }
)
# Rules that hold for a child: those that follow from what the words mean, and those of its own survey.
FOR_CHILDREN = ("definition", "slope", "same place", "same place of a child", "children")
ONLY_FOR_CHILDREN = ("same place of a child", "children")


@dataclass(frozen=True, slots=True)
class Rule:
    """target = intercept + sum of coefficient x predictor (mm, degrees, kg). `sd` None: not known; 0: exact.

    The one rule of kind `slope` is an angle instead: arc sine of (first - second) / third.
    """

    sex: Sex
    target: str
    kind: str
    predictors: tuple[str, ...]
    intercept: float
    coefficients: tuple[float, ...]
    sd: float | None
    r2: float | None

    def linear(self, values: Sequence[Numbers]) -> Numbers:
        """The sum, for numbers or arrays of lanes; needs a predictor. One order of sums, so the same bits."""
        total = values[0] * self.coefficients[0] + self.intercept
        for value, coefficient in zip(values[1:], self.coefficients[1:], strict=True):
            total = total + value * coefficient
        return total

    def value(self, values: Sequence[float]) -> float:
        """The estimate, or NaN where the predictors allow none."""
        if not self.predictors:
            return self.intercept
        if self.kind != "slope":
            return self.linear(values)
        sine = (values[0] - values[1]) / values[2]
        return math.degrees(math.asin(sine)) if abs(sine) <= 1 else math.nan

    @property
    def exact(self) -> bool:
        """Whether it follows from what the words mean: no error is added to that of the predictors."""
        return self.sd == 0

    @property
    def formula(self) -> str:
        """The arithmetic in words: `2 + 0.0741 stature + 0.0695 bust_girth`."""
        if self.kind == "slope":
            high, low, length = self.predictors
            return f"arc sine of ({high} - {low}) / {length}"
        text = plain(self.intercept, 1) if self.intercept or not self.predictors else ""
        for name, coefficient in zip(self.predictors, self.coefficients, strict=True):
            size = "" if abs(coefficient) == 1 else f"{plain(abs(coefficient), 4)} "
            sign = "-" if coefficient < 0 else "+"
            text += f" {sign} {size}{name}" if text else f"{'-' if coefficient < 0 else ''}{size}{name}"
        return text

    @property
    def source(self) -> str:
        return _SOURCES[self.kind] + (f", R2 {self.r2:.2f}" if self.r2 is not None else "")


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value nobody measured, in mm, degrees, kg or years.

    `sd`: standard deviation of its error, 0 where it is exact, None where not known. `inputs`: what it came from;
    `estimated_inputs`: those of them that are estimates themselves. `trunk`: a length that nothing tells well: to be
    measured.
    """

    value: float
    sd: float | None
    source: str
    formula: str
    inputs: tuple[str, ...]
    estimated_inputs: tuple[str, ...]
    trunk: bool

    @property
    def exact(self) -> bool:
        """Whether it follows from what was measured without any error of its own, so that it is as good as measured."""
        return self.sd == 0 and not self.estimated_inputs


@lru_cache(maxsize=1)
def rules() -> Mapping[tuple[Sex, str], tuple[Rule, ...]]:
    """(sex, target) -> its rules, the smallest standard deviation first, those without one last."""
    found: dict[tuple[Sex, str], list[Rule]] = {}
    for row in read_table("estimates.csv"):
        rule = _rule(row)
        found.setdefault((rule.sex, rule.target), []).append(rule)
    heights = ("side_neck_height", "shoulder_height", "shoulder_length")
    sexes: tuple[Sex, ...] = ("F", "M")
    for sex in sexes:
        slope = Rule(sex, "shoulder_slope", "slope", heights, 0.0, (), 0.0, None)
        found.setdefault((sex, slope.target), []).append(slope)
    return MappingProxyType({key: tuple(sorted(some, key=_precision)) for key, some in found.items()})


def _precision(rule: Rule) -> float:
    return math.inf if rule.sd is None else rule.sd


def _rule(row: Mapping[str, str]) -> Rule:
    predictors = tuple(row["predictors"].split())
    return Rule(
        sex="F" if row["sex"] == "F" else "M",
        target=row["target"],
        kind=row["rule"],
        predictors=predictors,
        intercept=float(row["intercept"]),
        coefficients=tuple(float(row[f"c{k}"]) for k in range(1, len(predictors) + 1)),
        sd=float(row["sd"]) if row["sd"] else None,
        r2=float(row["r2"]) if row["r2"] else None,
    )


def rules_for(target: str, sex: Sex, child: bool) -> tuple[Rule, ...]:
    """The rules that may estimate a measure for such a body, the best first."""
    some = rules().get((sex, target), ())
    return tuple(rule for rule in some if (rule.kind in FOR_CHILDREN if child else rule.kind not in ONLY_FOR_CHILDREN))


def best_rule(target: str, body: Body, known: Callable[[str], bool]) -> Rule | None:
    """The rule with the smallest standard deviation whose predictors are all known."""
    for rule in rules_for(target, body.survey_sex, body.is_child):
        if all(known(name) for name in rule.predictors):
            return rule
    return None


def estimate(body: Body) -> Mapping[str, Estimate]:
    """An estimate for every body word that was not measured and that something tells, in the vocabulary's order."""
    found: dict[str, Estimate] = {}
    for exact in (True, False, False):
        found.update(_round(body, found, exact))
    return MappingProxyType({name: found[name] for name in vocabulary() if name in found})


def _round(body: Body, earlier: Mapping[str, Estimate], exact: bool) -> dict[str, Estimate]:
    """Estimates of what is neither measured nor estimated in an earlier round; by exact rules alone."""

    def known(name: str) -> bool:
        return name in body.measures or name in earlier

    found: dict[str, Estimate] = {}
    for name in vocabulary():
        if known(name) or (rule := best_rule(name, body, known)) is None or (exact and not rule.exact):
            continue
        made = _estimate(rule, body, earlier)
        if not math.isnan(made.value):
            found[name] = made
    return found


def _estimate(rule: Rule, body: Body, earlier: Mapping[str, Estimate]) -> Estimate:
    given = body.measures
    own = tuple(name for name in rule.predictors if name not in given and not earlier[name].exact)
    values = [given[name] if name in given else earlier[name].value for name in rule.predictors]
    source = rule.source
    if body.sex is None and not rule.exact:
        source += f", {'girls' if body.is_child else 'women'} (the file gives no sex)"
    return Estimate(
        value=rule.value(values),
        sd=_combined_sd(rule, earlier, own),
        source=source,
        formula=rule.formula,
        inputs=rule.predictors,
        estimated_inputs=own,
        trunk=vocabulary()[rule.target].trunk,
    )


def _combined_sd(rule: Rule, earlier: Mapping[str, Estimate], own: tuple[str, ...]) -> float | None:
    """The rule's error with the errors of its estimated predictors, taken as independent."""
    if not own:
        return rule.sd
    if rule.sd is None or rule.kind == "slope":
        return None
    total = rule.sd**2
    for name, coefficient in zip(rule.predictors, rule.coefficients, strict=True):
        if name in own:
            sd = earlier[name].sd
            if sd is None:
                return None
            total += (coefficient * sd) ** 2
    return math.sqrt(total)


def history(body: Body, name: str, estimates: Mapping[str, Estimate]) -> str:
    """Where a value comes from, in a line: measured (file, line), estimated (arithmetic, error, source), or missing."""
    kind = vocabulary()[name].kind
    where = body.file or "the body"
    if name in body.measures:
        line = f" line {body.lines[name]}" if name in body.lines else ""
        value = shown(body.measures[name], kind, body.unit)
        return f"measured: {value}{',' if value.endswith(' in') else ''} in {where}{line}"
    made = estimates.get(name)
    if made is None:
        child = "; no figures of children tell it" if body.is_child else ""
        return f"missing: not measured in {where}, and nothing that was measured tells it{child}"
    text = f"worked out: {shown(made.value, kind, body.unit)}" if made.exact else _estimated(body, name, made)
    if made.inputs:
        text += ", from " + ", ".join(_input(body, given, estimates) for given in made.inputs)
        text += f": {made.formula}" + ("" if kind != "length" else " (in mm)")
    text += f"; {made.source}"
    unsure = made.trunk and not made.exact and vocabulary()[name].is_asked_of(body.wearer)
    return text + ("; lengths of the trunk follow no other measurement: measure it" if unsure else "")


def in_short(body: Body, name: str, estimates: Mapping[str, Estimate]) -> str:
    """An estimate in a few words, with its standard deviation: `estimated 109.8 ± 2.2 cm: measure it`."""
    return f"{_estimated(body, name, estimates[name])}{to_be_measured(name, body.wearer)}"


def _estimated(body: Body, name: str, made: Estimate) -> str:
    """`estimated 109.8 ± 2.2 cm`, or `estimated about 109.8 cm` where nothing tells how far off it may be."""
    kind = vocabulary()[name].kind
    value = shown(made.value, kind, body.unit)
    if made.sd is None:
        return f"estimated about {value}"
    number, _, unit = value.rpartition(" ")
    return f"estimated {number} ± {shown(made.sd, kind, body.unit).removesuffix(f' {unit}')} {unit}"


def to_be_measured(name: str, wearer: Wearer) -> str:
    """What is said behind a length that nothing tells well, where it can be taken of such a wearer."""
    entry = vocabulary()[name]
    return ": measure it" if entry.trunk and entry.is_asked_of(wearer) else ""


def _input(body: Body, name: str, estimates: Mapping[str, Estimate]) -> str:
    kind = vocabulary()[name].kind
    if name in body.measures:
        return f"{name} {shown(body.measures[name], kind, body.unit)}"
    how = "worked out" if estimates[name].exact else "itself estimated"
    return f"{name} {shown(estimates[name].value, kind, body.unit)} ({how})"
