"""Narrower rings of cloth within an opening: where a band, a collar or the guard of a fly ends the garment, what passes the
opening must pass the seam behind it too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.lanes import decide
from ..pattern.piece import Reals
from ..pattern.which_ends import Name
from .closures import Closing, closings
from .laying import Laid
from .panels import Atom, Lying
from .proof import Structure
from .said import ClosureSaid, GarmentSaid
from .surface import Outline, Surface, surface


@dataclass(frozen=True)
class Opener:
    """A closure that ends at a ring: whether by its upper end, and those edges of its run that lie outside the ring."""

    closure: ClosureSaid
    upper: bool
    outside: tuple[Name, ...]


@dataclass(frozen=True)
class Ring:
    """A ring of sides round which the cloth is closed, and the closures, as often as they are set in, that end at it."""

    atoms: tuple[Atom, ...]
    openers: tuple[Opener, ...]


def rings(structure: Structure, outline: Outline, laid: Laid, found: Sequence[Closing], number: int) -> Iterator[Ring]:
    """An opening, by its number, and the rings behind it, from outside: each the seam by which the pieces round the last one hang
    on the rest, for as long as the rest is still a garment of as many openings, and more cloth than was left out: a skirt is no
    band round the lower edge of its waistband. Of cloth; raises Disagreement."""
    said, made, taken = structure.said, laid.surface, frozenset[str]()
    opening = made.openings[number]
    openers = tuple(Opener(one.closure, number in one.upper, ()) for one in found if number in one.reaches)
    yield Ring(_around(structure, opening.atoms), openers)
    while opening.half is None and made.handles == 0.0:  # what goes round a limb is held to nothing
        pieces = {atom.piece for atom in opening.atoms}
        left = _seam_of(made, pieces)
        taken |= pieces
        rest = Outline(outline.pieces, outline.inside | taken, outline.bags)
        if not rest.panels or not decide(2.0 * _area(rest) > _area(outline)):
            return
        within = surface(rest, laid.sewn, laid.ways)
        behind = [n for n, one in enumerate(within.openings) if left.intersection(one.atoms)]
        alike = (within.handles, within.sheets, len(within.openings)) == (0.0, made.sheets, len(made.openings))
        if not alike or len(behind) != 1 or within.openings[behind[0]].half is not None:
            return
        opening, made = within.openings[behind[0]], within
        yield Ring(_around(structure, opening.atoms), tuple(_openers(rest, said, made, behind[0], taken)))


def _around(structure: Structure, atoms: Sequence[Atom]) -> tuple[Atom, ...]:
    """The sides that go round an opening. Of a band on its fold whose ends are free these are those it is sewn on by: its ends
    lie on each other, and what laps over adds nothing."""
    found: dict[Atom, None] = {}
    for atom in atoms:
        theirs = [one for one in atoms if (one.piece, one.panel) == (atom.piece, atom.panel)]
        free = structure.pieces[atom.piece].lying is Lying.DOUBLED and len(theirs) > 1
        others = [one for one in structure.beside(atom) if one not in theirs] if free else []
        sewn = [one for one in others if any(how.how == "seam" for how in structure.endings[one])]
        found |= dict.fromkeys(sewn or [atom])
    return tuple(found)


def _area(outline: Outline) -> Reals:
    """About how much outer cloth (L,) there is, mm2: from corner to corner of each panel, its darts and pleats with it."""
    total: Reals = np.zeros(1)
    for name, _ in outline.panels:
        piece = outline.pieces[name]
        twice = 2.0 if piece.folds_open and piece.lying is Lying.CENTRED else 1.0
        points = np.stack(np.broadcast_arrays(*(side.drawn.start for side in piece.said.piece.ring)), axis=1)
        onward = np.roll(points, -1, axis=1)
        twisted = points[..., 0] * onward[..., 1] - points[..., 1] * onward[..., 0]
        total = total + twice * np.abs(twisted.sum(axis=1)) / 2.0
    return total


def _seam_of(made: Surface, pieces: set[str]) -> frozenset[Atom]:
    """The sides to which some pieces are sewn."""
    sewn = ((one.left, one.right) for one in made.glued)
    pairs = (pair for left, right in sewn for pair in ((left, right), (right, left)))
    hanging = (one for one, across in pairs if any(atom.piece in pieces for atom, _ in across))
    return frozenset(atom for one in hanging for atom, _ in one if atom.piece not in pieces)


def _openers(rest: Outline, said: GarmentSaid, made: Surface, number: int, taken: frozenset[str]) -> Iterator[Opener]:
    """The closures that end at a ring, without what of them lies outside it."""
    outside = {one.name: tuple(edge for edge in one.edges if edge[0] in taken) for one in said.closures}
    within = [replace(one, edges=tuple(edge for edge in one.edges if edge[0] not in taken)) for one in said.closures]
    for one in closings(rest, replace(said, closures=tuple(within)), made):
        if number in one.reaches:
            yield Opener(one.closure, number in one.upper, outside[one.closure.name])
