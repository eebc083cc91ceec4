"""An edge of an outline with darts drafted in it: drawn as one smooth line with its darts closed, cut there, and opened again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import agree, cross, dot, left_of, norm, unit
from ..geometry.length import cut_at, length
from ..geometry.meet import line_path
from ..geometry.motion import Motion, apply_path, apply_points, identity, inverse, rotation, then
from ..geometry.path import Path, line, polyline, ring_area
from ..geometry.spline import hobby
from ..geometry.tolerances import COINCIDE
from ..pattern.edges import OFF
from ..pattern.piece import Reals, Trouble
from ..pattern.ring import End
from .values import Heading, Opened

SMALLEST_DART = 1.0  # mm; a dart narrower than this is not sewn
UNNEEDED = "this body needs no such dart: there is nothing to take in"

Way = Literal["mouth", "chord"]


@dataclass(frozen=True)
class Drafted:
    """A dart drafted with an edge, known without a body: by its `mouth`, or its place on the `chord`, counted from `side`.

    `side` is the end of the edge, as it is drawn, on which the inner leg lies.
    """

    name: str
    way: Way
    side: End


@dataclass(frozen=True)
class _Wedge:
    """A dart before it is cut: apex (L, 2), the turn (L,) that closes it, the way (L, 2) from the apex to the mouth of its first
    leg, and where the first leg ends (L, 2), if that is given."""

    apex: Reals
    closing: Reals
    first: Reals
    end: Reals | None
    last: Reals  # a point (L, 2) beside the mouth of its second leg


def opened_curve(
    from_: Reals,
    to: Reals,
    darts: Sequence[tuple[Drafted, Mapping[str, Reals]]],
    ring: Sequence[Path],
    tension: Reals | None = None,
    **rest: Any,
) -> Opened:
    """The edge from `from_` to `to` (L, 2), smooth once its darts are sewn; without a tension straight between them.

    Each dart has `from`, `to` and `ending_at` (L, 2), or `chord` (its share (L,) of the straight way between the ends), `width`
    and `as_long_as` (L,). `ring` is the outline in order, this edge as a straight line first: it tells which side is inside.
    Raises Trouble where legs differ, where a dart does not fit, or for a curve that is told more than how it leaves and arrives.
    """
    told = {name: value for name, value in rest.items() if value is not None}
    if extra := [name for name in told if name not in ("leaving", "arriving")]:
        raise Trouble(f"a curve with a drafted dart takes no `{extra[0]}`", "say how it leaves and arrives, or place the dart")
    given = {dart.name: (dart, words) for dart, words in darts if _is_sewn(dart, words)}
    kept = [given[dart.name] for dart in in_order([dart for dart, _ in given.values()])]
    _must_follow(from_, to, kept)
    inside = np.where(ring_area(ring) >= 0.0, 1.0, -1.0)
    wedges = [
        _by_ends(from_, to, said) if one.way == "mouth" else _on_chord(from_, to, one, said, inside) for one, said in kept
    ]
    closed = [identity()]
    for wedge in wedges:
        closed.append(then(rotation(wedge.apex, wedge.closing), closed[-1]))
    whole = _closed_line(from_, to, wedges, closed, tension, told)
    names = tuple(one.name for one, _ in kept)
    parts = _cut_open(whole, wedges, closed, names)
    legs = []
    for wedge, before, after in zip(wedges, parts, parts[1:], strict=False):
        legs.append((line(*_alike(before.end, wedge.apex)), line(*_alike(wedge.apex, after.start))))
    return Opened(tuple(parts), names, tuple(legs))


def _alike(one: Reals, other: Reals) -> tuple[Reals, Reals]:
    shape = np.broadcast_shapes(one.shape, other.shape)
    return np.broadcast_to(one, shape), np.broadcast_to(other, shape)


def _is_sewn(dart: Drafted, given: Mapping[str, Reals]) -> bool:
    """Whether a dart takes in enough to be sewn: bodies that differ in that are groups of their own."""
    width = given["width"] if dart.way == "chord" else norm(given["to"] - given["from"])
    return bool(agree(np.atleast_1d(width >= SMALLEST_DART).astype(np.int64)))


def in_order(darts: Sequence[Drafted]) -> tuple[Drafted, ...]:
    """The darts as they stand along the edge: of those counted from one end the first written is nearest to it."""
    ahead = [dart for dart in darts if dart.side == "start"]
    return (*ahead, *(dart for dart in reversed(darts) if dart.side == "end"))


def _must_follow(from_: Reals, to: Reals, darts: Sequence[tuple[Drafted, Mapping[str, Reals]]]) -> None:
    """Trouble where darts stand in another order than they are written in."""
    for one, other in pairwise(darts):
        shares = _share(from_, to, *one), _share(from_, to, *other)
        wrong = np.atleast_1d(shares[0] > shares[1])
        if wrong.any():
            figures = {f"{dart.name} ratio": share for (dart, _), share in zip((one, other), shares, strict=True)}
            message = f"the darts `{one[0].name}` and `{other[0].name}` stand in another order than they are written in"
            raise Trouble(message, "write first the one that is nearer to the end they are counted from", wrong, figures)


def _share(from_: Reals, to: Reals, dart: Drafted, given: Mapping[str, Reals]) -> Reals:
    """Where a dart stands, as a share (L,) of the straight way along the edge."""
    if dart.way == "chord":
        return given["chord"] if dart.side == "start" else 1.0 - given["chord"]
    way = to - from_
    return dot((given["from"] + given["to"]) / 2.0 - from_, way) / dot(way, way)


def _by_ends(from_: Reals, to: Reals, given: Mapping[str, Reals]) -> _Wedge:
    one, two = given["from"] - given["ending_at"], given["to"] - given["ending_at"]
    sizes = norm(one), norm(two)
    uneven = np.abs(sizes[0] - sizes[1]) > OFF
    if uneven.any():
        figures = {"one leg": sizes[0], "other leg": sizes[1]}
        raise Trouble("the dart cannot close: its legs differ", "make both ends equally far from the apex", uneven, figures)
    back = _nearer(from_, given["to"], given["from"]) & _nearer(to, given["from"], given["to"])
    if back.any():
        fix = "exchange `from` and `to` of the dart"
        raise Trouble("the dart's ends stand the other way round than the edge runs", fix, back)
    return _Wedge(given["ending_at"], np.arctan2(cross(two, one), dot(one, two)), unit(one), given["from"], given["to"])


def _nearer(place: Reals, one: Reals, other: Reals) -> NDArray[np.bool_]:
    """Whether `one` lies nearer to a place than `other`, (L,)."""
    return np.asarray(norm(one - place) < norm(other - place))


def _on_chord(from_: Reals, to: Reals, dart: Drafted, given: Mapping[str, Reals], inside: Reals) -> _Wedge:
    """A dart square to the chord, its legs half its angle to either side of that square line."""
    share, width, long = _share(from_, to, dart, given), given["width"], given["as_long_as"]
    off = (share <= 0.0) | (share >= 1.0)
    if off.any():
        fix = "place it between 0 and 1"
        raise Trouble(f"the dart `{dart.name}` lies beyond the end of its edge", fix, off, {"chord ratio": share})
    if (long <= 0.0).any():
        raise Trouble(f"the dart `{dart.name}` has no length", "give it some", long <= 0.0, {"long": long})
    way = unit(to - from_)
    foot = from_ + share[:, None] * (to - from_)
    inward = inside[:, None] * left_of(way)
    half = np.arctan2(width / 2.0, long)
    cosine, sine = np.cos(half)[:, None], np.sin(half)[:, None]
    first, last = -inward * cosine - way * sine, foot + way * width[:, None] / 2.0
    return _Wedge(foot + long[:, None] * inward, -2.0 * inside * half, first, None, last)


def _closed_line(
    from_: Reals, to: Reals, wedges: Sequence[_Wedge], closed: Sequence[Motion], tension: Reals | None, told: dict[str, Heading]
) -> Path:
    """The edge with its darts closed, all that follows a dart turned about its apex: one line through the ends that are given."""
    ends = [(wedge.end, motion) for wedge, motion in zip(wedges, closed, strict=False)]
    middle = [apply_points(motion, end) for end, motion in ends if end is not None]
    given = [from_, *middle, apply_points(closed[-1], to)]
    shape = np.broadcast_shapes(*(point.shape for point in given))
    points = [np.broadcast_to(point, shape) for point in given]
    if tension is None:
        return polyline(np.stack(points, axis=1))
    leaving, arriving = told.get("leaving"), told.get("arriving")
    out = None if leaving is None else np.broadcast_to(leaving.at(from_, points[1] - points[0]), shape)
    into = None
    if arriving is not None:
        before = wedges[-1].last if wedges else from_
        settled = arriving.at(to, to - before)
        zero = apply_points(closed[-1], np.zeros_like(settled))
        into = np.broadcast_to(apply_points(closed[-1], settled) - zero, shape)
    return hobby(np.stack(points, axis=1), out, into, tension)


def _cut_open(whole: Path, wedges: Sequence[_Wedge], closed: Sequence[Motion], names: Sequence[str]) -> list[Path]:
    """The parts of the closed line before, between and after the darts, each where it lies with the darts open."""
    spans = [Path(whole.controls[:, k : k + 1], whole.straight[k : k + 1]) for k in range(whole.spans)]
    rest, parts = spans.pop(0), []
    for wedge, motion, name in zip(wedges, closed, names, strict=False):
        if wedge.end is not None:
            parts.append(rest)
            rest = spans.pop(0)
        else:
            before, rest = _cut_by(rest, wedge, motion, name)
            parts.append(before)
    parts.append(rest)
    return [parts[0], *(apply_path(inverse(motion), part) for part, motion in zip(parts[1:], closed[1:], strict=True))]


def _cut_by(rest: Path, wedge: _Wedge, motion: Motion, name: str) -> tuple[Path, Path]:
    """The line before and after the first leg of a dart, closed as far as the darts before it go."""
    apex = apply_points(motion, wedge.apex)
    way = apply_points(motion, wedge.apex + wedge.first) - apex
    at, point, met = line_path(*_alike(apex, way), rest)
    turning = np.sign(wedge.closing)
    before, behind = turning * cross(way, rest.start - apex) > 0.0, turning * cross(way, rest.end - apex) < 0.0
    with np.errstate(invalid="ignore"):
        inner = met & (at > COINCIDE) & (at < length(rest) - COINCIDE) & (dot(point - apex, way) > 0.0) & before & behind
    if not inner.all():
        fix = "make it narrower or longer, or place it further from the end and from other darts"
        raise Trouble(f"the dart `{name}` does not fit on its edge", fix, ~inner)
    return cut_at(rest, at)
