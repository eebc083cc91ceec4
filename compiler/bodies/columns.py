"""What the columns of a table of bodies mean: by our words, or by a mapping of theirs to ours."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from ..diagnostics import population_words as words
from ..diagnostics.diagnostic import Diagnostic
from .units import MM_PER
from .vocabulary import canonical, suggestions, vocabulary

HEAD = ("name", "sex", "unit")
MAPPING = ("theirs", "ours", "unit")
CHOICE = "choice "
"""Before the name of a choice of a style, whose value in each row the column holds."""


@dataclass(frozen=True)
class Column:
    """A column: what the table calls it, our word for it ("": it is not read), and its own unit ("": that of the row)."""

    theirs: str
    ours: str
    unit: str = ""


def is_measure(ours: str, beside: Sequence[str] = ()) -> bool:
    """Whether a word of ours is that of a measurement: neither of the head of a body, nor of what a table holds `beside`."""
    return bool(ours) and ours not in HEAD and ours not in beside and not (CHOICE in beside and ours.startswith(CHOICE))


def _ours(word: str, beside: Sequence[str]) -> str:
    """Our word in its long form; "" for what is none."""
    return canonical(word) or "" if is_measure(word, beside) else word


def mapping(path: str, text: str, beside: Sequence[str] = ()) -> tuple[tuple[Column, ...], tuple[Diagnostic, ...]]:
    """The lines of a file `theirs,ours,unit`, and what is wrong with them. `unit` may be empty, or missing."""
    rows = csv.reader(text.splitlines())
    head = tuple(cell.strip() for cell in next(rows, []))
    if head not in (MAPPING, MAPPING[:2]):
        return (), (words.bad_mapping(path, 1, f"it reads `{','.join(head)}`", "the first line is `theirs,ours,unit`"),)
    found: list[Column] = []
    wrong: list[Diagnostic] = []
    for number, cells in enumerate(rows, 2):
        if any(cells):
            theirs, ours, unit = (*(cell.strip() for cell in cells[:3]), "", "", "")[:3]
            problem = _refused(path, number, ours, unit, is_measure(ours, beside))
            wrong += [problem] if problem else []
            found.append(Column(theirs, _ours(ours, beside), unit))
    return tuple(found), tuple(wrong)


def _refused(path: str, number: int, ours: str, unit: str, measured: bool) -> Diagnostic | None:
    """What is wrong with a line of a mapping."""
    if measured and canonical(ours) is None:
        near = " or ".join(f"`{one}`" for one in suggestions(ours))
        fix = f"did you mean {near}?" if near else "`godet measures` lists our words"
        return words.bad_mapping(path, number, f"`{ours}` is no word of ours", fix)
    kind = vocabulary()[canonical(ours) or ours].kind if measured else ""
    if unit and (unit not in MM_PER or kind != "length"):
        what = f"`{unit}` is no unit of a length" if kind == "length" else f"`{ours}` takes no unit"
        fix = "lengths are in mm, cm or in; angles in degrees, weight in kg, age in years, which need no unit"
        return words.bad_mapping(path, number, what, fix)
    return None


def columns_of(
    path: str, names: Sequence[str], mapped: Sequence[Column], beside: Sequence[str] = ()
) -> tuple[tuple[Column, ...], tuple[Diagnostic, ...]]:
    """The columns of a table by the names it gives them, and what is to be told of them. `beside` are words of columns it may
    have beside those of a body."""
    said = {one.theirs: one for one in mapped}
    missing = [name for name in said if name not in names]
    told = [words.no_such_column(path, name, *get_close_matches(name, names, 1) or [""]) for name in missing]
    columns = tuple(said.get(name) or Column(name, _ours(name, beside)) for name in names)
    told += _wrong(path, columns, beside)
    aside = [one.theirs for one in columns if not one.ours and one.theirs not in said]
    if aside and not told:
        told.append(words.left_aside(path, aside, _near(aside)))
    return columns, tuple(told)


def _wrong(path: str, columns: Sequence[Column], beside: Sequence[str]) -> list[Diagnostic]:
    by_word: dict[str, list[str]] = {}
    for one in columns:
        by_word.setdefault(one.ours, []).append(one.theirs)
    told = [words.twice(path, ours, theirs) for ours, theirs in by_word.items() if ours and len(theirs) > 1]
    measures = [one for one in columns if is_measure(one.ours, beside)]
    if not measures:
        return [*told, words.no_measures(path, [one.theirs for one in columns])]
    bare = [one.theirs for one in measures if not one.unit and vocabulary()[one.ours].kind == "length"]
    return [*told, words.no_unit(path, bare)] if bare and "unit" not in by_word else told


def _near(aside: Sequence[str]) -> str:
    """Our word for the first column that has one which is like it."""
    found: Mapping[str, tuple[str, ...]] = {name: suggestions(name) for name in aside}
    return next((f"is `{name}` our `{near[0]}`?" for name, near in found.items() if near), "")
