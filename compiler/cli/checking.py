"""`godet check`: one style or several, once or whenever a file changes."""

from __future__ import annotations

import argparse
from collections.abc import Iterable

from ..diagnostics.diagnostic import Diagnostic
from ..door.result import Result
from ..door.style import OnBodies, OnSizes, Style, open_style
from ..jobs.diagnostic_records import diagnostic_records
from ..output.command_records import COMMANDS_SCHEMA, CheckedBody, CheckedStyle, CheckReport
from ..output.json_text import json_text
from .asked import on_bodies
from .telling import ERRORS, FAILS, HOLDS, Telling, say, without_body


def check(given: argparse.Namespace) -> int:
    if given.watch:
        from .watching import watch

        return watch(given)
    return check_styles([open_style(path, settings=given.set) for path in given.styles], given)


def check_styles(styles: Iterable[Style], given: argparse.Namespace) -> int:
    """Print what is found of styles; the worst of their exit codes."""
    if given.format == "json":
        found = [_record(style, given) for style in styles]
        worst = max(one.exit_code for one in found)
        print(json_text(CheckReport(COMMANDS_SCHEMA, worst, tuple(found))), end="")
        return worst
    return max(_told(style, given) for style in styles)


def _told(style: Style, given: argparse.Namespace) -> int:
    """Print what is found of a style; its exit code."""
    on, found = on_bodies(style, given)
    say(found, on.texts)
    if any(one.is_error for one in found):
        return ERRORS
    if not given.body and not given.sizes:
        return without_body(style)
    if len(given.styles) > 1:
        print(f"{style.path}:")
    telling = Telling(on, given.all)
    for result in on:
        telling.see(result)
    telling.finish()
    say(_behind(on, telling.failing), on.texts)
    return telling.code


def _behind(on: OnBodies, failing: dict[str, bool]) -> list[Diagnostic]:
    """What is told of all bodies or sizes together."""
    crossed = on.crossed() if isinstance(on, OnSizes) else ()
    return [*crossed, *on.advice(failing)]


def _record(style: Style, given: argparse.Namespace) -> CheckedStyle:
    """What is found of a style, as values."""
    on, found = on_bodies(style, given)
    bodies: list[CheckedBody] = []
    assembly = style.assembly
    wrong = any(one.is_error for one in found)
    if not wrong and assembly is not None:
        found += assembly.diagnostics
    code = ERRORS if wrong else FAILS if assembly is not None and not assembly.holds else HOLDS
    if not wrong and (given.body or given.sizes):
        telling = Telling(on)
        for result in on:
            telling.note(result)
            found += [*result.errors, *result.assembly.wrong, *result.warnings]
            bodies.append(_body(result))
        found += _behind(on, telling.failing)
        code = telling.code
    judged = None if assembly is None else assembly.judged
    told = diagnostic_records(found, on.texts)
    return CheckedStyle(style.path, style.title, style.fingerprint, code, judged, tuple(bodies), told)


def _body(result: Result) -> CheckedBody:
    whole = result.report()
    return CheckedBody(
        name=whole.name,
        drawn=not result.errors,
        holds=result.holds,
        checks=whole.checks,
        seams=whole.seams,
        assembly=whole.assembly,
        fit=whole.fit,
        closures=whole.closures,
        tidings=whole.tidings,
        estimated_how=whole.estimated_how,
    )
