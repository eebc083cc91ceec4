"""A table as text, cell by cell: the same cells as the standard library's reader, each with its place."""

from __future__ import annotations

import csv
import io

from godet.bodies.cells import lines_of
from hypothesis import given
from hypothesis import strategies as st

WORDS = st.text(st.sampled_from('ab ,;"\n7é'), max_size=6)


@given(st.lists(st.lists(WORDS, min_size=2, max_size=3), min_size=1, max_size=4))
def test_cells_are_those_that_were_written(rows: list[list[str]]) -> None:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n", quoting=csv.QUOTE_ALL).writerows([["a", "b", "c", "d", "e", "f"], *rows])
    _, lines = lines_of(out.getvalue(), "t")
    expected = [[" ".join(cell.split()) for cell in row] for row in rows]
    assert [[cell.text for cell in line.cells] for line in lines[1:]] == [_filled(row) for row in expected if any(row)]


def _filled(row: list[str]) -> list[str]:
    return row if row[-1] else _filled(row[:-1])


def test_each_cell_has_its_line_and_place() -> None:
    text = 'name;bust_girth\n\n"Anna\nMaria"; 92,5\nBea;"90\n'
    separator, lines = lines_of(text, "t.csv")
    assert separator == ";"
    assert [line.number for line in lines] == [1, 3, 5]
    assert [text[cell.span.start : cell.span.end] for cell in lines[1].cells] == ['"Anna\nMaria"', " 92,5"]
    assert [cell.text for cell in lines[1].cells] == ["Anna Maria", "92,5"]
    assert [cell.unclosed for cell in lines[2].cells] == [False, True]


def test_a_letter_is_the_same_however_it_is_made_up() -> None:
    _, lines = lines_of("name,x\nZoe\u0308,1\nZo\u00eb,1\n", "t")
    assert lines[1].cells[0].text == lines[2].cells[0].text
