"""How much more or less cloth the raw edge of a hem has than the place it is turned onto."""

from __future__ import annotations

import numpy as np
import pytest
from godet.finish.curved_hems import turned_up
from godet.geometry.path import Path, chain, line
from godet.pattern.piece import Finish, Piece, Side
from support.drawn_pieces import bent, points, wide


def hemmed(hem: Path) -> tuple[float, float]:
    """By which shares the raw edge of a panel is longer and shorter, above a hem that is turned up by 60 mm."""
    upper = points((800, 900), (0, 900))
    corners = [hem.end, upper[:, 0], upper[:, 1], hem.start]
    rest = (Side((name,), line(corners[i], corners[i + 1])) for i, name in enumerate(("side", "top", "centre")))
    piece = Piece((Side(("hem",), hem), *rest), finish=Finish(allowances={"hem": wide(60.0, "shaped_to_fold")}))
    (one,) = turned_up(piece, ())
    return float(one.longer[0]), float(one.shorter[0])


def arcs(*signs: float) -> Path:
    """Quarters of circles of 500 mm radius, one after the other, each bent down (1) or up (-1)."""
    chord, depth = 500.0 * np.sqrt(2.0), 500.0 * (1.0 - np.sqrt(0.5))
    quarters = []
    for k, sign in enumerate(signs):
        spots = points((k * chord, 0.0), ((k + 0.5) * chord, -sign * depth), ((k + 1.0) * chord, 0.0))
        quarters.append(bent(spots, (1.0, -sign), (1.0, sign)))
    return chain(quarters)


@pytest.mark.parametrize(
    ("signs", "shares"),
    [((1.0,), (0.24, 0.0)), ((-1.0,), (0.0, 0.24)), ((1.0, -1.0), (0.12, 0.12))],
    ids=["round", "hollow", "an S"],
)
def test_a_round_hem_is_longer_and_a_hollow_one_shorter(signs: tuple[float, ...], shares: tuple[float, float]) -> None:
    """Twice its depth by its angle, over its length: 2 * 60 / 500; of an S half of that each way."""
    assert hemmed(arcs(*signs)) == pytest.approx(shares, rel=0.06, abs=0.002)


def test_a_straight_hem_is_not_full() -> None:
    at = points((0, 0), (800, 0))
    assert hemmed(line(at[:, 0], at[:, 1])) == pytest.approx((0.0, 0.0), abs=1e-9)
