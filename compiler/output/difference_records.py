"""A difference as records: what its keys are and mean. The JSON schema is made from these types (`compiler/output/schema.py`).

Lengths are in mm. What is written beside a type is its description in the schema. A key that changes its meaning, or goes,
changes `DIFFERENCE_SCHEMA`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

DIFFERENCE_SCHEMA = 1

Same = Literal["proved", "bodies", "no", "open", "unread"]
Which = Literal["old", "new", "both"]
Status = Literal["same", "changed", "new", "gone", "unread"]


@dataclass(frozen=True)
class SideRecord:
    """One of the two sides."""

    what: Annotated[str, "as it was given: a file, a folder, a revision"]
    own_library: Annotated[bool, "its styles are read with the library its tree holds; else with that of the compiler"]


@dataclass(frozen=True)
class WordRecord:
    """A word of a sentence whose value is another."""

    word: Annotated[str, "`=`: the value itself; `says`: the text at the end; `then`: the order of a chain"]
    old: Annotated[str | None, "as it was written; null where it was not said"]
    new: Annotated[str | None, "as it is written; null where it is not said any more"]
    role: Annotated[Literal["value", "default", "bounds", "text"], "what is done; a default; what may be asked; what is told"]


@dataclass(frozen=True)
class UseRecord:
    """Where a style uses a sentence of the library, or of a style it is built from."""

    style: str
    names: tuple[str, ...]


@dataclass(frozen=True)
class SentenceRecord:
    """A sentence that is not as it was."""

    id: Annotated[int, "by which a style names it"]
    file: str
    place: Annotated[tuple[str, ...], "the recipes and braces it stands in, from outside"]
    kind: Annotated[str, "`piece`, `length`, `allow`, `takes` …"]
    name: Annotated[str, "empty where it defines nothing"]
    old_name: Annotated[str | None, "where it was called otherwise"]
    of: Annotated[str, "what a statement in braces is of, as it is written"]
    status: Literal["changed", "bounds", "texts", "renamed", "added", "removed", "follows", "otherwise"]
    text: Annotated[str, "the sentence on one line, without its braces: as it is now, or was"]
    words: tuple[WordRecord, ...]
    used_by: tuple[UseRecord, ...]


@dataclass(frozen=True)
class PieceProofRecord:
    """What is proved of a piece without a body."""

    name: str
    old_name: Annotated[str | None, "where it was called otherwise"]
    proved: Annotated[
        Literal["same", "outline", "open", "new", "gone"],
        "same: for every body; outline: its lines and allowances, not the notches of its seams; open: it may be another",
    ]


@dataclass(frozen=True)
class ChangedNames:
    """Seams or rows of the specification that are not proved the same, by name."""

    open: tuple[str, ...]
    new: tuple[str, ...]
    gone: tuple[str, ...]


@dataclass(frozen=True)
class LeftBehindRecord:
    """A text that still says a number which the sentence it is about no longer has."""

    sentence: Annotated[str, "the sentence whose text it is"]
    text: str
    number: str
    changed: Annotated[str, "the sentence that has another number now"]


@dataclass(frozen=True)
class ClothRow:
    """What is told of pieces on bodies."""

    pieces: tuple[str, ...]
    told: str
    mm: Annotated[Mapping[str, float], "by body; empty where no number belongs to it"]
    bodies: Annotated[tuple[str, ...], "on which it occurs, where it has no number"]
    otherwise: Annotated[tuple[str, ...], "in other words on other bodies"]


@dataclass(frozen=True)
class FinishedRow:
    """A finished measurement that is not as it was."""

    name: str
    tolerance: Annotated[str, "in words"]
    more_mm: Annotated[Mapping[str, float | None], "by how much it is more now, by body; null where it is new or gone"]
    beyond: Annotated[tuple[str, ...], "bodies on which that is beyond its tolerance"]


@dataclass(frozen=True)
class SaidRow:
    """What is said otherwise on some bodies of a seam, a check, a promise of fit or the specification, or that a body is drawn
    on one side only."""

    kind: Annotated[str, "seam, check, fit …; `body` where it is drawn on one side only"]
    name: str
    told: str
    bodies: tuple[str, ...]


@dataclass(frozen=True)
class UndrawnRow:
    """A body that neither side draws, so that nothing is compared on it."""

    body: str
    errors: tuple[str, ...]


@dataclass(frozen=True)
class ClothRecord:
    """What changes on bodies; these are in the order given."""

    same: Annotated[bool, "the same cloth on all these bodies, to 0.01 mm, and the same said of it"]
    bodies: tuple[str, ...]
    rows: tuple[ClothRow, ...]
    heads: Annotated[tuple[str, ...], "of the table of these rows"]
    table: tuple[tuple[str, ...], ...]
    finished: tuple[FinishedRow, ...]
    said: tuple[SaidRow, ...]
    undrawn: tuple[UndrawnRow, ...]


@dataclass(frozen=True)
class ErrorRecord:
    """An error of a style, or of a body."""

    side: Which
    file: Annotated[str, "empty where it has no place"]
    line: Annotated[int, "on the side that is named, of both on the new one; 0 where it has no place"]
    message: str


@dataclass(frozen=True)
class EffectRecord:
    """What a change does where it is made."""

    proved: Annotated[
        Literal["same", "cloth", "open"],
        "same: nothing for every body; cloth: no cloth, but what is checked or said; open: it may change cloth",
    ]
    pieces: Annotated[tuple[str, ...], "that it may change"]
    others: Annotated[tuple[str, ...], "seams and rows of the specification that it may change"]
    cloth: Annotated[ClothRecord | None, "null where no body was given, or none is needed"]
    error: Annotated[str, "why it cannot be made there; else empty"]


@dataclass(frozen=True)
class ChangeRecord:
    """Sentences that change together, and what they do without the other changes."""

    sentences: Annotated[tuple[int, ...], "ids"]
    alone: Annotated[EffectRecord, "made in the old side, of which all else stays"]
    last: Annotated[EffectRecord, "made in the new side, in which all else is changed already"]
    agree: Annotated[bool, "alone and last it does the same, to 0.5 mm"]


@dataclass(frozen=True)
class StyleDifference:
    """A style of both sides, or of one."""

    title: str
    file: str
    old_file: str | None
    status: Status
    built_from: tuple[str, ...]
    listed: Annotated[bool, "asked for; else built from one that was"]
    cloth_proved: Annotated[bool, "all pieces, seams and rows are the same for every body"]
    promises_same: Annotated[bool, "its checks and promises of fit are the same"]
    words_same: Annotated[bool, "its names, texts and bounds are the same"]
    pieces: tuple[PieceProofRecord, ...]
    seams: ChangedNames
    rows: ChangedNames
    sentences: Annotated[tuple[int, ...], "ids of those that are not as they were"]
    follows: Annotated[int, "sentences that say the same and rest on what changed"]
    otherwise: Annotated[int, "sentences that are written otherwise and come to the same"]
    left_behind: tuple[LeftBehindRecord, ...]
    cloth: Annotated[ClothRecord | None, "null where no body was given, or none is needed"]
    changes: Annotated[tuple[ChangeRecord, ...], "each alone, where there are several; none where `changes_untold` says why"]
    changes_untold: str
    errors: Annotated[tuple[ErrorRecord, ...], "why a side cannot be read or drawn"]


@dataclass(frozen=True)
class DifferenceRecord:
    """A difference of two sides."""

    schema: int
    old: SideRecord
    new: SideRecord
    library_differs: Annotated[tuple[str, ...], "modules of the library that are not the same text"]
    same: Annotated[
        Same,
        "proved: the same cloth on every body; bodies: on those given; open: it may be another, and no body was given",
    ]
    styles: tuple[StyleDifference, ...]
    sentences: tuple[SentenceRecord, ...]
