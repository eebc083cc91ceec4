"""Peak memory (MiB) of a command on so many real bodies: `python tests/bench/command_memory.py COUNT COMMAND STYLE …`.

They lie in files; for `prove` they are the rows of a table. The command runs in this process, which is one of its own, so that
the memory is that of this work; what it prints is dropped.
"""

from __future__ import annotations

import contextlib
import csv
import os
import resource
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from godet.cli.main import main
from support.real_bodies import all_women


def peak(count: int, command: Sequence[str]) -> float:
    with tempfile.TemporaryDirectory() as folder, open(os.devnull, "w", encoding="utf-8") as nowhere:
        if command[0] == "prove":
            where = ["--population", str(_table(Path(folder), count))]
        else:
            _files(Path(folder), count)
            where = ["--body", folder, *(["--out", str(Path(folder) / "out")] if command[0] == "build" else [])]
        with contextlib.redirect_stdout(nowhere), contextlib.redirect_stderr(nowhere):
            code = main([*command, *where])
        assert code != 2, f"{command[0]} could not be run"
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _files(folder: Path, count: int) -> None:
    women = all_women()
    for k in range(count):
        measures = "".join(f"{name} = {value!r}\n" for name, value in women[k % len(women)].measures.items())
        text = f'name = "body {k}"\nunit = "mm"\nsex = "F"\n[measures]\n{measures}'
        (folder / f"{k:06}.toml").write_text(text, "utf-8")


def _table(folder: Path, count: int) -> Path:
    women = all_women()
    with (folder / "women.csv").open("w", newline="", encoding="utf-8") as file:
        table = csv.DictWriter(file, ["name", "sex", "unit", *women[0].measures], restval="")
        table.writeheader()
        for k in range(count):
            table.writerow({"name": f"body {k}", "sex": "F", "unit": "mm", **women[k % len(women)].measures})
    return folder / "women.csv"


if __name__ == "__main__":
    print(f"{peak(int(sys.argv[1]), sys.argv[2:]):.0f}")
