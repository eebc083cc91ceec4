"""Whom the bundled styles are for, and what is sound of what they draw on the bodies of a survey."""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from godet.jobs.results import BodyResult

from .style_runs import PATTERNS

DEMOS = sorted(PATTERNS.glob("*.style"))
MOST = 0.995
NOT_HELD = Path(__file__).parents[1] / "data" / "not_held.csv"
"""On whom of the survey a style does not hold; written by `tests/bench/survey.py`, which tries it on all."""

OVER_A_BUST = ("concert_top", "cowl_top", "long_top", "princess_dress_bodice", "puff_sleeve", "yoke_shirt")
FOR_WOMEN = (*OVER_A_BUST, "bodices", "finished_bodice", "trued_bodice", "trued_edges")
FOR_MEN = ("torsos", "tenor_shirt", "mens_trousers")


def is_for(style: Path, men: bool) -> bool:
    return style.stem not in (FOR_WOMEN if men else FOR_MEN)


def worn() -> list[tuple[Path, bool]]:
    """Every bundled style, with whether it is for men: once for each of the two that it is for."""
    return [(style, men) for style in DEMOS for men in (False, True) if is_for(style, men)]


def sound(one: BodyResult) -> bool:
    return not one.errors and one.holds


def is_told(one: BodyResult) -> bool:
    """Sound, or every reason why not with its numbers or what to do about it."""
    told = [check.figures for check in one.checks if not check.holds] + [fit.wrong for fit in one.fits if not fit.holds]
    errors = all(error.fix and error.span is not None and error.body == one.name for error in one.errors)
    return sound(one) or (errors and (bool(one.errors) or any(told)))


@cache
def not_held() -> Mapping[tuple[str, bool], set[str]]:
    """By style and whether it is tried on men, the bodies of the survey on which it is known not to hold."""
    found: dict[tuple[str, bool], set[str]] = defaultdict(set)
    if NOT_HELD.exists():
        with NOT_HELD.open(newline="", encoding="utf-8") as file:
            for row in csv.DictReader(file):
                found[row["style"], row["sex"] == "M"].add(row["body"])
    return found
