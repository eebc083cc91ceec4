"""What each change does alone, as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .columns import table
from .difference_records import ChangeRecord, ClothRecord, ClothRow, EffectRecord, StyleDifference

MOST_ROWS = 2
"""Of what a change does so much is said, the most first; all is in the records."""


def each_alone(style: StyleDifference) -> Iterator[str]:
    """A line for each change, two where it does something else when it is made last."""
    if style.changes_untold:
        yield from ("", f"Each alone: not told, {style.changes_untold}.")
    if style.changes:
        yield from ("", "Each alone")
        yield from table([row for one in style.changes for row in _rows(one)], (0, 1, 2))


def _rows(one: ChangeRecord) -> Iterator[tuple[str, ...]]:
    numbers = ", ".join(map(str, one.sentences))
    if len(one.sentences) > 1:
        numbers += " together"
    if one.agree:
        yield numbers, "", _effect(one.alone)
        return
    yield numbers, "alone", _effect(one.alone)
    yield "", "last", _effect(one.last)


def _effect(one: EffectRecord) -> str:
    if one.error:
        return f"cannot be made without others: {one.error}"
    if one.proved == "same":
        return "nothing, proved"
    if one.proved == "cloth":
        return "no cloth, proved; what is checked or said"
    if one.cloth is not None:
        return _on_bodies(one.cloth)
    return f"may change {', '.join(one.pieces or one.others)}"


def _on_bodies(cloth: ClothRecord) -> str:
    if cloth.same:
        return "nothing on these bodies"
    if cloth.rows:
        return _more(_by_piece(cloth), len(cloth.rows))
    said = [*(f"{one.name} is another measurement" for one in cloth.finished), *(one.told for one in cloth.said)]
    return f"no line of any piece; {_more('; '.join(said[:MOST_ROWS]), len(said))}"


def _by_piece(cloth: ClothRecord) -> str:
    """The first rows, with pieces as they are called in their table."""
    found: dict[str, list[str]] = {}
    for row, cells in zip(cloth.rows[:MOST_ROWS], cloth.table, strict=False):
        found.setdefault(cells[0], []).append(_row(row, cloth.bodies))
    return "; ".join(f"{pieces}: {', '.join(told)}" for pieces, told in found.items())


def _row(row: ClothRow, bodies: Sequence[str]) -> str:
    """With its number, of several bodies the least and the most."""
    numbers = [row.mm.get(body, 0.0) for body in bodies] if row.mm else []
    shown = dict.fromkeys(f"{mm:.1f}" for mm in (min(numbers), max(numbers))) if numbers else ()
    return f"{row.told} {' to '.join(shown)} mm" if shown else row.told


def _more(told: str, rows: int) -> str:
    return told if rows <= MOST_ROWS else f"{told}; and {rows - MOST_ROWS} more"
