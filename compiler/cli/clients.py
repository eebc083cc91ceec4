"""`godet build --clients`: a style for each client of a table."""

from __future__ import annotations

import argparse
import sys

from ..diagnostics import client_words as words
from ..diagnostics import engine_words, running_words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.grouping import grouped
from ..door.errors import StyleError
from ..door.style import open_style
from ..output.clients import clients_text
from .progress import progress
from .telling import ERRORS, FAILS, HOLDS, say

NAMED = 6
"""So many files are named that are of nobody any more; of more the number is told."""


def build_clients(given: argparse.Namespace) -> int:
    """Build the pattern of each client, and print what it came to; the exit code."""
    style = open_style(given.style, settings=given.set)
    on = style.clients(given.clients, columns=given.columns or None, label=given.label)
    found = [*on.diagnostics, *_asked(given)]
    if not style.has_errors and not style.pieces:
        found.append(running_words.nothing_cut(Span(given.style, 0, 0)))
    say(found, on.texts)
    if any(one.is_error for one in found):
        return ERRORS
    try:
        with progress("clients") as each:
            how = {"paper": given.paper, "levels": not given.no_levels, "toile": given.toile}
            built = on.build(given.out, jobs=given.jobs, engine=given.engine, each=each, **how)
    except KeyboardInterrupt:
        print("interrupted: what was made stays, and the same command goes on from there", file=sys.stderr)
        raise
    except StyleError as error:
        say(error.diagnostics, error.texts)
        return ERRORS
    assembly = style.assembly
    print(clients_text(built.rows), end="")
    if assembly is not None and not assembly.judged:
        print(assembly.told)
    say(grouped([*(assembly.diagnostics if assembly else ()), *built.told]), on.texts)
    if built.left:
        more = f" and {len(built.left) - NAMED} more" if len(built.left) > NAMED else ""
        print(f"left as they are, of nobody above: {', '.join(built.left[:NAMED])}{more}")
    if built.not_made:
        print(f"wrote {built.not_made}: the rows that were not made, each with why; mend them in the table, or in a copy of this")
    if built.written:
        print(f"wrote {built.written} files into {given.out}")
        print("Check the test square of the print before cutting.")
    if any(one.is_error for one in built.told):
        return ERRORS
    return HOLDS if all(row.holds for row in built.rows) else FAILS


def _asked(given: argparse.Namespace) -> list[Diagnostic]:
    """What does not go together of clients and other options."""
    others = (("--body", given.body), ("--sizes", given.sizes), ("--only", given.only))
    more = (("--apart", given.apart), ("--split", given.split))
    found = [words.taken_together(option) for option, is_given in (*others, *more) if is_given]
    return [*found, engine_words.not_with_jobs()] if given.engine and given.jobs else found


def clients_wanted(given: argparse.Namespace) -> list[Diagnostic]:
    """Options that are of clients alone, where there are none."""
    of_rows = (("--columns", given.columns), ("--label", given.label != "name"))
    shared = (("--jobs", given.jobs), ("--engine", given.engine))
    return [words.without_clients(option) for option, is_given in (*of_rows, *shared) if is_given]
