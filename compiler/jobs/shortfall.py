"""Why a garment has less at a level than its block gives there: half of it missing, a piece not cut, the level cut away."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from ..diagnostics import fit_words as words
from ..graph.evaluate import Part
from ..meaning.style import CheckedStyle, Node
from ..pattern.levels import cut_away, level_length
from ..pattern.piece import Piece, Reals
from ..verbs.fitting import CUT, DRAFTED, LEAST, copies, halves, outer
from ..verbs.values import listed
from .numbers import number_at

MOST = 0.75
"""Pieces that come to less than this share of what their block gives there lack a half; with more, none is missing."""


@dataclass(frozen=True)
class Lying:
    """A piece at a level: its name, and how often it goes round the body."""

    name: str
    piece: Piece
    level: str
    times: float

    @cached_property
    def long(self) -> Reals:
        """How much (L,) mm of the level all of that is."""
        return level_length(self.piece, self.level) * self.times


class Shortfall:
    """A promise of a girth on the bodies of a part, looked at where the garment has less than its block."""

    def __init__(self, style: CheckedStyle, part: Part, index: int) -> None:
        node = style.nodes[index]
        self.level, self.round = node.words["at_level"], node.words["round"]
        called = {id(part.values[at]): name for name, at in style.pieces.items()}
        block, cut = (_pieces(part, node, kind) for kind in (DRAFTED, CUT))
        self.block = [self._lying("", one, halves(one, self.level)) for one in block]
        self.garment = [self._lying(called.get(id(one), ""), one, copies(one, self.level)) for one in outer(cut)]

    @cached_property
    def _away(self) -> Mapping[str, Mapping[str, Reals]]:
        return {one.name: cut_away(one.piece, self.level) for one in self.garment}

    def _lying(self, name: str, piece: Piece, times: float) -> Lying:
        return Lying(name, piece, self.level, times if self.round == "body" else 1.0)

    def why(self, lane: int, shown: Callable[[float], str]) -> Iterator[words.Told]:
        """The reasons that act on a body."""
        lone = [] if self.round != "body" else [one.name for one in self.garment if self._lacks_half(one, lane)]
        if lone:
            yield words.half_missing(lone)
        for part in dict.fromkeys(one.piece.covers for one in self.block if one.piece.covers is not None):
            if _sum(self._covering(self.block, part), lane) > LEAST > _sum(self._covering(self.garment, part), lane):
                yield words.part_missing(part, self.level)
        if opened := self.opened(lane, shown):
            yield words.cut_away(opened, self.level)

    def opened(self, lane: int, shown: Callable[[float], str]) -> list[tuple[str, str, str]]:
        """Edges that cut the level away on a body and are not said to open it, of which piece, and how much of it."""
        found = []
        for one in self.garment:
            for edge, off in self._away[one.name].items():
                if edge not in one.piece.finish.opens and (gone := number_at(off, lane) * one.times) > LEAST:
                    found.append((edge, one.name, shown(gone)))
        return found

    def _lacks_half(self, one: Lying, lane: int) -> bool:
        if one.times >= halves(one.piece, self.level):
            return False
        theirs = self._covering(self.garment, one.piece.covers)
        if not self.block:  # the style itself promises: what the whole is, nobody has said
            return len(theirs) == 1
        return _sum(theirs, lane) < MOST * _sum(self._covering(self.block, one.piece.covers), lane)

    def _covering(self, rows: Sequence[Lying], part: str | None) -> list[Lying]:
        return [one for one in rows if one.piece.covers == part]


def _pieces(part: Part, node: Node, kind: str) -> list[Piece]:
    """The pieces a promise is measured on that are drafted, or cut."""
    found = (part.values[at] for at in listed(node.args, kind))
    return [one for one in found if isinstance(one, Piece)]


def _sum(rows: Sequence[Lying], lane: int) -> float:
    return sum(number_at(one.long, lane) for one in rows)
