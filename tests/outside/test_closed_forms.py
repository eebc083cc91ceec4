"""Closed forms of tests/data/geometry_checks.toml, through the verbs of the language. They need no book: plane geometry."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.geometry.lanes import norm
from godet.geometry.length import length
from godet.geometry.path import line
from godet.graph.evaluate import evaluate
from godet.pattern.edges import edge_length
from godet.pattern.outline import outline
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.slash import evenly, hinged, parallel, slash
from godet.verbs.lines import parallel as parallel_line
from godet.verbs.lines import sweep
from godet.verbs.measuring import OF, falling, quarter_depth, quarter_round
from godet.verbs.points import arcs, measured_off, turned
from support.style_runs import prepared

FORMS: dict[str, dict[str, Any]] = tomllib.loads((Path(__file__).parents[1] / "data" / "geometry_checks.toml").read_text("utf-8"))
DRAFTS = Path(__file__).parent / "drafts"
NOBODY = Body("nobody", "cm", "F", {})
CLOSE = 0.0005  # cm or degrees, of single formulas


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
        other = turned(end, point(0, 0), clockwise_by=np.radians([form["angle_deg"]]))
        assert float(np.linalg.norm(end - other)) / 10 == pytest.approx(form[opening], abs=CLOSE)


def test_kimono_slope() -> None:
    form = FORMS["kimono"]
    tip = point(0, 0)
    hem = point(form["reach"], -form["drop"])
    assert float(np.linalg.norm(hem - tip)) / 10 == pytest.approx(form["line"], abs=CLOSE)
    angle = falling(mm(form["drop"]), mm(form["line"]))
    assert float(np.degrees(angle[0])) == pytest.approx(form["slope_deg"], abs=0.001)
    assert measured_off(tip, mm(form["line"]), sloping_by=angle)[0] == pytest.approx(hem[0], abs=0.001)


def test_quarter_rounds() -> None:
    form = FORMS["quarter_ellipse"]
    for a, b, expected in zip(form["a"], form["b"], form["length"], strict=True):
        assert float(quarter_round(mm(a), mm(b))[0]) / 10 == pytest.approx(expected, abs=0.001)
        assert float(quarter_depth(mm(a), mm(expected))[0]) / 10 == pytest.approx(b, abs=0.001)


CIRCLES = [name for name in FORMS if name.startswith("circle_skirt")]
BANDS = [name for name in FORMS if name.startswith("frustum_band")]
CURVE = 0.01  # cm, of lengths along a curve


def drawn(style: str, choices: dict[str, str]) -> dict[str, Any]:
    """What a style of drafts/ comes to, by name."""
    made = prepared(DRAFTS / f"{style}.style", [NOBODY], [f"{name}={value}" for name, value in choices.items()])
    assert made.style is not None
    nodes = {name: node for name, node in made.style.names.items() if "." not in name}
    evaluated = evaluate(made.style, made.population, nodes.values())
    assert not evaluated.failures
    assert all(np.all(np.asarray(evaluated.parts[0].values[check.node])) for check in made.style.checks)
    return {name: evaluated.parts[0].values[node] for name, node in nodes.items()}


@pytest.mark.parametrize("name", CIRCLES)
def test_circular_skirts(name: str) -> None:
    form = FORMS[name]
    choices = {"waist_round": f"{form['waist']} cm", "skirt_length": f"{form['length']} cm", "share_of_circle": str(form["f"])}
    found = drawn("circle_skirt", choices)
    assert float(found["radius"][0]) / 10 == pytest.approx(form["r"], abs=CLOSE)
    piece = found["skirt"]
    assert 4 * float(edge_length(piece, "hem")[0]) / 10 == pytest.approx(form["hem"], abs=CURVE)
    assert 4 * float(edge_length(piece, "waistline")[0]) / 10 == pytest.approx(form["waist"], abs=CURVE)
    assert 4 * float(OF["area"].run(piece)[0]) / 100 == pytest.approx(form["area"], rel=1e-5)
    assert norm(found["side_hem"])[0] / 10 == pytest.approx(form["outer_radius"], abs=CLOSE)


@pytest.mark.parametrize("waist", [60, 70, 95])
def test_the_hem_of_a_circular_skirt_is_longer_by_the_same_whatever_the_waist(waist: int) -> None:
    piece = drawn("circle_skirt", {"waist_round": f"{waist} cm", "share_of_circle": "0.5"})["skirt"]
    longer = edge_length(piece, "hem") - edge_length(piece, "waistline")
    assert 4 * float(longer[0]) / 10 == pytest.approx(2 * np.pi * 0.5 * 60, abs=CURVE)


@pytest.mark.parametrize("name", BANDS)
def test_shaped_bands(name: str) -> None:
    form = FORMS[name]
    girths = {"upper_girth": form["c_small"], "lower_girth": form["c_large"], "depth": form["slant"]}
    found = drawn("shaped_band", {word: f"{size} cm" for word, size in girths.items()})
    assert float(found["inner_radius"][0]) / 10 == pytest.approx(form["R_small"], abs=CLOSE)
    assert float(np.degrees(found["whole_angle"][0])) == pytest.approx(form["angle_deg"], abs=CLOSE)
    for edge, girth in (("upper", form["c_small"]), ("lower", form["c_large"])):
        assert 2 * float(edge_length(found["half_band"], edge)[0]) / 10 == pytest.approx(girth, abs=CURVE)


def test_a_band_as_long_above_as_below_has_no_centre() -> None:
    """It is a strip; the draft says so by name instead of drawing at infinity."""
    made = prepared(DRAFTS / "shaped_band.style", [NOBODY], ["lower_girth=70 cm"])
    assert made.style is not None
    (failure,) = evaluate(made.style, made.population).failures
    assert failure.message == "this divides by zero"


def test_offset_of_an_arc() -> None:
    form = FORMS["arc_offset"]
    start, end = point(form["r"], 0), point(0, form["r"])
    quarter_arc = sweep(start, end, point(0, 0), "anticlockwise")
    for distance, expected in zip(form["d"], form["length"], strict=True):
        side = point(100, 100) if distance >= 0 else point(0, 0)
        found = parallel_line(quarter_arc, mm(abs(distance)), side)
        assert float(length(found)[0]) / 10 == pytest.approx(expected, abs=CURVE)


def test_sector_and_ring() -> None:
    form = FORMS["sector"]
    centre, out, top = point(0, 0), point(form["R"], 0), point(0, form["R"])
    edges = [("one", line(centre, out), "c", "o"), ("other", line(top, centre), "t", "c")]
    sector = outline([*edges, ("arc", sweep(out, top, centre, "anticlockwise"), "o", "t")])
    assert float(OF["area"].run(sector)[0]) / 100 == pytest.approx(form["area"], abs=CURVE)
    inner, outer = form["ring_r"], form["ring_R"]
    ends = {name: point(x, 0) for name, x in (("a", inner), ("b", outer), ("c", -outer), ("d", -inner))}
    ring = outline(
        [
            ("near", line(ends["a"], ends["b"]), "a", "b"),
            ("hem", sweep(ends["b"], ends["c"], centre, "anticlockwise"), "b", "c"),
            ("far", line(ends["c"], ends["d"]), "c", "d"),
            ("waist", sweep(ends["d"], ends["a"], centre, "clockwise"), "d", "a"),
        ]
    )
    assert float(OF["area"].run(ring)[0]) / 100 == pytest.approx(form["ring_area"], rel=1e-5)


def test_an_arc_with_ends_at_two_distances_is_refused() -> None:
    with pytest.raises(Trouble, match="not equally far"):
        sweep(point(8, 0), point(0, 8.1), point(0, 0), "clockwise")


def test_godet_from_a_sector() -> None:
    form = FORMS["godet"]
    first = point(0, -form["radius"])
    last = turned(first, point(0, 0), anticlockwise_by=np.radians([form["angle_deg"]]))
    assert float(length(sweep(first, last, point(0, 0), "anticlockwise"))[0]) / 10 == pytest.approx(
        form["hem_added_arc"], abs=CURVE
    )
    assert float(norm(last - first)[0]) / 10 == pytest.approx(form["hem_added_chord"], abs=CLOSE)


def test_a_dart_is_split_by_angle_not_by_opening() -> None:
    form = FORMS["dart_split"]
    for leg, opening, share in ((form["leg_1"], "opening_1", form["share"]), (form["leg_2"], "opening_2", 1 - form["share"])):
        other = turned(point(leg, 0), point(0, 0), clockwise_by=np.radians([share * form["angle_deg"]]))
        assert float(norm(point(leg, 0) - other)[0]) / 10 == pytest.approx(form[opening], abs=CLOSE)


def test_half_widths_of_a_sleeve_from_its_cap_line() -> None:
    """The cap line is laid from the top of the cap to the level of the underarm."""
    form = FORMS["sleeve_width"]
    top, level = point(0, form["cap_height"]), point(0, 0)
    for half in ("front", "back"):
        underarm = measured_off(top, mm(form[f"{half}_line"]), to_level=level)
        assert float(underarm[0, 0]) / 10 == pytest.approx(form[f"{half}_width"], abs=CLOSE)
    form = FORMS["cap_height_trade"]
    for height, wanted in zip(form["height"], form["width"], strict=True):
        underarm = measured_off(point(0, height), mm(form["armhole"] / 2), to_level=level)
        assert 2 * float(underarm[0, 0]) / 10 == pytest.approx(wanted, abs=CLOSE)


def test_a_straight_line_is_its_chord() -> None:
    assert float(length(line(point(0, 0), point(3, 4)))[0]) == pytest.approx(50.0, abs=1e-12)
