"""However deep a style goes within its limits, it is read without touching what all threads of a process share."""

from __future__ import annotations

import sys

import pytest
from godet import open_style

ROW = "".join(f"length a{i} = a{i + 1} + 1 mm\n" for i in range(290)) + "length a290 = 1 cm\n"
RECIPES = "".join(
    f'recipe r{i} "R" {{\n    takes length far\n    gives length more = r{i + 1} with far far + 1 mm\n}}\n' for i in range(35)
)
LAST = 'recipe r35 "R" {\n    takes length far\n    gives length more = far\n}\nlength long = r0 with far 1 cm\n'
SUM = f"length long = {' + '.join(['1 cm'] * 100)}\n"
BRACKETS = f"length long = {'-(' * 99}1 cm{')' * 99}\n"
LARGER = f"length long = {'larger of (1 mm, ' * 90}1 cm{')' * 90}\n"
MOVED = f"point far = {'(' * 60}starting_point{' up 1 cm)' * 60}\n"
NOTCH = f"shape s {{\n    notch side at {'larger of (1 mm, ' * 90}1 cm{')' * 90} from hem\n}}\n"


@pytest.mark.parametrize("text", [ROW, RECIPES + LAST, SUM, BRACKETS, LARGER, MOVED])
def test_deep_styles_are_read(text: str) -> None:
    before = sys.getrecursionlimit()
    style = open_style("deep.style", text=f"language 1\n{text}")
    assert not style.has_errors, style.diagnostics[0].message
    assert sys.getrecursionlimit() == before


def test_deep_statements_are_told_like_others() -> None:
    assert open_style("deep.style", text=f"language 1\n{NOTCH}").has_errors


def test_a_row_of_definitions_that_is_too_long_is_told() -> None:
    for count, inside in ((320, "b{}"), (290, f"{'larger of (1 mm, ' * 90}b{{}}{')' * 90}")):
        row = "".join(f"length b{i} = {inside.format(i + 1)} + 1 mm\n" for i in range(count))
        found = open_style("deep.style", text=f"language 1\n{row}length b{count} = 1 cm\n").diagnostics
        assert {one.code for one in found if one.is_error} == {"E239"}
