"""How far points move with each measurement and choice, and growth by cause, as records: what their keys are and mean.

Across is to the right as a piece is drawn, up is up. A rate is in mm per mm of a length, mm per degree of an angle, mm per one of
a number. A key that changes its meaning, or goes, changes `RATES_SCHEMA`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

RATES_SCHEMA = 1


@dataclass(frozen=True)
class SwitchedRecord:
    """A sentence that chooses otherwise with a little more, or less, of a measurement or a choice."""

    place: Annotated[str, "file and line"]
    sentence: str


@dataclass(frozen=True)
class SourceRecord:
    """A measurement or a choice that may move points."""

    name: str
    is_choice: bool
    unit: Annotated[str, "mm, degree, number or kg: what its value, and one of it, is counted in"]
    value: float
    given: Annotated[bool, "measured, or a choice; else it is estimated, and held at its estimate"]
    moves: Annotated[bool, "it moves some point of some piece"]
    held_by: Annotated[str, "of a choice that moves nothing: why, in words"]
    switches: Annotated[tuple[SwitchedRecord, ...], "the body stands on these: more moves some point otherwise than less"]


@dataclass(frozen=True)
class RateRecord:
    """How far a point moves per one of a measurement or a choice; on a switch as the mean of less and more."""

    of: str
    across: Annotated[float | None, "None where the pattern cannot be drawn with less, or with more"]
    up: float | None
    switches: Annotated[bool, "less and more move the point otherwise"]
    across_less: float | None
    up_less: float | None
    across_more: float | None
    up_more: float | None


@dataclass(frozen=True)
class PointRatesRecord:
    """A point, and what moves it."""

    name: str
    rates: Annotated[tuple[RateRecord, ...], "only of what moves it"]


@dataclass(frozen=True)
class PieceRatesRecord:
    """A piece on a body."""

    name: str
    laid_at: Annotated[str, "the place that does not move, in words"]
    stated: Annotated[bool, "the style says so; else it follows from what the piece is"]
    points: tuple[PointRatesRecord, ...]


@dataclass(frozen=True)
class BodyRatesRecord:
    """A body, or a size of a chart."""

    name: str
    sources: tuple[SourceRecord, ...]
    pieces: tuple[PieceRatesRecord, ...]


@dataclass(frozen=True)
class CauseRecord:
    """What a measurement moves a point by from one size to the next: its rate times its step in the chart."""

    of: str
    by: Annotated[float, "its step in the chart: mm, degrees or kg"]
    across_mm: float
    up_mm: float


@dataclass(frozen=True)
class CausedStepRecord:
    """The growth of a point from one size to the next: the sum of its causes and a rest."""

    size_from: str
    size_to: str
    across_mm: float
    up_mm: float
    turns: Annotated[bool, "a sentence switches in this step: it is summed before and behind"]
    causes: tuple[CauseRecord, ...]
    rest_across_mm: float
    rest_up_mm: float


@dataclass(frozen=True)
class CausedPointRecord:
    """A point that every size has."""

    name: str
    steps: tuple[CausedStepRecord, ...]


@dataclass(frozen=True)
class CausedPieceRecord:
    """A piece over sizes."""

    name: str
    points: tuple[CausedPointRecord, ...]


@dataclass(frozen=True)
class RatesReport:
    """The rates of a style on bodies or on the sizes of a chart, and its growth by cause."""

    schema: Annotated[int, "the version of these keys"]
    style: str
    version: str
    chart: Annotated[str | None, "its title; None on bodies"]
    sample: Annotated[str | None, "the size the others are laid on; None on bodies, each of which lies on itself"]
    bodies: tuple[BodyRatesRecord, ...]
    growth: Annotated[tuple[CausedPieceRecord, ...], "by cause; empty on bodies"]
    without_rate: Annotated[tuple[str, ...], "choices that are yes or no"]
