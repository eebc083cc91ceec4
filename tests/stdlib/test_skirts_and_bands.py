"""The skirts and bands of the library against published numbers, closed forms, and real women.

Bodies: see tests/data/README.md. What must hold on every body stands as checks in skirts.style.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.pattern.edges import edge_path
from support.real_bodies import real_women
from support.style_runs import results

HERE = Path(__file__).parent
SKIRTS, BANDS = HERE / "skirts.style", HERE / "bands.style"
DATA = HERE.parent / "data"
FORMS: dict[str, dict[str, Any]] = tomllib.loads((DATA / "geometry_checks.toml").read_text("utf-8"))
DRAFTS = tomllib.loads((DATA / "published_drafts.toml").read_text("utf-8"))["example"]
WOMAN = Body("a", "cm", "F", {"natural_waist_girth": 745.0, "hip_girth": 995.0, "waist_to_hip_height": 215.0})
# A waist wider than the hip: there is nothing to take in, and the sides run outward.
STOUT = Body("b", "cm", "F", {"natural_waist_girth": 1180.0, "hip_girth": 1080.0, "waist_to_hip_height": 200.0})


def lengths(style: Path, body: Body, *settings: str) -> dict[str, float]:
    """Sewn length in cm of every edge of every piece, by `piece.edge`; all that is stated must hold."""
    (made,) = results(style, [body], settings)
    assert not made.errors
    assert made.holds, [check for check in made.checks if not check.holds]
    return {f"{piece.name}.{edge.name}": edge.length_mm / 10 for piece in made.pieces for edge in piece.edges}


def test_straight_skirt_agrees_with_the_published_rule() -> None:
    """M2: the hip of the back and of the half, and the finished waist, on the printed waist and hip."""
    (book,) = [one for one in DRAFTS if one["id"] == "M2"]
    given, wanted = book["inputs"], book["values"]
    girths = {"natural_waist_girth": given["waist"] * 10, "hip_girth": given["hip"] * 10}
    body = Body("M2", "cm", "F", {**girths, "waist_to_hip_height": 205.0})
    found = lengths(SKIRTS, body, "hip_ease=3 cm", "waist_ease=1 cm", "back_more=1.5 cm")
    assert found["back.hem"] == pytest.approx(wanted["back_hip"], abs=0.001)
    assert found["back.hem"] + found["front.hem"] == pytest.approx(wanted["half_hip_with_ease"], abs=0.001)
    waist = 2 * (found["back.waistline"] + found["front.waistline"])
    assert waist == pytest.approx(wanted["finished_waist"], abs=0.05)  # curves: half a millimetre


def test_flare_leaves_the_waist_untouched() -> None:
    """Gores are parted below the hip: the waist is as before (I. D. Conover, A Complete Course in Dressmaking, vol. 5, p. 17)."""
    plain, flared = (lengths(SKIRTS, WOMAN, f"flare={wide} cm") for wide in (0, 4))
    tops = [name for name in plain if name.endswith("gore.waistline")]
    assert len(tops) == 4
    for name in tops:
        assert flared[name] == pytest.approx(plain[name], abs=1e-6)
    counts = {"front": 1, "back": 1, "side_front": 2, "side_back": 2}
    hems = [sum(count * found[f"{name}_gore.hem"] for name, count in counts.items()) for found in (plain, flared)]
    assert hems[0] == pytest.approx(99.5 + 6, abs=0.05)
    assert hems[1] == pytest.approx(99.5 + 6 + 12 * 4, rel=0.01)  # laid off along the slanted seams, so not exactly


def test_a_body_without_a_waist_has_no_darts_and_sides_that_run_outward() -> None:
    (made,) = results(SKIRTS, [STOUT])
    assert made.holds
    assert not made.errors
    for one in made.pieces:
        assert one.piece.dart_names() == ()
    front = next(one for one in made.pieces if one.name == "front")
    side = edge_path(front.piece, "side")
    ends = [float(at[0, 0]) for path in side for at in (path.start, path.end)]
    hip = (108.0 + 6.0) * 10 / 4
    assert max(ends) > hip + 5.0


@pytest.mark.parametrize("name", ["frustum_band_waist", "frustum_band_collar_wide_below", "frustum_band_hip_yoke"])
def test_shaped_band_is_the_frustum_of_a_cone(name: str) -> None:
    form = FORMS[name]
    settings = [f"shorter={form['c_small']} cm", f"longer={form['c_large']} cm", f"depth={form['slant']} cm"]
    (made,) = results(BANDS, [WOMAN], settings)
    assert made.holds
    shaped = next(one for one in made.pieces if one.name == "shaped")
    found = {edge.name: edge.length_mm / 10 for edge in shaped.edges}
    assert found["upper_edge"] == pytest.approx(form["c_small"] / 2, abs=0.01)
    assert found["lower_edge"] == pytest.approx(form["c_large"] / 2, abs=0.01)
    (end,) = edge_path(shaped.piece, "end")
    middle = np.array([0.0, form["R_large"] * 10])
    radii = [float(np.linalg.norm(at - middle)) / 10 for at in (end.start[0], end.end[0])]
    assert sorted(radii) == pytest.approx([form["R_small"], form["R_large"]], abs=0.001)
    way = end.start[0] - end.end[0]
    assert abs(np.degrees(np.arctan2(way[0], -way[1]))) % 180 == pytest.approx(form["angle_deg"] / 2, abs=0.001)


def test_a_band_with_equal_edges_is_a_rectangle() -> None:
    """No centre to swing about: at most 0.1 mm is added to half the lower edge."""
    found = lengths(BANDS, WOMAN, "shorter=70 cm", "longer=70 cm", "depth=5 cm")
    assert found["shaped.upper_edge"] == pytest.approx(35.0, abs=0.001)
    assert found["shaped.lower_edge"] == pytest.approx(35.0, abs=0.011)
    assert found["plain.lower_edge"] == pytest.approx(70.0)
    assert found["plain.upper_edge"] == pytest.approx(73.0)


@pytest.mark.parametrize("seed", [1, 1988])
def test_skirts_of_real_women(seed: int) -> None:
    made = results(SKIRTS, real_women(100, seed))
    assert sum(not one.errors and one.holds for one in made) >= 99
