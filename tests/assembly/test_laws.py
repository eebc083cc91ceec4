"""Laws of the assembly proof, on every style of the project: what is left out or exchanged is told, and names and order decide
nothing."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from godet.assembly.panels import Laid
from godet.assembly.proof import prove
from godet.assembly.said import GarmentSaid, SeamSaid
from godet.assembly.whole import Whole, whole
from godet.jobs.assembled import faults_of
from godet.jobs.garments import unlike
from godet.jobs.outcome import outcomes
from support.style_runs import PATTERNS, invented, prepared

STYLES = sorted(path.stem for path in PATTERNS.glob("*.style"))
MENS = ("mens_trousers", "tenor_shirt")
SIDES = ("left_", "right_")

MISSED = {
    # Darts are sewn without a sentence; the edge of a slit, and the facing on it, end in the closure too.
    "concert_top": {"drape_seam", "below_drape", "slit_edges"},
    "long_top": {"slit_edges"},
    # Of a piece that is folded along a line what nothing holds is taken to be turned in.
    "yoke_shirt": {"over_placket_edge"},
    # The mouth of a pocket is part of the side, which is sewn, and its bags are sewn to each other all round.
    "plain_trousers": {"front_pockets", "back_pockets"},
    "mens_trousers": {"front_pockets", "back_pockets"},
    "tenor_shirt": {"over_placket_edge"},
}

OBLONG = ("button_band",)
"""Turned over it is the same: two cut alike are a pair."""


@cache
def said_of(style: str) -> GarmentSaid:
    assembly = prepared(PATTERNS / f"{style}.style").assembly
    assert assembly is not None
    assert assembly.judged
    return assembly.whole.structure.said


@cache
def on_cloth(style: str) -> GarmentSaid:
    body = invented("bass_2" if style in MENS else "alto_3")
    (result,), _ = outcomes(prepared(PATTERNS / f"{style}.style", [body]))
    return said_of(style).on({one.name: one.alone().piece for one in result.pieces})


@cache
def laid_out(style: str) -> Whole:
    return whole(prove(on_cloth(style)))


def faults(said: GarmentSaid) -> list[str]:
    return [one.kind for one in faults_of(whole(prove(said)))]


@pytest.mark.parametrize("style", STYLES)
def test_a_style_of_the_project_makes_one_garment(style: str) -> None:
    assert faults(said_of(style)) == []
    made = laid_out(style)
    assert faults_of(made) == ()
    assert made.laid.amiss == (0, 0.0, 0, 0)


@pytest.mark.parametrize("style", STYLES)
def test_handles_are_whole(style: str) -> None:
    surface = laid_out(style).laid.surface
    assert surface.handles == 0.0
    assert surface.characteristic == 2 * surface.sheets - len(surface.openings)


@pytest.mark.parametrize("style", STYLES)
def test_a_seam_left_out_is_told(style: str) -> None:
    said, missed = said_of(style), set[str]()
    for name in dict.fromkeys(seam.sentence for seam in said.seams):
        rest = tuple(replace(one, after=(), caught_in=()) for one in said.seams if one.sentence != name)
        closures = tuple(one for one in said.closures if one.seam.partition(".")[0] != name)
        if not faults(replace(said, seams=rest, closures=closures)):
            missed.add(name)
    assert missed == MISSED.get(style, set())


def exchanged(seam: SeamSaid) -> Iterator[SeamSaid]:
    """The seam with an edge of one half exchanged for that of the other."""
    for run in ("left", "right"):
        edges = getattr(seam, run)
        for k, (owner, edge) in enumerate(edges):
            for one, other in (SIDES, SIDES[::-1]):
                if edge.startswith(one) and "." not in edge:  # a dart is sewn without a sentence
                    turned = (*edges[:k], (owner, other + edge.removeprefix(one)), *edges[k + 1 :])
                    yield replace(seam, left=turned) if run == "left" else replace(seam, right=turned)


@pytest.mark.parametrize("style", STYLES)
def test_a_left_for_a_right_is_told(style: str) -> None:
    said = said_of(style)
    for seam in (one for one in said.seams if one.worn != "both"):  # which means the same from the other side
        for wrong in exchanged(seam):
            seams = tuple(wrong if one is seam else one for one in said.seams)
            assert faults(replace(said, seams=seams)), (seam.name, wrong.left, wrong.right)


@pytest.mark.parametrize("style", STYLES)
def test_a_pair_cut_once_is_told(style: str) -> None:
    said = said_of(style)
    for name, piece in prove(said).pieces.items():
        if piece.laid is Laid.PAIR:
            once = replace(piece.said, cuts=(replace(piece.cut, count=1, mirrored=False),))
            assert faults(replace(said, pieces={**said.pieces, name: once})), name


@pytest.mark.parametrize("style", STYLES)
def test_a_pair_cut_alike_is_told(style: str) -> None:
    checked, said = prepared(PATTERNS / f"{style}.style").style, on_cloth(style)
    assert checked is not None
    for name, piece in prove(said).pieces.items():
        if piece.laid is Laid.PAIR and piece.count == 2:
            cloth = replace(piece.said.piece, was_fold=None)  # as it is where it is not cut apart at its fold
            alike = replace(piece.said, piece=cloth, cuts=(replace(piece.cut, mirrored=False),))
            made = whole(prove(replace(said, pieces={**said.pieces, name: alike})))
            told = [one.data["of"] for one in unlike(checked, made)]
            assert bool(told == [name] or faults_of(made)) != (name in OBLONG), name


@pytest.mark.parametrize("style", STYLES)
def test_the_order_of_sentences_tells_nothing_of_the_garment(style: str) -> None:
    said = on_cloth(style)
    seams, pieces = [*said.seams], [*said.pieces.items()]
    random.Random(7).shuffle(seams)
    random.Random(8).shuffle(pieces)
    made = whole(prove(replace(said, seams=tuple(seams), pieces=dict(pieces))))
    assert faults_of(made) == ()
    here, there = (
        sorted(sorted((atom.piece, atom.side) for atom in one.atoms) for one in each.laid.surface.openings)
        for each in (made, laid_out(style))
    )
    assert here == there

