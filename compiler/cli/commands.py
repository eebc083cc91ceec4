"""What each command prints. All work is done by the jobs."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from ..bodies.body import Body
from ..bodies.units import Unit
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..door.errors import StyleError
from ..door.style import OnBodies, OnSizes, open_style
from ..jobs.diagnostic_records import diagnostic_records
from ..jobs.files import Disk
from ..jobs.files import write as write_files
from ..jobs.prepare import prepare
from ..output import command_records as records
from ..output.json_text import json_text
from .asked import on_bodies
from .telling import ERRORS, FAILS, HOLDS, Telling, say

if TYPE_CHECKING:
    from ..output.growth_records import GrowthReport
    from ..output.rates_records import RatesReport

R = TypeVar("R", "GrowthReport", "RatesReport")
Answer = records.ExplainReport | records.FormatReport | records.MeasuresReport


def _wrong(diagnostics: Iterable[Diagnostic]) -> bool:
    return any(one.is_error for one in diagnostics)


def _print_record(report: Answer) -> int:
    """Print an answer as JSON; its exit code."""
    print(json_text(report), end="")
    return report.exit_code


def _on_bodies(given: argparse.Namespace) -> OnBodies | None:
    """The style on its bodies; None when there is an error, which has then been printed."""
    on, found = on_bodies(open_style(given.style, settings=given.set), given)
    if given.command == "report":  # which tells the warnings itself
        found = found if any(one.is_error for one in found) else []
    say(found, on.texts)
    return None if _wrong(found) else on


def build(given: argparse.Namespace) -> int:
    from .building import build as built

    return built(given)


def check(given: argparse.Namespace) -> int:
    from .checking import check as checked

    return checked(given)


def report(given: argparse.Namespace) -> int:
    on = _on_bodies(given)
    if on is None:
        return ERRORS
    telling = Telling(on)
    on.write_report(sys.stdout, form=given.format, each=telling.note)
    say(on.advice(telling.failing), on.texts)
    return telling.code


def grade(given: argparse.Namespace) -> int:
    from ..output.growth import growth_csv, growth_text

    on = _on_bodies(given)
    if on is not None and given.rates:
        return _rates(given, on)
    if not isinstance(on, OnSizes):
        return ERRORS
    try:
        report = on.growth()
        picture = on.growth_picture() if given.picture else ""
    except StyleError as error:
        say(error.diagnostics, on.texts)
        return ERRORS
    problem = write_files(Disk(), [(given.picture, picture.encode("utf-8"))]) if given.picture else None
    if problem is not None:
        say([problem], {})
        return ERRORS
    return _printed(given.format, report, on, growth_csv, growth_text)


def prove(given: argparse.Namespace) -> int:
    from .proving import prove as proved

    return proved(given)


def _rates(given: argparse.Namespace, on: OnBodies) -> int:
    from ..output.rates import rates_csv, rates_text

    try:
        report = on.rates()
    except StyleError as error:
        say(error.diagnostics, on.texts)
        return ERRORS
    return _printed(given.format, report, on, rates_csv, rates_text)


def _printed(
    form: str, report: R, on: OnBodies, as_csv: Callable[[R], str], as_text: Callable[[R, Callable[[float], str], str], str]
) -> int:
    """Print a report on growth in the form that is asked for."""
    match form:
        case "csv":
            text = as_csv(report)
        case "json":
            text = json_text(report)
        case _:
            text = as_text(report, *_said_in(on))
    print(text, end="")
    return HOLDS


def _said_in(on: OnBodies) -> tuple[Callable[[float], str], str]:
    """How lengths are written in tables, and in what: in inches where all is measured so."""
    from ..jobs.growth import called_unit, grown

    unit: Unit = "in" if all(body.unit == "in" for body in on.bodies) else "mm"
    return partial(grown, unit=unit), called_unit(unit)


def diff(given: argparse.Namespace) -> int:
    from .differing import diff as told

    return told(given)


def explain(given: argparse.Namespace) -> int:
    from ..jobs import explain as job

    prepared = prepare(Disk(), given.style, given.body, given.set)
    found = list(prepared.diagnostics)
    if not given.body and prepared.style is not None:
        found.append(words.body_wanted(given.command))
    told, errors = ((), ()) if _wrong(found) else job.explain(prepared, given.name, given.all)
    code = ERRORS if _wrong(found) or errors else HOLDS
    if given.format == "json":
        bodies = tuple(records.Explained(body, lines) for body, lines in told)
        told_records = diagnostic_records([*found, *errors], prepared.texts)
        return _print_record(records.ExplainReport(records.COMMANDS_SCHEMA, code, given.name, bodies, told_records))
    say([*found, *errors], prepared.texts)
    for body, lines in told:
        print("\n".join(job.printed(body, lines, given.all)))
    return code


def fmt(given: argparse.Namespace) -> int:
    from ..jobs.formatting import formatted

    if given.meaning:
        return _meaning(given.files)
    done = [formatted(Disk(), path) for path in given.files]
    changed = {one.path: one.after.encode("utf-8") for one in done if one.changed and one.after is not None}
    wrong = _wrong(problem for one in done for problem in one.diagnostics)
    problem = None if wrong or given.check else write_files(Disk(), changed.items())
    code = ERRORS if wrong or problem else FAILS if given.check and changed else HOLDS
    found: list[tuple[Sequence[Diagnostic], dict[str, str]]] = [(one.diagnostics, {one.path: one.before or ""}) for one in done]
    found += [([problem], {})] if problem else []
    if given.format == "json":
        files = tuple(records.FormattedFile(one.path, one.changed) for one in done)
        told = tuple(row for each, texts in found for row in diagnostic_records(each, texts))
        return _print_record(records.FormatReport(records.COMMANDS_SCHEMA, code, files, told))
    for each, texts in found:
        say(each, texts)
    for path in changed if given.check or code == HOLDS else ():
        print(f"{'would change' if given.check else 'changed'} {path}")
    return code


def _meaning(paths: Sequence[str]) -> int:
    """Print the sentences of files, whatever their layout; a file with errors as it is, so that git still shows what changed."""
    from ..jobs.formatting import meant

    code = HOLDS
    for path in paths:
        text, problems = meant(Disk(), path)
        say(problems, {path: text})
        code = max(code, ERRORS if not text and problems else HOLDS)
        print(text, end="")
    return code


def new(given: argparse.Namespace) -> int:
    from ..jobs.beginning import begin

    path, problem = begin(Disk(), given.name, given.of)
    if problem is not None:
        say([problem], {})
        return ERRORS
    print(f"wrote {path}")
    print(f"next: godet measures {path}           what to measure for it")
    print(f"      godet check {path} --body FILE  whether it draws, sews and fits")
    return HOLDS


def measures(given: argparse.Namespace) -> int:
    from ..jobs.measures import all_measures, asked, lines
    from ..jobs.vocabulary import measure_entry

    is_json = given.format == "json"
    if given.style is None and not given.body:
        if is_json:
            return _print_measures(HOLDS, "", [(None, all_measures(given.wearer))], ())
        print("\n".join(measure_entry(one.name) for one in all_measures(given.wearer)), end="")
        return HOLDS
    prepared = None if given.style is None else prepare(Disk(), given.style, given.body, given.set)
    found, texts = ([words.style_wanted()], {}) if prepared is None else (list(prepared.diagnostics), prepared.texts)
    others = [one for one in prepared.bodies if given.wearer not in (None, one.wearer)] if prepared else []
    found += [words.other_wearer(given.wearer, one.name, one.wearer) for one in others]
    style = None if prepared is None or _wrong(found) else prepared.style
    people = prepared.bodies if prepared is not None else ()
    rows = [] if style is None else [(body, asked(style, given.wearer, body)) for body in people or (None,)]
    code = ERRORS if style is None else HOLDS
    if is_json:
        return _print_measures(code, style.title if style else "", rows, diagnostic_records(found, texts))
    say(found, texts)
    for body, needed in rows:
        if body is not None:
            print(f"{body.name}\n{'=' * len(body.name)}")
        for one in needed:
            print("\n".join(lines(one)))
    return code


def _print_measures(
    code: int,
    title: str,
    rows: Iterable[tuple[Body | None, tuple[records.MeasureNeeded, ...]]],
    told: tuple[records.DiagnosticRecord, ...],
) -> int:
    bodies = tuple(records.MeasuresAsked(None if body is None else body.name, needed) for body, needed in rows)
    return _print_record(records.MeasuresReport(records.COMMANDS_SCHEMA, code, title, bodies, told))


def words_(given: argparse.Namespace) -> int:
    from .words import words

    return words(given)


def completion(given: argparse.Namespace) -> int:
    from .completing import completion as completed

    return completed(given)
