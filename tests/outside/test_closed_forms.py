"""Closed forms of tests/data/geometry_checks.toml, through the verbs of the language. They need no book: plane geometry."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.geometry.length import length
from godet.geometry.path import line
from godet.pattern.edges import edge_length
from godet.pattern.outline import outline
from godet.pattern.piece import Piece, Reals
from godet.pattern.slash import evenly, hinged, parallel, slash
from godet.verbs.measuring import falling, quarter_depth, quarter_round
from godet.verbs.points import arcs, lay, turned

FORMS: dict[str, dict[str, Any]] = tomllib.loads(
    (Path(__file__).parents[1] / "data" / "geometry_checks.toml").read_text("utf-8")
)
CLOSE = 0.0005


def mm(*values: float) -> Reals:
    return np.array([10.0 * value for value in values])


def point(x: float, y: float) -> Reals:
    return np.array([[10.0 * x, 10.0 * y]])


def panel(width: float, height: float) -> Piece:
    """A rectangle in cm: hem below, waist above."""
    corners = {"a": point(0, 0), "b": point(width, 0), "c": point(width, height), "d": point(0, height)}
    names = (("hem", "a", "b"), ("side", "b", "c"), ("waist", "c", "d"), ("centre", "d", "a"))
    return outline([(name, line(corners[one], corners[two]), one, two) for name, one, two in names])


def test_third_corner_of_a_triangle() -> None:
    form = FORMS["two_arcs"]
    found = arcs(point(0, 0), mm(form["left"]), point(form["base"], 0), mm(form["right"]), "up")
    assert found[0] / 10 == pytest.approx([form["x"], form["y"]], abs=CLOSE)


def test_flare_by_hinged_slashes() -> None:
    """The waist keeps its length, the hem grows by the sum of the openings, each wedge has its angle."""
    form = FORMS["slash_and_spread"]
    count, spread = int(form["slashes"]), mm(form["spread"])
    piece = panel(60.0, form["length"])
    cuts = evenly(piece, "hem", "waist", count)
    made = slash(piece, cuts, hinged(cuts, "waist", [spread] * count), still="centre").piece
    before, after = edge_length(piece, "hem"), edge_length(made, "hem")
    assert float((after - before)[0]) / 10 == pytest.approx(form["hem_added_chords"], abs=CLOSE)
    assert float(edge_length(made, "waist")[0]) == pytest.approx(600.0, abs=1e-6)
    turns = [np.degrees(np.angle(side.turn[0])) for side in made.ring if "side" in side.names]
    assert abs(turns[0]) == pytest.approx(form["total_deg"], abs=CLOSE)


def test_even_spread() -> None:
    form = FORMS["parallel_spread"]
    count = int(form["slashes"])
    piece = panel(form["width"], 30.0)
    cuts = evenly(piece, "hem", "waist", count)
    made = slash(piece, cuts, parallel([mm(form["spread"])] * count), still="centre").piece
    for edge in ("hem", "waist"):
        grown = float(edge_length(made, edge)[0]) / 10
        assert grown == pytest.approx(form["new_width"], abs=CLOSE)
        assert grown / form["width"] == pytest.approx(form["ratio"], abs=CLOSE)


def test_one_dart_moved_keeps_its_angle() -> None:
    """The opening of a dart of one angle, at three leg lengths."""
    form = FORMS["dart_same_angle"]
    for leg, opening in (("leg", "opening"), ("leg_2", "opening_2"), ("leg_3", "opening_3")):
        end = point(form[leg], 0)
        other = turned(end, point(0, 0), np.radians([form["angle_deg"]]), "clockwise")
        assert float(np.linalg.norm(end - other)) / 10 == pytest.approx(form[opening], abs=CLOSE)


def test_kimono_slope() -> None:
    form = FORMS["kimono"]
    tip = point(0, 0)
    hem = point(form["reach"], -form["drop"])
    assert float(np.linalg.norm(hem - tip)) / 10 == pytest.approx(form["line"], abs=CLOSE)
    angle = falling(mm(form["drop"]), mm(form["line"]))
    assert float(np.degrees(angle[0])) == pytest.approx(form["slope_deg"], abs=0.001)
    assert lay(mm(form["line"]), tip, sloping=angle)[0] == pytest.approx(hem[0], abs=0.001)


def test_quarter_rounds() -> None:
    form = FORMS["quarter_ellipse"]
    for a, b, expected in zip(form["a"], form["b"], form["length"], strict=True):
        assert float(quarter_round(mm(a), mm(b))[0]) / 10 == pytest.approx(expected, abs=0.001)
        assert float(quarter_depth(mm(a), mm(expected))[0]) / 10 == pytest.approx(b, abs=0.001)


def test_a_straight_line_is_its_chord() -> None:
    assert float(length(line(point(0, 0), point(3, 4)))[0]) == pytest.approx(50.0, abs=1e-12)
