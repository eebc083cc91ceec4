"""Closed forms of tests/data/geometry_checks.toml that a specification rests on, written in the language."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.jobs.outcome import outcomes
from support.styles import written

FORMS: dict[str, dict[str, Any]] = tomllib.loads((Path(__file__).parents[1] / "data" / "geometry_checks.toml").read_text("utf-8"))
CLOSE = 0.0005  # cm
HEAD = "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"
SEAM = "seam side joins base.front.side to base.front.side\n"


def value(text: str, name: str) -> float:
    """A named number or length (cm) of a style."""
    prepared = written(HEAD + text)
    assert prepared.style is not None, prepared.diagnostics
    node = prepared.style.names[name]
    found = outcomes(prepared, [node])[1].parts[0].values[node]
    assert isinstance(found, np.ndarray)
    return float(found[0]) / (10 if prepared.style.nodes[node].kind.word == "length" else 1)


def test_cloth_that_shrinks() -> None:
    form = FORMS["shrink"]
    text = f"length to_cut = {form['finished']} cm / (1 - {100 * form['shrink']} percent)\n"
    assert value(text, "to_cut") == pytest.approx(form["cut"], abs=CLOSE)


def test_a_close_fitting_knit() -> None:
    form = FORMS["stretch"]
    text = f"length pattern = {form['body']} cm * (1 - {100 * form['reduction']} percent)\n"
    text += f"number stretch_needed = {form['body']} cm / pattern - 100 percent\n"
    assert value(text, "pattern") == pytest.approx(form["pattern"], abs=CLOSE)
    assert value(text, "stretch_needed") == pytest.approx(form["stretch_needed"], abs=CLOSE)


@pytest.mark.parametrize(
    ("form", "girth", "passes"), [("neck_opening", "neck", ("head", "allowance")), ("waist_opening", "waist", ("hip",))]
)
@pytest.mark.parametrize(("more", "holds"), [(0.001, True), (-0.001, False)])
def test_a_closure_must_let_pass_what_has_to(
    form: str, girth: str, passes: tuple[str, ...], more: float, holds: bool
) -> None:
    """The least length is that of the form; a hair more holds, a hair less fails."""
    given = FORMS[form]
    passing = " + ".join(f"{given[one]} cm" for one in passes)
    sentence = f"closure slit in side as_long_as {given['slit'] + more:.3f} cm which_widens {given[girth]} cm to_pass {passing}\n"
    result = outcomes(written(HEAD + SEAM + sentence))[0][0]
    found = result.specification.closures[0]
    assert found.needed_mm == pytest.approx(10 * given["slit"])
    assert found.holds is holds
    assert result.holds is holds


def test_a_neck_that_passes_the_head_needs_no_opening() -> None:
    """slit = max(0, …): nothing is needed where the girth is enough."""
    sentence = "closure slit in side as_long_as 0 cm which_widens 60 cm to_pass 59 cm\n"
    found = outcomes(written(HEAD + SEAM + sentence))[0][0].specification.closures[0]
    assert found.needed_mm == 0
    assert found.holds
