"""Openings round limbs: whether a hand or a foot gets through, and whether what lies round an arm or a leg is as wide as that."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from ..assembly.panels import Atom
from ..assembly.surface import Glued, Opening
from ..assembly.whole import Whole
from ..bodies.body import Body
from ..geometry.lanes import norm
from ..pattern.covers import OF_LEGS, Covers
from ..pattern.piece import Piece, Reals
from .numbers import column

Limb = Literal["arm", "leg"]

ENDS: Mapping[Limb, tuple[str, str]] = {"arm": ("hand", "hand_girth"), "leg": ("foot", "heel_girth")}
"""What goes first through an opening round a limb, and what is measured of it."""

DEEPER = 30.0
"""So far (mm) an armhole or a crotch may lie below that of the body, and what hangs from it with it (ours)."""

BANDS = 3
"""As many pieces may follow each other between a sleeve and its opening, as a band and a frill (ours)."""

ASKED: Mapping[Limb, tuple[str, ...]] = {
    "arm": (
        "hand_girth", "shoulder_height", "armpit_height", "upper_arm_length", "outer_arm_length", "upper_arm_girth",
        "elbow_girth", "wrist_girth",
    ),
    "leg": (
        "heel_girth", "inside_leg_height", "knee_height", "ankle_height", "thigh_girth", "knee_girth", "ankle_girth",
    ),
}  # fmt: skip
"""The measurements of a limb that are asked for here."""

ON_ARMS: frozenset[Covers] = frozenset(("sleeve", "bodice_front", "bodice_back"))
"""What may end at an arm."""


@dataclass(frozen=True)
class LimbOnAll:
    """What goes round a limb on some bodies: how far (mm) below the armhole or the crotch of the garment, None where it does not
    hang from a sleeve or a leg of its own; whether its ring is closed, so that nothing opens it."""

    limb: Limb
    below: Sequence[float] | None
    is_closed: bool

    def around(self, k: int, body: Body) -> float | None:
        """How far (mm) the limb is round there, at least, on one of the bodies; None where that cannot be told."""
        if self.below is None:
            return None
        return (_arm if self.limb == "arm" else _leg)(self.below[k] + DEEPER, body.measures)


def is_round_limb(made: Whole, opening: Opening) -> bool:
    """Whether an opening goes round a limb: all on one half, and none in a pocket, which ends in the seams of its bag."""
    pieces, ends = made.structure.pieces, made.structure.endings
    cloth = (atom for atom in opening.atoms if pieces[atom.piece].said.piece.covers is not None)
    return opening.half is not None and not any(how.how == "seam" for atom in cloth for how in ends.get(atom, ()))


def limb_on_all(made: Whole, number: int, cloth: Mapping[str, Piece], count: int) -> LimbOnAll | None:
    """What an opening goes round, by its number; None where no sleeve, leg or armhole lies there."""
    opening = made.laid.surface.openings[number]
    if not is_round_limb(made, opening):
        return None
    hem = on_the_body(made, opening.atoms, cloth)
    covers = {cloth[atom.piece].covers for atom in hem}
    limb: Limb = "leg" if covers & OF_LEGS else "arm"
    if not covers & (OF_LEGS | ON_ARMS):
        return None
    below = _below(made, hem, cloth) if covers & (OF_LEGS | {"sleeve"}) else None
    is_closed = set(made.rings[number][0].atoms) == set(opening.atoms)
    return LimbOnAll(limb, None if below is None else column(below, count), is_closed)


def on_the_body(made: Whole, atoms: Sequence[Atom], cloth: Mapping[str, Piece]) -> list[Atom]:
    """The sides by which what covers a part of the body ends at an opening round it or a limb, behind bands and bindings."""
    here, taken = list(atoms), set[str]()
    for _ in range(BANDS):
        if found := [atom for atom in here if cloth[atom.piece].covers is not None]:
            return found
        taken |= {atom.piece for atom in here}
        seams = [two for one, two in _pairs(made) if any(atom.piece in taken for atom in one)]
        here = [atom for run in seams for atom in run if atom.piece not in taken]
        halves = {made.structure.pieces[atom.piece].half(atom) for atom in atoms}
        here = [atom for atom in here if made.structure.pieces[atom.piece].half(atom) in halves]
    return []


def _pairs(made: Whole) -> Iterator[tuple[list[Atom], list[Atom]]]:
    """The two runs of each seam of the outer cloth, either way round."""
    glued: Sequence[Glued] = made.laid.surface.glued
    for seam in glued:
        runs = [[atom for atom, _ in run] for run in (seam.left, seam.right)]
        yield runs[0], runs[1]
        yield runs[1], runs[0]


def _below(made: Whole, hem: Sequence[Atom], cloth: Mapping[str, Piece]) -> Reals | None:
    """How far (L,) mm the sides `hem` of a sleeve or a leg lie below where it hangs on the rest: the least, corner to corner."""
    found: list[Reals] = []
    owners = {(atom.piece, atom.panel) for atom in hem}
    covers = {cloth[atom.piece].covers for atom in hem}
    for one, two in _pairs(made):
        roots = [atom for atom in one if (atom.piece, atom.panel) in owners]
        beyond = {cloth[atom.piece].covers for atom in two if (atom.piece, atom.panel) not in owners}
        to_body = beyond & {"bodice_front", "bodice_back"} and "sleeve" in covers
        to_other_leg = beyond & OF_LEGS and made.structure.pieces[two[0].piece].half(two[0]) != _half(made, roots or one)
        if roots and (to_body or to_other_leg):
            found += [_apart(cloth, root, low) for root in roots for low in hem if low.piece == root.piece]
    return np.min(np.stack(np.broadcast_arrays(*found)), axis=0) if found else None


def _half(made: Whole, atoms: Sequence[Atom]) -> object:
    return made.structure.pieces[atoms[0].piece].half(atoms[0])


def _apart(cloth: Mapping[str, Piece], one: Atom, two: Atom) -> Reals:
    """How far (L,) mm the nearest ends of two sides of a piece are apart."""
    first, second = (cloth[atom.piece].ring[atom.side].drawn for atom in (one, two))
    pairs = ((a, b) for a in (first.start, first.end) for b in (second.start, second.end))
    return np.asarray(np.stack(np.broadcast_arrays(*(norm(a - b) for a, b in pairs))).min(axis=0))


def _arm(below: float, measures: Mapping[str, float]) -> float | None:
    """The girth (mm) of an arm so far below the armpit: between two places where it was measured it is at least between these."""
    upper, whole = measures.get("upper_arm_length"), measures.get("outer_arm_length")
    girths = [measures.get(name) for name in ("upper_arm_girth", "elbow_girth", "wrist_girth")]
    if upper is None:
        return None
    heights = measures.get("shoulder_height"), measures.get("armpit_height")
    deep = heights[0] - heights[1] if heights[0] is not None and heights[1] is not None else upper / 3.0
    return _between(below + deep, [upper / 2.0, upper, whole], girths)


def _leg(below: float, measures: Mapping[str, float]) -> float | None:
    """The girth (mm) of a leg so far below the crotch, as that of an arm."""
    inside, knee = measures.get("inside_leg_height"), measures.get("knee_height")
    if inside is None:
        return None
    ankle = measures.get("ankle_height")
    places = [0.0, None if knee is None else inside - knee, None if ankle is None else inside - ankle]
    return _between(below, places, [measures.get(name) for name in ("thigh_girth", "knee_girth", "ankle_girth")])


def _between(at: float, places: Sequence[float | None], girths: Sequence[float | None]) -> float | None:
    """The girth at a place of a limb, from those that were measured; None beyond these, but for the end of the limb."""
    known = [(place, girth) for place, girth in zip(places, girths, strict=True) if place is not None and girth is not None]
    if not known or (at > known[-1][0] and len(known) < len(places)):
        return None
    return float(np.interp(at, [place for place, _ in known], [girth for _, girth in known]))
