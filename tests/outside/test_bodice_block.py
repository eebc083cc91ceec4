"""A published bodice block, written in the language, against tests/data/bodice_block.toml: four bodies, every point and value.

The rules behind the numbers are named in tests/outside/drafts/published_bodice.style; tests/data/README.md says where the table
is from.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.graph.evaluate import evaluate
from godet.meaning.style import CheckedStyle
from godet.pattern.piece import Piece
from godet.verbs.values import Edge, Value, value_at
from support.style_runs import prepared

DATA = tomllib.loads((Path(__file__).parents[1] / "data" / "bodice_block.toml").read_text("utf-8"))
STYLE = Path(__file__).parent / "drafts" / "bodice_block.style"
WORDS = {
    "bust_girth": "bust_girth",
    "waist_girth": "natural_waist_girth",
    "neck_girth": "neck_base_girth",
    "back_waist_length": "back_neck_point_to_waist",
    "scye_depth": "scye_depth",
    "across_back": "across_back_width",
    "shoulder_length": "shoulder_length",
    "bust_span": "bust_point_to_bust_point",
    "neck_to_bust": "side_neck_point_to_bust_point",
}
CLOSE_MM = 10 * DATA["tolerance_cm"]


def body(row: dict[str, Any]) -> Body:
    given = row["measures"]
    measures = {WORDS[name]: 10.0 * value for name, value in given.items() if name in WORDS}
    measures |= {"armpit_height": 1200.0, "bust_height": 1200.0 - 10.0 * given["bust_below_armpit"]}
    return Body(row["id"], "cm", "F", measures)


def angle(row: dict[str, Any]) -> str:
    """The table gives the bust dart: a quarter of the bust less 2.5 degrees, but for D."""
    return f"bust_dart={row['expect']['bust_dart_angle']} deg"


def named(row: dict[str, Any]) -> dict[str, np.ndarray[Any, Any]]:
    return in_batch([row], angle(row))[0]


def in_batch(rows: Sequence[dict[str, Any]], setting: str) -> list[dict[str, np.ndarray[Any, Any]]]:
    """Values by name for each body, all bodies evaluated together."""
    made = prepared(STYLE, [body(row) for row in rows], [setting])
    assert made.style is not None
    asked = {*POINTS.values(), *VALUES.values(), *ALSO}
    wanted = {name: node for name, node in made.style.names.items() if name.split(".")[-1] in asked}
    evaluated = evaluate(made.style, made.population, wanted.values())
    assert not evaluated.failures
    found = []
    for lane in range(len(rows)):
        part, at = evaluated.of(lane) or pytest.fail("a body is in no part")
        found.append(_of_lane(made.style, wanted, {node: value_at(one, np.array([at])) for node, one in part.values.items()}))
    return found


def _of_lane(style: CheckedStyle, wanted: Mapping[str, int], values: Mapping[int, Value]) -> dict[str, Any]:
    found: dict[str, Any] = {name.removeprefix("base.").removeprefix("d."): values[node] for name, node in wanted.items()}
    front, back = values[style.names["base.front"]], values[style.names["base.back"]]
    assert isinstance(front, Piece)
    assert isinstance(back, Piece)
    found["darts"] = {*(f"front {one}" for one in front.dart_names()), *(f"back {one}" for one in back.dart_names())}
    for side, piece in (("front", front), ("back", back)):
        for name in ("side", "shoulder", "neckline", "waistline"):
            found[f"{side} {name}"] = Edge(piece, name).length()
    return found


POINTS = {
    "nape": "nape",
    "back_waist_centre": "waist",
    "back_waist_centre_shaped": "waist_back",
    "back_neck_point": "neck_point_back",
    "back_shoulder_point": "shoulder_point_back",
    "back_width_point": "back_pitch",
    "back_underarm": "underarm_back",
    "back_side_waist": "side_waist_back",
    "front_waist_centre": "waist_front",
    "front_neck_centre": "front_neck",
    "front_neck_point": "neck_point_front",
    "front_shoulder_point": "shoulder_point_front",
    "bust_dart_upper_end": "chest_point",
    "bust_point": "bust_point",
    "bust_dart_lower_end": "lower_end",
    "front_underarm": "underarm_front",
    "front_side_waist": "side_waist_front",
}
VALUES = {
    "half_waist_to_take_in": "take_in",
    "centre_back_shaping": "centre_in",
    "back_waist_dart": "back_in",
    "front_waist_dart": "front_in",
    "back_quarter": "back_quarter",
    "front_quarter": "front_quarter",
    "front_neck_depth": "neck_depth",
    "back_neck_curve": "back_curve",
    "side_seam_back": "back side",
    "side_seam_front": "front side",
    "shoulder_back": "back shoulder",
    "shoulder_front": "front shoulder",
}
ALSO = ("side_in",)  # compared by a rule of its own


@pytest.mark.parametrize("row", DATA["body"], ids=[row["id"] for row in DATA["body"]])
def test_every_point(row: dict[str, Any]) -> None:
    found = named(row)
    assert set(row["points"]) <= set(POINTS)
    for name, (x, y) in row["points"].items():
        assert found[POINTS[name]][0] == pytest.approx([10 * x, 10 * y], abs=CLOSE_MM), name


@pytest.mark.parametrize("row", DATA["body"], ids=[row["id"] for row in DATA["body"]])
def test_every_value(row: dict[str, Any]) -> None:
    found, expected = named(row), row["expect"]
    for name, ours in VALUES.items():
        if name in expected:
            assert float(found[ours][0]) == pytest.approx(10 * expected[name], abs=CLOSE_MM), name
    apex, one, two = (found[name][0] for name in ("bust_point", "chest_point", "lower_end"))
    legs = np.linalg.norm(one - apex), np.linalg.norm(two - apex)
    assert legs[0] == pytest.approx(legs[1], abs=1e-9)
    assert legs[0] == pytest.approx(10 * expected["bust_dart_leg"], abs=CLOSE_MM)
    assert np.linalg.norm(two - one) == pytest.approx(10 * expected["bust_dart_intake"], abs=CLOSE_MM)
    assert 2 * found["side_in"][0] == pytest.approx(10 * expected["side_shaping_both_sides"], abs=CLOSE_MM)
    assert found["nape"][0][1] == pytest.approx(10 * expected["scye_line_to_nape"], abs=CLOSE_MM)
    assert found["waist"][0][1] == pytest.approx(10 * expected["waist_y"], abs=CLOSE_MM)


@pytest.mark.parametrize("row", DATA["body"], ids=[row["id"] for row in DATA["body"]])
def test_halves_as_in_the_table(row: dict[str, Any]) -> None:
    found, expected = named(row), row["expect"]
    bust = found["back_quarter"][0] + found["front_quarter"][0]
    assert bust == pytest.approx(10 * expected["half_bust_total"], abs=CLOSE_MM)
    neck = found["front neckline"][0] + found["back neckline"][0]
    assert neck == pytest.approx(10 * expected["half_neck_total"], abs=0.1)
    waist = found["front waistline"][0] + found["back waistline"][0]
    assert waist == pytest.approx(10 * expected["half_waist_total"], abs=0.1)


def test_a_waist_larger_than_the_bust_has_no_waist_darts_and_sides_that_go_out() -> None:
    """Body D; its structure differs from the others', so a batch must part them."""
    found = named(next(row for row in DATA["body"] if row["id"] == "D"))
    assert found["darts"] == {"front bust_dart"}
    assert found["side_in"][0] < 0
    assert found["side_waist_back"][0][0] > found["underarm_back"][0][0]


