"""Styles put on the bodies or sizes that a command is given, and what does not go together of its options."""

from __future__ import annotations

import argparse

from ..diagnostics import grading_words
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..door.style import OnBodies, Style


def on_bodies(style: Style, given: argparse.Namespace) -> tuple[OnBodies, list[Diagnostic]]:
    """The style on its bodies or sizes, with all that is wrong or doubtful of what is given."""
    on = style.sizes(given.sizes, only=given.only) if given.sizes else style.on(given.body)
    found, is_sound = [*on.diagnostics, *_sizes_asked(given)], not on.style.has_errors
    if given.command == "grade":
        found += _grade_asked(given)
    if given.command not in ("check", "grade") and is_sound and not (given.body or given.sizes):
        found.append(words.body_wanted(given.command))
    if given.command != "check" and is_sound and not on.style.pieces:
        found.append(words.nothing_cut(Span(given.style, 0, 0)))
    return on, found


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
