"""A batch of bodies gives what one body gives, to the last bit."""

from collections.abc import Callable, Iterable

import numpy as np
import numpy.typing as npt
import pytest
from geometry_samples import at, outline, points, tilt
from godet.geometry import curve, length, meet, motion
from godet.geometry import path as paths
from godet.geometry.average import average
from godet.geometry.fit import smooth_spans
from godet.geometry.lanes import Disagreement, FloatArray, agree, ordered_sum, take
from godet.geometry.path import Path
from godet.geometry.turning import turned_end, turned_start
from hypothesis import given, settings
from hypothesis import strategies as st

Answer = Path | npt.NDArray[np.generic]
Verb = Callable[[Path, FloatArray, FloatArray], Iterable[Answer]]


def _directions(p: FloatArray) -> tuple[FloatArray, FloatArray]:
    return tilt(p[:, 1] - p[:, 0], 0.5), tilt(p[:, -1] - p[:, -2], -0.4)


def _moved(path: Path, p: FloatArray, v: FloatArray) -> Iterable[Answer]:
    both = motion.then(motion.rotation(p[:, 0], v / 100.0), motion.translation(p[:, 1]))
    return [motion.apply_path(both, path), motion.angle(both), motion.mirror_path(p[:, 0], p[:, 1], path)]


VERBS: dict[str, Verb] = {
    "length": lambda path, p, v: [length.span_lengths(path), paths.bounds(path), paths.ring_area([path])],
    "position": lambda path, p, v: [length.point_at(path, v), length.direction_at(path, v)],
    "nearest": lambda path, p, v: length.nearest(path, p[:, 2]),
    "hobby": lambda path, p, v: [curve.hobby(p, *_directions(p), 1.0 + v / 200.0), curve.hobby(p)],
    "one span": lambda path, p, v: [curve.hobby(p[:, :2], *_directions(p)), curve.bowed(p[:, 0], p[:, 1], v / 20.0)],
    "ellipse": lambda path, p, v: [
        curve.quarter(p[:, 0], p[:, 1], at(1, 0)),
        curve.quarter_length(v, v + 20.0),
        curve.quarter_axis(v, v * 1.3),
    ],
    "wanted length": lambda path, p, v: curve.with_length(
        p[:, 0], p[:, 1], *_directions(p[:, :2]), 1.05 * np.hypot(*(p[:, 1] - p[:, 0]).T)
    ),
    "bend": lambda path, p, v: [curve.smallest_radius(path), curve.inflects(path), curve.min_clearance(path, v / 10.0)],
    "fit": lambda path, p, v: curve.smooth_fit(p[:, :3]),
    "fit in spans": lambda path, p, v: smooth_spans(curve.hobby(p), 4, *_directions(p)),
    "parallel": lambda path, p, v: [curve.parallel(path, v / 10.0, 9), curve.parallel_curve(curve.hobby(p), v / 10.0)],
    "line": lambda path, p, v: meet.line_path(p[:, 2] + 5.0, p[:, 1] - p[:, 3], path),
    "paths": lambda path, p, v: meet.paths(path, paths.polyline(p[:, ::-1] + 25.0)),
    "circles": lambda path, p, v: meet.circles(p[:, 0], v + 60.0, p[:, 1], v + 50.0),
    "motion": _moved,
    "turned end": lambda path, p, v: [*turned_end(path, _directions(p)[0], p[:, 3]), *turned_start(path, _directions(p)[1])],
    "average": lambda path, p, v: [average(path, motion.apply_path(motion.translation(p[:, 0] / 50.0), path), v / 100.0)],
}


def _arrays(answers: Iterable[Answer]) -> list[npt.NDArray[np.generic]]:
    return [a.controls if isinstance(a, Path) else a for a in answers]


@pytest.mark.parametrize("name", VERBS)
@settings(max_examples=5, deadline=None)
@given(seed=st.integers(0, 2**32 - 1))
def test_batch_is_one_by_one_bit_for_bit(name: str, seed: int) -> None:
    lanes = 19
    path, p = outline(seed, lanes), points(seed + 1, lanes, 4)
    v = np.random.default_rng(seed).uniform(10.0, 90.0, lanes)
    together = _arrays(VERBS[name](path, p, v))
    for lane in range(lanes):
        one = np.array([lane])
        alone = _arrays(VERBS[name](path.take(one), p[one], v[one]))
        for whole, single in zip(together, alone, strict=True):
            assert np.array_equal(take(whole, one), single, equal_nan=single.dtype.kind == "f")


def test_a_failed_lane_leaves_the_others_alone() -> None:
    path, p = outline(4, 3), points(5, 3, 4)
    bad = path.controls.copy()
    bad[1] = np.nan
    hurt = Path(bad, path.straight)
    v = np.array([30.0, 40.0, 50.0])
    for name in ("length", "position", "nearest", "bend", "parallel", "line", "paths"):
        for good, mixed in zip(_arrays(VERBS[name](path, p, v)), _arrays(VERBS[name](hurt, p, v)), strict=True):
            assert np.array_equal(good[[0, 2]], mixed[[0, 2]], equal_nan=good.dtype.kind == "f"), name


def test_keys_agree_or_disagree() -> None:
    assert agree(np.array([3, 3, 3])) == 3
    assert agree(np.array([9, 3, 3]), np.array([False, True, True])) == 3
    with pytest.raises(Disagreement) as caught:
        agree(np.array([1, 2, 1, 7]), np.array([True, True, True, False]))
    assert caught.value.keys.tolist() == [1, 2, 1, 1]


def test_one_lane_is_taken_for_all() -> None:
    assert take(np.array([7.0]), np.array([0, 0, 4])).tolist() == [7.0]
    assert take(np.array([7.0, 8.0]), np.array([1])).tolist() == [8.0]


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(-1000, 1000), min_size=1, max_size=40))
def test_ordered_sum_adds_everything_once(numbers: list[int]) -> None:
    assert ordered_sum(np.array(numbers, dtype=np.float64)) == sum(numbers)
