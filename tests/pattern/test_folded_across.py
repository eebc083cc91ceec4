"""A piece folded out or opened out along a line across it: laws on random skirts, several bodies at once."""

from dataclasses import replace

import numpy as np
import pytest
from godet.geometry.lanes import norm
from godet.geometry.length import point_at
from godet.geometry.path import flatten_fixed, line
from godet.pattern.across import folded_out, opened_out
from godet.pattern.check import faults
from godet.pattern.darts import apex_of, place_two_ended
from godet.pattern.edges import edge_length, edge_path
from godet.pattern.marks import with_lines
from godet.pattern.piece import HoleEnd, Piece, Reals, Trouble
from godet.pattern.shaping import shorten
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, lanes, names_of, same, skirt
from test_darts_on_a_piece import with_waist_dart

UP = np.array([[0.0, 1.0]])
ENDS: tuple[HoleEnd, HoleEnd] = ("upper", "lower")
law = settings(max_examples=25, deadline=None)


def across(widths: list[float], share: float = 0.5, level: bool = True) -> Piece:
    """A half skirt with a line from its centre to its side, a landmark above it and one below."""
    piece = skirt(widths)
    centre, side = (edge_path(piece, edge)[0] for edge in ("centre", "side"))
    a = point_at(centre, np.array([600.0 * share]))
    b = point_at(side, np.array([585.0 * (1.0 - share if level else 0.9 - share)]))
    marked = with_lines(piece, "hip_line", {"": line(a, b)}, "placement")
    spots = {"high": a + np.array([[60.0, 120.0]]), "low": a + np.array([[60.0, -120.0]])}
    return replace(marked, points={**marked.points, **spots})


def corners(piece: Piece, edge: str) -> Reals:
    return np.concatenate([flatten_fixed(path, 8) for path in edge_path(piece, edge)], axis=1)


def known(point: Reals | None) -> Reals:
    assert point is not None
    return point


def apart(piece: Piece, edges: tuple[str, ...]) -> Reals:
    """All distances between points of these edges: what an isometry leaves."""
    points = np.concatenate([corners(piece, edge) for edge in edges], axis=1)
    return np.asarray(np.linalg.norm(points[:, :, None] - points[:, None], axis=-1))


@law
@given(st.floats(0.3, 0.7), st.floats(1.0, 25.0), st.sampled_from(["centre", "side"]), st.booleans())
def test_a_wedge_is_gone_at_one_end_and_nothing_at_the_other(share: float, by: float, at: str, level: bool) -> None:
    before = across([240.0, 300.0], share, level)
    other = "side" if at == "centre" else "centre"
    for verb, sign in ((folded_out, -1.0), (opened_out, 1.0)):
        after = verb(before, "hip_line", at, lanes(by), "waistline")
        assert faults(after) == []
        slack = 0.02 if level else 0.12  # of a slanted line the edges do not meet: they are drawn to the middle
        np.testing.assert_allclose(edge_length(after, at) - edge_length(before, at), sign * by, atol=0.2 + slack * by)
        np.testing.assert_allclose(edge_length(after, other), edge_length(before, other), atol=1e-6)
        across_it = edge_length(before, "hip_line")
        np.testing.assert_allclose(area(after) - area(before), sign * by * across_it / 2.0, rtol=0.2)
        np.testing.assert_array_equal(corners(after, "waistline"), corners(before, "waistline"))  # it stays
        np.testing.assert_allclose(apart(after, ("hem",)), apart(before, ("hem",)), atol=1e-6)  # it is moved
        np.testing.assert_array_equal(known(after.points["high"]), known(before.points["high"]))
        now, then = (np.linalg.norm(corners(p, "hem") - known(p.points["low"])[:, None], axis=-1) for p in (after, before))
        np.testing.assert_allclose(now, then, atol=1e-6)
        assert names_of(after) == names_of(before) == names_of(verb(before.sketch(), "hip_line", at, lanes(by), "waistline"))


