"""Measurements that contradict each other: two ways over the same stretch of a body that do not agree.

Most stand in `contradictions.csv`: two sums of measures and how far the first may exceed the second, in mm, for women (F),
men (M) and children (C). The slope of the shoulder and the rise of the front neck point are no sums and stand here. Sources and
how often real bodies are questioned: `DATA.md`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from .tables import read_table
from .units import Unit, plain, shown

Measures = Mapping[str, float]
WearerGroup = Literal["F", "M", "C"]
# The shoulder falls between these, in degrees; 1 of 2,655 bodies of 1988 lies outside.
_SLOPE = (10.0, 40.0)
# A slope taken with a level and one from heights: about three times the 3 degrees that 4 mm in each height and 2 degrees
# of the level come to (ours).
_SLOPES_APART = 9.0
# How far the front neck point may lie above the back one, mm, women. Outside, the front of a block is drafted far too long
# or too short for its back.
_RISE = (-50.0, 50.0)
# Neck width and height of the back neck point of a drafted block: a sixth of the neck base, a third of that width.
_WIDTH_OF_NECK, _HEIGHT_OF_NECK = 6.0, 3.0


@dataclass(frozen=True, slots=True)
class Contradiction:
    """The measures that do not go together, those to take again first, and the words for it."""

    names: tuple[str, ...]
    fact: str


@dataclass(frozen=True, slots=True)
class Sum:
    """A sum of measures, each times a factor: `back_neck_height - armpit_height`."""

    terms: tuple[tuple[float, str], ...]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(name for _, name in self.terms)

    def of(self, measures: Measures) -> float | None:
        if any(name not in measures for name in self.names):
            return None
        return sum(factor * measures[name] for factor, name in self.terms)

    @property
    def words(self) -> str:
        """As a cutter reads it: `back_neck_height` less `armpit_height`."""
        text = ""
        for factor, name in self.terms:
            size = {1.0: "", 0.5: "half of "}.get(abs(factor), f"{plain(abs(factor), 1)} x ")
            text += (" less " if factor < 0 else " and " if text else "") + f"{size}`{name}`"
        return text


@dataclass(frozen=True, slots=True)
class Pair:
    """Two sums and how far the first may exceed the second: (least, greatest) in mm, open where infinite; None: no figures."""

    first: Sum
    second: Sum
    within: Mapping[str, tuple[float, float] | None]


@lru_cache(maxsize=1)
def pairs() -> tuple[Pair, ...]:
    """The rows of `contradictions.csv`."""
    return tuple(
        Pair(_sum(row["first"]), _sum(row["second"]), {each: _ends(row, each) for each in "FMC"})
        for row in read_table("contradictions.csv")
    )


def _sum(text: str) -> Sum:
    found = re.findall(r"([+-]?)\s*([\d.]*)\s*([a-z_]+)", text)
    return Sum(tuple((float(f"{sign}{factor or 1}"), name) for sign, factor, name in found))


def _ends(row: Mapping[str, str], people: str) -> tuple[float, float] | None:
    least, greatest = row[f"least_{people}"], row[f"greatest_{people}"]
    if not least and not greatest:
        return None
    return float(least or -math.inf), float(greatest or math.inf)


def contradictions(measures: Measures, people: WearerGroup, unit: Unit) -> Iterator[Contradiction]:
    """What of a body's measures (mm, degrees) does not go together. `unit` is that of the words only."""
    for pair in pairs():
        if (found := _disagreement(pair, measures, people, unit)) is not None:
            yield found
    yield from _slopes(measures)
    if people == "F" and (rise := _front_rise(measures, unit)) is not None:
        yield rise


def _disagreement(pair: Pair, measures: Measures, people: WearerGroup, unit: Unit) -> Contradiction | None:
    ends, one, two = pair.within[people], pair.first.of(measures), pair.second.of(measures)
    if ends is None or one is None or two is None or ends[0] <= one - two <= ends[1]:
        return None
    values = f"{pair.first.words} is {shown(one, 'length', unit)}, {pair.second.words} is {shown(two, 'length', unit)}"
    return Contradiction((*pair.first.names, *pair.second.names), f"{values}: {_plausible(ends, unit)}")


def _plausible(ends: tuple[float, float], unit: Unit) -> str:
    """By how much the first may exceed the second, in words."""
    low, high = ends
    if math.isinf(high):
        return "the first is never less" if low == 0 else f"the first is never less by more than {shown(-low, 'length', unit)}"
    if math.isinf(low):
        return "the first is never more" if high == 0 else f"the first is never more by over {shown(high, 'length', unit)}"
    if low == -high:
        return f"the two should be equal, within {shown(high, 'length', unit)}"
    less = f"{shown(-low, 'length', unit)} less to " if low < 0 else f"{shown(low, 'length', unit)} to " if low else "nothing to "
    return f"plausible is {less}{shown(high, 'length', unit)} more"


def _slopes(measures: Measures) -> Iterator[Contradiction]:
    """The fall of the shoulder by heights: whether it can be, and whether a slope that was taken agrees with it."""
    names = ("shoulder_height", "side_neck_height", "shoulder_length")
    if any(name not in measures for name in names):
        return
    low, high, length = (measures[name] for name in names)
    sine = (high - low) / length
    slope = math.degrees(math.asin(sine)) if abs(sine) <= 1 else math.nan
    told = "`side_neck_height` less `shoulder_height`, over `shoulder_length`,"
    if math.isnan(slope) or not _SLOPE[0] <= slope <= _SLOPE[1]:
        impossible = math.isnan(slope)
        falls = "says that the shoulder falls by more than its length" if impossible else f"gives {plain(slope, 1)} degrees"
        yield Contradiction(names, f"{told} {falls}: plausible is {plain(_SLOPE[0], 0)} to {plain(_SLOPE[1], 0)} degrees")
    taken = measures.get("shoulder_slope")
    if taken is not None and not math.isnan(slope) and abs(taken - slope) > _SLOPES_APART:
        fact = f"{told} gives {plain(slope, 1)} degrees, `shoulder_slope` is {plain(taken, 1)}: plausible is as much, within"
        yield Contradiction(("shoulder_slope", *names), f"{fact} {plain(_SLOPES_APART, 0)} degrees")


def _front_rise(measures: Measures, unit: Unit) -> Contradiction | None:
    """How far the front neck point of a block would lie above the back one: over the bust point against the back length."""
    tapes = ("side_neck_point_to_bust_point", "back_neck_point_to_waist")
    names = (*tapes, "bust_height", "natural_waist_height", "bust_point_to_bust_point", "neck_base_girth")
    if any(name not in measures for name in names):
        return None
    over, back, bust, waist, span, neck = (measures[name] for name in names)
    width = neck / _WIDTH_OF_NECK
    aside = width - span / 2
    if abs(aside) > over:
        return None
    rise = bust - waist + math.sqrt(over**2 - aside**2) - back - width / _HEIGHT_OF_NECK
    if _RISE[0] <= rise <= _RISE[1]:
        return None
    way = "above" if rise > 0 else "below"
    ends = f"plausible is {shown(-_RISE[0], 'length', unit)} below to {shown(_RISE[1], 'length', unit)} above"
    by = "by `bust_height` less `natural_waist_height` and `side_neck_point_to_bust_point`, against `back_neck_point_to_waist`,"
    fact = f"{by} the front neck point lies {shown(abs(rise), 'length', unit)} {way} the back one: {ends}"
    return Contradiction(names, fact)
