"""The report as records: what its keys are and mean. The JSON schema is made from these types (`compiler/output/schema.py`).

Lengths are in mm and areas in mm2, to a thousandth. What is written beside a type is its description in the schema. A key that
changes its meaning, or goes, changes `SCHEMA`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from .garment_records import AssemblyRecord, GarmentRecord, NeedRecord

SCHEMA = 4


@dataclass(frozen=True)
class ClothRow:
    """A cloth, as the style says it; what it does not say is null."""

    name: str
    width_mm: float
    weight_gsm: Annotated[float | None, "grams per square metre"]
    nap: Annotated[bool, "all pieces lie one way"]
    shrinks_along: Annotated[float | None, "a share"]
    shrinks_across: Annotated[float | None, "a share"]
    stretch: Annotated[float | None, "across, a share"]
    text: str


@dataclass(frozen=True)
class SewingRow:
    """A way of sewing: numbers of the standards, each with what it means."""

    name: str
    stitch: Annotated[str, "stitch type by ISO 4915"]
    stitch_means: str
    seam_type: Annotated[str | None, "seam type by ISO 4916"]
    seam_type_means: str
    neatened: Annotated[str | None, "stitch type by ISO 4915 that neatens the edges"]
    neatened_means: str
    stitch_length_mm: float | None
    place: Annotated[tuple[str, ...], "edges that are sewn so and are no seam"]
    text: str


@dataclass(frozen=True)
class CareRow:
    """Care in words."""

    name: str
    words: Annotated[tuple[str, ...], "in the order of the symbols: washing, bleaching, drying, ironing, professional care"]
    text: str


@dataclass(frozen=True)
class CutRecord:
    """How often a piece is cut in a cloth."""

    cloth: str
    count: int
    mirrored: Annotated[bool, "half of them are mirrored"]
    face_up: bool


@dataclass(frozen=True)
class EdgeLength:
    """An edge of a piece. A leg of a dart that is folded has no allowance."""

    name: str
    length_mm: Annotated[float, "on the sewing line, darts closed"]
    allowance_mm: Annotated[float | None, "null where parts of the edge have several"]
    under_mm: Annotated[float | None, "of the allowance, turned under again; null where parts of the edge differ"]


@dataclass(frozen=True)
class ToldRecord:
    """What an operation has to report of a piece."""

    what: str
    edge: str
    lengths_mm: Annotated[Mapping[str, float], "by what they are"]
    ratios: Annotated[Mapping[str, float], "by what they are"]


@dataclass(frozen=True)
class PieceRecord:
    """A finished piece."""

    name: str
    cut: Annotated[str, "how it is cut, in words"]
    cuts: tuple[CutRecord, ...]
    area_mm2: Annotated[float, "within the sewing line"]
    edges: tuple[EdgeLength, ...]
    remarks: Annotated[tuple[str, ...], "lines of text on the piece"]
    estimated: Annotated[tuple[str, ...], "measurements the piece rests on that this body does not give"]
    told: tuple[ToldRecord, ...]
    outline_mm: Annotated[
        tuple[tuple[float, float], ...], "the sewing line as [x, y] corners, flattened to 0.05 mm, counter-clockwise, y up"
    ]


@dataclass(frozen=True)
class NotchRecord:
    """Two notches that meet, as the sides of a seam are walked from their starts."""

    left_mm: float
    right_mm: float
    gap_mm: Annotated[float, "by how much they fail to meet, however eased"]
    left_strokes: Annotated[int, "0: a corner"]
    right_strokes: Annotated[int, "0: a corner"]
    agrees: Annotated[bool, "to 0.5 mm, and in their strokes"]


@dataclass(frozen=True)
class StretchRecord:
    """A part of a seam between notches of one name on both sides."""

    first: Annotated[str, "name of a notch; empty: an end"]
    last: Annotated[str, "name of a notch; empty: an end"]
    left_mm: float
    right_mm: float
    holds: bool
    told: Annotated[str, "in words"]


@dataclass(frozen=True)
class SeamRecord:
    """What is sewn to what; seams stand in the order of sewing."""

    name: str
    how: Annotated[str, "joins, eases or gathers"]
    left: Annotated[tuple[str, ...], "piece.edge"]
    right: Annotated[tuple[str, ...], "piece.edge"]
    left_mm: float
    right_mm: float
    ratio: Annotated[float | None, "left to right; null where the right side has no length"]
    holds: bool
    sewn: Annotated[str, "a way of sewing"]
    after: Annotated[tuple[str, ...], "seams sewn before it, as its sentence says"]
    needs: Annotated[tuple[NeedRecord, ...], "all seams that must be sewn before it"]
    moved_before: Annotated[str, "of a seam that is written later than it is sewn: the seam before which it comes"]
    moved_why: Annotated[str, "in words"]
    times: Annotated[int, "how often it is sewn"]
    note: str
    notches: tuple[NotchRecord, ...]
    notches_agree: Annotated[bool, "all of them do"]
    stretches: tuple[StretchRecord, ...]


@dataclass(frozen=True)
class CheckResult:
    """A check on one body."""

    name: str
    text: Annotated[str, "the condition as written"]
    holds: bool
    figures: Annotated[str, "its numbers"]
    advice: Annotated[str, "what the style's author says to it"] = ""
    own: Annotated[bool, "the style's own; false: of a block or recipe it uses"] = True


@dataclass(frozen=True)
class Tidings:
    """What a style or a recipe has to tell of one body."""

    name: str
    text: str
    condition: Annotated[str, "what made it so, as written"]
    figures: Annotated[str, "its numbers"]


@dataclass(frozen=True)
class FitRecord:
    """A promise of fit, and what became of it."""

    name: str
    called: Annotated[str, "its name, with the level as it is called of this wearer"]
    level: Annotated[str, "empty for a length"]
    round: Annotated[str, "body, arm or leg"]
    body_mm: Annotated[float | None, "null: not measured"]
    asked_mm: Annotated[float, "the ease asked"]
    over_mm: Annotated[float | None, "how far over the ease may be; null: any"]
    under_mm: float
    drafted_mm: Annotated[float | None, "of the block's own pieces; null: a girth the style promises"]
    garment_mm: float | None
    given_mm: Annotated[float | None, "the ease given"]
    wrong: Annotated[str, "why it does not hold"]
    fix: Annotated[str, "what to do"]
    told: Annotated[tuple[str, ...], "what else is to be known"]
    stretch: Annotated[float, "share by which its cloth stretches"]
    estimated: Annotated[bool, "the body's own is an estimate"]
    text: str
    reached: Annotated[bool, "a piece that is cut lies at the level; of a length always so"]
    of_draft: Annotated[bool, "what is wrong is so of what the block drafts, whatever the style made of it"]
    holds: bool

    @property
    def is_asked(self) -> bool:
        """Whether there is something to be held against the body."""
        return bool(self.wrong) or (self.reached and self.body_mm is not None)


@dataclass(frozen=True)
class FinishedRow:
    """A finished measurement."""

    name: str
    measures_mm: float
    over_mm: float
    under_mm: float
    text: Annotated[str, "how it is taken"]
    holds_for: Annotated[tuple[str, ...], "conditions and tables by which it differs from size to size, as written"]


@dataclass(frozen=True)
class ShownRow:
    """A number the style shows."""

    name: str
    kind: Annotated[str, "length, angle or number"]
    value: Annotated[float, "mm, degrees or bare"]
    text: str


@dataclass(frozen=True)
class TrimRow:
    """A trim: an amount or a count, the other null."""

    name: str
    amount_mm: float | None
    count: int | None
    place: Annotated[tuple[str, ...], "edges it draws in"]
    times: Annotated[tuple[int, ...], "how often each of them counts, as its piece is cut"]
    place_mm: Annotated[float | None, "how long these are so often; null where it draws none"]
    many: Annotated[int, "how many of it are cut so long: two where each side of the body has one"]
    width_mm: Annotated[float | None, "how wide it is; null where nothing says"]
    text: str
    holds_for: Annotated[tuple[str, ...], "by what it differs from size to size, as written"]


@dataclass(frozen=True)
class ClosureRow:
    """A closure, and whether what must pass through it does."""

    name: str
    place: Annotated[tuple[str, ...], "a seam, or edges"]
    long_mm: float
    place_mm: float
    closed_by: Annotated[tuple[str, ...], "the trims that close it"]
    girth_mm: Annotated[float | None, "the girth when it is closed"]
    lapping_mm: Annotated[float | None, "how far its edges lie over each other when it is closed"]
    passes_mm: Annotated[float | None, "what must pass"]
    needed_mm: Annotated[float | None, "the least length for that"]
    on: Annotated[str, "the wearer's left, right, or both"]
    holds: bool
    text: str
    holds_for: Annotated[tuple[str, ...], "by what its length differs from size to size, as written"]


@dataclass(frozen=True)
class CutListPiece:
    """A piece of the cut list."""

    name: str
    count: int
    mirrored: Annotated[bool, "half of them are mirrored"]
    on_fold: bool


@dataclass(frozen=True)
class CutList:
    """What is cut in a cloth."""

    cloth: str
    pieces: tuple[CutListPiece, ...]


@dataclass(frozen=True)
class BodyRecord:
    """All of one body. With errors it has no pieces."""

    name: str
    unit: Annotated[Literal["cm", "mm", "in"], "in which it is measured"]
    cautions: Annotated[tuple[str, ...], "for a child: what is regulated where the garment is sold"]
    cloths: tuple[ClothRow, ...]
    sewing: Annotated[tuple[SewingRow, ...], "ways of sewing"]
    care: tuple[CareRow, ...]
    pieces: tuple[PieceRecord, ...]
    seams: tuple[SeamRecord, ...]
    assembly: AssemblyRecord
    checks: tuple[CheckResult, ...]
    tidings: Annotated[tuple[Tidings, ...], "what `tell` sentences say of this body"]
    fit: tuple[FitRecord, ...]
    finished: tuple[FinishedRow, ...]
    shown: Annotated[tuple[ShownRow, ...], "what `shown` sentences put in the report"]
    trims: tuple[TrimRow, ...]
    closures: tuple[ClosureRow, ...]
    cut_list: tuple[CutList, ...]
    estimated: Annotated[tuple[str, ...], "measurements the garment rests on that this body does not give"]
    estimated_how: Annotated[Mapping[str, str], "by name: what stands in for each, an estimate ± its SD or a recipe's rule"]
    warnings: Annotated[tuple[str, ...], "printed warnings of this body, of its measurements and its pieces"]
    errors: Annotated[tuple[str, ...], "printed errors: why it cannot be drawn"]


@dataclass(frozen=True)
class ReportHead:
    """What a report says of the style, once."""

    schema: Annotated[int, "version of these keys"]
    style: Annotated[str, "title of the style"]
    built_from: Annotated[tuple[str, ...], "titles of the styles it is built from, nearest first"]
    fingerprint: Annotated[str, "changes when what the style comes to does: by its sentences, its modules or a choice"]
    assembly: GarmentRecord


@dataclass(frozen=True)
class Report(ReportHead):
    """Everything a style comes to on each body."""

    bodies: Annotated[tuple[BodyRecord, ...], "one for each body, in the order given"]
    warnings: Annotated[tuple[str, ...], "printed warnings, each trouble told once, with the bodies that meet it"]
