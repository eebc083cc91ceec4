"""Which measurements act on what a style comes to: not those of an arm of a choice that no body takes."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from ..meaning.payloads import Fallback, Inverse, Joint, Known, Measure, Measured, Solve
from ..meaning.style import CheckedStyle, Node
from ..pattern.piece import Reals
from ..verbs.values import Mask
from .evaluate import alone
from .operations import holding
from .resting import arms_of, drawn_from


@dataclass(frozen=True)
class _Nobody:
    """A body of whom nothing was measured."""

    lane_names: tuple[str, ...] = ("",)

    def value(self, name: str) -> tuple[Reals, Mask, Mask]:
        return np.full(1, np.nan), np.zeros(1, dtype=bool), np.zeros(1, dtype=bool)

    def chosen(self, set_to: Mapping[str, float]) -> Mapping[str, float]:
        return set_to


def acting(style: CheckedStyle, never: Collection[str] = ()) -> frozenset[str]:
    """The measurements that pieces, seams, checks, fits or the specification rest on, on some body. Those in `never` are
    measured of no such body: what stands in for them acts in their place, and they only where nothing does."""
    settled = _settled(style, never)
    found: set[str] = set()
    seen: set[int] = set()
    todo = [*drawn_from(style), *style.fits.values()]
    while todo:
        index = todo.pop()
        if index in seen:
            continue
        seen.add(index)
        node = style.nodes[index]
        match node.payload:
            case Measure(name=name):
                found.add(name)
            case (Fallback(name=name) | Measured(name=name)) if name not in never:
                found.add(name)
        todo += _behind(node, settled.get(index))
    return frozenset(found)


def _behind(node: Node, takes_first: bool | None) -> Iterator[int]:
    """What a node rests on: of a choice that is settled, by the arm taken, and not by what settled it."""
    if takes_first is None:
        yield from node.inputs()
    else:
        yield from (arg for name, arg in node.args.items() if name == ("first" if takes_first else "second"))


def _settled(style: CheckedStyle, never: Collection[str]) -> Mapping[int, bool]:
    """For each choice that is the same on every body, whether it takes its first arm."""
    nodes, holds = style.nodes, _alike(style, never)
    for index, node in enumerate(nodes):  # an input stands before what is made of it
        if index in holds:
            continue
        if isinstance(node.payload, Joint):
            settling = node.payload.word == "or"
            sides = [holds.get(node.args["left"]), holds.get(node.args["right"])]
            if settling in sides:
                holds[index] = settling
            elif None not in sides:
                holds[index] = not settling
        elif isinstance(node.payload, Inverse) and node.args["value"] in holds:
            holds[index] = not holds[node.args["value"]]
    tests = {index: node.args["test"] for index, node in enumerate(nodes) if arms_of(node) and "test" in node.args}
    chosen = {index: holds[test] for index, test in tests.items() if test in holds}
    return chosen | {index: False for index, node in enumerate(nodes) if _asks_for(node, never)}


def _asks_for(node: Node, never: Collection[str]) -> bool:
    """Whether a value with something that stands in for it rests on what is measured of no such body."""
    match node.payload:
        case Known(asks=asked):
            return any(name in never for name in asked)
        case Fallback(name=name):
            return name in never
    return False


def _alike(style: CheckedStyle, never: Collection[str]) -> dict[int, bool]:
    """Conditions that rest on nothing a body gives, and whether they hold."""
    alike: list[bool] = []
    for node in style.nodes:
        asks = isinstance(node.payload, Measure | Fallback | Known | Solve) or (
            isinstance(node.payload, Measured) and node.payload.name not in never
        )
        alike.append(not asks and all(arg < len(alike) and alike[arg] for arg in node.args.values()))
    flags = [index for index, node in enumerate(style.nodes) if alike[index] and node.kind.word == "flag"]
    parts = alone(style, _Nobody(), np.zeros(1, dtype=np.intp), flags).parts
    values = parts[0].values if parts else {}  # what fails on every body is told when it is drawn
    return {index: bool(holding(values[index]).all()) for index in flags if index in values}
