"""What a piece of pattern is: a closed ring of named edges on the sewing line, with darts, inner lines, points and notches.

The same classes serve twice. With paths they are cloth on lanes (every array has a leading axis of bodies, of size L or 1).
Without paths (`Side.path is None`) they are a *sketch*: the names and their order only, which is what the checker knows
before any body is loaded. Every operation of this room works on both, so the names a verb promises are those it gives.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import take
from ..geometry.path import Path
from .covers import Covers
from .remarks import Remark

Reals = NDArray[np.float64]
Turns = NDArray[np.complex128]
Worn = Literal["left", "right"]

STILL: Turns = np.ones(1, dtype=np.complex128)
STILL.setflags(write=False)

RUNS = ".runs"
"""Under what name a piece keeps where its edges run."""

LENGTHS = ".lengths"
"""Under what name a piece keeps how long its edges are."""

WHOLE = ".whole"
"""Under what name a piece keeps the one of more bodies that it was taken of."""


@dataclass(frozen=True)
class Side:
    """A run of the ring (or of an inner line) without a corner inside, travelled in ring order.

    `names`: every name it answers to, the most general first: ("hem", "left_hem"). Several sides may share a name; an
    edge is all sides of its name. `turn`: how far its panel has been turned since it was drafted, a unit complex number (L,).
    `folded`: the edges in which this side is folded away by a pleat; it has their allowance, and no part in their length.
    """

    names: tuple[str, ...]
    path: Path | None = None
    turn: Turns = field(default_factory=lambda: STILL)
    folded: tuple[str, ...] = ()

    @property
    def edge(self) -> str:
        return self.names[0]

    @property
    def drawn(self) -> Path:
        """Its path; only for cloth, never for a sketch."""
        if self.path is None:
            raise AssertionError(f"side {self.names} of a sketch has no path")
        return self.path

    def take(self, lanes: NDArray[np.intp]) -> Side:
        path = None if self.path is None else self.path.take(lanes)
        return Side(self.names, path, take(self.turn, lanes), self.folded)


HoleEnd = Literal["upper", "lower"]


def leg_names(dart: str) -> tuple[str, str, str, str]:
    """All names the legs of a dart may have, inner and outer, upper and lower."""
    return f"{dart}.inner_leg", f"{dart}.outer_leg", f"{dart}.lower_inner_leg", f"{dart}.lower_outer_leg"


@dataclass(frozen=True)
class Dart:
    """A dart on an edge: two edges of the ring that meet at its apex.

    `first` and `second` name its legs in ring order (the first travels to the apex, the second away from it); `inner_first`:
    the first is the inner leg, the one on the side of the end the dart was placed from. `edge` is the edge it stands on. A dart
    with two ends is a `Hole`, not a Dart.
    """

    name: str
    edge: str
    first: str
    second: str
    inner_first: bool

    @staticmethod
    def named(name: str, edge: str, inner_first: bool) -> Dart:
        """A dart whose legs are called as the language calls them."""
        inner, outer, *_ = leg_names(name)
        return Dart(name, edge, *((inner, outer) if inner_first else (outer, inner)), inner_first)

    @property
    def leg_names(self) -> tuple[str, str, str, str]:
        """All names its legs may have, inner and outer, upper and lower."""
        return leg_names(self.name)


@dataclass(frozen=True)
class Hole:
    """A dart with two ends: an inner ring of four legs, clockwise (cloth lies to the left of travel).

    Edges: `NAME.inner_leg`, `NAME.outer_leg` (upper), `NAME.lower_inner_leg`, `NAME.lower_outer_leg`.
    """

    name: str
    sides: tuple[Side, ...]

    @property
    def leg_names(self) -> tuple[str, str, str, str]:
        """The names of its legs."""
        return leg_names(self.name)

    def legs(self, end: HoleEnd) -> tuple[Side, Side]:
        """The inner and the outer leg at its upper or its lower end."""
        inner, outer = self.leg_names[:2] if end == "upper" else self.leg_names[2:]
        found = {side.edge: side for side in self.sides}
        return found[inner], found[outer]

    def is_lower(self, side: Side) -> bool:
        """Whether one of its sides is a leg at its lower end."""
        return side.edge in self.leg_names[2:]

    def take(self, lanes: NDArray[np.intp]) -> Hole:
        return replace(self, sides=tuple(side.take(lanes) for side in self.sides))


Why = Literal["half", "quarter", "answer", "dart", "joint", "unseen"]
"""Why a seam has a notch: at its half or a quarter; where the other side has a stated one, a dart, or a joint or corner that
nothing tells here; or where two edges run on into each other and nothing is seen."""


@dataclass(frozen=True)
class Notch:
    """A notch at arc length `at` (L,) mm from the start of ring side number `side`; `strokes` 1, 2 or 3.

    It belongs to the seam it is named for, which tells `why` it stands there; `stated` in a sentence, to every seam of its edge;
    else it marks the piece alone, as a pleat's does. One with a `name` is a place of the piece, which has a point of that name
    there; sketches have it too.
    """

    side: int
    at: Reals
    strokes: int = 1
    seam: str = ""
    stated: bool = False
    name: str = ""
    why: Why | None = None

    def take(self, lanes: NDArray[np.intp]) -> Notch:
        return replace(self, at=take(self.at, lanes))


@dataclass(frozen=True)
class OperationNote:
    """What an operation did to a piece, for the report: `what` in words, the `edge` it happened to, lengths (L,) mm and
    bare ratios (L,) by what they are: {"before": …, "after": …}, {"ratio": …}."""

    what: str
    edge: str = ""
    lengths: Mapping[str, Reals] = field(default_factory=lambda: MappingProxyType({}))
    ratios: Mapping[str, Reals] = field(default_factory=lambda: MappingProxyType({}))

    def take(self, lanes: NDArray[np.intp]) -> OperationNote:
        lengths = {name: take(value, lanes) for name, value in self.lengths.items()}
        ratios = {name: take(value, lanes) for name, value in self.ratios.items()}
        return replace(self, lengths=MappingProxyType(lengths), ratios=MappingProxyType(ratios))


@dataclass(frozen=True)
class Part:
    """What a name is that a slash gave to a part of an edge: a strip between two cuts, or the gap of one."""

    edge: str
    is_gap: bool = False


SignKind = Literal["button", "buttonhole", "drill", "fold", "level", "notch", "part", "placement", "slit"]


@dataclass(frozen=True)
class Sign:
    """How an inner line or point is to be drawn; of a dart, how far back (L,) mm from its apex its drill hole lies: `size`,
    None where there is none or in a sketch; of buttonholes, how far within its end the button lies. `toward` names the inner line
    a pleat's fold is laid on, `level` the level a line is, whatever the line is called after the piece was unfolded, `ends` the
    edges it ran from and to."""

    kind: SignKind
    size: Reals | None = None
    toward: str = ""
    level: str = ""
    ends: tuple[str, ...] = ()

    def take(self, lanes: NDArray[np.intp]) -> Sign:
        return replace(self, size=None if self.size is None else take(self.size, lanes))


Lies = Literal["straight", "cross", "bias"]
Corner = Literal["mitred", "squared", "shaped_to_fold", "stepped", "matched", "bagged"]
Pressed = Literal["inner", "outer"]


@dataclass(frozen=True)
class Allowance:
    """Allowance of an edge: width (L,) mm, the corner at its ends, and how much (L,) of a hem's width is turned under again."""

    width: Reals
    corner: Corner = "mitred"
    under: Reals | None = None

    def take(self, lanes: NDArray[np.intp]) -> Allowance:
        under = None if self.under is None else take(self.under, lanes)
        return replace(self, width=take(self.width, lanes), under=under)


