"""The words on a piece: how many to cut, which allowance is in it, what was estimated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from ..pattern.piece import Allowance, Cut, Finish, Piece

Unit = Literal["cm", "in"]
EIGHTH = 25.4 / 8
COUNTS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True)
class PieceInfo:
    """What a drawing says of a piece beside its geometry.

    `seam_names` and `gathers` hold a text by edge; `estimated` the words for measurements that were estimated; `drill_back`
    how far a drill hole is set back from a dart's apex, mm, where the piece does not say; `nap` whether the cloth has one,
    so that the grain points one way.
    """

    name: str
    style: str = ""
    body: str = ""
    fingerprint: str = ""
    seam_names: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    gathers: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    estimated: tuple[str, ...] = ()
    unit: Unit = "cm"
    drill_back: float = 10.0
    nap: bool = False


def measure(mm: float, unit: Unit) -> str:
    """A length in words: centimetres to the tenth of a millimetre, or inches to the nearest eighth when it is one."""
    if unit == "cm":
        return f"{round(mm / 10, 2):g} cm"
    eighths = round(mm / EIGHTH)
    if abs(mm - eighths * EIGHTH) > 0.05:
        return f"{round(mm / 25.4, 3):g} in"
    whole, part = divmod(Fraction(eighths, 8), 1)
    words = [str(whole)] if whole or not part else []
    return " ".join([*words, *([str(part)] if part else []), "in"])


def cut_words(piece: Piece) -> str:
    """For example "cut 2, one mirrored, in shell; cut 1, in interlining"; empty where nothing is said."""
    return "; ".join(_cut(cut, piece.fold is not None) for cut in piece.finish.cuts)


def _cut(cut: Cut, on_fold: bool) -> str:
    parts = [f"cut {cut.count}{' on the fold' if on_fold else ''}"]
    if cut.mirrored and cut.count > 1:
        half = cut.count // 2
        parts.append(f"{COUNTS[half] if half < len(COUNTS) else half} mirrored")
    if cut.face_up:
        parts.append("face up")
    return ", ".join([*parts, f"in {cut.cloth.replace('_', ' ')}"])


def allowance_words(finish: Finish, unit: Unit, lane: int = 0) -> str:
    """For example "allowance included: seams 1 cm, hem 3 cm, 1 cm of it turned under"; edges that are as all seams go unsaid."""
    stated = {name.replace("_", " "): _allowed(one, unit, lane) for name, one in finish.allowances.items()}
    rest = [f"{name} {said}" for name, said in stated.items() if name != "seams" and said != stated.get("seams")]
    said = [f"seams {stated['seams']}", *rest] if "seams" in stated else rest
    return f"allowance included: {', '.join(said)}" if said else "no allowance included"


def _allowed(allowance: Allowance, unit: Unit, lane: int) -> str:
    width, under = (
        0.0 if one is None else float(one[0 if one.size == 1 else lane]) for one in (allowance.width, allowance.under)
    )
    turned = f", {measure(under, unit)} of it turned under" if under > 0 else ""
    return f"{measure(width, unit)}{turned}" if width > 0 else "none"


def rows_of(piece: Piece, info: PieceInfo) -> tuple[str, ...]:
    """The rows of a piece's label below its name."""
    style = f"{info.style}  {info.fingerprint}".strip()
    rows = [style, info.body, cut_words(piece), allowance_words(piece.finish, info.unit)]
    rows += piece.finish.remarks
    if info.estimated:
        rows.append(f"contains estimated: {', '.join(info.estimated)}")
    return tuple(row for row in rows if row)
