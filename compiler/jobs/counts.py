"""Counts that are the same in all sizes of a run: `sample_count of …` as the size has it on which the others are laid.

A nest with one dart in some sizes and two in others is none. So what the sample has is worked out first, and stands in all sizes
like a choice that is set: a size in a run is what it would be alone, given these counts. A body alone is its own sample.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ..diagnostics import grading_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..geometry.tolerances import SEW
from ..graph.evaluate import alone
from ..graph.resting import needed
from ..meaning.identity import fingerprint, identities
from ..meaning.payloads import Chosen, Constant, Of
from ..meaning.style import CheckedStyle, Node
from ..verbs import kinds as k
from ..verbs.measuring import SAMPLE_COUNT
from .numbers import in_unit
from .prepare import Prepared


def with_counts_of(prepared: Prepared, sample: str) -> Prepared:
    """The style with every `sample_count` as the body of that name has it; which others would have another is told.

    Where one fails on the sample they are left to each size: why it fails is told where that is drawn.
    """
    style = prepared.style
    if style is None or prepared.analysis is None:
        return prepared
    counts = [index for index in needed(style) if _is_count(style.nodes[index])]
    if not counts:
        return prepared
    wanted = _wanted(style, prepared, counts)
    settled = {node: found[sample] for node, found in wanted.items() if sample in found}
    nodes = [
        replace(node, payload=Constant(settled[index]), args={}) if index in settled else node
        for index, node in enumerate(style.nodes)
    ]
    made = replace(style, nodes=tuple(nodes), identities=identities(nodes))
    told = _told(prepared, style, made, wanted, settled, sample)
    sign = fingerprint(made) if told else prepared.fingerprint  # it stands on the sheets: these are not those of a body alone
    analysis = replace(prepared.analysis, style=made)
    return replace(prepared, analysis=analysis, diagnostics=(*prepared.diagnostics, *told), fingerprint=sign)


def _is_count(node: Node) -> bool:
    return isinstance(node.payload, Of) and node.payload.word == SAMPLE_COUNT


def _wanted(style: CheckedStyle, prepared: Prepared, counts: Sequence[int]) -> Mapping[int, Mapping[str, float]]:
    """By count what each body on which none fails would have alone."""
    people = prepared.population
    found: dict[int, dict[str, float]] = defaultdict(dict)
    for part in alone(style, people, np.arange(len(prepared.bodies), dtype=np.intp), counts).parts:
        for count in counts:
            value = np.broadcast_to(np.asarray(part.values[count], dtype=np.float64), part.lanes.shape)
            found[count].update(zip((people.lane_names[lane] for lane in part.lanes.tolist()), value.tolist(), strict=True))
    return found


def _told(
    prepared: Prepared,
    style: CheckedStyle,
    made: CheckedStyle,
    wanted: Mapping[int, Mapping[str, float]],
    settled: Mapping[int, float],
    sample: str,
) -> list[Diagnostic]:
    """What is told of the counts that `made` has from the sample, and `style` not."""
    found = []
    for node, count in settled.items():
        others: dict[float, list[str]] = defaultdict(list)
        for size, other in wanted[node].items():
            if other != count:
                others[other].append(size)
        if others:
            origin = style.origins[node]
            span = origin.trace[0].span if origin.trace else origin.span
            decided = _decided(prepared, style, made, node, [size for some in others.values() for size in some])
            found.append(words.held_count(span, origin.name or "a count", count, sample, others, decided))
    return found


def _decided(
    prepared: Prepared, style: CheckedStyle, made: CheckedStyle, count: int, sizes: Sequence[str]
) -> list[tuple[str, str, str, str]]:
    """The lengths that a count decides directly, as the width of a dart: each by its name, the size where it changes most, and
    how long it is there and would be alone."""
    nodes = [
        index
        for index in needed(style)
        if isinstance(style.nodes[index].payload, Chosen) and style.nodes[index].kind is k.LENGTH
        if count in style.nodes[style.nodes[index].args["test"]].args.values()
    ]
    say = in_unit(prepared.bodies[0].unit)
    run, alone_ = (_wanted(one, prepared, nodes) for one in (made, style))
    found = []
    for node in nodes:
        apart = {size: run[node][size] - alone_[node][size] for size in sizes if size in run[node] and size in alone_[node]}
        size = max(apart, key=lambda one: abs(apart[one]), default="")
        if size and abs(apart[size]) > SEW:
            found.append((style.origins[node].name, size, say(run[node][size]), say(alone_[node][size])))
    return found