@dataclass(frozen=True)
class CutOrder:
    """How many are cut in a cloth; `mirrored`: half of them are; `face_up`: the piece must lie face up."""

    count: int
    cloth: str = "shell"
    mirrored: bool = False
    face_up: bool = False


@dataclass(frozen=True)
class Aligned:
    """Where the sizes of a piece are laid on one another: a point (L, 2), the direction on paper that is the same in all sizes,
    unit complex (L,), None for that of the grain, and both in words."""

    at: Reals
    way: Turns | None
    told: str

    def take(self, lanes: NDArray[np.intp]) -> Aligned:
        return replace(self, at=take(self.at, lanes), way=None if self.way is None else take(self.way, lanes))


@dataclass(frozen=True)
class Finish:
    """What is stated for cutting: allowances by edge, grain, how many in which cloths, and labels.

    `corners` holds the corner of an edge's end at one neighbour, as (edge, neighbour), where it differs from the edge's
    own; `laid` by the same key a line (L, n, 2) along which that end is cut, where a seam's other side settles it.
    `lies` is how the piece was said to lie to its grain. `pressed` tells toward which of its legs a dart is folded, which
    shapes its cap; the inner one where nothing is said. `opens` are edges that are meant to cut levels of the body open, as a
    deep neckline; `aligned` tells how sizes are laid on one another.
    """

    allowances: Mapping[str, Allowance] = field(default_factory=lambda: MappingProxyType({}))
    corners: Mapping[tuple[str, str], Corner] = field(default_factory=lambda: MappingProxyType({}))
    laid: Mapping[tuple[str, str], Reals] = field(default_factory=lambda: MappingProxyType({}))
    grain: Turns | None = None  # direction of the grain on paper, unit complex (L,)
    lies: Lies = "straight"
    cuts: tuple[CutOrder, ...] = ()
    remarks: tuple[Remark, ...] = ()
    pressed: Mapping[str, Pressed] = field(default_factory=lambda: MappingProxyType({}))
    opens: tuple[str, ...] = ()
    aligned: Aligned | None = None

    def take(self, lanes: NDArray[np.intp]) -> Finish:
        allowances = {name: a.take(lanes) for name, a in self.allowances.items()}
        laid = {names: take(line, lanes) for names, line in self.laid.items()}
        grain = None if self.grain is None else take(self.grain, lanes)
        remarks = tuple(remark.take(lanes) for remark in self.remarks)
        made = MappingProxyType(allowances)
        aligned = None if self.aligned is None else self.aligned.take(lanes)
        return replace(self, allowances=made, laid=MappingProxyType(laid), grain=grain, remarks=remarks, aligned=aligned)

    def called(self, call: Callable[[str], str]) -> Finish:
        """The same for edges and darts whose names were changed by `call`; `seams` is no edge and stays."""
        allowances = {name if name == "seams" else call(name): a for name, a in self.allowances.items()}
        return replace(
            self,
            allowances=MappingProxyType(allowances),
            corners=MappingProxyType({(call(a), call(b)): corner for (a, b), corner in self.corners.items()}),
            laid=MappingProxyType({(call(a), call(b)): line for (a, b), line in self.laid.items()}),
            pressed=MappingProxyType({call(name): leg for name, leg in self.pressed.items()}),
            opens=tuple(call(name) for name in self.opens),
        )

    def joined(self, other: Finish) -> Finish:
        """What is stated for either of two halves that become one piece; the first tells what concerns the whole."""
        return replace(
            self,
            allowances=MappingProxyType({**self.allowances, **other.allowances}),
            corners=MappingProxyType({**self.corners, **other.corners}),
            laid=MappingProxyType({**self.laid, **other.laid}),
            pressed=MappingProxyType({**self.pressed, **other.pressed}),
            opens=tuple(dict.fromkeys((*self.opens, *other.opens))),
        )


