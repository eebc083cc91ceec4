"""Measurements that the pieces of a body rest on and its file does not give."""

from __future__ import annotations

import numpy as np

from ..bodies.estimates import to_be_measured
from ..diagnostics.printing import place
from ..graph.evaluate import Part, drawn_from, rested_on
from ..meaning.style import CheckedStyle, Node
from .prepare import Prepared
from .results import Unmeasured


def estimated_on(style: CheckedStyle, prepared: Prepared, part: Part) -> list[tuple[Unmeasured, ...]]:
    """For each body of a part, measurements its pieces rest on and its file does not give: estimated, or found by a
    recipe's own rule."""
    people = prepared.population
    found: list[dict[str, str]] = [{} for _ in part.lanes]
    for index, bodies in sorted(rested_on(style, part, people, drawn_from(style)).items()):
        node = style.nodes[index]
        if node.op not in ("measure", "fallback"):
            continue
        name, rule = str(node.fixed["name"]), node.op == "fallback" and rule_of(style, node)
        for at in np.flatnonzero(bodies & ~people.value(name)[1][part.lanes]):
            if rule:
                wearer = prepared.bodies[int(part.lanes[at])].wearer
                found[at].setdefault(name, f"{rule}{to_be_measured(name, wearer)}")
            else:
                found[at][name] = people.in_short(name, int(part.lanes[at]))
    return [tuple(Unmeasured(name, how) for name, how in sorted(one.items())) for one in found]


def rule_of(style: CheckedStyle, node: Node) -> str:
    """Where the rule stands by which a recipe does without a measurement."""
    span = node.origin.span
    line, _ = place(style.texts[span.file], span.start)
    return f"by the rule at {span.file}:{line}"
