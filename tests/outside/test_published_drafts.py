"""Published drafts typed in and compared point by point with tests/data/published_drafts.toml.

Each draft names its book at the top of its style file. There y runs down the paper; here it runs up.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.graph.evaluate import evaluate
from support.style_runs import prepared

DRAFTS = Path(__file__).parent / "drafts"
ROWS = tomllib.loads((Path(__file__).parents[1] / "data" / "published_drafts.toml").read_text("utf-8"))["example"]
TYPED_IN = [row for row in ROWS if (DRAFTS / f"{row['id']}.style").exists()]
UNIT = {"in": 25.4, "cm": 10.0}
RENAMED = {"corner": "corner_point", "shoulder_length": "shoulder_found", "scye_depth": "scye_deep"}
NOBODY = Body("nobody", "cm", "F", {})


def value(row: dict[str, Any], name: str, found: float) -> float:
    """In the unit of the book; names that end in `_deg` are angles."""
    return float(np.degrees(found)) if name.endswith("_deg") else found / UNIT[row["unit"]]


@pytest.mark.parametrize("row", TYPED_IN, ids=[row["id"] for row in TYPED_IN])
def test_the_draft_agrees_with_the_book(row: dict[str, Any]) -> None:
    made = prepared(DRAFTS / f"{row['id']}.style", [NOBODY])
    assert made.style is not None
    names = {name: RENAMED.get(name, name) for name in (*row.get("points", ()), *row["values"])}
    nodes = {name: made.style.names[ours] for name, ours in names.items()}
    evaluated = evaluate(made.style, made.population, nodes.values())
    assert not evaluated.failures
    values = evaluated.parts[0].values
    unit, close = UNIT[row["unit"]], row["tolerance"]
    for name, (x, y) in row.get("points", {}).items():
        assert np.asarray(values[nodes[name]])[0] / unit == pytest.approx([x, -y], abs=close), name
    for name, expected in row["values"].items():
        found = np.asarray(values[nodes[name]])[0]
        assert value(row, name, float(found)) == pytest.approx(expected, abs=close), name


def test_the_drafts_promised_are_typed_in() -> None:
    assert {row["id"] for row in TYPED_IN} == {row["id"] for row in ROWS}
