"""Whether the body gets into a garment with its closures open: the hip through a skirt's waist, the head through a neck."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..assembly.whole import Whole
from ..bodies.body import Body
from ..diagnostics import assembly_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..meaning.style import CheckedStyle
from .numbers import in_unit
from .results import BodyResult, OpeningResult

HIP, HEAD = ("hip", "hip_girth"), ("head", "head_girth")
"""A part of the body, and what is measured of it."""

PAST_ARMHOLES = 0.5
"""A closure from the neck that is longer than this share of the back, from neck to waist, goes on below the armholes (ours)."""


def gets_in(
    style: CheckedStyle, made: Whole, openings: Sequence[OpeningResult], result: BodyResult, body: Body
) -> Iterator[Diagnostic]:
    """What of the body does not pass the opening it is put on through; nothing where that was not measured.

    An opening that has both halves of the wearer goes round the body, one on a single half round a limb (see `_what_passes`)."""
    round_body = sorted((one for one in openings if one.half is None), key=lambda one: one.opened_mm)
    asked = _what_passes(made, len(round_body), len(openings) - len(round_body))
    if asked is None:
        return
    (part, word), (opening, *others) = asked, round_body
    around = body.measures.get(word)
    stretch = max((cloth.stretch or 0.0 for cloth in result.specification.cloths), default=0.0)
    if around is None or any(set(opening.closures) & set(one.closures) for one in others):  # which opens it from end to end
        return
    if opening.opened_mm * (1.0 + stretch) < around:
        say = in_unit(body.unit)
        piece = opening.edges[0].partition(".")[0]
        drawn = any(set(trim.place) & set(opening.edges) for trim in result.specification.trims)
        how: words.Opens = "closure" if opening.closures else "elastic" if drawn else "nothing"
        yield words.does_not_pass(style.definitions[piece], part, say(around), opening.name, say(opening.opened_mm), how)


def runs_past(made: Whole, name: str, long_mm: float, body: Body) -> bool:
    """Whether a closure begins at a neck or an armhole and goes on below the armholes: then what must pass it passes a level
    further down, which is wider, as the waist of a dress, and it may state the girth of that."""
    openings = made.laid.surface.openings
    upper = {openings[number].half for one in made.closings if one.closure.name == name for number in one.upper}
    limbs = sum(1 for one in openings if one.half is not None)
    if _what_passes(made, len(openings) - limbs, limbs) != HEAD:
        return False
    back = body.measures.get("back_neck_point_to_waist")
    return bool(upper - {None}) or back is None or long_mm > PAST_ARMHOLES * back


def _what_passes(made: Whole, round_body: int, limbs: int) -> tuple[str, str] | None:
    """What passes the narrowest opening round the body, by how many openings go round it and round limbs: with two and two these
    are neck and hem, and arms; with two alone waist and hem, or neck and hem where a bodice is covered, as of a cape; with one
    above two limbs a waist and legs. What is open otherwise, as down the whole front, is held to nothing."""
    covered = (piece.said.piece.covers for piece in made.structure.pieces.values())
    bodice = any(one in ("bodice_front", "bodice_back") for one in covered)
    rows = {(2, 2): HEAD, (2, 0): HEAD if bodice else HIP, (1, 2): None if bodice else HIP}
    return rows.get((round_body, limbs))
