"""The library's recipes of fullness against plane geometry (tests/data/geometry_checks.toml), and the laws of the cowl on
every invented body."""

from __future__ import annotations

import numpy as np
import pytest
from support.style_runs import INVENTED, invented
from test_worked_manipulations import CLOSE, CURVE, FORMS, HERE, cm, degrees, drawn, ours

CIRCLES = ["circle_skirt_full", "circle_skirt_three_quarter", "circle_skirt_half", "circle_skirt_quarter", "circle_skirt_double"]


@pytest.mark.parametrize("name", CIRCLES)
@pytest.mark.parametrize("panels", [2, 3, 6])
def test_circular_skirts(name: str, panels: int) -> None:
    form = FORMS[name]
    asked = (f"waist_round={form['waist']} cm", f"circles_cut={form['f']}", f"panels_cut={panels}")
    found = ours("circular", *asked)
    assert cm(found["waist_sewn"]) == pytest.approx(form["waist"], abs=CURVE)
    assert cm(found["hem_round"]) == pytest.approx(form["hem"], abs=CURVE)
    assert cm(found["side_long"]) == pytest.approx(form["length"], abs=CLOSE)
    corners = found["panel"].sides("side")[0].drawn
    assert float(np.linalg.norm(corners.start[0])) / 10 == pytest.approx(form["outer_radius"], abs=CLOSE)
    assert float(np.linalg.norm(corners.end[0])) / 10 == pytest.approx(form["r"], abs=CLOSE)


@pytest.mark.parametrize(("inner", "outer", "deep", "pieces"), [(40, 80, 10, 1), (90, 300, 12, 4), (60, 66, 30, 1)])
def test_a_flounce_has_both_its_lengths(inner: float, outer: float, deep: float, pieces: int) -> None:
    asked = (f"inner_long={inner} cm", f"outer_long={outer} cm", f"deep_cut={deep} cm", f"pieces_cut={pieces}")
    found = ours("circular", *asked)
    assert cm(found["inner_sewn"]) == pytest.approx(inner, abs=CURVE)
    assert cm(found["outer_falls"]) == pytest.approx(outer, abs=CURVE)
    assert cm(found["end_long"]) == pytest.approx(deep, abs=CLOSE)
    assert cm(found["strip_long"]) == pytest.approx(1.25 * inner, abs=CLOSE)


def test_a_flounce_is_the_shaped_band_of_the_same_lengths() -> None:
    """A shaped band and a flounce are one thing: a part of a ring between two lengths."""
    form = FORMS["frustum_band_hip_yoke"]
    asked = (f"inner_long={form['c_small']} cm", f"outer_long={form['c_large']} cm", f"deep_cut={form['slant']} cm")
    start = ours("circular", *asked)["ring"].sides("end")[0].drawn
    assert float(np.linalg.norm(start.start[0])) / 10 == pytest.approx(form["R_small"], abs=CLOSE)
    assert float(np.linalg.norm(start.end[0])) / 10 == pytest.approx(form["R_large"], abs=CLOSE)


def test_a_godet_adds_its_arc_to_the_hem() -> None:
    form = FORMS["godet"]
    found = ours("godets", f"slit_long={form['radius']} cm", f"opens_by={form['angle_deg']} deg")
    assert cm(found["hem_added"]) == pytest.approx(form["hem_added_arc"], abs=CURVE)
    assert cm(found["hem_added_straight"]) == pytest.approx(form["hem_added_chord"], abs=CLOSE)
    assert cm(found["triangle_hem"]) == pytest.approx(20.0, abs=CLOSE)
    for side in ("triangle_left", "triangle_right"):
        assert cm(found[side]) == pytest.approx(form["radius"], abs=CLOSE)


@pytest.mark.parametrize("name", INVENTED)
def test_the_neckline_of_a_cowl_is_square_to_its_centre_and_nothing_else_is_changed(name: str) -> None:
    body = invented(name)
    for wide in (22.0, 28.0):
        found = drawn(HERE / "manipulations" / "cowl_front.style", f"neck_across={wide} cm", body=body)
        assert degrees(found["at_fall"]) == pytest.approx(90.0, abs=1e-6)
        assert cm(found["neck_long"]) == pytest.approx(wide, abs=0.02)  # what the recipe solves to
        for edge in ("shoulder", "side", "hem"):
            assert cm(found[f"{edge}_change"]) == pytest.approx(0.0, abs=CLOSE)
        assert abs(cm(found["armhole_change"])) < 0.2  # trued smooth over three hinges: 1 percent of an armhole


@pytest.mark.parametrize("name", INVENTED)
def test_a_dart_closed_into_the_hem_is_flare_there(name: str) -> None:
    body = invented(name)
    found = drawn(HERE / "manipulations" / "cowl_front.style", body=body)
    assert cm(found["waist_change"]) == pytest.approx(0.0, abs=CLOSE)
    assert cm(found["hem_grown"]) > 1.0
