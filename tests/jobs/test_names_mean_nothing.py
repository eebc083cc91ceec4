"""What a cutter calls a piece, an edge or a point decides nothing: not which ends of a seam meet, nor how a notch is snipped."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.finish.seams import SewnSeam
from godet.finish.together import Garment, finish
from godet.graph.evaluate import Part
from godet.jobs.keeping import KEEP_NOTHING
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import Prepared
from godet.jobs.results import BodyResult
from godet.jobs.sewn import declared
from godet.pattern.edges import renamed
from godet.pattern.piece import Notch, Piece
from godet.pattern.which_ends import edge_named
from support.renaming import new_names, prepared_anew
from support.style_runs import PATTERNS, invented, prepared

STYLES = sorted(path.stem for path in PATTERNS.glob("*.style"))
MENS = ("mens_trousers", "tenor_shirt")


def body_of(style: str) -> Body:
    return invented("bass_2" if style in MENS else "alto_3")


def drawn(made: Prepared) -> tuple[BodyResult, Part]:
    (result,), evaluated = outcomes(made)
    assert not result.errors
    return result, evaluated.parts[0]


@cache
def as_written(style: str) -> tuple[BodyResult, Part]:
    return drawn(prepared(PATTERNS / f"{style}.style", [body_of(style)]))


def snips(notches: tuple[Notch, ...]) -> list[tuple[Any, ...]]:
    """The notches of a piece by side of the ring, place and strokes, in no order."""
    return sorted((one.side, round(float(one.at[0]), 6), one.strokes, one.stated) for one in notches)


def openings(one: BodyResult) -> list[tuple[Any, ...]]:
    """The openings of a garment, as far as they have no name."""
    return [
        (each.half, round(each.girth_mm, 6), round(each.opened_mm, 6), len(each.edges), len(each.closures))
        for each in one.assembly.openings
    ]


@pytest.mark.parametrize("style", STYLES)
def test_a_style_whose_names_mean_nothing_draws_the_same(style: str) -> None:
    (one, _), (other, _) = as_written(style), drawn(prepared_anew(PATTERNS / f"{style}.style", [body_of(style)]))
    assert [piece.name for piece in one.pieces] != [piece.name for piece in other.pieces]
    for here, there in zip((each.alone() for each in one.pieces), (each.alone() for each in other.pieces), strict=True):
        np.testing.assert_allclose(there.cut, here.cut, atol=1e-9)
        assert snips(there.piece.notches) == snips(here.piece.notches)
    for seam, twin in zip(one.seams, other.seams, strict=True):
        assert (twin.left_mm, twin.right_mm, twin.holds, twin.strokes) == (seam.left_mm, seam.right_mm, seam.holds, seam.strokes)
        assert twin.notches == seam.notches
    assert sorted(told.code for told in other.warnings) == sorted(told.code for told in one.warnings)
    assert [check.holds for check in other.checks] == [check.holds for check in one.checks]
    assert openings(other) == openings(one)
    assert (other.assembly.holds, other.assembly.wrong) == (one.assembly.holds, one.assembly.wrong) == (True, ())


class OwnNames:
    """Names of one piece, which no other piece has; the side of the body before them stays, and what stands behind a dot."""

    def __init__(self, owner: str) -> None:
        self.owner = owner
        self.known: dict[str, str] = {}

    def __call__(self, name: str) -> str:
        head, dot, rest = name.partition(".")
        side = next((word for word in ("left_", "right_") if head.startswith(word)), "")
        bare = head.removeprefix(side)
        return f"{side}{self.known.setdefault(bare, f'{self.owner}_{len(self.known)}')}{dot}{rest}"


def finished(pieces: dict[str, Piece], seams: list[SewnSeam]) -> Garment:
    ((_, garment),) = finish(pieces, seams, 1, KEEP_NOTHING)
    return garment


@pytest.mark.parametrize("style", ["concert_top", "plain_trousers", "pleated_skirt", "yoke_shirt"])
def test_no_piece_needs_to_call_its_edges_as_another_does(style: str) -> None:
    """Each piece with names of its own: the seams get the same notches, and those that nothing tells of are the same."""
    checked, (_, part) = prepared(PATTERNS / f"{style}.style").style, as_written(style)
    assert checked is not None
    pieces = {name: piece for name, node in checked.pieces.items() if isinstance(piece := part.values[node], Piece)}
    seams = [seam.to_finish() for seam in declared(checked, part)]
    calls = {name: OwnNames(f"p{k}") for k, name in enumerate(pieces)}

    def anew(places: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(f"{calls[owner].owner}.{calls[owner](edge)}" for owner, edge in map(edge_named, places))

    others = {calls[name].owner: renamed(piece, calls[name]) for name, piece in pieces.items()}
    resewn = [replace(one, left=anew(one.left), right=anew(one.right)) for one in seams]
    here, there = finished(pieces, seams), finished(others, resewn)
    assert there.unsettled == here.unsettled
    for (name, one), (_, other) in zip(here.pieces.items(), there.pieces.items(), strict=True):
        np.testing.assert_allclose(other.cut, one.cut, atol=1e-9, err_msg=name)
        assert snips(other.piece.notches) == snips(one.piece.notches)


def test_the_names_of_the_language_are_not_renamed() -> None:
    """Most names of styles and library are, and none that is a word of the language."""
    assert {"neckline", "shoulder", "armhole", "front", "front_cap", "waist_dart", "yoke_seam"} <= new_names().keys()
    assert not {"starting_point", "seam", "up", "waist_to_hip_height", "inner"} & new_names().keys()
