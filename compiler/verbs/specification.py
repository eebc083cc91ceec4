"""What a technical designer attaches beside the pieces: finished measurements, cloths, trims, closures, ways of sewing, care.

Each is a definition of its own kind, and its text says the rest: how to measure, what the cloth is made of. A value that
holds for some bodies only is chosen like any other: `tolerance (1 cm when bust_girth less_than 100 cm otherwise 1.5 cm)`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Literal

import numpy as np

from ..geometry.tolerances import COINCIDE, DECIDES
from ..pattern.piece import Piece, Reals, Trouble
from .attached import Care, Closure, Cloth, Finished, Mask, Sewing, Shown, Trim
from .fitting import SHELL
from .kinds import AttachedKind, Kind
from .registry import verb, word
from .sums import edges_of
from .values import Edge, Run, Seam


def _together(kind: str, first: str, second: str, why: str) -> Callable[[Mapping[str, Any]], Kind]:
    """The kind, where of two words both are written or none."""

    def told(static: Mapping[str, Any]) -> Kind:
        if (first in static) != (second in static):
            lone, other = (first, second) if first in static else (second, first)
            raise Trouble(f"`{lone}` is written without `{other}`", f"add `{other}` and its length: {why}")
        return AttachedKind(kind)

    return told


def _at_least_nothing(what: str, value: Reals | None) -> None:
    if value is not None and (value < 0).any():
        raise Trouble(f"{what} comes to less than nothing", "look at the numbers behind it", value < 0, {what: value})


@verb(
    "finished",
    family="specification",
    doc="A measurement of the finished garment and how far it may be off; its text says how it is taken. A tolerance that holds "
    "for some sizes only is chosen: `tolerance (1 cm when bust_girth less_than 100 cm otherwise 1.5 cm)`.",
    gives=_together("finished", "over_by_at_most", "under_by_at_most", "a tolerance each way"),
    words=(
        word("measures", "length", "what it must come to"),
        word("tolerance", "length", "by how much it may be off, either way", optional=True),
        word("over_by_at_most", "length", "by how much it may be over, where that differs", optional=True),
        word("under_by_at_most", "length", "by how much it may be under", optional=True),
    ),
    either=(("tolerance", "over_by_at_most"),),
    example="finished hem_around measures 2 * length of front.hem over_by_at_most 1 cm "
    'under_by_at_most 0.5 cm "along the hem, flat"',
)
def finished(
    measures: Reals,
    tolerance: Reals | None = None,
    over_by_at_most: Reals | None = None,
    under_by_at_most: Reals | None = None,
) -> Finished:
    most, least = (tolerance, tolerance) if tolerance is not None else (over_by_at_most, under_by_at_most)
    assert most is not None
    assert least is not None
    for what, value in (("the measurement", measures), ("the tolerance", most), ("the tolerance", least)):
        _at_least_nothing(what, value)
    return Finished(measures, most, least)


@verb(
    "shown",
    family="specification",
    doc="A length, angle or number that the report shows of each body, without any tolerance; its text says what it is.",
    gives=AttachedKind("shown"),
    words=(word("measures", "quantity", "what is shown"),),
    example='shown hem_round measures 2 * length of front.hem "along the hem, flat"',
)
def shown(measures: Reals) -> Shown:
    return Shown(measures)


@verb(
    "cloth",
    family="specification",
    doc="A cloth that pieces are cut in, by the name `cut … in` uses; its text says what it is made of.",
    gives=AttachedKind("cloth"),
    words=(
        word("width", "length", "its usable width, without the selvedges"),
        word("weight", "weight", "its weight, in gsm", optional=True),
        word("nap", "flag", "whether it has a nap or a one-way pattern: all pieces then lie one way", optional=True),
        word("shrinks_along", "number", "by which share it shrinks along the grain", optional=True),
        word("shrinks_across", "number", "by which share it shrinks across the grain", optional=True),
        word("stretch", "number", "by which share it stretches across the grain; so much smaller it may be", optional=True),
    ),
    example='cloth shell width 140 cm weight 150 gsm nap yes shrinks_along 3 percent "viscose crepe"',
)
def cloth(
    width: Reals,
    weight: Reals | None = None,
    nap: Mask | None = None,
    shrinks_along: Reals | None = None,
    shrinks_across: Reals | None = None,
    stretch: Reals | None = None,
) -> Cloth:
    for share in (shrinks_along, shrinks_across):
        if share is not None and ((share < 0) | (share >= 1)).any():
            raise Trouble("cloth shrinks by a share between none and all of it", "write for example `3 percent`")
    if stretch is not None and (stretch < 0).any():
        raise Trouble("cloth stretches by nothing or more", "write for example `20 percent`", stretch < 0)
    return Cloth(width, weight, shrinks_along, shrinks_across, stretch, nap is not None and bool(np.all(nap)))


@verb(
    "trim",
    family="specification",
    doc="A trim, by length or by number, or by what it draws in, as elastic does a hem: as much of it as the edge is then long, "
    "what its own ends lap not counted. An edge counts as often as its piece is cut, twice on the fold; one that closes on each "
    "side, as the hem of a sleeve, on one of them. A casing too narrow for the width of what runs in it is told. Its text says "
    "which.",
    gives=_together("trim", "draws", "to", "an edge is drawn in to a length"),
    words=(
        word("as_long_as", "length", "how much of it; the length of an edge, for example", optional=True),
        word("count", "number", "how many", optional=True),
        word("draws", "sewable", "the edge it draws in, or several with `+`", optional=True),
        word("to", "length", "how long that edge is then", optional=True),
        word("width", "length", "how wide it is: the casing it runs in is held to that", optional=True),
    ),
    either=(("as_long_as", "count", "draws"),),
    example='trim tape as_long_as length of band.upper_edge + 2 cm "6 mm"\n'
    'trim elastic draws block_sleeve.hem to wrist_girth + 1 cm width 6 mm "soft"',
)
def trim(
    as_long_as: Reals | None = None,
    count: Reals | None = None,
    draws: Edge | Run | None = None,
    to: Reals | None = None,
    width: Reals | None = None,
    round: Literal["body", "side"] = "body",
    called: Sequence[str] = (),
) -> Trim:
    """`round` is what the edges go round that are drawn in: the body, or each side of it by itself, as a leg; `called` what they
    are called, with their pieces."""
    _at_least_nothing("the trim", as_long_as)
    _at_least_nothing("the width", width)
    if draws is not None and to is not None:
        edges = edges_of(draws)
        times, many = _counted(edges, called, round)
        counts = {name: sum(n for one, n in zip(called, times, strict=True) if one == name) for name in called}
        return Trim(to, None, _drawn_in(edges, times, to, counts), tuple(counts.values()), many, width)
    if count is not None:
        odd = (count < 0) | (np.abs(count - np.round(count)) > DECIDES)
        if odd.any():
            raise Trouble("this many cannot be counted out", "write a whole number", odd, {"count ratio": count})
    return Trim(as_long_as, count, width=width)


def _counted(edges: Sequence[Edge], called: Sequence[str], round_: Literal["body", "side"]) -> tuple[tuple[int, ...], int]:
    """How often each of some edges counts that are drawn in together, and on how many sides they are: all cloths of a piece that
    goes round the body, and as many of a pair as are on one side where they close there. One that is named several times is
    that often written out."""
    cloths = [_cloths(edge.piece) for edge in edges]
    on_sides = round_ == "side" and all(many == 2 and edge.piece.fold is None for many, edge in zip(cloths, edges, strict=True))
    there = [many // 2 if on_sides else many for many in cloths]
    times = tuple(max(1, many // called.count(name)) for many, name in zip(there, called, strict=True))
    return times, 2 if on_sides else 1


def _cloths(piece: Piece) -> int:
    """In how many cloths side by side a piece goes round the body: one where nothing says how it is cut."""
    cuts = piece.finish.cuts
    cut = next((one for one in cuts if one.cloth == SHELL), cuts[0] if cuts else None)
    if cut is None:
        return 1
    return 2 * cut.count if piece.fold is not None else min(cut.count, 2) if cut.mirrored else cut.count


def _drawn_in(edges: Sequence[Edge], times: Sequence[int], to: Reals, counts: Mapping[str, int]) -> Reals:
    """The length (L,) of edges, each so many times, that are drawn in to less."""
    long: Reals = np.asarray(sum((edge.length() * many for edge, many in zip(edges, times, strict=True)), np.zeros(1)))
    figures = {"the edges" if sum(times) > 1 else "the edge": long, "drawn to": to}
    if (to <= 0.0).any():
        raise Trouble("an edge is drawn in to more than nothing", "look at the numbers behind it", to <= 0.0, figures)
    slack = to >= long - COINCIDE
    if slack.any():
        fix = "make the edge longer, or the trim shorter"
        said = " and ".join(f"`{name}` {NUMERALS.get(many, f'{many} times')}" for name, many in counts.items())
        raise Trouble(f"what is drawn in, {said}, is no longer than what it is drawn in to", fix, slack, figures)
    return long


NUMERALS = {1: "once", 2: "twice"}


def drawn_length(value: Trim) -> Reals:
    """How long (L,) mm an edge is once a trim has drawn it in."""
    _must_draw(value)
    assert value.amount is not None
    return value.amount


def drawn_fullness(value: Trim) -> Reals:
    """The length of an edge, divided by that to which a trim draws it in (L,)."""
    return _must_draw(value) / drawn_length(value)


def _must_draw(value: Trim) -> Reals:
    if value.drawn is None:
        raise Trouble("this trim draws no edge in", "write what it draws in: `draws EDGE to LENGTH`")
    return value.drawn


@verb(
    "closure",
    family="specification",
    doc="A closure in a seam or an edge, from its upper end, as long as it opens; one from another end is set into a part of the "
    "edge, `in back.centre between zip_end and hem`. What must pass through is checked when it is said. A zip above "
    "a pocket in one side is worked out in `godet new my_skirt --of dirndl`.",
    gives=_together("closure", "which_widens", "to_pass", "an opening is checked with both"),
    words=(
        word("in", "seam or edge", "the seam or the edge it is set into"),
        word("as_long_as", "length", "how far it opens"),
        word("closed_by", "several trim", "the trims that close it, as its zip, or zip and hook", optional=True),
        word("which_widens", "length", "what it widens: the garment round, there, when it is closed", optional=True),
        word("lapping", "length", "how far one of its edges lies over the other when it is closed, as of a wrap", optional=True),
        word("to_pass", "length", "the girth that must pass when it is open, with its ease", optional=True),
        word(
            "on",
            "one of both left right",
            "the wearer's side it is on, where its seam is sewn on both; a seam of unfolded pieces is two, `in sides.left`",
            optional=True,
        ),
    ),
    example='closure side_zip in front.side as_long_as 18 cm closed_by zip which_widens waist_girth + 4 cm to_pass hip_girth\n'
    'trim zip as_long_as 18 cm "concealed"',
)
def closure(
    in_: Seam | Edge | Run,
    as_long_as: Reals,
    on: str = "both",
    which_widens: Reals | None = None,
    lapping: Reals | None = None,
    to_pass: Reals | None = None,
    **rest: Trim,
) -> Closure:
    place = in_.right_mm if isinstance(in_, Seam) else in_.length()
    _at_least_nothing("the closure", as_long_as)
    if lapping is not None:
        _at_least_nothing("what it laps", lapping)
    return Closure(as_long_as, place, which_widens, to_pass, on, lapping)


def suffices(value: Closure) -> Mask:
    """Whether the closure (L,) fits into its seam and lets pass what must."""
    fits = value.long <= value.place + DECIDES
    return np.asarray(fits if value.needed is None else fits & (value.long >= value.needed - DECIDES))


@verb(
    "sewing",
    family="specification",
    doc="A way of sewing, which seams name with `sewn`, or of an edge: stitch types of ISO 4915, seam type of ISO 4916.",
    gives=AttachedKind("way of sewing"),
    words=(
        word("stitch", "listed stitch", "the stitch type"),
        word("seam", "listed seam", "the seam type, in quotes", optional=True),
        word("neatened_with", "listed stitch", "the stitch type that neatens the raw edges", optional=True),
        word("stitch_length", "length", "the length of a stitch", optional=True),
        word("on", "sewable", "an edge that is sewn so and is no seam, as a hem", optional=True),
    ),
    example='sewing open_seam stitch 301 seam "1.01.01" neatened_with 504 stitch_length 2.5 mm "pressed open"',
)
def sewing(
    stitch: str,
    seam: str | None = None,
    neatened_with: str | None = None,
    stitch_length: Reals | None = None,
    on: Edge | Run | None = None,
) -> Sewing:
    """`on` is not kept; the report reads from the sentence which edges they are."""
    return Sewing(stitch, seam, neatened_with, stitch_length)


# From memory of ISO 3758: milder washing is marked for some temperatures only.
ACTIONS = {"60": ("normal", "mild"), "50": ("normal", "mild")} | dict.fromkeys(("40", "30"), ("normal", "mild", "very_mild"))


def _care(static: Mapping[str, Any]) -> Kind:
    known = ACTIONS.get(static["washing"], ("normal",))
    if static["action"] not in known:
        listed = " or ".join(f"`{one}`" for one in known)
        raise Trouble(f"there is no `{static['action']}` washing of this kind", f"its action is {listed}")
    return AttachedKind("care")


@verb(
    "care",
    family="specification",
    doc="Care of the garment, by the symbols of ISO 3758 in words.",
    gives=_care,
    words=(
        word("washing", "listed washing", "the most degrees it is washed at, hand, or none"),
        word("action", "one of normal mild very_mild", "how gently it is washed", default="normal"),
        word("bleaching", "listed bleaching", "any, oxygen or none"),
        word("tumbling", "listed tumbling", "the most degrees it is tumble dried at, or none"),
        word("drying", "listed drying", "how it is dried otherwise", optional=True),
        word("ironing", "listed ironing", "the most degrees it is ironed at, or none"),
        word("cleaning", "listed cleaning", "professional care: p, f, wet, or none"),
    ),
    example="care label washing 30 action mild bleaching none tumbling none drying flat ironing 110 cleaning p_mild",
)
def care(
    washing: str, action: str, bleaching: str, tumbling: str, ironing: str, cleaning: str, drying: str | None = None
) -> Care:
    return Care(washing, action, bleaching, tumbling, drying, ironing, cleaning)
