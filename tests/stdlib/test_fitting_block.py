"""The bodice and torso blocks of the library against tests/data/fit_block.toml: four bodies, every point and every value.

The rules behind the numbers are named in stdlib/blocks/draft.style; tests/data/README.md says where the table is from.
"""

from __future__ import annotations

import tomllib
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.graph.evaluate import evaluate
from godet.pattern.darts import apex_of
from godet.pattern.piece import Piece
from godet.verbs.checks import kink
from godet.verbs.values import Edge, value_at
from support.style_runs import prepared

DATA = tomllib.loads((Path(__file__).parents[1] / "data" / "fit_block.toml").read_text("utf-8"))
STYLE = Path(__file__).parent / "fitting_block.style"
CLOSE = 0.02  # mm, the tolerance printed in the table
DRAWN = 0.1  # mm; the waistline is drawn in spans from dart to dart, of which the table knows the ends
BODIES = ("A", "B", "C", "D")
BLOCKS = {"F": ("short", "long"), "M": ("short_man", "long_man")}
FOUND = {
    "shoulder_slope": "body_slope",
    "neck_width": "neck_width",
    "front_neck_depth": "neck_depth",
    "front_neck_tilt": "neck_tilt",
    "front_rise": "front_rise",
    "front_waist_drop": "front_drop",
    "bust_dart": "dart_angle",
    "shoulder_turn": "turn",
    "blade_dart": "blade_dart",
    "underarm_level": "underarm_level",
    "back_width_at_bust": "back_width",
    "front_width_at_bust": "front_width",
    "centre_back_in": "centre_in",
    "back_dart_1": "back_dart",
    "back_dart_2": "second_back_dart",
    "front_dart_1": "front_dart",
    "front_dart_2": "second_front_dart",
    "side_in_each_panel": "side_in",
}
ANGLES = ("body_slope", "neck_tilt", "dart_angle", "turn")
POINTS = {
    "across_front_point": "chest_point",
    "underarm_front_with_dart_closed": "underarm_closed",
    "back_dart_1_apex": "back_dart_apex",
    "back_dart_2_apex": "second_back_apex",
    "front_dart_1_apex": "front_dart_apex",
    "front_dart_2_apex": "second_front_apex",
}
LEGS = ("back_dart_1", "back_dart_2", "front_dart_1", "front_dart_2")


@lru_cache(maxsize=8)
def drawn(key: str, long: bool) -> dict[str, Any]:
    """Values of the draft by name, and the pieces `back` and `front`, of one body."""
    row = DATA[key]
    block = BLOCKS[row["sex"]][long]
    made = prepared(STYLE, [Body(key, "mm", row["sex"], {name: float(one) for name, one in row["measures"].items()})])
    assert made.style is not None
    named = {name: node for name, node in made.style.names.items() if name.startswith(f"{block}.")}
    points = {name for name in (*row["points"], *row["hip_length"]) if not name.startswith(LEGS)}
    asked = {*FOUND.values(), *POINTS.values(), *points, "way", "low", "armpit_level"}
    skipped = ("bust_point", "lower_end") if row["sex"] == "M" else ()
    wanted = {n.removeprefix(f"{block}.d."): at for n, at in named.items() if n.startswith(f"{block}.d.")}
    wanted = {n: at for n, at in wanted.items() if n in asked and n not in skipped}
    wanted |= {side: named[f"{block}.{side}"] for side in ("back", "front")}
    evaluated = evaluate(made.style, made.population, wanted.values())
    assert not evaluated.failures
    values = evaluated.parts[0].values
    return {name: value_at(values[node], np.array([0])) for name, node in wanted.items()}


def number(found: dict[str, Any], name: str) -> float:
    value = float(found[name][0])
    return float(np.degrees(value)) if name in ANGLES else value


