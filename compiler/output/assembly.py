"""The assembly in the report for reading: whether the seams make one garment, its openings, how much is sewn in each way."""

from __future__ import annotations

from collections.abc import Callable

from .columns import table
from .garment_records import AssemblyRecord, GarmentRecord, OpeningRecord
from .records import BodyRecord
from .summary import counted

MOST = 3
"""Of an opening of more edges than these the first and the last are named."""


def assembly_lines(garment: GarmentRecord, body: BodyRecord, say: Callable[[float], str]) -> list[str]:
    """The section of one body; in one line where the style says nothing of how it is sewn."""
    found = body.assembly
    if not garment.judged:
        return ["", garment.told]
    panels, seams = counted(len(garment.panels), "panel"), counted(len(garment.sewn), "seam")
    sentences = counted(len({one.name for one in body.seams}), "sentence")
    surface = _surface(found)
    head = f"assembly: {'holds' if found.holds else 'FAILS'}. {panels}, {seams} sewn from {sentences}{surface}"
    rows = [("opening", "girth", "open", "finished", "closures"), *(_opening(one, say) for one in found.openings)]
    many = [one.name for one in body.seams if one.times > 1]
    lengths = ", ".join(f"{one.sewn or 'in no way that is said'} {say(one.length_mm)}" for one in found.lengths)
    return [
        "",
        head,
        *(table(rows, (0, 3, 4)) if found.openings else []),
        *([f"  sewn more than once: {', '.join(many)}"] if many else []),
        *([f"  lengths sewn: {lengths}"] if lengths else []),
    ]


def _surface(found: AssemblyRecord) -> str:
    """`, one surface with 4 openings`."""
    if found.handles is None:
        return ""
    sheets = "one surface" if found.surfaces == 1 else f"{found.surfaces} surfaces"
    handles = f" and {counted(int(found.handles), 'loop')} of cloth" if found.handles >= 1 else ""
    return f", {sheets} with {counted(len(found.openings), 'opening')}{handles}"


def _opening(one: OpeningRecord, say: Callable[[float], str]) -> tuple[str, ...]:
    edges = [edge.replace("_", " ") for edge in one.edges]
    name = one.name.replace("_", " ") if len(edges) <= MOST or "+" not in one.name else f"{edges[0]} … {edges[-1]}"
    name += f" {one.half}" if one.half else ""
    opened = say(one.opened_mm) if one.closures else ""
    return name, say(one.girth_mm), opened, ", ".join(one.finished), ", ".join(one.closures)
