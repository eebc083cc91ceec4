"""Whether a change does the same in one place as in another."""

from __future__ import annotations

from collections.abc import Iterator

from ..geometry.tolerances import SEW
from .cloth import ClothDifference, PieceOnBody

Moved = dict[tuple[str, ...], tuple[float, ...]]
STILL = (0.0, 0.0, 0.0, 0.0)


def agree(one: ClothDifference, other: ClothDifference) -> bool:
    """Whether every line moves alike in both, to what a pencil line covers, and all else changes alike."""
    first, second = dict(_moves(one)), dict(_moves(other))
    close = all(
        abs(mine - theirs) <= SEW
        for key in {*first, *second}
        for mine, theirs in zip(first.get(key, STILL), second.get(key, STILL), strict=True)
    )
    return close and set(_else(one)) == set(_else(other))


def _moves(difference: ClothDifference) -> Iterator[tuple[tuple[str, ...], tuple[float, ...]]]:
    """Of each edge of each piece on each body: the most, the range across it, and by how much it is longer, mm."""
    for piece in difference.pieces:
        for on in piece.bodies:
            yield (piece.name, "", on.body), (on.cut_mm, 0.0, 0.0, 0.0)
            for edge in on.edges:
                across = edge.apart.normal if edge.apart is not None else (0.0, 0.0)
                yield (piece.name, edge.name, on.body), (edge.most, *across, edge.longer)


def _else(difference: ClothDifference) -> Iterator[object]:
    """What has no line that moves: pieces that come or go, how edges are cut, grain, what is said; numbers left out."""
    for piece in difference.pieces:
        if piece.present != "both":
            yield piece.name, piece.present
        for on in piece.bodies:
            yield from ((piece.name, *each) for each in _of_piece(on))
    for body in difference.bodies:
        if body.drawn not in ("both", "neither"):
            yield body.name, body.drawn
        for said in body.sayings:
            if said.present != "both" or said.holds[0] != said.holds[1] or said.words:
                yield body.name, said.kind, said.name, said.present, said.holds, tuple(said.words)


def _of_piece(on: PieceOnBody) -> Iterator[tuple[object, ...]]:
    for edge in on.edges:
        if edge.status != "paired" or edge.is_allowed_otherwise:
            yield on.body, edge.name, edge.status, edge.width, edge.under, edge.corner
    for one in on.stated:
        yield on.body, one
    if on.grain_deg is not None:
        yield on.body, "grain", round(on.grain_deg)
    if on.laying.mirrored:
        yield on.body, "mirrored"
