"""What each command prints. All work is done by the jobs."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from ..bodies.units import Unit
from ..diagnostics import grading_words
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..door.errors import StyleError
from ..door.style import OnBodies, OnSizes, open_style
from ..jobs.files import Disk
from ..jobs.files import write as write_files
from ..jobs.prepare import prepare
from .telling import ERRORS, FAILS, HOLDS, Telling, say, without_body

if TYPE_CHECKING:
    from ..output.growth_records import GrowthReport
    from ..output.rates_records import RatesReport

R = TypeVar("R", "GrowthReport", "RatesReport")


def _sound(diagnostics: Sequence[Diagnostic], texts: Mapping[str, str]) -> bool:
    """Whether there is no error; what was found is printed."""
    say(diagnostics, texts)
    return not any(one.is_error for one in diagnostics)


def _on_bodies(given: argparse.Namespace) -> OnBodies | None:
    """The style on its bodies; None when there is an error, which has then been printed."""
    style = open_style(given.style, settings=given.set)
    on = style.sizes(given.sizes, only=given.only) if given.sizes else style.on(given.body)
    found, is_sound = [*on.diagnostics, *_sizes_asked(given)], not on.style.has_errors
    if given.command == "grade":
        found += _grade_asked(given)
    if given.command not in ("check", "grade") and is_sound and not (given.body or given.sizes):
        found.append(words.body_wanted(given.command))
    if given.command != "check" and is_sound and not on.style.pieces:
        found.append(words.nothing_cut(Span(given.style, 0, 0)))
    if given.command == "report":  # which tells the warnings itself
        found = found if any(one.is_error for one in found) else []
    return on if _sound(found, on.texts) else None


def _sizes_asked(given: argparse.Namespace) -> list[Diagnostic]:
    """What does not go together of bodies, a chart, and the options for sizes."""
    apart, split = (given.command == "build" and one for one in (vars(given).get("apart"), vars(given).get("split")))
    found = [grading_words.sizes_and_bodies()] if given.sizes and given.body else []
    for option, is_given in (("--only", given.only), ("--apart", apart), ("--split", split)):
        found += [grading_words.only_without_sizes(option)] if is_given and not given.sizes else []
    return found


def _grade_asked(given: argparse.Namespace) -> list[Diagnostic]:
    """What `grade` lacks, or has too much of."""
    if given.rates:
        found = [] if given.sizes or given.body else [words.body_wanted("grade --rates")]
        return [*found, *([grading_words.no_picture_of_rates()] if given.picture else [])]
    return [] if given.sizes else [grading_words.chart_wanted()]


def build(given: argparse.Namespace) -> int:
    from .clients import build_clients, clients_wanted

    if given.clients:
        return build_clients(given)
    wanted = clients_wanted(given)
    on = _on_bodies(given)
    if not _sound(wanted, {}):
        return ERRORS
    if on is None:
        return ERRORS
    telling = Telling(on)
    how = {"paper": given.paper, "levels": not given.no_levels, "toile": given.toile, "each": telling.see}
    try:
        if isinstance(on, OnSizes):
            built = on.build(given.out, apart=given.apart, split=given.split, **how)
        else:
            built = on.build(given.out, **how)
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


def check(given: argparse.Namespace) -> int:
    on = _on_bodies(given)
    if on is None:
        return ERRORS
    if not given.body and not given.sizes:
        return without_body(on.style)
    telling = Telling(on, given.all)
    for result in on:
        telling.see(result)
    telling.finish()
    crossed = on.crossed() if isinstance(on, OnSizes) else ()
    say([*crossed, *on.advice(telling.failing)], on.texts)
    return telling.code


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
    from ..output.growth import as_json

    match form:
        case "csv":
            text = as_csv(report)
        case "json":
            text = as_json(report)
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
    if not _sound(found, prepared.texts):
        return ERRORS
    told, errors = job.explain(prepared, given.name, given.all)
    say(errors, prepared.texts)
    for body, lines in told:
        print("\n".join(job.printed(body, lines, given.all)))
    return ERRORS if errors else HOLDS


def fmt(given: argparse.Namespace) -> int:
    from ..jobs.formatting import formatted

    if given.meaning:
        return _meaning(given.files)
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
    from ..jobs.measures import asked, entries, lines
    from ..jobs.vocabulary import measure_entry

    if given.style is None and not given.body:
        print("\n".join(measure_entry(name) for name in entries(given.wearer)), end="")
        return HOLDS
    if given.style is None:
        say([words.style_wanted()], {})
        return ERRORS
    prepared = prepare(Disk(), given.style, given.body, given.set)
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
    if given.figures is not None:
        return _figures(given.figures, " ".join(given.word))
    if not given.word:
        print("\n".join(sorted(set(job.all_words()))))
        return HOLDS
    return _entry(given.word[0]) if len(given.word) == 1 and job.entry(given.word[0]) else _search(given.word)


def _entry(word: str) -> int:
    """Print the entry of a word, and what the trade calls so beside it."""
    from ..jobs import finding, vocabulary

    print(vocabulary.entry(word), end="")
    others = finding.beside(word)
    if others:
        print("", *finding.printed(finding.Search(others)), sep="\n")
    return HOLDS


def _search(words: Sequence[str]) -> int:
    """Print the entries that a cutter may mean with some words."""
    from ..jobs import finding

    found = finding.search(words)
    if not found.rows:
        near = found.near or "`godet words` lists them"
        print(f"error: no word `{found.unknown}`; {near}", file=sys.stderr)
        return ERRORS
    print("\n".join(finding.printed(found)))
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
