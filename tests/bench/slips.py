"""How slips are told: `python tests/bench/slips.py [COUNT] [SEED] [--jobs N] [-v]`. Nothing here is a test.

Half of the slips lie in the styles that come with the compiler, half in its library, each sentence as often as another. Of every
slip that is told it is counted whether all errors point into the sentence with the slip, by themselves or by a second place they
show, whether there is one error, and whether message, note or fix names what was lost. Scores by kind of slip, of a hundred.

A slip that leaves a sound style cannot be told by reading it, and is counted apart: with those that a warning tells (`warned`),
in three columns. `same`: the style comes to what it did, by its fingerprint, as with another name for a seam. `drawn`: drawn on
a body something is told, or fails, that did not before. `valid`: neither; another edge in a measure, a word less that has a
default, which no reader could know from what was meant. `-v` prints these with what missed, to be looked at.

The drawing rests on COUNT and SEED alone, not on N, the number of processes.
"""

from __future__ import annotations

import argparse
import gc
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import cache
from itertools import chain
from random import Random

from godet.diagnostics.diagnostic import Diagnostic, Severity
from slip_kinds import Slip, drawn
from slip_texts import Ground, library, styles

CHUNK = 100
"""Slips of one text that are drawn together."""


@dataclass
class Scores:
    """By kind: slips told, those told at the right place, with one error, with the right fix; those told by a warning alone,
    those that come to the same, are told when they are drawn, or leave another style as good; and what `-v` prints."""

    told: Counter[str] = field(default_factory=Counter)
    place: Counter[str] = field(default_factory=Counter)
    single: Counter[str] = field(default_factory=Counter)
    fixed: Counter[str] = field(default_factory=Counter)
    warned: Counter[str] = field(default_factory=Counter)
    same: Counter[str] = field(default_factory=Counter)
    drawn: Counter[str] = field(default_factory=Counter)
    valid: Counter[str] = field(default_factory=Counter)
    missed: list[str] = field(default_factory=list)

    def add(self, other: Scores) -> None:
        for mine, more in zip(self._counters(), other._counters(), strict=True):
            mine.update(more)
        self.missed += other.missed

    def _counters(self) -> Sequence[Counter[str]]:
        return self.told, self.place, self.single, self.fixed, self.warned, self.same, self.drawn, self.valid

    def judge(self, ground: Ground, slip: Slip, found: Sequence[Diagnostic]) -> None:
        errors = [one for one in found if one.severity is Severity.ERROR]
        if not errors:
            self._sound(ground, slip, any(_inside(one, ground.file, slip) for one in found))
            return
        told = " ".join(f"{one.message} {one.note} {one.fix}" for one in errors)
        place = all(_inside(one, ground.file, slip) for one in errors)
        right = [place, len(errors) == 1, not slip.wanted or any(one in told for one in slip.wanted)]
        self.told[slip.kind] += 1
        for counter, good in zip((self.place, self.single, self.fixed), right, strict=True):
            counter[slip.kind] += good
        if not all(right):
            lost = " ".join(word for word, good in zip(("PLACE", "ONE", "FIX"), right, strict=True) if not good)
            lines = [f"--- {lost}: {_shown(ground, slip)}"]
            self.missed += [*lines, *(f"    {one.code} {one.message} | {one.fix}" for one in errors[:4])]

    def _sound(self, ground: Ground, slip: Slip, warned: bool) -> None:
        """Count a slip that leaves a sound style."""
        if warned:
            self.warned[slip.kind] += 1
        elif ground.draws_the_same(slip.text):
            self.same[slip.kind] += 1
        else:
            more = ground.told_when_drawn(slip.text) - ground.told_when_drawn(ground.text)
            (self.drawn if more else self.valid)[slip.kind] += 1
            self.missed.append(f"--- {'drawn' if more else 'valid'}: {_shown(ground, slip)}")
            self.missed += [f"    {', '.join(more)}"] if more else []

    def table(self) -> Iterator[str]:
        apart = "warned", "same", "drawn", "valid"
        yield f"{'':14} {'told':>6} {'place':>7} {'one':>7} {'fix':>7} {' '.join(f'{one:>6}' for one in apart)}"
        for kind in (*sorted(set().union(*self._counters())), ""):
            told, place, single, fixed, *sound = (one[kind] if kind else one.total() for one in self._counters())
            shares = " ".join(f"{100 * one / max(told, 1):6.1f}%" for one in (place, single, fixed))
            yield f"{kind or 'all':14} {told:6d} {shares} {' '.join(f'{one:6d}' for one in sound)}"


def _inside(problem: Diagnostic, file: str, slip: Slip) -> bool:
    """Whether an error, or a second place it shows, lies in the sentence with the slip."""
    places = (problem.span, *(label.span for label in problem.labels))
    return any(one is not None and one.file == file and slip.start <= one.start <= slip.end + 1 for one in places)


def _shown(ground: Ground, slip: Slip) -> str:
    lines = " ".join(slip.text[slip.start : slip.end].split())
    return f"{slip.kind} in {ground.file.rpartition('/')[2]}, wanted {slip.wanted}\n    {lines[:300]}"


@cache
def _grounds() -> tuple[Ground, ...]:
    return (*styles(), *library())


def _chunk(task: tuple[int, int, str]) -> Scores:
    """Some slips of one text."""
    number, count, seed = task
    ground, random, scores = _grounds()[number], Random(seed), Scores()
    gc.disable()
    for _ in range(count):
        slip = drawn(ground.text, ground.sentences, random)
        scores.judge(ground, slip, ground.told(slip.text))
    gc.enable()
    return scores


def _tasks(count: int, seed: int) -> list[tuple[int, int, str]]:
    """How many slips of which text, with a seed for each chunk: half of all in styles, by their sentences."""
    sizes = [len(ground.sentences) for ground in _grounds()]
    first = len(styles())
    shares = [size / sum(part) / 2 for part in (sizes[:first], sizes[first:]) for size in part]
    bounds = [round(count * sum(shares[:i])) for i in range(len(shares) + 1)]
    wholes = ((i, bounds[i + 1] - bounds[i]) for i in range(len(shares)))
    return list(chain.from_iterable(_parts(i, whole, seed) for i, whole in wholes))


def _parts(number: int, count: int, seed: int) -> Iterator[tuple[int, int, str]]:
    for start in range(0, count, CHUNK):
        yield number, min(CHUNK, count - start), f"{seed} {number} {start}"


def main() -> None:
    asked = argparse.ArgumentParser(description="How slips of the pen are told.")
    asked.add_argument("count", type=int, nargs="?", default=1000)
    asked.add_argument("seed", type=int, nargs="?", default=1)
    asked.add_argument("--jobs", type=int, default=1, help="processes")
    asked.add_argument("-v", action="store_true", help="print what missed, and what is sound")
    given = asked.parse_args()
    whole, tasks = Scores(), _tasks(given.count, given.seed)
    if given.jobs == 1:
        parts: Iterator[Scores] = map(_chunk, tasks)
        for part in parts:
            whole.add(part)
    else:
        with ProcessPoolExecutor(given.jobs) as pool:
            for part in pool.map(_chunk, tasks):
                whole.add(part)
    if given.v:
        print("\n".join(whole.missed))
    print("\n".join(whole.table()))


if __name__ == "__main__":
    main()
