"""So many real bodies through a style to finished cut lines: `python tests/bench/population.py STYLE COUNT`.

Prints milliseconds of processor time each, and the peak memory of the process in MiB (where the system tells it). A process of
its own, so that the memory is that of this work.
"""

from __future__ import annotations

import resource
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from godet.bodies.lanes import Population
from godet.finish.finished import finished
from godet.graph.evaluate import evaluate
from godet.jobs.files import Disk
from godet.jobs.outcome import CHUNK
from godet.jobs.prepare import prepare
from godet.pattern.piece import Piece
from support.real_bodies import all_women


def outlines(path: str, count: int) -> float:
    """Processor seconds to the cut line of every piece, chunk by chunk."""
    style, women = prepare(Disk(), path).style, all_women()
    assert style is not None
    people = [women[k % len(women)] for k in range(count)]
    evaluate(style, Population.of(women[:1]))  # what is found once in a process
    start = time.process_time()
    for first in range(0, count, CHUNK):
        for part in evaluate(style, Population.of(people[first : first + CHUNK])).parts:
            for node in style.pieces.values():
                piece = part.values[node]
                assert isinstance(piece, Piece)
                assert finished(piece).cut.shape[0] == part.lanes.size
    return time.process_time() - start


if __name__ == "__main__":
    spent = outlines(sys.argv[1], int(sys.argv[2]))
    print(f"{1000 * spent / int(sys.argv[2]):.4f} {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f}")
