"""The cut line of a piece: every side's parallel line at its own allowance, joined by corners and dart caps."""

from __future__ import annotations

from dataclasses import dataclass

from ..geometry.curve import parallel
from ..geometry.lanes import BoolArray, FloatArray, Lanes, decide, dot, join, take, unit
from ..geometry.length import length
from ..geometry.path import CUT_CHORDS, end_direction, start_direction
from ..geometry.tolerances import COINCIDE
from ..geometry.valid import simple
from ..pattern.darts import is_open_below, leg_run
from ..pattern.piece import Allowance, Corner, Dart, Piece, Side, Trouble
from .caps import Leg, Opening, cap, turned_up_cap
from .corners import (
    Joint,
    Meeting,
    bagged,
    choose,
    mitred,
    square_to_first,
    square_to_second,
    stepped,
)
from .stated import HEMS, allowance_of, at_corner, corner_at
from .strip import Strip, clipped, run_on
from .turned import Turning, turned
from .union import beyond_fold, without_crossings


@dataclass(frozen=True)
class FinishedPiece:
    """A piece with its cut line.

    `cut` (L, n, 2), mm: the closed cut line, anticlockwise, first point not repeated; points may repeat. `sides`: for
    every side of the ring its own part of the cut line (L, m, 2) without the corners, None for a dart's leg and a side
    without length, which are not cut along. `widths`: the allowance (L,) of every side. `closing`: for every side the points
    of the corner or cap after it, up to the next side that is cut along. `patched` (L,): lanes whose cut line crossed itself
    or a fold and is the outline of cloth and allowances laid together; there only `cut` is exact. `unturned`: sides after
    which an allowance should be folded back and, on the lanes (L,), cannot: it never meets the line it should end on.
    """

    piece: Piece
    cut: FloatArray
    sides: tuple[FloatArray | None, ...]
    closing: tuple[FloatArray | None, ...]
    widths: tuple[FloatArray, ...]
    patched: BoolArray
    unturned: tuple[tuple[int, BoolArray], ...] = ()

    def take(self, lanes: Lanes) -> FinishedPiece:
        """The same piece for some of the bodies."""
        return FinishedPiece(
            self.piece.take(lanes),
            take(self.cut, lanes),
            tuple(None if points is None else take(points, lanes) for points in self.sides),
            tuple(None if points is None else take(points, lanes) for points in self.closing),
            tuple(take(width, lanes) for width in self.widths),
            take(self.patched, lanes),
            tuple((index, take(where, lanes)) for index, where in self.unturned),
        )


@dataclass(frozen=True)
class _CutSide:
    """A side that is cut along, its ring position, and the dart that follows it, if one does."""

    index: int
    side: Side
    allowance: Allowance
    strip: Strip
    dart: Dart | None


def finished(piece: Piece) -> FinishedPiece:
    """The piece with its cut line; darts are pressed towards their inner leg where the piece does not say otherwise. Raises
    Disagreement."""
    runs = _runs(piece)
    joints = [_joint(piece, runs[k], runs[(k + 1) % len(runs)]) for k in range(len(runs))]
    sides: list[FloatArray | None] = [None] * len(piece.ring)
    closing: list[FloatArray | None] = [None] * len(piece.ring)
    pieces: list[FloatArray] = []
    for k, run in enumerate(runs):
        before, after = joints[k - 1], joints[k]
        along = clipped(run.strip, before.since, after.upto, before.points[:, -1], after.points[:, 0])
        sides[run.index], closing[run.index] = along, after.points
        pieces += [along, after.points]
    cut = join(pieces, 1)
    widths = tuple(allowance_of(piece, side).width for side in piece.ring)
    whole = simple(cut) & ~beyond_fold(piece, cut)
    if not whole.all():
        cut = without_crossings(piece, sides, closing, cut, ~whole)
    unturned = tuple((run.index, ~joint.as_asked) for run, joint in zip(runs, joints, strict=True) if not joint.as_asked.all())
    return FinishedPiece(piece, cut, tuple(sides), tuple(closing), widths, ~whole, unturned)


def cut_edge(cloth: FinishedPiece, edge: str) -> FloatArray:
    """The cut line along an edge (L, n, 2), open, in ring order; its corners belong to no edge. Trouble where the cut line
    crosses itself: then what lies beside an edge is not what is cut."""
    if cloth.patched.any():
        fix = f"make the allowance narrower, or measure `{edge}` on the sewing line"
        raise Trouble(f"the cut line runs over itself, so that `{edge}` has none of its own", fix, cloth.patched)
    found = [cloth.sides[i] for i in cloth.piece.run(edge)]
    return join([points for points in found if points is not None], 1)


