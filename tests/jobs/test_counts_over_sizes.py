"""`sample_count of …`: all sizes of a run have as many darts as the sample; a body alone has its own.

The back of the bodice has one waist dart in size 96, and two in 100 drawn alone.
"""

from __future__ import annotations

import io
import json
import re

import godet
import pytest
from test_sizes import HERE

CHART = "patterns/charts/women_1988.csv"
BODICE = """language 1
style "Back"
use bodice from blocks/bodice
block base = bodice with bust_ease 10 cm waist_ease 6 cm armhole_ease 3 cm
piece back = base.back {
    grain up
    cut 1 on fold
    allow 1 cm
}
"""


@pytest.fixture(scope="module")
def style() -> godet.Style:
    return godet.open_style(HERE, text=BODICE)


def two_darts(one: godet.Result) -> bool:
    return any("second_waist_dart" in edge.name for edge in one.pieces["back"].edges)


def lengths(one: godet.Result) -> list[float]:
    """To what a solve leaves open: while it tries values, a count of its own may change, and one that is settled does not."""
    return [edge.length_mm for edge in one.pieces["back"].edges]


def test_all_sizes_have_the_count_of_the_sample_and_which_would_not_is_told_once(style: godet.Style) -> None:
    on = style.sizes(CHART, only="96,100")
    assert [two_darts(one) for one in on] == [False, False]
    (told,) = (one.message for one in on.diagnostics if one.code == "W350")
    assert told.startswith("`base.d.back_darts` is 1 in all sizes, as in 96: 100 alone would have 2; `base.d.back_one` is ")
    assert re.fullmatch(r".* mm in 100, alone .* mm", told)
    assert [piece.name for piece in on.growth().pieces] == ["back"]


@pytest.mark.parametrize(("size", "two"), [("96", False), ("100", True)])
def test_a_run_of_one_size_is_the_body_alone(style: godet.Style, size: str, two: bool) -> None:
    on = style.sizes(CHART, only=size)
    (of_run,) = on
    assert on.chart is not None
    body = on.chart.body(size)
    row: dict[str, object] = {key: value / 10 for key, value in body.measures.items() if key != "body_mass"}
    row |= {"name": size, "unit": "cm", "sex": "F", "body_mass": body.measures["body_mass"]}
    (alone,) = style.on(row)
    assert two_darts(of_run) is two
    assert lengths(of_run) == pytest.approx(lengths(alone), abs=0.02)
    assert "W350" not in {one.code for one in on.diagnostics}


def test_sheets_of_other_counts_bear_another_sign(style: godet.Style) -> None:
    together, alone = (sign(style.sizes(CHART, only=sizes)) for sizes in ("96,100", "96"))
    assert alone == style.fingerprint
    assert together != alone


def sign(on: godet.OnSizes) -> str:
    out = io.StringIO()
    on.write_report(out, form="json")
    found: str = json.loads(out.getvalue())["fingerprint"]
    return found


def test_the_sample_is_in_a_run_what_it_is_alone(style: godet.Style) -> None:
    runs = (next(one for one in style.sizes(CHART, only=sizes) if one.name == "96") for sizes in ("96,100", "96"))
    of_run, alone = map(lengths, runs)
    assert of_run == pytest.approx(alone, abs=0.02)
