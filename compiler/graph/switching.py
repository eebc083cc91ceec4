"""Which arm the sentences take that choose between values: `when`, and `larger of` or `smaller of`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..meaning.payloads import Chosen, Extreme
from ..meaning.style import CheckedStyle
from .evaluate import Evaluated, Part, rested_on
from .operations import BodyTable, Group, chosen_by

Arms = NDArray[np.intp]
Reals = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Choosing:
    """A node that chooses, on bodies: the number of the `arms` (bodies,) it takes, -1 where it is not rested on or nothing is
    known of the body; its `values` (bodies,), mm, radians or bare, NaN where it is no number; and the `margin` (bodies,) between
    the arm it takes and the next, NaN where that is not known."""

    arms: Arms
    values: Reals
    margin: Reals


def choosing(style: CheckedStyle, evaluated: Evaluated, people: BodyTable, results: Iterable[int]) -> Mapping[int, Choosing]:
    """Every node that chooses and on which some of the results rest."""
    found: dict[int, Choosing] = {}
    count, wanted = len(people.lane_names), tuple(results)
    for part in evaluated.parts:
        for index, rested in rested_on(style, part, people, wanted).items():
            arms, margin = _arms(style, part, people, index)
            if arms is not None:
                empty = (np.full(count, -1, dtype=np.intp), np.full(count, np.nan), np.full(count, np.nan))
                one = found.setdefault(index, Choosing(*empty))
                one.margin[part.lanes] = margin
                one.arms[part.lanes] = np.where(rested, np.broadcast_to(arms, part.lanes.shape), -1)
                value = part.values[index]
                if isinstance(value, np.ndarray) and value.ndim == 1:
                    one.values[part.lanes] = value
    return found


def _arms(style: CheckedStyle, part: Part, people: BodyTable, index: int) -> tuple[Arms | None, Reals]:
    node, unknown = style.nodes[index], np.full(part.lanes.shape, np.nan)
    if isinstance(node.payload, Chosen) and node.args["test"] in part.values:
        first = chosen_by(node, part.values, Group(people, part.lanes, style.chosen))
        return np.where(first, 0, 1).astype(np.intp), unknown
    if isinstance(node.payload, Extreme) and all(arg in part.values for arg in node.args.values()):
        values = [np.asarray(part.values[arg], dtype=np.float64) for arg in node.args.values()]
        rows = np.stack([np.broadcast_to(one, part.lanes.shape) for one in values])
        rows = rows if node.payload.word == "larger" else -rows
        first, second = np.sort(rows, axis=0)[::-1][:2]
        return np.argmax(rows, axis=0).astype(np.intp), first - second
    return None, unknown
