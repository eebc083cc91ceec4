"""A style on the sizes of a chart: the chart read and looked over, each size that is wanted a body."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import PurePath

from ..bodies.body import Body
from ..bodies.chart import Chart, chosen_sizes
from ..bodies.chart_file import read_chart
from ..bodies.chart_review import review_chart
from ..diagnostics import chart_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..syntax.source import decode
from .counts import with_counts_of
from .files import Files, read
from .prepare import Prepared
from .sized_choices import Sized, with_choices

SPREADSHEETS = (".xlsx", ".xlsm", ".xls", ".ods")


def with_sizes(
    files: Files,
    prepared: Prepared,
    path: str,
    only: str,
    settings: Sequence[str],
    again: Callable[[Sized], Prepared],
) -> tuple[Prepared, Chart | None]:
    """The style with the sizes of a chart as its bodies, those of them that are asked for (`chosen_sizes`), and the chart; None
    where it cannot be read. `again` checks the style, which has these `settings`, with choices as a size has them."""
    text, found = table_text(files, path)
    chart, bodies = None, tuple[Body, ...]()
    if text is not None:
        style = prepared.style
        chart, problems = read_chart(text, path, None if style is None else {one.name: one.kind.word for one in style.choices})
        found += problems
    if chart is not None:
        sizes, problem = chosen_sizes(chart, only)
        found += [problem] if problem else review_chart(chart, sizes)
        prepared, wrong = with_choices(prepared, chart, sizes, settings, again)
        found += wrong
        bodies = tuple(replace(chart.body(size), spans={}) for size in sizes)
    texts = prepared.texts if text is None else {**prepared.texts, path: text}
    made = replace(prepared, bodies=bodies, diagnostics=(*prepared.diagnostics, *found), texts=texts)
    if chart is None or not bodies:
        return made, chart
    return with_counts_of(made, lead(chart, [one.name for one in bodies])), chart


def lead(chart: Chart, sizes: Sequence[str]) -> str:
    """The size on which the others are laid, and whose counts all have: the sample, or the nearest to it that is asked for."""
    wanted = chart.sizes.index(chart.sample)
    return min(sizes, key=lambda size: (abs(chart.sizes.index(size) - wanted), chart.sizes.index(size)))


def table_text(files: Files, path: str) -> tuple[str | None, list[Diagnostic]]:
    """The text of a table, that of a spreadsheet as CSV with a line for each of its rows."""
    content, problem = read(files, path)
    if content is None:
        return None, [problem] if problem else []
    if PurePath(path).suffix.lower() in SPREADSHEETS:
        return _of_spreadsheet(content, path)
    text, problems = decode(content, path)
    return text, [*problems]


def _of_spreadsheet(content: bytes, path: str) -> tuple[str | None, list[Diagnostic]]:
    try:
        from python_calamine import CalamineError, CalamineWorkbook
    except ImportError:
        return None, [words.no_spreadsheets(path)]
    try:
        rows = CalamineWorkbook.from_filelike(io.BytesIO(content)).get_sheet_by_index(0).to_python(skip_empty_area=False)
    except (CalamineError, OSError) as error:
        return None, [words.bad_spreadsheet(path, str(error))]
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([_cells(row) for row in rows])
    return out.getvalue(), []


def _cells(row: Sequence[object]) -> list[str]:
    """Cells as they are read in a sheet: 92 rather than 92.0, and 36.8 rather than the double nearest to it."""
    return [f"{cell:.10g}" if isinstance(cell, float) else " ".join(str(cell).split()) for cell in row]
