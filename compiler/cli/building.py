"""`godet build`: the pattern of each body or size, told as it is written or as JSON at the end."""

from __future__ import annotations

import argparse
from collections.abc import Callable

from ..diagnostics.diagnostic import Diagnostic
from ..door.errors import StyleError
from ..door.result import Result
from ..door.style import OnBodies, OnSizes, open_style
from ..jobs.build import Built
from ..jobs.diagnostic_records import diagnostic_records
from ..output.command_records import COMMANDS_SCHEMA, BuildReport, BuiltRow
from ..output.json_text import json_text
from .asked import on_bodies
from .clients import build_clients, clients_wanted
from .telling import ERRORS, Telling, say


def build(given: argparse.Namespace) -> int:
    if given.clients:
        return build_clients(given)
    on, found = on_bodies(open_style(given.style, settings=given.set), given)
    found += clients_wanted(given)
    is_sound = not any(one.is_error for one in found)
    if given.format == "json":
        return _as_json(on, found, given, is_sound)
    say(found, on.texts)
    return _told(on, given) if is_sound else ERRORS


def _built(on: OnBodies, given: argparse.Namespace, each: Callable[[Result], None]) -> Built:
    how = {"paper": given.paper, "levels": not given.no_levels, "toile": given.toile, "each": each}
    if isinstance(on, OnSizes):
        return on.build(given.out, apart=given.apart, split=given.split, **how)
    return on.build(given.out, **how)


def _told(on: OnBodies, given: argparse.Namespace) -> int:
    telling = Telling(on)
    try:
        built = _built(on, given, telling.see)
    except StyleError as error:
        telling.finish()
        say([*on.advice(telling.failing), *error.diagnostics], on.texts)
        return ERRORS
    telling.finish()
    say([*built.doubts, *on.advice(telling.failing)], on.texts)
    for one in built.left_out:
        print(f"left out of the toile: {one.name}, {one.why}")
    for path in built.written:
        print(f"wrote {path}")
    if built.written:
        print("Check the test square of the print before cutting.")
    return telling.code


def _as_json(on: OnBodies, found: list[Diagnostic], given: argparse.Namespace, is_sound: bool) -> int:
    """The same; what is told of the files stands in one record."""
    telling, rows, built, code = Telling(on), list[BuiltRow](), Built(()), ERRORS

    def see(result: Result) -> None:
        telling.note(result)
        found.extend([*result.errors, *result.assembly.wrong, *result.warnings])
        rows.append(BuiltRow(result.name, "not made" if result.errors else "made", result.holds))

    if is_sound:
        try:
            built = _built(on, given, see)
            code = telling.code
        except StyleError as error:
            found += error.diagnostics
            rows = [BuiltRow(one.name, "not made", one.holds) for one in rows]
        assembly = on.style.assembly
        found += [*(assembly.diagnostics if assembly else ()), *built.doubts, *on.advice(telling.failing)]
    told = diagnostic_records(found, on.texts)
    print(json_text(BuildReport(COMMANDS_SCHEMA, code, built.written, tuple(rows), built.left_out, (), told)), end="")
    return code
