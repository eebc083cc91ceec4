"""Which edge of the new piece is which of the old one: by name; then by place, renamed or parted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..geometry.path import chain
from .distance import off_chords, share
from .laying import ON
from .outline import Edge, Outline

Status = Literal["paired", "renamed", "parted", "new", "gone"]

IN_PLACE = 0.9
"""An edge lies in the place of another where this share of both lies on the other."""


@dataclass(frozen=True, eq=False)
class EdgePair:
    """Edges that are one edge: the old ones and the new ones by name, each taken together as one; none on one side where an edge
    is new or gone."""

    status: Status
    old: Edge | None
    new: Edge | None
    old_names: tuple[str, ...]
    new_names: tuple[str, ...]

    @property
    def either(self) -> tuple[Edge, Edge]:
        """The old edge and the new one; of one that is new or gone, it itself twice."""
        one, other = self.old or self.new, self.new or self.old
        if one is None or other is None:
            raise AssertionError(f"a pair of edges without an edge: {self.old_names}, {self.new_names}")
        return one, other

    @property
    def name(self) -> str:
        """As it is called now, or was."""
        return " and ".join(self.new_names or self.old_names)


def edge_pairs(old: Outline, new: Outline) -> list[EdgePair]:
    """All edges of a piece, the new one laid on the old one, in ring order of the old one, then what is new."""
    found = [EdgePair("paired", edge, new.edges[name], (name,), (name,)) for name, edge in _both(old, new)]
    same = {pair.name for pair in found}
    left, come = ([edge for name, edge in side.edges.items() if name not in same] for side in (old, new))
    for one, other in _in_place(left, come):
        found.append(_pair(one, other))
    were = {name for pair in found for name in pair.old_names}
    are = {name for pair in found for name in pair.new_names}
    found += [EdgePair("gone", edge, None, (edge.name,), ()) for edge in left if edge.name not in were]
    found += [EdgePair("new", None, edge, (), (edge.name,)) for edge in come if edge.name not in are]
    places = {name: k for k, name in enumerate(old.edges)}
    return sorted(found, key=lambda pair: places[pair.old_names[0]] if pair.old_names else len(places))


def _both(old: Outline, new: Outline) -> Iterator[tuple[str, Edge]]:
    return ((name, edge) for name, edge in old.edges.items() if name in new.edges and edge.kind == new.edges[name].kind)


def _in_place(left: Sequence[Edge], come: Sequence[Edge]) -> Iterator[tuple[list[Edge], list[Edge]]]:
    """Edges that lost their name and those that lie where they lay: one for one, or one for all that lie on it."""
    free = list(come)
    for one in left:
        parts = [other for other in free if other.kind == one.kind and _lies_on(other, one)]
        if parts and _lies_on(one, _together(parts)):
            free = [other for other in free if other not in parts]
            yield [one], parts
    rest = [one for one in left if not any(_lies_on(one, other) for other in come if other not in free)]
    for other in list(free):
        parts = [one for one in rest if one.kind == other.kind and _lies_on(one, other)]
        if len(parts) > 1 and _lies_on(other, _together(parts)):
            yield parts, [other]


def _lies_on(one: Edge, other: Edge) -> bool:
    return share(one.sampled, off_chords(one.sampled.points, other.sampled) <= ON) >= IN_PLACE


def _together(parts: Sequence[Edge]) -> Edge:
    """Edges that follow each other as one."""
    if len(parts) == 1:
        return parts[0]
    cuts = [part.cut for part in parts if part.cut is not None]
    ends = parts[0].ends[0], parts[-1].ends[1]
    return replace(parts[0], path=chain([part.path for part in parts]), cut=chain(cuts) if cuts else None, ends=ends)


def _pair(one: Sequence[Edge], other: Sequence[Edge]) -> EdgePair:
    status: Status = "renamed" if len(one) == len(other) == 1 else "parted"
    names = tuple(edge.name for edge in one), tuple(edge.name for edge in other)
    return EdgePair(status, _together(one), _together(other), *names)


