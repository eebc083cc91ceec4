"""What commands print with `--format json` beside reports, as records. The JSON schemas are made from these types.

A key that changes its meaning, or goes, changes `COMMANDS_SCHEMA`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from .garment_records import AssemblyRecord
from .records import CheckResult, ClosureRow, FitRecord, SeamRecord, Tidings

COMMANDS_SCHEMA = 1

Schema = Annotated[int, "version of these keys"]


@dataclass(frozen=True)
class PlaceRecord:
    """Part of a file, with what is said of it. The numbers are null where the text of the file is not at hand."""

    file: Annotated[str, "as it was given, `stdlib/…` in the library, `row N` for a row of a table"]
    line: Annotated[int | None, "from 1"]
    column: Annotated[int | None, "from 1, in characters"]
    end_line: int | None
    end_column: Annotated[int | None, "the first that is not part of it"]
    text: str


@dataclass(frozen=True)
class DiagnosticRecord:
    """An error or a warning; one trouble that several bodies meet is told once."""

    code: str
    severity: Literal["error", "warning"]
    message: str
    place: PlaceRecord | None
    note: str
    fix: Annotated[str, "what to do"]
    others: Annotated[tuple[PlaceRecord, ...], "further places that belong to it"]
    used: Annotated[tuple[PlaceRecord, ...], "where a recipe is used in which it stands, the innermost first"]
    bodies: Annotated[tuple[str, ...], "all that meet it; empty: it holds whatever the body"]


@dataclass(frozen=True)
class CheckedBody:
    """What `check` finds of a body or size. Keys are those of the report."""

    name: str
    drawn: bool
    holds: bool
    checks: tuple[CheckResult, ...]
    seams: tuple[SeamRecord, ...]
    assembly: AssemblyRecord
    fit: tuple[FitRecord, ...]
    closures: tuple[ClosureRow, ...]
    tidings: tuple[Tidings, ...]
    estimated_how: Annotated[Mapping[str, str], "what the body does not give, and what stands in for it"]


@dataclass(frozen=True)
class CheckedStyle:
    """A style, and what it comes to on its bodies."""

    file: str
    style: Annotated[str, "its title"]
    fingerprint: Annotated[str, "empty: it has errors"]
    exit_code: Annotated[int, "0: all holds, 1: something fails, 2: errors"]
    judged: Annotated[bool | None, "whether it says how it is sewn; null: it has errors"]
    bodies: tuple[CheckedBody, ...]
    diagnostics: tuple[DiagnosticRecord, ...]


@dataclass(frozen=True)
class CheckReport:
    """What `check` finds, in the order of the styles."""

    schema: Schema
    exit_code: Annotated[int, "the worst of all"]
    styles: tuple[CheckedStyle, ...]


@dataclass(frozen=True)
class BuiltRow:
    """What became of a body, a size or a client."""

    name: str
    state: Literal["made", "unchanged", "not made"]
    holds: bool


@dataclass(frozen=True)
class LeftOut:
    """A piece that is no part of the toile, and why."""

    name: str
    why: str


@dataclass(frozen=True)
class BuildReport:
    """What `build` wrote."""

    schema: Schema
    exit_code: int
    written: Annotated[tuple[str, ...], "paths, in the order of writing; of clients those made now"]
    rows: Annotated[tuple[BuiltRow, ...], "one for each body, size or client"]
    left_out: Annotated[tuple[LeftOut, ...], "of a toile"]
    left: Annotated[tuple[str, ...], "of clients: files of an earlier run that are of none of them"]
    diagnostics: tuple[DiagnosticRecord, ...]


@dataclass(frozen=True)
class FormattedFile:
    """A file that `fmt` looked at."""

    file: str
    changed: Annotated[bool, "it is not in the one layout; with `--check` it is left as it is"]


@dataclass(frozen=True)
class FormatReport:
    """What `fmt` found, file by file."""

    schema: Schema
    exit_code: int
    files: tuple[FormattedFile, ...]
    diagnostics: tuple[DiagnosticRecord, ...]


@dataclass(frozen=True)
class ExplainLine:
    """One line of an explanation: how deep it is nested, a name or "", the sentence as written, its value, its place."""

    depth: int
    name: str
    sentence: str
    value: str
    where: Annotated[str, "file:line"]


@dataclass(frozen=True)
class Explained:
    """Where something comes from on a body."""

    body: str
    lines: tuple[ExplainLine, ...]


@dataclass(frozen=True)
class ExplainReport:
    """What `explain` tells on each body."""

    schema: Schema
    exit_code: int
    name: Annotated[str, "what was asked for"]
    bodies: tuple[Explained, ...]
    diagnostics: tuple[DiagnosticRecord, ...]


@dataclass(frozen=True)
class MeasureNeeded:
    """A measurement, what it is and how it is taken, and where the style asks for it."""

    name: str
    definition: str
    how: str
    places: Annotated[tuple[str, ...], "file:line"]
    note: Annotated[str, "what is to be said of it for this wearer"] = ""
    state: Annotated[str, "what the body gives, or what stands in for it"] = ""


@dataclass(frozen=True)
class MeasuresAsked:
    """What is measured; of a body, where one is given."""

    body: str | None
    measures: tuple[MeasureNeeded, ...]


@dataclass(frozen=True)
class MeasuresReport:
    """What `measures` lists: all measurements, or those that a style needs."""

    schema: Schema
    exit_code: int
    style: Annotated[str, "its title; empty: all measurements"]
    bodies: Annotated[tuple[MeasuresAsked, ...], "one without a body where none is given"]
    diagnostics: tuple[DiagnosticRecord, ...]


@dataclass(frozen=True)
class FoundWord:
    """An entry that is meant: its name, what it is, why it is meant, and a sentence as it would be written."""

    name: str
    kind: str
    why: str
    sentence: Annotated[str, "empty: none"]


@dataclass(frozen=True)
class WordsReport:
    """What `words` finds."""

    schema: Schema
    words: Annotated[tuple[str, ...], "all of the language, where none was asked for"]
    entry: Annotated[str | None, "the entry of the word that was asked for; null: it is no word of the language"]
    found: Annotated[tuple[FoundWord, ...], "entries that are meant, the best first"]
    whole: Annotated[bool, "they answer to all that was asked, not to most of it"]
