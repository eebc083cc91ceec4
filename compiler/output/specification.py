"""The specification as text: what goes with the style once, and what each body adds. It takes the records of the report."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import zip_longest
from textwrap import wrap
from typing import Literal

from .columns import edges_by_name, table
from .garment_records import StepRecord
from .records import (
    BodyRecord,
    CareRow,
    ClosureRow,
    ClothRow,
    CutListPiece,
    FinishedRow,
    FitRecord,
    SeamRecord,
    SewingRow,
    ShownRow,
    TrimRow,
)

SizedRow = FinishedRow | TrimRow | ClosureRow
"""Rows whose values may differ from size to size."""

Row = SizedRow | ClothRow | SewingRow | CareRow
Unit = Literal["cm", "mm", "in"]
Say = Callable[[float, Unit], str]
"""How a number in mm or mm2 is written for a body measured in a unit; only `in` differs."""


def goes_with_lines(body: BodyRecord, say: Say) -> list[str]:
    """Cloths, ways of sewing and care, as a rule the same for every body."""
    lines = _headed("cloths", [(one.name, "; ".join(_cloth(one, say(one.width_mm, body.unit)))) for one in body.cloths])
    ways = _headed("ways of sewing", [(one.name, "; ".join(_sewing(one))) for one in body.sewing])
    if ways:
        ways.append("  (stitch types by ISO 4915, seam types by ISO 4916; the words beside them are from memory)")
    care = [(one.name, "; ".join([*one.words, *_text(one)])) for one in body.care]
    return [*lines, *ways, *_headed("care (symbols of ISO 3758 in words)", care)]


WIDTH, NARROW = 118, 40  # characters in a line, and at least in what stands last in it
MOST_BODIES = 12  # side by side; more do not fit on a page


def sizes_lines(bodies: Sequence[BodyRecord], say: Say) -> list[str]:
    """Finished measurements of several bodies side by side, with their tolerances where these are the same for all; in inches
    where all are measured so."""
    sound = [body for body in bodies if body.finished]
    if not 2 <= len(sound) <= MOST_BODIES:
        return []
    unit: Unit = "in" if all(body.unit == "in" for body in sound) else "mm"
    rows = [("", "over", "under", *(body.name for body in sound))]
    for each in zip(*(body.finished for body in sound), strict=True):
        limits = {(one.over_mm, one.under_mm) for one in each}
        over, under = next(iter(limits)) if len(limits) == 1 else (None, None)
        tolerance = ("varies", "varies") if over is None or under is None else (f"+{say(over, unit)}", f"-{say(under, unit)}")
        rows.append((each[0].name, *tolerance, *(say(one.measures_mm, unit) for one in each)))
    return _headed(f"finished measurements{_inches(unit)}, body by body", rows, (0,))


def body_lines(body: BodyRecord, say: Say) -> list[str]:
    """Finished measurements, cut list, trims, closures and the order of sewing of one body. What the garment comes to is in
    inches where the body is measured so."""
    unit = body.unit

    def said(mm: float) -> str:
        return say(mm, unit)

    finished = [
        (
            one.name,
            say(one.measures_mm, unit),
            f"+{_tolerance(one.over_mm, said)}",
            f"-{_tolerance(one.under_mm, said)}",
            _and_sizes(one),
        )
        for one in body.finished
    ]
    shown = [(one.name, _number(one, say, unit), one.text) for one in body.shown]
    cuts = [(one.cloth, "; ".join(_cut(piece) for piece in one.pieces)) for one in body.cut_list]
    trims = [(one.name, _amount(one, said), "; ".join(_trim(one, said))) for one in body.trims]
    closures = [(one.name, "; ".join(_closure(one, said))) for one in body.closures]
    sewn = list(_steps(body))
    moved = [f"  {one.name} stands before {one.moved_before}: {one.moved_why}" for one in body.seams if one.moved_before]
    told = any(one.sewn or one.after or one.note for one in body.seams)
    return [
        *_headed(f"finished measurements{_inches(unit)}, and how far over and under they may be", finished, (0, 4)),
        *_headed(f"numbers shown{_inches(unit)}", shown, (0, 2)),
        *_fit(body.fit, said, _inches(unit)),
        *_headed("cut list", cuts),
        *_headed(f"trims{_inches(unit)}", trims, (0, 2)),
        *_headed(f"closures{_inches(unit)}", closures),
        *(["", "order of sewing", *table(list(_narrow(sewn)), (1, 2, 3)), *moved, *_not_placed(body)] if told else []),
    ]


def _steps(body: BodyRecord) -> Iterator[tuple[str, ...]]:
    """The seams by number, and between them, without one, the other steps where they come; of a draft the seams alone."""
    seams = {one.name: (f"{k}", one.name, *_sewn(one)) for k, one in enumerate(body.seams, 1)}
    for step in body.assembly.order:
        before = (one.name for one in body.assembly.order if any(need.seam == step.name for need in one.needs))
        yield seams.pop(step.name) if step.name in seams else ("", step.name, "", _fastened(step, ", ".join(before)))
    yield from seams.values()


def _not_placed(body: BodyRecord) -> list[str]:
    """The edges sewn by themselves of which nothing tells when."""
    placed = {one.name.partition(" on ")[0] for one in body.assembly.order}
    left = [f"{one.name} on {' + '.join(one.place)}" for one in body.sewing if one.place and one.name not in placed]
    told = wrap(f"no seam tells when to do: {'; '.join(left)}", WIDTH - 2)
    return [f"  {line}" for line in told] if placed and left else []


def _fastened(step: StepRecord, before: str) -> str:
    """When what is no seam is done."""
    if step.kind != "closure":
        return WHEN[step.kind]
    how = {True: ["in the round"], False: ["flat"], None: []}[step.in_round]
    after = [f"after {', '.join(one.seam for one in step.needs)}"] if step.needs else []
    return f"closure: {', '.join([*how, *after, *([f'before {before}'] if before else [])])}"


WHEN = {
    "mounted": "while all lies flat",
    "darts": "before the seams",
    "pleats": "laid just before",
    "gathers": "threads run just before",
    "ends": "turned in, up to the seam line",
    "mouth": "before its piece is sewn on",
    "edges": "when the seams it runs over are sewn",
    "hem": "when all is sewn in",
    "buttons": "when all is sewn in, last",
}
"""When each kind of step is done that is no seam and no closure."""

NAMES, EDGES, NOTES = 24, 34, 32  # characters at most of what stands in a step of sewing side by side: 100 with its number


def _narrow(rows: Iterable[tuple[str, ...]]) -> Iterator[tuple[str, ...]]:
    """Steps of sewing, what is too long in them broken to lines."""
    for number, *rest in rows:
        cells = [wrap(cell, most, break_on_hyphens=False) for cell, most in zip(rest, (NAMES, EDGES, NOTES), strict=True)]
        yield from zip_longest([number], *cells, fillvalue="")


def _number(row: ShownRow, say: Say, unit: Unit) -> str:
    value = row.value
    if row.kind == "length":
        return say(value, unit)
    return f"{value:.1f} deg" if row.kind == "angle" else f"{value:.4g}"


def _inches(unit: str) -> str:
    return ", in inches" if unit == "in" else ""


def _fit(rows: Sequence[FitRecord], say: Callable[[float], str], unit: str) -> list[str]:
    """What was promised of the body, and what the garment gives."""
    if not rows:
        return []
    head = ("", "body", "garment", "asked", "given", "", "")
    made = [head, *((_place(one), *_figures(one, say), _held(one), "; ".join(_told(one))) for one in rows)]
    heading = f"fit{unit}: girths at their levels as sewn, all pieces together; lengths hold as drafted"
    return _headed(heading, made, (0, 3, 5, 6))


def _place(row: FitRecord) -> str:
    return row.called.replace("_", " ").replace(".", " ")


def _figures(row: FitRecord, say: Callable[[float], str]) -> tuple[str, ...]:
    body, garment = ("-" if one is None else say(one) for one in (row.body_mm, row.garment_mm))
    return body, garment, _asked(row, say), "-" if row.given_mm is None else _signed(row.given_mm, say)


def _asked(row: FitRecord, say: Callable[[float], str]) -> str:
    """The ease that was asked, and how far off it may be."""
    asked, over, under = row.asked_mm, row.over_mm, row.under_mm
    if over is None:
        return f"{_signed(asked, say)} or more"
    if over == under:
        return f"{_signed(asked, say)} ±{_tolerance(over, say)}"
    return f"{_signed(asked - under, say)} to {_signed(asked + over, say)}"


def _tolerance(mm: float, say: Callable[[float], str]) -> str:
    """How far off something may be; where that is less than is written of an inch, in mm."""
    return f"{mm:.1f} mm" if mm > 0.0 and say(mm) == "0" else say(mm)


def _signed(value: float, say: Callable[[float], str]) -> str:
    text = say(abs(value))
    return f"{'-' if value < 0 and text.strip('0.') else '+'}{text}"


def _held(row: FitRecord) -> str:
    if row.holds and not row.is_asked:
        return "not measured" if row.reached else "not reached"
    return "holds" if row.holds else "FAILS"


def _told(row: FitRecord) -> list[str]:
    wrong = f"{row.wrong}: {row.fix}" if row.wrong else ""
    estimated = "the body's own is estimated" if row.estimated and row.body_mm is not None else ""
    said = [wrong, *row.told, estimated, row.text]
    return [one for one in said if one]


def _headed(heading: str, rows: Sequence[tuple[str, ...]], words: tuple[int, ...] = (0, 1)) -> list[str]:
    """A heading and its table, what stands last in a row broken to lines; nothing for no rows."""
    if not rows:
        return []
    before = sum(max(len(row[k]) for row in rows) + 2 for k in range(len(rows[0]) - 1)) + 2
    lines: list[tuple[str, ...]] = []
    for row in rows:
        first, *rest = wrap(row[-1], max(WIDTH - before, NARROW), break_on_hyphens=False) or [""]
        blank = ("",) * (len(row) - 1)
        lines += [(*row[:-1], first), *((*blank, more) for more in rest)]
    return ["", heading, *table(lines, words)]


def _sewn(seam: SeamRecord) -> tuple[str, str]:
    """What is sewn to what, and how."""
    said = [seam.sewn, f"after {', '.join(seam.after)}" if seam.after else "", seam.note]
    return f"{edges_by_name(seam.left)} to {edges_by_name(seam.right)}", "; ".join(one for one in said if one)


def _text(row: Row) -> list[str]:
    return [row.text] if row.text else []


def _and_sizes(row: SizedRow) -> str:
    """The text of a row, and by what its values differ from size to size."""
    return "; ".join([*_text(row), *(f"by size: {rule}" for rule in row.holds_for)])


def _cloth(row: ClothRow, wide: str) -> list[str]:
    said = [*_text(row), f"{wide} wide"]
    if row.weight_gsm is not None:
        said.append(f"{row.weight_gsm:g} g per square metre")
    said.append("with a nap, all pieces one way" if row.nap else "no nap")
    shrinks = {"along": row.shrinks_along, "across": row.shrinks_across}
    shares = [(way, share) for way, share in shrinks.items() if share]
    if shares:
        said.append(f"shrinks {' and '.join(f'{100 * share:g} % {way}' for way, share in shares)}")
        drawn = " and ".join(f"{1000 / (1 - share):.1f} {way}" for way, share in shares)
        said.append(f"pieces are drawn without: {drawn} become 1000")
    if row.stretch:
        said.append(f"stretches {100 * row.stretch:g} % across")
    return said


def _sewing(row: SewingRow) -> list[str]:
    said = [_numbered("stitch", row.stitch, row.stitch_means)]
    if row.seam_type:
        said.append(_numbered("seam", row.seam_type, row.seam_type_means))
    if row.neatened:
        said.append(_numbered("edges neatened", row.neatened, row.neatened_means))
    if row.stitch_length_mm is not None:
        said.append(f"stitch length {row.stitch_length_mm:g} mm")
    said += _text(row)
    return [*said, f"on {edges_by_name(row.place)}"] if row.place else said


def _numbered(what: str, number: str, means: str) -> str:
    return f"{what} {number}" + ("" if means == number else f" ({means})")


def _cut(piece: CutListPiece) -> str:
    fold = " on the fold" if piece.on_fold else ""
    pairs = ", half of them mirrored" if piece.mirrored else ""
    return f"{piece.count} x {piece.name}{fold}{pairs}"


def _trim(row: TrimRow, say: Callable[[float], str]) -> list[str]:
    said = [_and_sizes(row)] if _and_sizes(row) else []
    said += [] if row.width_mm is None else [f"{say(row.width_mm)} wide"]
    if row.place_mm is None or row.amount_mm is None:
        return said
    ratio = row.place_mm / row.amount_mm
    edges = edges_by_name([f"{many} x {one}" if many > 1 else one for one, many in zip(row.place, row.times, strict=True)])
    said += ["one on each side"] if row.many > 1 else []
    said.append(f"draws in {edges}, {say(row.place_mm)}: {ratio:.2f} to 1")
    return [*said, f"to let that open wholly it stretches to {ratio:.2f} times its length"]


def _amount(row: TrimRow, say: Callable[[float], str]) -> str:
    many = f"{row.many} x " if row.many > 1 else ""
    return f"{row.count}" if row.amount_mm is None else f"{many}{say(row.amount_mm)}"


def _closure(row: ClosureRow, say: Callable[[float], str]) -> list[str]:
    side = "" if row.on == "both" else f", on the wearer's {row.on}"
    by = f"closed by {' and '.join(row.closed_by)}" if row.closed_by else ""
    laps = "" if row.lapping_mm is None else f"its edges lap {say(row.lapping_mm)}"
    long = f"{say(row.long_mm)} long in {edges_by_name(row.place, ' and ')} ({say(row.place_mm)}){side}"
    said = [one for one in (long, laps, by, _and_sizes(row)) if one]
    if row.needed_mm is None or row.girth_mm is None or row.passes_mm is None:
        return said if row.holds else [*said, "FAILS: it is longer than that"]
    opened = row.girth_mm + 2 * row.long_mm + (row.lapping_mm or 0.0)
    said.append(f"{say(row.girth_mm)} round closed, {say(opened)} open; {say(row.passes_mm)} must pass")
    return [*said, f"{'holds' if row.holds else 'FAILS'}: {say(row.needed_mm)} is needed"]
