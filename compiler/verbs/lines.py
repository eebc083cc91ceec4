"""Lines and curves of a draft. Curves follow Hobby's spline (geometry/spline.py) unless they are quarter rounds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..geometry import curve as curves
from ..geometry import length as lengths
from ..geometry import path as paths
from ..geometry.ellipse import arc, quarter
from ..geometry.fit import smooth_fit
from ..geometry.lanes import agree, norm
from ..geometry.offset import parallel_curve
from ..geometry.path import Path
from ..geometry.spline import hobby
from ..geometry.tolerances import COINCIDE
from ..pattern.edges import OFF
from ..pattern.named import PartEnd
from ..pattern.piece import Reals, Side, Trouble
from ..pattern.ring import with_ends
from .kinds import PATH, PathKind
from .points import along_from_start, as_path
from .registry import verb, word
from .values import Edge, Heading, Run, listed

FROM = word("from", "point", "where it starts")
TO = word("to", "point", "where it ends")
BENDS = {
    "raised": (0.0, 1.0),
    "dipped": (0.0, -1.0),
    "rounded": (1.0, 0.0),
    "hollowed": (-1.0, 0.0),
}


@verb(
    "line",
    family="lines",
    doc="A straight line between two points.",
    gives=PATH,
    words=(FROM, TO),
    example="line shoulder from neck_point to shoulder_point",
)
def straight(from_: Reals, to: Reals) -> Path:
    return paths.line(from_, to)


@verb(
    "curve",
    family="lines",
    doc="A smooth curve between two points, through others, with given directions at its ends; or a line bent by an amount.",
    gives=PATH,
    words=(
        FROM,
        TO,
        word("leaving", "direction", "direction at the start", optional=True),
        word("arriving", "direction", "direction of travel at the end", optional=True),
        word("through", "several point", "a point on the way, or several in order", optional=True),
        word("tension", "number", "1 is round; more lies flatter", default="1"),
        *(
            word(name, "length", f"depth of the bend, {way}", optional=True)
            for name, way in (
                ("raised", "upward"),
                ("dipped", "downward"),
                ("rounded", "away from the centre"),
                ("hollowed", "toward the centre"),
            )
        ),
    ),
    example="curve neckline from front_neck to neck_point leaving outward arriving up",
)
def curve(from_: Reals, to: Reals, tension: Reals, **rest: Any) -> Path:
    bends = {name: rest[name] for name in BENDS if rest.get(name) is not None}
    points, leaving, arriving = _guides(from_, to, rest)
    if bends:
        if len(bends) > 1 or len(points) > 2 or leaving is not None or arriving is not None:
            raise Trouble(
                "a bent line has one bend and nothing else", "use `through`, `leaving` and `arriving` instead"
            )
        return _bent(points[0], points[1], *bends.popitem())
    flat = tension < 0.75
    if flat.any():
        raise Trouble("a tension under 3/4 makes loops", "use a tension from 0.75", np.asarray(flat))
    return hobby(np.stack(points, axis=1), leaving, arriving, tension)


def _guides(from_: Reals, to: Reals, rest: Mapping[str, Any]) -> tuple[list[Reals], Reals | None, Reals | None]:
    """Points of the curve and unit directions at its ends, all of one number of lanes."""
    through = listed(rest, "through")
    given = [from_, *through, to]
    shape = np.broadcast_shapes(*(point.shape for point in given))
    points = [np.broadcast_to(point, shape) for point in given]
    first, last = points[1] - points[0], points[-1] - points[-2]
    leaving: Heading | None = rest.get("leaving")
    arriving: Heading | None = rest.get("arriving")
    out = None if leaving is None else np.broadcast_to(leaving.at(points[0], first), shape)
    into = None if arriving is None else np.broadcast_to(arriving.at(points[-1], last), shape)
    return points, out, into


def _bent(start: Reals, end: Reals, name: str, depth: Reals) -> Path:
    """A line bent to the named side: the sign is that side's, whichever way the line runs."""
    way = end - start
    left = np.stack([-way[:, 1], way[:, 0]], axis=-1)
    sign = np.where(left @ np.array(BENDS[name]) >= 0, 1.0, -1.0)
    return curves.bowed(start, end, sign * depth)


@verb(
    "quarter",
    family="lines",
    doc="A quarter round (a quarter of an ellipse) from one point to another; it never bends back.",
    gives=PATH,
    words=(
        FROM,
        TO,
        word("leaving", "direction", "direction at the start"),
        word("arriving", "direction", "direction at the end; square to the way it leaves if left out", optional=True),
    ),
    example="curve neckline = quarter with from front_neck to neck_point leaving outward",
)
def quarter_curve(from_: Reals, to: Reals, leaving: Heading, arriving: Heading | None = None) -> Path:
    shape = np.broadcast_shapes(from_.shape, to.shape)
    start, end = np.broadcast_to(from_, shape), np.broadcast_to(to, shape)
    way = np.broadcast_to(leaving.at(start, end - start), shape)
    last = None if arriving is None else np.broadcast_to(arriving.at(end, end - start), shape)
    made = quarter(start, end, way, last)
    behind = np.isnan(made.controls).any(axis=(1, 2, 3))
    assert isinstance(behind, np.ndarray)
    if behind.any():
        fix = "turn a direction round, or let it arrive more steeply" if arriving else "turn the direction round"
        raise Trouble("a quarter round leaves toward its end", fix, behind)
    return made


