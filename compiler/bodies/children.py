"""What the child survey of 1977 says of a child's numbers: ranges and proportions at its age, and which it never measured."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from .findings import Finding, Measures
from .tables import read_table
from .units import Unit, plain, shown
from .vocabulary import Sex, vocabulary

# The survey does not state the level of its waist: both words are held against it.
_SAME = {"natural_waist_girth": "waist_girth"}
# How far beyond the extremes a value may lie, down and up. Children have grown heavier since 1977: waist and weight get room.
_ROOM = {"waist_girth": (0.97, 1.15), "body_mass": (0.9, 1.4)}
_OTHERWISE = (0.97, 1.03)
# The survey reaches to this age; from 17 on the adult surveys hold as well.
TEENS_TO_AGE = 21.0
# Measures that no body survey limits, so that nothing can be said of them for anybody.
_NOT_COMPARED = ("age",)


@dataclass(frozen=True, slots=True)
class Band:
    """From an age on and below another: least and greatest value of the survey, or ratio to stature, widened, and the median."""

    is_ratio: bool
    start: float
    end: float
    least: float
    greatest: float
    middle: float


@lru_cache(maxsize=1)
def _bands() -> Mapping[tuple[str, str], tuple[Band, ...]]:
    found: dict[tuple[str, str], list[Band]] = {}
    for row in read_table("children.csv"):
        down, up = _ROOM.get(row["name"], _OTHERWISE)
        least, greatest = float(row["least"]) * down, float(row["greatest"]) * up
        start, end, middle = (float(row[key]) for key in ("age_from", "age_below", "middle"))
        band = Band(row["kind"] == "ratio", start, end, least, greatest, middle)
        found.setdefault((row["sex"], row["name"]), []).append(band)
    return {key: tuple(bands) for key, bands in found.items()}


def child_findings(measures: Measures, sex: Sex, unit: Unit) -> Iterator[Finding]:
    """What is unlikely at its age by the survey, 2 to 20 years; nothing where no age is given or the survey has no such age."""
    age = measures.get("age")
    for name, value in measures.items():
        for band in _bands().get((sex, _SAME.get(name, name)), ()):
            if age is None or not band.start <= age < band.end:
                continue
            low, high, kind = band.least, band.greatest, vocabulary()[name].kind
            if not band.is_ratio and not low <= value <= high:
                yield Finding("range", (name,), f"plausible at this age is {shown(low, kind, unit)} to {shown(high, kind, unit)}")
            elif band.is_ratio and "stature" in measures and not low <= value / measures["stature"] <= high:
                now, ends = plain(value / measures["stature"], 2), f"{plain(low, 2)} to {plain(high, 2)}"
                yield Finding("proportion", (name, "stature"), f"`{name}` / `stature` is {now}, plausible at this age is {ends}")


def strain(name: str, value: float, age: float, sex: Sex) -> float:
    """How far a value lies from the median at that age, up or down alike, as a logarithm; 0 where there are no figures."""
    for band in _bands().get((sex, _SAME.get(name, name)), ()):
        if not band.is_ratio and band.start <= age < band.end:
            return abs(math.log(value / band.middle))
    return 0.0


def without_figures(measures: Measures, sex: Sex) -> tuple[str, ...]:
    """The measures of a child that no child survey here holds, so that they are compared with nothing of their own."""
    age = measures.get("age", -1.0)
    held = [name for name in measures if any(b.start <= age < b.end for b in _bands().get((sex, _SAME.get(name, name)), ()))]
    return tuple(name for name in measures if name not in held and name not in _NOT_COMPARED)
