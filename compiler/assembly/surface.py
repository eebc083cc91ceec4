"""The outer cloth of a garment as one surface: which corners meet, which openings are left, whether it comes out as a sheet.

A panel is a disk, and a seam glues two runs of sides. What is left unglued are the openings, each a ring of sides. Panels,
openings and handles of a sheet hang together by its characteristic; where that is not so, some seam was laid the wrong way.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from ..pattern.which_ends import Name
from .groups import Groups
from .panels import HALVES, Atom, Half, Layer, Lying, Pieces
from .sewn import SewnOnce, Stretch
from .ways import Way, as_sewn

Corner = tuple[str, int, int, int]
"""A corner of a panel: piece, panel, half of a fold, and the number of the side of the ring that begins there."""

End = tuple[Atom, int]
"""A side of a panel at its start (0) or its end (1), as its ring is drawn."""

Step = tuple[Atom, bool]
"""A side of a panel, travelled as its ring is drawn or against it."""


@dataclass(frozen=True)
class Joint:
    """Where a run goes over from one of its edges to the next."""

    ends: tuple[End, End]
    stretches: tuple[Stretch, Stretch]


@dataclass(frozen=True)
class Glued:
    """A seam of the outer cloth: the sides of its two runs in order, laid start to start."""

    seam: SewnOnce
    left: tuple[Step, ...]
    right: tuple[Step, ...]
    joints: tuple[Joint, ...]


@dataclass(frozen=True)
class Opening:
    """A ring of sides that nothing closes, in order; the half it is on, where all of it is on one."""

    atoms: tuple[Atom, ...]
    half: Half


@dataclass(frozen=True)
class Surface:
    """The outer cloth: its seams, its openings, into how many sheets it falls, its characteristic and handles (None where what is
    laid does not fit together), and runs that go on from one edge to another where these do not meet."""

    glued: tuple[Glued, ...]
    openings: tuple[Opening, ...]
    sheets: int
    characteristic: int
    handles: float | None
    unmet: tuple[tuple[SewnOnce, Stretch, Stretch], ...]
    corners: Mapping[Corner, Corner]

    def at(self, outline: Outline, end: End) -> Corner:
        """What stands for all corners that meet at an end of a side."""
        corner = outline.corner(end)
        return self.corners.get(corner, corner)


class Outline:
    """The outlines of the panels of the outer cloth: their sides in order, darts shut, and the corners between them. Of `bags`
    each layer is of it."""

    def __init__(self, pieces: Pieces, inside: frozenset[str], bags: frozenset[str] = frozenset()) -> None:
        self.pieces = pieces
        self.inside = inside
        self.bags = bags
        self._sides: dict[str, tuple[int, ...]] = {}
        self._next: dict[tuple[str, int, int], int] = {}
        self._corners: dict[End, Corner] = {}
        self._ends: dict[End, End] = {}
        self._glued: dict[tuple[int, int], tuple[SewnOnce, Way, Glued | None]] = {}

    def is_outer(self, name: str, layer: Layer) -> bool:
        """Whether a cloth lies outside: of layers the first, of a doubled piece what is drawn."""
        piece = self.pieces[name]
        if name in self.inside or name in self.bags:
            return name in self.bags
        if piece.lying is Lying.DOUBLED:
            return layer.copy == 0
        if piece.lying is Lying.CENTRED:
            return layer.panel == 0
        return piece.lying is not Lying.PAIR or piece.count == len(HALVES) or layer.panel in (0, piece.count - 1)

    def sides(self, name: str) -> tuple[int, ...]:
        """The sides of a piece in order, the fold among them."""
        if name not in self._sides:
            cloth = self.pieces[name].said.piece
            shut = cloth.dart_sides()
            self._sides[name] = order = tuple(i for i in range(len(cloth.ring)) if i not in shut)
            for one, two in zip(order, (*order[1:], order[0]), strict=True):
                self._next[name, one, 1], self._next[name, two, 0] = two, one
        return self._sides[name]

    @cached_property
    def panels(self) -> tuple[tuple[str, int], ...]:
        each = ((name, n) for name, piece in self.pieces.items() for n in range(piece.count))
        return tuple((name, n) for name, n in each if self.is_outer(name, Layer(n)))

    @cached_property
    def atoms(self) -> tuple[Atom, ...]:
        """The sides of the outer cloth; of a doubled piece its fold is one of them."""
        return tuple(self._atoms())

    def _atoms(self) -> Iterator[Atom]:
        for name, n in self.panels:
            piece = self.pieces[name]
            copies = (0, 1) if piece.folds_open and piece.lying is Lying.CENTRED else (0,)
            for copy, i in itertools.product(copies, self.sides(name)):
                if i in piece.sides or (piece.lying is Lying.DOUBLED and self._is_fold(name, i)):
                    yield Atom(name, n, copy, i)

    @cached_property
    def corners(self) -> tuple[Corner, ...]:
        """The corners of the outer cloth."""
        return tuple(dict.fromkeys(self.corner((atom, at)) for atom in self.atoms for at in (0, 1)))

    def _is_fold(self, name: str, side: int) -> bool:
        piece = self.pieces[name]
        return piece.folds_open and piece.said.piece.fold in piece.said.piece.ring[side].names

    def _beside(self, name: str, side: int, end: int) -> int:
        self.sides(name)
        return self._next[name, side, end]

    def corner(self, end: End) -> Corner:
        """The corner at an end of a side; at the ends of a centre's fold both halves have one."""
        if end not in self._corners:
            self._corners[end] = self._corner(end)
        return self._corners[end]

    def _corner(self, end: End) -> Corner:
        atom, at = end
        number = self._beside(atom.piece, atom.side, 1) if at else atom.side
        before = self._beside(atom.piece, number, 0)
        shared = self._is_fold(atom.piece, number) or self._is_fold(atom.piece, before)
        return atom.piece, atom.panel, 0 if shared else atom.copy, number

    def beside(self, end: End) -> End:
        """The end of the side that stands beside a side at one of its ends, over the fold of a centre that of the other half."""
        if end not in self._ends:
            self._ends[end] = self._end_beside(end)
        return self._ends[end]

    def _end_beside(self, end: End) -> End:
        atom, at = end
        number = self._beside(atom.piece, atom.side, at)
        if self._is_fold(atom.piece, number) and self.pieces[atom.piece].lying is Lying.CENTRED:
            return Atom(atom.piece, atom.panel, 1 - atom.copy, atom.side), at
        return Atom(atom.piece, atom.panel, atom.copy, number), 1 - at

    def glued(self, seam: SewnOnce, way: Way) -> Glued | None:
        """A seam as it is glued when laid one way, which is worked out once however often the garment is laid out."""
        key = id(seam), id(way)  # of objects that are kept beside what was found of them, so that no other has their place
        if key not in self._glued:
            self._glued[key] = seam, way, glue(self, seam, way)
        return self._glued[key][2]


