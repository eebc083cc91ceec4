"""Lines as samples and as chords, to measure how far they lie from one another."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ..geometry import cubic
from ..geometry.lanes import BoolArray, FloatArray, IntArray
from ..geometry.length import joints
from ..geometry.path import Path
from ..geometry.tolerances import COINCIDE

STEP = 2.5
"""Samples lie about this far (mm) apart."""

MOST_SAMPLES = 300
"""A line too long for so many has them farther apart."""

SAGGING = 0.0015
"""A chord between samples lies within this (mm) of its curve."""


@dataclass(frozen=True, eq=False)
class Chords:
    """A path of one lane as chords: where each starts and ends (n, 2), on which span, between which parameters, and how far along
    the path it starts, mm."""

    start: FloatArray
    end: FloatArray
    span: IntArray
    low: FloatArray
    high: FloatArray
    along: FloatArray

    @cached_property
    def tree(self) -> shapely.STRtree:
        """The chords, to be searched for the nearest."""
        return shapely.STRtree(shapely.linestrings(np.stack([self.start, self.end], axis=1)))

    @cached_property
    def ways(self) -> FloatArray:
        """Unit directions (n, 2); what has no length has none."""
        way = self.end - self.start
        size = np.hypot(*way.T)
        return np.asarray(way / np.where(size > COINCIDE, size, 1.0)[:, None])


@dataclass(frozen=True, eq=False)
class Sampled:
    """A path of one lane as samples: of each its span, parameter, point, direction of travel, place `along` the path, mm, and the
    length of line it stands for; `follows[i]`: sample i + 1 lies on the same span."""

    path: Path
    span: IntArray
    t: FloatArray
    points: FloatArray
    along: FloatArray
    weight: FloatArray
    follows: BoolArray

    @property
    def controls(self) -> FloatArray:
        """(k, 4, 2)."""
        return np.ascontiguousarray(self.path.controls[0])

    @property
    def total(self) -> float:
        return float(self.along[-1])

    @property
    def is_straight(self) -> bool:
        return all(self.path.straight)

    @cached_property
    def chords(self) -> Chords:
        """Its chords, each within SAGGING of its curve."""
        bends = np.ceil(np.sqrt(6.0 * cubic.chord_bend(self.controls) / (8.0 * SAGGING)))
        counts = np.where(np.array(self.path.straight), 1.0, np.maximum(bends, 1.0)).astype(np.intp)
        return _chords(self.path, self.controls, counts)

    @cached_property
    def ways(self) -> FloatArray:
        """Unit directions (n, 2) of travel."""
        way = cubic.velocity(self.controls[self.span], np.clip(self.t, 1e-4, 1.0 - 1e-4))
        size = np.hypot(*way.T)
        return np.asarray(way / np.where(size > 0.0, size, 1.0)[:, None])


def _chords(path: Path, controls: FloatArray, counts: IntArray) -> Chords:
    span, number = _numbered(counts)
    low, high = number / counts[span], (number + 1) / counts[span]
    start, end = cubic.at(controls[span], low), cubic.at(controls[span], high)
    long = np.hypot(*(end - start).T)
    run = np.concatenate([[0.0], np.cumsum(long)])[:-1]
    first = np.cumsum(counts) - counts
    marks = joints(path)[0]
    return Chords(start, end, span, low, high, marks[span] + run - run[first[span]])


def _numbered(counts: IntArray) -> tuple[IntArray, IntArray]:
    """For spans of so many each: the span, and the number within it, of all."""
    span = np.repeat(np.arange(counts.size), counts)
    return span, np.arange(span.size) - (np.cumsum(counts) - counts)[span]


def sampled(path: Path, step: float = STEP) -> Sampled:
    """The samples of a path of one lane."""
    controls, marks = np.ascontiguousarray(path.controls[0]), joints(path)[0]
    lengths = np.diff(marks)
    step = max(step, float(marks[-1]) / MOST_SAMPLES)
    counts = np.maximum(np.ceil(lengths / step), 1.0).astype(np.intp)
    span, number = _numbered(counts + 1)
    t = number / counts[span]
    points = cubic.at(controls[span], t)
    follows = span[1:] == span[:-1]
    long = np.where(follows, np.hypot(*(points[1:] - points[:-1]).T), 0.0)
    run = np.concatenate([[0.0], np.cumsum(long)])
    first = np.cumsum(counts + 1) - counts - 1
    chorded = np.maximum(run[first + counts] - run[first], COINCIDE)
    along = marks[span] + (run - run[first[span]]) * (lengths / chorded)[span]
    weight = (np.concatenate([[0.0], long]) + np.concatenate([long, [0.0]])) / 2.0
    return Sampled(path, span, t, points, along, weight, follows)
