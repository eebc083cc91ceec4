"""Laws of the assembly proof, on every style of the project: what is left out or exchanged is told, and names and order decide
nothing."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from godet.assembly.panels import Lying
from godet.assembly.proof import prove
from godet.assembly.said import GarmentSaid, SeamSaid
from godet.assembly.whole import Whole, whole
from godet.geometry.length import length
from godet.jobs.garments import unlike
from godet.jobs.outcome import outcomes
from support.style_runs import PATTERNS, invented, prepared

STYLES = sorted(path.stem for path in PATTERNS.glob("*.style"))
MENS = ("mens_trousers", "tenor_shirt")
SIDES = ("left_", "right_")

LIES_THERE = {
    "plain_trousers": {"fly_facing.zip_foot"},  # with the edge of the front, where the zip opens it
}

OBLONG = ("button_band",)
"""Turned over it is the same: two cut alike are a pair."""


# Of an edge exchanged for another of its piece that is as long: what is sewn then is the same garment.
THE_SAME = {
    "cowl_top": {"armhole_binding.lower_edge armhole_binding.upper_edge", "neck_binding.lower_edge neck_binding.upper_edge"},
    "plain_trousers": {"fly_guard.top fly_guard.bottom"},
    "puff_sleeve": {"waist_binding.lower_edge waist_binding.upper_edge"},
    "yoke_shirt": {  # over its fold the one edge lies on the other
        "button_band.lap_neckline button_band.inside_lap",
        "over_placket.hem over_placket.inside_hem",
        "under_strip.slit_edge under_strip.inside_edge",
        "yoke.left_neckline yoke.right_neckline",
    },
}
# It is not, and names do not tell: where the inside of a folded piece lies, and lengths, only cloth does; nor how many layers of
# an edge that is named once are meant.
AMISS = {
    "yoke_shirt": {
        "button_band.band_seam button_band.inside_edge",
        "button_band.neckline button_band.inside_neckline",
        "button_band.neckline button_band.inside_lap",
        "button_band.lap_neckline button_band.inside_neckline",
        "collar.outer_edge collar.seam_edge",
    },
}
LIKE = {"mens_trousers": "plain_trousers", "tenor_shirt": "yoke_shirt"}

NEAR = 0.05
"""An edge fits for another by length where they differ by no more than this share."""


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
    return [one.kind for one in whole(prove(said)).faults]


@pytest.mark.parametrize("style", STYLES)
def test_a_style_of_the_project_makes_one_garment(style: str) -> None:
    assert faults(said_of(style)) == []
    made = laid_out(style)
    assert made.faults == ()
    assert made.laid.amiss == (0, 0.0, 0, 0)


@pytest.mark.parametrize("style", STYLES)
def test_handles_are_whole(style: str) -> None:
    surface = laid_out(style).laid.surface
    assert surface.handles == 0.0
    assert surface.characteristic == 2 * surface.sheets - len(surface.openings)


def without(said: GarmentSaid, name: str) -> GarmentSaid:
    """A garment without one of its seams, and without what asks for that."""
    rest = tuple(replace(one, after=(), caught_in=()) for one in said.seams if one.sentence != name)
    return replace(said, seams=rest, closures=tuple(one for one in said.closures if one.seam.partition(".")[0] != name))


@pytest.mark.parametrize("style", STYLES)
def test_a_seam_left_out_is_told(style: str) -> None:
    """By names; of a part of an edge beside others, and of what is turned in along a line, on cloth."""
    said = said_of(style)
    for name in dict.fromkeys(seam.sentence for seam in said.seams):
        found = faults(without(said, name)) or faults(without(on_cloth(style), name))
        assert len(found) == 1, (name, found)  # one cause is told once


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


def fitting(said: GarmentSaid, cloth: GarmentSaid, seam: SeamSaid) -> Iterator[tuple[str, SeamSaid]]:
    """The seam with an edge exchanged for another of its piece that is as long."""
    for run in ("left", "right"):
        edges = getattr(seam, run)
        for k, (owner, edge) in enumerate(edges):
            sketch, piece = said.pieces[owner].piece, cloth.pieces[owner].piece
            for other in (name for name in sketch.edge_names() if sketch.run(name) and "." not in name):
                mine, its = (sum(float(length(side.drawn)[0]) for side in piece.sides(one)) for one in (edge, other))
                if not set(sketch.run(edge)) & set(sketch.run(other)) and abs(its - mine) <= NEAR * mine:
                    turned = (*edges[:k], (owner, other), *edges[k + 1 :])
                    changed = replace(seam, left=turned) if run == "left" else replace(seam, right=turned)
                    yield f"{owner}.{edge} {owner}.{other}", changed


@pytest.mark.parametrize("style", STYLES)
def test_another_edge_of_the_piece_that_is_as_long_is_told(style: str) -> None:
    said, missed = said_of(style), set[str]()
    for seam in said.seams:
        for name, wrong in fitting(said, on_cloth(style), seam):
            seams = tuple(wrong if one is seam else one for one in said.seams)
            missed |= set() if faults(replace(said, seams=seams)) else {name}
    like = LIKE.get(style, style)
    assert missed == THE_SAME.get(like, set()) | AMISS.get(like, set())


# A closure left out is told by names where an edge of a facing lay on it, or what it opened is marked as an opening. A slit faced
# all round, without one, is still a garment: a neck with a slit.
CLOSED = {"gored_skirt", "mens_trousers", "plain_trousers", "pleated_skirt", "princess_dress_bodice", "puff_sleeve"}


@pytest.mark.parametrize("style", STYLES)
def test_a_closure_left_out_is_told(style: str) -> None:
    assert bool(faults(replace(said_of(style), closures=()))) == (style in CLOSED)


@pytest.mark.parametrize("style", STYLES)
def test_an_edge_taken_out_of_a_way_of_sewing_is_told(style: str) -> None:
    """One at a time, and all of them; by names, or on cloth."""
    said, missed = said_of(style), set[str]()
    used = {seam.sewn for seam in said.seams}
    for way in said.sewing:
        for rest in ((), *(tuple(one for one in way.on if one != edge) for edge in way.on)):
            ways = tuple(replace(one, on=rest) if one is way else one for one in said.sewing)
            idle = () if rest or way.name in used else (way.name,)
            by_names = faults(replace(said, sewing=ways, idle=idle))
            if not by_names and not faults(replace(on_cloth(style), sewing=ways, idle=idle)):
                missed |= {".".join(edge) for edge in way.on if edge not in rest}
    assert missed == LIES_THERE.get(LIKE.get(style, style), set())


@pytest.mark.parametrize("style", STYLES)
def test_a_pair_cut_once_is_told(style: str) -> None:
    said = said_of(style)
    for name, piece in prove(said).pieces.items():
        if piece.lying is Lying.PAIR:
            once = replace(piece.said, cuts=(replace(piece.cut, count=1, mirrored=False),))
            assert faults(replace(said, pieces={**said.pieces, name: once})), name


@pytest.mark.parametrize("style", STYLES)
def test_a_pair_cut_alike_is_told(style: str) -> None:
    checked, said = prepared(PATTERNS / f"{style}.style").style, on_cloth(style)
    assert checked is not None
    for name, piece in prove(said).pieces.items():
        if piece.lying is Lying.PAIR and piece.count == 2:
            cloth = replace(piece.said.piece, was_fold=None)  # as it is where it is not cut apart at its fold
            alike = replace(piece.said, piece=cloth, cuts=(replace(piece.cut, mirrored=False),))
            made = whole(prove(replace(said, pieces={**said.pieces, name: alike})))
            told = [one.data["of"] for one in unlike(checked, made)]
            assert bool(told == [name] or made.faults) != (name in OBLONG), name


@pytest.mark.parametrize("style", STYLES)
def test_the_order_of_sentences_tells_nothing_of_the_garment(style: str) -> None:
    said = on_cloth(style)
    seams, pieces = [*said.seams], [*said.pieces.items()]
    random.Random(7).shuffle(seams)
    random.Random(8).shuffle(pieces)
    made = whole(prove(replace(said, seams=tuple(seams), pieces=dict(pieces))))
    assert made.faults == ()
    here, there = (
        sorted(sorted((atom.piece, atom.side) for atom in one.atoms) for one in each.laid.surface.openings)
        for each in (made, laid_out(style))
    )
    assert here == there

