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

TUBE, WITH_ARMS = 2, 4
"""So many openings has what is worn round the hip, and what has a neck, a lower edge and two arms."""


def gets_in(
    style: CheckedStyle, made: Whole, openings: Sequence[OpeningResult], result: BodyResult, body: Body
) -> Iterator[Diagnostic]:
    """What of the body does not pass the opening it is put on through; nothing where that was not measured."""
    round_body = sorted((one for one in openings if one.half is None), key=lambda one: one.girth_mm)
    asked = {TUBE: ("hip", "hip_girth"), WITH_ARMS: ("head", "head_girth")}.get(len(openings))
    if asked is None or len(round_body) != TUBE:
        return
    (part, word), (opening, other) = asked, round_body
    around = body.measures.get(word)
    stretch = max((cloth.stretch or 0.0 for cloth in result.specification.cloths), default=0.0)
    if around is None or set(opening.closures) & set(other.closures):  # which opens it from end to end
        return
    if opening.opened_mm * (1.0 + stretch) < around:
        say = in_unit(body.unit)
        piece = opening.edges[0].partition(".")[0]
        yield words.does_not_pass(
            style.definitions[piece], part, say(around), opening.name, say(opening.opened_mm), bool(opening.closures)
        )
