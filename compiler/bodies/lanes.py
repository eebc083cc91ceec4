"""Bodies side by side: every measurement as one array over the lanes, with what was measured and what estimated."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from .body import Body
from .estimates import Estimate, Rule, estimate, history, in_short, rules_for
from .vocabulary import vocabulary

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
_Column = Callable[[str], Floats]


@dataclass(frozen=True, eq=False)
class Population:
    """Bodies as lanes, in the order given; L = len(bodies). Values are those of `estimate`, body by body."""

    bodies: tuple[Body, ...]

    @classmethod
    def of(cls, bodies: Sequence[Body]) -> Population:
        return cls(tuple(bodies))

    @property
    def lane_names(self) -> tuple[str, ...]:
        """The name of each body."""
        return tuple(body.name for body in self.bodies)

    @property
    def names(self) -> tuple[str, ...]:
        """Every body word, whether any lane has a value or not."""
        return tuple(vocabulary())

    def value(self, name: str) -> tuple[Floats, Flags, Flags]:
        """Values (L,) in mm, degrees, kg or years, NaN where missing; measured (L,); estimated (L,).

        What follows exactly from what was measured, as a difference of two heights, counts as measured.
        `name` is a body word in its long form; any other is a KeyError: the checker refuses it before a body is
        loaded.
        """
        if name not in self._final:
            if name not in vocabulary():
                raise KeyError(name)
            self._final[name] = self._filled(name, self._first_round(name), self._first_round)
        values = self._final[name]
        measured = ~np.isnan(self._known(name))
        return values.copy(), measured, ~measured & ~np.isnan(values)

    def chosen(self, set_to: Mapping[str, float]) -> Mapping[str, float | Floats]:
        """What choices are set to: as they are for all, or, where a body has its own, a number for each body (L,)."""
        named = {name for body in self.bodies for name in body.choices}
        short = {name: name.rpartition(".")[2] for name in set_to}  # of a block `base.deep` is set as `deep`
        own = {name: last for name, last in short.items() if last in named}
        return {
            **set_to,
            **{name: np.array([body.choices.get(last, set_to[name]) for body in self.bodies]) for name, last in own.items()},
        }

    def history(self, name: str, lane: int) -> str:
        """Where the value of one body comes from, in a line."""
        return history(self.bodies[lane], name, self._estimates(lane))

    def in_short(self, name: str, lane: int) -> str:
        """What is estimated of one body, in a few words."""
        return in_short(self.bodies[lane], name, self._estimates(lane))

    def rule(self, name: str, lane: int) -> str:
        """By what rule a value of one body is estimated, in words without its numbers."""
        made = self._estimates(lane)[name]
        return f"estimated from {', '.join(made.inputs)}; {made.source}" if made.inputs else f"estimated; {made.source}"

    def _estimates(self, lane: int) -> Mapping[str, Estimate]:
        if lane not in self._told:
            self._told[lane] = estimate(self.bodies[lane])
        return self._told[lane]

    @cached_property
    def _columns(self) -> dict[str, Floats]:
        return {}

    @cached_property
    def _first(self) -> dict[str, Floats]:
        return {}

    @cached_property
    def _exact(self) -> dict[str, Floats]:
        return {}

    @cached_property
    def _final(self) -> dict[str, Floats]:
        return {}

    @cached_property
    def _told(self) -> dict[int, Mapping[str, Estimate]]:
        return {}

    @cached_property
    def _groups(self) -> tuple[tuple[str, bool, Flags], ...]:
        """(sex, child, lanes) of every kind of body present, since each has its own rules."""
        keys = [(body.survey_sex, body.is_child) for body in self.bodies]
        return tuple((sex, child, np.array([key == (sex, child) for key in keys])) for sex, child in sorted(set(keys)))

    def _measured(self, name: str) -> Floats:
        if name not in self._columns:
            given = [body.measures.get(name, math.nan) for body in self.bodies]
            self._columns[name] = np.array(given, dtype=np.float64)
        return self._columns[name]

    def _known(self, name: str) -> Floats:
        """Measured, or following exactly from what was."""
        if name not in self._exact:
            self._exact[name] = self._filled(name, self._measured(name), self._measured, exact=True)
        return self._exact[name]

    def _first_round(self, name: str) -> Floats:
        """Known, or estimated from what is known."""
        if name not in self._first:
            self._first[name] = self._filled(name, self._known(name), self._known)
        return self._first[name]

    def _filled(self, name: str, values: Floats, known: _Column, exact: bool = False) -> Floats:
        """Values with their gaps filled by the best rule whose predictors are known in the lane; by exact rules alone."""
        out = values.copy()
        for sex, child, lanes in self._groups:
            undecided = lanes & np.isnan(values)
            for rule in rules_for(name, "F" if sex == "F" else "M", child):
                if not undecided.any() or (exact and not rule.exact):
                    break
                inputs = [known(predictor) for predictor in rule.predictors]
                ready = undecided.copy()
                for column in inputs:
                    ready &= ~np.isnan(column)
                out[ready] = _applied(rule, [column[ready] for column in inputs], int(ready.sum()))
                undecided &= ~ready
        return out


def _applied(rule: Rule, inputs: list[Floats], count: int) -> Floats:
    if not inputs:
        return np.full(count, rule.intercept)
    if rule.kind != "slope":
        return rule.linear(inputs)
    sine = (inputs[0] - inputs[1]) / inputs[2]
    return np.degrees(np.arcsin(np.where(np.abs(sine) <= 1, sine, np.nan)))
