"""Trims counted from what is marked on a piece."""

from dataclasses import replace

from godet.pattern.piece import Sign
from godet.verbs.measuring import OF
from support.drawn_pieces import front


def test_the_buttons_of_a_piece_are_counted_and_nothing_else_that_is_marked() -> None:
    marked = {"button.k1": "button", "button.k2": "button", "button.k3": "button", "buttonhole.k1": "buttonhole", "dart": "drill"}
    piece = replace(front(), signs={name: Sign(kind) for name, kind in marked.items()})  # type: ignore[arg-type]
    assert OF["button_count"].run(piece).tolist() == [3.0]
    assert OF["button_count"].run(front()).tolist() == [0.0]
