"""Measurements that the pieces of a body rest on and its file does not give."""

from __future__ import annotations

import numpy as np

from ..bodies.vocabulary import Wearer, vocabulary
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
                found[at].setdefault(name, rule)
            else:
                found[at][name] = people.history(name, int(part.lanes[at]))
    wearers = [prepared.bodies[lane].wearer for lane in part.lanes.tolist()]
    return [
        tuple(Unmeasured(name, how + _if_trunk(name, wearer)) for name, how in sorted(one.items()))
        for one, wearer in zip(found, wearers, strict=True)
    ]


def _if_trunk(name: str, wearer: Wearer) -> str:
    entry = vocabulary()[name]
    unsure = entry.trunk and entry.is_asked_of(wearer)
    return "; a length of the trunk, which nothing tells well: measure it" if unsure else ""


def rule_of(style: CheckedStyle, index: int) -> str:
    """Where the rule stands by which a recipe does without a measurement."""
    span = style.origins[index].span
    line, _ = place(style.texts[span.file], span.start)
    return f"by the rule at {span.file}:{line}"
