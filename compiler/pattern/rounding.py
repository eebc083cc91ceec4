"""An edge rounded off where it bends at the apex of a dart."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..geometry.curve import hobby
from ..geometry.lanes import agree, join, norm
from ..geometry.length import direction_at, length, nearest, point_at
from ..geometry.path import Path, chain, end_direction, start_direction
from ..geometry.tolerances import COINCIDE, SEW
from .edges import OFF, edge_length
from .piece import Piece, Reals, Side, Told, Trouble
from .ring import Run, edge_run, place_on, rebuilt, split_ring


def rounded(piece: Piece, edge: str, apexes: Sequence[Reals], reach: Reals) -> Piece:
    """The piece with its `edge` rounded off at the apexes (L, 2), over `reach` (L,) mm on both sides of each.

    One curve where two apexes are close. Its other corners, as where a dart with two ends is widest, are rounded off by no
    more than `SEW`, so that the piece keeps its width there. How far it moves, and how much shorter the edge is, are told.
    Trouble with lanes where the edge is too short for that.
    """
    before, corners = edge_length(piece, edge), _other_corners(piece, edge, apexes, reach)
    made = _rounded(piece, edge, apexes, reach)
    for corner, room in corners:
        path = chain([made.ring[i].drawn for i in edge_run(made, edge)])
        at = nearest(path, corner)[0]
        made = _curved(made, edge, path, at - room, at + room)
    path = chain([made.ring[i].drawn for i in edge_run(made, edge)])
    off = [nearest(path, apex)[1] for apex in apexes]
    lengths = {"moved at most": np.maximum(off[0], off[-1]), "before": before, "after": edge_length(made, edge)}
    return made.telling(Told("rounded off at the apex", edge, lengths))


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
    path = chain([piece.ring[i].drawn for i in edge_run(piece, edge)])
    spots = [nearest(path, apex)[0] for apex in apexes]
    if len(spots) == 2 and agree((np.abs(spots[0] - spots[1]) < 2.0 * reach + COINCIDE).astype(np.int64)):
        low, high = np.minimum(*spots), np.maximum(*spots)
        return _curved(piece, edge, path, low - reach, high + reach)
    for apex in apexes:
        path = chain([piece.ring[i].drawn for i in edge_run(piece, edge)])
        at = nearest(path, apex)[0]
        piece = _curved(piece, edge, path, at - reach, at + reach)
    return piece


def _curved(piece: Piece, edge: str, path: Path, start: Reals, stop: Reals) -> Piece:
    """The piece with its edge between two places (L,) replaced by one smooth curve."""
    short = (start <= COINCIDE) | (stop >= length(path) - COINCIDE)
    if short.any():
        figures = {f"length of {edge}": length(path), "rounded over": stop - start}
        raise Trouble(f"`{edge}` is too short to be rounded so far", "round it over less", short, figures)
    ends = join([point_at(path, start)[:, None], point_at(path, stop)[:, None]], 1)
    curve = hobby(ends, direction_at(path, start), direction_at(path, stop))
    places = [place_on(piece, edge, at, "start") for at in (start, stop)]
    runs, (first, last) = split_ring(piece, places)
    names = runs[first].side.names
    count = (last - first) % len(runs)
    dropped = {(first + k) % len(runs) for k in range(count)}
    ring = [run for k, run in enumerate(runs) if k not in dropped or k == first]
    at = next(k for k, run in enumerate(ring) if run is runs[first])
    ring[at] = Run(Side(names, curve))
    return rebuilt(piece, ring)
