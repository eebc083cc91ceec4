"""What holds by its numbers and cannot be made up as it is said: hems too narrow to turn, places marked over a dart, more
buttonholes than buttons."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from ..diagnostics import sewing_words as words
from ..finish.casings import casing
from ..finish.over_darts import over_darts
from ..finish.stated import allowance_of
from ..finish.together import Garment
from ..meaning.style import CheckedStyle
from ..pattern.which_ends import edge_named
from .numbers import column, digits_in
from .results import BodyResult
from .sewing_doubts import LaneWarning, seams_of

TURNED: Mapping[str, float] = {"6.02": 4.0, "6.03": 6.0, "6.06": 4.0}
"""By the first numbers of a hem's seam type of ISO 4916 the least allowance (mm) that can be turned so (ours): once, or twice."""

STITCHED = 2.0
"""A casing is stitched so far (mm) within its edge (ours): what runs in it has that much less."""

OVER = 3.0
"""So much (mm) of a mark lies in a dart at least that is told (ours): less is no more than its corner."""


def hems_too_narrow(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for way in results[0].specification.sewing:
        least = TURNED.get((way.seam_type or "")[:4])
        for owner, edge in map(edge_named, way.place if least is not None else ()):
            cloth = garment.pieces.get(owner)
            sides = cloth.piece.sides(edge) if cloth is not None and cloth.piece.run(edge) else ()
            for side in sides[:1]:
                assert cloth is not None
                for lane, wide in enumerate(column(allowance_of(cloth.piece, side).width, len(results))):
                    if least is not None and wide < least:
                        say = digits_in(results[lane].unit)
                        span, means = style.definitions[way.name], way.seam_type_means
                        yield lane, words.too_narrow_to_turn(span, f"{owner}.{edge}", means, wide, say)


def marks_over_darts(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    for name, cloth in garment.pieces.items():
        for mark, dart, long in over_darts(cloth.piece):
            for lane, over in enumerate(column(long, len(results))):
                if over > OVER:
                    say = digits_in(results[lane].unit)
                    yield lane, words.marked_over_a_dart(style.definitions[name], name, mark, dart, over, say)


def more_holes_than_buttons(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Where buttons are marked at all: others may be loops, or be said by their number alone."""
    buttons, holes, having = 0, 0, ""
    for name, cloth in garment.pieces.items():
        piece = cloth.piece
        buttons += sum(sign.kind == "button" and piece.points.get(point) is not None for point, sign in piece.signs.items())
        own = sum(piece.has_sign(side, "buttonhole") for side in piece.lines)
        holes, having = holes + own, name if own else having
    if 0 < buttons < holes:
        told = words.more_holes(style.definitions[having], having, holes, buttons)
        yield from ((lane, told) for lane in range(len(results)))


def casings_too_narrow(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Elastic that is sewn on instead, as its way of sewing says, runs in none."""
    pieces = {name: cloth.piece for name, cloth in garment.pieces.items()}
    laid_on = {place for way in results[0].specification.sewing if (way.seam_type or "").startswith("7.") for place in way.place}
    for k, trim in enumerate(results[0].specification.trims):
        for edge in trim.place if trim.width_mm is not None else ():
            depth = casing(pieces, seams_of(results), edge) if edge not in laid_on else None
            for lane, deep in enumerate(column(depth, len(results)) if depth is not None else ()):
                wide = results[lane].specification.trims[k].width_mm or 0.0
                if deep - STITCHED < wide:
                    span, say = style.definitions[trim.name], digits_in(results[lane].unit)
                    yield lane, words.casing_too_narrow(span, trim.name, edge, wide, max(0.0, deep - STITCHED), say)


TRIMMING = (hems_too_narrow, casings_too_narrow, marks_over_darts, more_holes_than_buttons)
"""All that is looked for."""
