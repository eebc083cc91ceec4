"""Bodies beside each of which stand bodies that differ from it in one thing: a measurement, or a choice, a little more and a
little less. What is estimated stays as it is: each measurement is moved alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from ..bodies.vocabulary import vocabulary
from ..graph.evaluate import evaluate, rested_on
from ..graph.operations import BodyTable
from ..meaning.payloads import Fallback, Measure, Setting
from ..meaning.style import CheckedStyle
from ..pattern.piece import Reals
from ..verbs.kinds import ANGLE, FLAG, LENGTH
from ..verbs.values import Mask

Per = Literal["mm", "degree", "number", "kg"]

STEP: Mapping[Per, float] = {"mm": 0.1, "degree": 0.01, "number": 0.001, "kg": 0.01}
"""So far a thing is moved: less is lost in the rounding of a draft, more goes over the next place where a sentence switches."""

_KINDS: Mapping[str, Per] = {"length": "mm", "angle": "degree", "mass": "kg"}


@dataclass(frozen=True)
class Source:
    """A measurement or a choice that can be moved, and in what it is counted."""

    name: str
    is_choice: bool
    per: Per

    @property
    def step(self) -> float:
        return STEP[self.per]


@dataclass(frozen=True, eq=False)
class Nudged:
    """A table of bodies made of another: of each its own lane, then two for each source, more and less (`lane`)."""

    people: BodyTable
    sources: tuple[Source, ...]

    @property
    def block(self) -> int:
        """The lanes of a body."""
        return 1 + 2 * len(self.sources)

    @property
    def lane_names(self) -> tuple[str, ...]:
        return tuple(name for name in self.people.lane_names for _ in range(self.block))

    def lane(self, body: int, source: int | None = None, way: int = 0) -> int:
        """The lane of a body, by its position; with one source moved, `way` 1 for more and -1 for less."""
        return body * self.block + (0 if source is None else 1 + 2 * source + (way < 0))

    def value(self, name: str) -> tuple[Reals, Mask, Mask]:
        values, measured, estimated = self.people.value(name)
        moved = self._moved(np.repeat(values, self.block), name, is_choice=False, unit=1.0)
        return moved, np.repeat(measured, self.block), np.repeat(estimated, self.block)

    def chosen(self, set_to: Mapping[str, float]) -> Mapping[str, float | Reals]:
        """What the choices are set to in each lane, mm, radians or bare."""
        own = self.people.chosen(set_to)
        found = {name: np.repeat(value, self.block) if isinstance(value, np.ndarray) else value for name, value in own.items()}
        for one in self.sources:
            if one.is_choice:
                each = np.broadcast_to(found[one.name], (len(self.lane_names),)).copy()
                unit = float(np.radians(1.0)) if one.per == "degree" else 1.0
                found[one.name] = self._moved(each, one.name, is_choice=True, unit=unit)
        return found

    def _moved(self, values: Reals, name: str, is_choice: bool, unit: float) -> Reals:
        for number, one in enumerate(self.sources):
            if one.name == name and one.is_choice is is_choice:
                values[self.lane(0, number, 1) :: self.block] += one.step * unit
                values[self.lane(0, number, -1) :: self.block] -= one.step * unit
        return values

    def values(self, style: CheckedStyle) -> Reals:
        """What the sources are on the bodies (bodies, sources), each in what it is counted in."""
        columns = [self._value(style, one) for one in self.sources]
        return np.stack(columns, axis=1) if columns else np.zeros((len(self.people.lane_names), 0))

    def _value(self, style: CheckedStyle, one: Source) -> Reals:
        if not one.is_choice:
            return self.people.value(one.name)[0]
        set_to = np.broadcast_to(self.people.chosen(style.chosen)[one.name], (len(self.people.lane_names),))
        return np.degrees(set_to) if one.per == "degree" else set_to


def sources_of(style: CheckedStyle, people: BodyTable) -> tuple[Source, ...]:
    """The measurements that pieces rest on, on any of the bodies, in the order of the vocabulary, and the choices that have a
    size: not a yes or no."""
    evaluated, asked = evaluate(style, people), set[str]()
    for part in evaluated.parts:
        for index, here in rested_on(style, part, people, style.pieces.values()).items():
            payload = style.nodes[index].payload
            if isinstance(payload, Measure | Fallback):
                _, measured, estimated = people.value(payload.name)
                known = measured if isinstance(payload, Fallback) else measured | estimated
                asked |= {payload.name} if (known[part.lanes] & here).any() else set()
    words = [(name, word.kind) for name, word in vocabulary().items() if name in asked and word.kind != "years"]
    return (*(Source(name, False, _KINDS[kind]) for name, kind in words), *_choices(style))


def _choices(style: CheckedStyle) -> Sequence[Source]:
    kinds = {one.payload.name: one.kind for one in style.nodes if isinstance(one.payload, Setting)}
    pers: dict[str, Per] = {
        name: "mm" if kind == LENGTH else "degree" if kind == ANGLE else "number" for name, kind in kinds.items() if kind != FLAG
    }
    return [Source(name, True, pers[name]) for name in style.chosen if name in pers]
