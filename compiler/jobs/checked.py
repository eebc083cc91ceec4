"""Checks, and what is told, on each body, with their figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from ..bodies.units import Unit
from ..graph.evaluate import Evaluated, Part, alone
from ..meaning.payloads import Comparison, Inverse, Joint
from ..meaning.style import CheckedStyle, NamedCheck
from ..output.records import CheckResult
from .numbers import column, quantity, told_apart
from .prepare import Prepared


def checked(style: CheckedStyle, check: NamedCheck, part: Part, prepared: Prepared) -> list[CheckResult]:
    """A check on every body, its numbers in the body's unit."""
    held = [bool(one) for one in column(part.values[check.node], part.lanes.size)]
    units = [prepared.bodies[lane].unit for lane in part.lanes.tolist()]
    figures = [""] * len(held) if prepared.counted else _figures(style, part, check.node, units, held)
    rows = zip(held, figures, strict=True)
    return [CheckResult(check.name, check.written, holds, figures, check.text, check.own) for holds, figures in rows]


def told_all_the_same(style: CheckedStyle, prepared: Prepared, evaluated: Evaluated) -> dict[int, tuple[CheckResult, ...]]:
    """Of bodies that cannot be drawn, the checks that fail before what cannot be drawn: they say why, in the style's words."""
    found: dict[int, tuple[CheckResult, ...]] = {}
    lanes = np.array(sorted({one.lane for one in evaluated.failures}), dtype=np.intp)
    for check in style.checks if lanes.size else ():
        for part in alone(style, prepared.population, lanes, [check.node]).parts:
            for lane, row in zip(part.lanes.tolist(), checked(style, check, part, prepared), strict=True):
                found[lane] = (*found.get(lane, ()), *(() if row.holds else (row,)))
    return found


def _figures(style: CheckedStyle, part: Part, index: int, units: Sequence[Unit], held: Sequence[bool]) -> list[str]:
    """For each body the numbers a check compares, for its line: the two sides of the comparison; of several what they compare."""
    node, count = style.nodes[index], part.lanes.size
    compared: list[int] = []
    if isinstance(node.payload, Comparison):
        compared = [node.args[name] for name in ("left", "right", "extra") if name in node.args]
    elif isinstance(node.payload, Joint):
        compared = list(dict.fromkeys(_compared(style, index)))
    columns = [(style.nodes[arg].kind.word, column(part.values[arg], count)) for arg in compared]
    rows = ([(kind, numbers[at]) for kind, numbers in columns] for at in range(count))
    return [
        ", ".join([quantity(value, kind, unit) for kind, value in row] if holds else told_apart(row, unit))
        for row, unit, holds in zip(rows, units, held, strict=True)
    ]


def _compared(style: CheckedStyle, index: int) -> Iterator[int]:
    """What the comparisons that are joined by `and` and `or` compare: their first sides."""
    node = style.nodes[index]
    if isinstance(node.payload, Comparison):
        yield node.args["left"]
    elif isinstance(node.payload, Joint | Inverse):
        for one in node.args.values():
            yield from _compared(style, one)