@verb(
    "sweep",
    family="lines",
    doc="An arc swept about a centre from one point to another that is equally far from it.",
    gives=PATH,
    words=(
        FROM,
        TO,
        word("about", "point", "the centre"),
        word("going", "one of clockwise anticlockwise", "the way round on the paper", default="clockwise"),
    ),
    example="curve hem = sweep from low to underarm about waist going anticlockwise",
)
def sweep(from_: Reals, to: Reals, about: Reals, going: str) -> Path:
    lanes = np.broadcast_shapes(about.shape, from_.shape, to.shape)
    centre, start, end = (np.broadcast_to(one, lanes) for one in (about, from_, to))
    radii = norm(start - centre), norm(end - centre)
    uneven = np.abs(radii[0] - radii[1]) > COINCIDE
    if uneven.any():
        figures = {"first radius": radii[0], "second radius": radii[1]}
        raise Trouble("the two ends are not equally far from the centre", "lay both off from the centre", uneven, figures)
    same = norm(end - start) <= COINCIDE
    if same.any():
        raise Trouble("the arc ends where it begins", "sweep part of the round", same)
    return arc(centre, start, end, going == "clockwise")


@verb(
    "parallel",
    family="lines",
    doc="A curve at an equal distance from another, on the side of a given point.",
    gives=PATH,
    subject=word("curve", "path", "the curve or edge"),
    words=(word("by", "length", "the distance"), word("toward", "point", "a point on the side wanted")),
    example="curve facing_edge = parallel draft.neckline by 5 cm toward bust_point",
)
def parallel(subject: Path | Edge, by: Reals, toward: Reals) -> Path:
    path = as_path(subject)
    where, _ = lengths.nearest(path, toward)
    place, way = lengths.point_at(path, where), lengths.direction_at(path, where)
    side = way[:, 0] * (toward - place)[:, 1] - way[:, 1] * (toward - place)[:, 0]
    return parallel_curve(path, np.where(side >= 0, by, -by))


@verb(
    "blended",
    family="lines",
    doc="One smooth curve in place of two that meet in a kink, keeping the directions at the far ends.",
    gives=lambda static: PathKind("curve", getattr(static["subject"], "ends", None)),
    subject=word("curve", "path", "the curves, with `+` between them"),
    example="curve side = blended upper_side + lower_side",
)
def blended(subject: Path | Edge | Run) -> Path:
    whole = as_path(subject)
    fitted, _ = smooth_fit(whole, paths.start_direction(whole), paths.end_direction(whole))
    return fitted


@verb(
    "reversed",
    family="lines",
    doc="The same curve, run the other way.",
    gives=PATH,
    subject=word("curve", "path", "the curve"),
    example="curve back = reversed neckline",
)
def turned_round(subject: Path | Edge) -> Path:
    return paths.reverse(as_path(subject))


def part_between(subject: Path | Edge, first: PartEnd, last: PartEnd) -> Path:
    """The run of an edge or curve from one place to another, either way round."""
    path = as_path(subject)
    start, stop = (_along(subject, path, end) for end in (first, last))
    none = np.abs(stop - start) <= COINCIDE
    if none.any():
        raise Trouble("the part ends where it starts", "name two places of the curve", none)
    back = bool(agree((start > stop).astype(np.int64)))
    low, high = (stop, start) if back else (start, stop)
    run = lengths.part(path, low, high)
    run = paths.reverse(run) if back else run
    one, other = (end.value if end.how == "point" else None for end in (first, last))
    return with_ends(Side((), run), start=_met(one, run.start), end=_met(other, run.end)).drawn


def _met(point: Reals | None, end: Reals) -> Reals | None:
    """The point that a run is drawn to exactly; none where that lies across the mouth of a dart from it."""
    return point if point is not None and bool(agree((norm(point - end) <= OFF).astype(np.int64))) else None


def _along(subject: Path | Edge, path: Path, place: PartEnd) -> Reals:
    """How far (L,) mm from its start a place lies on the path of an edge or curve."""
    if place.how == "point":
        assert place.value is not None
        at, away = lengths.nearest(path, place.value)
        if (away > OFF).any():
            fix = "name a point that was found on it"
            raise Trouble("the point does not lie on the edge", fix, np.asarray(away > OFF), {"apart": away})
        return at
    if place.how == "share":
        return along_from_start(subject, place.end, share=place.value)
    return along_from_start(subject, place.end, place.value)


