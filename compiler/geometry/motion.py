"""Rigid motions and mirrors over lanes. Compose first, apply once."""

from dataclasses import dataclass

import numpy as np

from .lanes import ComplexArray, FloatArray, dot, unit
from .path import Path


@dataclass(frozen=True, eq=False)
class Motion:
    """The motion p -> turn * p + shift on points taken as complex numbers; turn and shift (L,), |turn| = 1."""

    turn: ComplexArray
    shift: ComplexArray


def _complex(x: FloatArray, y: FloatArray) -> ComplexArray:
    made = np.empty(np.broadcast_shapes(x.shape, y.shape), dtype=np.complex128)
    made.real, made.imag = x, y
    return made


def _times(a: ComplexArray, b: ComplexArray) -> ComplexArray:
    """a * b, spelled out: the library's product may fuse operations in a batch and not in a single lane."""
    return _complex(a.real * b.real - a.imag * b.imag, a.real * b.imag + a.imag * b.real)


def identity() -> Motion:
    """The motion that leaves all in place, one lane."""
    return Motion(np.ones(1, dtype=np.complex128), np.zeros(1, dtype=np.complex128))


def rotation(centre: FloatArray, angle_radians: FloatArray) -> Motion:
    """The turn about centre (L, 2) by an angle (L,), anticlockwise positive."""
    turn = _complex(np.cos(angle_radians), np.sin(angle_radians))
    middle = _complex(centre[..., 0], centre[..., 1])
    return Motion(turn + np.zeros(middle.shape), middle - _times(turn, middle))


def translation(v: FloatArray) -> Motion:
    """The shift by v (L, 2), mm."""
    shift = _complex(v[..., 0], v[..., 1])
    return Motion(np.ones(shift.shape, dtype=np.complex128), shift)


def then(first: Motion, second: Motion) -> Motion:
    """One motion that does `first`, then `second`."""
    return Motion(_times(second.turn, first.turn), _times(second.turn, first.shift) + second.shift)


def inverse(m: Motion) -> Motion:
    """The motion that undoes m."""
    back = np.conj(m.turn)
    return Motion(back, -_times(back, m.shift))


def angle(m: Motion) -> FloatArray:
    """The turn (L,) in radians, -pi to pi, anticlockwise positive."""
    return np.arctan2(m.turn.imag, m.turn.real)


def apply_points(m: Motion, pts: FloatArray) -> FloatArray:
    """Points (L, ..., 2) moved."""
    turn, shift = (a.reshape(-1, *(1,) * (pts.ndim - 2)) for a in (m.turn, m.shift))
    x, y = pts[..., 0], pts[..., 1]
    moved_x = turn.real * x - turn.imag * y + shift.real
    moved_y = turn.imag * x + turn.real * y + shift.imag
    return np.stack([moved_x, moved_y], axis=-1)


def apply_path(m: Motion, path: Path) -> Path:
    """A path moved."""
    return Path(apply_points(m, path.controls), path.straight)


def mirror_points(p: FloatArray, q: FloatArray, pts: FloatArray) -> FloatArray:
    """Points (L, ..., 2) mirrored across the axis through p and q (L, 2)."""
    between = (1,) * (pts.ndim - 2)
    origin, way = p.reshape(-1, *between, 2), unit(q - p)
    way = way.reshape(-1, *between, 2)
    from_axis = pts - origin
    return origin + 2.0 * dot(from_axis, way)[..., None] * way - from_axis


def mirror_path(p: FloatArray, q: FloatArray, path: Path) -> Path:
    """A path mirrored across the axis through p and q (L, 2); it still starts where its start goes."""
    return Path(mirror_points(p, q, path.controls), path.straight)


def foot(p: FloatArray, a: FloatArray, b: FloatArray) -> FloatArray:
    """The foot (L, 2) of the perpendicular from p on the line through a and b (L, 2); NaN where a and b are one."""
    way = unit(b - a)
    return a + dot(p - a, way)[..., None] * way