@law
@given(st.floats(0.3, 0.7), st.floats(1.0, 25.0))
def test_without_an_end_it_is_a_strip_all_along(share: float, by: float) -> None:
    before = across([240.0, 300.0], share)
    long = edge_length(before, "hip_line")
    for verb, sign in ((folded_out, -1.0), (opened_out, 1.0)):
        after = verb(before, "hip_line", None, lanes(by), "waistline")
        assert faults(after) == []
        np.testing.assert_allclose(area(after) - area(before), sign * by * long, rtol=0.03)
        moved = corners(after, "hem") - corners(before, "hem")
        np.testing.assert_allclose(np.linalg.norm(moved, axis=-1), by, atol=1e-6)
        np.testing.assert_allclose(moved - moved[:, :1], 0.0, atol=1e-6)  # a shift
        same(verb(after, "hip_line", None, lanes(0.0), None), after)


def test_the_line_itself_comes_to_lie_on_the_fold() -> None:
    before = across([240.0])
    after = folded_out(before, "hip_line", "centre", lanes(20.0), "waistline")
    lies = edge_path(after, "hip_line")
    assert len(lies) == 1
    np.testing.assert_allclose(edge_length(after, "hip_line"), edge_length(before, "hip_line"), atol=1e-6)


def test_the_part_that_is_named_stays() -> None:
    before = across([240.0])
    after = folded_out(before, "hip_line", "centre", lanes(20.0), "hem")
    np.testing.assert_array_equal(corners(after, "hem"), corners(before, "hem"))
    with pytest.raises(Trouble, match="does not tell which part stays"):
        folded_out(before, "hip_line", "centre", lanes(20.0), "side")


@law
@given(st.floats(1.0, 20.0), st.sampled_from(["centre", None]), st.floats(-30.0, 30.0))
def test_a_dart_with_two_ends_lies_over_the_line(by: float, at: str | None, up: float) -> None:
    """Its apexes go with the cloth they lie on, the middle of it, on the line, by half."""
    piece = across([240.0, 300.0], 0.45)
    on_line = point_at(edge_path(piece, "hip_line")[0], lanes(100.0))
    middle = on_line + UP * (up if abs(up) > 15.0 else 0.0)
    before = place_two_ended(
        piece, "waist_dart", middle=middle, width=lanes(24.0), upper_apex=middle + UP * 110.0,
        lower_apex=middle - UP * 120.0, inner=lanes(-1.0, 0.0)[None],
    )  # fmt: skip
    spots = {str(end): apex_of(before, "waist_dart", end) for end in ENDS}
    marked = replace(before, points={**before.points, **spots})
    for verb in (folded_out, opened_out):
        after = verb(marked, "hip_line", at, lanes(by), "waistline")
        assert faults(after) == []
        for end in ENDS:
            np.testing.assert_allclose(known(apex_of(after, "waist_dart", end)), known(after.points[end]), atol=1e-6)
        assert names_of(after) == names_of(marked)
        if at is None and abs(up) <= 15.0:
            for old, new in zip(marked.holes[0].sides, after.holes[0].sides, strict=True):
                if (np.abs(old.drawn.start - on_line).max(axis=1) < 15.0).all():
                    np.testing.assert_allclose(norm(new.drawn.start - old.drawn.start), by / 2.0, atol=1e-6)


def test_darts_in_the_way_and_lines_that_stop_short_are_told() -> None:
    piece = across([240.0])
    with pytest.raises(Trouble, match="runs through the dart"):
        folded_out(shorten(with_waist_dart(piece, 30.0), "waist_dart", lanes(-300.0)), "hip_line", "centre", lanes(10.0), None)
    assert faults(folded_out(with_waist_dart(piece, 30.0), "hip_line", "centre", lanes(10.0), None)) == []
    short = with_lines(piece, "short", {"": line(np.array([[0.0, 300.0]]), np.array([[100.0, 300.0]]))}, "placement")
    with pytest.raises(Trouble, match="does not end on the outline"):
        folded_out(short, "short", "centre", lanes(10.0), None)
    with pytest.raises(Trouble, match="less than nothing"):
        folded_out(piece, "hip_line", "centre", lanes(-10.0), None)