def surface(outline: Outline, sewn: Sequence[SewnOnce], ways: Mapping[str, Way]) -> Surface:
    """The outer cloth glued together, each seam laid as `ways` has it."""
    glued = tuple(one for seam in sewn if seam.name in ways and (one := outline.glued(seam, ways[seam.name])) is not None)
    met = Groups[Corner]()
    for one in glued:
        for at in (0, -1):
            met.join(*(outline.corner(end_of(run[at], bool(at))) for run in (one.left, one.right)))
    free = dict.fromkeys(outline.atoms)
    for one in glued:
        for atom, _ in (*one.left, *one.right):
            free.pop(atom, None)
    joints = [(one.seam, joint, [outline.corner(end) for end in joint.ends]) for one in glued for joint in one.joints]
    unmet = [(seam, *joint.stretches) for seam, joint, (a, b) in joints if met.first(a) != met.first(b)]
    for _, _, (a, b) in joints:
        met.join(a, b)
    openings, whole = _openings(outline, glued, free)
    corners = {corner: met.first(corner) for corner in outline.corners}
    edges = len(free) + sum(len(one.left) + len(one.right) - 1 for one in glued)
    characteristic = len(set(corners.values())) - edges + len(outline.panels)
    parts = len(Groups(outline.panels).join_all(map(panels_of, glued)).rows())
    handles = (2 * parts - len(openings) - characteristic) / 2 if whole else None
    return Surface(glued, tuple(openings), parts, characteristic, handles, tuple(unmet), corners)


