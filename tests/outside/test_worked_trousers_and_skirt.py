"""Trousers and straight skirt on invented bodies, every point as worked outside (tests/data/README.md)."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.graph.evaluate import Part
from godet.jobs.outcome import outcomes
from godet.pattern.darts import apex_of
from godet.pattern.piece import Piece, Reals
from godet.verbs.points import corner
from godet.verbs.values import Edge
from support.style_runs import prepared

HERE = Path(__file__).parent
WORKED: dict[str, Any] = tomllib.loads((HERE.parent / "data" / "fit_lower_and_sleeves.toml").read_text("utf-8"))
CLOSE = WORKED["tolerance_cm"]
CLOSE_ANGLE = WORKED["tolerance_angle_deg"]


def corner_point(piece: Piece, edge: str, by: str) -> Reals:
    return np.asarray(corner(Edge(piece, edge), by, (edge, by)))


def number(part: Part, node: int) -> float:
    """A length in cm."""
    value = part.values[node]
    assert isinstance(value, np.ndarray)
    return float(value[0]) / 10.0


def angle(part: Part, node: int) -> float:
    value = part.values[node]
    assert isinstance(value, np.ndarray)
    return float(np.degrees(value[0]))


def point(part: Part, node: int) -> Reals:
    value = part.values[node]
    assert isinstance(value, np.ndarray)
    return np.asarray(value[0]) / 10.0


def drawn(style: str, worked: Mapping[str, Any]) -> tuple[Part, Mapping[str, int]]:
    """All values of a style on a worked body."""
    measures = {name: value * 10.0 for name, value in worked["measures"].items()}
    measures["natural_waist_girth"] = measures.pop("waist_girth")
    body = Body(worked["id"], "cm", "M" if worked["about"].startswith("man") else "F", measures)
    made = prepared(HERE / "drafts" / style, [body])
    assert made.style is not None
    results, evaluated = outcomes(made, [node for node in made.style.names.values() if node >= 0])
    assert not results[0].errors
    assert results[0].holds
    return evaluated.parts[0], made.style.names


def points(piece: Piece, half: str, centre: str, darts: tuple[str, str]) -> dict[str, Any]:
    """The corners and darts of a piece under the names of the worked numbers, in cm."""
    found = {
        f"waist_centre_{half}": corner_point(piece, "waistline", centre),
        f"waist_side_{half}": corner_point(piece, "waistline", "side"),
    }
    for number, name in enumerate(darts, 1):
        if piece.dart(name) is not None:
            legs = [piece.sides(f"{name}.{leg}_leg")[0].drawn for leg in ("inner", "outer")]
            apex = apex_of(piece, name)
            assert apex is not None
            mouths = [leg.start if np.allclose(leg.end, apex) else leg.end for leg in legs]
            called = f"{half}_dart{number}"
            found |= {f"{called}_in": mouths[0], f"{called}_out": mouths[1], f"{called}_apex": apex}
    return {name: at[0] / 10.0 for name, at in found.items()}


def agree(found: Mapping[str, Any], worked: Mapping[str, Any], wanted: set[str]) -> None:
    assert set(found) == wanted
    for name in wanted:
        assert found[name] == pytest.approx(worked["points"][name], abs=CLOSE), name


@pytest.mark.parametrize("worked", WORKED["trousers"], ids=lambda one: one["id"])
def test_trousers(worked: Mapping[str, Any]) -> None:
    part, names = drawn("worked_trousers.style", worked)
    found: dict[str, Any] = {}
    for half in ("front", "back"):
        piece = part.values[names[half]]
        assert isinstance(piece, Piece)
        found |= points(piece, half, "crotch_seam", (f"{half}_dart", f"second_{half}_dart"))
        found[f"fork_{half}"] = corner_point(piece, "inseam", "crotch_seam")[0] / 10.0
        found[f"hem_in_{half}"] = corner_point(piece, "hem", "inseam")[0] / 10.0
        found[f"hem_out_{half}"] = corner_point(piece, "hem", "side")[0] / 10.0
        inner = {"hip_centre": f"{half}_centre.at_hip", "curve_start": f"curve_start_{half}", "hip_side": f"hip_side_{half}"}
        inner |= {"knee_in": f"knee_in_{half}", "knee_out": f"knee_out_{half}"}
        found |= {f"{name}_{half}": point(part, names[f"base.{key}"]) for name, key in inner.items()}
    agree(found, worked, set(worked["points"]))
    numbers = {"fork": "base.fork", "drop": "base.fork_drop"}
    numbers |= {"crotch_front": "base.front_crotch", "crotch_back": "base.back_crotch"}
    numbers |= {"raised_front": "base.front_centre.raised", "raised_back": "base.back_centre.raised"}
    numbers |= {"inseam": "inseam_front", "inseam_back": "inseam_back", "side": "side", "side_back": "side_back"}
    numbers |= {"waist_front": "waist_front", "waist_back": "waist_back", "knee": "base.knee_round", "hem": "base.hem_round"}
    numbers |= {"front_dart_width": "base.front_dart", "back_dart_width": "base.back_dart"}
    for name, key in numbers.items():
        assert number(part, names[key]) == pytest.approx(worked["delivers"][name], abs=CLOSE), name
    for half in ("front", "back"):
        lean = angle(part, names[f"base.{half}_centre.lean"])
        assert lean == pytest.approx(worked["delivers"][f"lean_{half}"], abs=CLOSE_ANGLE)


@pytest.mark.parametrize("worked", WORKED["skirt"], ids=lambda one: one["id"])
def test_straight_skirt(worked: Mapping[str, Any]) -> None:
    part, names = drawn("worked_skirt.style", worked)
    found: dict[str, Any] = {}
    for half in ("front", "back"):
        piece = part.values[names[half]]
        assert isinstance(piece, Piece)
        found |= points(piece, half, "centre", ("inner_dart", "outer_dart"))
        found[f"hem_side_{half}"] = corner_point(piece, "hem", "side")[0] / 10.0
        found[f"hip_side_{half}"] = point(part, names[f"base.side_hip_{half}"])
    agree(found, worked, set(worked["points"]))
    numbers = {"take_in_half": "base.take_in", "side_in": "base.side_in"}
    numbers |= {"waist_front": "waist_front", "waist_back": "waist_back"}
    for name, key in numbers.items():
        assert number(part, names[key]) == pytest.approx(worked["delivers"][name], abs=CLOSE), name
    assert angle(part, names["dart_angle"]) == pytest.approx(worked["delivers"]["dart_angle"], abs=CLOSE_ANGLE)
