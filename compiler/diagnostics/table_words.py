"""The words of errors in tables. One function an error; codes E280 to E289."""

from __future__ import annotations

from .diagnostic import Diagnostic, Label, Span


def no_row(span: Span) -> Diagnostic:
    return Diagnostic("E280", "a table holds rows and nothing else", span, fix="write `row 90 cm is 26 cm`")


def row_twice(span: Span, first: Span) -> Diagnostic:
    labels = (Label(first, "the first"),)
    return Diagnostic("E281", "two rows stand at the same place", span, fix="keep one of them", labels=labels)


def too_few_rows(span: Span, name: str) -> Diagnostic:
    fix = "write a `row … is …` for each, in braces; a single value needs no table"
    return Diagnostic("E282", f"`{name}` needs two rows of numbers at least", span, fix=fix)
