"""Set-in sleeve and kimono pair of the library against tests/data/fit_lower_and_sleeves.toml: every point and every number.

The rules stand in stdlib/sleeves; tests/data/README.md says where the table is from.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.geometry.length import length, point_at
from godet.graph.evaluate import evaluate
from godet.pattern.piece import Piece
from godet.verbs.values import Edge, Value
from support.style_runs import prepared

HERE = Path(__file__).parent
DATA = tomllib.loads((HERE.parent / "data" / "fit_lower_and_sleeves.toml").read_text("utf-8"))
CLOSE = 10 * DATA["tolerance_cm"]
CLOSE_ANGLE = DATA["tolerance_angle_deg"]
MEASURES = ("upper_arm_girth", "wrist_girth", "outer_arm_length")


def drawn(style: str, row: dict[str, Any], settings: list[str]) -> dict[str, Value]:
    """All values of a style of tests/outside/drafts on the body of a row, by the names of its sentences."""
    measures = {name: 10.0 * value for name, value in row["measures"].items() if name in MEASURES}
    made = prepared(HERE / "drafts" / style, [Body(row["id"], "cm", row.get("sex", "F"), measures)], settings)
    assert made.style is not None
    evaluated = evaluate(made.style, made.population, made.style.names.values())
    assert not evaluated.failures
    values = evaluated.parts[0].values
    return {name: values[node] for name, node in made.style.names.items()}


def edge(piece: Value, name: str) -> float:
    assert isinstance(piece, Piece)
    return float(Edge(piece, name).length()[0])


def close(found: Value, expected: list[float], name: str, within: float = CLOSE) -> None:
    assert np.asarray(found)[0] == pytest.approx([10 * one for one in expected], abs=within), name


SLEEVES = pytest.mark.parametrize("row", DATA["sleeve"], ids=[row["id"] for row in DATA["sleeve"]])


def sleeve(row: dict[str, Any]) -> dict[str, Value]:
    lengths = [f"{name}={row['measures'][name]} cm" for name in ("front_armhole", "back_armhole")]
    found = drawn("set_in_sleeve.style", row, [*lengths, f"mens={'yes' if row['sex'] == 'M' else 'no'}"])
    return {name.removeprefix("sleeve.plain."): value for name, value in found.items()}


@SLEEVES
def test_every_point_of_a_sleeve(row: dict[str, Any]) -> None:
    """The table's y runs from the underarm, as ours; its x from the top."""
    found = sleeve(row)
    for name, place in row["points"].items():
        if name != "hem_middle":
            close(found[name], place, name)
    hem = next(side.drawn for side in found["sleeve"].ring if side.edge == "hem")  # type: ignore[union-attr]
    close(point_at(hem, length(hem) / 2), row["points"]["hem_middle"], "hem_middle")


@SLEEVES
def test_every_number_of_a_sleeve(row: dict[str, Any]) -> None:
    found, told = sleeve(row), row["delivers"]
    piece = found["sleeve"]
    for name, ours in (("front_cap", "front_cap"), ("back_cap", "back_cap"), ("hem", "hem"), ("underarm", "front_seam")):
        assert edge(piece, ours) == pytest.approx(10 * told[name], abs=CLOSE), name
    assert edge(piece, "back_seam") == pytest.approx(10 * told["underarm"], abs=CLOSE)
    assert float(np.asarray(found["cap_height"])[0]) == pytest.approx(10 * told["cap_height"], abs=CLOSE)
    ends = np.asarray(found["front_underarm"])[0], np.asarray(found["back_underarm"])[0]
    assert (ends[1] - ends[0])[0] == pytest.approx(10 * told["width"], abs=CLOSE)


ROUNDER = ("A", "C")
"""Rows whose side from pit to waist is short: ours is rounded less far on the sleeve and farther on the side than the table's, so
that the underarm bends less sharply (stdlib/sleeves/kimono.style)."""

MOVED = {
    "turn": 19.1,
    "underarm": 5.4,
    "start": 1.6,
    "side": 1.6,
    "overarm_end": 0.8,
    "underarm_end": 0.8,
    "room": 0.25,
    "shift": 0.09,
}
"""By how much (mm, degrees) that moves what rests on the rounding there, at most, as measured; all else is as in the table."""


