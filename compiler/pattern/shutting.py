"""Darts shut along a run of edges, for what is traced from there: each part beyond a dart is turned about its apex."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import cross, dot, norm
from ..geometry.motion import Motion, identity, inverse, rotation, then
from ..geometry.tolerances import SEW
from .darts import apex_of, is_open_below, leg_run
from .piece import Dart, OperationNote, Piece, Reals, Trouble
from .ring import RingPart, end_of, moved, rebuilt, start_of, with_ends


def shut_along(piece: Piece, numbers: Sequence[int], before: Sequence[int], depth: Reals | None) -> Piece:
    """The ring without the darts that stand on a run of its sides, what lies beyond each of them turned with the cloth.

    The part before the first dart stays, with the sides `before` the run; or, where the run ends at the fold, the part after
    the last. The rest of the ring no longer closes: only what lies along the run counts. Trouble where a dart was opened to
    another edge, its legs differ by more than is sewn without notice, or its apex lies less deep than `depth` (L,) mm: the
    cloth round it would not lie flat.
    """
    darts = [dart for dart in piece.darts if set(leg_run(piece, dart)) & set(numbers)]
    if not darts:
        return piece
    for dart in darts:
        if is_open_below(piece, dart):
            raise Trouble(f"`{dart.name}` is a seam through the edge that is faced", "face its two sides each for itself")
    order = [(numbers[0] + k) % len(piece.ring) for k in range(len(piece.ring))]
    shut = {leg_run(piece, dart)[0]: dart for dart in darts}
    after = piece.ring[order[len(numbers)]]
    closings = {} if piece.is_sketch else {i: _closing(piece, dart, depth) for i, dart in shut.items()}
    motions = _motions([i for i in order if i in closings], closings, last_stays=piece.fold in after.names)
    legs = {i for dart in darts for i in leg_run(piece, dart)}
    runs: list[RingPart] = []
    part = 0
    for i in order:
        part += i in closings
        if i in legs:
            continue
        side = piece.ring[i]
        motion = motions[0 if i in before else part]
        if motion is not None:
            side = moved(side, motion)
        if runs and not piece.is_sketch and order[order.index(i) - 1] in legs:
            side = with_ends(side, start=end_of(runs[-1].side))
        runs.append(RingPart(side, i))
    lost = {name: "it was shut in the facing" for dart in darts for name in (dart.name, *dart.leg_names)}
    made = rebuilt(piece, runs, lost=lost, darts=tuple(dart for dart in piece.darts if dart not in darts))
    return made.with_note(*(_told(piece, dart) for dart in darts if not piece.is_sketch))


def _motions(order: Sequence[int], closings: Mapping[int, Motion], *, last_stays: bool) -> list[Motion | None]:
    """The motion of each part, from the one before the first dart on; None for the part that stays."""
    motions = [identity()]
    for i in order:
        motions.append(then(closings[i], motions[-1]))
    if not last_stays:
        return [None, *motions[1:]]
    back = inverse(motions[-1])
    return [*(then(motion, back) for motion in motions[:-1]), None]


def _told(piece: Piece, dart: Dart) -> OperationNote:
    first, second = _mouth(piece, dart)
    return OperationNote(f"`{dart.name}` shut", dart.edge, MappingProxyType({"taken in": norm(second - first)}))


def _mouth(piece: Piece, dart: Dart) -> tuple[Reals, Reals]:
    """The ends (L, 2) of a dart's legs on its edge, in ring order."""
    legs = leg_run(piece, dart)
    first, second = start_of(piece.ring[legs[0]]), end_of(piece.ring[legs[-1]])
    assert first is not None
    assert second is not None
    return first, second


def _closing(piece: Piece, dart: Dart, depth: Reals | None) -> Motion:
    """The turn about the apex that lays the second leg on the first."""
    apex, (first, second) = apex_of(piece, dart.name), _mouth(piece, dart)
    assert apex is not None
    a, b = first - apex, second - apex
    uneven = np.abs(norm(a) - norm(b)) > SEW
    if uneven.any():
        figures = {"first leg": norm(a), "second leg": norm(b)}
        fix = f"make them alike first: `even` and `{dart.name}`"
        raise Trouble(f"the legs of `{dart.name}` differ: it cannot be shut", fix, uneven, figures)
    long = np.minimum(norm(a), norm(b))
    short = np.zeros(1, dtype=np.bool_) if depth is None else long <= depth
    if short.any():
        fix = "make the facing less deep, or pivot or leave the dart first"
        figures = {"length of its legs": long, "depth": np.zeros(1) if depth is None else depth}
        raise Trouble(f"`{dart.name}` ends inside the facing, which would not lie flat", fix, short, figures)
    return rotation(apex, np.arctan2(cross(b, a), dot(b, a)))
