"""One trouble that many bodies meet, told once: with their number, a few of them, and the range of its figures."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from .diagnostic import Diagnostic, Span, Step

Key: TypeAlias = tuple[str, Span | None, tuple[Step, ...], object]

EXAMPLES = 3
"""So many bodies are named; of more the number is told."""


def grouped(diagnostics: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
    """The diagnostics, those of one trouble (one code, one place, one way there, and `data["of"]`, or else the same words) as
    one, in the order in which they first come."""
    groups = Groups()
    for one in diagnostics:
        groups.add(one)
    return groups.told()


def trouble_of(one: Diagnostic) -> Key:
    """What diagnostics of one trouble share, whatever their figures."""
    return one.code, one.span, one.trace, one.data.get("of", one.message)


class Groups:
    """Diagnostics as they come, of which the first and the names of the bodies are kept: ten thousand may have the same."""

    def __init__(self) -> None:
        self._found: dict[Key, _Group] = {}

    def add(self, one: Diagnostic) -> None:
        group = self._found.setdefault(trouble_of(one), _Group(one))
        group.alike = group.alike and one.note == group.first.note
        if one.body is not None:
            group.names.setdefault(one.body)
        if isinstance(figures := one.data.get("figures"), Mapping):
            group.widen(figures)

    def told(self) -> tuple[Diagnostic, ...]:
        """Each trouble once, in the order in which they first came."""
        return tuple(one for one, _ in self.with_bodies())

    def with_bodies(self) -> tuple[tuple[Diagnostic, tuple[str, ...]], ...]:
        """The same, each with the names of all bodies that meet it."""
        return tuple((group.as_one(), tuple(group.names)) for group in self._found.values())


@dataclass
class _Group:
    """The first diagnostic of a trouble, the bodies that meet it, and how far each figure of the first that has any
    ranges, and whether the notes of all are alike."""

    first: Diagnostic
    alike: bool = True
    names: dict[str, None] = field(default_factory=dict)
    ranges: dict[str, tuple[float, float]] = field(default_factory=dict)

    def widen(self, figures: Mapping[str, float]) -> None:
        names = self.ranges.keys() & figures.keys() if self.ranges else figures.keys()
        for name in figures:
            if name in names:
                low, high = self.ranges.get(name, (figures[name], figures[name]))
                self.ranges[name] = min(low, figures[name]), max(high, figures[name])

    def as_one(self) -> Diagnostic:
        if len(self.names) < 2:
            return self.first
        wide = ", ".join(f"{name} {low:.1f} to {high:.1f}" for name, (low, high) in self.ranges.items() if high - low >= 0.05)
        own = self.first.note if self.alike else f"{next(iter(self.names))}: {self.first.note}"
        note = "; ".join(said for said in (own, wide and f"of all these: {wide}") if said)
        return replace(self.first, note=note).on(named(list(self.names)))


def named(names: Sequence[str]) -> str:
    """`alto_3, alto_5, bass_2 and 20 bodies more`."""
    if len(names) > EXAMPLES:
        more = len(names) - EXAMPLES
        return f"{', '.join(names[:EXAMPLES])} and {more} {'body' if more == 1 else 'bodies'} more"
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
