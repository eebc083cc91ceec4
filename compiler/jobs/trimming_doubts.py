"""What holds by its numbers and cannot be made up as it is said: hems that do not turn up, buttons and buttonholes at an edge,
over a dart, or fewer than are needed, casings and closures too small for what is bought for them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterator, Mapping, Sequence

import numpy as np

from ..diagnostics import sewing_words as words
from ..finish.casings import casing
from ..finish.curved_hems import turned_up
from ..finish.near_edges import near_edges
from ..finish.over_darts import over_darts
from ..finish.stated import allowance_of
from ..finish.together import Garment
from ..geometry.length import length
from ..geometry.tolerances import SEW
from ..meaning.style import CheckedStyle
from ..pattern.piece import Piece, Reals
from ..pattern.which_ends import edge_named
from ..verbs.fitting import SHELL
from .numbers import column, digits_in
from .results import BodyResult
from .sewing_doubts import LaneWarning

TURNED: Mapping[str, float] = {"6.02": 4.0, "6.03": 6.0, "6.06": 4.0}
"""By the first numbers of a hem's seam type of ISO 4916 the least allowance (mm) that can be turned so (ours): once, or twice."""

STITCHED = 2.0
"""A casing is stitched so far (mm) within its edge (ours): what runs in it has that much less."""

WORKED = 4.0
"""Nearer (mm) to a sewn edge no buttonhole is worked and no button sewn on (ours)."""

THICK = 4.0
"""A buttonhole is so much (mm) longer than its button is wide at most (ours; the custom is 3 mm, by how thick the button is)."""

HEM_TAKES = 0.12
"""A hem takes in no more than this share of its length, by shrinking or by a row of gathers (ours); those of the bundled styles
have half of it."""

HEM_GIVES = 0.075
"""A raw edge is stretched, or let out at its ends, by no more than this share (ours): woven cloth gives less than it takes in."""

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
    marked, worked = _closing(garment)
    buttons, holes = sum(marked.values()), sum(worked.values())
    if 0 < buttons < holes:
        having = [*worked][-1]
        told = words.more_holes(style.definitions[having], having, holes, buttons)
        yield from ((lane, told) for lane in range(len(results)))


