"""Cuts and buttons about so far apart: as many as a body takes, and the same whether it is drawn alone or with others."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
from godet.geometry.length import length
from godet.pattern.edges import edge_length
from support.real_bodies import real_women
from support.style_runs import results

STYLE = Path(__file__).parent / "about_so_far_apart.style"


def test_each_body_has_the_number_that_comes_nearest() -> None:
    made = results(STYLE, real_women(40, 5))
    counts = set()
    for one in made:
        assert not one.errors
        pieces = {piece.name: piece.piece.take(np.array([piece.lane])) for piece in one.pieces}
        strips = [side for side in pieces["flared"].sides("hem") if not any(".gap_k" in name for name in side.names)]
        total = sum(float(length(side.drawn)[0]) for side in strips)
        assert abs(total / 40.0 - len(strips)) <= 0.5 + 1e-6
        folds = [name for name in pieces["pleated"].signs if name.endswith(".fold")]
        assert len(folds) == len(strips) - 1
        buttons = [point[0] for name, point in pieces["front"].points.items() if point is not None and "button.k" in name]
        gaps = [float(np.linalg.norm(b - a)) for a, b in pairwise(buttons)]
        room = float(edge_length(pieces["front"], "centre")[0]) - 115.0
        assert np.allclose(gaps, room / (len(buttons) - 1))
        assert abs(room / 50.0 - len(gaps)) <= 0.5 + 1e-6
        holes = {name for side in pieces["front"].lines for name in side.names if name.startswith("buttonhole.k")}
        assert len(holes) == len(buttons)
        counts.add((len(strips), len(buttons)))
    assert len(counts) > 2


def test_alone_and_together_are_the_same() -> None:
    women = real_women(6, 9)
    for one, together in zip(women, results(STYLE, women), strict=True):
        (alone,) = results(STYLE, [one])
        for mine, other in zip(alone.pieces, together.pieces, strict=True):
            assert mine.piece.edge_names() == other.piece.edge_names()
            for a, b in zip(mine.edges, other.edges, strict=True):
                assert a.name == b.name
                assert abs(a.length_mm - b.length_mm) < 1e-9
