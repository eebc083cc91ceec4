"""Files written all or none: what a run that was killed left waiting for its name is cleared by the next, and nothing else."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from godet.jobs.files import Disk

KILLED = """
import os, sys
from godet.jobs.files import Disk
Disk().write((name, b"half") for name in (sys.argv[1], sys.argv[2]) if name or os._exit(9))
"""
"""Writes one file of two, and is gone."""


def test_what_a_killed_run_left_is_cleared_by_the_next(tmp_path: Path) -> None:
    where = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    killed = subprocess.run([sys.executable, "-c", KILLED, str(tmp_path / "one.svg"), ""], env=where, check=False)
    assert killed.returncode == 9
    (left,) = tmp_path.iterdir()
    host, process = os.uname().nodename, left.name.split("-")[-2]
    kept = {
        f".godet-{host}-{os.getpid()}-abcdefgh",  # its process runs
        f".godet-elsewhere-{process}-abcdefgh",  # nobody knows
        f"{left.name}-before",  # what stood there
        f"godet-{host}-{process}-abcdefgh",
    }
    for name in kept:
        (tmp_path / name).write_bytes(b"")
    Disk().write([(str(tmp_path / "two.svg"), b"whole")])
    assert {path.name for path in tmp_path.iterdir()} == {"two.svg", *kept}
