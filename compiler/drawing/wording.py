"""The words on a piece: how many to cut, which allowance is in it, what was estimated."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from ..pattern.piece import Allowance, CutOrder, Piece
from ..pattern.remarks import Number, Remark

Unit = Literal["cm", "in"]
INCH = 25.4
"""Millimetres."""
SIXTEENTH = INCH / 16
COUNTS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

Levels = Literal["light", "strong", "none"]
"""How the levels of the body are drawn."""


@dataclass(frozen=True)
class Ending:
    """Where an opening in a seam ends: so far (mm) along an edge as its ring runs, and what is written there."""

    edge: str
    at: float
    text: str


@dataclass(frozen=True)
class Gather:
    """A part of an edge that is gathered or eased: from where to where along it, mm, as its ring runs, and what is written
    beside it."""

    edge: str
    start: float
    stop: float
    text: str


@dataclass(frozen=True)
class PieceInfo:
    """What a drawing says of a piece beside its geometry.

    `number` of how `many` pieces it is, where it is one of a set; `seam_names` hold a text by edge, `gathers` the parts that are
    gathered, `eases` those that are eased in, `called` what edges and inner lines are called where that is not their name; `fold`
    what lies on the fold; `endings` where openings in its edges end; `estimated` the words for measurements that were estimated;
    `drill_back` how far a drill hole is set back from a dart's apex, mm, where the piece does not say; `nap` whether the cloth
    has one, so that the grain points one way; `levels_called` what levels are called of this wearer; `laid` where its sizes are
    laid on one another, in a nest, and of which `sample` its words are.
    """

    name: str
    style: str = ""
    body: str = ""
    fingerprint: str = ""
    number: int = 0
    many: int = 0
    seam_names: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    gathers: tuple[Gather, ...] = ()
    eases: tuple[Gather, ...] = ()
    called: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    fold: str = ""
    endings: tuple[Ending, ...] = ()
    estimated: tuple[str, ...] = ()
    unit: Unit = "cm"
    drill_back: float = 10.0
    nap: bool = False
    levels: Levels = "light"
    levels_called: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    laid: str = ""
    sample: str = ""

    @property
    def title(self) -> str:
        """The name of the piece behind its number."""
        return f"{self.number}  {self.name}" if self.number else self.name


def measure(mm: float, unit: Unit) -> str:
    """A length in words: centimetres to the tenth of a millimetre, or inches to the nearest sixteenth, as a workroom writes."""
    if unit == "cm":
        return f"{round(mm / 10, 2):g} cm"
    whole, part = divmod(Fraction(round(mm / SIXTEENTH), 16), 1)
    words = [str(whole)] if whole or not part else []
    return " ".join([*words, *([str(part)] if part else []), "in"])


def cut_words(piece: Piece) -> tuple[str, ...]:
    """For each cloth, for example "cut 2, one mirrored, in shell"; empty where nothing is said."""
    return tuple(_cut(cut, piece.fold is not None) for cut in piece.finish.cuts)


def _cut(cut: CutOrder, on_fold: bool) -> str:
    parts = [f"cut {cut.count}{' on the fold' if on_fold else ''}"]
    if cut.mirrored and cut.count > 1:
        half = cut.count // 2
        parts.append(f"{COUNTS[half] if half < len(COUNTS) else half} mirrored")
    if cut.face_up:
        parts.append("face up")
    return ", ".join([*parts, f"in {cut.cloth.replace('_', ' ')}"])


def remark_words(remark: Remark, unit: Unit) -> str:
    """A remark on a piece of one body, its numbers as a workroom reads them."""
    return "".join(one if isinstance(one, str) else _number(one, unit) for one in remark.parts)


def _number(number: Number, unit: Unit) -> str:
    value = float(number.value[0])
    match number.kind:
        case "length":
            return measure(value, unit)
        case "angle":
            return f"{round(math.degrees(value), 1):g} deg"
        case "area":
            return f"{value / 100:.0f} cm2" if unit == "cm" else f"{value / INCH**2:.0f} square in"
        case _:
            return f"{value:.3g}"


def allowance_words(piece: Piece, unit: Unit, lane: int = 0) -> str:
    """For example "allowance included: seams 1 cm, hem 3 cm, 1 cm of it turned under"; edges that are as all seams go unsaid, and
    those the piece was cut from and has no more."""
    here = {"seams", *(name for side in piece.ring for name in (*side.names, *side.folded))}
    stated = {
        name.replace("_", " "): _allowed(one, unit, lane) for name, one in piece.finish.allowances.items() if name in here
    }
    rest = [f"{name} {said}" for name, said in stated.items() if name != "seams" and said != stated.get("seams")]
    said = [f"seams {stated['seams']}", *rest] if "seams" in stated else rest
    return f"allowance included: {', '.join(said)}" if said else "no allowance included"


def _allowed(allowance: Allowance, unit: Unit, lane: int) -> str:
    width, under = (
        0.0 if one is None else float(one[0 if one.size == 1 else lane]) for one in (allowance.width, allowance.under)
    )
    turned = f", {measure(under, unit)} of it turned under" if under > 0 else ""
    return f"{measure(width, unit)}{turned}" if width > 0 else "none"


def whose(info: PieceInfo) -> tuple[str, ...]:
    """The rows that tell of which style a piece is, for whom, and which of how many."""
    place = f"piece {info.number} of {info.many}" if info.many else ""
    return tuple(row for row in (info.style, ", ".join(said for said in (info.body, place) if said)) if row)


def rows_of(piece: Piece, info: PieceInfo) -> tuple[str, ...]:
    """The last rows of a piece's label."""
    rows = [allowance_words(piece, info.unit), *(remark_words(one, info.unit) for one in piece.finish.remarks)]
    if info.laid:
        rows.append(f"sizes laid at {info.laid}")
        told = info.gathers or info.eases or any(isinstance(part, Number) for one in piece.finish.remarks for part in one.parts)
        rows += [f"lengths told here are those of {info.sample}"] if told else []
    if info.estimated:
        rows.append(f"not measured: {', '.join(info.estimated)}")
    rows.append(f"version {info.fingerprint}" if info.fingerprint else "")
    return tuple(row for row in rows if row)
