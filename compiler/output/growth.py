"""The growth of a style over sizes as text to read, as CSV, and as JSON. It takes records."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from .columns import table
from .growth_records import (
    EdgeGrowthRecord,
    FinishedGrowthRecord,
    GrowthReport,
    PieceGrowthRecord,
    PointRecord,
    SwitchRecord,
    UnseenRecord,
)

TURNS, GUESSED, LIKE = "!", "~", "="
SHORTENED = 110
"""Sentences are told up to so many letters."""

MOST_POINTS = 3
"""So many points that turn are named."""

CSV_HEAD = (
    "piece", "point", "size_from", "size_to", "across_mm", "up_mm", "across_from_sample_mm", "up_from_sample_mm", "turns",
)

Said = Callable[[float], str]


def growth_csv(report: GrowthReport) -> str:
    """A row for each step of each point; `…_from_sample_mm` are those of the size it leads to."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(CSV_HEAD)
    for piece in report.pieces:
        for point in piece.points:
            for k, step in enumerate(point.steps, 1):
                away = (point.across_from_sample_mm[k], point.up_from_sample_mm[k])
                numbers = (f"{one:.3f}" for one in (step.across_mm, step.up_mm, *away))
                writer.writerow((piece.name, point.name, step.size_from, step.size_to, *numbers, "yes" if step.turns else "no"))
    return out.getvalue()


def growth_text(report: GrowthReport, say: Said, unit: str) -> str:
    """The report to read, lengths as `say` writes them, in a unit: growth a step piece by piece, finished measurements, why it is
    uneven."""
    lines = [
        f"{report.style}, version {report.version}: growth from size to size  (lengths in {unit})",
        f"chart {report.chart}" + (f" ({report.source})" if report.source else "") + f", laid on {report.sample}",
        f"across is to the right as drawn, up is up; `{TURNS}` a sentence switches in this step and the point turns",
    ]
    if report.estimated_rows:
        lines.append(f"`{GUESSED}` rests on estimates: {', '.join(report.estimated_rows)}")
    for piece in report.pieces:
        lines += ["", *_piece(report, piece, say)]
    if report.finished:
        lines += ["", *_finished(report, say)]
    return "\n".join([*lines, "", *_switches(report.switches, say), *map(_unseen, report.unseen)]) + "\n"


def _steps(sizes: Sequence[str]) -> tuple[str, ...]:
    return tuple(f"{a}-{b}" for a, b in pairwise(sizes))


def _piece(report: GrowthReport, piece: PieceGrowthRecord, say: Said) -> Iterator[str]:
    guessed = f" {GUESSED}" if piece.estimated else ""
    yield f"{piece.name}{guessed}  (sizes laid at {piece.laid_at}{'' if piece.stated else ', as nothing is said'})"
    rows = [("point", "", *_steps(report.sizes), "in all")]
    for point in piece.points:
        rows += _point(point, say)
    yield from table(rows, (0, 1))
    edges = [one for one in piece.edges if not _is_leg(one)]
    yield from table([("edge", *_steps(report.sizes), "in all"), *(_edge(one, say) for one in edges)] if edges else [])
    crossing: dict[str, list[str]] = {}
    for one in piece.crossings:
        crossing.setdefault(one.edge, []).append(f"{one.size_from}-{one.size_to} by {say(one.by_mm)}")
    for edge, some in crossing.items():
        yield f"  lines cross along {edge}: {', '.join(some)}"


def _is_leg(edge: EdgeGrowthRecord) -> bool:
    return "." in edge.name


def _edge(edge: EdgeGrowthRecord, say: Said) -> tuple[str, ...]:
    steps = (b - a for a, b in pairwise(edge.sizes_mm))
    return (edge.name, *(say(step) for step in steps), say(edge.sizes_mm[-1] - edge.sizes_mm[0]))


def _point(point: PointRecord, say: Said) -> Iterator[tuple[str, ...]]:
    across = [(step.across_mm, step.turns) for step in point.steps]
    up = [(step.up_mm, step.turns) for step in point.steps]
    for name, way, numbers in ((point.name, "across", across), ("", "up", up)):
        cells = [f"{say(number)}{TURNS if turns else ' '}" for number, turns in numbers]
        yield (name, way, *cells, say(sum(number for number, _ in numbers)))


def _finished(report: GrowthReport, say: Said) -> Iterator[str]:
    yield f"finished measurements  (`{LIKE}` a size and the next overlap within their tolerances)"
    rows = [("", *report.sizes, "tolerance")]
    for one in report.finished:
        marks = [*(LIKE if overlap else " " for overlap in one.overlaps), " "]
        rows.append((one.name, *(f"{say(mm)}{mark}" for mm, mark in zip(one.sizes_mm, marks, strict=True)), _tolerance(one, say)))
    yield from table(rows)


def _tolerance(one: FinishedGrowthRecord, say: Said) -> str:
    over, under = say(max(one.over_mm)), say(max(one.under_mm))
    return f"+-{over}" if over == under else f"+{over} -{under}"


def _switches(found: Sequence[SwitchRecord], say: Said) -> Iterator[str]:
    if not found:
        yield "no sentence switches so that a point turns"
        return
    yield "why steps are uneven"
    for one in found:
        count = len(one.points)
        yield f"  between {one.size_from} and {one.size_to} {count} {'point turns' if count == 1 else 'points turn'}:"
        for each in one.sentences:
            girth = "" if each.at_mm is None else f" (girth {say(each.at_mm)})"
            yield f"    {each.place}{girth}: `{shortened(each.sentence)}`"
            yield f"        takes `{each.after}` instead of `{each.before}`"
        for point in one.points[:MOST_POINTS]:
            before, after = (
                f"{say(across)} across, {say(up)} up"
                for across, up in (
                    (point.across_before_mm, point.up_before_mm),
                    (point.across_after_mm, point.up_after_mm),
                )
            )
            yield f"    {point.piece}: {point.point} grows {before} a step before, {after} behind"
        if count > MOST_POINTS:
            yield f"    and {count - MOST_POINTS} more"


def shortened(sentence: str) -> str:
    """A sentence as it is told."""
    return sentence if len(sentence) <= SHORTENED else sentence[:SHORTENED].rstrip() + " …"


def _unseen(one: UnseenRecord) -> str:
    count = len(one.at)
    where = f"{count} {'place' if count == 1 else 'places'} between {one.size_from} and {one.size_to}"
    return f"not drawn at {where}, so that what switches there is not known: {', '.join(one.pieces)}"
