"""Bodies from tables that a program holds: those of pandas, polars, pyarrow and numpy are read alike; what is wrong is told by
line and column."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

import godet
import numpy as np
import pyarrow
import pytest
from support.style_runs import PATTERNS

Rows = Mapping[str, Sequence[Any]]
ROWS: Rows = {
    "name": ["anna", "berta"],
    "unit": ["cm", "in"],
    "sex": ["F", "F"],
    "natural_waist_girth": [70.0, 34.5],
    "hip_girth": [98.1 + 0.2, 44.0],
    "waist_to_hip_height": [21.0, 8.5],
    "bust_girth": [None, 44.0],
}


def _frame(library: str) -> Callable[[Rows], Any]:
    def made(rows: Rows) -> Any:
        return import_module(library).DataFrame(dict(rows))

    return made


def _fields(rows: Rows) -> Any:
    plain = {key: [float("nan") if one is None else one for one in column] for key, column in rows.items()}
    kinds = [(key, "U20" if isinstance(column[0], str) else float) for key, column in plain.items()]
    return np.array(list(zip(*plain.values(), strict=True)), dtype=kinds)


def _arrow(rows: Rows) -> Any:
    return pyarrow.table(dict(rows))


TABLES = {"pandas": _frame("pandas"), "polars": _frame("polars"), "pyarrow": _arrow, "numpy": _fields}


@pytest.fixture(scope="module")
def style() -> godet.Style:
    return godet.open_style(PATTERNS / "gored_skirt.style")


@pytest.mark.parametrize("library", TABLES)
def test_a_table_is_read_as_its_rows_are(library: str, style: godet.Style) -> None:
    on = style.on(TABLES[library](ROWS)).check()
    rows = [dict(zip(ROWS, row, strict=True)) for row in zip(*ROWS.values(), strict=True)]
    for one, other in zip(on.bodies, style.on(rows).bodies, strict=True):
        assert (one.name, one.sex, one.unit) == (other.name, other.sex, other.unit)
        assert dict(one.measures) == pytest.approx(dict(other.measures), abs=1e-6)


@pytest.mark.parametrize("library", TABLES)
def test_what_is_wrong_is_told_with_its_line_and_column(library: str, style: godet.Style) -> None:
    table = TABLES[library]({**ROWS, "hip_girth": ["98", "wide"]})
    with pytest.raises(godet.StyleError, match="`wide` in the column `hip_girth` is not a number") as raised:
        style.on(table).check()
    assert "line 3 (berta)" in str(raised.value)


def test_columns_of_another_name_and_unit_are_told_by_a_file(style: godet.Style, tmp_path: Path) -> None:
    columns = tmp_path / "columns.csv"
    columns.write_text("theirs,ours,unit\nWho,name,\nW,natural_waist_girth,in\nH,hip_girth,cm\n", "utf-8")
    table = pyarrow.table({"Who": ["dora"], "W": [30], "H": [100]})
    (body,) = style.on(table, columns=columns).check().bodies
    assert dict(body.measures) == pytest.approx({"natural_waist_girth": 762.0, "hip_girth": 1000.0})
    columns.write_text("theirs,ours,unit\nZ,hip_girth,cm\n", "utf-8")
    with pytest.raises(godet.StyleError, match="Z"):
        style.on(table, columns=columns).check()
    with pytest.raises(TypeError, match="columns"):
        style.on({"name": "dora"}, columns=columns)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"unit": None}, "in which unit"),
        ({"choice long": ["60", "70"]}, "`choice long`"),  # bodies set no choices: it is not read, which is told
        ({"name": ["anna", "anna"]}, "anna"),
        ({"name": ["anna", ""]}, "name"),
    ],
)
def test_nothing_of_a_table_is_passed_over_in_silence(more: Mapping[str, Any], said: str, style: godet.Style) -> None:
    rows = {key: column for key, column in {**ROWS, **more}.items() if column is not None}
    on = style.on(pyarrow.table(rows))
    assert any(said in f"{one.message} {one.fix}" for one in on.diagnostics)


def test_what_is_no_table_and_no_body_is_refused(style: godet.Style) -> None:
    with pytest.raises(TypeError, match="a float is neither a body"):
        style.on(92.0)  # type: ignore[arg-type]
