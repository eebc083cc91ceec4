"""The specification of a style on one body: what is attached to its pieces, as rows of plain values.

Lengths in mm, weights in grams per square metre, shrinkage as shares. A report prints the rows; a sheet may draw them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from ..graph.evaluate import Part
from ..meaning.payloads import EdgeOf
from ..meaning.style import CheckedStyle
from ..output.records import CareRow, ClosureRow, ClothRow, FinishedRow, SewingRow, ShownRow, TrimRow
from ..pattern.piece import Reals
from ..verbs.attached import Attached, Care, Closure, Cloth, Finished, Sewing, Shown, Trim
from ..verbs.specification import suffices
from ..verbs.standards import meaning
from ..verbs.values import listed
from .numbers import number_at
from .sizes import Sizes


@dataclass(frozen=True)
class Specification:
    """All rows of one body, in the order of the style."""

    finished: tuple[FinishedRow, ...] = ()
    shown: tuple[ShownRow, ...] = ()
    cloths: tuple[ClothRow, ...] = ()
    trims: tuple[TrimRow, ...] = ()
    closures: tuple[ClosureRow, ...] = ()
    sewing: tuple[SewingRow, ...] = ()
    care: tuple[CareRow, ...] = ()

    @property
    def holds(self) -> bool:
        return all(closure.holds for closure in self.closures)


Kind = TypeVar("Kind", bound=Attached)


def specification(style: CheckedStyle, part: Part, lane: int, sizes: Sizes) -> Specification:
    """The rows of the body at place `lane` of a part."""

    def each(kind: type[Kind]) -> list[tuple[str, Kind, str]]:
        values = ((name, part.values[node]) for name, node in style.attached.items())
        return [(name, value, style.notes.get(name, "")) for name, value in values if isinstance(value, kind)]

    return Specification(
        tuple(
            FinishedRow(
                name,
                number_at(value.value, lane),
                number_at(value.over, lane),
                number_at(value.under, lane),
                text,
                sizes[name],
            )
            for name, value, text in each(Finished)
        ),
        tuple(_shown(style, name, value, text, lane) for name, value, text in each(Shown)),
        tuple(_cloth(name, value, text, lane) for name, value, text in each(Cloth)),
        tuple(_trim(style, name, value, text, lane, sizes[name]) for name, value, text in each(Trim)),
        tuple(_closure(style, name, value, text, lane, sizes[name]) for name, value, text in each(Closure)),
        tuple(_sewing(style, name, value, text, lane) for name, value, text in each(Sewing)),
        tuple(CareRow(name, _care(value), text) for name, value, text in each(Care)),
    )


def _maybe(value: Reals | None, lane: int) -> float | None:
    return None if value is None else number_at(value, lane)


def _shown(style: CheckedStyle, name: str, value: Shown, text: str, lane: int) -> ShownRow:
    kind = style.nodes[style.nodes[style.attached[name]].args["measures"]].kind.word
    number = number_at(value.value, lane)
    return ShownRow(name, kind, math.degrees(number) if kind == "angle" else number, text)


def _cloth(name: str, value: Cloth, text: str, lane: int) -> ClothRow:
    shares = (value.weight, value.shrinks_along, value.shrinks_across, value.stretch)
    weight, along, across, stretch = (_maybe(one, lane) for one in shares)
    return ClothRow(name, number_at(value.width, lane), weight, value.nap, along, across, stretch, text)


def _trim(style: CheckedStyle, name: str, value: Trim, text: str, lane: int, sizes: tuple[str, ...]) -> TrimRow:
    drawn = style.nodes[style.attached[name]].args.get("draws")
    where = () if drawn is None else tuple(dict.fromkeys(named_places(style, drawn)))
    count = _maybe(value.count, lane)
    whole = None if count is None else round(count)
    drawn_mm = _maybe(value.drawn, lane)
    amount, width = _maybe(value.amount, lane), _maybe(value.width, lane)
    return TrimRow(name, amount, whole, where, value.counted, drawn_mm, value.many, width, text, sizes)


def _closure(
    style: CheckedStyle, name: str, value: Closure, text: str, lane: int, sizes: tuple[str, ...]
) -> ClosureRow:
    long, place = number_at(value.long, lane), number_at(value.place, lane)
    girth, lapping, passes, needed = (_maybe(one, lane) for one in (value.girth, value.lapping, value.passes, value.needed))
    held = suffices(value)
    args = style.nodes[style.attached[name]].args
    where, by = named_places(style, args["in"]), closed_by(style, args)
    holds = bool(held[lane if held.size > 1 else 0])
    return ClosureRow(name, where, long, place, by, girth, lapping, passes, needed, value.on, holds, text, sizes)


def closed_by(style: CheckedStyle, args: Mapping[str, int]) -> tuple[str, ...]:
    """The trims that the words of a closure name."""
    names = {node: name for name, node in style.attached.items()}
    return tuple(names[arg] for arg in listed(args, "closed_by") if arg in names)


def _sewing(style: CheckedStyle, name: str, value: Sewing, text: str, lane: int) -> SewingRow:
    kind, neatened = value.seam_type, value.neatened
    on = style.nodes[style.attached[name]].args.get("on")
    return SewingRow(
        name,
        value.stitch,
        meaning("stitch", value.stitch),
        kind,
        meaning("seam", kind) if kind else "",
        neatened,
        meaning("stitch", neatened) if neatened else "",
        _maybe(value.stitch_length, lane),
        () if on is None else named_places(style, on),
        text,
    )


def _care(value: Care) -> tuple[str, ...]:
    mild = "" if value.action == "normal" else f", {value.action.replace('_', ' ')}"
    said = [meaning("washing", value.washing) + mild]
    for name in ("bleaching", "tumbling", "drying", "ironing", "cleaning"):
        written = getattr(value, name)
        said += [meaning(name, written)] if written is not None else []
    return tuple(said)


def named_places(style: CheckedStyle, index: int) -> tuple[str, ...]:
    """A seam by its name, or `piece.edge` for each edge of an edge or a run; pieces by the name they are defined under."""
    seam = next((name for name, node in style.seams.items() if node == index), None)
    if seam is not None:
        return (seam,)
    node = style.nodes[index]
    if isinstance(node.payload, EdgeOf):
        owner = next((name for name, one in style.names.items() if one == node.args["piece"]), "")
        return (f"{owner}.{node.payload.name}",)
    return tuple(name for arg in node.args.values() for name in named_places(style, arg))
