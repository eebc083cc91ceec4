"""The growth of a style over sizes as records: what its keys are and mean. The JSON schema is made from these types.

Lengths are in mm, to a thousandth. Across is to the right as a piece is drawn in its nest, up is up. A key that changes its
meaning, or goes, changes `GROWTH_SCHEMA`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

GROWTH_SCHEMA = 1


@dataclass(frozen=True)
class StepRecord:
    """How a point moves from one size to the next."""

    size_from: str
    size_to: str
    across_mm: float
    up_mm: float
    turns: Annotated[bool, "a sentence switches in this step, and the point grows otherwise before than behind"]


@dataclass(frozen=True)
class PointRecord:
    """A point that every size has: a corner by its two edges, the point of a dart, a notch, a landmark."""

    name: str
    steps: tuple[StepRecord, ...]
    across_from_sample_mm: Annotated[tuple[float, ...], "of every size"]
    up_from_sample_mm: Annotated[tuple[float, ...], "of every size"]


@dataclass(frozen=True)
class EdgeGrowthRecord:
    """An edge over sizes."""

    name: str
    sizes_mm: Annotated[tuple[float, ...], "its length on the sewing line in every size, darts closed"]


@dataclass(frozen=True)
class CrossingRecord:
    """An edge along which the cut lines of two neighbouring sizes cross."""

    edge: str
    size_from: str
    size_to: str
    by_mm: float


@dataclass(frozen=True)
class PieceGrowthRecord:
    """A piece over sizes, as these are laid on one another."""

    name: str
    laid_at: Annotated[str, "where its sizes are laid, in words"]
    stated: Annotated[bool, "the style says so; else it follows from what the piece is"]
    estimated: Annotated[tuple[str, ...], "measurements the piece rests on that the chart does not give"]
    points: tuple[PointRecord, ...]
    edges: tuple[EdgeGrowthRecord, ...]
    crossings: tuple[CrossingRecord, ...]


@dataclass(frozen=True)
class FinishedGrowthRecord:
    """A finished measurement over sizes."""

    name: str
    sizes_mm: Annotated[tuple[float, ...], "of every size"]
    over_mm: Annotated[tuple[float, ...], "tolerance upward, of every size"]
    under_mm: Annotated[tuple[float, ...], "tolerance downward, of every size"]
    overlaps: Annotated[tuple[bool, ...], "a size and the next cannot be told apart within their tolerances, for each step"]


@dataclass(frozen=True)
class ChoosingRecord:
    """A sentence that chooses otherwise from a place of the chart on."""

    place: Annotated[str, "file and line"]
    sentence: str
    at: Annotated[float, "where along the chart: 1.25 is a quarter of the way from its second size to its third"]
    at_mm: Annotated[float | None, "the girth there that sizes are called by"]
    before: Annotated[str, "what it takes before, in the words of the style"]
    after: Annotated[str, "what it takes from there on"]


@dataclass(frozen=True)
class TurnedRecord:
    """A point that turns there; growth in mm a step."""

    piece: str
    point: str
    across_before_mm: float
    up_before_mm: float
    across_after_mm: float
    up_after_mm: float


@dataclass(frozen=True)
class SwitchRecord:
    """Where points turn, and the sentences that choose otherwise there."""

    size_from: str
    size_to: str
    sentences: tuple[ChoosingRecord, ...]
    points: Annotated[tuple[TurnedRecord, ...], "the most turned first"]


@dataclass(frozen=True)
class UnseenRecord:
    """Places between two sizes at which pieces cannot be drawn, or have other edges: what switches beside them is not told."""

    size_from: str
    size_to: str
    at: Annotated[tuple[float, ...], "where along the chart: 1.25 is a quarter of the way from its second size to its third"]
    pieces: tuple[str, ...]


@dataclass(frozen=True)
class GrowthReport:
    """The growth of a style over the sizes of a chart."""

    schema: Annotated[int, "the version of these keys"]
    style: str
    version: str
    chart: str
    source: str
    sample: Annotated[str, "the size the others are laid on"]
    sizes: tuple[str, ...]
    pieces: tuple[PieceGrowthRecord, ...]
    finished: tuple[FinishedGrowthRecord, ...]
    switches: tuple[SwitchRecord, ...]
    unseen: tuple[UnseenRecord, ...]
    estimated_rows: Annotated[tuple[str, ...], "measurements the style rests on that the chart does not give"]
