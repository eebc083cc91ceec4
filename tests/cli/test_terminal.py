"""On a terminal there are colours, and progress where something takes long; in a pipe, and with NO_COLOR, there are none."""

from __future__ import annotations

import contextlib
import os
import pty
import sys
import termios
import threading
from pathlib import Path

import pytest
from godet.cli import progress
from godet.cli.main import main
from support.commands import commands, styles

ESCAPE = b"\x1b["
WAYS = {
    "new": ["new", "No name", "--of", "skirt"],
    "explain": ["explain", "BAD", "front"],
    "diff": ["diff", "BAD", "UGLY"],
    "fmt": ["fmt", "--check", "BAD"],
    "words": ["words", "qqqqq"],
    "completion": ["completion", "bash"],
}
"""Ways to a message; of other commands it is the bad style."""
PLAIN = {"words", "completion"}
"""Commands that have nothing to colour."""


def on_terminal(arguments: list[str], patch: pytest.MonkeyPatch) -> bytes:
    """What a command writes to a terminal that is both its stdout and its stderr."""
    ours, its = pty.openpty()
    termios.tcsetwinsize(its, (24, 120))
    found: list[bytes] = []
    reading = threading.Thread(target=_read, args=(ours, found))
    reading.start()
    with os.fdopen(its, "w", encoding="utf-8") as terminal, patch.context() as now:
        now.setattr(sys, "stdout", terminal)
        now.setattr(sys, "stderr", terminal)
        assert main(arguments) in (0, 1, 2)
    reading.join()
    os.close(ours)
    return b"".join(found)


def _read(terminal: int, into: list[bytes]) -> None:
    """All that comes until the other end is closed: a terminal holds little that is not read."""
    with contextlib.suppress(OSError):
        while part := os.read(terminal, 65536):
            into.append(part)


@pytest.mark.parametrize("command", commands())
def test_a_terminal_has_colours_unless_they_are_not_wanted(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = styles(tmp_path)
    way = WAYS.get(command, [command, "BAD"])
    arguments = [part for one in way for part in known.get(one, [one])]
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert (ESCAPE in on_terminal(arguments, monkeypatch)) is (command not in PLAIN)
    monkeypatch.setenv("NO_COLOR", "1")
    assert ESCAPE not in on_terminal(arguments, monkeypatch)


def test_progress_is_told_on_a_terminal_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(progress, "SOON", 0.0)
    arguments = ["prove", *styles(tmp_path)["FAILS_OF_TWO"], "--jobs", "1"]
    assert b" bodies [" in on_terminal(arguments, monkeypatch).partition(b"Patch")[0]
    assert main(arguments) == 1
    told = capfd.readouterr()
    assert " bodies [" not in told.err
    assert not {"\r", "\x1b"}.intersection(told.out + told.err)
