"""How far points move with each measurement and choice, and growth by cause, as text to read, as CSV, and as JSON."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Sequence

from .columns import table
from .growth import GUESSED, TURNS, shortened
from .rates_records import (
    BodyRatesRecord,
    CausedPieceRecord,
    CausedPointRecord,
    CausedStepRecord,
    PieceRatesRecord,
    PointRatesRecord,
    RateRecord,
    RatesReport,
    SourceRecord,
)

LEAST = 0.03
"""A rate below this (mm per mm) is left out of the text: a tape that is 5 mm off does not move the point by a pencil line."""

LEAST_PER = {"mm": LEAST, "degree": 0.1, "number": 1.0, "kg": 0.1}

LEAST_MM = 0.3
"""A cause that moves a point by less (mm) in every step is told among the others."""

CSV_HEAD = (
    "what", "at", "to", "piece", "point", "of", "unit", "by", "across", "up",
    "across_less", "up_less", "across_more", "up_more", "switches",
)  # fmt: skip

OTHERS, REST, GROWTH = "others", "rest", "growth"

Said = Callable[[float], str]


def rates_csv(report: RatesReport) -> str:
    """Rows `rate`: a point, what moves it, and how far per one of that; rows `growth`: a step of a point as the sum of rows with
    its causes and its rest."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(CSV_HEAD)
    for body in report.bodies:
        unit = {one.name: one.unit for one in body.sources}
        for piece in body.pieces:
            for point in piece.points:
                for one in point.rates:
                    six = (one.across, one.up, one.across_less, one.up_less, one.across_more, one.up_more)
                    numbers = ["" if number is None else f"{number:.6f}" for number in six]
                    own = ("rate", body.name, "", piece.name, point.name, one.of, unit[one.of], "")
                    writer.writerow((*own, *numbers, "yes" if one.switches else "no"))
    for grown in report.growth:
        for each in grown.points:
            for step in each.steps:
                writer.writerows(_growth_rows(report, grown.name, each.name, step))
    return out.getvalue()


def _growth_rows(report: RatesReport, piece: str, point: str, step: CausedStepRecord) -> Iterator[tuple[str, ...]]:
    unit = {one.name: one.unit for one in report.bodies[0].sources}
    own = ("growth", step.size_from, step.size_to, piece, point)
    end = ("", "", "", "", "yes" if step.turns else "no")
    for one in step.causes:
        yield (*own, one.of, unit[one.of], f"{one.by:.6f}", f"{one.across_mm:.6f}", f"{one.up_mm:.6f}", *end)
    yield (*own, REST, "", "", f"{step.rest_across_mm:.6f}", f"{step.rest_up_mm:.6f}", *end)


def rates_text(report: RatesReport, say: Said, unit: str) -> str:
    """The report to read: per piece and point what moves it; of a chart in the sample, and growth by cause. Lengths as `say`
    writes them, in a unit."""
    lines = [
        f"{report.style}, version {report.version}: how far points move per 1 of each measurement and choice",
        f"across is to the right as drawn, up is up; what moves a point by less than {LEAST} is left out",
    ]
    if report.chart is not None:
        lines.append(f"chart {report.chart}, in size {report.sample}")
    for body in report.bodies:
        if report.sample in (None, body.name):
            lines += _body(body, say, unit, report.chart is None)
    lines += [f"`{name}` is a yes or no: it has no rate" for name in report.without_rate]
    for grown in report.growth:
        lines += ["", *_grown(grown, say, unit)]
    return "\n".join(lines) + "\n"


def _body(body: BodyRatesRecord, say: Said, unit: str, named: bool) -> Iterator[str]:
    if named:
        yield from ("", body.name)
    held = [one.name for one in body.sources if not one.given]
    if held:
        yield f"`{GUESSED}` estimated, and held: {', '.join(held)}"
    yield from _told_of_sources(body)
    for piece in body.pieces:
        yield ""
        yield f"{piece.name}  (what lies still: {piece.laid_at}{'' if piece.stated else ', as nothing is said'})"
        yield from table(list(_piece(body, piece, say, unit)), (0, 1))


