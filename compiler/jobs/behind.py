"""The measurements behind what a style comes to."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from operator import or_

import numpy as np

from ..bodies.lanes import Population
from ..graph.resting import drawn_from
from ..meaning.identity import reached
from ..meaning.payloads import Fallback, Measure, Measured, Payload
from ..meaning.style import CheckedStyle
from ..population.moments import Ints, Mask

THOUSANDTHS = 1000.0

_Asking = tuple[str, bool]
"""The name of a measurement, and whether an estimate serves where it was not measured: not where something else is asked to
stand in."""


def _asking(payload: Payload) -> _Asking | None:
    return (payload.name, isinstance(payload, Measure)) if isinstance(payload, Measure | Fallback | Measured) else None


class Behind:
    """The measurements a style asks for, numbered, and which of them lie behind each node."""

    def __init__(self, style: CheckedStyle) -> None:
        asking = [_asking(node.payload) for node in style.nodes]
        self._marks = sorted({one for one in asking if one is not None})
        bits = {one: 1 << number for number, one in enumerate(self._marks)}
        self._rests = reached(style.nodes, [0 if one is None else bits[one] for one in asking])
        self._asked: dict[str, bool] = {}
        for name, estimated in self._marked([*drawn_from(style), *style.fits.values()]):
            self._asked[name] = self._asked.get(name, False) or estimated
        self.names: tuple[str, ...] = tuple(sorted(self._asked))

    def _marked(self, nodes: Iterable[int]) -> list[_Asking]:
        marks = reduce(or_, (self._rests[node] for node in nodes), 0)
        return [one for number, one in enumerate(self._marks) if marks >> number & 1]

    def of(self, nodes: Iterable[int]) -> tuple[int, ...]:
        """The numbers of the measurements behind nodes."""
        return tuple(sorted({self.names.index(name) for name, _ in self._marked(nodes)}))

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
