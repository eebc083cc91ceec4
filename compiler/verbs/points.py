"""Points of a draft: laid off, divided, squared, turned, struck with a compass, found where lines meet, on an edge."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from ..geometry import length as lengths
from ..geometry.meet import circles, line_circle, line_path, lines, paths
from ..geometry.motion import apply_points, foot, mirror_points, rotation
from ..geometry.path import Path, chain, start_direction
from ..geometry.tolerances import COINCIDE
from ..pattern.edges import OFF, edge_from
from ..pattern.piece import Reals, Trouble
from .kinds import POINT
from .registry import verb, word
from .values import Edge, Run

WAYS = {"up": (0.0, 1.0), "down": (0.0, -1.0), "outward": (1.0, 0.0), "inward": (-1.0, 0.0)}
CORNER = 1e-3
"""Ends of edges that lie within this (mm) are one corner: finer than anything is drawn."""
SIDE = word("side", "one of up down outward inward", "which of the two: up, down, outward or inward")


def as_path(value: Path | Edge | Run) -> Path:
    """An edge or curve as one path (an edge with darts: its parts one after the other)."""
    if isinstance(value, Path):
        return value
    return in_one([as_path(edge) for edge in value.edges]) if isinstance(value, Run) else _drawn(value)


def _drawn(edge: Edge) -> Path:
    return chain([side.drawn for side in edge.sides])


def in_one(curves: Sequence[Path]) -> Path:
    """Curves one after the other; trouble where one does not start at the end of the one before."""
    for one, two in pairwise(curves):
        gap = np.linalg.norm(one.end - two.start, axis=-1)
        if (gap > OFF).any():
            wrong = "the second curve does not start where the first ends"
            raise Trouble(wrong, "turn one of them round", gap > OFF, {"gap": gap})
    return chain(list(curves))


def _chosen(one: Reals, two: Reals, side: str) -> Reals:
    """The point that lies further to the given side."""
    way = np.array(WAYS[side])
    first = (one @ way >= two @ way)[:, None]
    return np.asarray(np.where(first, one, two))


@verb(
    "measured_off",
    family="points",
    doc="A length measured off from a point: toward another point, sloping outward and down by an angle, or to a level.",
    gives=POINT,
    words=(
        word("from", "point", "where it starts"),
        word("by", "length", "how far"),
        word("toward", "point", "the point it is measured toward", optional=True),
        word("sloping_by", "angle", "the angle below level, outward", optional=True),
        word("to_level", "point", "a point at whose level it ends, outward", optional=True),
    ),
    either=(("toward", "sloping_by", "to_level"),),
    example="point shoulder_point = measured_off from neck_point by shoulder_length sloping_by 18 deg",
)
def measured_off(
    from_: Reals,
    by: Reals,
    toward: Reals | None = None,
    sloping_by: Reals | None = None,
    to_level: Reals | None = None,
) -> Reals:
    if toward is not None:
        way = toward - from_
        return np.asarray(from_ + by[:, None] * way / np.linalg.norm(way, axis=-1, keepdims=True))
    if sloping_by is not None:
        return np.asarray(from_ + by[:, None] * np.stack([np.cos(sloping_by), -np.sin(sloping_by)], axis=-1))
    assert to_level is not None
    fall = to_level[:, 1] - from_[:, 1]
    short = by < np.abs(fall)
    if short.any():
        raise Trouble(
            "the length does not reach that level",
            "measure off a longer one",
            short,
            {"length": by, "level": np.abs(fall)},
        )
    return np.asarray(from_ + np.stack([np.sqrt(by**2 - fall**2), np.broadcast_to(fall, by.shape)], axis=-1))


@verb(
    "partway",
    family="points",
    doc="A point on the straight way between two points, at a share of it.",
    gives=POINT,
    words=(
        word("from", "point", "the first point"),
        word("to", "point", "the second point"),
        word("by", "number", "the share of the way"),
    ),
    example="point middle = partway from nape to waist by 1/2",
)
def partway(from_: Reals, to: Reals, by: Reals) -> Reals:
    return np.asarray(from_ + by[:, None] * (to - from_))


@verb(
    "squared",
    family="points",
    doc="The foot of a point on the line through two others.",
    gives=POINT,
    subject=word("point", "point", "the point"),
    words=(word("onto_the_line", "point", "one point of the line"), word("to", "point", "another point of the line")),
    example="point foot = squared waist onto_the_line nape to underarm",
)
def squared(subject: Reals, onto_the_line: Reals, to: Reals) -> Reals:
    return foot(subject, onto_the_line, to)


@verb(
    "plumb",
    family="points",
    doc="The point with the level of one point, straight above or below another.",
    gives=POINT,
    words=(
        word("from", "point", "the point it stands above or below"),
        word("to_level", "point", "a point whose level it has"),
    ),
    example="point guide = plumb from underarm to_level waist",
)
def plumb(from_: Reals, to_level: Reals) -> Reals:
    shape = np.broadcast_shapes(from_.shape[:1], to_level.shape[:1])
    return np.stack([np.broadcast_to(from_[:, 0], shape), np.broadcast_to(to_level[:, 1], shape)], axis=-1)


@verb(
    "turned",
    family="points",
    doc="A point turned about another by an angle, clockwise or anticlockwise on the paper.",
    gives=POINT,
    subject=word("point", "point", "the point"),
    words=(
        word("about", "point", "the centre"),
        word("clockwise_by", "angle", "by how much, as the hands of a clock go", optional=True),
        word("anticlockwise_by", "angle", "by how much, the other way", optional=True),
    ),
    either=(("clockwise_by", "anticlockwise_by"),),
    example="point lower_end = turned nape about waist clockwise_by 20 deg",
)
def turned(
    subject: Reals, about: Reals, clockwise_by: Reals | None = None, anticlockwise_by: Reals | None = None
) -> Reals:
    angle = anticlockwise_by if clockwise_by is None else -clockwise_by
    assert angle is not None
    return np.asarray(apply_points(rotation(about, angle), subject))


@verb(
    "mirrored",
    family="points",
    doc="A point mirrored across the line through two others.",
    gives=POINT,
    subject=word("point", "point", "the point"),
    words=(word("across_the_line", "point", "one point of the line"), word("to", "point", "another point of the line")),
    example="point other = mirrored underarm across_the_line nape to waist",
)
def mirrored(subject: Reals, across_the_line: Reals, to: Reals) -> Reals:
    return np.asarray(mirror_points(across_the_line, to, subject))


@verb(
    "struck",
    family="points",
    doc="Where an arc struck about a point meets the line through a guide point, upright or level.",
    gives=POINT,
    subject=word("radius", "length", "the radius of the arc"),
    words=(
        word("about", "point", "the centre of the arc"),
        word("through", "point", "a point of the line"),
        word("line", "one of upright level", "whether the line is upright or level", default="upright"),
        SIDE,
    ),
    example="point neck_point = struck 26 cm about bust_point through guide side up",
)
def struck(subject: Reals, about: Reals, through: Reals, line: str, side: str) -> Reals:
    way = np.array([[0.0, 1.0]]) if line == "upright" else np.array([[1.0, 0.0]])
    one, two, ok = line_circle(through, way, about, subject)
    away = np.abs((through - about)[:, 0 if line == "upright" else 1])
    if not ok.all():
        raise Trouble(
            "the arc does not reach the line", "take a larger radius", ~ok, {"radius": subject, "distance": away}
        )
    return _chosen(one, two, side)


@verb(
    "arcs",
    family="points",
    doc="Where two compass arcs cross: each about its point with its radius.",
    gives=POINT,
    words=(
        word("from", "point", "the first centre"),
        word("by", "length", "the first radius"),
        word("and_from", "point", "the second centre"),
        word("and_by", "length", "the second radius"),
        SIDE,
    ),
    example="point third = arcs from nape by 14 cm and_from underarm and_by 30 cm side up",
)
def arcs(from_: Reals, by: Reals, and_from: Reals, and_by: Reals, side: str) -> Reals:
    left, right, ok = circles(from_, by, and_from, and_by)
    if not ok.all():
        away = np.linalg.norm(and_from - from_, axis=-1)
        figures = {"first radius": by, "second radius": and_by, "distance of the centres": away}
        raise Trouble("the two arcs do not cross", "the radii must together reach from centre to centre", ~ok, figures)
    return _chosen(left, right, side)


@verb(
    "where",
    family="points",
    doc="Where two lines or curves meet: straight lines as long as needed, curves as drawn; the first along the first.",
    gives=POINT,
    subject=word("line", "path", "the first line or curve"),
    words=(word("crosses", "path", "the second line or curve"),),
    example="point meeting = where shoulder crosses centre_line",
)
def where(subject: Path | Edge, crosses: Path | Edge) -> Reals:
    one, two = as_path(subject), as_path(crosses)
    if one.straight == (True,) and two.straight == (True,):
        point, _, _, ok = lines(one.start, start_direction(one), two.start, start_direction(two))
    elif one.straight == (True,) or two.straight == (True,):
        straight, curve = (one, two) if one.straight == (True,) else (two, one)
        _, point, ok = line_path(straight.start, start_direction(straight), curve)
    else:
        _, _, point, ok = paths(one, two)
    if not ok.all():
        raise Trouble("these do not meet", "draw one of them longer", ~ok)
    return point


def corner(subject: Edge, by: str, written: tuple[str, str]) -> Reals:
    """The point (L, 2) where two edges of a piece meet; `written` is what a sentence calls them."""
    mine, theirs = [[side.drawn for side in one.sides] for one in (subject, Edge(subject.piece, by))]
    # An edge that darts stand on has ends at their mouths too.
    ends = mine[-1].end, mine[0].start
    away = [
        np.minimum.reduce([np.linalg.norm(ends[0] - other.start, axis=-1) for other in theirs]),
        np.minimum.reduce([np.linalg.norm(ends[1] - other.end, axis=-1) for other in theirs]),
    ]
    at_end = away[0] <= away[1]
    apart = np.minimum(*away) > CORNER
    if apart.any():
        raise Trouble(f"`{subject.name}` and `{by}` do not meet in a corner", _where_else(subject, by, written), apart)
    return np.asarray(np.where(at_end[:, None], ends[0], ends[1]))


def _where_else(subject: Edge, by: str, written: tuple[str, str]) -> str:
    """What to write for two that meet in no corner: a level, which is no edge, crosses what bounds the piece."""
    beside = "name two edges side by side"
    if all(subject.piece.run(name) for name in (subject.name, by)):
        return beside
    try:
        where(subject, Edge(subject.piece, by))
    except Trouble:
        return beside
    return f"for the point where one crosses the other write `where {written[0]} crosses {written[1]}`"


def on_edge(subject: Path | Edge, end_at: str, at: Reals | None = None, share: Reals | None = None) -> Reals:
    """A point (L, 2) on an edge or curve, so far or such a share of the way from an end: of a curve `start` or `end`, of an
    edge what it meets there."""
    return lengths.point_at(as_path(subject), along_from_start(subject, end_at, at, share))


def along_from_start(
    subject: Path | Edge, end_at: str, at: Reals | None = None, share: Reals | None = None
) -> Reals:
    """How far (L,) mm from the start of an edge or curve a place lies that is so far, or such a share of the way, from an end;
    the end itself where neither is given."""
    total = lengths.length(as_path(subject))
    asked = np.zeros(1) if at is None else at
    asked = asked if share is None else share * total
    short = (asked > total + COINCIDE) | (asked < -COINCIDE)
    if np.any(short):
        figures = {"asked": asked, "edge": total}
        raise Trouble("the edge is shorter than that", "measure less along it", np.asarray(short), figures)
    end = edge_from(subject.piece, subject.name, end_at) if isinstance(subject, Edge) else end_at
    asked = np.clip(asked, 0.0, total)
    return np.asarray(asked if end == "start" else total - asked)