@pytest.mark.parametrize("key", BODIES)
def test_every_value_to_the_waist(key: str) -> None:
    found, row = drawn(key, False), DATA[key]["found"]
    for name, ours in FOUND.items():
        assert number(found, ours) == pytest.approx(row[name], abs=CLOSE), name
    assert row["armhole_closed_by"] == "underarm level"
    assert found["low"][0] <= found["way"][0] <= found["armpit_level"][0]
    assert float(found["armpit_level"][0] - found["underarm_level"][0]) == pytest.approx(row["underarm_below_armpit"], abs=CLOSE)


@pytest.mark.parametrize("key", BODIES)
def test_every_point_to_the_waist(key: str) -> None:
    found = drawn(key, False)
    for name, place in DATA[key]["points"].items():
        if not name.endswith(("_inner", "_outer")):
            assert found[POINTS.get(name, name)][0] == pytest.approx(place, abs=CLOSE), name


@pytest.mark.parametrize("key", BODIES)
def test_every_point_and_value_to_the_hip(key: str) -> None:
    found, row = drawn(key, True), DATA[key]["hip_length"]
    for name, place in row.items():
        if isinstance(place, list):
            assert found[name][0] == pytest.approx(place, abs=CLOSE), name
        elif name in FOUND:
            assert number(found, FOUND[name]) == pytest.approx(place, abs=CLOSE), name
    assert 2 * (found["side_hip_back"][0, 0] + found["side_hip_front"][0, 0]) == pytest.approx(row["girth_at_hip"], abs=CLOSE)


@pytest.mark.parametrize("key", BODIES)
def test_darts_of_the_pieces_stand_where_the_table_has_them(key: str) -> None:
    found, points = drawn(key, False), DATA[key]["points"]
    for side, names in (("back", ("waist_dart", "second_waist_dart")), ("front", ("waist_dart", "second_waist_dart"))):
        piece: Piece = found[side]
        for nth, name in enumerate(names, 1):
            assert (name in piece.dart_names()) == (f"{side}_dart_{nth}_apex" in points)
            if name in piece.dart_names():
                apex = apex_of(piece, name)
                assert apex is not None
                assert apex[0] == pytest.approx(points[f"{side}_dart_{nth}_apex"], abs=CLOSE)
                for leg in ("inner", "outer"):
                    controls = piece.sides(f"{name}.{leg}_leg")[0].drawn.controls[0]
                    ends = controls[[0, -1], [0, -1]]
                    away = np.linalg.norm(ends - points[f"{side}_dart_{nth}_{leg}"], axis=-1)
                    assert away.min() < CLOSE


@pytest.mark.parametrize("key", BODIES)
def test_what_the_pieces_deliver(key: str) -> None:
    found, row, kept = drawn(key, False), DATA[key]["delivered"], DATA[key]["found"]
    back, front = found["back"], found["front"]

    def both(edge: str) -> tuple[float, float]:
        return float(Edge(back, edge).length()[0]), float(Edge(front, edge).length()[0])

    assert both("neckline") == pytest.approx((row["back_neckline"], row["front_neckline"]), abs=CLOSE)
    assert both("armhole") == pytest.approx((row["armhole_back"], row["armhole_front"]), abs=CLOSE)
    assert 2 * sum(both("waistline")) == pytest.approx(row["natural_waist"], abs=DRAWN)
    assert both("centre") == pytest.approx((row["centre_back"], row["centre_front"]), abs=CLOSE)
    assert both("side") == pytest.approx((row["side_seam"], row["side_seam"]), abs=CLOSE)
    assert both("shoulder") == pytest.approx((row["shoulder_back_less_blade_dart"], row["shoulder_front"]), abs=CLOSE)
    assert ("shoulder_dart" in back.dart_names()) == (kept["blade_dart"] > 0)
    for edge in ("neckline", "armhole"):
        over = kink(Edge(front, edge), "shoulder", Edge(back, edge))
        assert abs(np.degrees(over[0])) < 0.01, edge
    over = kink(Edge(front, "waistline"), "side", Edge(back, "waistline"))
    assert abs(np.degrees(over[0])) < 0.01
