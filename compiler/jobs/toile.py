"""The pattern of a toile: what is tried on before the cloth is cut. One cloth, wide allowances, nothing that only finishes.

Common practice, no source: a toile is cut in one plain cloth with 2.5 cm at its seams, so that it can be let out, and without
facings, linings and interlinings; round a tight curve, as an armhole, so much could not be sewn: there it is as in the garment.
Its levels, centres and grain are drawn strongly, to be seen on the wearer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..finish.finished import FinishedPiece, finished
from ..finish.judge import faults
from ..finish.matched import with_matched_corners
from ..finish.stated import HEMS, allowance_of
from ..geometry.bend import smallest_radius
from ..meaning.style import CheckedStyle, made_by
from ..output.command_records import LeftOut
from ..pattern.darts import is_open_below
from ..pattern.piece import Allowance, Piece
from ..pattern.which_ends import edge_named
from .laying import unturned
from .results import BodyResult

CLOTH = "toile_cloth"

WIDE = 25.0
"""Allowance of a seam of a toile, mm, and what its hems have beyond what the style states (common practice, no source)."""

TIGHT = 5 * WIDE
"""Where a seam bends to a smaller radius (mm), the edge of a wide allowance is longer or shorter than it by more than a fifth:
it would pucker or pull (ours)."""


JOINED = ("join",)
"""Strips made like facings and joined are no facing any more, as a flat collar; one that is says `lies inside`."""


@dataclass(frozen=True)
class Toile:
    """Its finished pieces by name, those of the garment that are no part of it, and what is to be told of its cut lines."""

    pieces: Mapping[str, FinishedPiece]
    left_out: tuple[LeftOut, ...]
    doubts: tuple[Diagnostic, ...]


def toile(style: CheckedStyle, result: BodyResult, pieces: Mapping[str, Piece]) -> Toile:
    """The toile of one body, all its pieces cut in one cloth.

    A piece is left out that is made by `facing`, is said to lie inside, or is cut in other cloths than the shell alone; where
    nothing is cut in `shell`, the cloth of the first piece stands for it.
    """
    shell = _shell(pieces.values())
    why = {name: _why_not(style, name, piece, shell) for name, piece in pieces.items()}
    kept = {name: piece for name, piece in pieces.items() if not why[name]}
    sewn = _sewn(kept, result)
    wide = {name: _widened(piece, sewn.get(name, frozenset()), shell) for name, piece in kept.items()}
    made = {name: finished(piece) for name, piece in with_matched_corners(wide, result.seams).items()}
    doubts = [told.on(result.name) for name, cloth in made.items() for told in _doubts(style.definitions[name], name, cloth)]
    return Toile(made, tuple(LeftOut(name, reason) for name, reason in why.items() if reason), tuple(doubts))


def _doubts(span: Span, name: str, cloth: FinishedPiece) -> Iterator[Diagnostic]:
    """What is to be told of a piece with its wide allowances: its cut line is another than that of the garment."""
    yield from (words.faulty_cut_line(span, name, message) for message, _ in faults(cloth))
    yield from (told for _, told in unturned(span, name, cloth, ["mm"]))


def _shell(pieces: Iterable[Piece]) -> str:
    cloths = [cut.cloth for one in pieces for cut in one.finish.cuts]
    return "shell" if "shell" in cloths or not cloths else cloths[0]


def _why_not(style: CheckedStyle, name: str, piece: Piece, shell: str) -> str:
    cloths = [cut.cloth for cut in piece.finish.cuts]
    if shell not in cloths:
        return f"cut in {' and '.join(cloth.replace('_', ' ') for cloth in cloths)}, not in {shell.replace('_', ' ')}"
    if made_by(style.nodes, style.pieces[name], "facing", JOINED):
        return "a facing"
    return "worn inside" if made_by(style.nodes, style.pieces[name], "lies") else ""


def _sewn(kept: Mapping[str, Piece], result: BodyResult) -> dict[str, frozenset[str]]:
    """By piece the edges that are sewn to a piece of the toile, and neither bend tightly nor are sewn to one that does."""
    found: dict[str, set[str]] = {}
    tight: dict[str, set[str]] = {}
    for seam in result.seams:
        sides = [[edge_named(name) for name in names] for names in (seam.left, seam.right)]
        for here, there in (sides, sides[::-1]):
            if any(owner in kept for owner, _ in there):
                goes_in = tight if any(_is_tight(kept, *one) for one in (*here, *there)) else found
                for owner, edge in here:
                    goes_in.setdefault(owner, set()).add(edge)
    return {owner: frozenset(edges - tight.get(owner, set())) for owner, edges in found.items()}


def _is_tight(kept: Mapping[str, Piece], owner: str, edge: str) -> bool:
    sides = kept[owner].sides(edge) if owner in kept else ()
    return any(float(smallest_radius(side.drawn).min()) < TIGHT for side in sides)


def _widened(piece: Piece, sewn: frozenset[str], shell: str) -> Piece:
    """The piece of one lane in one cloth, with wide allowances where it is sewn or hemmed, as stated elsewhere."""
    finish, shut = piece.finish, piece.dart_sides()
    made: dict[tuple[int, bool], Allowance] = {}  # sides of one allowance keep one: so a hem knows its own corners
    found: dict[str, dict[str, Allowance]] = {}
    opened = {leg for dart in piece.darts if is_open_below(piece, dart) for leg in (dart.first, dart.second)}
    for i, side in enumerate(piece.ring):
        narrow = bool(opened.intersection(side.names))  # between the sides of a dart there is no room for more
        if (i not in shut or narrow) and piece.fold not in side.names:
            stated = allowance_of(piece, side)
            is_sewn = bool(sewn.intersection(side.names)) and not narrow
            found.setdefault(side.edge, {})[side.names[-1]] = made.setdefault((id(stated), is_sewn), _wider(stated, is_sewn))
    allowances: dict[str, Allowance] = {}
    if "seams" in finish.allowances:
        allowances["seams"] = _wider(finish.allowances["seams"], True)
    for edge, parts in found.items():
        ways = [*parts.values()]
        allowances |= {edge: ways[0]} if all(one is ways[0] for one in ways) else parts
    cuts = tuple(replace(cut, cloth=CLOTH) for cut in finish.cuts if cut.cloth == shell)
    return replace(piece, finish=replace(finish, allowances=MappingProxyType(allowances), cuts=cuts))


def _wider(stated: Allowance, is_sewn: bool) -> Allowance:
    if not float(stated.width.max()) > 0.0:
        return stated
    if stated.corner in HEMS:
        return replace(stated, width=stated.width + WIDE)
    return replace(stated, width=np.maximum(stated.width, WIDE)) if is_sewn else stated
