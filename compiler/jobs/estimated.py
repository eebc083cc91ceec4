"""Measurements that the pieces of a body rest on and its file does not give."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

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
    """For each body of a part, measurements its garment rests on and its file does not give: estimated, or found by a
    recipe's own rule; and the pieces that rest on each."""
    people = prepared.population
    found: list[dict[str, tuple[str, str]]] = [{} for _ in part.lanes]
    for index, name, bodies in _not_given(style, prepared, part, drawn_from(style)):
        rule = rule_of(style, index) if isinstance(style.nodes[index].payload, Fallback) else ""
        for at in bodies:
            if rule:
                wearer = prepared.bodies[int(part.lanes[at])].wearer
                found[at].setdefault(name, (f"{rule}{to_be_measured(name, wearer)}", rule))
            else:
                found[at][name] = people.in_short(name, int(part.lanes[at])), ""
    acts = _on_pieces(style, prepared, part) if any(found) else {}
    return [
        tuple(Unmeasured(name, how, rule, tuple(acts.get((name, at), {}))) for name, (how, rule) in sorted(one.items()))
        for at, one in enumerate(found)
    ]


def _on_pieces(style: CheckedStyle, prepared: Prepared, part: Part) -> dict[tuple[str, int], dict[str, None]]:
    """By measurement, and body by its place in a part, the pieces that rest on what stands in for it."""
    found: dict[tuple[str, int], dict[str, None]] = {}
    for piece, node in style.pieces.items():
        for _, name, bodies in _not_given(style, prepared, part, [node]):
            for at in bodies:
                found.setdefault((name, at), {})[piece] = None
    return found


def _not_given(
    style: CheckedStyle, prepared: Prepared, part: Part, results: Sequence[int]
) -> Iterator[tuple[int, str, list[int]]]:
    """The nodes that ask for a measurement and that results rest on, with its name, and the bodies, by their place in a part,
    whose files do not give it."""
    people = prepared.population
    for index, bodies in sorted(rested_on(style, part, people, results).items()):
        asked = style.nodes[index].payload
        if isinstance(asked, Measure | Fallback):
            yield index, asked.name, np.flatnonzero(bodies & ~people.value(asked.name)[1][part.lanes]).tolist()


def rule_of(style: CheckedStyle, index: int) -> str:
    """Where the rule stands by which a recipe does without a measurement."""
    span = style.origins[index].span
    line, _ = place(style.texts[span.file], span.start)
    return f"by the rule at {span.file}:{line}"


def how_found(prepared: Prepared, missing: Unmeasured, lane: int) -> str:
    """What stands in for a measurement of a body, without its number: the same of all bodies for whom it is found so."""
    return missing.rule or prepared.population.rule(missing.name, lane)
