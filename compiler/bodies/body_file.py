"""Reading a body file: TOML with `name`, `unit`, optional `sex`, and `[measures]`. Every error has its place."""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import Any

from ..diagnostics import body_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from .body import Body
from .slips import slips
from .units import MM_PER, Unit, inches_meant, parse_inches, plain, shown
from .vocabulary import Kind, Sex, canonical, meanings, suggestions, vocabulary

# Beyond these no body exists, at any age; a value there is an error and not a question. mm, degrees, kg, years.
LIMITS: Mapping[Kind, tuple[float, float]] = MappingProxyType(
    {"length": (10.0, 3000.0), "angle": (0.0, 60.0), "mass": (1.0, 650.0), "years": (0.0, 125.0)}
)
# So many impossible lengths at once are one mistake: the unit.
_UNIT_SUSPECT = 3


_VALUE = r"""(?:"[^"\n]*"|'[^'\n]*'|[^,\n}\]]*[^,\s}\]])"""
_ENTRY = re.compile(rf"""(?m)^[ \t]*(["']?([A-Za-z0-9_-]+)["']?[ \t]*=[ \t]*{_VALUE})""")
_IN_ONE_LINE = re.compile(r"(?m)\{|^[^=\n]*\.[^=\n]*=|=[^\n]*=")  # several entries in one line, or a dotted one


GREATEST = 1e6  # a number written in any unit; beyond it none is read, nor printed in all its digits


def read_body(text: str, file: str) -> tuple[Body | None, tuple[Diagnostic, ...]]:
    """The body of a file's text, or None with the errors. `file` is the name for messages; lengths come out in mm."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return None, (_unreadable(text, file, str(error)),)
    except (ValueError, RecursionError):  # a number of thousands of digits, or brackets as deep
        return None, (_unreadable(text, file, "a number or a list in it is too long to be read"),)
    reader = _Reader(text, file, data)
    body = reader.read()
    problems = tuple(sorted(reader.problems, key=lambda each: each.span.start if each.span else 0))
    return (None if problems else body), problems


def _unreadable(text: str, file: str, message: str) -> Diagnostic:
    match = re.search(r"\s*\(at line (\d+), column (\d+)\)$", message)
    if match is None:
        reason = re.sub(r"\s*\(at end of document\)$", ", at the end of the file", message)
        return words.unreadable(Span(file, max(0, len(text) - 1), len(text)), reason, "")
    line, column = int(match.group(1)), int(match.group(2))
    lines = text.split("\n")
    start = sum(len(each) + 1 for each in lines[: line - 1])
    written = lines[line - 1]
    at = min(start + column - 1, start + max(len(written) - 1, 0))
    return words.unreadable(Span(file, at, at + 1), message[: match.start()], _mend(written, message))


def _mend(line: str, message: str) -> str:
    """The fix for the commonest lines that are no TOML: given twice, a decimal comma, inches without quotes."""
    key, _, value = line.partition("=")
    bare = value.split("#")[0].strip()
    if "overwrite" in message:
        return f"`{key.strip()}` was given before: keep one of the two lines"
    if re.fullmatch(r"\d+,\d+", bare):
        return f"a decimal takes a point: `{key.strip()} = {bare.replace(',', '.')}`"
    if re.match(r"\d", bare) and ("/" in bare or bare.endswith('"')):
        return f'inches and fractions stand in quotes: `{key.strip()} = "{inches_meant(bare) or "36 1/2"}"`'
    if bare.count('"') == 1:
        return "a quote is not closed"
    return ""


def _without_comments(text: str) -> str:
    """The text with every comment blanked, so that places stay the same."""
    return re.sub(r"""("[^"\n]*"|'[^'\n]*')|#[^\n]*""", lambda each: each.group(1) or " " * len(each.group()), text)


