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


def _what_passes(made: Whole, round_body: int, limbs: int) -> tuple[str, str] | None:
    """What passes the narrowest opening round the body, by how many openings go round it and round limbs: with two and two these
    are neck and hem, and arms; with two alone waist and hem, or neck and hem where a bodice is covered, as of a cape; with one
    above two limbs a waist and legs. What is open otherwise, as down the whole front, is held to nothing."""
    covered = (piece.said.piece.covers for piece in made.structure.pieces.values())
    bodice = any(one in ("bodice_front", "bodice_back") for one in covered)
    rows = {(2, 2): HEAD, (2, 0): HEAD if bodice else HIP, (1, 2): None if bodice else HIP}
    return rows.get((round_body, limbs))