@dataclass(frozen=True)
class Piece:
    """A piece of pattern: the cloth that will be worn, counter-clockwise, y up, millimetres.

    `lines` are inner lines (the former fold, placement lines, levels); `points` inner landmarks, (L, 2) each, or None in a
    sketch; `signs` tells how some of these are drawn, by name; `parts` which names slashes gave to parts of edges; `worn` says
    which half of the wearer a half piece covers, `covers` which part of the body, `inside` that it is worn behind another, as a
    facing; `fold` names the edge on the fold, `was_fold` the edge or inner line that was it before the piece was unfolded or cut
    as a pair; `removed` maps a name that is there no longer to the reason, for messages; `told` is what operations report, in
    their order. `uncertain` are names of a sketch that cloth may lack: on which part of a divided piece a point or a dart lies is
    known on cloth only.
    """

    ring: tuple[Side, ...]
    darts: tuple[Dart, ...] = ()
    holes: tuple[Hole, ...] = ()
    lines: tuple[Side, ...] = ()
    points: Mapping[str, Reals | None] = field(default_factory=lambda: MappingProxyType({}))
    notches: tuple[Notch, ...] = ()
    worn: Worn | None = None
    covers: Covers | None = None
    fold: str | None = None
    was_fold: str | None = None
    inside: bool = False
    removed: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    signs: Mapping[str, Sign] = field(default_factory=lambda: MappingProxyType({}))
    parts: Mapping[str, Part] = field(default_factory=lambda: MappingProxyType({}))
    told: tuple[OperationNote, ...] = ()
    uncertain: frozenset[str] = frozenset()
    finish: Finish = field(default_factory=Finish)
    memo: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)  # what was worked out about it

    @property
    def whole(self) -> tuple[Piece, NDArray[np.intp]] | None:
        """The piece of more bodies that it was taken of, and for which of them, where that is kept."""
        found: tuple[Piece, NDArray[np.intp]] | None = self.memo.get(WHOLE)
        return found

    @property
    def is_sketch(self) -> bool:
        return any(side.path is None for side in self.ring)

    def sign_of(self, side: Side) -> Sign | None:
        """The sign of a side: by its most special name that has one; that a name is one of a part is no sign of the side."""
        found = (self.signs[name] for name in reversed(side.names) if name in self.signs)
        return next((sign for sign in found if sign.kind != "part"), None)

    def has_sign(self, side: Side, kind: SignKind) -> bool:
        """Whether a side is drawn, or measured, as a sign of a kind, as a level or a fold."""
        sign = self.sign_of(side)
        return sign is not None and sign.kind == kind

    def edge_names(self) -> tuple[str, ...]:
        """Every name an edge or inner line answers to, in ring order, without repeats."""
        rings: Iterable[Side] = (*self.ring, *(side for hole in self.holes for side in hole.sides), *self.lines)
        return tuple(dict.fromkeys(name for side in rings for name in side.names))

    def dart_names(self) -> tuple[str, ...]:
        return tuple(dart.name for dart in self.darts) + tuple(hole.name for hole in self.holes)

    def run(self, name: str) -> tuple[int, ...]:
        """Ring numbers of the sides of an edge in travelling order: darts on it do not break it. Empty if there is none.

        An edge that stands in several places starts after its longest break.
        """
        runs: dict[str, tuple[int, ...]] = self.memo.setdefault(RUNS, {})
        if name not in runs:
            runs[name] = self._run(name)
        return runs[name]

    def _run(self, name: str) -> tuple[int, ...]:
        found = [i for i, side in enumerate(self.ring) if name in side.names]
        if len(found) < 2:
            return tuple(found)
        legs, count = self.dart_sides(), len(self.ring)
        breaks = []
        for k, here in enumerate(found):
            step = (here - found[k - 1]) % count or count
            between = [(found[k - 1] + n) % count for n in range(1, step)]
            breaks.append(sum(1 for i in between if i not in legs))
        first = max(range(len(found)), key=lambda k: (breaks[k], -k)) if any(breaks) else 0
        return tuple(found[first:] + found[:first])

    def dart_sides(self) -> frozenset[int]:
        """Ring numbers of the sides that are sewn shut: legs of darts, lower legs of darts that were opened to an edge,
        and what pleats fold away."""
        names = {name for dart in self.darts for name in dart.leg_names}
        return frozenset(i for i, side in enumerate(self.ring) if side.folded or names.intersection(side.names))

    def sides(self, name: str) -> tuple[Side, ...]:
        """The sides of an edge of the ring, of a two-ended dart or of an inner line, in travelling order."""
        on_ring = tuple(self.ring[i] for i in self.run(name))
        if on_ring:
            return on_ring
        inner = (side for hole in self.holes for side in hole.sides)
        return tuple(side for side in (*inner, *self.lines) if name in side.names)

    def dart(self, name: str) -> Dart | None:
        return next((dart for dart in self.darts if dart.name == name), None)

    def hole(self, name: str) -> Hole | None:
        return next((hole for hole in self.holes if hole.name == name), None)

    def take(self, lanes: NDArray[np.intp]) -> Piece:
        """The same piece for some of the bodies."""
        points = {name: None if p is None else take(p, lanes) for name, p in self.points.items()}
        return replace(
            self,
            ring=tuple(side.take(lanes) for side in self.ring),
            holes=tuple(hole.take(lanes) for hole in self.holes),
            lines=tuple(side.take(lanes) for side in self.lines),
            points=MappingProxyType(points),
            notches=tuple(notch.take(lanes) for notch in self.notches),
            signs=MappingProxyType({name: sign.take(lanes) for name, sign in self.signs.items()}),
            told=tuple(told.take(lanes) for told in self.told),
            finish=self.finish.take(lanes),
        )

    def part(self, lanes: NDArray[np.intp]) -> Piece:
        """The same, which keeps this one: what is measured on it is worked out on all bodies at once."""
        made = self.take(lanes)
        made.memo[WHOLE] = self, lanes
        return made

    def with_note(self, *told: OperationNote) -> Piece:
        """The piece with more to report; a sketch has nothing to tell."""
        return self if self.is_sketch else replace(self, told=(*self.told, *told))

    def sketch(self) -> Piece:
        """The names alone."""

        def bare(sides: tuple[Side, ...]) -> tuple[Side, ...]:
            return tuple(Side(side.names, folded=side.folded) for side in sides)

        return replace(
            self,
            ring=bare(self.ring),
            holes=tuple(Hole(hole.name, bare(hole.sides)) for hole in self.holes),
            lines=bare(self.lines),
            points=MappingProxyType(dict.fromkeys(self.points)),
            notches=tuple(replace(notch, at=np.zeros(1)) for notch in self.notches if notch.name),
            signs=MappingProxyType({name: replace(sign, size=None) for name, sign in self.signs.items()}),
            told=(),
            finish=Finish(),
        )


@dataclass(eq=False)
class Trouble(Exception):
    """Why an operation is impossible. `lanes` (L,) bool marks the bodies concerned, or None when the names alone forbid it.

    `figures` are numbers per lane, in mm or degrees, to put into the words: {"left leg": (L,), ...}.
    """

    message: str
    fix: str = ""
    lanes: NDArray[np.bool_] | None = None
    figures: Mapping[str, Reals] = field(default_factory=lambda: MappingProxyType({}))

    def __str__(self) -> str:
        return self.message
