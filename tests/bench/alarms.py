"""What is told of the bundled styles on 200 real bodies: `python tests/bench/alarms.py [STYLE …]`. Nothing here is a test.

A style that makes up well and is told of is a false alarm, or one to answer for. Each error, each warning and each part of the
garment that does not hold is printed once, by style and code, with the count of bodies it is told on and what it says of the
first. Exits with 1 where the garment is told to be wrong on any.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from godet.jobs.assembled import Assembly
from godet.jobs.results import BodyResult
from support.real_bodies import real_men, real_women
from support.style_runs import prepared, results
from support.survey import worn

BODIES, SEED = 200, 12


def told(one: BodyResult) -> Iterator[tuple[str, str, str]]:
    """What is told on a body: what kind of thing, its code or name, and in words."""
    yield from (("error", each.code, each.message) for each in one.errors)
    yield from (("garment", each.code, each.message) for each in one.assembly.wrong)
    yield from (("warning", each.code, each.message) for each in one.warnings)
    yield from (("check", each.name, each.text) for each in one.checks if not each.holds)
    yield from (("seam", each.name, "lengths") for each in one.seams if not each.holds)
    yield from (("seam", each.name, "notches") for each in one.seams if each.holds and not each.notches_agree)
    yield from (("fit", f"{each.name} {each.level}", each.wrong) for each in one.fits if not each.holds)


def by_names(assembly: Assembly | None) -> Iterator[tuple[str, str, str]]:
    """What is told of a style before any body."""
    yield from (("names", each.code, each.message) for each in (assembly.diagnostics if assembly else ()))


def main(names: Sequence[str]) -> int:
    wrong = 0
    for style, men in worn():
        if names and style.stem not in names:
            continue
        ready, bodies = prepared(style), (real_men if men else real_women)(BODIES, SEED)
        rows: dict[tuple[str, str], tuple[int, str]] = {}
        for kind, code, text in by_names(ready.assembly):
            rows[kind, code] = BODIES, text
        for one in results(style, bodies):
            found = {(kind, code): text for kind, code, text in told(one)}
            for key, text in found.items():
                count, first = rows.get(key, (0, text))
                rows[key] = count + 1, first
        print(f"{style.stem} on {len(bodies)} {'men' if men else 'women'}", flush=True)
        for (kind, code), (count, text) in sorted(rows.items()):
            print(f"  {kind:8} {code:24} {count:4}  {text[:120]}", flush=True)
        wrong += sum(count for (kind, _), (count, _) in rows.items() if kind in ("garment", "names"))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