def test_all_bodies_at_once_are_as_each_alone() -> None:
    together = in_batch(DATA["body"], "bust_dart=15 deg")
    for row, found in zip(DATA["body"], together, strict=True):
        (alone,) = in_batch([row], "bust_dart=15 deg")
        assert found.keys() == alone.keys()
        assert found.pop("darts") == alone.pop("darts")
        for name, value in found.items():
            np.testing.assert_allclose(value, alone[name], rtol=0.0, atol=1e-9, err_msg=f"{row['id']} {name}")


@pytest.mark.parametrize("row", DATA["body"], ids=[row["id"] for row in DATA["body"]])
def test_what_must_always_hold(row: dict[str, Any]) -> None:
    """Half the neck; half the waist after darts; equal sides; the back shoulder longer by its ease."""
    found, given = named(row), row["measures"]
    half_neck = float(found["front neckline"][0] + found["back neckline"][0])
    assert half_neck == pytest.approx(5 * given["neck_girth"], abs=0.01)
    half_waist = float(found["front waistline"][0] + found["back waistline"][0])
    assert half_waist == pytest.approx(5 * (given["waist_girth"] + 4), abs=0.1)
    assert found["front side"][0] == pytest.approx(found["back side"][0], abs=1e-6)
    assert found["back shoulder"][0] == pytest.approx(found["front shoulder"][0] + 6.0, abs=1e-6)
