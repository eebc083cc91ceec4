"""What is known of the nodes on the bodies of a chunk.

Each node has its own groups: bodies part where it depends on what they differ in, and nowhere else. A front that has a dart on
some bodies only does not part their backs; what is a number on all of them, though its pieces differ, is one again.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import Disagreement, spread
from ..geometry.path import Path
from ..pattern.piece import Piece
from ..verbs.values import DartOf, Edge, Run, Value, Verdict, value_at

Lanes = NDArray[np.intp]

NOBODY: Lanes = np.zeros(0, dtype=np.intp)


@dataclass(frozen=True)
class _Cell:
    """A value on bodies that have one structure, by their numbers in rising order; `parts` is what was taken of it already,
    with the bodies it was taken for, by the identity of these."""

    lanes: Lanes
    value: Value
    parts: dict[int, tuple[Lanes, Value]] = field(default_factory=dict)


class Store:
    """Values by node and body, bodies numbered from 0. Sets of bodies are kept once, so that they are known by identity."""

    def __init__(self, count: int) -> None:
        self.count = count
        self._cells: dict[int, list[_Cell]] = {}
        self._where: dict[int, NDArray[np.intp]] = {}  # for every body the number of its cell, -1 where there is none; where
        # one cell is of all bodies, nothing is laid down here
        self._nought = np.zeros(count, dtype=np.intp)
        self._everywhere: set[int] = set()  # nodes known on every body
        self._sets: dict[bytes, Lanes] = {}
        self._pieces: dict[tuple[int, int], tuple[Piece, Lanes, Piece]] = {}

    def __contains__(self, index: int) -> bool:
        return index in self._cells

    def one(self, lanes: Lanes) -> Lanes:
        """These bodies, always the same array for the same ones."""
        return self._sets.setdefault(lanes.tobytes(), lanes)

    def missing(self, index: int, lanes: Lanes) -> Lanes:
        """Those of the bodies on which a node is not known."""
        if index not in self._cells:
            return lanes
        return NOBODY if index in self._everywhere else self.one(lanes[self._kinds(index)[lanes] < 0])

    def _kinds(self, index: int) -> NDArray[np.intp]:
        return self._where.get(index, self._nought)

    def lay(self, index: int, lanes: Lanes, value: Value) -> None:
        """Keep a value; with one it has the structure of it becomes one."""
        new = _Cell(lanes, value)
        if lanes.size == self.count:
            self._cells[index] = [new]
            self._where.pop(index, None)
            self._everywhere.add(index)
            return
        cells = self._cells.setdefault(index, [])
        where = self._where.setdefault(index, np.full(self.count, -1, dtype=np.intp))
        for number, cell in enumerate(cells):
            both = _joined(cell, new)
            if both is not None:
                cells[number] = _Cell(self.one(both.lanes), both.value)
                where[lanes] = number
                break
        else:
            where[lanes] = len(cells)
            cells.append(new)
        if (where >= 0).all():
            self._everywhere.add(index)

    def get(self, index: int, lanes: Lanes) -> Value:
        """The value of a node on some bodies. Raises Disagreement where it has not one structure on them."""
        cells = self._cells[index]
        for cell in cells:
            if cell.lanes is lanes:
                return cell.value
            if id(lanes) in cell.parts:
                return cell.parts[id(lanes)][1]
        kinds = self._kinds(index)[lanes]
        if (kinds != kinds[0]).any():
            raise Disagreement(kinds.astype(np.int64))
        if kinds[0] < 0:
            raise KeyError(index)
        cell = cells[kinds[0]]
        value = self._taken(cell.value, self.one(np.searchsorted(cell.lanes, lanes)))
        cell.parts[id(lanes)] = lanes, value
        return value

    def parted(self, indices: Iterable[int], lanes: Lanes) -> list[Lanes]:
        """The bodies by what kind they are of by all these nodes, which are known on them."""
        differ = [self._kinds(index)[lanes] for index in indices if len(self._cells[index]) > 1]
        if not differ:
            return [lanes]
        kinds = np.unique(np.stack(differ, axis=1), axis=0, return_inverse=True)[1].reshape(lanes.size)
        return [self.one(lanes[kinds == kind]) for kind in range(kinds.max() + 1)]

    def of_some(self, index: int, lanes: Lanes) -> Value:
        """The value of a node that may be known on some of the bodies only: what the others have there means nothing."""
        known = self._kinds(index)[lanes] >= 0
        if known.all():
            return self.get(index, lanes)
        return value_at(self.get(index, self.one(lanes[known])), np.cumsum(known) - 1 + (np.cumsum(known) == 0))

    def some(self, index: int, lanes: Lanes) -> bool:
        """Whether a node has one structure on those of the bodies on which it is known, and there are such."""
        kinds = self._kinds(index)[lanes]
        kinds = kinds[kinds >= 0]
        return bool(kinds.size and (kinds == kinds[0]).all())

    def __iter__(self) -> Iterator[int]:
        return iter(self._cells)

    def cells(self, index: int) -> Iterator[tuple[Lanes, Value]]:
        """What is known of a node: for each structure its bodies and the value on them."""
        return ((cell.lanes, cell.value) for cell in self._cells[index])

    def _taken(self, value: Value, places: Lanes) -> Value:
        """A value for some of its bodies; the edges of a piece stay those of one piece."""
        match value:
            case Piece():
                return self._piece(value, places)
            case Edge() | DartOf():
                return replace(value, piece=self._piece(value.piece, places))
            case Run():
                return Run(tuple(replace(edge, piece=self._piece(edge.piece, places)) for edge in value.edges))
            case _:
                return value_at(value, places)

    def _piece(self, piece: Piece, places: Lanes) -> Piece:
        key = id(piece), id(places)
        if key not in self._pieces:
            self._pieces[key] = piece, places, piece.part(places)
        return self._pieces[key][2]


def _joined(one: _Cell, other: _Cell) -> _Cell | None:
    """Two cells as one, where their values have one structure: numbers, points, paths of the same spans, verdicts."""
    lanes = np.concatenate([one.lanes, other.lanes])
    order = np.argsort(lanes)

    def both(a: NDArray[Any], b: NDArray[Any]) -> NDArray[Any]:
        return np.concatenate([spread(a, one.lanes.size), spread(b, other.lanes.size)])[order]

    value: Value | None = None
    a, b = one.value, other.value
    if isinstance(a, np.ndarray) and isinstance(b, np.ndarray) and (a.shape[1:], a.dtype) == (b.shape[1:], b.dtype):
        value = both(a, b)
    elif isinstance(a, Path) and isinstance(b, Path) and a.straight == b.straight:
        value = Path(both(a.controls, b.controls), a.straight)
    elif isinstance(a, Verdict) and isinstance(b, Verdict) and list(a.figures) == list(b.figures):
        value = Verdict(both(a.holds, b.holds), {name: both(a.figures[name], b.figures[name]) for name in a.figures})
    return None if value is None else _Cell(lanes[order], value)


class View:
    """What is known on some bodies."""

    def __init__(self, store: Store, lanes: Lanes) -> None:
        self._store = store
        self._lanes = lanes
        self._asked: dict[int, Value] = {}  # a solve asks for the same at every trial

    def __getitem__(self, index: int) -> Value:
        if index not in self._asked:
            self._asked[index] = self._store.get(index, self._lanes)
        return self._asked[index]

    def __setitem__(self, index: int, value: Value) -> None:
        self._store.lay(index, self._lanes, value)

    def __contains__(self, index: object) -> bool:
        return isinstance(index, int) and index in self._store and not self._store.missing(index, self._lanes).size


class PartValues(Mapping[int, Value]):
    """What came to be known on some bodies, an arm of a choice also where some of them only take it. Nothing more comes to be
    known, so that what was asked once is kept: results ask for the same node for each body."""

    def __init__(self, store: Store, lanes: Lanes) -> None:
        self._store = store
        self._lanes = lanes
        self._asked: dict[int, Value] = {}
        self._known: dict[int, bool] = {}

    def __getitem__(self, index: int) -> Value:
        if index not in self._asked:
            if index not in self:
                raise KeyError(index)
            self._asked[index] = self._store.of_some(index, self._lanes)
        return self._asked[index]

    def __contains__(self, index: object) -> bool:
        if not isinstance(index, int):
            return False
        if index not in self._known:
            self._known[index] = index in self._store and self._store.some(index, self._lanes)
        return self._known[index]

    def __iter__(self) -> Iterator[int]:
        return (index for index in self._store if index in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)


class Trial:
    """What is known while a solve tries a value: what rests on its unknown, `resting`, is known here, all else is laid down
    behind."""

    def __init__(self, behind: View | Trial, resting: Container[int]) -> None:
        self._own: dict[int, Value] = {}
        self._behind = behind
        self._resting = resting

    def __getitem__(self, index: int) -> Value:
        return self._own[index] if index in self._own else self._behind[index]

    def __setitem__(self, index: int, value: Value) -> None:
        (self._own if index in self._resting else self._behind)[index] = value

    def __contains__(self, index: object) -> bool:
        return index in self._own or index in self._behind
