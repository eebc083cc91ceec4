"""The law of snips: on every bundled style and body each begins on the cut line, is 4 to 5 mm deep, and leaves the seam whole."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import shapely
from godet.finish.finished import FinishedPiece
from godet.finish.notching import ASLANT, KEPT, dart_snips, notch_strokes
from godet.geometry.length import length
from godet.geometry.path import flatten_fixed
from godet.pattern.piece import Notch, Reals
from support.style_runs import PATTERNS, on_all

FLATTENED = 0.05  # mm; how far the chords of the cut line lie off it


def snips(cloth: FinishedPiece) -> Iterator[tuple[str, float, Reals]]:
    """Each snip with the edge or dart it is on, and the allowance (mm) of that."""
    piece = cloth.piece
    for notch in piece.notches:
        name, wide = piece.ring[notch.side].edge, float(cloth.widths[notch.side][0])
        found = notch_strokes(cloth, notch)
        assert len(found) == notch.strokes or (len(found) == 1 and at_fold(cloth, notch)), (name, notch)
        yield from ((name, wide, one) for one in found)
    for dart in piece.darts:
        yield from ((dart.name, 10.0, one) for one in dart_snips(cloth, dart))


def at_fold(cloth: FinishedPiece, notch: Notch) -> bool:
    """Whether a notch stands where the piece is folded: the other half has its other stroke."""
    long, ring, at = float(length(cloth.piece.ring[notch.side].drawn)[0]), cloth.piece.ring, float(notch.at[0])
    beside = [ring[(notch.side + step) % len(ring)] for step in (-1, 1)]
    return any(cloth.piece.fold in one.names and near < 5.0 for one, near in zip(beside, (at, long - at), strict=True))


@pytest.mark.parametrize("style", sorted(PATTERNS.glob("*.style")), ids=lambda path: path.stem)
def test_every_snip_begins_on_the_cut_line_and_leaves_the_seam_whole(style: Path) -> None:
    count = 0
    for body in on_all(style):
        assert not body.errors
        for made in body.pieces:
            cloth = made.alone()
            cut = shapely.Polygon(cloth.cut[0])
            sewn = shapely.Polygon(np.concatenate([flatten_fixed(side.drawn, 64)[0][:-1] for side in cloth.piece.ring]))
            for name, wide, (outer, inner) in snips(cloth):
                told, deep = (body.name, made.name, name, wide), float(np.linalg.norm(outer - inner))
                assert cut.exterior.distance(shapely.Point(outer)) <= FLATTENED, told
                assert cut.buffer(FLATTENED).contains(shapely.Point(inner)), told
                if wide >= 4.0 + KEPT:
                    assert 4.0 - FLATTENED <= deep <= 5.0 + ASLANT, (*told, deep)
                if wide > 0.0:
                    assert not sewn.buffer(-FLATTENED).contains(shapely.Point(inner)), told
                count += 1
    assert count >= 60
