"""How the cut lines of two neighbouring sides are joined: mitred, square, bagged; `turned.py` has those that are folded."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from ..geometry.lanes import BoolArray, FloatArray, cross, dot, join, left_of, norm, pick, unit
from ..geometry.tolerances import COINCIDE
from .strip import Strip, at, meet, ray

SPIKE = 3.0
"""A mitre longer than this many allowance widths is cut square: the point would only be trimmed off by hand."""

BACK = 1.0
"""A mitre may take at most this many widths off the end of the wider allowance; beyond that the corner is stepped."""

MOST_HOLLOW = np.radians(170.0)
"""A corner that turns further into the cloth than this is a slit: its allowances are cut away in any case."""

SLANT = 2.0
"""An allowance that grows aslant takes so many times the length it grows by (ours)."""

BEND = 20.0
"""How far (mm) from a corner one looks whether a side bends there (ours)."""

BENT = np.radians(20.0)
"""What is no bend within that length."""

BEFORE = 1e-9
"""Just before the start of a strip, mm: on the part that is carried back."""


YES: BoolArray = np.ones(1, dtype=bool)


@dataclass(frozen=True)
class Meeting:
    """Where two sides meet: the sewing corner (L, 2), directions of travel (L, 2), outward normals, widths (L,)."""

    corner: FloatArray
    first: Strip
    second: Strip
    arriving: FloatArray
    leaving: FloatArray
    first_width: FloatArray
    second_width: FloatArray

    @property
    def wide(self) -> FloatArray:
        return np.maximum(self.first_width, self.second_width)

    @property
    def turn(self) -> FloatArray:
        """Angle (L,) turned to the left at the corner, radians; negative where the corner points into the cloth."""
        return np.arctan2(cross(self.arriving, self.leaving), dot(self.arriving, self.leaving))


@dataclass(frozen=True)
class Joint:
    """The first side's cut line up to mark `upto`, then the points, then the second's from mark `since`.

    `ok` (L,): whether there is such a joint. `as_asked` (L,): whether it is the kind of corner that was asked for.
    """

    upto: FloatArray
    points: FloatArray
    since: FloatArray
    ok: BoolArray
    as_asked: BoolArray = field(default_factory=lambda: YES)


def outward(way: FloatArray) -> FloatArray:
    """Directions turned a quarter to the right: away from the cloth, for a ring travelled anticlockwise."""
    return np.stack([way[..., 1], -way[..., 0]], axis=-1)


def choose(where: BoolArray, yes: Joint, no: Joint) -> Joint:
    """`yes` in the lanes `where`, else `no`; the shorter run of points repeats its last."""
    count = max(yes.points.shape[1], no.points.shape[1])
    a, b = _padded(yes.points, count), _padded(no.points, count)
    return Joint(
        np.where(where, yes.upto, no.upto),
        pick(where[:, None], a, b),
        np.where(where, yes.since, no.since),
        np.where(where, yes.ok, no.ok),
        np.where(where, yes.as_asked, no.as_asked),
    )


def _padded(points: FloatArray, count: int) -> FloatArray:
    return join([points, *([points[:, -1:]] * (count - points.shape[1]))], 1)


def mitred(m: Meeting) -> Joint:
    """Both cut lines carried on, or cut back, until they meet; a long spike is cut square, a wide allowance stepped.

    At a hollow corner equal allowances are cut back by what the corner turns; unlike ones may take no more than at any other.
    """
    upto, since, ok = meet(m.first, m.second, m.first.end, np.full(1, -BEFORE))
    tip = at(m.first, upto)
    hollow = np.clip(-m.turn, 0.0, MOST_HOLLOW) / 2
    short = norm(tip - m.corner) <= SPIKE * m.wide / np.cos(hollow)
    taken = (BACK + np.tan(hollow)) * m.wide + COINCIDE  # on the bias, at 45 degrees, it is just so much
    whole = (upto - m.first.end >= -taken) & (since <= taken)
    joint = Joint(upto, tip[:, None], since, ok)
    good = ok & short & whole
    if good.all():
        return joint
    return choose(good, joint, choose(m.turn > np.pi / 2, square_to_first(m), stepped(m)))


def stepped(m: Meeting) -> Joint:
    """The wider allowance ends square at the corner and steps down to the narrower."""
    wider = m.first_width >= m.second_width
    gentle = np.clip(m.turn, -np.pi / 3, np.pi / 3)
    narrow = np.minimum(m.first_width, m.second_width)
    normal = pick(wider, outward(m.arriving), outward(m.leaving))
    step = m.corner + (narrow / np.cos(gentle))[:, None] * normal
    slip = narrow * np.tan(gentle)
    upto, since = m.first.end + np.where(wider, 0.0, slip), np.where(wider, -slip, 0.0)
    ends = pick(wider, at(m.first, m.first.end), step), pick(wider, step, at(m.second, np.zeros(1)))
    points = np.stack(np.broadcast_arrays(*ends), axis=1)
    joint = Joint(upto, points, since, np.ones(step.shape[0], dtype=bool))
    slanted = _slanted(m, wider)
    return choose(slanted.ok, slanted, joint) if slanted.ok.any() else joint


def _slanted(m: Meeting, wider: BoolArray) -> Joint:
    """Beside a hollow bend, as at the pit of a kimono, a step would be a hook: the wider allowance grows from the narrower
    aslant, over SLANT times what it is wider by. There is none (`ok`) where nothing bends, or the wider side is too short."""
    run = SLANT * np.abs(m.first_width - m.second_width)
    upto, since = m.first.end - np.where(wider, run, 0.0), np.where(wider, 0.0, run)
    hollow = np.where(wider, _bends(m.second, np.zeros(1), 1.0), _bends(m.first, m.first.end, -1.0))
    points = np.stack(np.broadcast_arrays(at(m.first, upto), at(m.second, since)), axis=1)
    room = np.where(wider, m.first.end, m.second.end) >= 2.0 * run
    return Joint(upto, points, since, (hollow < -BENT) & room & (run > 0.0))


def _bends(strip: Strip, s: FloatArray, way: float) -> FloatArray:
    """By how much (L,) radians, as the ring runs, a strip turns over the BEND mm from a mark near one of its ends, that way."""
    near, far = (at(strip, s + way * (d + BEND / 4)) - at(strip, s + way * d) for d in (0.0, BEND))
    turn = np.arctan2(cross(near, far), dot(near, far))
    return turn * way


def square_to_first(m: Meeting) -> Joint:
    """The first sewing line carried on to the second's cut line, and there square to it, as at the end of a seam."""
    on, since, ok = meet(ray(m.corner, m.arriving), m.second, np.full(1, BEFORE), np.full(1, -BEFORE))
    foot = m.corner + on[:, None] * m.arriving
    points = np.stack(np.broadcast_arrays(foot + m.first_width[:, None] * outward(m.arriving), foot), axis=1)
    joint = Joint(m.first.end + on, points, since, ok)
    return _unless_far(m, joint, on)


