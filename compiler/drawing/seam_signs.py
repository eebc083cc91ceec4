"""The signs of a seam map: an edge's lines, the dots at which seams begin, and letters in rings, none on another."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import product

import numpy as np
import shapely
from shapely.ops import substring

from .lines import obstacles
from .marks import STYLES, Circle, Layer, Line, Mark, Reals, turned
from .signs import across, centred

RING = 2.3
"""Radius of a ring, mm."""

DOT = 0.85
"""Radius of a dot, mm."""

CLEAR = 0.5
"""Between a ring and a line, another ring or a dot, mm."""

STEP = 1.2
"""Between the lines of one edge, mm."""

DOUBLE = 0.8
"""Between the two lines of a hem, mm."""

FROM_CORNER = 2.4
"""How far from its corner a dot stands, mm, so that those of two edges do not meet."""

TEETH = 1.6
"""Between the strokes across an edge that closes, mm; half as long."""

SHORTEST = 0.1
"""No line shorter than this (mm) is left beside what opens."""

HEIGHT = 2.5
SMALL = 1.8
"""Heights of one letter and of two in a ring, mm."""

PLACES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9)
"""Where along an edge a ring is tried, the best first."""

TURNS = (0.0, 30.0, -30.0, 60.0, -60.0)
"""By how much (degrees) a leader leaves the square to its edge, the best first."""

BEYOND = (0.0, 3.0, 6.0, 10.0, 15.0, 21.0, 28.0, 40.0)
"""How much further outside (mm) a ring is tried, at the end of a leader."""


Opens = tuple[float, float] | None


def line_marks(
    lines: Sequence[Reals],
    seams: Sequence[Layer],
    finishes: Sequence[str],
    source: str,
    opens: Opens = None,
    others: Sequence[Reals] = (),
    unsewn: Collection[Layer] = (),
) -> list[Mark]:
    """The lines of an edge, the first along it, the others beside each other inside it, clear of those of other edges. `opens`:
    from where to where along its only part it is closed by something; None: all along; the lines `unsewn` are
    not drawn there, but what closes it is in their stead."""
    strange = shapely.MultiLineString([shapely.LineString(line) for line in others])
    marks: list[Mark] = []
    depth = 0.0
    opened = [STEP * k for k, layer in enumerate(seams) if layer in unsewn]
    for layer in seams:
        along = _rest(lines, opens) if layer in unsewn else lines
        marks += [Line(layer, one, source=source) for one in _inset(along, depth, strange)]
        depth += STEP
    for finish in finishes:
        layer = next(one for one in STYLES if one == finish)
        along = _part(lines, opens) if finish == "closed" else lines
        for beside in (0.0, DOUBLE) if finish == "hemmed" else (0.0,):
            deep = opened[0] if finish == "closed" and opened else depth
            found = list(_inset(along, deep + beside, strange))
            marks += [Line(layer, one, source=source) for one in found]
            marks += [tooth for one in found for tooth in _teeth(one, source)] if finish == "closed" else []
        depth += STEP + (DOUBLE if finish == "hemmed" else 0.0)
    return marks


def _part(lines: Sequence[Reals], opens: Opens) -> Sequence[Reals]:
    return lines if opens is None else [shapely.get_coordinates(substring(shapely.LineString(lines[0]), *opens))]


def _rest(lines: Sequence[Reals], opens: Opens) -> list[Reals]:
    """What is left of the only part of an edge beside where it opens."""
    if opens is None:
        return []
    string = shapely.LineString(lines[0])
    ends = ((0.0, opens[0]), (opens[1], string.length))
    return [shapely.get_coordinates(substring(string, *each)) for each in ends if each[1] - each[0] > SHORTEST]


def _teeth(line: Reals, source: str) -> Iterator[Mark]:
    """Strokes across a line."""
    string = shapely.LineString(line)
    for k in range(int(string.length / TEETH)):
        at, way = _at(string, (k + 0.5) * TEETH)
        arm = across(way) * TEETH / 4
        yield Line("closed", np.stack([at - arm, at + arm]), source=source)


def _inset(lines: Sequence[Reals], depth: float, strange: shapely.Geometry) -> Iterator[Reals]:
    """Lines so far to their left, as much clear of those of other edges."""
    for line in lines:
        if depth == 0.0:
            yield line
            continue
        beside = shapely.LineString(line).offset_curve(depth, join_style="mitre")
        clear = beside.difference(strange.buffer(0.95 * depth))
        for part in shapely.get_parts(beside if clear.is_empty else clear):
            if part.length > 0.0:
                yield shapely.get_coordinates(part)


def _at(string: shapely.LineString, along: float) -> tuple[Reals, Reals]:
    """The place (2,) so far along, and the direction (2,) there."""
    spots = [max(0.0, along - 0.3), min(string.length, along + 0.3), along]
    first, last, at = shapely.get_coordinates([string.interpolate(one) for one in spots])
    return at, (last - first) / np.linalg.norm(last - first)


class Signs:
    """What is drawn of one piece, kept clear of."""

    def __init__(self) -> None:
        self.lines: shapely.Geometry = shapely.MultiLineString()
        self.rings: list[Reals] = []
        self.spots: list[Reals] = []
        self.leaders: list[shapely.LineString] = []

    def take(self, marks: Sequence[Mark]) -> None:
        """All lines that are drawn by now."""
        self.lines = shapely.MultiLineString([shapely.LineString(run) for run in obstacles([*marks])])
        shapely.prepare(self.lines)

    def dot(self, lines: Sequence[Reals], layer: Layer, number: int, end: int, source: str) -> Mark:
        """A dot near an end of an edge (0 its start, 1 its end) on one of its lines, by number, clear of other dots."""
        string = shapely.LineString(lines[-end])
        for back in np.minimum(FROM_CORNER + STEP * number + DOT * np.arange(8), 0.4 * string.length):
            at, way = _at(string, string.length - back if end else float(back))
            at = at + across(way) * STEP * number
            if all(np.linalg.norm(at - other) > 2 * DOT + CLEAR / 2 for other in self.spots):
                break
        turn = 2.0 * np.pi * np.arange(16) / 16
        self.spots.append(at)
        return Line(layer, at + DOT * np.stack([np.cos(turn), np.sin(turn)], axis=1), closed=True, filled=True, source=source)

    def is_free(self, at: Reals) -> bool:
        """Whether a ring about a place (2,) stands clear of all."""
        point = shapely.Point(at)
        far = shapely.distance(self.lines, point) >= RING + CLEAR
        far = far and all(np.linalg.norm(at - other) >= 2 * RING + CLEAR for other in self.rings)
        far = far and all(np.linalg.norm(at - spot) >= RING + DOT + CLEAR for spot in self.spots)
        return bool(far and all(shapely.distance(one, point) >= RING + CLEAR for one in self.leaders))

    def leads(self, leader: shapely.LineString, own: shapely.Geometry, strange: shapely.Geometry | None) -> bool:
        """Whether a leader crosses no ring, no other leader, no other edge and no dot on one."""
        if strange is not None and leader.intersects(strange):
            return False
        spots = [at for at in self.spots if shapely.distance(own, shapely.Point(at)) > DOT]
        reach = [(at, RING + CLEAR) for at in self.rings] + [(at, DOT) for at in spots]
        held = (shapely.distance(leader, shapely.Point(at)) >= radius for at, radius in reach)
        return all(held) and not any(leader.intersects(one) for one in self.leaders)


def ring(sign: str, at: Reals, source: str) -> list[Mark]:
    """A letter in its ring about a place (2,)."""
    return [Circle("ring", at, RING, source), centred(sign, at, HEIGHT if len(sign) == 1 else SMALL, 0.0, source)]


def ring_marks(
    signs: Signs, place_in: tuple[str, int, int], lines: Sequence[Reals], others: Sequence[Reals], depth: int, source: str
) -> list[Mark]:
    """A letter in a ring just inside an edge that has so many lines (n, 2); where it finds no room or would be taken for that of
    another edge, outside it, at the end of a leader if need be. `place_in` is the letter, the number of its line from outside and
    how many lines have letters: where there are several, only that of the innermost stands inside and that of the outermost
    outside, others at the end of a leader from their own line."""
    sign, number, many = place_in
    strings = [shapely.LineString(line) for line in lines]
    longs = [one for one in strings if one.length > 0.8 * max(other.length for other in strings)]
    string = longs[len(longs) // 2]
    own = shapely.MultiLineString([shapely.LineString(line) for line in lines])
    strange = shapely.MultiLineString([shapely.LineString(line) for line in others]) if others else None
    for place in PLACES if number == many - 1 else ():
        at, way = _at(string, place * string.length)
        inside = at + across(way) * (RING + CLEAR + 0.1 + (depth - 1) * STEP)
        for more in (0.0, 1.0):
            middle = inside + across(way) * more
            if signs.is_free(middle) and _is_its(middle, own, strange):
                signs.rings.append(middle)
                return ring(sign, middle, source)
    for beyond, place, turn in product(BEYOND, PLACES, TURNS):
        if (turn or number) and not beyond:
            continue
        at, way = _at(string, place * string.length)
        out = -across(way) @ turned(turn)
        middle = at + out * (RING + CLEAR + 0.1 + beyond)
        start = at + (across(way) * STEP * number if many > 1 else 0.3 * out)
        leader = shapely.LineString([start, middle - RING * out]) if beyond else None
        clear = _is_its(middle, own, strange) if leader is None else signs.leads(leader, own, strange)
        if clear and signs.is_free(middle):
            break
    signs.rings.append(middle)
    marks = ring(sign, middle, source)
    if leader is not None:
        signs.leaders.append(leader)
        marks.insert(0, Line("frame", shapely.get_coordinates(leader), source=source))
    return marks


def _is_its(at: Reals, own: shapely.Geometry, strange: shapely.Geometry | None) -> bool:
    """Whether a place (2,) is plainly nearer to an edge than to all others."""
    point = shapely.Point(at)
    return strange is None or bool(shapely.distance(own, point) + 1.0 < shapely.distance(strange, point))
