"""Every bundled style on all of the survey whom it is for: `python tests/bench/survey.py [STYLE …]`.

Writes those on whom one does not hold into `tests/data/not_held.csv`, to which the tests hold the part they try. Prints on how
many a style draws, sews and fits, and the warnings told of any, by code. Exits with 1 where a style holds on fewer than 995
of 1000, or a body fails that is not told why.
"""

from __future__ import annotations

import csv
import sys
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.real_bodies import all_men, all_women
from support.style_runs import results
from support.survey import MOST, NOT_HELD, is_told, not_held, sound, worn


def main(names: Sequence[str]) -> int:
    well, failing = True, dict(not_held())
    for style, men in worn():
        if names and style.stem not in names:
            continue
        made = results(style, all_men() if men else all_women())
        failing[style.stem, men] = {one.name for one in made if not sound(one)}
        holding = len(made) - len(failing[style.stem, men])
        warned = Counter(code for one in made for code in {warning.code for warning in one.warnings})
        told = ", ".join(f"{code} on {count}" for code, count in sorted(warned.items()))
        print(f"{style.stem:24}{'men' if men else 'women':8}{holding:5} of {len(made)}   {told}", flush=True)
        well = well and holding >= MOST * len(made) and all(map(is_told, made))
    with NOT_HELD.open("w", newline="", encoding="utf-8") as file:
        rows = ((style, "M" if men else "F", name) for (style, men), found in sorted(failing.items()) for name in sorted(found))
        csv.writer(file, lineterminator="\n").writerows([("style", "sex", "body"), *rows])
    return 0 if well else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
