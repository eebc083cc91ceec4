"""What each command prints. All work is done by the jobs."""

from __future__ import annotations

import argparse
import sys

from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Span
from ..jobs.bounds import advice
from ..jobs.files import Disk
from ..jobs.files import write as write_files
from ..jobs.outcome import results_of
from ..jobs.prepare import Prepared, prepare
from .telling import ERRORS, FAILS, HOLDS, Telling, say


def _ready(given: argparse.Namespace, needs_body: bool) -> Prepared | None:
    """The style and its bodies; None when there is an error, which has then been printed."""
    prepared = prepare(Disk(), given.style, given.body, given.set)
    found = list(prepared.diagnostics)
    if needs_body and not given.body and prepared.style is not None:
        found.append(words.body_wanted(given.command))
    if given.command in ("build", "report") and prepared.style is not None and not prepared.style.pieces:
        found.append(words.nothing_cut(Span(given.style, 0, 0)))
    say(found, prepared.texts)
    return None if any(one.is_error for one in found) else prepared


def build(given: argparse.Namespace) -> int:
    from ..jobs import build as job

    prepared = _ready(given, needs_body=True)
    if prepared is None:
        return ERRORS
    telling = Telling(prepared)
    built = job.build(Disk(), prepared, given.out, job.Wanted(given.paper, not given.no_levels, given.toile), telling.see)
    telling.finish()
    say(advice(Disk(), prepared, telling.failing, given.style, given.body, given.set), prepared.texts)
    if built.problem is not None:
        say([built.problem], prepared.texts)
        return ERRORS
    for one in built.left_out:
        print(f"left out of the toile: {one.name}, {one.why}")
    for path in built.written:
        print(f"wrote {path}")
    if built.written:
        print("Check the test square of the print before cutting.")
    return telling.code


def check(given: argparse.Namespace) -> int:
    prepared = _ready(given, needs_body=False)
    if prepared is None:
        return ERRORS
    if not given.body:
        print(f"{given.style}: no errors; add --body to prove it on a body")
        return HOLDS
    telling = Telling(prepared)
    for result in results_of(prepared):
        telling.see(result)
    telling.finish()
    say(advice(Disk(), prepared, telling.failing, given.style, given.body, given.set), prepared.texts)
    return telling.code


def report(given: argparse.Namespace) -> int:
    from ..jobs import report as job

    prepared = _ready(given, needs_body=True)
    if prepared is None:
        return ERRORS
    made = job.report(prepared)
    print(job.as_json(made) if given.format == "json" else job.as_text(made), end="")
    if any(body["errors"] for body in made["bodies"]):
        return ERRORS
    kinds = ("checks", "seams", "closures", "fit")
    rows = [row for body in made["bodies"] for kind in kinds for row in body[kind]]
    return HOLDS if all(row["holds"] for row in rows) else FAILS


def explain(given: argparse.Namespace) -> int:
    from ..jobs import explain as job

    prepared = _ready(given, needs_body=True)
    if prepared is None:
        return ERRORS
    told, errors = job.explain(prepared, given.name, given.all)
    say(errors, prepared.texts)
    for body, lines in told:
        print("\n".join(job.printed(body, lines, given.all)))
    return ERRORS if errors else HOLDS


def fmt(given: argparse.Namespace) -> int:
    from ..jobs.formatting import formatted

    done = [formatted(Disk(), path) for path in given.files]
    for one in done:
        say(one.diagnostics, {one.path: one.before or ""})
    if any(problem.is_error for one in done for problem in one.diagnostics):
        return ERRORS
    changed = {one.path: one.after.encode("utf-8") for one in done if one.changed and one.after is not None}
    if given.check:
        for path in changed:
            print(f"would change {path}")
        return FAILS if changed else HOLDS
    problem = write_files(Disk(), changed.items())
    if problem is not None:
        say([problem], {})
        return ERRORS
    for path in changed:
        print(f"changed {path}")
    return HOLDS


def measures(given: argparse.Namespace) -> int:
    from ..jobs.measures import asked, entries, lines
    from ..jobs.vocabulary import measure_entry

    if given.style is None and not given.body:
        print("\n".join(measure_entry(name) for name in entries(given.wearer)), end="")
        return HOLDS
    if given.style is None:
        say([words.style_wanted()], {})
        return ERRORS
    prepared = prepare(Disk(), given.style, given.body)
    others = [one for one in prepared.bodies if given.wearer not in (None, one.wearer)]
    refused = [words.other_wearer(given.wearer, one.name, one.wearer) for one in others]
    say([*prepared.diagnostics, *refused], prepared.texts)
    if prepared.style is None or prepared.broken or refused:
        return ERRORS
    for body in prepared.bodies or [None]:
        if body is not None:
            print(f"{body.name}\n{'=' * len(body.name)}")
        for one in asked(prepared.style, given.wearer, body):
            print("\n".join(lines(one)))
    return HOLDS


def words_(given: argparse.Namespace) -> int:
    from ..jobs import vocabulary as job

    if given.all:
        print(job.reference(), end="")
        return HOLDS
    if given.word is None and given.figures is not None:
        return _figures(given.figures)
    if given.word is None:
        print("\n".join(sorted(set(job.all_words()))))
        return HOLDS
    entry, near = job.entry(given.word)
    if entry is None:
        print(
            f"error: no word `{given.word}`" + (f"; {near}" if near else "; `godet words` lists them"), file=sys.stderr
        )
        return ERRORS
    if given.figures is not None:
        return _figures(given.figures, given.word)
    print(entry, end="")
    return HOLDS


def _figures(folder: str, word: str = "") -> int:
    """Write the figure of a word, or all figures of the reference, into a folder."""
    from ..jobs.figures import figure_files

    contents = figure_files(folder, word)
    if not contents:
        print(f"error: `{word}` has no figure", file=sys.stderr)
        return ERRORS
    problem = write_files(Disk(), contents.items())
    if problem is not None:
        say([problem], {})
        return ERRORS
    for path in contents:
        print(f"wrote {path}")
    return HOLDS
