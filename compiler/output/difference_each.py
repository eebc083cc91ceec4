"""What each change does alone, as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .columns import table
from .difference_records import ChangeRecord, ClothRecord, ClothRow, EffectRecord, FinishedRow, StyleDifference

MOST_LINES = 2
"""Of what a change does so much is said, the most first; all is in the records."""


def each_alone(style: StyleDifference) -> Iterator[str]:
    """A line for each change, two where it does something else when it is made last."""
    if style.changes_untold:
        yield from ("", f"Each alone: not told, {style.changes_untold}.")
    if style.changes:
        yield from ("", "Each alone")
        yield from table([row for one in style.changes for row in _rows(one)], (0, 1, 2))


def _rows(one: ChangeRecord) -> Iterator[tuple[str, ...]]:
    numbers = ", ".join(_runs(one.sentences))
    if len(one.sentences) > 1:
        numbers += " together"
    if one.agree:
        yield numbers, "", _effect(one.alone)
        return
    yield numbers, "alone", _effect(one.alone, one.last)
    yield "", "last", _effect(one.last, one.alone)


def _runs(numbers: Sequence[int]) -> Iterator[str]:
    """Numbers in their order, three and more that follow each other as `9 to 12`."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    for run in runs:
        yield from (f"{run[0]} to {run[-1]}",) if len(run) > 2 else map(str, run)


def _effect(one: EffectRecord, other: EffectRecord | None = None) -> str:
    """What the other effect has not stands first."""
    if one.error:
        return f"cannot be made without others: {one.error}"
    if one.proved == "same":
        return "nothing, proved"
    if one.proved == "cloth":
        return "no cloth, proved; what is checked or said"
    if one.cloth is not None:
        return _on_bodies(one.cloth, other.cloth if other is not None else None)
    return f"may change {', '.join(one.pieces or one.others)}"


def _on_bodies(cloth: ClothRecord, other: ClothRecord | None) -> str:
    if cloth.same:
        return "nothing on these bodies"
    known = set(_lines(other)) if other is not None else set()
    lines = sorted(_lines(cloth), key=lambda line: line in known)
    found: dict[str, list[str]] = {}
    for pieces, told in lines[:MOST_LINES]:
        found.setdefault(pieces, []).append(told)
    first = "; ".join(f"{pieces}: {', '.join(told)}" if pieces else "; ".join(told) for pieces, told in found.items())
    more = f"; and {len(lines) - MOST_LINES} more" if len(lines) > MOST_LINES else ""
    return f"{first}{more}" if cloth.rows else f"no line of any piece; {first}{more}"


def _lines(cloth: ClothRecord) -> Iterator[tuple[str, str]]:
    """All that is told, each with the pieces it is of, as they are called in their table; "" of none."""
    for row, cells in zip(cloth.rows, cloth.table, strict=False):
        yield cells[0], _row(row, cloth.bodies)
    yield from (("", _measured(one)) for one in cloth.finished)
    yield from (("", one.told) for one in cloth.said)


def _row(row: ClothRow, bodies: Sequence[str]) -> str:
    number = _range([row.mm.get(body, 0.0) for body in bodies] if row.mm else [])
    return f"{row.told} {number} mm" if number else row.told


def _measured(one: FinishedRow) -> str:
    number = _range([mm for mm in one.more_mm.values() if mm is not None])
    return f"{one.name} {number} mm more" if number else f"{one.name} new or gone"


def _range(numbers: Sequence[float]) -> str:
    """Of several bodies the least and the most."""
    return " to ".join(dict.fromkeys(f"{mm:.1f}" for mm in (min(numbers), max(numbers)))) if numbers else ""
