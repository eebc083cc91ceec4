"""Levels: carried by their cloth through every operation, measured as sewn."""

from __future__ import annotations

import numpy as np
import pytest
from godet.geometry.length import length
from godet.geometry.path import line
from godet.pattern.darts import open_to_edge, place_dart, place_two_ended
from godet.pattern.join import join
from godet.pattern.levels import NARROW, level_length, levels_of, with_level, with_level_edge
from godet.pattern.outline import outline
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.pivot import Into, IntoDart, pivot
from godet.pattern.routes import divide
from godet.pattern.slash import evenly, hinged, slash
from godet.pattern.unfold import unfold
from godet.pattern.unsewn import leave
from hypothesis import assume, given, settings
from hypothesis import strategies as st

LENGTHS = st.floats(5.0, 80.0)
law = settings(max_examples=25, deadline=None)


def at(x: float, y: float) -> Reals:
    return np.array([[x, y]])


def half(wide: float = 240.0, high: float = 400.0) -> Piece:
    """A half front, straight all round, its centre on x = 0, the hem on y = 0."""
    corners = {"low": at(0, 0), "out": at(wide, 0), "high": at(wide, high), "top": at(0, high)}
    rows = [
        ("hem", line(corners["low"], corners["out"]), "low", "out"),
        ("side", line(corners["out"], corners["high"]), "out", "high"),
        ("upper", line(corners["high"], corners["top"]), "high", "top"),
        ("centre", line(corners["top"], corners["low"]), "top", "low"),
    ]
    return outline(rows, fold="centre", worn="left")


def levelled(piece: Piece, height: float = 150.0, wide: float = 240.0, rise: float = 0.0) -> Piece:
    return with_level(piece, "bust", line(at(0, height), at(wide, height + rise)), ("centre", "side"))


@law
@given(st.floats(10.0, 390.0), st.floats(-5.0, 5.0))
def test_a_level_is_as_long_as_it_is_drawn(height: float, rise: float) -> None:
    made = levelled(half(), height, rise=rise)
    assert level_length(made, "bust")[0] == pytest.approx(np.hypot(240.0, rise), abs=1e-6)
    assert levels_of(made) == ("bust",)


@pytest.mark.parametrize("rise", [-6.0, -0.5, 0.5, 6.0])
def test_a_sloping_level_is_broken_by_a_dart_with_two_ends_at_its_widest(rise: float) -> None:
    """It runs through a lower leg and the upper leg across from it. Both lie on it where the slope meets legs of 100 mm, half as
    wide as the dart above: x = w / 2 (1 - rise x / 24000)."""
    middle = at(120, 150 + rise / 2)
    whole = place_two_ended(
        half(), "dart", middle=middle, width=np.array([30.0]), upper_apex=at(120, 250 + rise / 2),
        lower_apex=at(120, 50 + rise / 2), inner=at(-1, 0),
    )
    made = levelled(whole, rise=rise)
    assert sum("bust" in side.names for side in made.lines) == 2
    out = 15.0 / (1.0 + 15.0 * abs(rise) / 24000.0)
    assert level_length(made, "bust")[0] == pytest.approx((240.0 - 2 * out) * np.hypot(1.0, rise / 240.0), abs=1e-6)


@law
@given(LENGTHS, st.floats(0.1, 0.9))
def test_a_dart_takes_its_width_at_the_level_out_of_it(width: float, share: float) -> None:
    """By similar triangles a dart of 300 mm has at a height y the width w (1 - y / 300)."""
    assume(width * (1.0 - share) > NARROW)
    height = 300.0 * share
    darted = place_dart(half(), "dart", "hem", at=np.array([120.0]), width=np.array([width]), apex=at(120, 300))
    long = level_length(levelled(darted, height), "bust")[0]
    assert long == pytest.approx(240.0 - width * (1.0 - share), abs=1e-6)


@law
@given(LENGTHS)
def test_a_dart_with_two_ends_is_taken_out(width: float) -> None:
    wide, ends = np.array([width]), {"upper_apex": at(120, 280), "lower_apex": at(120, 30)}
    made = place_two_ended(half(), "dart", middle=at(120, 150), width=wide, inner=at(-1, 0), **ends)
    assert level_length(levelled(made), "bust")[0] == pytest.approx(240.0 - width, abs=1e-6)


@law
@given(LENGTHS, st.floats(-60.0, 60.0))
def test_a_slanted_level_is_parted_by_the_dart_it_runs_through(width: float, rise: float) -> None:
    """Through the middle of the dart, above it on one side and below it on the other: no part lies in the dart."""
    wide, ends = np.array([width]), {"upper_apex": at(120, 280), "lower_apex": at(120, 20)}
    made = place_two_ended(half(), "dart", middle=at(120, 150), width=wide, inner=at(-1, 0), **ends)
    marked = levelled(made, 150.0 - rise / 2.0, rise=rise)
    assert len(marked.lines) == 2
    whole = np.hypot(240.0, rise)
    assert level_length(marked, "bust")[0] == pytest.approx(sum(length(side.drawn)[0] for side in marked.lines), abs=1e-6)
    # By similar triangles: at the middle of legs 130 mm high the slant takes a little off the width.
    steep = abs(rise) / 240.0
    taken = width / 2.0 / (1.0 + steep * width / 2.0 / 130.0)
    assert level_length(marked, "bust")[0] == pytest.approx(whole - 2.0 * taken * whole / 240.0, abs=1e-6)


