"""An edge rounded where it bends at the apex of a dart."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..geometry.curve import hobby
from ..geometry.lanes import agree, join, lane_count, norm, spread
from ..geometry.length import direction_at, length, nearest, point_at, points_on
from ..geometry.path import Path, chain, end_direction, start_direction
from ..geometry.tolerances import COINCIDE, SEW
from .edges import OFF
from .levels import levels_to
from .piece import OperationNote, Piece, Reals, Side, Trouble
from .ring import RingPart, edge_run, place_on, rebuilt, split_ring

_SAMPLES = 48
"""Places of a rounded edge at which it is asked how far it moved."""

BESIDE = 1.25
"""Farther from a bend than so many times what it is rounded over, an edge lies where it lay."""


def rounded(piece: Piece, edge: str, apexes: Sequence[Reals], reach: Reals) -> Piece:
    """The piece with its `edge` rounded at the apexes (L, 2), over `reach` (L,) mm on both sides of each.

    It runs through the apexes, so that the piece keeps its width there, and leaves the legs a little between them and where
    the rounding ends; one curve where two apexes are close. Its other corners, as where a dart with two ends is widest, are
    rounded off by no more than `SEW`. Levels go on to it. How far it moves, and how long it was and is, are told. Trouble
    with lanes where the edge is too short for that.
    """
    before, corners = _whole(piece, edge), _other_corners(piece, edge, apexes, reach)
    made = _rounded(piece, edge, apexes, reach)
    for corner, room in corners:
        at = nearest(_whole(made, edge), corner)[0]
        made = _curved(made, edge, at - room, at + room)
    after = _whole(made, edge)
    bends = [*((apex, reach) for apex in apexes), *corners]
    lengths = {"moved at most": _moved(before, after, bends), "before": length(before), "after": length(after)}
    return levels_to(made, before, after).with_note(OperationNote("rounded at the apex", edge, lengths))


def _whole(piece: Piece, edge: str) -> Path:
    return chain([piece.ring[i].drawn for i in edge_run(piece, edge)])


def _moved(before: Path, after: Path, bends: Sequence[tuple[Reals, Reals]]) -> Reals:
    """How far (L,) mm a path lies at most from what it was, rounded at bends: points (L, 2), each over so much (L,) mm."""
    marks = [(nearest(after, bend)[0], BESIDE * over) for bend, over in bends]
    at = spread(length(after)[:, None] * (np.arange(1, _SAMPLES) / _SAMPLES), lane_count(before.controls, after.controls))
    near = np.any([np.abs(at - mark[:, None]) <= over[:, None] for mark, over in marks], axis=0)
    lane, k = np.nonzero(near)  # all places of all bodies in one go
    away = np.zeros(near.shape)
    away[lane, k] = nearest(before.take(lane), points_on(after, lane, at[lane, k]))[1]
    return np.asarray(away.max(axis=1))


def _other_corners(piece: Piece, edge: str, apexes: Sequence[Reals], reach: Reals) -> list[tuple[Reals, Reals]]:
    """Corners (L, 2) of an edge that are no apexes, and over how much (L,) mm each is rounded off on both sides: so that it
    moves by `SEW`, at most half way to the next corner or to an end, and not as far as an apex is rounded off.

    A curve that reaches r on both sides of a bend by a small angle passes it at about r * angle / 4.
    """
    paths = [piece.ring[i].drawn for i in edge_run(piece, edge)]
    longs, found = [length(path) for path in paths], []
    spots = [paths[0].start, *(path.end for path in paths)]
    is_apex = [any(agree((norm(spot - apex) <= OFF).astype(np.int64)) for apex in apexes) for spot in spots]
    for k in range(1, len(paths)):
        ways = [(longs[k - 1], is_apex[k - 1]), (longs[k], is_apex[k + 1])]
        rooms = [np.minimum(long / 2.0, long - reach) if ends_at_apex else long / 2.0 for long, ends_at_apex in ways]
        bend = norm(start_direction(paths[k]) - end_direction(paths[k - 1]))
        room = np.minimum(np.minimum(reach, 4.0 * SEW / np.maximum(bend, COINCIDE)), np.minimum(*rooms))
        if not is_apex[k] and agree((room > OFF).astype(np.int64)):
            found.append((spots[k], room))
    return found


def _rounded(piece: Piece, edge: str, apexes: Sequence[Reals], reach: Reals) -> Piece:
    path = _whole(piece, edge)
    spots = [nearest(path, apex)[0] for apex in apexes]
    if len(spots) == 2 and agree((np.abs(spots[0] - spots[1]) < 2.0 * reach + COINCIDE).astype(np.int64)):
        swapped = agree((spots[0] > spots[1]).astype(np.int64))
        both = list(apexes)[::-1] if swapped else list(apexes)
        both = both[:1] if agree((np.abs(spots[0] - spots[1]) <= OFF).astype(np.int64)) else both
        return _curved(piece, edge, np.minimum(*spots) - reach, np.maximum(*spots) + reach, both)
    for apex in apexes:
        at = nearest(_whole(piece, edge), apex)[0]
        piece = _curved(piece, edge, at - reach, at + reach, [apex])
    return piece


def _curved(piece: Piece, edge: str, start: Reals, stop: Reals, through: Sequence[Reals] = ()) -> Piece:
    """The piece with its edge between two places (L,) replaced by one smooth curve, through points (L, 2) on the way."""
    path = _whole(piece, edge)
    short = (start <= COINCIDE) | (stop >= length(path) - COINCIDE)
    if short.any():
        figures = {f"length of {edge}": length(path), "rounded over": stop - start}
        raise Trouble(f"`{edge}` is too short to be rounded so far", "round it over less", short, figures)
    spots = [point_at(path, start), *through, point_at(path, stop)]
    curve = hobby(join([spot[:, None] for spot in spots], 1), direction_at(path, start), direction_at(path, stop))
    places = [place_on(piece, edge, at, "start") for at in (start, stop)]
    runs, (first, last) = split_ring(piece, places)
    names = runs[first].side.names
    count = (last - first) % len(runs)
    dropped = {(first + k) % len(runs) for k in range(count)}
    ring = [run for k, run in enumerate(runs) if k not in dropped or k == first]
    at = next(k for k, run in enumerate(ring) if run is runs[first])
    ring[at] = RingPart(Side(names, curve))
    return rebuilt(piece, ring)