def _runs(piece: Piece) -> tuple[_CutSide, ...]:
    # A dart opened to an edge is a seam from its apex down: both sides are cut, each with its allowance.
    sewn = [dart for dart in piece.darts if not is_open_below(piece, dart)]
    shut = {i: dart for dart in sewn for i in leg_run(piece, dart)}
    # A side without length, as where a flare opens at the very end of a hem, has no direction to lie beside.
    kept = [i for i, side in enumerate(piece.ring) if i not in shut and not decide(length(side.drawn) <= COINCIDE)]
    runs = []
    for i in kept:
        side = piece.ring[i]
        allowance = allowance_of(piece, side)
        points = parallel(side.drawn, -allowance.width, CUT_CHORDS)
        strip = run_on(points, start_direction(side.drawn), end_direction(side.drawn))
        runs.append(_CutSide(i, side, allowance, strip, shut.get((i + 1) % len(piece.ring))))
    return tuple(runs)


def _joint(piece: Piece, a: _CutSide, b: _CutSide) -> Joint:
    m = Meeting(
        a.side.drawn.end,
        a.strip,
        b.strip,
        end_direction(a.side.drawn),
        start_direction(b.side.drawn),
        a.allowance.width,
        b.allowance.width,
    )
    if a.dart is None:
        return _corner(piece, m, a, b)
    to_first = a.dart.inner_first is (piece.finish.pressed.get(a.dart.name, "inner") == "inner")
    if a.allowance.corner in HEMS:
        joint = turned_up_cap(legs_beyond(piece, a.dart), a.strip, b.strip, to_first)
    else:
        apex = piece.sides(a.dart.first)[-1].drawn.end
        joint = cap(Opening(apex, a.side.drawn.end, b.side.drawn.start), a.strip, b.strip, to_first)
    return joint if joint.ok.all() else choose(joint.ok, joint, stepped(m))


def legs_beyond(piece: Piece, dart: Dart) -> tuple[Leg, Leg]:
    """How the legs of a dart that is sewn run on through the allowance, in ring order: straight; in a hem, which is turned up
    over them, mirrored in its fold."""
    count, last = len(piece.ring), piece.run(dart.second)[-1]
    before, after = piece.ring[(piece.run(dart.first)[0] - 1) % count], piece.ring[(last + 1) % count]
    apex = piece.sides(dart.first)[-1].drawn.end
    hem = allowance_of(piece, before).corner in HEMS
    made = []
    for mouth, along in ((before.drawn.end, end_direction(before.drawn)), (after.drawn.start, start_direction(after.drawn))):
        way = unit(mouth - apex)
        made.append(Leg(mouth, 2.0 * dot(-way, along)[:, None] * along + way if hem else way))
    return made[0], made[1]


TURNED: tuple[Corner, ...] = (*HEMS, "matched")
"""Corners of an allowance that is folded back, the one that wins first."""


def _corner(piece: Piece, m: Meeting, a: _CutSide, b: _CutSide) -> Joint:
    """Folded wins over stepped, matched, bagged, squared and mitred, in this order; at a fold and inside one edge, where a hem
    or a part of it may end, only a mitre keeps the line whole, or a step where the widths differ."""
    on_fold = piece.fold is not None and piece.fold in (*a.side.names, *b.side.names)
    kinds = corner_at(piece, a.side, b.side), corner_at(piece, b.side, a.side)
    turning = next((kind for kind in TURNED if kind in kinds), None)
    if on_fold or (turning is not None and (a.allowance is b.allowance or a.side.edge == b.side.edge)):
        return mitred(m)
    if turning is not None and kinds[0] != kinds[1]:
        first = kinds[0] == turning
        return turned(m, first, _turning(piece, turning, *((a, b) if first else (b, a))))
    if "bagged" in kinds:
        return bagged(m)
    if kinds[0] == "squared":
        return square_to_first(m)
    return square_to_second(m) if kinds[1] == "squared" else mitred(m)


def _turning(piece: Piece, kind: Corner, hem: _CutSide, beside: _CutSide) -> Turning:
    width, under = hem.allowance.width, hem.allowance.under
    if kind == "matched":
        return Turning(width, laid=at_corner(piece.finish.laid, hem.side, beside.side))
    return Turning(width, stepped=beside.side.drawn if kind == "stepped" else None, under=under)
