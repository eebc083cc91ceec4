"""Worked manipulations and closed forms, written in the language in manipulations/: what comes out against
tests/data/worked_manipulations.toml, geometry_checks.toml and published_drafts.toml, where each number's source stands."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from godet.bodies.body import Body
from godet.geometry.path import flatten_fixed
from godet.graph.evaluate import evaluate
from godet.pattern.edges import edge_length
from godet.pattern.piece import Piece, Reals, Trouble
from godet.verbs.points import arcs
from support.style_runs import INVENTED, invented, prepared

HERE = Path(__file__).parent
DATA = HERE.parent / "data"
FORMS: dict[str, dict[str, Any]] = tomllib.loads((DATA / "geometry_checks.toml").read_text("utf-8"))
WORKED: dict[str, dict[str, Any]] = tomllib.loads((DATA / "worked_manipulations.toml").read_text("utf-8"))
BOOK = {row["id"]: row for row in tomllib.loads((DATA / "published_drafts.toml").read_text("utf-8"))["example"]}
NOBODY = Body("nobody", "cm", "F", {})
CLOSE = 0.0005  # cm or degrees, of single formulas
CURVE = 0.01  # cm, along a curve
INCH = 25.4
EIGHTH = 0.125  # in: the finest a book of the trade prints


def drawn(style: Path, *choices: str, body: Body = NOBODY) -> dict[str, Any]:
    """What a style comes to, by name; all its checks hold."""
    made = prepared(style, [body], choices)
    assert made.style is not None
    nodes = {name: node for name, node in made.style.names.items() if "." not in name and node >= 0}
    evaluated = evaluate(made.style, made.population, nodes.values())
    assert not evaluated.failures
    (part,) = evaluated.parts
    assert all(np.all(np.asarray(part.values[check.node])) for check in made.style.checks)
    return {name: part.values[node] for name, node in nodes.items()}


def ours(name: str, *choices: str) -> dict[str, Any]:
    return drawn(HERE / "manipulations" / f"{name}.style", *choices)


def cm(found: Reals) -> float:
    return float(found[0]) / 10


def degrees(found: Reals) -> float:
    return float(np.degrees(found[0]))


@pytest.mark.parametrize("name", ["dart_cone_1", "dart_cone_2", "dart_cone_3"])
def test_a_sewn_dart_is_a_cone(name: str) -> None:
    form = FORMS[name]
    found = ours("cone", f"dart_turn={form['dart_deg']} deg", f"slant={form['slant']} cm")
    assert degrees(found["turn"]) == pytest.approx(form["dart_deg"], abs=CLOSE)
    assert cm(found["wide_open"]) == pytest.approx(form["opening_chord"], abs=CLOSE)
    assert cm(found["half_round"] - found["rim_sewn"]) == pytest.approx(form["opening_arc"], abs=CURVE)
    assert cm(found["round"]) == pytest.approx(form["girth_at_slant"], abs=CURVE)
    assert cm(found["base_radius"]) == pytest.approx(form["base_radius"], abs=CLOSE)
    assert cm(found["tip_height"]) == pytest.approx(form["height"], abs=CLOSE)
    assert degrees(found["half_apex"]) == pytest.approx(form["half_apex_deg"], abs=CLOSE)


@pytest.mark.parametrize("dart", [8.0, 15.0, 30.0])
def test_the_shortest_way_on_a_cone_stays_wherever_the_dart_is_moved(dart: float) -> None:
    """It does not depend on the dart's angle either: that cloth lies folded away."""
    form = FORMS["cone_geodesic"]
    marks = (f"near={form['r1']} cm", f"far={form['r2']} cm", f"between_marks={form['phi_deg']} deg")
    found = ours("cone", "slant=20 cm", f"dart_turn={dart} deg", *marks)
    for way in ("across_cone", "across_cone_again"):
        assert cm(found[way]) == pytest.approx(form["d"], abs=CLOSE)
    assert cm(found["on_paper"]) > form["d"] + 1


def test_bias_strips_a_spiral_and_a_mitre() -> None:
    found = ours("bias")
    square, helix, mitre = FORMS["bias_square"], FORMS["helix"], FORMS["mitre"]
    assert cm(found["strip_long"]) == pytest.approx(square["length"], abs=CLOSE)
    assert cm(found["side_for_wanted"]) == pytest.approx(square["square_for_1000"], abs=0.005)
    assert cm(found["along_thread"]) == pytest.approx(square["along_thread"], abs=CLOSE)
    assert cm(found["one_turn"]) == pytest.approx(helix["turn"], abs=CLOSE)
    assert degrees(found["spiral_slope"]) == pytest.approx(helix["angle_deg"], abs=CLOSE)
    for way in ("below", "beside"):
        assert cm(found[f"folded_{way}"]) == pytest.approx(mitre["folded_seam"], abs=CLOSE)
        assert cm(found[f"from_raw_{way}"]) == pytest.approx(mitre["raw_edge_distance"], abs=CLOSE)


