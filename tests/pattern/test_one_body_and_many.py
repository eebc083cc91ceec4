"""A batch gives what one by one gives, wherever the draft lies and however it is turned."""

from collections.abc import Callable

import numpy as np
import pytest
from godet.geometry.motion import Motion, rotation, then, translation
from godet.pattern.across import folded_out, opened_out
from godet.pattern.darts import open_to_edge
from godet.pattern.edges import edge_from, edge_length
from godet.pattern.piece import Piece
from godet.pattern.pivot import Into, pivot
from godet.pattern.pleating import Pleating
from godet.pattern.pleats import pleat
from godet.pattern.raising import raised
from godet.pattern.slash import AtApex, SlashLine, evenly, hinged, on_edge, slash
from godet.pattern.truing import Seamed, at_angle, blended, rounded_joint, true_edge
from godet.pattern.unfold import unfold
from godet.pattern.unsewn import leave
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import front, lanes, moved, same, skirt
from test_darts_on_a_piece import diamond, with_waist_dart
from test_folded_across import across


def _pivoted(piece: Piece) -> Piece:
    end = edge_from(piece, "shoulder", "neckline")
    return pivot(piece, "bust_dart", [Into("s", "shoulder", edge_length(piece, "shoulder") * 0.4, lanes(0.6), end)])


def _flared(piece: Piece) -> Piece:
    cuts = evenly(piece, "hem", "waistline", 3)
    return true_edge(slash(piece, cuts, hinged(cuts, "waistline", [lanes(25.0)] * 3)).piece, "hem")[0]


def _to_apex(piece: Piece) -> Piece:
    cut = SlashLine(on_edge(piece, "hem", 0.6), AtApex("waist_dart"))
    return slash(piece, [cut], [(lanes(6.0), lanes(0.0))]).piece


def _pleated(piece: Piece) -> Piece:
    told = Pleating("knife", (lanes(12.0), lanes(7.0)), "side", free="hem")
    return pleat(piece, evenly(piece, "waistline", "hem", 2), told, still="centre")


def _over_the_side(piece: Piece) -> Piece:
    other = at_angle(piece, "hem", "side", lanes(1.4))[0]
    return blended(Seamed(piece, "hem", "side"), Seamed(other, "hem", "side"), lanes(90.0), shifted=True)[0]


CASES: dict[str, tuple[Callable[[list[float]], Piece], Callable[[Piece], Piece]]] = {
    "pivot": (lambda sizes: front([size / 250.0 for size in sizes]), _pivoted),
    "flare": (skirt, _flared),
    "apex": (lambda sizes: with_waist_dart(skirt(sizes)), _to_apex),
    "pleat": (skirt, _pleated),
    "open": (lambda sizes: diamond(skirt(sizes)), lambda piece: open_to_edge(piece, "waist_dart", "hem")),
    "leave": (lambda sizes: with_waist_dart(skirt(sizes)), lambda piece: leave(piece, "waist_dart")),
    "square": (skirt, lambda piece: at_angle(piece, "hem", "side", lanes(np.pi / 2.0), lanes(80.0))[0]),
    "blend": (skirt, _over_the_side),
    "joint": (lambda sizes: front([size / 250.0 for size in sizes]), lambda piece: rounded_joint(piece, "side", "waistline")[0]),
    "raise": (skirt, lambda piece: raised(piece, "hem", lanes(12.0))),
    "fold out": (across, lambda piece: folded_out(piece, "hip_line", "centre", lanes(15.0), None)),
    "open out": (across, lambda piece: opened_out(piece, "hip_line", None, lanes(15.0), None)),
    "unfold": (lambda sizes: diamond(skirt(sizes)), lambda piece: unfold(piece, "centre")),
}
SIZES = [200.0, 235.0, 300.0]


@pytest.mark.parametrize("case", CASES)
def test_a_batch_gives_what_one_by_one_gives(case: str) -> None:
    draft, work = CASES[case]
    together = work(draft(SIZES))
    for k, size in enumerate(SIZES):
        same(work(draft([size])), together.take(np.array([k])))


@pytest.mark.parametrize("case", CASES)
@settings(max_examples=8, deadline=None)
@given(st.floats(-3.0, 3.0), st.floats(-500.0, 500.0))
def test_the_place_and_turn_of_the_draft_make_no_difference(case: str, turn: float, shift: float) -> None:
    draft, work = CASES[case]
    motion: Motion = then(rotation(np.zeros((1, 2)), lanes(turn)), translation(lanes(shift, -shift)[None]))
    same(work(moved(draft(SIZES), motion)), moved(work(draft(SIZES)), motion), 1e-6)


@pytest.mark.parametrize("case", CASES)
def test_names_of_cloth_are_those_of_the_sketch(case: str) -> None:
    draft, work = CASES[case]
    if case in ("open", "leave", "unfold"):
        cloth, sketch = work(draft(SIZES)), work(draft(SIZES).sketch())
        assert set(cloth.edge_names()) == set(sketch.edge_names())
        assert cloth.dart_names() == sketch.dart_names()
        assert set(cloth.removed) == set(sketch.removed)
