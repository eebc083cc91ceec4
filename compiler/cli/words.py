"""`godet words`: the words of the language, the entry of one, or what a cutter may mean."""

from __future__ import annotations

import argparse
import sys

from ..jobs import finding, vocabulary
from ..jobs.files import Disk, write
from ..output.command_records import COMMANDS_SCHEMA, WordsReport
from ..output.json_text import json_text
from .telling import ERRORS, HOLDS, say


def words(given: argparse.Namespace) -> int:
    if given.format == "json" and (given.all or given.figures is not None):
        option = "--all" if given.all else "--figures"
        print(f"error: `{option}` is Markdown or pictures, never JSON; leave `--format json` away", file=sys.stderr)
        return ERRORS
    if given.all:
        print(vocabulary.reference(), end="")
        return HOLDS
    if given.figures is not None:
        return _figures(given.figures, " ".join(given.word))
    if not given.word:
        return _list(sorted(set(vocabulary.all_words())), given.format)
    entry = vocabulary.entry(given.word[0]) if len(given.word) == 1 else None
    found = finding.Search(finding.beside(given.word[0])) if entry is not None else finding.search(given.word)
    if entry is None and not found.rows:
        near = found.near or "`godet words` lists them"
        print(f"error: no word `{found.unknown}`; {near}", file=sys.stderr)
        return ERRORS
    if given.format == "json":
        return _print(WordsReport(COMMANDS_SCHEMA, (), entry, found.rows, found.whole))
    print(entry or "", end="")
    rows = finding.printed(found) if found.rows else []
    print("\n".join(["", *rows] if entry and rows else rows), end="\n" if rows else "")
    return HOLDS


def _list(known: list[str], form: str) -> int:
    if form == "json":
        return _print(WordsReport(COMMANDS_SCHEMA, tuple(known), None, (), True))
    print("\n".join(known))
    return HOLDS


def _print(report: WordsReport) -> int:
    print(json_text(report), end="")
    return HOLDS


def _figures(folder: str, word: str = "") -> int:
    """Write the figure of a word, or all figures of the reference, into a folder."""
    from ..jobs.figures import figure_files

    contents = figure_files(folder, word)
    if not contents:
        print(f"error: `{word}` has no figure", file=sys.stderr)
        return ERRORS
    problem = write(Disk(), contents.items())
    if problem is not None:
        say([problem], {})
        return ERRORS
    for path in contents:
        print(f"wrote {path}")
    return HOLDS