def glue(outline: Outline, seam: SewnOnce, way: Way) -> Glued | None:
    """A seam as far as it joins outer cloth to outer cloth; None where it does not."""
    runs, joints = [], list[Joint]()
    for stretches, side in zip((seam.left, seam.right), way, strict=True):
        if len(stretches) != len(side.stretches):
            return None
        run: list[Step] = []
        before = stretches[0]
        for stretch, forward in zip(stretches, as_sewn(outline.pieces, stretches, side).forward, strict=True):
            outer = [layer for layer in stretch.layers if outline.is_outer(stretch.edge[0], layer)]
            steps = _steps(outline, stretch, outer, forward)
            if len(outer) != 1 or not steps:
                return None
            if run:
                joints.append(Joint((end_of(run[-1], True), end_of(steps[0], False)), (before, stretch)))
            run += steps
            before = stretch
        runs.append(tuple(run))
    return Glued(seam, runs[0], runs[1], tuple(joints))


def _steps(outline: Outline, stretch: Stretch, outer: Sequence[Layer], forward: bool) -> list[Step]:
    steps = [(atom, forward) for atom in steps_of(outline, stretch.edge, outer)]
    return steps if forward else steps[::-1]


def steps_of(outline: Outline, edge: Name, outer: Sequence[Layer]) -> list[Atom]:
    """The sides of an edge on its outer cloth, in travelling order of the ring."""
    return [atom for layer in outer[:1] for atom in outline.pieces.atoms_of(edge, layer)]


def end_of(step: Step, last: bool) -> End:
    """The end of a side at which a step along it starts or ends."""
    atom, forward = step
    return atom, int(forward == last)


def _openings(outline: Outline, glued: Sequence[Glued], free: Mapping[Atom, None]) -> tuple[list[Opening], bool]:
    """The rings of free sides, and whether each of them closes."""
    across: dict[End, End] = {}
    for one in glued:
        pairs = [(end_of(one.left[at], bool(at)), end_of(one.right[at], bool(at))) for at in (0, -1)]
        pairs += [
            (end_of(a, True), end_of(b, False)) for run in (one.left, one.right) for a, b in itertools.pairwise(run)
        ]
        across |= dict(pairs) | {b: a for a, b in pairs}
    left, found = dict(free), list[Opening]()
    while left:
        start = next(iter(left))
        ring, here = [], (start, 1)
        while True:
            ring.append(here[0])
            left.pop(here[0], None)
            onward = _onward(outline, across, free, here)
            if onward is None:
                return found, False
            here = onward[0], 1 - onward[1]
            if here[0] == start:
                break
            if here[0] not in left:
                return found, False
        halves = {outline.pieces[atom.piece].half(atom) for atom in ring}
        found.append(Opening(tuple(ring), halves.pop() if len(halves) == 1 else None))
    return found, True


def _onward(outline: Outline, across: Mapping[End, End], free: Mapping[Atom, None], end: End) -> End | None:
    """The free side that follows a free side at one of its ends, round the seams that end there; None where none is found."""
    here = outline.beside(end)
    for _ in range(len(across) + 1):
        if here[0] in free:
            return here
        if here not in across:
            return None
        here = outline.beside(across[here])
    return None


def panels_of(one: Glued) -> list[tuple[str, int]]:
    """The panels a seam joins."""
    return list(dict.fromkeys((atom.piece, atom.panel) for atom, _ in (*one.left, *one.right)))
