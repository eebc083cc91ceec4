"""How the sizes of a piece are laid on one another: a point they share, and a direction that is the same in all of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..finish.halves import centres_of
from ..geometry.length import length, point_at
from ..geometry.path import flatten_fixed
from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Piece
from ..pattern.which_ends import Sides
from .run import Places, Reals, Sizes, called, complexes

UP = 1j
CROWN, WAIST = "crown", "waist"
HIPS = ("top_hip", "hip")


@dataclass(frozen=True)
class Laying:
    """A size laid on the sample: points of it, as complex numbers, are turned by `turn` and shifted by `shift`, mm."""

    turn: complex
    shift: complex

    def points(self, points: Reals) -> Reals:
        """Points (…, 2) of the size as they lie on the sample."""
        moved = (points[..., 0] + 1j * points[..., 1]) * self.turn + self.shift
        return np.stack([moved.real, moved.imag], axis=-1)


@dataclass(frozen=True)
class SizesLaid:
    """The sizes of a piece as they lie on the sample: each `laying` by its size, where the sample's point is (2,), and in words
    where they are laid; `stated` where the style says so."""

    at: Reals
    told: str
    stated: bool
    by_size: Mapping[str, Laying]


@dataclass(frozen=True)
class Rule:
    """What is the same in all sizes of a piece: a point and a direction, of a piece of many lanes (L,) both."""

    told: str
    point: Callable[[Piece], Places]
    way: Callable[[Piece], Places]
    stated: bool = False


def laid(name: str, sizes: Sizes, sample: str, seams: Sequence[Sides] = ()) -> SizesLaid:
    """How sizes of a piece lie on the sample: as its `sizes_meet_on` says, else by what it is, never by how much it grows."""
    rule = rule_of(name, sizes[sample], seams)
    if not all(abs(rule.way(one)[0]) > COINCIDE for one in sizes.values()):  # a point in one of them
        rule = _without_centre(sizes[sample])
    at, way = rule.point(sizes[sample])[0], rule.way(sizes[sample])[0]
    by_size = {}
    for size, piece in sizes.items():
        turn = complex(way / rule.way(piece)[0])
        turn /= abs(turn)
        by_size[size] = Laying(turn, complex(at - turn * rule.point(piece)[0]))
    return SizesLaid(np.array([at.real, at.imag]), rule.told, rule.stated, by_size)


def rule_of(name: str, piece: Piece, seams: Sequence[Sides] = ()) -> Rule:
    """How sizes of a piece are laid on it, by what it is on its first lane."""
    return _stated(piece) or _at_centre(name, piece, seams) or _without_centre(piece)


def _without_centre(piece: Piece) -> Rule:
    return _at_crown(piece) or _on_panel(piece) or _at_first(piece)


def _grain(piece: Piece) -> Places:
    return np.array([UP]) if piece.finish.grain is None else np.asarray(piece.finish.grain, dtype=np.complex128)


def _stated(piece: Piece) -> Rule | None:
    said = piece.finish.aligned
    if said is None:
        return None

    def point(one: Piece) -> Places:
        assert one.finish.aligned is not None
        return complexes(one.finish.aligned.at)

    def way(one: Piece) -> Places:
        assert one.finish.aligned is not None
        turn = one.finish.aligned.way
        return _grain(one) if turn is None else np.asarray(turn, dtype=np.complex128)

    return Rule(said.told, point, way, stated=True)


def _at_centre(name: str, piece: Piece, seams: Sequence[Sides]) -> Rule | None:
    """At the upper end of the centre of a front or a back, or of any piece with a fold, or that was cut or unfolded from one."""
    named = (*centres_of(name, piece, seams), piece.fold, piece.was_fold)
    centre = next((one for one in named if one and piece.sides(one)), None)
    if centre is None:
        return None
    start, end = _ends(piece, centre)
    if abs(end - start)[0] == 0.0:
        return None
    upward = bool(((end - start) * np.conj(_grain(piece))).real[0] > 0.0)
    beside = "" if centre not in {called(side) for side in piece.ring} else _beside(piece, centre, upward)
    where = f"the upper end of {_spoken(centre)}" if not beside else f"{_spoken(beside)} by {_spoken(centre)}"

    def point(one: Piece) -> Places:
        return _ends(one, centre)[1 if upward else 0]

    def way(one: Piece) -> Places:
        """That of the part at its upper end: a slash may have turned the rest."""
        side = one.sides(centre)[-1 if upward else 0].drawn
        along = complexes(side.end - side.start)
        return along if upward else -along

    return Rule(f"{where}, along {_spoken(centre)}", point, way)


def _ends(piece: Piece, edge: str) -> tuple[Places, Places]:
    sides = piece.sides(edge)
    return complexes(sides[0].drawn.start), complexes(sides[-1].drawn.end)


def _beside(piece: Piece, edge: str, at_end: bool) -> str:
    run = piece.run(edge)
    return called(piece.ring[(run[-1] + 1) % len(piece.ring)] if at_end else piece.ring[run[0] - 1])


def _at_crown(piece: Piece) -> Rule | None:
    """At the crown of a sleeve, where it has a point of that name."""
    if piece.points.get(CROWN) is None:
        return None

    def point(one: Piece) -> Places:
        at = one.points[CROWN]
        assert at is not None
        return complexes(at)

    return Rule("the crown, along the grain", point, _grain)


def _on_panel(piece: Piece) -> Rule | None:
    """A panel that has no centre, as a gore or the side of a bodice: in the middle of its waist edge, or, where it is cut below
    the waist, of the edge above its hip."""
    edge = _waist_edge(piece) or _edge_above_hip(piece)
    if not edge:
        return None

    def point(one: Piece) -> Places:
        """Of an edge with darts or pleats the middle between its ends."""
        sides = one.sides(edge)
        if len(sides) == 1:
            return complexes(point_at(sides[0].drawn, length(sides[0].drawn) / 2))
        start, end = _ends(one, edge)
        return (start + end) / 2

    return Rule(f"the middle of {_spoken(edge)}, along the grain", point, _grain)


def _waist_edge(piece: Piece) -> str | None:
    levels = {name for name, sign in piece.signs.items() if sign.level == WAIST}
    return next((called(side) for side in piece.ring if levels.intersection(side.names)), None)


def _edge_above_hip(piece: Piece) -> str | None:
    """The edge that is met from the middle of the hip upward; None where the waist lies on the piece, as on one that hangs from
    the shoulder, or it has no hip."""
    levels = {sign.level: name for name, sign in piece.signs.items() if sign.kind == "level"}
    hip = next((levels[one] for one in HIPS if one in levels), None)
    parts = [side.drawn for side in piece.lines if hip in side.names and side.path is not None]
    if WAIST in levels or not parts:
        return None
    up = _grain(piece)[0]
    middle = (complexes(parts[0].start)[0] + complexes(parts[-1].end)[0]) / 2
    met: dict[str, float] = {}
    for side in piece.ring:
        flat = (complexes(flatten_fixed(side.drawn)[0]) - middle) * np.conj(up) / abs(up)  # upward is to the right
        beside, ahead = flat.imag, flat.real
        for k in np.flatnonzero((beside[:-1] > 0.0) != (beside[1:] > 0.0)).tolist():
            far = float(np.interp(0.0, *_rising(beside[k : k + 2], ahead[k : k + 2])))
            if far > 0.0:
                met[called(side)] = min(far, met.get(called(side), far))
    return min(met, key=lambda edge: met[edge]) if met else None


def _rising(one: Reals, other: Reals) -> tuple[Reals, Reals]:
    return (one, other) if one[0] < one[-1] else (one[::-1], other[::-1])


def _at_first(piece: Piece) -> Rule:
    """At the first corner of the first edge."""
    before, after = called(piece.ring[-1]), called(piece.ring[0])

    def point(one: Piece) -> Places:
        count = len(one.ring)
        pairs = ((called(one.ring[k - 1]), called(one.ring[k])) for k in range(count))
        at = next(k for k, pair in enumerate(pairs) if pair == (before, after))
        return complexes(one.ring[at].drawn.start)

    return Rule(f"{_spoken(before)} by {_spoken(after)}, along the grain", point, _grain)


def _spoken(name: str) -> str:
    return name.replace("_", " ").replace(".", " ")