@dataclass
class _Reader:
    text: str
    file: str
    data: Mapping[str, Any]
    bare: str = ""
    problems: list[Diagnostic] = field(default_factory=list)
    measures: dict[str, float] = field(default_factory=dict)
    spans: dict[str, Span] = field(default_factory=dict)
    shorts: dict[str, str] = field(default_factory=dict)
    impossible: list[tuple[str, Span, float]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.bare = _without_comments(self.text)

    def read(self) -> Body | None:
        name = self._name()
        unit = self._unit()
        sex = self._sex()
        self._other_entries()
        table = self.data.get("measures")
        if not isinstance(table, dict) or not table:
            self.problems.append(words.no_measures(self._place("measures")))
            return None
        for word, raw in table.items():
            self._measure(word, raw, unit)
        if unit is None:
            return None
        self._report_impossible(unit)
        lines = {key: self.text.count("\n", 0, span.start) + 1 for key, span in self.spans.items()}
        frozen = MappingProxyType
        return Body(
            name,
            unit,
            sex,
            frozen(self.measures),
            self.file,
            frozen(self.spans),
            frozen(lines),
            frozen(self.shorts),
        )

    @cached_property
    def _lines(self) -> Mapping[str, Span]:
        """The places of all entries, where each stands in a line of its own: found at once, since a table of a million bodies
        asks for fifty of each."""
        if _IN_ONE_LINE.search(self.bare):
            return {}
        found: dict[str, Span] = {}
        for match in _ENTRY.finditer(self.bare):
            found.setdefault(match.group(2), Span(self.file, *match.span(1)))
        return found

    def _place(self, key: str) -> Span:
        """The key and its value in the text, or a table's heading; the start of the file where neither is found."""
        if key in self._lines:
            return self._lines[key]
        word = re.escape(key)
        entry = rf"""(?m)(?:^|[{{,.])[ \t]*(["']?{word}["']?[ \t]*=[ \t]*{_VALUE})"""
        match = re.search(entry, self.bare) or re.search(rf"(?m)^[ \t]*(\[{word}\])", self.bare)
        return Span(self.file, *match.span(1)) if match else Span(self.file, 0, min(1, len(self.text)))

    def _entry(self, key: str, example: str) -> Any:
        if key not in self.data:
            self.problems.append(words.entry_missing(Span(self.file, 0, min(1, len(self.text))), key, example))
            return None
        self.spans[key] = self._place(key)
        return self.data[key]

    def _name(self) -> str:
        name = self._entry("name", 'name = "alto 3"')
        if isinstance(name, str) and name.strip():
            if not name.isprintable():
                self.problems.append(words.unprintable_name(self.spans["name"]))
            return name
        if name is not None:
            self.problems.append(words.entry_missing(self.spans["name"], "name", 'name = "alto 3"'))
        return ""

    def _unit(self) -> Unit | None:
        unit = self._entry("unit", 'unit = "cm"')
        for known in MM_PER:
            if unit == known:
                return known
        if unit is not None:
            self.problems.append(words.unknown_unit(self.spans["unit"], str(unit)))
        return None

    def _sex(self) -> Sex | None:
        if "sex" not in self.data:
            return None
        self.spans["sex"] = self._place("sex")
        given = self.data["sex"]
        if given == "F" or given == "M":
            return "F" if given == "F" else "M"
        self.problems.append(words.unknown_sex(self.spans["sex"], _typed(given)))
        return None

    def _other_entries(self) -> None:
        for key in self.data:
            if key not in ("name", "unit", "sex", "measures"):
                known = canonical(key) is not None or bool(meanings(key))
                self.problems.append(words.unknown_entry(self._place(key), key, known))

    def _measure(self, word: str, raw: object, unit: Unit | None) -> None:
        span = self._place(word)
        name = canonical(word)
        if name is None:
            if unclear := meanings(word):
                self.problems.append(words.unclear_measure(span, word, unclear))
            else:
                self.problems.append(words.unknown_measure(span, word, suggestions(word)))
            return
        if name in self.spans:
            other = self.shorts.get(name, name)
            self.problems.append(words.given_twice(span, word, self.spans[name], other))
            return
        self.spans[name] = span
        if word != name:
            self.shorts[name] = word
        kind = vocabulary()[name].kind
        number = self._number(word, raw, span, kind, unit)
        if number is not None:
            self._keep(name, number * (MM_PER[unit] if kind == "length" and unit else 1.0), kind, span)

    def _number(self, word: str, raw: object, span: Span, kind: Kind, unit: Unit | None) -> float | None:
        """The number as written, in the unit of the file; None with an error, or where the unit is not known."""
        if isinstance(raw, str):
            return self._text_number(word, raw, span, kind, unit)
        if isinstance(raw, bool) or not isinstance(raw, int | float):
            self.problems.append(words.not_a_number(span, word, _typed(raw)))
            return None
        if not raw > 0 or raw == math.inf:
            self.problems.append(words.not_positive(span, word, str(raw)))
            return None
        if raw > GREATEST:
            self.problems.append(words.impossible(span, word, "more than a million", ""))
            return None
        return None if kind == "length" and unit is None else float(raw)

    def _text_number(self, word: str, raw: str, span: Span, kind: Kind, unit: Unit | None) -> float | None:
        if unit is None:
            return None
        if kind != "length" or unit != "in":
            needed = {"length": unit, "angle": "degrees", "mass": "kg", "years": "years"}[kind]
            self.problems.append(words.text_for_number(span, word, raw, needed))
            return None
        inches = parse_inches(raw)
        if inches is None:
            self.problems.append(words.not_inches(span, word, raw, inches_meant(raw)))
        elif inches == 0:
            self.problems.append(words.not_positive(span, word, f'"{raw}"'))
        else:
            return inches
        return None

    def _keep(self, name: str, value: float, kind: Kind, span: Span) -> None:
        low, high = LIMITS[kind]
        if low <= value <= high:
            self.measures[name] = value
        else:
            self.impossible.append((name, span, value))

    def _report_impossible(self, unit: Unit) -> None:
        lengths = [value for name, _, value in self.impossible if vocabulary()[name].kind == "length"]
        if len(lengths) >= _UNIT_SUSPECT and 2 * len(lengths) > len(self.measures):
            fits = _fitting_unit(unit, {name: value for name, _, value in self.impossible} | self.measures)
            self.problems.append(words.impossible_unit(self.spans["unit"], unit, len(lengths), fits))
            return
        for name, span, value in self.impossible:
            kind = vocabulary()[name].kind
            self.problems.append(words.impossible(span, name, shown(value, kind, unit), _would_fit(name, value, unit)))


def _would_fit(name: str, value: float, unit: Unit) -> str:
    measure = vocabulary()[name]
    ends = [ends for sex in ("F", "M") if (ends := measure.plausible("F" if sex == "F" else "M"))]
    if measure.kind != "length" or not ends:
        return ""
    for slip in slips(value, unit, measure.is_girth):
        if any(low <= slip.value <= high for low, high in ends):
            return f"{shown(slip.value, measure.kind, unit)} would fit: {slip.words}"
    return ""


def _fitting_unit(unit: Unit, values: Mapping[str, float]) -> str:
    """The unit in which most of the numbers are those of a body, or nothing where none does."""
    best, fitting = "", len(values) / 2
    for other, size in MM_PER.items():
        count = 0
        for name, value in values.items():
            ends = vocabulary()[name].plausible("F") if vocabulary()[name].kind == "length" else None
            count += ends is not None and ends[0] <= value / MM_PER[unit] * size <= ends[1]
        if other != unit and count > fitting:
            best, fitting = other, count
    return best


def _typed(raw: object) -> str:
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, str):
        return f'"{raw}"'
    if isinstance(raw, int | float):
        return plain(float(raw), 3)
    return "a list" if isinstance(raw, list) else "a table" if isinstance(raw, dict) else str(raw)
