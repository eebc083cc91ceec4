"""The words of errors that concern a table of clients. Codes E53x, E553 to E555."""

from __future__ import annotations

from .diagnostic import Diagnostic, Label, Span

LONGEST = 150
"""Bytes of a name as part of a file name: systems take 255 for the whole."""


def nobody(path: str) -> Diagnostic:
    return Diagnostic("E530", f"`{path}` holds no clients", fix="a line of column names, then a line for each client")


def no_name(span: Span) -> Diagnostic:
    return Diagnostic("E531", "this client has neither a name nor an id", span, fix="give one of them")


def long_name(span: Span, name: str) -> Diagnostic:
    message = f"`{name[:20]}…` is too long to name a file"
    return Diagnostic("E539", message, span, fix=f"write at most {LONGEST // 2} letters, or use `--label id`")


def unclosed_quote(span: Span) -> Diagnostic:
    return Diagnostic("E532", "a quote is not closed here", span, fix='close it with `"`, and write one inside a text twice')


def too_many_cells(span: Span, given: int, columns: int) -> Diagnostic:
    message = f"this row has {given} cells, and the table {columns} columns"
    return Diagnostic("E553", message, span, fix="a text that holds the separator stands in quotes")


def no_number(span: Span, column: str, written: str, unit: str) -> Diagnostic:
    fix = 'write "36", "36 1/2" or "5/8"' if unit == "in" else f"write the number alone, in {unit}"
    return Diagnostic("E533", f"`{written}` in the column `{column}` is not a number", span, fix=fix)


def no_unit(span: Span) -> Diagnostic:
    return Diagnostic("E554", "this row has no unit that is known", span, fix="write mm, cm or in under `unit`")


def bad_choice(span: Span, choice: str, written: str, what: str, fix: str) -> Diagnostic:
    return Diagnostic("E534", f"the choice `{choice}` cannot be `{written}`: {what}", span, fix=fix)


def same_file(names: tuple[str, str], places: tuple[Span, Span], lines: tuple[str, str], file: str) -> Diagnostic:
    """Two clients whose files would have one name."""
    both = " and ".join(f"`{name}` ({line})" for name, line in zip(names, lines, strict=True))
    message = f"{both} would be written to one file, `{file}`; nothing was written"
    fix = "tell their names apart, or give each an `id` and use `--label id`"
    return Diagnostic("E535", message, places[1], fix=fix, labels=(Label(places[0], "the other"),))


def same_id(written: str, places: tuple[Span, Span], lines: tuple[str, str]) -> Diagnostic:
    message = f"`{written}` stands for two clients ({lines[0]}, {lines[1]}); nothing was written"
    return Diagnostic("E536", message, places[1], fix="give each an `id` of its own", labels=(Label(places[0], "the other"),))


def own_list(path: str) -> Diagnostic:
    message = f"`{path}` is where the clients are listed that cannot be made, and would be written over"
    return Diagnostic("E537", message, fix="copy it to another name, or choose another folder")


def taken_together(option: str) -> Diagnostic:
    return Diagnostic("E538", f"`--clients` and `{option}` stand together", fix="take one of them: each says who is drawn")


def without_clients(option: str) -> Diagnostic:
    return Diagnostic("E555", f"`{option}` is of a table of clients, and none is given", fix="add `--clients FILE`")
