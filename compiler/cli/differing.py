"""`godet diff`: what is given, and what is printed of it."""

from __future__ import annotations

import argparse
import os
import sys

from ..diagnostics import difference_errors as words
from ..diagnostics.diagnostic import Diagnostic
from ..jobs.difference import Asked, Difference, difference
from ..jobs.files import Disk
from ..jobs.files import write as write_files
from ..jobs.sides import sides
from ..output.difference import difference_markdown, difference_text, verdict
from ..output.json_text import json_text
from .telling import ERRORS, FAILS, HOLDS, say

CODES = {"proved": HOLDS, "bodies": HOLDS, "no": FAILS, "open": FAILS, "unread": ERRORS}


def diff(given: argparse.Namespace) -> int:
    problem = _asked_too_much(given)
    found, wrong = (None, problem) if problem else sides(given.old, given.new)
    if found is None:
        return _refused(wrong)
    drawing = given.svg is not None
    asked = Asked(tuple(given.body), given.sizes or "", given.only, tuple(given.set), given.least, drawing, given.each)
    made, wrong = difference(found, asked)
    if made is None:
        return _refused(wrong)
    for one in made.wrong:
        if one.side:
            print(f"in {one.side}:", file=sys.stderr)
        say(one.diagnostics, one.texts)
    problem = _written(given, made)
    if problem is not None:
        return _refused(problem)
    _print(given, made)
    return CODES[made.record.same]


def _asked_too_much(given: argparse.Namespace) -> Diagnostic | None:
    if given.svg is not None and not (given.body or given.sizes):
        return words.picture_of_no_body()
    if given.body and given.sizes:
        return words.sizes_and_bodies()
    return None


def _refused(problem: Diagnostic | None) -> int:
    assert problem is not None
    say([problem], {})
    return ERRORS


def _written(given: argparse.Namespace, made: Difference) -> Diagnostic | None:
    """What hindered writing the overlays."""
    if given.svg is None:
        return None
    return write_files(Disk(), [(os.path.join(given.svg, name), content) for name, content in made.overlays.items()])


def _print(given: argparse.Namespace, made: Difference) -> None:
    match given.format:
        case "json":
            print(json_text(made.record), end="")
        case "markdown":
            print(difference_markdown(made.record), end="")
        case _ if given.quiet:
            print(verdict(made.record))
        case _:
            print(difference_text(made.record, given.all), end="")
            for name in made.overlays:
                print(f"wrote {os.path.join(given.svg, name)}")
