"""Lanes: the leading axis of every array here runs over bodies; size 1 stands for all of them."""

from collections.abc import Callable, Sequence
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from .tolerances import COINCIDE

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
IntArray = npt.NDArray[np.int64]
ComplexArray = npt.NDArray[np.complex128]

Lanes = npt.NDArray[np.intp]
"""Positions of bodies, rising."""

Made = TypeVar("Made")
AnyArray = TypeVar("AnyArray", bound=npt.NDArray[np.generic])


class Disagreement(Exception):
    """Lanes differ in structure. `keys` (L,) int names the structure each lane has; equal keys may stay together."""

    def __init__(self, keys: IntArray) -> None:
        super().__init__(f"lanes differ in structure: {np.unique(keys).size} kinds")
        self.keys = keys


def take(a: AnyArray, idx: npt.NDArray[np.integer] | npt.NDArray[np.bool_]) -> AnyArray:
    """The lanes `idx` of `a`; an array of one lane stands for all lanes and is handed back as it is."""
    if a.shape[0] == 1:
        return a
    return a[idx]  # type: ignore[return-value]  # indexing loses the type variable, not the dtype


def agree(keys: npt.NDArray[np.integer], ok: BoolArray | None = None) -> int:
    """The one key all lanes have. Lanes not `ok` (already failed) follow the first good one. Raises Disagreement."""
    good = np.ones(keys.shape, dtype=bool) if ok is None else np.broadcast_to(ok, keys.shape)
    if not good.any():
        return int(keys[0])
    first = int(keys[np.argmax(good)])
    settled = np.where(good, keys, first).astype(np.int64)
    if (settled != first).any():
        raise Disagreement(settled)
    return first


def decide(where: BoolArray) -> bool:
    """Whether something is so, the same on all lanes (L,). Raises Disagreement."""
    return bool(agree(where.astype(np.int64)))


def least(numbers: Sequence[FloatArray]) -> int:
    """Which of several numbers (L,) is the least, the first of equal ones; the same on all lanes. Raises Disagreement."""
    return agree(np.stack(np.broadcast_arrays(*numbers)).argmin(axis=0))


def in_order(things: Sequence[Made], number: Callable[[Made], FloatArray]) -> list[Made]:
    """Things by a number (L,) of each, rising, equal ones as they stand. Raises Disagreement."""
    rest, made = list(things), []
    while rest:
        made.append(rest.pop(least([number(one) for one in rest])))
    return made


def in_groups(count: int, work: Callable[[Lanes], Made]) -> list[tuple[Lanes, Made]]:
    """What `work` makes of `count` lanes, taken together as long as they agree: each group, by its positions, with its own."""
    made: list[tuple[Lanes, Made]] = []
    waiting = [np.arange(count, dtype=np.intp)] if count else []
    while waiting:
        lanes = waiting.pop()
        try:
            made.append((lanes, work(lanes)))
        except Disagreement as split:
            keys = np.broadcast_to(split.keys, lanes.shape)
            waiting += [lanes[keys == key] for key in np.unique(keys)[::-1]]
    return made


def nearest_whole(numbers: FloatArray) -> int:
    """The whole number all lanes (L,) are nearest to; a half, and what rounding brings near to one, goes up.

    Raises Disagreement.
    """
    return agree(np.floor(numbers + 0.5 + COINCIDE).astype(np.int64))


def lane_count(*arrays: npt.NDArray[np.generic]) -> int:
    """The number of lanes of arrays taken together. Raises ValueError when two differ and neither is 1."""
    counts = {a.shape[0] for a in arrays}
    if len(counts) == 1:
        return int(counts.pop())
    return int(np.broadcast_shapes(*((count,) for count in counts))[0])


def spread(a: FloatArray, lanes: int) -> FloatArray:
    """`a` with `lanes` lanes (a view)."""
    return a if a.shape[0] == lanes else np.broadcast_to(a, (lanes, *a.shape[1:]))


def shaped(a: FloatArray, shape: tuple[int, ...]) -> FloatArray:
    """`a` in a shape it broadcasts to (a view); most have it already, and numpy takes long to find that out."""
    return a if a.shape == shape else np.broadcast_to(a, shape)


def join(arrays: Sequence[FloatArray], axis: int) -> FloatArray:
    """Concatenation along `axis` (not 0) of arrays whose lanes broadcast."""
    lanes = lane_count(*arrays)
    return np.concatenate([spread(a, lanes) for a in arrays], axis=axis)


def ordered_sum(a: FloatArray) -> FloatArray:
    """Sum over the last axis by repeated halving: the order of additions depends on its size alone.

    `np.sum` picks its order by memory layout, so a batch could differ from a single lane in the last bit.
    """
    while a.shape[-1] > 1:
        half = a.shape[-1] // 2
        folded = a[..., :half] + a[..., half : 2 * half]
        a = folded if a.shape[-1] % 2 == 0 else np.concatenate([folded, a[..., -1:]], axis=-1)
    return a[..., 0]


def dot(a: FloatArray, b: FloatArray) -> FloatArray:
    """Scalar product over the last axis (size 2)."""
    return a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]


def cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """Signed area of the parallelogram over the last axis (size 2): positive when b lies to the left of a."""
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


def norm(a: FloatArray) -> FloatArray:
    """Length of vectors over the last axis (size 2)."""
    return np.sqrt(a[..., 0] * a[..., 0] + a[..., 1] * a[..., 1])


def unit(a: FloatArray) -> FloatArray:
    """Vectors of length one; NaN where the vector has no length (a failed lane, for the caller to mask)."""
    size = norm(a)
    return a / np.where(size > 0.0, size, np.nan)[..., None]


def left_of(a: FloatArray) -> FloatArray:
    """Vectors turned a quarter to the left."""
    return np.stack([-a[..., 1], a[..., 0]], axis=-1)


def pick(where: BoolArray, yes: FloatArray, no: FloatArray) -> FloatArray:
    """np.where for vectors: `where` lacks the last axis of `yes` and `no`."""
    return np.where(where[..., None], yes, no)