def square_to_second(m: Meeting) -> Joint:
    """The same the other way round: square to the second sewing line."""
    on, upto, ok = meet(ray(m.corner, -m.leaving), m.first, np.full(1, BEFORE), m.first.end)
    foot = m.corner - on[:, None] * m.leaving
    points = np.stack(np.broadcast_arrays(foot, foot + m.second_width[:, None] * outward(m.leaving)), axis=1)
    joint = Joint(upto, points, -on, ok)
    return _unless_far(m, joint, on)


def _unless_far(m: Meeting, joint: Joint, on: FloatArray) -> Joint:
    """A square end needs a corner that points out, and its line must reach the other cut line soon."""
    near = joint.ok & (m.turn > 0.0) & (on >= 0.0) & (on <= SPIKE * m.wide)
    if near.all():
        return joint
    return choose(near, joint, choose(m.turn > np.pi / 2, _blunt(m), stepped(m)))


def _blunt(m: Meeting) -> Joint:
    """Past a very sharp corner: both cut lines carried on by one width, then straight across."""
    upto, since = m.first.end + m.wide, -m.wide
    points = np.stack(np.broadcast_arrays(at(m.first, upto), at(m.second, since)), axis=1)
    return Joint(upto, points, since, np.ones(points.shape[0], dtype=bool))


def bagged(m: Meeting) -> Joint:
    """Sewn round and turned out: cut across square to the bisector, half the narrower allowance from the sewn corner."""
    bisector = unit(outward(m.arriving) + outward(m.leaving))
    middle = m.corner + 0.5 * np.minimum(m.first_width, m.second_width)[:, None] * bisector
    across = ray(middle, left_of(bisector))
    upto, _, ok = meet(m.first, across, m.first.end, np.zeros(1))
    since, _, ends = meet(m.second, across, np.full(1, -BEFORE), np.zeros(1))
    good = ok & ends & (m.turn > 0.0)
    joint = Joint(upto, np.stack(np.broadcast_arrays(at(m.first, upto), at(m.second, since)), axis=1), since, good)
    return joint if good.all() else choose(good, joint, mitred(m))
