"""What each command prints. All work is done by the jobs."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence

from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.printing import print_all
from ..jobs.bounds import advice
from ..jobs.files import Disk
from ..jobs.files import write as write_files
from ..jobs.fit import FitResult, in_unit
from ..jobs.laying import doubts
from ..jobs.outcome import BodyResult, CheckResult, results_of
from ..jobs.prepare import Prepared, prepare
from ..jobs.specification import ClosureRow

HOLDS, FAILS, ERRORS = 0, 1, 2


def _say(diagnostics: Iterable[Diagnostic], texts: Mapping[str, str]) -> None:
    printed = print_all(diagnostics, texts)
    if printed:
        print(printed, end="\n\n", file=sys.stderr)


def _ready(given: argparse.Namespace, needs_body: bool) -> Prepared | None:
    """The style and its bodies; None when there is an error, which has then been printed."""
    prepared = prepare(Disk(), given.style, given.body, given.set)
    found = list(prepared.diagnostics)
    if needs_body and not given.body and prepared.style is not None:
        found.append(words.body_wanted(given.command))
    if given.command in ("build", "report") and prepared.style is not None and not prepared.style.pieces:
        found.append(words.nothing_cut(Span(given.style, 0, 0)))
    _say(found, prepared.texts)
    return None if any(one.is_error for one in found) else prepared


def _code(results: Sequence[BodyResult]) -> int:
    if any(result.errors for result in results):
        return ERRORS
    return HOLDS if all(result.holds for result in results) else FAILS


def build(given: argparse.Namespace) -> int:
    from ..jobs import build as job

    prepared = _ready(given, needs_body=True)
    if prepared is None:
        return ERRORS
    built = job.build(Disk(), prepared, given.out, job.Wanted(given.paper, not given.no_levels, given.toile))
    _tell(prepared, built.results)
    _say(doubts(prepared, built.results), prepared.texts)
    _say(advice(Disk(), prepared, built.results, given.style, given.body, given.set), prepared.texts)
    if built.problem is not None:
        _say([built.problem], prepared.texts)
        return ERRORS
    for one in built.left_out:
        print(f"left out of the toile: {one.name}, {one.why}")
    for path in built.written:
        print(f"wrote {path}")
    if built.written:
        print("Check the test square of the print before cutting.")
    return _code(built.results)


def check(given: argparse.Namespace) -> int:
    prepared = _ready(given, needs_body=False)
    if prepared is None:
        return ERRORS
    if not given.body:
        print(f"{given.style}: no errors; add --body to prove it on a body")
        return HOLDS
    results = tuple(results_of(prepared))
    _tell(prepared, results)
    _say(doubts(prepared, results), prepared.texts)
    _say(advice(Disk(), prepared, results, given.style, given.body, given.set), prepared.texts)
    return _code(results)


def _tell(prepared: Prepared, results: Sequence[BodyResult]) -> None:
    """Errors, then for each body its checks, seams and estimates; failed ones with their numbers."""
    for result, body in zip(results, prepared.bodies, strict=True):
        _say(result.errors, prepared.texts)
        failed = [one for one in result.checks if not one.holds]
        if result.errors:
            print(f"{result.name}: cannot be drawn")
            _tell_failed(failed)
            continue
        loose = [one for one in result.seams if not one.holds]
        closures = result.specification.closures
        small = [one for one in closures if not one.holds]
        tight = [one for one in result.fits if not one.holds]
        count = len(result.checks) + len(result.seams) + len(closures) + len(result.fits)
        held = count - len(failed) - len(loose) - len(small) - len(tight)
        parts = ["checks", "seams", *(["closures"] if closures else []), *(["fits"] if result.fits else [])]
        which = f"{', '.join(parts[:-1])} and {parts[-1]}"
        print(f"{result.name}: {len(result.pieces)} pieces; {held} of {count} {which} hold")
        _tell_failed(failed)
        for seam in loose:
            left, right = " and ".join(seam.left), " and ".join(seam.right)
            print(f"  FAILS  {seam.name}: {left} {seam.left_mm:.1f} mm {seam.how} {right} {seam.right_mm:.1f} mm")
            for off in dict.fromkeys(one.told for one in seam.stretches if not one.holds):
                print(f"         {off}")
        for closure in small:
            print(f"  FAILS  {_closure(closure)}")
        for fit in tight:
            print(f"  FAILS  {fit.name}: {fit.wrong}; {fit.fix}  ({_measured(fit, in_unit(body.unit))})")
        for one in result.checks:
            if one.holds:
                print(f"  holds  {one.name}: {one.text}" + (f"  ({one.figures})" if one.figures else ""))
        for closure in closures:
            if closure.holds:
                print(f"  holds  {_closure(closure)}")
        for fit in result.fits:
            for more in fit.told if fit.level else ():
                print(f"  told  {fit.name}: {more}")
        if not result.fits:
            print("  told  nothing is promised of the body here: whether it fits is not proved")
        for told in result.tidings:
            print(f"  told  {told.name}: {told.text or told.condition}" + (f"  ({told.figures})" if told.figures else ""))
        for missing in result.estimated:
            print(f"  not measured  {missing.name}: {missing.how}")
    for body in prepared.bodies:
        for name, short in body.short_forms.items():
            print(f"{body.name}: `{short}` was read as `{name}`")


def _tell_failed(checks: Sequence[CheckResult]) -> None:
    for one in checks:
        print(f"  FAILS  {one.name}: {one.text}  ({one.figures}){'; ' + one.advice if one.advice else ''}")


def _measured(fit: FitResult, say: Callable[[float], str]) -> str:
    """What a garment and the body measure."""
    told = "length" if not fit.level else f"{fit.level.replace('_', ' ')}, as sewn"
    body, garment = ("none" if one is None else say(one) for one in (fit.body_mm, fit.garment_mm))
    return f"{told}: body {body}, garment {garment}, ease asked {say(fit.asked_mm)}"


def _closure(closure: ClosureRow) -> str:
    needed = "" if closure.needed_mm is None else f"; {closure.needed_mm:.1f} mm is needed"
    place = f"{' and '.join(closure.place)} ({closure.place_mm:.1f} mm)"
    return f"{closure.name}: {closure.long_mm:.1f} mm long in {place}{needed}"


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
    told, errors = job.explain(prepared, given.name)
    _say(errors, prepared.texts)
    for body, lines in told:
        print(body)
        for line in lines:
            indent = "  " * (line.depth + 1)
            source = f"   [{line.where}]" if line.where else ""
            print(f"{indent}{line.name}{' = ' if line.value else ''}{line.value}{source}")
            if line.sentence:
                print(f"{indent}    {line.sentence}")
    return ERRORS if errors else HOLDS


def fmt(given: argparse.Namespace) -> int:
    from ..jobs.formatting import formatted

    done = [formatted(Disk(), path) for path in given.files]
    for one in done:
        _say(one.diagnostics, {one.path: one.before or ""})
    if any(problem.is_error for one in done for problem in one.diagnostics):
        return ERRORS
    changed = {one.path: one.after.encode("utf-8") for one in done if one.changed and one.after is not None}
    if given.check:
        for path in changed:
            print(f"would change {path}")
        return FAILS if changed else HOLDS
    problem = write_files(Disk(), changed.items())
    if problem is not None:
        _say([problem], {})
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
        _say([words.style_wanted()], {})
        return ERRORS
    prepared = prepare(Disk(), given.style, given.body)
    others = [one for one in prepared.bodies if given.wearer not in (None, one.wearer)]
    refused = [words.other_wearer(given.wearer, one.name, one.wearer) for one in others]
    _say([*prepared.diagnostics, *refused], prepared.texts)
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
        _say([problem], {})
        return ERRORS
    for path in contents:
        print(f"wrote {path}")
    return HOLDS
