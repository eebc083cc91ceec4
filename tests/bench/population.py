"""So many real bodies through a style to finished cut lines: `python tests/bench/population.py STYLE COUNT [alike] [written]`.

Prints milliseconds of processor time each. `alike` takes only bodies whose drafts have one structure, `written` writes the cut
lines as text. A process of its own, which `budgets.py` starts.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Collection, Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from godet.bodies.body import Body
from godet.bodies.lanes import Population
from godet.finish.finished import finished
from godet.graph.evaluate import evaluate
from godet.jobs.files import Disk
from godet.jobs.outcome import CHUNK
from godet.jobs.prepare import prepare
from godet.meaning.style import CheckedStyle
from godet.pattern.piece import Piece
from support.real_bodies import all_women


def spent_on(path: str, count: int, how: Collection[str]) -> float:
    """Processor seconds to the cut line of every piece, chunk by chunk."""
    style, women = prepare(Disk(), path).style, all_women()
    assert style is not None
    evaluate(style, Population.of(women[:1]))  # what is found once in a process
    some = _of_one_structure(style, women) if "alike" in how else women
    people = [some[k % len(some)] for k in range(count)]
    start = time.process_time()
    with open(os.devnull, "w", encoding="utf-8") as nowhere:
        for first in range(0, count, CHUNK):
            for part in evaluate(style, Population.of(people[first : first + CHUNK])).parts:
                for node in style.pieces.values():
                    piece = part.values[node]
                    assert isinstance(piece, Piece)
                    cut = finished(piece).cut
                    assert cut.shape[0] == part.lanes.size
                    if "written" in how:
                        nowhere.writelines(" ".join(map("{:.2f}".format, line.ravel().tolist())) for line in cut)
    return time.process_time() - start


def _of_one_structure(style: CheckedStyle, women: Sequence[Body]) -> list[Body]:
    """Those of the largest part into which all of them fall."""
    largest = max(evaluate(style, Population.of(women)).parts, key=lambda part: part.lanes.size)
    return [women[lane] for lane in largest.lanes.tolist()]


if __name__ == "__main__":
    print(f"{1000 * spent_on(sys.argv[1], int(sys.argv[2]), sys.argv[3:]) / int(sys.argv[2]):.4f}")
