"""What holds of every difference, on styles of the project."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
import shapely
from godet.difference.cloth import BodyCloth, ClothDifference, EdgeOnBody, compare, piece_on_body
from godet.difference.edges import edge_pairs
from godet.difference.figures import Figures
from godet.difference.outline import outline
from godet.difference.telling import lines_of, rows_of
from godet.finish.finished import FinishedPiece, finished
from godet.geometry.motion import Motion
from godet.geometry.path import Path, flatten_within
from godet.jobs.difference_cloth import body_cloth
from hypothesis import given, settings
from hypothesis import strategies as st
from support.drawn_pieces import moved, top
from support.style_runs import PATTERNS, invented, results

BODIES = {"concert_top": ("alto_3",), "yoke_shirt": ("alto_3",), "gored_skirt": ("soprano_1", "alto_3")}
CHANGES: Mapping[str, tuple[str, ...]] = {
    "concert_top": ("overarm = 24 cm", "drape = 3.4 cm"),
    "yoke_shirt": ("yoke_deep = 11 cm", "button_stand = 2 cm", "waist_to_hem = 23 cm"),
    "gored_skirt": ("flare = 9.3 cm",),
}


@lru_cache(maxsize=16)
def drawn(style: str, *choices: str) -> tuple[BodyCloth, ...]:
    return tuple(map(body_cloth, results(PATTERNS / f"{style}.style", [invented(name) for name in BODIES[style]], choices)))


@lru_cache(maxsize=16)
def change(style: str) -> ClothDifference:
    return compare(drawn(style), drawn(style, *CHANGES[style]))


def pieces(style: str) -> Iterator[tuple[str, FinishedPiece, FinishedPiece]]:
    """The pieces of a changed style on a body, before and after."""
    one, other = drawn(style)[0], drawn(style, *CHANGES[style])[0]
    return ((name, cloth, other.pieces[name]) for name, cloth in one.pieces.items())


def by_another_library(old: FinishedPiece, new: FinishedPiece) -> Iterator[tuple[EdgeOnBody, float]]:
    """What is told of each edge of a piece, and how far it moved by an independent library, laid as it is told to be."""
    one = piece_on_body("", old, new)
    told = {edge.name: edge for edge in one.edges}
    for pair in edge_pairs(outline(old), outline(new).laid(one.laying)):
        assert pair.old is not None
        assert pair.new is not None
        same = np.array_equal(pair.old.path.controls, pair.new.path.controls)
        yield told[pair.name], 0.0 if same else shapely.hausdorff_distance(lines(pair.old.path), lines(pair.new.path))


def lines(path: Path) -> shapely.Geometry:
    spans = [flatten_within(Path(path.controls[:, k : k + 1], path.straight[k : k + 1]), 1e-3) for k in range(path.spans)]
    return shapely.segmentize(shapely.MultiLineString(spans), 1.0)


@pytest.mark.parametrize("style", CHANGES)
def test_a_style_does_not_differ_from_itself(style: str) -> None:
    assert compare(drawn(style), drawn(style)).is_same


@pytest.mark.parametrize("style", CHANGES)
def test_backwards_all_is_told_the_other_way_round(style: str) -> None:
    back = compare(drawn(style, *CHANGES[style]), drawn(style))
    there = {(piece.name, one.body): one for piece in change(style).pieces for one in piece.bodies}
    for piece in back.pieces:
        for one in piece.bodies:
            forth = there[piece.name, one.body]
            turn = forth.laying.turn
            assert abs(one.laying.turn - turn.conjugate()) < 1e-9
            edges = {edge.name: edge for edge in forth.edges}
            assert {edge.name for edge in one.edges} == set(edges)
            for edge in one.edges:
                _mirrors(edge, edges[edge.name], turn)


def _mirrors(back: EdgeOnBody, forth: EdgeOnBody, turn: complex) -> None:
    assert back.most == pytest.approx(forth.most, abs=0.005), back.name
    assert back.longer == pytest.approx(-forth.longer, abs=1e-6)
    if back.apart is not None and forth.apart is not None:
        way = complex(*back.apart.vector) * turn
        # Where an edge moved evenly, the place at which it moved the most may be another one.
        if max(back.apart.whole, forth.apart.whole) < 0.5 and back.most > 0.5:
            assert abs(way + complex(*forth.apart.vector)) < 0.05 * back.most, back.name


@pytest.mark.parametrize("style", CHANGES)
def test_distances_are_those_of_an_independent_library(style: str) -> None:
    for name, old, new in pieces(style):
        for edge, far in by_another_library(old, new):
            assert edge.most == pytest.approx(far, abs=0.01), (name, edge.name)


@settings(max_examples=8)
@given(st.floats(-np.pi, np.pi), st.floats(-500.0, 500.0), st.floats(-500.0, 500.0))
def test_where_a_piece_lies_in_its_draft_is_no_difference(angle: float, x: float, y: float) -> None:
    motion = Motion(np.array([np.exp(1j * angle)]), np.array([complex(x, y)]))
    still = replace(top(), lines=())
    there = moved(still, motion)
    assert there.finish.grain is not None
    there = replace(there, finish=replace(there.finish, grain=there.finish.grain * motion.turn))
    one = piece_on_body("", finished(still), finished(there))
    assert one.is_same, [(edge.name, edge.most) for edge in one.edges if edge.most > 0.01]


@pytest.mark.parametrize(
    ("style", "setting"),
    [
        ("concert_top", "drape = 2.71 cm"),
        ("concert_top", "opening = 14.9 cm"),
        ("yoke_shirt", "cuff_deep = 6.37 cm"),
        ("gored_skirt", "long = 68.03 cm"),
    ],
)
def test_an_edit_is_told_with_each_edge_that_moved_and_no_other(style: str, setting: str) -> None:
    one, other = drawn(style)[0], drawn(style, setting)[0]
    found = 0
    for name, cloth in one.pieces.items():
        for edge, far in by_another_library(cloth, other.pieces[name]):
            assert edge.most == pytest.approx(far, abs=0.01), (name, edge.name)
            found += far > 0.01
    assert found
    assert not compare([one], [other]).is_same


@pytest.mark.parametrize("style", CHANGES)
def test_of_what_is_not_the_same_something_is_told_and_of_the_same_nothing(style: str) -> None:
    rows = rows_of(change(style))
    for piece in change(style).pieces:
        assert piece.is_same != any(piece.name in row.pieces for row in rows), piece.name
        for one in piece.bodies:
            assert one.is_same != bool(lines_of(one, Figures())), (piece.name, one.body)


def test_bodies_are_told_apart_and_none_is_left_out() -> None:
    for piece in change("gored_skirt").pieces:
        assert [one.body for one in piece.bodies] == [body.name for body in drawn("gored_skirt")]
