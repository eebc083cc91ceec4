"""`godet prove`: a style on a population, told as it is worked off."""

from __future__ import annotations

import argparse
import os

from ..diagnostics import engine_words
from ..diagnostics import population_words as words
from ..door.errors import StyleError
from ..door.style import open_style
from ..jobs.files import Disk, write
from .progress import progress
from .telling import ERRORS, FAILS, HOLDS, say


def prove(given: argparse.Namespace) -> int:
    """Print the proof of a style on a population; the exit code."""
    style = open_style(given.style, settings=given.set)
    wanted = [] if given.population or style.has_errors else [words.population_wanted()]
    wanted += [engine_words.not_with_jobs()] if given.engine and given.jobs else []
    say([*style.diagnostics, *wanted], style.texts)
    if style.has_errors or wanted:
        return ERRORS
    try:
        with progress("bodies") as each:
            proof = style.prove(given.population, columns=given.columns or None, jobs=given.jobs, engine=given.engine, each=each)
    except StyleError as error:
        say(error.diagnostics, error.texts)
        return ERRORS
    assembly = style.assembly
    say(assembly.diagnostics if assembly else (), style.texts)
    say(proof.diagnostics, proof.texts)
    written: list[str] = []
    if given.pictures is not None:
        proof, pictures = proof.with_pictures()
        written = [os.path.join(given.pictures, name) for name in pictures]
        problem = write(Disk(), ((path, svg.encode()) for path, svg in zip(written, pictures.values(), strict=True)))
        if problem is not None:
            say([problem], {})
            return ERRORS
    print(proof.json if given.format == "json" else proof.text, end="")
    if given.format == "text" and assembly is not None and not assembly.judged:
        print(assembly.told)
    for path in written if given.format == "text" else ():
        print(f"wrote {path}")
    for line in proof.record.undrawn if given.format == "text" else ():
        print(line)
    unread = any(one.is_error for one in proof.diagnostics)
    return ERRORS if unread else HOLDS if proof.holds else FAILS
