"""One dart, four places, in the language: the [dart_transfer] table of tests/data/bodice_block.toml, front of body B."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
import pytest
from godet.geometry.lanes import norm
from godet.graph.evaluate import evaluate
from godet.pattern.check import faults
from godet.pattern.darts import leg_lengths
from godet.pattern.piece import Piece
from godet.verbs.measuring import OF, dart_angle, dart_opening
from godet.verbs.values import DartOf
from support.style_runs import prepared
from test_bodice_block import CLOSE_MM, DATA, STYLE, body

TABLE: dict[str, Any] = DATA["dart_transfer"]
PLACES = {
    "to_shoulder": TABLE["to_mid_shoulder"],
    "to_waist": TABLE["to_waist_below_bust_point"],
    "to_side": TABLE["to_side_5cm_below_underarm"],
}


@lru_cache(maxsize=1)
def drawn() -> dict[str, Any]:
    """What the style comes to on body B, by name."""
    row = next(row for row in DATA["body"] if row["id"] == TABLE["body"])
    made = prepared(STYLE.with_name("moved_dart.style"), [body(row)])
    assert made.style is not None
    nodes = {name: node for name, node in made.style.names.items() if "." not in name and node >= 0}
    evaluated = evaluate(made.style, made.population, nodes.values())
    assert not evaluated.failures
    return {name: evaluated.parts[0].values[node] for name, node in nodes.items()}


def legs(piece: Piece, name: str) -> tuple[float, float]:
    """Both legs in cm."""
    dart = piece.dart(name)
    assert dart is not None
    inner, outer = leg_lengths(piece, dart)
    return float(inner[0]) / 10, float(outer[0]) / 10


def ends(piece: Piece, name: str) -> list[Any]:
    """The open ends of a dart in cm, that of the inner leg first."""
    apex = TABLE["pivot"]
    found = []
    for leg in ("inner_leg", "outer_leg"):
        drawn = piece.sides(f"{name}.{leg}")[0].drawn
        tips = sorted((drawn.start[0] / 10, drawn.end[0] / 10), key=lambda tip: float(norm(tip - apex)))
        assert tips[0] == pytest.approx(apex, abs=1e-9)
        found.append(tips[1])
    return found


@pytest.mark.parametrize("place", PLACES)
def test_positions_legs_and_opening(place: str) -> None:
    expected, piece = PLACES[place], drawn()[place]
    moved = DartOf(piece, "moved")
    inner, outer = legs(piece, "moved")
    assert inner == pytest.approx(expected["leg"], abs=0.002)
    assert outer == pytest.approx(inner, abs=1e-9)
    assert dart_opening(moved)[0] / 10 == pytest.approx(expected["intake"], abs=0.002)
    assert np.degrees(dart_angle(moved))[0] == pytest.approx(TABLE["angle_deg"], abs=1e-9)
    wanted = [expected["slash_point"], expected["slash_point_turned"]]
    for tip, other in zip(sorted(ends(piece, "moved"), key=list), sorted(wanted), strict=True):
        assert tip == pytest.approx(other, abs=0.002)


def test_where_the_outline_goes() -> None:
    found = drawn()
    shoulder, waist, side = PLACES.values()
    expected = {
        "shoulder_point_to_shoulder": shoulder["shoulder_point_turned"],
        "underarm_to_waist": waist["underarm_turned"],
        "side_waist_to_waist": waist["side_waist_turned"],
        "underarm_to_side": side["underarm_turned"],
    }
    for name, place in expected.items():
        assert found[name][0] == pytest.approx([10 * one for one in place], abs=CLOSE_MM), name
    closed = found["to_shoulder"].points["bust_dart.closed"][0]
    assert closed == pytest.approx([10 * one for one in shoulder["upper_end_turned_meets_lower_end"]], abs=CLOSE_MM)
    closed = found["to_waist"].points["bust_dart.closed"][0]
    assert closed == pytest.approx([10 * one for one in waist["lower_end_turned_meets_upper_end"]], abs=CLOSE_MM)


def test_half_and_half() -> None:
    expected, piece = TABLE["half_to_shoulder_half_to_waist"], drawn()["halved"]
    for name, place in (("upper", "shoulder"), ("lower", "waist")):
        dart = DartOf(piece, name)
        assert np.degrees(dart_angle(dart))[0] == pytest.approx(expected[f"{place}_angle_deg"], abs=1e-9)
        assert dart_opening(dart)[0] / 10 == pytest.approx(expected[f"{place}_intake"], abs=0.002)
    assert legs(piece, "upper")[0] == pytest.approx(PLACES["to_shoulder"]["leg"], abs=0.002)
    assert legs(piece, "lower")[0] == pytest.approx(PLACES["to_waist"]["leg"], abs=0.002)


@pytest.mark.parametrize("name", ["front", *PLACES, "first_half", "halved", "back_again"])
def test_the_cloth_stays_what_it_is(name: str) -> None:
    piece = drawn()[name]
    assert OF["area"].run(piece)[0] / 100 == pytest.approx(TABLE["area_before_cm2"], abs=0.01)
    assert OF["area"].run(piece)[0] == pytest.approx(OF["area"].run(drawn()["front"])[0], abs=1e-6)
    assert faults(piece) == []


def test_the_way_over_the_sewn_dart_is_the_same() -> None:
    shortest = TABLE["over_the_sewn_dart"]["shortest_shoulder_to_underarm"]
    for name in ("front", *PLACES, "halved"):
        assert drawn()[f"over_{name}"][0] / 10 == pytest.approx(shortest, abs=0.001), name


def test_there_and_back_is_the_dart_as_drafted() -> None:
    front, again = drawn()["front"], drawn()["back_again"]
    for one, other in zip(ends(front, "bust_dart"), ends(again, "bust_dart"), strict=True):
        assert one == pytest.approx(other, abs=1e-7)