def casings_too_narrow(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Elastic that is sewn on instead, as its way of sewing says, runs in none."""
    laid_on = {place for way in results[0].specification.sewing if (way.seam_type or "").startswith("7.") for place in way.place}
    for k, trim in enumerate(results[0].specification.trims):
        for edge in trim.place if trim.width_mm is not None else ():
            depth = casing(garment.sewn, edge) if edge not in laid_on else None
            for lane, deep in enumerate(column(depth, len(results)) if depth is not None else ()):
                wide = results[lane].specification.trims[k].width_mm or 0.0
                if deep - STITCHED < wide:
                    span, say = style.definitions[trim.name], digits_in(results[lane].unit)
                    yield lane, words.casing_too_narrow(span, trim.name, edge, wide, max(0.0, deep - STITCHED), say)


def shorter_than_it_opens(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Closures that are closed by lengths alone, as a zip, none of them so long; hooks and buttons may close the rest."""
    for lane, result in enumerate(results):
        trims = {one.name: one.amount_mm for one in result.specification.trims}
        for row in result.specification.closures:
            lengths = [trims[name] for name in row.closed_by]
            amounts = [mm for mm in lengths if mm is not None]
            if amounts and len(amounts) == len(lengths) and max(amounts) < row.long_mm - SEW:
                name, say = row.closed_by[amounts.index(max(amounts))], digits_in(result.unit)
                yield lane, words.too_short_to_close(style.definitions[name], name, max(amounts), row.name, row.long_mm, say)


def fewer_bought(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Where any trim is bought: each button that is marked is bought once at least, of pieces cut twice on one of them. Where
    none is marked and anything is bought by number, each buttonhole has its button."""
    marked, worked = _closing(garment)
    places = marked or worked
    having, needed = next(iter(places), ""), sum(places.values())
    for lane, result in enumerate(results):
        trims = result.specification.trims
        bought = sum(_bought_for(result, places).values())
        if bought < needed and (bought or (marked and trims)):
            yield lane, words.fewer_bought(style.definitions[having], having, needed, bought, bool(marked))


def _bought_for(result: BodyResult, places: Container[str]) -> dict[str, int]:
    """What is bought by number to close these pieces: the trims that their closures name, those that any closure names where none
    is theirs, and all where none names any. So the buckle of a belt is no button, nor is a label."""
    counts = {one.name: one.count for one in result.specification.trims if one.count is not None}
    seams = {seam.name: (*seam.left, *seam.right) for seam in result.seams}
    named: dict[str, bool] = {}
    for row in result.specification.closures:
        edges = (edge for place in row.place for edge in seams.get(place, (place,)))
        here = any(edge_named(edge)[0] in places for edge in edges)
        for name in (one for one in row.closed_by if one in counts):
            named[name] = named.get(name, False) or here
    theirs = [name for name, here in named.items() if here] or list(named) or list(counts)
    return {name: counts[name] for name in theirs}


def _closing(garment: Garment) -> tuple[Counter[str], Counter[str]]:
    """How many buttons and how many buttonholes are marked on each piece that has any and is worn outside."""
    marked, worked = Counter[str](), Counter[str]()
    for name, cloth in garment.pieces.items():
        piece = cloth.piece
        if _is_worn_outside(piece):
            marked[name] = sum(button_marked(piece, point) for point in piece.signs)
            worked[name] = sum(piece.has_sign(side, "buttonhole") for side in piece.lines)
    return +marked, +worked


def _is_worn_outside(piece: Piece) -> bool:
    """Whether a piece is no facing, lining or interlining, which may carry the marks of what it lies behind."""
    return not piece.inside and any(cut.cloth == SHELL for cut in piece.finish.cuts)


def button_marked(piece: Piece, point: str) -> bool:
    return piece.signs[point].kind == "button" and piece.points.get(point) is not None


def closed_at_an_edge(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Buttonholes and buttons of a row that lie over an edge or too near it: the nearest. A button that goes through a buttonhole
    has half its width beside its middle."""
    wide = _button_wide(garment)
    for name, cloth in garment.pieces.items():
        rows: dict[tuple[str, str], list[Reals]] = {}
        for mark, edge, near in near_edges(cloth.piece):
            rows.setdefault((mark.partition(".")[0], edge), []).append(near)
        for (mark, edge), nears in rows.items():
            nearest = np.min(np.stack(np.broadcast_arrays(*nears)), axis=0)
            widths = column(wide if mark == "button" else np.zeros(1), len(results))
            for lane, (mm, width) in enumerate(zip(column(nearest, len(results)), widths, strict=True)):
                if mm < max(WORKED, width / 2.0):
                    say = digits_in(results[lane].unit)
                    yield lane, words.closed_at_an_edge(style.definitions[name], name, mark, edge, mm, width, say)


def _button_wide(garment: Garment) -> Reals:
    """How wide (L,) mm a button is that goes through the shortest of the buttonholes; nothing where there are none."""
    pieces = [cloth.piece for cloth in garment.pieces.values()]
    holes = [length(line.drawn) for piece in pieces for line in piece.lines if piece.has_sign(line, "buttonhole")]
    return np.maximum(np.min(np.stack(np.broadcast_arrays(*holes)), axis=0) - THICK, 0.0) if holes else np.zeros(1)


def hems_too_deep(style: CheckedStyle, garment: Garment, results: Sequence[BodyResult]) -> Iterator[LaneWarning]:
    """Hems that have more cloth than can be eased into the place they are turned onto, or less than can be stretched over it."""
    ways = [way for way in results[0].specification.sewing if (way.seam_type or "")[:4] in TURNED]
    turned = [edge_named(place) for way in ways for place in way.place]
    for name, cloth in garment.pieces.items():
        for hem in turned_up(cloth.piece, {edge for owner, edge in turned if owner == name}):
            deep = column(hem.deep, len(results))
            for shares, most, how in ((hem.longer, HEM_TAKES, "longer"), (hem.shorter, HEM_GIVES, "shorter")):
                for lane, share in enumerate(column(shares, len(results))):
                    if share > most:
                        say, span, mm = digits_in(results[lane].unit), style.definitions[name], deep[lane]
                        yield lane, words.hem_too_deep(span, f"{name}.{hem.edge}", mm, share, how, mm * most / share, say)


TRIMMING = (
    hems_too_deep,
    closed_at_an_edge,
    hems_too_narrow,
    casings_too_narrow,
    shorter_than_it_opens,
    fewer_bought,
    marks_over_darts,
    more_holes_than_buttons,
)
"""All that is looked for."""
