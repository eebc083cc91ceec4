"""How the seams of a garment are laid: as many ways as it takes, and no verdict on what was not tried."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from godet.assembly.laying import MOST
from godet.assembly.proof import Structure, prove
from godet.assembly.sewn import SewnOnce
from godet.assembly.surface import Outline, Surface, surface
from godet.assembly.ways import Way, meetings
from godet.assembly.whole import Whole, whole
from godet.jobs.assembled import in_words
from godet.jobs.outcome import outcomes
from godet.pattern.laid import SeamSide
from support.style_runs import PATTERNS, invented, prepared


@cache
def structure(style: str) -> Structure:
    """A style on cloth."""
    ready = prepared(PATTERNS / f"{style}.style", [invented("alto_3")])
    assert ready.assembly is not None
    (result,), _ = outcomes(ready)
    return prove(ready.assembly.whole.structure.said.on({one.name: one.alone().piece for one in result.pieces}))


def flipped(way: Way) -> Way:
    """The other way to lay a seam: its right side from the other end."""
    left, right = way
    return left, SeamSide(right.stretches[::-1], tuple(not one for one in right.forward[::-1]))


def laid_out(made: Structure, monkeypatch: pytest.MonkeyPatch) -> tuple[Whole, int]:
    """A garment laid out, and how often it took to lay it."""
    layings: list[Surface] = []

    def counted(outline: Outline, sewn: Sequence[SewnOnce], ways: Mapping[str, Way]) -> Surface:
        layings.append(surface(outline, sewn, ways))
        return layings[-1]

    monkeypatch.setattr("godet.assembly.laying.surface", counted)
    return whole(made), len(layings)


def test_a_garment_that_fits_as_it_is_first_laid_is_laid_once(monkeypatch: pytest.MonkeyPatch) -> None:
    made = structure("princess_dress_bodice")
    doubtful = replace(made, ways={name: [*ways, *map(flipped, ways)] for name, ways in made.ways.items()})
    one, layings = laid_out(doubtful, monkeypatch)
    assert (one.faults, layings) == ((), 1)


def test_where_not_all_ways_are_tried_nothing_is_said_of_the_best(monkeypatch: pytest.MonkeyPatch) -> None:
    """The right way of the first seam comes behind all ways of the others."""
    made = structure("princess_dress_bodice")
    doubtful = replace(made, ways={name: [*map(flipped, ways), *ways] for name, ways in made.ways.items()})
    assert 2 ** len(doubtful.ways) > MOST
    one, layings = laid_out(doubtful, monkeypatch)
    assert (one.faults, one.sure) == ((), False)
    assert MOST <= layings < 2 ** len(doubtful.ways)


def test_of_a_sketch_seams_that_may_lie_in_several_ways_are_not_tried_in_turn(monkeypatch: pytest.MonkeyPatch) -> None:
    assembly = prepared(PATTERNS / "gored_skirt.style").assembly
    assert assembly is not None
    one, layings = laid_out(assembly.whole.structure, monkeypatch)
    assert (one.sure, one.faults, layings) == (False, (), 1)


@pytest.mark.parametrize("style", ["gored_skirt", "puff_sleeve", "yoke_shirt"])
def test_a_seam_laid_the_wrong_way_is_told_by_what_it_does_to_the_cloth(style: str) -> None:
    """That the surface does not come out (`no_sheet`) is told of nothing else: a sheet of panels glued in pairs that shows one
    face has whole handles, and one that does not show one face is a twist."""
    made = structure(style)
    kinds = set()
    for name, ways in made.ways.items():
        one = whole(replace(made, ways={**made.ways, name: [*map(flipped, ways)]}))
        kinds |= {fault.kind for fault in one.faults}
        assert one.faults or not one.sure or not any(one.laid.amiss), name
    assert "twist" in kinds
    assert "no_sheet" not in kinds


@pytest.mark.parametrize("handles", [0.5, None])
def test_a_surface_that_does_not_come_out_is_told_at_a_seam(handles: float | None, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault of the laying itself, which no style is known to bring about: half a handle, or rings that do not close."""

    def torn(*given: Any) -> Surface:
        return replace(surface(*given), handles=handles)

    monkeypatch.setattr("godet.assembly.laying.surface", torn)
    made = whole(structure("gored_skirt"))
    assert [fault.kind for fault in made.faults] == ["no_sheet"]
    checked = prepared(PATTERNS / "gored_skirt.style").style
    assert checked is not None
    (told,) = in_words(checked, made.faults)
    assert (told.code, told.is_error) == ("W624", False)
    assert told.span is not None


def test_a_seam_of_one_half_meets_edges_of_that_half() -> None:
    """Written for one half and sewn on both, of a whole piece it is in the same edge of the other half."""
    made = structure("yoke_shirt")
    ends = list(meetings(made.pieces, made.sewn, made.ways))
    wrong = [
        (one.seam.name, made.pieces[atom.piece].side(atom).edge)
        for one in ends
        for atom in (one.own if one.seam.half else ())
        if made.pieces[atom.piece].half(atom) not in (None, one.seam.half)
    ]
    assert ("neck", "right") in {(one.seam.name, one.seam.half) for one in ends}
    assert not wrong


def test_a_seam_on_both_halves_of_a_piece_that_has_its_edge_on_one_is_told() -> None:
    """The whole yoke has no neckline on the right: there is no cloth for that half."""
    said = structure("yoke_shirt").said
    neck = said.seam("neck")
    assert neck is not None
    owner = next(owner for owner, edge in neck.edges if edge == "left_neckline")
    piece = said.pieces[owner]
    called = {"right_neckline": "odd"}
    ring = tuple(replace(side, names=tuple(called.get(name, name) for name in side.names)) for side in piece.piece.ring)
    bare = replace(said, pieces={**said.pieces, owner: replace(piece, piece=replace(piece.piece, ring=ring))})
    assert ("cut_once", (neck.name,)) in [(one.kind, one.sentences) for one in prove(bare).faults]
