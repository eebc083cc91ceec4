"""What a style comes to on a body, as the plain values that two sides are compared by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from typing import Any

from ..difference.cloth import BodyCloth
from ..difference.sayings import Finished, Kind, Number, Saying
from .fit import FitResult
from .results import AssemblyResult, BodyResult, OpeningResult, SeamResult
from .specification import Specification

NOT_COMPARED = ("name", "holds", "holds_for")
"""What of a row is no word of it: that it holds is asked by itself, and for whom else is no cloth."""


def body_cloth(result: BodyResult) -> BodyCloth:
    """A result as it is compared."""
    pieces = {one.name: one.alone() for one in result.pieces}
    finished = tuple(Finished(one.name, one.measures_mm, one.over_mm, one.under_mm) for one in result.specification.finished)
    errors = tuple(one.message for one in result.errors)
    return BodyCloth(result.name, pieces, tuple(_sayings(result)), finished, errors, result.unit)


def _sayings(result: BodyResult) -> Iterator[Saying]:
    yield from map(_seam, result.seams)
    for check in result.checks:
        yield Saying("check", check.name, check.holds, (("condition", check.text),), told=check.figures)
    yield from map(_fit, result.fits)
    for said in result.tidings:
        yield Saying("told", said.name, words=(("text", said.text),), told=said.figures)
    yield from _rows(result.specification)
    if result.assembly.holds is not None:
        yield _assembly(result.assembly)
    for opening in result.assembly.openings:
        yield _opening(opening)


def _seam(seam: SeamResult) -> Saying:
    words = (
        ("how", seam.how),
        ("left", ", ".join(seam.left)),
        ("right", ", ".join(seam.right)),
        ("sewn", seam.sewn),
        ("after", ", ".join(seam.after)),
        ("note", seam.note),
        ("notches", "meet" if seam.notches_agree else "do not meet"),
    )
    numbers: list[tuple[str, Number, float]] = [("left longer by", "mm", seam.left_mm - seam.right_mm)]
    if seam.how == "gathers" and seam.ratio is not None:
        numbers.append(("left to right", "ratio", seam.ratio))
    return Saying("seam", seam.name, seam.holds, words, tuple(numbers))


def _fit(fit: FitResult) -> Saying:
    numbers: list[tuple[str, Number, float]] = [("asked", "mm", fit.asked_mm), ("stretch", "ratio", fit.stretch)]
    if fit.given_mm is not None:
        numbers.append(("given", "mm", fit.given_mm))
    return Saying("fit", fit.name, fit.holds, (("level", fit.level),), tuple(numbers), fit.wrong)


def _assembly(assembly: AssemblyResult) -> Saying:
    codes = ", ".join(sorted(one.code for one in assembly.wrong))
    told = "; ".join(one.message for one in assembly.wrong)
    return Saying("assembly", "the garment", assembly.holds, (("wrong", codes),), told=told)


def _opening(opening: OpeningResult) -> Saying:
    words = (
        ("edges", ", ".join(opening.edges)),
        ("ends", ", ".join(opening.finished)),
        ("closures", ", ".join(opening.closures)),
    )
    half = "" if opening.half is None else f"{opening.half} "
    numbers: tuple[tuple[str, Number, float], ...] = (("round", "mm", opening.girth_mm), ("opened", "mm", opening.opened_mm))
    return Saying("opening", f"{half}{opening.name}", None, words, numbers)


def _rows(specification: Specification) -> Iterator[Saying]:
    rows: tuple[tuple[Kind, tuple[Any, ...]], ...] = (
        ("cloth", specification.cloths),
        ("trim", specification.trims),
        ("closure", specification.closures),
        ("sewing", specification.sewing),
        ("care", specification.care),
    )
    for kind, some in rows:
        for row in some:
            yield Saying(kind, row.name, getattr(row, "holds", None), *_words_and_numbers(row))


def _words_and_numbers(row: Any) -> tuple[tuple[tuple[str, str], ...], tuple[tuple[str, Number, float], ...]]:
    """What a row of the specification says: lengths and shares as numbers, all else as words."""
    words: list[tuple[str, str]] = []
    numbers: list[tuple[str, Number, float]] = []
    for field in fields(row):
        value, what = getattr(row, field.name), field.name.removesuffix("_mm").replace("_", " ")
        if field.name in NOT_COMPARED:
            continue
        if isinstance(value, float):
            numbers.append((what, "mm" if field.name.endswith("_mm") else "ratio", value))
        else:
            words.append((what, ", ".join(map(str, value)) if isinstance(value, tuple) else "" if value is None else str(value)))
    return tuple(words), tuple(numbers)
