"""Sizes are written at every edge they can be told apart on, each where it can be read."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from godet.drawing.marks import Label, Line
from godet.drawing.nest import NestedSize
from godet.drawing.nest_labels import size_labels
from godet.finish.finished import finished
from godet.geometry.path import polyline
from godet.pattern.piece import Piece, Side

NAMES = ("84", "88", "92", "96", "100")


def sizes(step: float, turn: float = 0.0) -> list[NestedSize]:
    """A flap 30 mm wide, each size longer than the last by `step` mm, its lower edge at a slant that grows by `turn` mm."""
    made = []
    for k, name in enumerate(NAMES):
        low = -60.0 - step * k
        corners = np.array([[0.0, low - turn * (k - 2)], [30.0, low + turn * (k - 2)], [30.0, 0.0], [0.0, 0.0]])
        sides = [Side((edge,), polyline(np.stack([corners[n], corners[(n + 1) % 4]])[None])) for n, edge in enumerate("abcd")]
        made.append(NestedSize(name, finished(Piece(tuple(sides))), 1 + 0j, 0j, abs(k - 2)))
    return made


@pytest.mark.parametrize(("step", "turn"), [(5.0, 0.0), (1.0, 0.0), (0.0, 4.0), (2.0, 4.0)])
def test_all_sizes_are_told_at_a_short_edge(step: float, turn: float) -> None:
    """Apart, near together, crossing each other: written in the lines or on leaders, none on another."""
    run = sizes(step, turn)
    marks = size_labels(run, 2, [])
    lower = [one for one in marks if isinstance(one, Label) and one.at[1] < -50.0 and one.source != ""]
    said = {word for one in lower for word in one.text.split(" ")}
    assert said >= set(NAMES) or "84 to 100" in {one.text for one in lower}
    boxes = [shapely.Polygon(one.box) for one in lower]
    assert not any(a.intersects(b) for k, a in enumerate(boxes) for b in boxes[k + 1 :])


def test_a_label_is_on_no_line_of_another_size() -> None:
    run = sizes(0.0, 8.0)
    labels = [one for one in size_labels(run, 2, []) if isinstance(one, Label) and one.text in NAMES and one.boxed]
    assert labels
    for one in labels:
        others = [shapely.LinearRing(size.cloth.cut[0]) for size in run if size.name != one.text]
        assert not any(shapely.Polygon(one.box).intersects(ring) for ring in others)


def test_a_leader_begins_on_the_line_of_its_size() -> None:
    run = sizes(0.0, 4.0)  # of which one always meets another line
    marks = size_labels(run, 2, [])
    leaders = [one for one in marks if isinstance(one, Line) and one.source == "leader" and not one.closed]
    rings = [shapely.LinearRing(size.cloth.cut[0]) for size in run]
    assert leaders
    for one in leaders:
        assert min(ring.distance(shapely.Point(one.points[0])) for ring in rings) < 0.05
