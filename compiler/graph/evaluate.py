"""A checked style on bodies: all nodes over lanes, groups split only where bodies differ in structure, failures by body."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import Disagreement, agree
from ..meaning.payloads import Solve
from ..meaning.style import CheckedStyle, Node
from ..pattern.piece import Reals, Trouble
from ..verbs.values import Mask, Value
from .finite import all_finite
from .kept import Kept, Memory
from .known import PartValues, Store, Trial, View
from .operations import OPERATIONS, BodyTable, Group, chosen_by, figure
from .resting import Inside, arms_of, closure, inside_of, needed
from .solving import SHARE, Unsolved, solved

Lanes = NDArray[np.intp]
Values = View | Trial


@dataclass(frozen=True)
class Failure:
    """A body on which a sentence fails: its position, the node, why, and the numbers that led there (mm or degrees).

    `tries` are the values a solve tried on it and what was left over at each, in mm, radians or as numbers.
    """

    lane: int
    node: int
    message: str
    fix: str
    figures: Mapping[str, float]
    tries: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class Part:
    """Bodies that agree in structure: their positions, and the value of every node that was needed."""

    lanes: Lanes
    values: Mapping[int, Value]


@dataclass(frozen=True)
class Evaluated:
    """All parts and all failures; a body is in one part, or has one failure. `worked_out` are the nodes that were evaluated, and
    not found among what was kept."""

    parts: tuple[Part, ...]
    failures: tuple[Failure, ...]
    worked_out: frozenset[int] = frozenset()

    def of(self, lane: int) -> tuple[Part, int] | None:
        """The part that holds a body, and its place in it."""
        for part in self.parts:
            found = np.flatnonzero(part.lanes == lane)
            if found.size:
                return part, int(found[0])
        return None


def evaluate(
    style: CheckedStyle,
    people: BodyTable,
    extra: Iterable[int] = (),
    share: float = SHARE,
) -> Evaluated:
    """Evaluate what the pieces, seams and checks of a style need (and the `extra` nodes) on all bodies. Solves settle within this
    `share` of their tolerance.

    One thread: on two it takes as long, since the arrays are too small to leave the interpreter free (measured).
    """
    run = _Evaluation(style, needed(style, extra), people, _all(people))
    run.share = share
    return run.all()


def evaluate_again(style: CheckedStyle, people: BodyTable, kept: Kept, extra: Iterable[int] = ()) -> tuple[Evaluated, Kept]:
    """As `evaluate`, but what is kept of an earlier evaluation, of this style or another, is not evaluated again; and what to
    keep for the next: the values of this one."""
    memory = Memory(kept, style, people)
    run = _Evaluation(style, needed(style, extra), people, _all(people), memory)
    return run.all(), memory.kept([(run.store, run.bodies)])


def _all(people: BodyTable) -> Lanes:
    return np.arange(len(people.lane_names), dtype=np.intp)


def alone(style: CheckedStyle, people: BodyTable, lanes: Lanes, nodes: Iterable[int]) -> Evaluated:
    """Some nodes on bodies, by their positions, and nothing else: what fails elsewhere on them does not hide these."""
    return _Evaluation(style, closure(style.nodes, nodes), people, lanes).all()


def rested_on(style: CheckedStyle, part: Part, people: BodyTable, results: Iterable[int]) -> dict[int, Mask]:
    """For each node that results of a part rest on, the bodies (L,) whose results do: of a choice, by the arm taken alone."""
    everybody, group = np.ones(part.lanes.size, dtype=bool), Group(people, part.lanes, style.chosen)
    found: dict[int, Mask] = {}
    todo = [(index, everybody) for index in results]
    while todo:
        index, bodies = todo.pop()
        old, new = found.get(index), bodies
        if old is everybody:
            continue
        if bodies is not everybody:  # they mostly are all: then there is nothing to reckon
            new = bodies if old is None else old | bodies
            if not bodies.any() or (old is not None and not (new & ~old).any()):
                continue
            new = everybody if new.all() else new
        found[index] = new
        node = style.nodes[index]
        arms = arms_of(node)
        if arms and node.args.get("test", index) not in part.values:  # what a solve that rests at a bound tried is not kept
            arms = ()
        first = chosen_by(node, part.values, group) if arms else everybody
        for name, arg in node.args.items():
            todo.append((arg, new & (first if name == "first" else ~first) if name in arms else new))
        todo += [(one, new) for one in node.equation()]
    return found


def test_of(node: Node, values: Values) -> Mapping[int, Value]:
    """What a choice is chosen by, of what is known."""
    return {node.args["test"]: values[node.args["test"]]} if "test" in node.args else {}


class _Failed(Exception):
    """A node failed on some lanes."""

    def __init__(self, node: int, trouble: Trouble) -> None:
        super().__init__(trouble.message)
        self.node = node
        self.trouble = trouble


class _Evaluation:
    """The evaluation of bodies, node by node, each on as many bodies at a time as it can be."""

    def __init__(
        self, style: CheckedStyle, order: Sequence[int], people: BodyTable, bodies: Lanes, memory: Memory | None = None
    ) -> None:
        """`bodies` are positions among the people, rising; here they are numbered from 0."""
        self.memory = memory
        self.style = style
        self.nodes = nodes = style.nodes
        self.order = order
        self.people = people
        self.bodies = bodies
        self.chosen = people.chosen(style.chosen)
        self.share = SHARE
        self.store = Store(bodies.size)
        self.well = self.store.one(np.arange(bodies.size, dtype=np.intp))
        self.failures: list[Failure] = []
        self.worked_out: set[int] = set()
        self.groups: dict[int, Group] = {}  # by the identity of the set of bodies, of which the store has one
        self.views: dict[int, View] = {}  # by the same
        self.solves = tuple(index for index, node in enumerate(nodes) if isinstance(node.payload, Solve))
        self.insides: dict[tuple[int, frozenset[int]], Inside] = {}

    def all(self) -> Evaluated:
        """Evaluate all nodes on the bodies."""
        for index in self.order:
            self._tell(index, self.well)
        alike = self.store.parted(self.order, self.well) if self.well.size else ()
        parts = tuple(Part(self.bodies[lanes], PartValues(self.store, lanes)) for lanes in alike)
        return Evaluated(parts, tuple(sorted(self.failures, key=lambda one: one.lane)), frozenset(self.worked_out))

    def _tell(self, index: int, lanes: Lanes) -> None:
        """Make a node known on those of the bodies on which it is not, and none has failed."""
        waiting = [self._not_kept(index, self.store.missing(index, lanes))]
        while waiting:
            lanes = waiting.pop()
            if not lanes.size:
                continue
            values = self._view(lanes)
            try:
                ready = self._made_ready(index, lanes, values)
                if ready is lanes:
                    values[index] = self._value(index, lanes, values)
                else:
                    waiting.append(ready)
            except Disagreement as split:
                waiting += self._split(split, lanes)
            except _Failed as failed:
                waiting.append(self._set_aside(failed, lanes))

    def _not_kept(self, index: int, lanes: Lanes) -> Lanes:
        """Lay down what is kept of a node; the bodies on which it is not."""
        if self.memory is None or not lanes.size:
            return lanes
        for here, value in self.memory.of(index, self.bodies[lanes]):
            self.store.lay(index, self.store.one(lanes[here]), value)
        waiting = self.store.missing(index, lanes)
        if waiting.size < lanes.size and (index in self.solves or arms_of(self.nodes[index])):
            self._behind(index, self.store.one(np.setdiff1d(lanes, waiting)))
        return waiting

    def _behind(self, index: int, lanes: Lanes) -> None:
        """Tell what a node that was kept rests on lazily, as if it were evaluated: results ask for it."""
        node, todo = self.nodes[index], [lanes]
        if isinstance(node.payload, Solve):
            inside = self._inside(index, self._view(lanes))
            for one in inside.still:
                self._tell(one, lanes)
            for one in inside.moving:
                self._not_kept(one, self.store.missing(one, lanes))
            return
        while todo:
            some = todo.pop()
            try:
                test = np.broadcast_to(chosen_by(node, test_of(node, self._view(some)), self._group(some)), some.shape)
            except Disagreement as split:
                todo += self._split(split, some)
                continue
            for arm, here in (("first", test), ("second", ~test)):
                if arm in arms_of(node) and here.any():
                    those = self.store.one(some[here])
                    for one in closure(self.nodes, [node.args[arm]], self._view(those)):
                        self._tell(one, those)

    def _split(self, split: Disagreement, lanes: Lanes) -> list[Lanes]:
        keys = np.broadcast_to(split.keys, lanes.shape)
        return [self.store.one(lanes[keys == key]) for key in np.unique(keys)]

    def _made_ready(self, index: int, lanes: Lanes, values: View) -> Lanes:
        """Tell what a node rests on but lazily, the arm of a choice and what a solve does not try; the bodies on which none of
        it fails. Bodies that take one arm each part: only what is chosen may fail."""
        node = self.nodes[index]
        if isinstance(node.payload, Solve):
            before = self._inside(index, values).still
        elif arms_of(node):
            test = np.broadcast_to(chosen_by(node, test_of(node, values), self._group(lanes)), lanes.shape)
            agree(test.astype(np.int64))
            arm = "first" if test[0] else "second"
            before = closure(self.nodes, [node.args[arm]], values) if arm in arms_of(node) else ()
        else:
            return lanes
        for one in before:
            self._tell(one, self._among_the_well(lanes))
        return self._among_the_well(lanes)

    def _among_the_well(self, lanes: Lanes) -> Lanes:
        if self.well.size == self.bodies.size or lanes is self.well:
            return lanes
        found = lanes[np.isin(lanes, self.well)]
        return lanes if found.size == lanes.size else self.store.one(found)

    def _view(self, lanes: Lanes) -> View:
        if id(lanes) not in self.views:
            self.views[id(lanes)] = View(self.store, lanes)
        return self.views[id(lanes)]

    def _group(self, lanes: Lanes) -> Group:
        found = self.groups.get(id(lanes))
        if found is None:
            found = self.groups[id(lanes)] = Group(self.people, self.bodies[lanes], self.chosen)
        return found

    def _set_aside(self, failed: _Failed, lanes: Lanes) -> Lanes:
        """Tell the failure of the bodies a node fails on; the others."""
        bad = np.ones(lanes.size, dtype=bool)
        if failed.trouble.lanes is not None:
            bad = np.array(np.broadcast_to(failed.trouble.lanes, lanes.shape))
        self._failed(failed.node, self.bodies[lanes], bad, failed.trouble)
        self.well = self.store.one(np.setdiff1d(self.well, lanes[bad]))
        return self.store.one(lanes[~bad])

    def _value(self, index: int, lanes: Lanes, values: Values) -> Value:
        """The value of a node whose inputs are known, but for the arms of a choice, which are evaluated here as needed."""
        node = self.nodes[index]
        self.worked_out.add(index)
        if isinstance(node.payload, Solve):
            return self._solved(index, lanes, values)
        if arms_of(node):
            left_out = set(arms_of(node)).difference(self._arms(node, lanes, values))
            args = {name: values[arg] for name, arg in node.args.items() if name not in left_out}
        else:
            args = {name: values[arg] for name, arg in node.args.items()}
        try:
            value: Value = OPERATIONS[type(node.payload)](node.payload, args, self._group(lanes))
            all_finite(value, lanes.size)
        except Trouble as trouble:
            raise _Failed(index, trouble) from trouble
        return value

    def _arms(self, node: Node, lanes: Lanes, values: Values) -> Sequence[str]:
        """The arms that some body takes, evaluated. Where one of two fails, the bodies part: only the chosen one may fail."""
        test = chosen_by(node, test_of(node, values), self._group(lanes))
        taken = {"first": bool(test.any()), "second": not test.all()}
        wanted = [name for name in arms_of(node) if taken[name]]
        try:
            for name in wanted:
                if node.args[name] in values:
                    continue
                for index in closure(self.nodes, [node.args[name]], values):
                    values[index] = self._value(index, lanes, values)
        except _Failed:
            if test.all() or not test.any():
                raise
            raise Disagreement(np.broadcast_to(test, lanes.shape).astype(np.int64)) from None
        return wanted

    def _solved(self, index: int, lanes: Lanes, values: Values) -> Value:
        """The unknown of a solve: what rests on it is evaluated again for every trial."""
        node, solve = self.nodes[index], self.nodes[index].payload
        assert isinstance(solve, Solve)
        left, right = solve.left, solve.right
        inside = self._inside(index, values)
        for one in inside.still:
            if one not in values:
                values[one] = self._value(one, lanes, values)

        last: Values = values  # with what rests on the unknown, as of the last trial

        def surplus(trial: Reals) -> Reals:
            nonlocal last
            known = Trial(values, inside.resting)
            known[index] = trial
            try:
                for one in inside.moving:
                    known[one] = self._value(one, lanes, known)
            except _Failed as failed:
                raise _on_trial(failed, solve.name, node.kind.word, trial) from failed
            last = known
            first, second = known[left], known[right]
            assert isinstance(first, np.ndarray)
            assert isinstance(second, np.ndarray)
            return np.asarray(np.broadcast_to(first - second, lanes.shape), dtype=np.float64)

        low, high, within = (
            np.broadcast_to(np.asarray(values[node.args[name]]), lanes.shape) for name in ("low", "high", "within")
        )
        try:
            found = solved(surplus, low, high, within, solve.name, solve.kept, self.share)
        except Trouble as trouble:
            raise _Failed(index, trouble) from trouble
        if np.array_equal(np.asarray(last[index]), found):  # it need not be worked out again
            for one in inside.moving:
                values[one] = last[one]
        return found

    def _inside(self, index: int, values: Values) -> Inside:
        """What a solve evaluates, which depends only on the solves that are told, or tried around it, already."""
        told = frozenset(one for one in self.solves if one in values)
        if (index, told) not in self.insides:
            self.insides[index, told] = inside_of(self.nodes, index, told)
        return self.insides[index, told]

    def _failed(self, index: int, lanes: Lanes, bad: Mask, trouble: Trouble) -> None:
        for at in np.flatnonzero(bad):
            figures = {name: float(_at(numbers, int(at))) for name, numbers in trouble.figures.items()}
            tried = trouble.tries if isinstance(trouble, Unsolved) else ()
            tries = tuple((_at(value, int(at)), _at(over, int(at))) for value, over in tried)
            self.failures.append(Failure(int(lanes[at]), index, trouble.message, trouble.fix, figures, tries))


def _on_trial(failed: _Failed, name: str, kind: str, trial: Reals) -> _Failed:
    """What fails while a solve tries a value: the value is told, and that its bounds may be what is wrong."""
    trouble = failed.trouble
    tried, shown = figure(f"`{name}` tried at", trial, kind)
    fix = f"{trouble.fix}; or keep `{name}` from this value with its bounds"
    told = replace(trouble, fix=fix, figures={**trouble.figures, tried: shown})
    return _Failed(failed.node, told)


def _at(numbers: Reals, lane: int) -> float:
    return float(numbers[lane] if numbers.shape[0] > 1 else numbers[0])
