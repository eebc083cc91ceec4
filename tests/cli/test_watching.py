"""`godet check --watch` checks again what a change touches, once for each change, and ends at ctrl-C with its last code."""

from __future__ import annotations

import os
import queue
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from godet.jobs.files import Disk
from godet.jobs.watched import Watched
from support.commands import TEXTS
from support.style_runs import ROOT

BODY = 'name = "anna"\nunit = "cm"\nsex = "F"\n[measures]\nbust_girth = 92\n'
RUN = "import sys\nfrom godet.cli.main import main\nsys.exit(main(sys.argv[1:]))"
LONG = 60.0
"""Seconds after which it is given up, on a machine with much else to do."""


def _hears_ctrl_c() -> None:
    """Where the tests themselves run in the background, they are deaf to it, and so would be what they start."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Running:
    """A command that runs, and the lines it writes."""

    def __init__(self, arguments: list[str], folder: Path) -> None:
        env = {**os.environ, "PYTHONPATH": str(ROOT / ".package")}
        given = [sys.executable, "-u", "-c", RUN, *arguments]
        self.process = subprocess.Popen(
            given,
            cwd=folder,
            env=env,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
            preexec_fn=_hears_ctrl_c,
        )
        self._lines: queue.Queue[str] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self._lines.put(line)

    def until_waiting(self) -> str:
        """All lines up to the one that says what is waited for."""
        found = ""
        while "waiting for a change" not in found:
            found += self._lines.get(timeout=LONG)
        return found

    def is_silent(self, seconds: float) -> bool:
        try:
            self._lines.get(timeout=seconds)
        except queue.Empty:
            return True
        return False


@pytest.fixture
def watching(tmp_path: Path) -> Iterator[Running]:
    (tmp_path / "patch.style").write_text(TEXTS["FAILS"], "utf-8")
    (tmp_path / "other.style").write_text(TEXTS["FAILS"].replace("at_most 4", "at_most 6"), "utf-8")
    (tmp_path / "anna.toml").write_text(BODY, "utf-8")
    one = Running(["check", "--watch", "patch.style", "other.style", "--body", "anna.toml"], tmp_path)
    yield one
    one.process.kill()
    one.process.wait()


def test_each_change_is_checked_once_and_ctrl_c_ends_with_the_last_code(watching: Running, tmp_path: Path) -> None:
    first = watching.until_waiting()
    assert first.count("FAILS") >= 1
    assert "waiting for a change of patch.style, anna.toml, other.style; ctrl-C ends" in first
    (tmp_path / "patch.style").write_text(TEXTS["FAILS"].replace("at_most 4", "at_most 5"), "utf-8")
    second = watching.until_waiting()
    assert "changed: patch.style" in second
    assert "FAILS" not in second
    assert "other.style:" not in second  # it rests on nothing that changed
    assert watching.is_silent(1.0)
    (tmp_path / "anna.toml").write_text(BODY.replace("92", "ninety"), "utf-8")
    third = watching.until_waiting()
    assert third.count("changed: anna.toml") == 2
    assert third.count("error[") == 2
    watching.process.send_signal(signal.SIGINT)
    assert watching.process.wait(LONG) == 2


def test_what_was_asked_of_files_is_asked_again(tmp_path: Path) -> None:
    seen = Watched(Disk())
    style, folder = tmp_path / "one.style", str(tmp_path)
    style.write_text("language 1\n", "utf-8")
    seen.read(str(style))
    with pytest.raises(FileNotFoundError):
        seen.read(str(tmp_path / "blocks.style"))
    assert seen.listed(folder, ".toml") == []
    assert (seen.changed(), seen.files) == ((), (str(style),))
    (tmp_path / "notes.txt").touch()
    assert seen.changed() == ()
    (tmp_path / "blocks.style").touch()  # a module that was missing is there
    (tmp_path / "anna.toml").touch()
    assert set(seen.changed()) == {str(tmp_path / "blocks.style"), folder}
    os.utime(style, (1, 1))
    assert str(style) in seen.changed()
    seen.forget()
    assert (seen.changed(), seen.files) == ((), ())
