"""An opening that a seam runs over is named in full, whichever stretch of the seam it is in."""

from __future__ import annotations

import pytest
from godet.assembly.openings import sewn_over
from godet.assembly.panels import Layer, Pieces
from godet.assembly.said import GarmentSaid, PieceSaid, SeamSaid
from godet.assembly.sewn import SewnOnce, Stretch
from godet.pattern.piece import CutOrder, Piece, Side

RING = (Side(("hem",)), Side(("side", "mouth")), Side(("side", "low_side")), Side(("top",)), Side(("centre",)))
OPEN = frozenset(("mouth",))


def panel(name: str, openings: frozenset[str]) -> PieceSaid:
    return PieceSaid(name=name, piece=Piece(RING), cuts=(CutOrder(1),), openings=openings)


def run(*owners: str) -> tuple[Stretch, ...]:
    return tuple(Stretch((owner, "side"), (Layer(0),)) for owner in owners)


@pytest.mark.parametrize(
    ("there", "named"), [(("one",), ["one"]), (("two",), ["two"]), (("one", "two"), ["one", "two"])], ids=" and ".join
)
def test_a_seam_over_two_pieces_names_the_one_whose_opening_it_shuts(there: tuple[str, ...], named: list[str]) -> None:
    said = {name: panel(name, OPEN if name in there else frozenset()) for name in ("one", "two", "long")}
    seam = SeamSaid("long_seam", (("one", "side"), ("two", "side")), (("long", "side"),))
    garment = GarmentSaid(said, (seam,), (), ())
    (fault,) = sewn_over(Pieces.of(said), garment, [SewnOnce(seam, None, run("one", "two"), run("long"))])
    assert fault.edges == tuple((name, "mouth") for name in named)
