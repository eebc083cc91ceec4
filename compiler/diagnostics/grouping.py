"""One trouble that many bodies meet, told once: with their number, a few of them, and the range of its figures."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias

from .diagnostic import Diagnostic, Span

Key: TypeAlias = tuple[str, Span | None, object]

EXAMPLES = 3
"""So many bodies are named; of the others the number is told."""


def grouped(diagnostics: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
    """The diagnostics, those of one trouble (one code, one place, and `data["of"]`, or else the same words) as one, in the order
    in which they first come."""
    found: dict[Key, list[Diagnostic]] = {}
    for one in diagnostics:
        found.setdefault((one.code, one.span, one.data.get("of", one.message)), []).append(one)
    return tuple(_as_one(row) for row in found.values())


def _as_one(row: Sequence[Diagnostic]) -> Diagnostic:
    first, names = row[0], list(dict.fromkeys(one.body for one in row if one.body is not None))
    if len(names) < 2:
        return first
    ranges = _ranges([figures for one in row if isinstance(figures := one.data.get("figures"), Mapping)])
    note = "; ".join(said for said in (first.note, ranges and f"of all these: {ranges}") if said)
    return replace(first, note=note).on(_named(names))


def _named(names: Sequence[str]) -> str:
    """`alto_3, alto_5 and 20 bodies more`."""
    if len(names) > EXAMPLES:
        return f"{', '.join(names[:EXAMPLES])} and {len(names) - EXAMPLES} bodies more"
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _ranges(figures: Sequence[Mapping[str, float]]) -> str:
    """`left leg 110.2 to 118.4`, each figure in the unit in which it is told of one body."""
    said = []
    for name in figures[0] if figures else ():
        values = [row[name] for row in figures if name in row]
        if max(values) - min(values) >= 0.05:
            said.append(f"{name} {min(values):.1f} to {max(values):.1f}")
    return ", ".join(said)
