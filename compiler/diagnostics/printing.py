"""A diagnostic -> the lines a person reads: place, the line itself with the part underlined, the fix."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from .colours import Role, painted
from .diagnostic import Diagnostic, Severity, Span, Step

_WIDEST = 120  # columns of a shown line; a longer one is clipped around the underlined part
_BEFORE = 40  # columns kept before the part when clipping
_TAB = "    "


def place(text: str, offset: int) -> tuple[int, int]:
    """Line and column of an offset, both from 1, in characters."""
    offset = min(offset, len(text))
    return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)


def offset(text: str, line: int, column: int) -> int:
    """The offset of a line and a column, both from 1; that of the end of the line where the column lies beyond."""
    lines = text.split("\n")
    before = lines[: line - 1]
    here = lines[line - 1] if 0 < line <= len(lines) else ""
    return sum(map(len, before)) + len(before) + min(column - 1, len(here))


def print_diagnostic(diagnostic: Diagnostic, texts: Mapping[str, str], coloured: bool = False) -> str:
    """The diagnostic as text without a newline at its end. `texts` holds the text of every file by its name; `coloured`: for a
    terminal.

    A place in a file whose text is not at hand is shown by the file's name alone.
    """
    d = diagnostic
    severity: Role = "error" if d.severity is Severity.ERROR else "warning"
    spans = [label.span for label in d.labels] + ([d.span] if d.span else [])
    numbers = [place(texts[span.file], span.start)[0] for span in spans if span.file in texts]
    gutter = " " * max((len(str(number)) for number in numbers), default=1)
    body = f" ({d.body})" if d.body else ""
    shown = d.span is not None and d.span.file in texts
    lines = [_Line("", f"{severity}[{d.code}]", severity, f": {d.message}{'' if shown else body}")]
    if d.span:
        lines += _snippet(d.span, d.note + body, "^", severity, gutter, texts)
    for label in d.labels:
        lines += _snippet(label.span, label.text, "-", "place", gutter, texts)
    tail = _tail(d, shown, texts)
    if tail:
        lines += [_Line(f"{gutter} |")] if shown else []
        lines += [_Line(f"{gutter} = {line}") for line in tail]
    return "\n".join(line.written(coloured) for line in lines)


@dataclass(frozen=True, slots=True)
class _Line:
    """A line, and the part of it that has a colour."""

    before: str
    marked: str = ""
    role: Role = ""
    after: str = ""

    def written(self, coloured: bool) -> str:
        """Without what steers a terminal, but for its own colours."""
        if not coloured:
            return _harmless(f"{self.before}{self.marked}{self.after}".rstrip())
        marked = painted(_harmless(self.marked), self.role)
        return f"{_harmless(self.before)}{marked}{_harmless(self.after)}".rstrip()


def print_all(diagnostics: Iterable[Diagnostic], texts: Mapping[str, str], coloured: bool = False) -> str:
    """All of them, a blank line between."""
    return "\n\n".join(print_diagnostic(d, texts, coloured) for d in diagnostics)


def _tail(d: Diagnostic, note_shown: bool, texts: Mapping[str, str]) -> list[str]:
    notes = [f"note: {d.note}"] if d.note and not note_shown else []
    fix = [f"fix: {d.fix}"] if d.fix else []
    return notes + fix + [_step(step, texts) for step in d.trace]


def _step(step: Step, texts: Mapping[str, str]) -> str:
    return f"{step.text}, {'at' if step.inside else 'used at'} {_where(step.span, texts)}"


def _where(span: Span, texts: Mapping[str, str]) -> str:
    text = texts.get(span.file)
    if text is None:
        return span.file
    line, column = place(text, span.start)
    return f"{span.file}:{line}:{column}"


def _snippet(span: Span, note: str, mark: str, role: Role, gutter: str, texts: Mapping[str, str]) -> list[_Line]:
    """Place, line and underline of one span."""
    lines = [_Line(f"{gutter}--> ", _where(span, texts), "place")]
    if span.file not in texts:
        return lines
    text = texts[span.file]
    number = place(text, span.start)[0]
    part = _window(text, span)
    marks = mark * max(1, _columns(part.marked))
    return [
        *lines,
        _Line(f"{gutter} |"),
        _Line(f"{number:>{len(gutter)}} | {part.before}{part.marked}{part.after}"),
        _Line(f"{gutter} | {' ' * _columns(part.before)}", marks, role, f"{' ' if note.strip() else ''}{note.strip()}"),
    ]


@dataclass(frozen=True, slots=True)
class _Part:
    """A line in three parts; the middle one is underlined."""

    before: str
    marked: str
    after: str


def _window(text: str, span: Span) -> _Part:
    """The line of a span, clipped where it is long; a span over several lines is cut at the end of the first."""
    start = min(span.start, len(text))
    first = text.rfind("\n", 0, start) + 1
    last = text.find("\n", start)
    last = len(text) if last < 0 else last
    end = max(start, min(span.end, last))
    if last - first <= _WIDEST:
        return _Part(_plain(text[first:start]), _plain(text[start:end]), _plain(text[end:last]))
    left = max(first, start - _BEFORE)
    right = min(last, left + _WIDEST)
    shown_end = min(end, right)
    return _Part(
        ("…" if left > first else "") + _plain(text[left:start]),
        _plain(text[start:shown_end]),
        _plain(text[shown_end:right]) + ("…" if right < last else ""),
    )


def _plain(text: str) -> str:
    return _harmless(text.replace("\r", "").replace("\t", _TAB))


def _harmless(text: str) -> str:
    """Without characters that steer a terminal or turn the direction of writing."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else " " if c.isspace() else "\ufffd" for c in text)


def _columns(text: str) -> int:
    """How many columns a terminal gives the text."""
    if text.isascii():
        return len(text)
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)
