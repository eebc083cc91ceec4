"""What operations tell about a piece stays with it: taken lanes, renamed edges, both halves unfolded."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from godet.geometry.path import line
from godet.pattern.edges import rename
from godet.pattern.outline import outline
from godet.pattern.piece import OperationNote, Piece, Sign
from godet.pattern.unfold import mirror, unfold


def half() -> Piece:
    corners = [np.array([[x, y], [x, y]], dtype=float) for x, y in ((0, 0), (100, 0), (100, 200), (0, 200))]
    names = ("hem", "side", "top", "centre")
    edges = [(name, line(corners[k], corners[(k + 1) % 4]), k, (k + 1) % 4) for k, name in enumerate(names)]
    made = outline(edges, fold="centre", worn="left", points={"spot": np.array([[50.0, 100.0]])})
    told = OperationNote("trued smooth", "hem", {"moved at most": np.array([1.0, 2.0])})
    return replace(made, signs={"spot": Sign("button")}).with_note(told)


def test_it_is_told_for_the_bodies_that_are_taken() -> None:
    taken = half().take(np.array([1]))
    assert taken.told[0].lengths["moved at most"].tolist() == [2.0]


def test_it_is_told_under_the_new_name_of_the_edge() -> None:
    renamed = rename(half(), {"hem": "low_edge", "spot": "button_place"})
    assert renamed.told[0].edge == "low_edge"
    assert renamed.signs["button_place"].kind == "button"


def test_both_halves_carry_the_signs() -> None:
    whole = unfold(half(), "centre")
    assert set(whole.signs) == {"left_spot", "right_spot"}
    assert set(whole.signs) == set(unfold(half().sketch(), "centre").signs)
    assert set(mirror(whole).signs) == set(whole.signs)


def test_a_sketch_tells_nothing() -> None:
    assert half().sketch().told == ()
    assert half().sketch().with_note(OperationNote("asked")).told == ()
