"""Peak memory (MiB) of a command on so many real bodies in files: `python tests/bench/command_memory.py COUNT COMMAND STYLE …`.

The command runs in this process, which is one of its own, so that the memory is that of this work; what it prints is dropped.
"""

from __future__ import annotations

import contextlib
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
    women = all_women()
    with tempfile.TemporaryDirectory() as folder, open(os.devnull, "w", encoding="utf-8") as nowhere:
        for k in range(count):
            measures = "".join(f"{name} = {value!r}\n" for name, value in women[k % len(women)].measures.items())
            text = f'name = "body {k}"\nunit = "mm"\nsex = "F"\n[measures]\n{measures}'
            (Path(folder) / f"{k:06}.toml").write_text(text, "utf-8")
        out = ["--out", str(Path(folder) / "out")] if command[0] == "build" else []
        with contextlib.redirect_stdout(nowhere), contextlib.redirect_stderr(nowhere):
            main([*command, "--body", folder, *out])
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


if __name__ == "__main__":
    print(f"{peak(int(sys.argv[1]), sys.argv[2:]):.0f}")
