"""Diagnostics as records, for programs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.grouping import Groups
from ..diagnostics.printing import place
from ..output.command_records import DiagnosticRecord, PlaceRecord


def diagnostic_records(found: Iterable[Diagnostic], texts: Mapping[str, str]) -> tuple[DiagnosticRecord, ...]:
    """Each trouble once, with all bodies that meet it; `texts` are those of the files that places lie in."""
    groups = Groups()
    for one in found:
        groups.add(one)
    return tuple(_record(one, bodies, texts) for one, bodies in groups.with_bodies())


def _record(one: Diagnostic, bodies: tuple[str, ...], texts: Mapping[str, str]) -> DiagnosticRecord:
    return DiagnosticRecord(
        code=one.code,
        severity="error" if one.is_error else "warning",
        message=one.message,
        place=None if one.span is None else _place(one.span, "", texts),
        note=one.note,
        fix=one.fix,
        others=tuple(_place(label.span, label.text, texts) for label in one.labels),
        used=tuple(_place(step.span, step.text, texts) for step in one.trace),
        bodies=bodies,
    )


def _place(span: Span, text: str, texts: Mapping[str, str]) -> PlaceRecord:
    written = texts.get(span.file)
    if written is None:
        return PlaceRecord(span.file, None, None, None, None, text)
    return PlaceRecord(span.file, *place(written, span.start), *place(written, span.end), text)
