"""What results rest on, body by body: only the arm of a choice that a body takes, only the rule that stood in for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from ..graph.evaluate import Part
from ..graph.operations import People, holds
from ..meaning.style import CheckedStyle, Node
from ..verbs.values import Mask


def unmeasured(style: CheckedStyle, part: Part, people: People, results: Iterable[int]) -> Mapping[int, Mask]:
    """By node of a measurement, the bodies (L,) of a part on whom the results rest on it and whom nobody measured there."""
    found: dict[int, Mask] = {}
    for index, active in _active(style, part, people, results).items():
        node = style.nodes[index]
        if node.op in ("measure", "fallback"):
            missing = active & ~people.value(str(node.fixed["name"]))[1][part.lanes]
            if missing.any():
                found[index] = missing
    return dict(sorted(found.items()))


def _active(style: CheckedStyle, part: Part, people: People, results: Iterable[int]) -> dict[int, Mask]:
    """By node, the bodies (L,) on whom the results rest on it."""
    everybody = np.ones(part.lanes.shape, dtype=bool)
    active: dict[int, Mask] = {}
    waiting = [(index, everybody) for index in results]
    while waiting:
        index, lanes = waiting.pop()
        before = active.get(index)
        if before is not None:
            lanes = lanes & ~before
        if lanes.any():
            active[index] = lanes if before is None else before | lanes
            waiting += [(arg, taken) for arg, taken in _inputs(style.nodes[index], part, people, lanes) if taken.any()]
    return active


def _inputs(node: Node, part: Part, people: People, lanes: Mask) -> list[tuple[int, Mask]]:
    """What a node is made from, and on which bodies it is."""
    args = [(name, arg, lanes) for name, arg in node.args.items()]
    if node.op == "fallback":
        taken = people.value(str(node.fixed["name"]))[1][part.lanes]
        args = [(name, arg, lanes & ~taken) for name, arg, _ in args]
    elif node.op == "chosen" and node.args["test"] in part.values:
        test = np.broadcast_to(holds(part.values[node.args["test"]]), lanes.shape)
        by_arm = {"first": lanes & test, "second": lanes & ~test}
        args = [(name, arg, by_arm.get(name, lanes)) for name, arg, _ in args]
    sides = [node.fixed["left"], node.fixed["right"]] if node.op == "solve" else []
    return [*((arg, taken) for _, arg, taken in args), *((side, lanes) for side in sides)]
