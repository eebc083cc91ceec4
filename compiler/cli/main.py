"""`godet`: the command line. Heavy rooms are imported by the command that needs them, so that help is instant."""

from __future__ import annotations

import argparse
import gc
import os
import sys
import warnings
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from .arguments import parser

if TYPE_CHECKING:
    from ..diagnostics.diagnostic import Diagnostic

def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code is 0 when all holds, 1 when a check fails, 2 on errors."""
    given = parser().parse_args(arguments)
    gc.set_threshold(100_000)  # values are many and hold no rings: looking for rings as often as usual finds none
    command: Callable[[argparse.Namespace], int] = _command(given.command)
    try:
        with warnings.catch_warnings(record=True) as raised:
            warnings.simplefilter("default", RuntimeWarning)
            code = command(given)
        code = _warned(raised, code)
        sys.stdout.flush()
        return code
    except BrokenPipeError:  # the reader, such as `head`, has seen enough: silent, and no success, for not all may be done
        nothing = os.open(os.devnull, os.O_WRONLY)
        for stream in (sys.stdout, sys.stderr):  # what still waits in them goes nowhere
            os.dup2(nothing, stream.fileno())
        return 141
    except KeyboardInterrupt:
        return 130
    except Exception as error:
        if os.environ.get("GODET_DEBUG"):
            raise
        from ..diagnostics.running_words import internal

        _print([internal(f"{type(error).__name__}: {error}")])
        return 2


def _warned(raised: Sequence[warnings.WarningMessage], code: int) -> int:
    """What a library warned of while numbers were reckoned, told in our words: a number there may be none."""
    if raised:
        from ..diagnostics.running_words import unsure_numbers

        told = dict.fromkeys(f"{one.message}, at {Path(one.filename).name}:{one.lineno}" for one in raised)
        _print([unsure_numbers(list(told))])
    return code


def _print(found: Sequence[Diagnostic]) -> None:
    from ..diagnostics.colours import are_wanted
    from ..diagnostics.printing import print_all

    print(print_all(found, {}, are_wanted(sys.stderr)), file=sys.stderr)


def _command(name: str) -> Callable[[argparse.Namespace], int]:
    from . import commands

    found: Callable[[argparse.Namespace], int] = getattr(commands, "words_" if name == "words" else name)
    return found


if __name__ == "__main__":
    sys.exit(main())
