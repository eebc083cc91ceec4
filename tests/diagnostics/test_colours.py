"""Colours: only on a terminal, never where `NO_COLOR` is set; what is read without them is the same to the letter."""

from __future__ import annotations

import io
import os
import pty
import re
import subprocess
import sys
from dataclasses import replace

import pytest
from godet.diagnostics.colours import are_wanted
from godet.diagnostics.diagnostic import Diagnostic, Label, Severity, Span
from godet.diagnostics.printing import print_diagnostic
from support.style_runs import ROOT

TEXT = "length wide = nape\nlength wide = 3 cm\n"
TEXTS = {"a.style": TEXT}
FIRST = Label(Span("a.style", 7, 11), "first")
TWICE = Diagnostic("E201", "`wide` \x1b[31mis defined twice", Span("a.style", 26, 30), "here", "rename one", labels=(FIRST,))
STEERS = re.compile(r"\x1b\[[0-9;]*m")


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize("severity", list(Severity))
def test_severity_place_and_marks_are_coloured_and_nothing_else_changes(severity: Severity) -> None:
    one = replace(TWICE, severity=severity)
    plain, painted = print_diagnostic(one, TEXTS), print_diagnostic(one, TEXTS, coloured=True)
    assert "\x1b" not in plain  # what a text holds of its own steers no terminal
    assert STEERS.sub("", painted) == plain
    word = "error" if severity is Severity.ERROR else "warning"
    assert [re.sub(r"\s+", " ", each) for each in re.findall(r"\x1b\[[0-9;]+m(.*?)\x1b\[0m", painted)] == [
        f"{word}[E201]",
        "a.style:2:8",
        "^^^^",
        "a.style:1:8",
        "----",
    ]


@pytest.mark.parametrize(
    ("stream", "setting", "wanted"),
    [
        (Terminal(), {}, True),
        (Terminal(), {"NO_COLOR": "1"}, False),
        (Terminal(), {"NO_COLOR": ""}, True),
        (Terminal(), {"TERM": "dumb"}, False),
        (io.StringIO(), {}, False),
    ],
)
def test_colours_are_for_terminals_that_want_them(
    stream: io.StringIO, setting: dict[str, str], wanted: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    for name, value in setting.items():
        monkeypatch.setenv(name, value)
    assert are_wanted(stream) is wanted


@pytest.mark.parametrize(("setting", "coloured"), [({}, True), ({"NO_COLOR": "1"}, False)])
def test_the_command_colours_what_it_says_on_a_terminal(setting: dict[str, str], coloured: bool) -> None:
    screen, end = pty.openpty()
    told = {name: value for name, value in os.environ.items() if name != "NO_COLOR"} | {"TERM": "xterm"} | setting
    command = [sys.executable, "-m", "godet.cli.main", "check", "missing.style"]
    try:
        subprocess.run(command, stdout=end, stderr=end, stdin=end, cwd=ROOT, env=told, check=False)
        said = os.read(screen, 4096).decode()
    finally:
        os.close(end)
        os.close(screen)
    assert "E501" in said
    assert ("\x1b[" in said) is coloured
