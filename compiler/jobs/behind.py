"""The measurements behind what a style comes to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

import numpy as np

from ..bodies.lanes import Population
from ..graph.resting import drawn_from
from ..meaning.payloads import Fallback, Measure, Measured
from ..meaning.style import CheckedStyle
from ..population.moments import Ints, Mask

THOUSANDTHS = 1000.0


class Behind:
    """The measurements a style asks for, numbered, and which of them lie behind each node."""

    def __init__(self, style: CheckedStyle) -> None:
        self._style = style
        self._known: dict[int, frozenset[int]] = {}
        self.names: tuple[str, ...] = tuple(sorted(self._asked))

    @cached_property
    def _asked(self) -> Mapping[str, bool]:
        """By name, whether an estimate serves where it was not measured: not where something else is asked to stand in."""
        found: dict[str, bool] = {}
        for index in self._reached([*drawn_from(self._style), *self._style.fits.values()]):
            payload = self._style.nodes[index].payload
            if isinstance(payload, Measure | Fallback | Measured):
                found[payload.name] = found.get(payload.name, False) or isinstance(payload, Measure)
        return found

    def _reached(self, nodes: Iterable[int]) -> set[int]:
        found: set[int] = set()
        todo = list(nodes)
        while todo:
            index = todo.pop()
            if index not in found:
                found.add(index)
                todo += self._style.nodes[index].inputs()
        return found

    def of(self, nodes: Iterable[int]) -> tuple[int, ...]:
        """The numbers of the measurements behind nodes."""
        found: set[int] = set()
        for node in nodes:
            if node not in self._known:
                payloads = (self._style.nodes[index].payload for index in self._reached([node]))
                names = {one.name for one in payloads if isinstance(one, Measure | Fallback | Measured)}
                self._known[node] = frozenset(self.names.index(name) for name in names)
            found |= self._known[node]
        return tuple(sorted(found))

    def values(self, people: Population) -> tuple[Ints, Mask]:
        """The measurements (L, M) in thousandths of a mm, a degree or a kg, 0 where they are not known, and where they are."""
        columns, known = [], []
        for name in self.names:
            values, measured, estimated = people.value(name)
            has = measured | estimated if self._asked[name] else measured
            columns.append(np.rint(np.where(has, values, 0.0) * THOUSANDTHS).astype(np.int64))
            known.append(has)
        count = len(people.lane_names)
        if not columns:
            return np.zeros((count, 0), dtype=np.int64), np.zeros((count, 0), dtype=bool)
        return np.stack(columns, axis=1), np.stack(known, axis=1)
