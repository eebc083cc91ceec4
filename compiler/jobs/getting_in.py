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

ASKED = {(2, 2): ("hip", "hip_girth"), (3, 1): ("hip", "hip_girth"), (4, 2): ("head", "head_girth")}
"""What must pass, by how many openings a garment has, and how many of them go round the body: a skirt has a waist and a hem,
trousers a waist and two legs, and what is worn above a neck, a lower edge and two arms."""


def gets_in(
    style: CheckedStyle, made: Whole, openings: Sequence[OpeningResult], result: BodyResult, body: Body
) -> Iterator[Diagnostic]:
    """What of the body does not pass the opening it is put on through; nothing where that was not measured."""
    round_body = sorted((one for one in openings if one.half is None), key=lambda one: one.girth_mm)
    asked = ASKED.get((len(openings), len(round_body)))
    if asked is None:
        return
    (part, word), (opening, *others) = asked, round_body
    around = body.measures.get(word)
    stretch = max((cloth.stretch or 0.0 for cloth in result.specification.cloths), default=0.0)
    if around is None or any(set(opening.closures) & set(other.closures) for other in others):  # which opens it from end to end
        return
    if opening.opened_mm * (1.0 + stretch) < around:
        say = in_unit(body.unit)
        piece = opening.edges[0].partition(".")[0]
        drawn = any(set(trim.place) & set(opening.edges) for trim in result.specification.trims)
        how: words.Opens = "closure" if opening.closures else "elastic" if drawn else "nothing"
        yield words.does_not_pass(style.definitions[piece], part, say(around), opening.name, say(opening.opened_mm), how)
