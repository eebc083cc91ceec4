"""Cloths that are cut and not used: layers that go together into every seam, where no seam tells one from another.

Two layers are told apart where a seam takes one without the other, as the edge of a collar sewn to itself, or takes as many
layers on both sides and tells those of the other side apart. Layers all of whose edges are in seams, as those of a yoke, lie
between what they are sewn to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .endings import Endings
from .faults import Fault
from .panels import Pieces
from .sewn import SewnOnce, Stretch

Bundle = tuple[str, frozenset[int]]
"""Panels of a piece that go into a seam as layers on each other."""


def spare(pieces: Pieces, sewn: Sequence[SewnOnce], ends: Endings) -> Iterator[Fault]:
    """Pieces cut more often than their seams use them."""
    rows = [(set(map(_bundle, seam.left)), set(map(_bundle, seam.right))) for seam in sewn]
    bundles = {one for row in rows for side in row for one in side}
    apart = {one for one in bundles if any(name == one[0] and panels < one[1] for name, panels in bundles)}
    while more := {one for one in bundles - apart if _beside_apart(one, rows, apart)}:
        apart |= more
    told: dict[str, Fault] = {}
    for name, panels in sorted(bundles - apart, key=lambda one: (one[0], sorted(one[1]))):
        if len(panels) > 1 and not _enclosed(ends, name, panels):
            (seam, *_) = (one.name for one in sewn if (name, panels) in map(_bundle, one.stretches()))
            told.setdefault(name, Fault("spare", (name, seam), pieces=(name,), counts=(pieces[name].count, len(panels))))
    yield from told.values()


def _bundle(stretch: Stretch) -> Bundle:
    return stretch.edge[0], frozenset(layer.panel for layer in stretch.layers)


def _beside_apart(bundle: Bundle, rows: Sequence[tuple[set[Bundle], set[Bundle]]], apart: set[Bundle]) -> bool:
    """Whether some seam lays a bundle layer on layer with one whose layers are told apart."""
    across = (other for row in rows for run, other in (row, row[::-1]) if bundle in run and other)
    return any(all(one in apart and len(one[1]) == len(bundle[1]) for one in others) for others in across)


def _enclosed(ends: Endings, name: str, panels: frozenset[int]) -> bool:
    """Whether every edge of some panels is in a seam."""
    found = [how for atom, how in ends.items() if atom.piece == name and atom.panel in panels]
    return all(any(one.how == "seam" for one in how) for how in found)
