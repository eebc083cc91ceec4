"""The wording of everything said about size charts: E42x to E44x errors, W45x warnings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from .diagnostic import Diagnostic, Severity, Span
from .suggest import did_you_mean, either

ENTRIES = ("chart", "source", "unit", "sex", "sample", "form", "range")


def _data(**items: object) -> Mapping[str, object]:
    return MappingProxyType(items)


def no_measurements(span: Span) -> Diagnostic:
    return Diagnostic(
        "E421",
        "the chart has no line that begins `measurement`",
        span,
        note="above it stand entries such as `unit,cm`, below it a row for each measurement",
        fix="head the columns with `measurement,80,84,88` and so on, sizes from small to large",
    )


def entry_missing(span: Span, entry: str, example: str) -> Diagnostic:
    fix = f"add a line such as `{example}` above the measurements"
    return Diagnostic("E422", f"the chart has no `{entry}`", span, fix=fix, data=_data(entry=entry))


def unknown_entry(span: Span, entry: str) -> Diagnostic:
    near = did_you_mean(entry, ENTRIES)
    fix = near or f"entries are {either(ENTRIES, 'and')}; a note begins with `#`"
    return Diagnostic("E423", f"`{entry}` is not an entry of a size chart", span, fix=fix, data=_data(entry=entry))


def bad_entry(span: Span, entry: str, written: str, fix: str) -> Diagnostic:
    return Diagnostic("E424", f"`{entry}` is `{written}`", span, fix=fix, data=_data(entry=entry, written=written))


def no_sizes(span: Span) -> Diagnostic:
    return Diagnostic(
        "E425", "the chart has no sizes", span, fix="name the sizes behind `measurement`, as `measurement,80,84,88`"
    )


def size_twice(span: Span, size: str) -> Diagnostic:
    return Diagnostic("E426", f"size {size} stands twice", span, fix="each size has one column: rename one, or take it away")


def blank_cell(span: Span, row: str, sizes: Sequence[str], is_choice: bool) -> Diagnostic:
    many = "sizes" if len(sizes) > 1 else "size"
    note = "estimated in some sizes and measured in others, the row would make a step of its own"
    fix = "give the row whole, or leave it out to be estimated"
    if is_choice:
        note, fix = "", "give the row whole, or leave it out: all sizes then have what the style chooses"
    return Diagnostic(
        "E427",
        f"`{row}` has no number in {many} {either(sizes, 'and')}",
        span,
        note=note,
        fix=fix,
        data=_data(row=row, sizes=tuple(sizes)),
    )


def not_a_number(span: Span, row: str, size: str, written: str, fix: str) -> Diagnostic:
    message = f"`{row}` in size {size} is `{written}`, which is not read as a number"
    return Diagnostic("E428", message, span, fix=fix, data=_data(row=row, size=size))


def too_many_cells(span: Span, row: str, cells: int, columns: int) -> Diagnostic:
    return Diagnostic(
        "E429",
        f"`{row}` has {cells} cells, and the chart has {columns} columns",
        span,
        fix="name a size for each column; a decimal comma needs another separator, as a semicolon",
    )


def impossible(span: Span, row: str, size: str, value: str) -> Diagnostic:
    return Diagnostic(
        "E430",
        f"`{row}` in size {size} is {value}, which no body has",
        span,
        fix="look at the unit of the chart and at the decimal point",
        data=_data(row=row, size=size, value=value),
    )


def no_rows(span: Span) -> Diagnostic:
    fix = "below the sizes write a row for each measurement, as `bust_girth,80,84,88`"
    return Diagnostic("E431", "the chart has no rows", span, fix=fix)


def unclosed_quote(span: Span) -> Diagnostic:
    fix = 'a text with a separator stands in two quotes, `"so, and so"`'
    return Diagnostic("E432", "a quote is not closed in this line", span, fix=fix)


def no_such_size(size: str, between: tuple[str, str] | None, sizes: Sequence[str], ranges: Sequence[str]) -> Diagnostic:
    named = f"; ranges: {either(ranges, 'and')}" if ranges else ""
    fix = f"sizes are {sizes[0]} to {sizes[-1]}{named}"
    if between:
        fix = f"it lies between {between[0]} and {between[1]}: take one of these, or give it a column of its own"
    return Diagnostic("E433", f"size `{size}` is not in the chart", fix=fix, data=_data(size=size))


def range_backwards(first: str, last: str) -> Diagnostic:
    return Diagnostic("E434", f"`{first}..{last}` runs backwards", fix=f"write the smaller size first, `{last}..{first}`")


def no_size_named(sizes: Sequence[str], ranges: Sequence[str]) -> Diagnostic:
    named = f"; ranges: {either(ranges, 'and')}" if ranges else ""
    return Diagnostic("E437", "some sizes are asked for, and none is named", fix=f"sizes are {sizes[0]} to {sizes[-1]}{named}")


def no_spreadsheets(file: str) -> Diagnostic:
    return Diagnostic(
        "E435",
        f"{file} is a spreadsheet, and what reads those is not installed",
        fix="save it as CSV, or install it with `pip install 'godet[sheets]'`",
    )


def bad_spreadsheet(file: str, reason: str) -> Diagnostic:
    return Diagnostic("E436", f"{file} cannot be read as a spreadsheet", note=reason, fix="save its first sheet as CSV")


def unknown_choice(span: Span, name: str, known: Sequence[str]) -> Diagnostic:
    fix = did_you_mean(name, known) or (f"its choices are {either(known, 'and')}" if known else "it has none: take the row away")
    return Diagnostic("E438", f"the style has no choice `{name}`", span, fix=fix, data=_data(row=name))


def choice_without_size(span: Span, name: str, kind: str) -> Diagnostic:
    what = "is yes or no" if kind == "flag" else f"is a {kind}"
    return Diagnostic(
        "E439",
        f"the choice `{name}` {what}: it is one for all sizes",
        span,
        fix=f"take the row away, and set it with `--set {name}=…`",
        data=_data(row=name),
    )


def choice_out_of_bounds(span: Span, name: str, size: str, line: int, value: str, low: str, high: str) -> Diagnostic:
    return Diagnostic(
        "E440",
        f"`choice {name}` in size {size} (line {line}) is {value}: the style takes {low} to {high}",
        span,
        fix="change the number, or the bounds of the choice in the style",
        data=_data(row=name, size=size, value=value),
    )


def choice_set_twice(span: Span, name: str) -> Diagnostic:
    return Diagnostic(
        "E441",
        f"the choice `{name}` is set for all sizes, and the chart sets it for each",
        span,
        fix=f"leave out `--set {name}=…`, or take the row away",
        data=_data(row=name),
    )


def choices_draw_otherwise(span: Span, names: Sequence[str], sizes: Sequence[str], base: str) -> Diagnostic:
    """Where what is chosen in some sizes decides what there is, as a count or by `when`."""
    these = f"size{'s' if len(sizes) > 1 else ''} {either(sizes, 'and')}"
    return Diagnostic(
        "E442",
        f"with {either(names, 'and')} as in {these} the style has other sentences to draw than in {base}",
        span,
        note="a choice that decides whether something is there, or how many, is one for all sizes that are drawn together",
        fix="give these sizes the same value, or draw them for themselves with `--only`",
        data=_data(sizes=tuple(sizes)),
    )


def _warning(code: str, message: str, span: Span | None, note: str, fix: str, **items: object) -> Diagnostic:
    return Diagnostic(code, message, span, note, fix, Severity.WARNING, data=_data(**items))


def out_of_row(span: Span, row: str, size: str, line: int, value: str, expected: str, fits: str) -> Diagnostic:
    return _warning(
        "W451",
        f"`{row}` in size {size} (line {line}) is {value}: its neighbours lead to {expected}",
        span,
        "",
        fits or "if it is right, leave it: this is a warning only",
        row=row,
        size=size,
    )


def changes_sign(span: Span, row: str, between: tuple[str, str], step: str, others: str, falls: bool) -> Diagnostic:
    here, there = ("falls", "grows") if falls else ("grows", "falls")
    return _warning(
        "W452",
        f"`{row}` {here} by {step} from {between[0]} to {between[1]} where it {there} by {others} elsewhere",
        span,
        "",
        "if it is right, leave it: this is a warning only",
        row=row,
        sizes=between,
    )


def not_its_name(span: Span, row: str, size: str, value: str) -> Diagnostic:
    return _warning(
        "W453",
        f"size {size} has a `{row}` of {value}",
        span,
        "the other sizes are called by this girth",
        "look whether the row stands one size too far to the left or right",
        row=row,
        size=size,
    )


def shifted(span: Span, row: str, steps: int) -> Diagnostic:
    return _warning(
        "W454",
        f"`{row}` does not go with the names of the sizes: each fits the size {'before' if steps > 0 else 'behind'} it",
        span,
        "sizes with numbers are called by this girth",
        "look whether the whole row stands one column too far",
        row=row,
    )


def two_surveys(span: Span, children: Sequence[str], adults: Sequence[str]) -> Diagnostic:
    return _warning(
        "W455",
        f"sizes {either(children, 'and')} are a child's, {either(adults, 'and')} an adult's",
        span,
        "what the chart leaves out is estimated by other rules for a child: between these sizes it makes a step of its own",
        "give every row that the style needs, or make two charts",
        children=tuple(children),
    )


def in_sizes(first: Diagnostic, sizes: Sequence[str], of_all: int) -> Diagnostic:
    """What is told of several sizes of a chart, as one: the words are those of the first of them."""
    where = "all sizes" if len(sizes) == of_all else f"sizes {either(sizes, 'and')}" if len(sizes) > 1 else f"size {sizes[0]}"
    message = f"{first.message} (in {where}" + (f"; this is {sizes[0]})" if len(sizes) > 1 else ")")
    return replace(first, message=message, body=None, data=_data(**first.data, sizes=tuple(sizes)))
