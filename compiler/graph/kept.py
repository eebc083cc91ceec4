"""Values kept from one evaluation to the next: after an edit only what has another identity is evaluated again.

A value belongs to what its node is and to what its bodies give of the measurements the node rests on. Failures are not kept, as
they are told at the place where the sentence stands now; nor are values that a solve only tries.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from ..meaning import payloads as p
from ..meaning.identity import Identity, reached
from ..meaning.style import CheckedStyle, Node
from ..verbs.values import Value, value_at
from .known import Store
from .operations import BodyTable

Lanes = NDArray[np.intp]
Key = bytes
"""What a body gives of some measurements, to the bit, whether each was measured or estimated, and what choices are set to."""


@dataclass(frozen=True)
class _Cell:
    """A value on bodies of one structure, and the place of each among them."""

    places: Mapping[Key, int]
    value: Value


@dataclass(frozen=True)
class Kept:
    """The values of one evaluation, for the next."""

    cells: Mapping[Identity, tuple[_Cell, ...]] = field(default_factory=lambda: MappingProxyType({}))


class Memory:
    """What is kept, as the nodes of a style and its bodies ask for it."""

    def __init__(self, kept: Kept, style: CheckedStyle, people: BodyTable) -> None:
        self._kept = kept
        nodes, self._chosen = style.nodes, people.chosen(style.chosen)
        self._identities = style.identities
        self._names = sorted({name for node in nodes for name in _asked(node)})
        bits = {name: 1 << number for number, name in enumerate(self._names)}
        self._rests = reached(nodes, [sum(bits[name] for name in set(_asked(node))) for node in nodes])
        self._people = people
        self._keys: dict[int, tuple[Key, ...]] = {}

    def of(self, index: int, bodies: Lanes) -> Iterator[tuple[Lanes, Value]]:
        """What is kept of a node on bodies, by their positions among the people: for which of these, and the value on them."""
        cells = self._kept.cells.get(self._identities[index])
        if cells is None:
            return
        waiting = np.arange(bodies.size, dtype=np.intp)
        keys = self._keys_of(index)
        for cell in cells:
            if list(cell.places) == [keys[body] for body in bodies[waiting]]:  # of the same bodies in their order
                yield waiting, cell.value
                return
            places = [cell.places.get(keys[bodies[one]], -1) for one in waiting]
            here = np.array([place >= 0 for place in places], dtype=bool)
            if here.any():
                yield waiting[here], _on(cell, [place for place in places if place >= 0])
            waiting = waiting[~here]

    def kept(self, stores: Iterable[tuple[Store, Lanes]]) -> Kept:
        """What came to be known on chunks of the bodies."""
        found: dict[Identity, list[_Cell]] = {}
        for store, bodies in stores:
            for index in store:
                keys, cells = self._keys_of(index), found.setdefault(self._identities[index], [])
                for lanes, value in store.cells(index):
                    places: dict[Key, int] = {}
                    for place, body in enumerate(bodies[lanes]):
                        places.setdefault(keys[body], place)
                    if not any(places.keys() <= cell.places.keys() for cell in cells):  # else another node says the same
                        cells.append(_cell(places, value, lanes.size))
        return Kept({identity: tuple(cells) for identity, cells in found.items()})

    def _keys_of(self, index: int) -> tuple[Key, ...]:
        """The key of every body for a node."""
        rests = self._rests[index]
        if rests not in self._keys:
            asked = [one for number, one in enumerate(self._names) if rests >> number & 1]
            names = [name for op, name in asked if op != "choice"]
            columns = [np.stack(self._people.value(name), axis=-1, dtype=np.float64) for name in names]
            count = len(self._people.lane_names)
            columns += [self._set_to(name, count) for op, name in asked if op == "choice"]
            rows = np.stack(columns, axis=1) if columns else np.zeros((count, 0))
            same = repr(asked).encode()
            self._keys[rests] = tuple(same + row.tobytes() for row in rows)
        return self._keys[rests]

    def _set_to(self, name: str, count: int) -> NDArray[np.float64]:
        """What a choice is set to for each body, as wide as what is read of a measurement (bodies, 3)."""
        each = np.broadcast_to(np.asarray(self._chosen[name], dtype=np.float64), (count,))
        return np.repeat(each[:, None], 3, axis=1)


def _asked(node: Node) -> tuple[tuple[str, str], ...]:
    """The measurements a node reads of the bodies, and the choice it is: each with the word for what it is."""
    match node.payload:
        case p.Known():
            return tuple(("measure", name) for name in node.payload.asks)
        case p.Setting():
            return (("choice", node.payload.name),)
        case p.Measure() | p.Fallback() | p.Measured():
            return (("measure", node.payload.name),)
    return ()


def _cell(places: Mapping[Key, int], value: Value, count: int) -> _Cell:
    """A value on so many bodies, of those that give the same only the first."""
    if len(places) == count:
        return _Cell(places, value)
    return _Cell({key: at for at, key in enumerate(places)}, value_at(value, np.array([*places.values()], dtype=np.intp)))


def _on(cell: _Cell, places: Sequence[int]) -> Value:
    """The value on some of its bodies."""
    return value_at(cell.value, np.array(places, dtype=np.intp))
