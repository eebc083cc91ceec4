"""What the keys of the report are that tell of the garment: its panels, seams and openings (`records.py` has the rest)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal


@dataclass(frozen=True)
class NeedRecord:
    """What must be done before a step of sewing."""

    seam: Annotated[str, "or another step"]
    why: Annotated[str, "in words"]


@dataclass(frozen=True)
class PanelRecord:
    """One cut cloth of a piece."""

    id: str
    piece: str
    cloth: str
    half: Annotated[Literal["left", "right"] | None, "the wearer's; null: both, or neither"]
    mirrored: bool
    inside: Annotated[bool, "a facing or a lining"]


@dataclass(frozen=True)
class SewnRecord:
    """A seam as it is sewn once."""

    seam: str
    half: Annotated[Literal["left", "right"] | None, "the wearer's; null: both, or neither"]
    left: Annotated[tuple[str, ...], "panel.edge, each layer"]
    right: Annotated[tuple[str, ...], "panel.edge, each layer"]


@dataclass(frozen=True)
class EndsRecord:
    """How a part of an edge of a panel ends; of a fold each half has its own."""

    panel: str
    edge: Annotated[str, "by its most general name"]
    ends_in: Annotated[tuple[str, ...], "seams, ways of sewing, closures, by name; hem, raw, fastened, unsewn, folded"]


@dataclass(frozen=True)
class GarmentRecord:
    """The garment a style makes, as far as it is the same on all bodies."""

    judged: Annotated[bool, "false: the style says nothing of how it is sewn"]
    told: Annotated[str, "in one line, where it is not judged"]
    panels: tuple[PanelRecord, ...]
    sewn: tuple[SewnRecord, ...]
    edges: tuple[EndsRecord, ...]
    parts: Annotated[tuple[tuple[str, ...], ...], "panels that hang together"]
    messages: Annotated[tuple[str, ...], "printed: what is wrong with it on whatever body"]


@dataclass(frozen=True)
class OpeningRecord:
    """An opening of the garment."""

    name: str
    edges: Annotated[tuple[str, ...], "piece.edge, one after the other"]
    half: Annotated[Literal["left", "right"] | None, "the wearer's; null: both"]
    girth_mm: Annotated[float, "closed"]
    opened_mm: Annotated[float, "with all closures open that end at it"]
    finished: Annotated[tuple[str, ...], "how its edges end"]
    closures: tuple[str, ...]


@dataclass(frozen=True)
class StepRecord:
    """A step of sewing."""

    name: str
    kind: Literal["seam", "closure", "buttons", "mounted", "darts", "pleats", "gathers", "ends", "mouth", "hem", "edges"]
    needs: tuple[NeedRecord, ...]
    in_round: Annotated[bool | None, "of a closure: set in where the cloth is a tube by then; null: not known, or no closure"]


@dataclass(frozen=True)
class SewnLength:
    """How much is sewn in one way."""

    sewn: Annotated[str, "a way of sewing; empty: none is said"]
    length_mm: float


@dataclass(frozen=True)
class AssemblyRecord:
    """Whether all seams together make one garment on a body; nothing is told of it where that is not judged."""

    holds: Annotated[bool | None, "null: not judged, since the style does not say how it is sewn or it cannot be drawn"]
    openings: tuple[OpeningRecord, ...]
    surfaces: Annotated[int, "sheets of outer cloth, holes left aside"]
    characteristic: Annotated[int, "of the outer cloth: corners less edges plus panels"]
    handles: Annotated[float | None, "0 for most garments; null where the openings do not close"]
    order: Annotated[tuple[StepRecord, ...], "seams and all else that is sewn, in the order of sewing"]
    lengths: tuple[SewnLength, ...]
    messages: Annotated[tuple[str, ...], "printed: what is wrong on this body"]
