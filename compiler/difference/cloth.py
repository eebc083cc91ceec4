"""What differs between the finished pieces of two styles, or of two versions of one, body by body, as plain values in mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

import numpy as np

from ..bodies.units import Unit
from ..finish.finished import FinishedPiece
from ..geometry.tolerances import FLAT
from ..pattern.piece import Dart, Piece
from .distance import Apart, apart, hausdorff, off_chords, same_line
from .edges import EdgePair, Status, edge_pairs
from .laying import laid_on
from .notches import NotchChange, notch_changes
from .outline import Edge, Laying, LineKind, Outline, outline
from .sayings import Finished, FinishedChange, Saying, SayingChange, finished_changes, saying_changes

Present = Literal["both", "new", "gone"]
Drawn = Literal["both", "old", "new", "neither"]
NO_NAMES: Mapping[str, str] = MappingProxyType({})

TURNED = 0.25
"""A grain turned by less than so many degrees lies as it did: 2 mm in half a metre, no cloth is laid truer (ours)."""


@dataclass(frozen=True)
class BodyCloth:
    """One side on one body: its finished pieces, of one lane each; what it says of seams, checks and fit, and its finished
    measurements. With `errors`, each in words, it is not drawn."""

    name: str
    pieces: Mapping[str, FinishedPiece]
    sayings: tuple[Saying, ...] = ()
    finished: tuple[Finished, ...] = ()
    errors: tuple[str, ...] = ()
    unit: Unit = "cm"


@dataclass(frozen=True)
class EdgeOnBody:
    """An edge of a piece on one body: how far both lines of it lie apart, mm (of one that is new or gone: how far it lies off the
    other outline); its lengths before and now; where its allowance
    is another, how far its cut lines are apart; the allowance, what of a hem is turned under, and
    how its corners are made, before and now; the edges at its ends."""

    name: str
    old_names: tuple[str, ...]
    status: Status
    kind: LineKind
    apart: Apart | None
    lone_mm: float
    length: tuple[float, float]
    cut_mm: float
    width: tuple[float, float]
    under: tuple[float, float]
    corner: tuple[str, str]
    ends: tuple[str, str]

    @property
    def most(self) -> float:
        return self.lone_mm if self.apart is None else self.apart.most

    @property
    def across(self) -> float:
        """How far it moved across itself: a level that only ends elsewhere marks what it marked."""
        return self.lone_mm if self.apart is None else max(abs(mm) for mm in self.apart.normal)

    @property
    def longer(self) -> float:
        """By how much it is longer now."""
        return self.length[1] - self.length[0]

    @property
    def is_allowed_otherwise(self) -> bool:
        differ = max(abs(a - b) for a, b in (self.width, self.under)) > FLAT
        return self.status in ("paired", "renamed") and (differ or (self.corner[0] != self.corner[1] and max(self.width) > 0.0))


@dataclass(frozen=True)
class PointMoved:
    """A point inside a piece, as of a button or where a dart ended, that moved: where from, and which way; None where it is new
    or gone."""

    name: str
    at: tuple[float, float]
    vector: tuple[float, float] | None
    is_new: bool = False

    @property
    def most(self) -> float:
        return 0.0 if self.vector is None else float(np.hypot(*self.vector))


@dataclass(frozen=True)
class Stated:
    """What is stated for cutting a piece that is not as it was: `what`, as `cut` or `fold`, before and now in words, "" none."""

    what: str
    old: str
    new: str


@dataclass(frozen=True)
class PieceOnBody:
    """A piece that both sides have, on one body: how it is laid; all its edges; notches, points, what is stated where that has
    changed; how far its cut line moved; by how many degrees its grain is turned as it is laid, anticlockwise. `centre`: points
    (x, y) of its centre, as its old side is drafted, from below; none where it has no centre that runs up and down;
    `side`: on which side of it all of the piece lies, 1 right, -1 left, 0 on both."""

    body: str
    laying: Laying
    edges: tuple[EdgeOnBody, ...]
    notches: tuple[NotchChange, ...]
    points: tuple[PointMoved, ...]
    stated: tuple[Stated, ...]
    cut_mm: float
    grain_deg: float | None
    centre: tuple[tuple[float, float], ...]
    side: float

    @property
    def most(self) -> float:
        """The most any line of it moved, mm."""
        lines = max((edge.most for edge in self.edges), default=0.0)
        return max(lines, self.cut_mm, *(point.most for point in self.points), 0.0)

    @property
    def is_same(self) -> bool:
        """Whether it is the same cloth to what nobody can cut, 0.01 mm."""
        named = all(edge.status == "paired" and not edge.is_allowed_otherwise for edge in self.edges)
        still = self.most <= FLAT and not self.laying.mirrored and self.grain_deg is None
        kept = not self.notches and not self.stated and not any(point.vector is None for point in self.points)
        return named and still and kept


@dataclass(frozen=True)
class PieceDifference:
    """A piece on all bodies that both sides draw: those of these on which both have it."""

    name: str
    old_name: str
    present: Present
    bodies: tuple[PieceOnBody, ...]

    @property
    def is_same(self) -> bool:
        return self.present == "both" and self.name == self.old_name and all(one.is_same for one in self.bodies)

    @property
    def most(self) -> float:
        return max((one.most for one in self.bodies), default=0.0)


@dataclass(frozen=True)
class BodyDifference:
    """What else differs on a body: whether both sides draw it, why one does not; what is said otherwise of seams, checks and fit,
    and finished measurements that are not as they were; pieces that are `absent` on one side."""

    name: str
    drawn: Drawn
    errors: tuple[str, ...]
    sayings: tuple[SayingChange, ...]
    finished: tuple[FinishedChange, ...]
    absent: tuple[str, ...] = ()
    unit: Unit = "cm"


@dataclass(frozen=True)
class ClothDifference:
    """All that differs on these bodies: pieces by their most, and bodies in the order they were given."""

    pieces: tuple[PieceDifference, ...] = ()
    bodies: tuple[BodyDifference, ...] = ()

    @property
    def is_same(self) -> bool:
        """Whether it is the same cloth on all these bodies, and the same is said of it."""
        still = all(piece.is_same for piece in self.pieces)
        return still and all(one.drawn in ("both", "neither") and not one.sayings and not one.finished for one in self.bodies)

    @property
    def least_most_mm(self) -> float:
        """The most that any line moved, mm."""
        return max((piece.most for piece in self.pieces), default=0.0)


@dataclass
class _Gathered:
    """What was found of a piece, body by body."""

    old_name: str
    both: list[PieceOnBody] = field(default_factory=list)
    present: set[Present] = field(default_factory=set)


def compare(
    old: Iterable[BodyCloth],
    new: Iterable[BodyCloth],
    pieces: Mapping[str, str] = NO_NAMES,
    seams: Mapping[str, str] = NO_NAMES,
) -> ClothDifference:
    """What differs on bodies, which both sides bring in the same order; `pieces` and `seams` tell what a name of the old side is
    now, where it was renamed. One body of each side is held at a time."""
    gathered: dict[str, _Gathered] = {}
    bodies = []
    for one, other in zip(old, new, strict=True):
        if one.name != other.name:
            raise ValueError(f"the two sides bring bodies in other orders: {one.name}, {other.name}")
        bodies.append(_on_body(one, other, pieces, seams, gathered))
    found = [
        PieceDifference(name, one.old_name, "both" if one.both else min(one.present), tuple(one.both))
        for name, one in gathered.items()
    ]
    return ClothDifference(tuple(sorted(found, key=lambda piece: (-round(piece.most, 3), piece.name))), tuple(bodies))


def _on_body(
    old: BodyCloth, new: BodyCloth, names: Mapping[str, str], seams: Mapping[str, str], gathered: dict[str, _Gathered]
) -> BodyDifference:
    drawn = _drawn(old, new)
    if drawn != "both":
        return BodyDifference(old.name, drawn, old.errors or new.errors, (), (), unit=new.unit)
    before = {names.get(name, name): (name, cloth) for name, cloth in old.pieces.items()}
    absent = []
    for name in dict.fromkeys((*before, *new.pieces)):
        own = before[name][0] if name in before else name
        piece = gathered.setdefault(name, _Gathered(own))
        if name in before and name in new.pieces:
            piece.both.append(piece_on_body(old.name, before[name][1], new.pieces[name], seams))
            continue
        absent.append(name)
        piece.present.add("gone" if name in before else "new")
    said = tuple(saying_changes(old.sayings, new.sayings, seams))
    return BodyDifference(old.name, drawn, (), said, tuple(finished_changes(old.finished, new.finished)), tuple(absent), new.unit)


def _drawn(old: BodyCloth, new: BodyCloth) -> Drawn:
    if old.errors and new.errors:
        return "neither"
    return "new" if old.errors else "old" if new.errors else "both"


def piece_on_body(body: str, old: FinishedPiece, new: FinishedPiece, seams: Mapping[str, str] = NO_NAMES) -> PieceOnBody:
    """A piece that both sides have; both of one lane."""
    mine, theirs = outline(old), outline(new)
    laying = laid_on(mine, theirs)
    theirs = theirs.laid(laying)
    pairs = edge_pairs(mine, theirs)
    edges = tuple(_edge(pair, mine, theirs) for pair in pairs)
    now = {pair.old_names[0]: pair.new_names[0] for pair in pairs if pair.status == "renamed"}
    return PieceOnBody(
        body,
        laying,
        edges,
        tuple(notch_changes(old.piece, new.piece, laying, now, seams)),
        tuple(_points(old.piece, new.piece, laying)),
        tuple(_stated(old.piece, new.piece)),
        hausdorff(mine.cut, theirs.cut),
        _grain(old.piece, new.piece, laying),
        mine.centre,
        mine.side,
    )


def _edge(pair: EdgePair, old: Outline, new: Outline) -> EdgeOnBody:
    one, other = pair.either
    lone, found, cut = 0.0, None, 0.0
    if pair.old is None or pair.new is None:
        lone = _off(one, new if pair.new is None else old)
    elif not same_line(one.path, other.path):
        found = apart(one.sampled, other.sampled)
    if abs(one.width - other.width) > FLAT:  # of a cut line that is mended round the whole piece no part is that of an edge
        parts = (old.cut, new.cut) if one.cut is None or other.cut is None else (one.cut, other.cut)
        cut = hausdorff(*parts)
    lengths = (0.0 if pair.old is None else one.length, 0.0 if pair.new is None else other.length)
    widths, under = (one.width, other.width), (one.under, other.under)
    corners = (one.corner, other.corner)
    return EdgeOnBody(
        pair.name, pair.old_names, pair.status, one.kind, found, lone, lengths, cut, widths, under, corners, one.ends
    )


def _off(edge: Edge, other: Outline) -> float:
    """How far an edge that the other side has not lies off its outline and its inner lines."""
    lines = [one.sampled for one in other.edges.values()]
    off = [off_chords(edge.sampled.points, line) for line in lines]
    return float(np.min(off, axis=0).max())


def _points(old: Piece, new: Piece, laying: Laying) -> Iterator[PointMoved]:
    before, after = ({name: at[0] for name, at in piece.points.items() if at is not None} for piece in (old, new))
    for name in dict.fromkeys((*before, *after)):
        if name in before and name in after:
            way = laying.points(after[name]) - before[name]
            if np.hypot(*way) > FLAT:
                yield PointMoved(name, _pair(before[name]), _pair(way))
        else:
            at = before[name] if name in before else laying.points(after[name])
            yield PointMoved(name, _pair(at), None, name in after)


def _pair(point: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _stated(old: Piece, new: Piece) -> Iterator[Stated]:
    """What is stated of two pieces that is not the same."""
    told = (dict(_told(piece)) for piece in (old, new))
    before, after = told
    for what in dict.fromkeys((*before, *after)):
        if before.get(what, "") != after.get(what, ""):
            yield Stated(what, before.get(what, ""), after.get(what, ""))


def _told(piece: Piece) -> Iterator[tuple[str, str]]:
    for one in piece.finish.cuts:
        more = " as pair" * one.mirrored + " face up" * one.face_up
        yield f"cut in {one.cloth}", f"{one.count}{more}"
    yield "fold", piece.fold or ""
    yield "lies", piece.finish.lies
    for dart in piece.darts:
        yield f"dart {dart.name}", _dart(piece, dart)
    for hole in piece.holes:
        yield f"dart {hole.name}", "with two ends"
    for name, sign in piece.signs.items():
        if sign.kind not in ("level", "part", "fold"):
            yield f"sign {name}", sign.kind


def _dart(piece: Piece, dart: Dart) -> str:
    return f"on {dart.edge}, pressed to its {piece.finish.pressed.get(dart.name, 'inner')} leg"


def _grain(old: Piece, new: Piece, laying: Laying) -> float | None:
    """By how many degrees the grain is turned, anticlockwise; None where it is not, or one side has none."""
    if old.finish.grain is None or new.finish.grain is None:
        return None
    turned = laying.way(complex(new.finish.grain[0])) / complex(old.finish.grain[0])
    degrees = float(np.degrees(np.angle(turned)))
    return degrees if abs(degrees) > TURNED else None
