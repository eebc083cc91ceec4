"""Declared seams on each body: what is sewn to what, whether the lengths and the notches go together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..finish.seams import SewnSeam
from ..geometry.lanes import Lanes, in_groups
from ..graph.evaluate import Part
from ..meaning.style import CheckedStyle
from ..pattern.piece import Piece
from ..pattern.walking import Match
from ..pattern.which_ends import Sewn
from ..verbs import sewing
from ..verbs.notching import STROKES
from ..verbs.values import Seam, listed
from .numbers import column
from .results import NotchPair, SeamResult
from .specification import named_places
from .stretches import StretchResult, stretches


@dataclass(frozen=True)
class DeclaredSeam:
    """A seam as its sentence says it, lengths left out, and its value on the bodies of a part."""

    said: SeamResult
    value: Seam

    def to_finish(self) -> SewnSeam:
        said, value = self.said, self.value
        return SewnSeam(said.name, value.how, said.left, said.right, value.left_mm, value.right_mm, said.strokes)


def declared(style: CheckedStyle, part: Part) -> list[DeclaredSeam]:
    """The seams as they are written."""
    values = {name: value for name, node in style.seams.items() if isinstance(value := part.values[node], Seam)}
    return [DeclaredSeam(said, values[said.name]) for said in (_said(style, *one) for one in values.items())]


def on_each_body(pieces: Mapping[str, Piece], seams: Sequence[DeclaredSeam], count: int) -> list[list[SeamResult]]:
    """Each seam on each of `count` bodies, its notches left out."""
    sewn = _SewnOn(pieces, [seam.said for seam in seams], count)
    rows = []
    for seam in seams:
        value, between = seam.value, _stretches(seam, sewn)
        columns = (column(one, count) for one in (value.left_mm, value.right_mm, sewing.holds(value)))
        rows.append(
            [
                replace(seam.said, left_mm=a, right_mm=b, holds=bool(held) and all(one.holds for one in parts), stretches=parts)
                for a, b, held, parts in zip(*columns, between, strict=True)
            ]
        )
    return rows


class _SewnOn:
    """How the pieces are sewn together, on all of `count` bodies or on some: what nothing but notches tells may differ."""

    def __init__(self, pieces: Mapping[str, Piece], seams: Sequence[SeamResult], count: int) -> None:
        self.pieces, self.seams, self.count = pieces, seams, count
        self.all = Sewn(pieces, seams)

    def some(self, lanes: Lanes) -> Sewn:
        if lanes.size == self.count:
            return self.all
        return Sewn({name: piece.take(lanes) for name, piece in self.pieces.items()}, self.seams)


def _stretches(seam: DeclaredSeam, sewn: _SewnOn) -> list[tuple[StretchResult, ...]]:
    """For each body the stretches of a seam between notches that have one name on both its sides."""
    named = seam.said.left, seam.said.right
    found: list[tuple[StretchResult, ...]] = [()] * sewn.count

    def on(lanes: Lanes) -> list[tuple[StretchResult, ...]]:
        return stretches(seam.value.take(lanes), named, sewn.some(lanes), int(lanes.size))

    for lanes, rows in in_groups(sewn.count, on):
        for lane, row in zip(lanes.tolist(), rows, strict=True):
            found[lane] = row
    return found


def walked_on_each(walk: Sequence[Match], count: int) -> list[tuple[NotchPair, ...]]:
    """The notches that meet when a seam is walked, for each of `count` bodies."""
    columns = [
        zip(*(column(one, count) for one in (pair.left, pair.right, pair.gap, *pair.strokes, pair.agrees)), strict=True)
        for pair in walk
    ]
    pairs = [[NotchPair(a, b, gap, int(m), int(n), bool(held)) for a, b, gap, m, n, held in rows] for rows in columns]
    return list(zip(*pairs, strict=True)) if pairs else [()] * count


def walked_too(row: SeamResult, notches: tuple[NotchPair, ...]) -> SeamResult:
    """A seam with its notches: it holds where these meet, too."""
    return replace(row, notches=notches, holds=row.holds and all(one.meets for one in notches))


def _said(style: CheckedStyle, name: str, value: Seam) -> SeamResult:
    node = style.nodes[style.seams[name]]
    ways = {index: way for way, index in style.attached.items()}
    others = {index: other for other, index in style.seams.items()}
    return SeamResult(
        name,
        value.how,
        named_places(style, node.args[value.how]),
        named_places(style, node.args["to"]),
        0.0,
        0.0,
        False,
        ways.get(node.args.get("sewn", -1), ""),
        tuple(others[arg] for arg in listed(node.args, "after") if arg in others),
        style.notes.get(name, ""),
        None if (said := node.words.get("notched")) is None else STROKES[said],
    )