@law
@given(LENGTHS, st.floats(40.0, 260.0))
def test_a_pivoted_dart_leaves_the_level_as_long_as_it_was(width: float, height: float) -> None:
    assume(width * (1.0 - height / 300.0) > NARROW)
    darted = place_dart(half(), "dart", "hem", at=np.array([120.0]), width=np.array([width]), apex=at(120, 300))
    before = levelled(darted, height)
    after = pivot(before, "dart", [Into("other", "side", np.array([20.0]), None, "end")])
    assert level_length(after, "bust")[0] == pytest.approx(level_length(before, "bust")[0], abs=1e-6)


@law
@given(LENGTHS)
def test_a_dart_left_as_ease_gives_its_width_back(width: float) -> None:
    darted = place_dart(half(), "dart", "hem", at=np.array([120.0]), width=np.array([width]), apex=at(120, 300))
    loose = leave(levelled(darted), "dart", "ease")
    assert level_length(loose, "bust")[0] == pytest.approx(240.0, abs=1e-6)


@law
@given(st.integers(1, 4), LENGTHS)
def test_slashing_adds_what_is_opened_at_the_level(count: int, spread: float) -> None:
    """Parallel cuts add their whole width; hinged at the top, what a triangle has at that height, along the chord."""
    made = levelled(half())
    cuts = evenly(made, "hem", "upper", count)
    wide = np.array([spread])
    parallel = slash(made, cuts, [(wide, wide)] * count).piece
    assert level_length(parallel, "bust")[0] == pytest.approx(240.0 + count * spread, abs=1e-6)
    fanned = slash(made, cuts, hinged(cuts, "upper", [wide] * count)).piece
    share = (400.0 - 150.0) / 400.0
    assert level_length(fanned, "bust")[0] == pytest.approx(240.0 + count * spread * share, abs=1e-6)


@law
@given(LENGTHS)
def test_unfolding_doubles_and_dividing_parts_a_level(width: float) -> None:
    darted = place_dart(half(), "dart", "hem", at=np.array([120.0]), width=np.array([width]), apex=at(120, 300))
    made = levelled(darted)
    whole = unfold(made, "centre")
    assert levels_of(whole) == ("bust",)
    assert level_length(whole, "bust")[0] == pytest.approx(2.0 * level_length(made, "bust")[0], abs=1e-6)


def test_parts_of_a_divided_piece_have_the_level_together_and_joined_again_as_before() -> None:
    made = levelled(half())
    seam = line(at(100, 0), at(130, 400))
    parts = [divide(made, seam, ("hem", "upper"), keep=keep, called="seam") for keep in ("centre", "side")]
    assert sum(level_length(part, "bust")[0] for part in parts) == pytest.approx(240.0, abs=1e-6)
    one = join(parts[0], parts[1], "seam", "seam", naming="side_panel")
    assert level_length(one, "bust")[0] == pytest.approx(240.0, abs=1e-6)


def test_a_level_must_reach_the_edges_it_names() -> None:
    with pytest.raises(Trouble, match="does not reach `side`"):
        with_level(half(), "bust", line(at(0, 150), at(200, 150)), ("centre", "side"))


@law
@given(LENGTHS, LENGTHS)
def test_an_edge_that_is_a_level_is_as_long_as_it_is_sewn(width: float, spread: float) -> None:
    darted = place_dart(half(), "dart", "hem", at=np.array([60.0]), width=np.array([width]), apex=at(60, 300))
    made = with_level_edge(darted, "hip", "hem", ("centre", "side"))
    assert level_length(made, "hip")[0] == pytest.approx(240.0 - width, abs=1e-6)
    loose = leave(made, "dart", "ease")
    cuts = evenly(loose, "hem", "upper", 1)
    flared = slash(loose, cuts, hinged(cuts, "upper", [np.array([spread])])).piece
    whole = unfold(flared, "centre")
    assert level_length(whole, "hip")[0] == pytest.approx(2.0 * (240.0 + spread), abs=1e-6)
    assert levels_of(whole) == ("hip",)


@law
@given(LENGTHS, st.floats(20.0, 280.0))
def test_a_dart_opened_to_the_edge_parts_the_levels_below_it_and_at_its_point(width: float, height: float) -> None:
    """A dart closed into it turns the outer part only: level by level as much cloth as before, on both sides of the slit."""
    wide, ends = np.array([width]), {"upper_apex": at(120, 300), "lower_apex": at(120, 100)}
    upper = place_dart(half(), "bust_dart", "upper", at=np.array([120.0]), width=np.array([60.0]), apex=at(120, 300))
    made = place_two_ended(upper, "dart", middle=at(120, 180), width=wide, inner=at(-1, 0), **ends)
    marked = with_level(levelled(made, height), "chest", line(at(0, 300), at(240, 300)), ("centre", "side"))
    pivoted = pivot(open_to_edge(marked, "dart", "hem"), "bust_dart", [IntoDart("dart", None)])
    for level in ("bust", "chest"):
        assert level_length(pivoted, level)[0] == pytest.approx(level_length(marked, level)[0], abs=1e-6)
