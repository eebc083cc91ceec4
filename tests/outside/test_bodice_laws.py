"""What must always hold of the published bodice block, on invented bodies scattered wider than people are.

The laws follow from the rules named in tests/outside/drafts/published_bodice.style.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

import numpy as np
from godet.bodies.body import Body
from godet.geometry.lanes import norm
from godet.graph.evaluate import Part, evaluate
from godet.jobs.prepare import Prepared
from godet.pattern.darts import leg_lengths
from godet.pattern.piece import Piece, Reals
from godet.pattern.pivot import dart_angle
from godet.verbs.values import Edge
from hypothesis import given, settings
from hypothesis import strategies as st
from support.style_runs import prepared
from test_bodice_block import STYLE

EASE = {"bust": 80.0, "waist": 40.0}
SMALLEST_DART = 1.0  # mm: a narrower one is not sewn, and its width stays in the waistline
NAMES = ("neck_point_front", "bust_point", "neck_to_bust", "back_quarter", "front_quarter", "take_in", "back_in", "front_in")
GIRTHS = ("bust_girth", "natural_waist_girth", "neck_base_girth")


@st.composite
def measures(draw: st.DrawFn) -> dict[str, float]:
    """A body in whole mm: a bust, and the rest scattered about its trend; some measures left out at random."""
    bust = draw(st.integers(740, 1500))
    about = {
        "natural_waist_girth": (bust * 0.9, 0.22 * bust),
        "neck_base_girth": (bust / 5 + 190, 25),
        "back_neck_point_to_waist": (410, 45),
        "scye_depth": (bust / 12 + 115, 12),
        "across_back_width": (bust / 4 + 120, 12),
        "shoulder_length": (125, 15),
        "shoulder_slope": (20, 5),
        "bust_point_to_bust_point": (bust / 5, 15),
        "side_neck_point_to_bust_point": (bust / 6 + 120, 25),
    }
    found = {name: float(round(middle + draw(st.floats(-1, 1)) * room)) for name, (middle, room) in about.items()}
    for name in ("scye_depth", "across_back_width", "bust_point_to_bust_point", "side_neck_point_to_bust_point"):
        if draw(st.booleans()):
            del found[name]
    armpit = found["back_neck_point_to_waist"] + 900.0
    return {**found, "bust_girth": float(bust), "armpit_height": armpit, "bust_height": armpit - draw(st.integers(0, 90))}


@lru_cache(maxsize=4)
def compiled(degrees: int) -> Prepared:
    return prepared(STYLE, (), [f"bust_dart={degrees} deg"])


@settings(max_examples=40, deadline=None)
@given(st.lists(measures(), min_size=1, max_size=6), st.sampled_from([4, 12, 21, 30]))
def test_what_must_always_hold(rows: list[dict[str, float]], degrees: int) -> None:
    made = compiled(degrees)
    assert made.style is not None
    people = [Body(f"body {number}", "mm", "F", row) for number, row in enumerate(rows)]
    names = made.style.names
    wanted = [names[f"base.d.{name}"] for name in NAMES]
    evaluated = evaluate(made.style, type(made.population).of(people), wanted)
    assert not evaluated.failures
    for part in evaluated.parts:
        taken = {name: np.array([rows[lane][name] for lane in part.lanes]) for name in GIRTHS}
        check_laws(part, names, taken, np.radians(degrees))


def check_laws(part: Part, names: Mapping[str, int], body: Mapping[str, Reals], angle: float) -> None:
    """All laws on the bodies of one part; every law is an equality of lanes (L,) in mm."""
    value: dict[str, Any] = {name: part.values[names[f"base.d.{name}"]] for name in NAMES}
    front, back = part.values[names["base.front"]], part.values[names["base.back"]]
    assert isinstance(front, Piece)
    assert isinstance(back, Piece)

    def both(edge: str) -> tuple[Reals, Reals]:
        return Edge(front, edge).length(), Edge(back, edge).length()

    alike(sum(both("neckline")), body["neck_base_girth"] / 2, 0.01)
    alike(value["front_quarter"] + value["back_quarter"], (body["bust_girth"] + EASE["bust"]) / 2)
    narrow = sum(np.where(value[dart] < SMALLEST_DART, np.maximum(value[dart], 0.0), 0.0) for dart in ("back_in", "front_in"))
    alike(sum(both("waistline")) - narrow, (body["natural_waist_girth"] + EASE["waist"]) / 2)
    alike(*both("side"))
    alike(both("shoulder")[1], both("shoulder")[0] + 6.0)
    dart = front.dart("bust_dart")
    assert dart is not None
    alike(*leg_lengths(front, dart))
    np.testing.assert_allclose(dart_angle(front, dart), angle, rtol=0.0, atol=1e-9)
    alike(norm(value["neck_point_front"] - value["bust_point"]), value["neck_to_bust"])


def alike(one: Any, other: Any, within: float = 1e-6) -> None:
    one, other = np.broadcast_arrays(one, other)
    np.testing.assert_allclose(one, other, rtol=0.0, atol=within)
