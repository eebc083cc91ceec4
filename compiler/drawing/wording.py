"""The words on a piece: how many to cut, which allowance is in it, what was estimated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from ..pattern.piece import Finish, Piece

Unit = Literal["cm", "in"]
EIGHTH = 25.4 / 8
COUNTS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True)
class PieceInfo:
    """What a drawing says of a piece beside its geometry.

    `seam_names` and `gathers` hold a text by edge; `estimated` the words for measurements that were estimated; `cloth`
    the words for its cloth, empty for the name the piece itself carries; `drill_back` how far a drill hole is set back
    from a dart's apex, mm; `nap` whether the cloth has one, so that the grain points one way.
    """

    name: str
    style: str = ""
    body: str = ""
    fingerprint: str = ""
    seam_names: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    gathers: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    estimated: tuple[str, ...] = ()
    cloth: str = ""
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


def cut_words(piece: Piece, cloth: str) -> str:
    """For example "cut 2, one mirrored, in shell"."""
    finish = piece.finish
    parts = [f"cut {finish.cut}"]
    if piece.fold is not None:
        parts[0] += " on the fold"
    if finish.mirrored and finish.cut > 1:
        half = finish.cut // 2
        parts.append(f"{COUNTS[half] if half < len(COUNTS) else half} mirrored")
    if finish.face_up:
        parts.append("face up")
    return ", ".join([*parts, f"in {cloth or finish.cloth}"])


def allowance_words(finish: Finish, unit: Unit, lane: int = 0) -> str:
    """For example "allowance included: seams 1 cm, hem 3 cm"."""
    stated = []
    for name, allowance in sorted(finish.allowances.items(), key=lambda item: item[0] != "seams"):
        width = float(allowance.width[0 if allowance.width.size == 1 else lane])
        stated.append(f"{name.replace('_', ' ')} {measure(width, unit) if width > 0 else 'none'}")
    return f"allowance included: {', '.join(stated)}" if stated else "no allowance included"


def rows_of(piece: Piece, info: PieceInfo) -> tuple[str, ...]:
    """The rows of a piece's label below its name."""
    style = f"{info.style}  {info.fingerprint}".strip()
    rows = [style, info.body, cut_words(piece, info.cloth), allowance_words(piece.finish, info.unit)]
    rows += piece.finish.remarks
    if info.estimated:
        rows.append(f"contains estimated: {', '.join(info.estimated)}")
    return tuple(row for row in rows if row)