def _told_of_sources(body: BodyRatesRecord) -> Iterator[str]:
    for one in body.sources:
        for switched in one.switches:
            sentence = shortened(switched.sentence)
            yield f"`{one.name}` stands on a switch: `{sentence}` ({switched.place}) chooses otherwise with a little less or more"
    for one in body.sources:
        if one.is_choice and not one.moves:
            yield f"choice `{one.name}` moves nothing on {body.name}" + (f": {one.held_by}" if one.held_by else "")
    still = [one.name for one in body.sources if not one.is_choice and not one.moves]
    if still:
        yield f"asked for, and moves nothing: {', '.join(still)}"


def _piece(body: BodyRatesRecord, piece: PieceRatesRecord, say: Said, unit: str) -> Iterator[tuple[str, ...]]:
    known = {one.name: one for one in body.sources}
    yield ("point", "per 1 of", "across", "up", "")
    for point in piece.points:
        name = point.name
        for row in _point(known, point, say, unit):
            yield (name, *row)
            name = ""


def _point(
    known: dict[str, SourceRecord], point: PointRatesRecord, say: Said, unit: str
) -> Iterator[tuple[str, str, str, str]]:
    for one in point.rates:
        source = known[one.of]
        six = (one.across, one.up, one.across_less, one.up_less, one.across_more, one.up_more)
        if not one.switches and all(number is not None and abs(number) < LEAST_PER[source.unit] for number in six[:2]):
            continue
        mark = "" if source.given else f" {GUESSED}"
        for way, across, up in _ways(one):
            yield (f"{one.of}{mark}{way}", _rate(across, source, say), _rate(up, source, say), _per(source, unit))


def _ways(one: RateRecord) -> Sequence[tuple[str, float | None, float | None]]:
    if not one.switches:
        return [("", one.across, one.up)]
    return [(f", less {TURNS}", one.across_less, one.up_less), (f", more {TURNS}", one.across_more, one.up_more)]


def _rate(number: float | None, source: SourceRecord, say: Said) -> str:
    if number is None:
        return "cannot be drawn"
    if source.unit == "mm":
        return f"{0.0 if abs(number) < 0.005 else number:.2f}"
    return say(number)


def _per(source: SourceRecord, unit: str) -> str:
    return {"mm": "", "degree": f"{unit} per degree", "number": f"{unit} per 1", "kg": f"{unit} per kg"}[source.unit]


def _grown(piece: CausedPieceRecord, say: Said, unit: str) -> Iterator[str]:
    """The corners of a piece: growth, its causes and the rest, each way where there is any."""
    points = [one for one in piece.points if " notch" not in one.name]
    rows: list[tuple[str, ...]] = []
    for point in points:
        rows += _caused(point, say)
    if rows:
        steps = tuple(f"{one.size_from}-{one.size_to}" for one in points[0].steps)
        yield f"{piece.name}: growth by cause, in {unit}  (rate times step of the chart; `{TURNS}` a sentence switches)"
        yield from table([("point", "", "by", *steps, "in all"), *rows], (0, 1, 2))


def _caused(point: CausedPointRecord, say: Said) -> Iterator[tuple[str, ...]]:
    name = point.name
    for k, way in enumerate(("across", "up")):
        whole = [(one.across_mm, one.up_mm)[k] for one in point.steps]
        rest = [(one.rest_across_mm, one.rest_up_mm)[k] for one in point.steps]
        if max(map(abs, [*whole, *rest])) < LEAST_MM:
            continue
        marks = [TURNS if one.turns else " " for one in point.steps]
        yield (name, way, GROWTH, *(f"{say(mm)}{mark}" for mm, mark in zip(whole, marks, strict=True)), say(sum(whole)))
        causes = [{one.of: (one.across_mm, one.up_mm)[k] for one in step.causes} for step in point.steps]
        others = [0.0] * len(whole)
        for of in dict.fromkeys(of for step in causes for of in step):
            row = [step.get(of, 0.0) for step in causes]
            if max(map(abs, row)) < LEAST_MM:
                others = [a + b for a, b in zip(others, row, strict=True)]
            else:
                yield ("", "", of, *(f"{say(mm)} " for mm in row), say(sum(row)))
        for label, row in ((OTHERS, others), (REST, rest)):
            yield ("", "", label, *(f"{say(mm)} " for mm in row), say(sum(row)))
        name = ""
