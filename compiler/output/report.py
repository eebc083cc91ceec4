"""A report as text and as JSON, written body by body. It takes records; what they mean is settled before."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import fields

from .assembly import assembly_lines
from .columns import edges_by_name, table
from .garment_records import GarmentRecord
from .json_text import json_line
from .records import BodyRecord, EdgeLength, ReportHead, SeamRecord, Tidings, ToldRecord
from .specification import MOST_BODIES, Say, Unit, body_lines, goes_with_lines, sizes_lines
from .summary import answers, folded, summary

Said = Callable[[float], str]
"""How a length of one body is written."""

Warnings = Callable[[], Sequence[str]]
"""The printed warnings of all bodies, asked for when the last was written."""


def json_parts(head: ReportHead, bodies: Iterable[BodyRecord], warnings: Warnings) -> Iterator[str]:
    """The report as JSON, keys in the order of its records; each body in a line of its own."""
    rows = [f"{json_line(one.name)}: {json_line(getattr(head, one.name))}" for one in fields(ReportHead)]
    yield "{\n" + ",\n".join(rows) + ',\n"bodies": ['
    for number, body in enumerate(bodies):
        yield (",\n" if number else "\n") + json_line(body)
    yield f'\n],\n"warnings": {json_line(warnings())}\n}}\n'


def text_parts(head: ReportHead, bodies: Iterable[BodyRecord], warnings: Warnings, say: Say, area: Say) -> Iterator[str]:
    """The report for reading, lengths and areas as `say` and `area` write them: what holds of the style, a section for each body,
    a table for pieces and one for seams. What is told of a few bodies side by side stands before them: so many are waited for.
    Cloths, ways of sewing and care stand before the first body, and again before one for which they are others."""
    origin = "".join(f", built from {title}" for title in head.built_from)
    measured = "lengths in mm, in inches for a body measured so; on the sewing line, darts closed"
    heading = f"{head.style}, version {head.fingerprint}{origin}  ({measured})"
    coming = iter(bodies)
    first = _first(coming, MOST_BODIES + 1)
    yield _lines([heading, *sizes_lines(first, say)])
    said: list[str] = []
    for body in itertools.chain(first, coming):
        goes_with = goes_with_lines(body, say) if body.pieces else said
        yield _lines([*(goes_with if goes_with != said else []), *_body(head.assembly, body, say, area)])
        said = goes_with
    for warning in warnings():
        yield _lines(["", warning])


def _first(bodies: Iterator[BodyRecord], sound: int) -> list[BodyRecord]:
    """The first bodies, until so many of them can be drawn."""
    found: list[BodyRecord] = []
    for body in bodies:
        found.append(body)
        sound -= bool(body.pieces)
        if not sound:
            break
    return found


def _lines(lines: Sequence[str]) -> str:
    return "".join(f"{line}\n" for line in lines)


def _body(garment: GarmentRecord, body: BodyRecord, say: Say, area: Say) -> list[str]:
    lines = ["", body.name, "=" * len(body.name), _summary(body) if body.pieces else "cannot be drawn", *body.cautions]
    if body.estimated:
        lines.append("not measured (estimates with their standard deviation; `explain` tells how they are made):")
        lines += [f"  {name}: {how}" for name, how in body.estimated_how.items()]
    lines += [f"told: {_tidings(one)}" for one in body.tidings]
    for error in body.errors:
        lines += ["", error]
    lines += body_lines(body, say)
    unit = body.unit

    def said(mm: float) -> str:
        return say(mm, unit)

    for piece in body.pieces:
        lines += ["", f"{piece.name}: {piece.cut}, area {area(piece.area_mm2, unit)}"]
        lines += table([_edge(edge, said) for edge in _whole(piece.edges)], (0, 3))
        lines += [f"  {_told(told, said)}" for told in piece.told]
        lines += [f"  {remark}" for remark in piece.remarks]
        lines += [f"  not measured: {', '.join(one.replace('_', ' ') for one in piece.estimated)}"] if piece.estimated else []
    if body.seams:
        lines += ["", "seams"]
        lines += table([_seam(seam, said, unit) for seam in body.seams], (0, 3, 4, 5))
        lines += [f"  {seam.name}, {one.told}" for seam in body.seams for one in seam.stretches]
    lines += assembly_lines(garment, body, said) if body.seams else []
    told = [check for check in body.checks if check.own or not check.holds]
    if body.checks:
        lines += ["", "checks"]
        lines += [f"  {'holds' if one.holds else 'FAILS'}  {one.name}: {one.text}{_paren(one.figures)}" for one in told]
        lines += [f"  holds  {rest}"] if (rest := folded(body.checks)) else []
    return lines


def _summary(body: BodyRecord) -> str:
    """How much of what must hold of a body does."""
    return summary(len(body.pieces), answers(body.checks, body.seams, body.closures, body.fit))


def _tidings(one: Tidings) -> str:
    return f"{one.name}: {one.text or one.condition}{_paren(one.figures)}"


def _whole(edges: Sequence[EdgeLength]) -> list[EdgeLength]:
    """Edges, without the strips, gaps and underlays they consist of where they were slashed, joined or pleated."""
    names = {edge.name for edge in edges}
    apart = [edge.name.rpartition(".") for edge in edges]
    shown = [over not in names and not part.endswith("underlay") for over, _, part in apart]
    return list(itertools.compress(edges, shown))


def _edge(edge: EdgeLength, say: Said) -> tuple[str, str, str, str]:
    allowed = f"allowance {say(edge.allowance_mm)}" if edge.allowance_mm else ""
    if edge.allowance_mm is None:
        allowed = "allowance by its parts"
    under = f"{say(edge.under_mm)} of it turned under" if edge.under_mm else ""
    return edges_by_name([edge.name]), say(edge.length_mm), allowed, under


def _told(told: ToldRecord, say: Said) -> str:
    """What an operation reports, in one line: `hem: slashed and spread, before 412.0, after 492.0, ratio 1.19`."""
    where = f"{told.edge}: " if told.edge else ""
    lengths = [f"{name} {say(value)}" for name, value in told.lengths_mm.items()]
    ratios = [f"{name} {value:.2f}" for name, value in told.ratios.items()]
    return where + ", ".join([told.what, *lengths, *ratios])


def _seam(seam: SeamRecord, say: Said, unit: Unit) -> tuple[str, ...]:
    difference = round(seam.left_mm - seam.right_mm, 1) + 0.0  # without a negative zero
    by = f"{'-' if difference < 0 else '+'}{say(abs(difference))}"
    if unit == "in" and not seam.holds:  # less than a sixteenth may be what is wrong
        by += f" ({difference:+.1f} mm)"
    told = {
        "joins": f"difference {by}",
        "eases": f"ease {by.removeprefix('+')}",
        "gathers": "gathered to nothing" if seam.ratio is None else f"gathered {seam.ratio:.2f} to 1",
    }[seam.how]
    holds = "holds" if seam.holds else "FAILS"
    return (seam.name, say(seam.left_mm), say(seam.right_mm), told, holds, _notches(seam, say, unit))


def _ease_between(seam: SeamRecord, say: Said) -> str:
    """How the ease of a seam lies between its notches."""
    ahead = [0.0, *(one.left_mm - one.right_mm for one in seam.notches), seam.left_mm - seam.right_mm]
    return "ease " + ", ".join(say(round(after - before, 1) + 0.0) for before, after in itertools.pairwise(ahead))


def _notches(seam: SeamRecord, say: Said, unit: Unit) -> str:
    """Where notches meet, from the start of the second side; where two do not, by how much, from the start of each, and in how
    many strokes they differ."""
    if not seam.notches:
        return ""
    if seam.notches_agree:
        told = "notches at " + ", ".join(say(one.right_mm) if unit == "in" else f"{one.right_mm:.0f}" for one in seam.notches)
        return told + (f"; {_ease_between(seam, say)}" if seam.how == "eases" else "")
    worst = max((one for one in seam.notches if not one.agrees), key=lambda one: one.gap_mm)
    exact = f" ({worst.gap_mm:.1f} mm)" if unit == "in" else ""
    unlike = 0 < worst.left_strokes != worst.right_strokes > 0
    strokes = f", {worst.left_strokes} and {worst.right_strokes} strokes" if unlike else ""
    told = f"at {say(worst.left_mm)} meets {say(worst.right_mm)}: off by {say(worst.gap_mm)}{exact}{strokes}"
    return f"notch {told}, within what sewing is off by" if seam.holds and not unlike else f"NOTCH {told}"


def _paren(text: str) -> str:
    return f"  ({text})" if text else ""
