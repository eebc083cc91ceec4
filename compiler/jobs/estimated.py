"""Measurements that the pieces of a body rest on and its file does not give."""

from __future__ import annotations

import numpy as np

from ..bodies.estimates import to_be_measured
from ..diagnostics.printing import place
from ..graph.evaluate import Part, rested_on
from ..graph.resting import drawn_from
from ..meaning.payloads import Fallback, Measure
from ..meaning.style import CheckedStyle
from .prepare import Prepared
from .results import Unmeasured


def estimated_on(style: CheckedStyle, prepared: Prepared, part: Part) -> list[tuple[Unmeasured, ...]]:
    """For each body of a part, measurements its pieces rest on and its file does not give: estimated, or found by a
    recipe's own rule."""
    people = prepared.population
    found: list[dict[str, str]] = [{} for _ in part.lanes]
    for index, bodies in sorted(rested_on(style, part, people, drawn_from(style)).items()):
        asked = style.nodes[index].payload
        if not isinstance(asked, Measure | Fallback):
            continue
        name, rule = asked.name, isinstance(asked, Fallback) and rule_of(style, index)
        for at in np.flatnonzero(bodies & ~people.value(name)[1][part.lanes]):
            if rule:
                wearer = prepared.bodies[int(part.lanes[at])].wearer
                found[at].setdefault(name, f"{rule}{to_be_measured(name, wearer)}")
            else:
                found[at][name] = people.in_short(name, int(part.lanes[at]))
    return [tuple(Unmeasured(name, how) for name, how in sorted(one.items())) for one in found]


def rule_of(style: CheckedStyle, index: int) -> str:
    """Where the rule stands by which a recipe does without a measurement."""
    span = style.origins[index].span
    line, _ = place(style.texts[span.file], span.start)
    return f"by the rule at {span.file}:{line}"
