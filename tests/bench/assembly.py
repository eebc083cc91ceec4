"""What the assembly proof costs beside the evaluation of one body: `python tests/bench/assembly.py`. Nothing here is a test.

Processor time, both in one run: the proof is timed where it is done, within the evaluation. The budget is a tenth. Beside it
stands what the proof by names costs, which is made once for all bodies.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from pathlib import Path
from statistics import median
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
RUNS = 7
MENS = ("mens_trousers", "tenor_shirt")


def main() -> None:
    from godet.jobs import outcome
    from godet.jobs.assembled import assembled
    from godet.jobs.garments import garments
    from support.style_runs import PATTERNS, invented, prepared

    proved, spent = garments, list[float]()

    def timed(*given: Any) -> Sequence[object]:
        start = time.process_time()
        found = proved(*given)
        spent.append(time.process_time() - start)
        return found

    setattr(outcome, proved.__name__, timed)
    print(f"{'style':24} {'evaluation':>10} {'proof':>8} {'share':>7} {'by names':>9}   (ms of processor time; budget 0.10)")
    for path in sorted(PATTERNS.glob("*.style")):
        ready = prepared(path, [invented("bass_2" if path.stem in MENS else "alto_3")])
        assert ready.style is not None
        wholes, names = list[float](), list[float]()
        outcome.outcomes(ready)
        spent.clear()
        for _ in range(RUNS):
            start = time.process_time()
            outcome.outcomes(ready)
            wholes.append(time.process_time() - start)
            start = time.process_time()
            assembled(ready.style)
            names.append(time.process_time() - start)
        whole, proof, by_names = (1000.0 * median(row) for row in (wholes, spent, names))
        print(f"{path.stem:24} {whole:10.0f} {proof:8.1f} {proof / (whole - proof):7.2f} {by_names:9.1f}")


if __name__ == "__main__":
    main()
