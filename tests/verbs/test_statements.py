"""Statements of a piece's block: what they state does not depend on the order they are written in."""

from __future__ import annotations

from itertools import permutations

import numpy as np
from godet.finish.finished import finished
from godet.graph.evaluate import evaluate
from godet.pattern.piece import Piece
from support.styles import written

STYLE = """language 1
style "S"

point a = starting_point
point b = starting_point outward 20 cm
point c = starting_point outward 20 cm up 30 cm
point d = starting_point up 30 cm

piece one {
    line hem from a to b
    line side from b to c
    line top from c to d
    line centre from d to a
    STATED
}
"""
SENTENCES = ("fold centre", "allow 1 cm", "allow 3 cm on hem", "turn_under 1 cm on hem", "cut 2 as pair")


def test_any_order_gives_the_same_cut_line() -> None:
    lines = []
    for order in permutations(SENTENCES):
        made = written(STYLE.replace("STATED", "\n    ".join(order)))
        assert made.style is not None
        (part,) = evaluate(made.style, made.population).parts
        piece = part.values[made.style.pieces["one"]]
        assert isinstance(piece, Piece)
        assert piece.fold is None  # a pair has a seam where the fold was
        lines.append(finished(piece).cut[0])
    assert all(np.array_equal(lines[0], line) for line in lines)
