"""What the screen and the report say of a body first: how many pieces, and how much of what must hold does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol

from .records import CheckResult


def counted(count: int, noun: str) -> str:
    """`1 piece`, `2 pieces`."""
    return f"{count} {noun}{'' if count == 1 else 's'}"


class Asked(Protocol):
    """A promise of fit: whether there is something to be held against the body, and whether that holds."""

    @property
    def is_asked(self) -> bool: ...

    @property
    def holds(self) -> bool: ...


class Held(Protocol):
    """Something that must hold."""

    @property
    def holds(self) -> bool: ...


def answers(
    checks: Sequence[Held], seams: Sequence[Held], closures: Sequence[Held], fits: Sequence[Asked]
) -> dict[str, list[bool]]:
    """Of all that must hold of a body whether it does, by noun: of promises of fit those that there is a level and a measurement
    for."""
    asked = {"check": checks, "seam": seams, "closure": closures, "fit": [one for one in fits if one.is_asked]}
    return {noun: [one.holds for one in those] for noun, those in asked.items()}


def summary(pieces: int, held: Mapping[str, Sequence[bool]]) -> str:
    """`4 pieces; 15 checks and 14 seams hold`, or where some do not, `4 pieces; 1 of 15 checks FAILS, all else holds`. `held` are
    for each noun the answers."""
    first, asked = counted(pieces, "piece"), {noun: answers for noun, answers in held.items() if answers}
    if not asked:
        return first
    if all(all(answers) for answers in asked.values()):
        said = listed([counted(len(answers), noun) for noun, answers in asked.items()])
        return f"{first}; {said} {_verb('hold', asked.values(), True)}"
    rest = ", all else holds" if any(any(answers) for answers in asked.values()) else ""
    return f"{first}; {failing(asked)}{rest}"


def failing(held: Mapping[str, Sequence[bool]]) -> str:
    """`1 of 15 checks and 2 of 14 seams FAIL`."""
    wrong = {noun: answers for noun, answers in held.items() if not all(answers)}
    said = listed([f"{answers.count(False)} of {counted(len(answers), noun)}" for noun, answers in wrong.items()])
    return f"{said} {_verb('FAIL', wrong.values(), False)}"


def folded(checks: Sequence[CheckResult]) -> str:
    """The checks that hold of the blocks and recipes a style uses, in one line; "" where there are none."""
    count = sum(one.holds and not one.own for one in checks)
    return f"{counted(count, 'check')} of its blocks and recipes" if count else ""


def listed(words: Sequence[str]) -> str:
    """`a, b and c`."""
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def _verb(verb: str, rows: Iterable[Sequence[bool]], counts: bool) -> str:
    """The verb after so many answers of a kind."""
    single = sum(answers.count(counts) for answers in rows) == 1
    return verb + ("" if not single else "S" if verb.isupper() else "s")
