"""Whether the body gets into a garment with its closures open: whatever is round it on the way must pass what comes through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ..assembly.whole import Whole
from ..bodies.body import Body
from ..diagnostics import assembly_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..geometry.lanes import decide
from ..meaning.style import CheckedStyle
from ..pattern.covers import OF_LEGS
from .levels_round import LevelOnBody
from .limbs import ASKED, ENDS, ON_ARMS, LimbOnAll, is_round_limb, on_the_body
from .numbers import in_unit
from .results import BodyResult, OpeningResult

HIP, HEAD = ("hip", "hip_girth"), ("head", "head_girth")
"""A part of the body, and what is measured of it."""

BUST, CHEST = ("bust", "bust_girth"), ("chest", "chest_girth")

BELOW_BUST = ("under_bust_girth", "waist_girth", "natural_waist_girth", "navel_girth", "top_hip_girth", "hip_girth")
"""What is measured of the body below the bust, down to the hip."""

PAST_ARMHOLES = 0.5
"""A closure from the neck that is longer than this share of the back, from neck to waist, goes on below the armholes (ours)."""

YIELDS = 0.03
"""A bust gets through what is narrower than it by so much (share of its girth), since it is soft (ours)."""

Part = tuple[str, str]

Kind = Literal["top", "from_waist"]
"""What is put on over the head or stepped into through its neck, or what hangs from a waist and is stepped into."""


@dataclass(frozen=True)
class _Way:
    """A ring of the way into a garment, and the part of the body that must pass it."""

    part: Part
    ring: OpeningResult | LevelOnBody


def gets_in(
    style: CheckedStyle,
    made: Whole,
    openings: Sequence[OpeningResult],
    levels: Sequence[LevelOnBody],
    result: BodyResult,
    body: Body,
) -> Iterator[Diagnostic]:
    """What of the body does not pass a ring of the garment it is put on through; nothing where that was not measured.

    An opening that has both halves of the wearer goes round the body, one on a single half round a limb (see `_kind`)."""
    numbers = [n for n, one in enumerate(openings) if one.half is None]
    kind = _kind(made, numbers)
    if kind is None:
        return
    upper, *others = _from_above(made, numbers, openings)
    if any(set(upper.closures) & set(one.closures) for one in others):  # which opens it from end to end
        return
    stretch = 1.0 + _stretch(result)
    ways = _from_waist(upper, levels) if kind == "from_waist" else _over_head(upper, others[0], levels, body)
    other_ways = [] if kind == "from_waist" else [_stepped_into(upper, others[0], levels, body)]
    shut = [one for one in ways if _is_shut(one, stretch, body)]
    if shut and all(any(_is_shut(one, stretch, body) for one in other) for other in other_ways):
        yield _told(style, shut[0], stretch, result, body)


def limbs_get_in(
    style: CheckedStyle,
    openings: Sequence[OpeningResult],
    limbs: Sequence[tuple[int, LimbOnAll]],
    k: int,
    result: BodyResult,
    body: Body,
) -> Iterator[Diagnostic]:
    """Openings through which a hand or a foot does not pass, and those that are narrower than the limb they go round, on the body
    that has number `k` of some; alike on both sides told once."""
    told: set[str] = set()
    say, stretch = in_unit(body.unit), 1.0 + _stretch(result)
    for number, limb in limbs:
        named = " + ".join(openings[number].edges)  # of a band its edge alone would tell nothing
        opening, around = replace(openings[number], name=named), limb.around(k, body)
        end = _Way(ENDS[limb.limb], opening)
        if named in told:
            continue
        told.add(named)
        if around is not None and opening.girth_mm * stretch < around:
            place, drawn = style.definitions[opening.edges[0].partition(".")[0]], _is_drawn(opening, result)
            yield words.narrower_than_limb(place, limb.limb, say(around), named, say(opening.girth_mm * stretch), drawn)
        elif limb.is_closed and _is_shut(end, stretch, body):
            yield _told(style, end, stretch, result, body)


def asked(made: Whole) -> tuple[str, ...]:
    """The measurements of a body that are asked for here, of a garment or its sketch."""
    covers = {piece.said.piece.covers for piece in made.structure.pieces.values()}
    of_arms = (BUST[1], CHEST[1], *ASKED["arm"]) if covers & ON_ARMS else ()
    return (HIP[1], HEAD[1], *of_arms, *(ASKED["leg"] if covers & OF_LEGS else ()))


def runs_past(made: Whole, name: str, long_mm: float, body: Body) -> bool:
    """Whether a closure begins at a neck or an armhole and goes on below the armholes: then what must pass it passes a level
    further down, which is wider, as the waist of a dress, and it may state the girth of that."""
    openings = made.laid.surface.openings
    upper = {openings[number].half for one in made.closings if one.closure.name == name for number in one.upper}
    if _kind(made, [n for n, one in enumerate(openings) if one.half is None]) != "top":
        return False
    back = body.measures.get("back_neck_point_to_waist")
    return bool(upper - {None}) or back is None or long_mm > PAST_ARMHOLES * back


def _kind(made: Whole, round_body: Sequence[int]) -> Kind | None:
    """How a garment is put on, by how many openings go round the body and round limbs: with two and two these are neck and hem,
    and arms; with two alone waist and hem, or neck and hem where a bodice is covered, as of a cape; with one above two limbs a
    waist and legs. What is open otherwise, as down the whole front, is held to nothing."""
    covered = (piece.said.piece.covers for piece in made.structure.pieces.values())
    bodice = any(one in ("bodice_front", "bodice_back") for one in covered)
    limbs = sum(is_round_limb(made, one) for one in made.laid.surface.openings)
    rows: dict[tuple[int, int], Kind | None] = {
        (2, 2): "top", (2, 0): "top" if bodice else "from_waist", (1, 2): None if bodice else "from_waist",
    }  # fmt: skip
    return rows.get((len(round_body), limbs))


def _from_above(made: Whole, numbers: Sequence[int], openings: Sequence[OpeningResult]) -> list[OpeningResult]:
    """The openings round the body, the upper one first: that which lies higher on a piece that has both, else the narrower."""
    if len(numbers) == 2 and (higher := _higher(made, numbers[0], numbers[1])) is not None:
        return [openings[n] for n in sorted(numbers, key=lambda n: n != higher)]
    return sorted((openings[n] for n in numbers), key=lambda one: one.opened_mm)


def _higher(made: Whole, one: int, two: int) -> int | None:
    """Of two openings that which lies higher on the first piece that ends at both, if only behind a binding; None where none
    does. Raises Disagreement."""
    pieces = made.structure.pieces
    cloth = {name: piece.said.piece for name, piece in pieces.items()}
    atoms = [made.laid.surface.openings[n].atoms for n in (one, two)]
    rings = [[*ring, *on_the_body(made, ring, cloth)] for ring in atoms]
    for name in pieces:
        sides = [[atom.side for atom in ring if atom.piece == name] for ring in rings]
        if all(sides):
            ring = pieces[name].said.piece.ring
            high, low = (np.mean([ring[i].drawn.start[:, 1] + ring[i].drawn.end[:, 1] for i in of], axis=0) for of in sides)
            return one if decide(high > low) else two
    return None


def _from_waist(waist: OpeningResult, levels: Sequence[LevelOnBody]) -> list[_Way]:
    """The way of the hip through a waist, down to where it will sit."""
    return [_Way(HIP, waist), *(_Way(HIP, one) for one in levels if one.word in BELOW_BUST[1:-1])]


def _over_head(upper: OpeningResult, lower: OpeningResult, levels: Sequence[LevelOnBody], body: Body) -> list[_Way]:
    """The way into a top or a dress that is pulled on from below, arms first: the bust passes all up to where it will sit, the
    head passes the neck. Arms that are raised bring the shoulders in, so that these are held to nothing."""
    bust = BUST if BUST[1] in body.measures else CHEST
    narrowing = sorted((one for one in levels if one.word in BELOW_BUST), key=lambda one: one.opened_mm)
    return [_Way(HEAD, upper), *(_Way(bust, one) for one in narrowing), _Way(bust, lower)]


def _stepped_into(upper: OpeningResult, lower: OpeningResult, levels: Sequence[LevelOnBody], body: Body) -> list[_Way]:
    """The way into the same by the feet: the hip passes the neck, and all down to where it will sit; the bust stands for a hip
    that was not measured."""
    hip = HIP if HIP[1] in body.measures else BUST if BUST[1] in body.measures else CHEST
    above = [one for one in levels if one.word in BELOW_BUST[:-1]]
    ends_above = all(one.word != HIP[1] for one in levels)
    return [_Way(hip, upper), *(_Way(hip, one) for one in above), *([_Way(hip, lower)] if ends_above else [])]


def _is_shut(way: _Way, stretch: float, body: Body) -> bool:
    around = body.measures.get(way.part[1])
    return around is not None and way.ring.opened_mm * stretch < around * (1.0 - YIELDS * (way.part == BUST))


def _stretch(result: BodyResult) -> float:
    """Of the cloths from which something is cut."""
    used = {cut.cloth for piece in result.pieces for cut in piece.piece.finish.cuts}
    return max((cloth.stretch or 0.0 for cloth in result.specification.cloths if cloth.name in used), default=0.0)


def _is_drawn(opening: OpeningResult, result: BodyResult) -> bool:
    """Whether elastic draws an opening in."""
    return any(set(trim.place) & set(opening.edges) for trim in result.specification.trims)


def _told(style: CheckedStyle, way: _Way, stretch: float, result: BodyResult, body: Body) -> Diagnostic:
    say, (part, word), ring = in_unit(body.unit), way.part, way.ring
    around, girth = say(body.measures[word]), say(ring.opened_mm)
    stretched = say(ring.opened_mm * stretch) if stretch > 1.0 else ""
    if isinstance(ring, LevelOnBody):
        place, level = style.definitions[ring.piece], ring.name.replace("_", " ")
        return words.does_not_pass_within(place, part, around, level, girth, ring.closed_by, stretched)
    how: words.Opens = "closure" if ring.closures else "elastic" if _is_drawn(ring, result) else "nothing"
    place = style.definitions[ring.edges[0].partition(".")[0]]
    return words.does_not_pass(place, part, around, ring.name, girth, how, stretched)