def allowed(row: dict[str, Any], name: str, within: float = CLOSE) -> float:
    return MOVED.get(name, within) if row["id"] in ROUNDER else within


KIMONOS = pytest.mark.parametrize("row", DATA["kimono"], ids=[row["id"] for row in DATA["kimono"]])


def kimono(row: dict[str, Any]) -> dict[str, Value]:
    blocks = row["blocks"].items()
    given = [f"{name}_{axis}={value} cm" for name, at in blocks for axis, value in zip("xy", at, strict=True)]
    drop = row["reach"] * np.sin(np.radians(row["fall_most"]))
    given += [f"reach={row['reach']} cm", f"half={row['half']} cm", f"rounding={row['rounding']} cm", f"drop={drop:.6f} cm"]
    return drawn("kimono_pair.style", row, given)


@KIMONOS
def test_every_point_of_a_kimono_pair(row: dict[str, Any]) -> None:
    found = kimono(row)
    ours = {
        "tip": "made.{side}_layout.tip",
        "overarm_end": "made.{side}_half.hem_top",
        "underarm_end": "made.{side}_half.hem_foot",
        "turn": "made.{side}_half.rounding_end",
        "pit": "made.{side}_half.pit_point",
        "start": "made.{side}_half.side_end",
    }
    for side in ("front", "back"):
        for name, path in ours.items():
            where = row["points"][f"{name}_{side}"]
            close(found[path.format(side=side)], where, f"{name} {side}", allowed(row, name))


@KIMONOS
def test_every_number_of_a_kimono_pair(row: dict[str, Any]) -> None:
    found, told = kimono(row), row["delivers"]
    for name, ours in (("fall_bend", "made.mean_bend"), ("shift", "made.shift")):
        assert np.degrees(np.asarray(found[ours])[0]) == pytest.approx(told[name], abs=allowed(row, name, CLOSE_ANGLE)), name
    for name, ours in (("pit_below", "made.pit_depth"), ("reach", "made.reach_drawn"), ("shoulder", "made.shoulder")):
        assert float(np.asarray(found[ours])[0]) == pytest.approx(10 * told[name], abs=CLOSE), name
    for side in ("front", "back"):
        lengths = {"overarm": "overarm", "underarm": "underarm", "hem": "sleeve_hem", "side": "side"}
        for name, ours in lengths.items():
            wanted = pytest.approx(10 * told[f"{name}_{side}"], abs=allowed(row, name))
            assert edge(found[f"made.{side}"], ours) == wanted, name
        assert room(found, side) == pytest.approx(10 * told[f"room_{side}"], abs=allowed(row, "room"))


def room(found: dict[str, Value], side: str) -> float:
    """Distance of the pit from the overarm beyond the tip."""
    tip, end, pit = (
        np.asarray(found[name.format(side=side)])[0]
        for name in ("made.{side}_layout.tip", "made.{side}_half.hem_top", "made.{side}_half.pit_point")
    )
    way = (end - tip) / np.linalg.norm(end - tip)
    return float(abs(way[0] * (pit - tip)[1] - way[1] * (pit - tip)[0]))


def test_kimono_of_common_practice() -> None:
    """Common practice, no source: half a hem of (arm + 5 cm) / 2, a top line that drops 4 cm at 15 cm beyond the shoulder point,
    14.93 degrees over 15.524 cm; the two halves fall so on the mean. The hem, an arc, is a little longer than stated."""
    row = next(row for row in DATA["kimono"] if row["id"] == "B")
    row = {**row, "measures": {"upper_arm_girth": 30.0}, "reach": 15.524, "half": 17.5, "fall_most": 14.9314}
    found = kimono(row)
    falls = []
    for side in ("front", "back"):
        tip, end = (np.asarray(found[name])[0] for name in (f"made.{side}_layout.tip", f"made.{side}_half.hem_top"))
        falls.append(np.degrees(np.arctan2(tip[1] - end[1], end[0] - tip[0])))
        assert edge(found[f"made.{side}"], "sleeve_hem") == pytest.approx(175.0, abs=4.0)
    assert np.mean(falls) == pytest.approx(14.9314, abs=0.001)
