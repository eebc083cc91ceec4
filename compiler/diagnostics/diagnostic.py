"""The value of an error: what is wrong, where, for whom, and the fix. It knows no other room."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from types import MappingProxyType


class Severity(Enum):
    ERROR = "error"
    WARNING = "warning"


class Lack(Enum):
    """What an error says is not there: nothing, a name of the style (a definition, a recipe, a sentence of the base), or a part
    that a piece should have. It may come of a sentence that cannot be read, and is then not told."""

    NOTHING = ""
    NAME = "name"
    PART = "part"


@dataclass(frozen=True, slots=True)
class Span:
    """Part of a file: offsets in characters of its text, end not included."""

    file: str
    start: int
    end: int

    def to(self, other: Span) -> Span:
        """From the start of this span to the end of the other."""
        return Span(self.file, min(self.start, other.start), max(self.end, other.end))


@dataclass(frozen=True, slots=True)
class Label:
    """A second place that belongs to the error, with a few words; `blamed`: what is written wrong there made the error."""

    span: Span
    text: str
    blamed: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way to the error: the sentence that used a recipe; or, `inside`, that of a recipe which fails."""

    span: Span
    text: str
    inside: bool = False


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One error or warning.

    `data` holds what the words were made from; `note` follows the underline; `fix` says what to do.
    `body` is the name of the person for whom it holds, or None when it holds for all. `unread` where what stands there could not
    be read, so that nothing else is to be told of it.
    """

    code: str
    message: str
    span: Span | None = None
    note: str = ""
    fix: str = ""
    severity: Severity = Severity.ERROR
    labels: tuple[Label, ...] = ()
    trace: tuple[Step, ...] = ()
    body: str | None = None
    data: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))
    lack: Lack = Lack.NOTHING
    unread: bool = False

    @property
    def is_error(self) -> bool:
        return self.severity is Severity.ERROR

    def spans(self) -> tuple[Span, ...]:
        """Every place the diagnostic points to: its own, its labels, and the way there."""
        own = (self.span,) if self.span is not None else ()
        return (*own, *(label.span for label in self.labels), *(step.span for step in self.trace))

    def within(self, *steps: Step) -> Diagnostic:
        """The same diagnostic, reached through the given uses of recipes."""
        return replace(self, trace=self.trace + steps)

    def on(self, body: str) -> Diagnostic:
        """The same diagnostic, of one body."""
        return replace(self, body=body)
