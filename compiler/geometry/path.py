"""Paths: chains of cubic Beziers over lanes; a straight line is a cubic with a flag."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from . import cubic
from .lanes import AnyArray, BoolArray, FloatArray, cross, join, lane_count, norm, pick, take, unit
from .tolerances import COINCIDE

CUT_CHORDS: Final = 64
"""Chords for a curved span of what is cut: an armhole of 130 mm radius turning a right angle is followed to 0.01 mm."""

CHORDS: Final = 32
"""Chords for a curved span of what is only asked after: a hip curve is followed to 0.05 mm, a tenth of what a tape tells."""


@dataclass(frozen=True, eq=False)
class Path:
    """controls (L, k, 4, 2) in mm; straight[i] says that span i is a line (control points at thirds)."""

    controls: FloatArray
    straight: tuple[bool, ...]
    memo: dict[str, npt.NDArray[Any]] = field(default_factory=dict, init=False, repr=False)  # what `known` keeps

    def __post_init__(self) -> None:
        if self.controls.ndim != 4 or self.controls.shape[1:] != (len(self.straight), 4, 2) or not self.straight:
            raise ValueError(f"control points of shape {self.controls.shape} for {len(self.straight)} spans")

    @property
    def lanes(self) -> int:
        """Number of lanes L."""
        return int(self.controls.shape[0])

    @property
    def spans(self) -> int:
        """Number of spans k."""
        return len(self.straight)

    @property
    def start(self) -> FloatArray:
        """First point (L, 2)."""
        return self.controls[:, 0, 0]

    @property
    def end(self) -> FloatArray:
        """Last point (L, 2)."""
        return self.controls[:, -1, 3]

    def take(self, idx: npt.NDArray[np.integer] | npt.NDArray[np.bool_]) -> "Path":
        """The path of the lanes `idx` only, with what is known of it."""
        taken = Path(take(self.controls, idx), self.straight)
        taken.memo.update((what, take(found, idx)) for what, found in self.memo.items())
        return taken


def memoized(path: Path, what: str, find: Callable[[Path], AnyArray]) -> AnyArray:
    """What was found out about a path, worked out when it is first asked for; read only, since all share it."""
    if what not in path.memo:
        path.memo[what] = find(path)
        path.memo[what].setflags(write=False)
    found: AnyArray = path.memo[what]  # type: ignore[assignment]  # under one name it is always of one kind
    return found


def finite(path: Path) -> BoolArray:
    """Lanes (L,) on which all control points are finite."""
    return memoized(path, "finite", lambda whole: np.asarray(np.isfinite(whole.controls).all(axis=(1, 2, 3))))


def line(a: FloatArray, b: FloatArray) -> Path:
    """The straight path from a to b (L, 2)."""
    return Path(cubic.straight(a, b)[:, None], (True,))


def polyline(points: FloatArray) -> Path:
    """The chain of n - 1 straight spans through points (L, n, 2), n >= 2."""
    return Path(cubic.straight(points[:, :-1], points[:, 1:]), (True,) * (points.shape[1] - 1))


def chain(paths: Sequence[Path]) -> Path:
    """Paths one after the other as one path; that they meet is for the caller to see to."""
    return Path(join([p.controls for p in paths], 1), tuple(flag for p in paths for flag in p.straight))


def reverse(path: Path) -> Path:
    """The same line travelled the other way."""
    return Path(path.controls[:, ::-1, ::-1], path.straight[::-1])


def evaluate(path: Path, span: int, t: FloatArray) -> FloatArray:
    """Points (L, m, 2) of one span at parameters t (L, m) or (m,), 0 to 1."""
    return cubic.at(path.controls[:, span, None], np.atleast_2d(t))


def derivative(path: Path, span: int, t: FloatArray) -> FloatArray:
    """Velocities (L, m, 2) of one span at parameters t (L, m) or (m,), mm per unit of t."""
    return cubic.velocity(path.controls[:, span, None], np.atleast_2d(t))


def _first_direction(c: FloatArray) -> FloatArray:
    """Unit direction (..., 2) in which cubics (..., 4, 2) leave: towards the first control point that lies apart."""
    steps = [c[..., i, :] - c[..., 0, :] for i in (1, 2, 3)]
    way = pick(norm(steps[1]) > COINCIDE, steps[1], steps[2])
    return unit(pick(norm(steps[0]) > COINCIDE, steps[0], way))


def span_directions(path: Path) -> tuple[FloatArray, FloatArray]:
    """Unit directions (L, k, 2) at the start and at the end of every span, along the travel."""
    return memoized(path, "leaving", _leaving), memoized(path, "arriving", _arriving)


def _leaving(path: Path) -> FloatArray:
    return pick(np.array(path.straight)[None, :], _chords(path), _first_direction(path.controls))


def _arriving(path: Path) -> FloatArray:
    return pick(np.array(path.straight)[None, :], _chords(path), -_first_direction(path.controls[:, :, ::-1]))


def _chords(path: Path) -> FloatArray:
    return unit(path.controls[:, :, 3] - path.controls[:, :, 0])


def start_direction(path: Path) -> FloatArray:
    """Unit direction (L, 2) in which the path leaves its start; NaN when the first span has no length."""
    return span_directions(path)[0][:, 0]


def end_direction(path: Path) -> FloatArray:
    """Unit direction of travel (L, 2) at the end; NaN when the last span has no length."""
    return span_directions(path)[1][:, -1]


def flatten_fixed(path: Path, per_curve: int = CUT_CHORDS) -> FloatArray:
    """Points (L, n, 2): ends of straight spans, and `per_curve` chords (even in t) of each curved span."""
    curved = [i for i, flag in enumerate(path.straight) if not flag]
    points = cubic.at(path.controls[:, curved, None], np.arange(1, per_curve + 1) / per_curve)
    rows = [path.start[:, None]]
    for i, flag in enumerate(path.straight):
        rows.append(path.controls[:, i, 3:] if flag else points[:, curved.index(i)])
    return np.concatenate(rows, axis=1)


def flatten_within(path: Path, tolerance: float, lane: int = 0) -> FloatArray:
    """Points (n, 2) of one lane, no chord further than `tolerance` mm from its curve (Wang's bound)."""
    controls = path.controls[0 if path.lanes == 1 else lane]
    rows = [controls[0, :1]]
    for c, flag in zip(controls, path.straight, strict=True):
        if flag:
            rows.append(c[3:])
            continue
        count = max(1, int(np.ceil(np.sqrt(6.0 * cubic.chord_bend(c) / (8.0 * tolerance)))))
        rows.append(cubic.at(c[None], np.arange(1, count + 1) / count))
    return np.concatenate(rows)


def thinned(points: FloatArray) -> FloatArray:
    """The points (n, 2) of one lane without those that repeat the one before them."""
    apart = np.linalg.norm(np.diff(points, axis=0), axis=1) > 1e-9
    kept: FloatArray = points[np.concatenate([[True], apart])]
    return kept


def ring_area(ring: Sequence[Path]) -> FloatArray:
    """Signed area (L,) in mm^2 inside a closed ring of paths, anticlockwise positive; exact (Green's theorem)."""
    lanes = lane_count(*(p.controls for p in ring))
    origin = ring[0].start
    total = np.zeros(lanes)
    weights = {(0, 1): 6.0, (0, 2): 3.0, (0, 3): 1.0, (1, 2): 3.0, (1, 3): 3.0, (2, 3): 6.0}
    for p in ring:
        for span in range(p.spans):
            c = p.controls[:, span] - origin[:, None]
            for (i, j), weight in weights.items():
                total = total + weight / 20.0 * cross(c[:, i], c[:, j])
    return total


def bounds(path: Path) -> FloatArray:
    """Smallest upright box (L, 4) as left, bottom, right, top; exact (ends and extrema of each cubic)."""
    c = path.controls
    a = c[:, :, 1] - c[:, :, 0]
    b = c[:, :, 2] - c[:, :, 1]
    e = c[:, :, 3] - c[:, :, 2]
    # Velocity per axis is a (1-t)^2 + 2 b t (1-t) + e t^2. Both forms of its roots, so that neither cancels.
    lead, half = a - 2.0 * b + e, b - a
    root = np.sqrt(np.maximum(half * half - a * lead, 0.0))
    with np.errstate(divide="ignore", invalid="ignore"):
        big = -(half + np.copysign(root, half))
        roots = np.stack([big / lead, a / big], axis=2)
    t = np.where(np.isfinite(roots), np.clip(roots, 0.0, 1.0), 0.0)  # (L, k, 2 roots, 2 axes)
    inner = np.stack([cubic.at(c[:, :, None], t[..., axis])[..., axis] for axis in (0, 1)], axis=-1)
    points = np.concatenate([c[:, :, ::3], inner], axis=2).reshape(path.lanes, -1, 2)
    return np.concatenate([points.min(axis=1), points.max(axis=1)], axis=1)
