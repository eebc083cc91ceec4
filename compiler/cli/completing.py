"""`godet completion`: what a shell offers behind TAB, made from the parser itself, so that a new command or option is in it."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

import shtab

from .arguments import parser
from .telling import HOLDS

OFFERED = {
    "STYLE": shtab.glob("*.style"),
    "FILE": shtab.FILE,
    "CHART": shtab.FILE,
    "DIR": shtab.DIRECTORY,
    "WORD": shtab.cmd("godet words"),
}
"""By what an argument is called in the help, what may stand there; choices of the parser are offered as they are."""


def completion(given: argparse.Namespace) -> int:
    """Print the completion of a shell; the exit code."""
    whole = parser()
    for action in _actions(whole):
        if isinstance(action.metavar, str) and action.metavar in OFFERED:
            action.complete = OFFERED[action.metavar]  # type: ignore[attr-defined]  # where shtab looks for it
    print(shtab.complete(whole, given.shell))
    return HOLDS


def _actions(found: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """Every argument of a parser and of its commands."""
    for action in found._actions:
        yield action
        if isinstance(action, argparse._SubParsersAction):
            for command in action.choices.values():
                yield from _actions(command)