@pytest.mark.parametrize(
    ("name", "row"), [("gathers", 0), ("gathers", 1), ("gathers", 2), ("gathers", 3), ("bias_ruffle", 0), ("bias_ruffle", 1)]
)
def test_a_strip_made_full(name: str, row: int) -> None:
    worked = WORKED[name]
    ratio = worked["ratio"][row]
    found = ours("gathered", f"finished_long={worked['finished']} cm", f"fullness_wanted={ratio}")
    assert cm(found["cut_long"]) == pytest.approx(worked["cut"][row], abs=CLOSE)
    assert float(found["ratio"][0]) == pytest.approx(ratio, abs=1e-6)


def test_the_pleated_skirt_drawn() -> None:
    """The book counts level across straight cloth; here a pleat is measured square to its fold, which slants a little."""
    book, found = BOOK["P13"], ours("pleated_skirt")
    pleats = book["inputs"]["pleats"]
    assert float(found["each_at_hem"][0]) / INCH == pytest.approx(book["values"]["hem_each_of_8"], abs=EIGHTH)
    assert float(found["each_at_waist"][0]) / INCH == pytest.approx(book["values"]["to_pleat_waist"] / pleats, abs=EIGHTH)
    assert float(found["waist_sewn"][0]) / INCH == pytest.approx(book["inputs"]["half_waist"], abs=1e-6)
    assert float(found["hem_hangs"][0]) / INCH == pytest.approx(book["inputs"]["half_hem_hang"], abs=1e-6)
    for edge in ("waist", "hem"):
        assert float(found[f"{edge}_cloth"][0]) / INCH == pytest.approx(book["inputs"]["half_cloth"], abs=2 * EIGHTH)


def points(piece: Piece, edge: str) -> Reals:
    return np.concatenate([flatten_fixed(side.drawn, 200)[0] for side in piece.sides(edge)])


@pytest.mark.parametrize("edge", ["neckline", "armhole"])
def test_a_shaped_facing_is_as_wide_all_along(edge: str) -> None:
    """Its outer edge is the edge it faces; marked at every inch from there, its inner edge is where the book puts it."""
    found = ours("shaped_facing")
    facing: Piece = found[f"{edge}_facing"]
    assert edge_length(facing, edge)[0] == pytest.approx(edge_length(found["half"], edge)[0], abs=1e-6)
    outer = shapely.LineString(points(facing, edge))
    inner = shapely.LineString(points(facing, "inner_edge"))
    assert shapely.LineString(points(found["half"], edge)).hausdorff_distance(outer) < 0.01
    marks = shapely.line_interpolate_point(inner, np.arange(0.0, inner.length, INCH))
    middle = marks[1:-1]  # the first and the last may lie beyond the foot of the edge's end
    assert len(middle) >= 3
    assert shapely.distance(outer, middle) / 10 == pytest.approx(WORKED["shaped_facing"]["depth_cm"], abs=CURVE)


@pytest.mark.parametrize("name", INVENTED)
def test_gores_flared_below_the_hip_leave_the_top_as_long_as_it_was(name: str) -> None:
    body = invented(name)
    style = HERE / "manipulations" / "flared_gores.style"
    plain, flared = (drawn(style, f"flare={flare} cm", body=body) for flare in (0, 12))
    assert cm(flared["top_round"]) == pytest.approx(cm(plain["top_round"]), abs=CURVE)
    # Each of six gores swings out by 12 cm at either edge, on an arc: a little less than that level.
    assert 0.9 * 144 < cm(flared["hem_round"] - plain["hem_round"]) < 144


def test_a_part_of_a_circle_hangs_as_a_cone() -> None:
    form = WORKED["flared_skirt_cone"]
    found = drawn(HERE / "drafts" / "circle_skirt.style", f"share_of_circle={form['share']}")
    hem, radius = 4 * edge_length(found["skirt"], "hem"), np.linalg.norm(found["side_hem"][0])
    half_apex = np.degrees(np.arcsin(float(hem[0]) / (2 * np.pi) / radius))
    assert half_apex == pytest.approx(form["half_apex_deg"], abs=0.001)


def test_arcs_too_short_to_meet_are_an_error_not_a_guess() -> None:
    form = WORKED["two_arcs_none"]
    centre, other = np.array([[0.0, 0.0]]), np.array([[10.0 * form["base"], 0.0]])
    with pytest.raises(Trouble, match="do not cross"):
        arcs(centre, np.array([10.0 * form["left"]]), other, np.array([10.0 * form["right"]]), "up")
