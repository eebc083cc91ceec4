"""The proof of a style on a population as records: what its keys are and mean. Its JSON schema is made from these types.

A key that changes its meaning, or goes, changes `SCHEMA`. The same population gives the same bytes, whatever order its rows
stand in and however many processes draw them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

SCHEMA = 1

Gate = Literal["draws", "sews", "goes together", "fits"]


@dataclass(frozen=True)
class EstimatedRecord:
    """A measurement that the garment rests on and bodies do not give."""

    name: str
    count: Annotated[int, "on so many of the bodies that are drawn"]
    rule: Annotated[str, "what stands in for it"]


@dataclass(frozen=True)
class PopulationRecord:
    """Whom the style was drawn on."""

    source: Annotated[str, "the table, as it was given"]
    rows: int
    bodies: Annotated[int, "rows that could be read"]
    estimated: tuple[EstimatedRecord, ...]


@dataclass(frozen=True)
class GateRecord:
    """One of four gates, in their order."""

    name: Gate
    passed: Annotated[int, "of those that passed the gates before"]
    of: Annotated[int, "those that passed the gates before"]
    alone: Annotated[int, "of all bodies, whatever they failed before; one that is not drawn passes none"]


@dataclass(frozen=True)
class ExampleRecord:
    """A body on which something fails."""

    name: str
    how: Annotated[str, "nearest to passing, middle, farthest; empty where nothing tells"]
    room: Annotated[float | None, "to the bound it fails: negative; in the unit of the margin; null where there is no number"]


@dataclass(frozen=True)
class MarginRecord:
    """How far the number by which something holds lies within its nearer bound (negative: beyond), on all who are drawn."""

    unit: Annotated[str, "mm, deg, cm2, or empty for a bare number"]
    mean: float
    sd: float
    least: float


@dataclass(frozen=True)
class TellingRecord:
    """A measurement that tells on whom something fails. The range is null where it fails on fewer than 8."""

    measurement: str
    low: Annotated[float | None, "least of those it fails on; mm, degrees, kg or years"]
    high: Annotated[float | None, "greatest of those it fails on"]
    passing_inside: Annotated[int | None, "of those it holds for, in that range, to half a mm"]


@dataclass(frozen=True)
class GroupRecord:
    """One thing that fails. A body may count in several groups."""

    gate: Gate
    what: Literal["error", "seam", "notches", "check", "closure", "assembly", "fit"]
    name: Annotated[str, "of the seam, check, closure or promise of fit; empty for an error"]
    code: Annotated[str, "of an error; else empty"]
    sentence: Annotated[str, "as written: the innermost, of a recipe where it stands in one"]
    place: Annotated[str, "file:line of the sentence"]
    said: Annotated[str, "the message of an error, what the author says to a check"]
    count: int
    share: Annotated[float, "of all bodies"]
    examples: Annotated[tuple[ExampleRecord, ...], "the nearest to passing, one in the middle, the farthest"]
    margin: Annotated[MarginRecord | None, "null where it fails by no number"]
    told_by: Annotated[tuple[TellingRecord, ...], "empty: no two measurements tell it"]
    explained: Annotated[float | None, "by the best two measurements; they are told from 0.8; null where nothing was tried"]
    explained_of: Annotated[
        Literal["variance", "cut"] | None, "of the number's variance; or the mean of the shares of both that lie rightly"
    ]


@dataclass(frozen=True)
class BarRecord:
    """A bar of a distribution: bodies from `low_mm` on, to the next."""

    low_mm: float
    count: int


@dataclass(frozen=True)
class DeliveredRecord:
    """Ease delivered less ease asked, of a promise of fit, on all who are drawn and were measured there."""

    name: str
    level: Annotated[str, "empty for a length"]
    place: Annotated[str, "file:line of the sentence"]
    bodies: int
    failing: int
    asked_mm: Annotated[tuple[float, float], "the ease asked, least and greatest of all bodies"]
    under_mm: Annotated[float, "how far under it may be"]
    over_mm: Annotated[float | None, "how far over the draft of a block may be, or a garment promised without one; null: any"]
    mean_mm: float
    sd_mm: float
    p1_mm: Annotated[float, "1 of 100 lie at or below it, to half a mm"]
    p99_mm: Annotated[float, "99 of 100 lie at or below it, to half a mm"]
    bars: Annotated[tuple[BarRecord, ...], "21 of one width"]
    below: Annotated[int, "bodies below the first bar"]
    above: Annotated[int, "bodies above the last bar"]


@dataclass(frozen=True)
class PictureRecord:
    """A picture that was written."""

    of: Annotated[str, "what it shows"]
    file: str


@dataclass(frozen=True)
class ProofRecord:
    """A style on every body of a population."""

    schema: Annotated[int, "version of these keys"]
    style: Annotated[str, "title of the style"]
    fingerprint: Annotated[str, "changes when what the style comes to does"]
    population: PopulationRecord
    gates: tuple[GateRecord, ...]
    groups: Annotated[tuple[GroupRecord, ...], "by gate, then the most first"]
    delivered: Annotated[tuple[DeliveredRecord, ...], "in the order of the style"]
    pictures: tuple[PictureRecord, ...]
    undrawn: Annotated[tuple[str, ...], "where pictures are asked for: which are not drawn, and why"]
