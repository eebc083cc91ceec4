"""Buttons, buttonholes and places: spaced as asked, on the cloth, and known by name without a body."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from godet.geometry.lanes import Disagreement
from godet.geometry.length import length, nearest, part, point_at
from godet.geometry.path import chain, line
from godet.pattern.edges import edge_path
from godet.pattern.marks import Spacing, holes, laid, laid_names, places, with_lines, with_points, with_slit
from godet.pattern.piece import Piece, Trouble
from godet.pattern.spacing import About
from godet.pattern.unfold import mirror, unfold
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import lanes, names_of, skirt
from support.drawn_pieces import front, polygon


def spacing(
    edge: str, mark: str, count: int, first: float, last: float, inset: float = 0.0, through: str | None = None
) -> Spacing:
    return Spacing(edge, mark, count, lanes(first), lanes(last), lanes(inset), through)


def marked(piece: Piece, y: float) -> Piece:
    """The piece with a point of the height of `y` shares of its centre, in all its lanes."""
    centre = piece.sides("centre")[0].drawn
    return replace(piece, points={"bust_point": point_at(centre, y * length(centre)) + np.array([[90.0, 0.0]])})


def along(piece: Piece, edge: str, mark: str) -> list[float]:
    """Distances of the marks of one body from an end of an edge: that which lies on `mark`."""
    path = chain(edge_path(piece, edge))
    end = shapely.LineString(np.concatenate([np.stack([p.start[0], p.end[0]]) for p in edge_path(piece, mark)]))
    total = float(length(path)[0])
    from_start = end.distance(shapely.Point(path.start[0])) < end.distance(shapely.Point(path.end[0]))
    found = [float(nearest(path, point)[0][0]) for name, point in piece.points.items() if point is not None and "." in name]
    return [at if from_start else total - at for at in found]


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from([("centre", "neckline"), ("centre", "waistline"), ("armhole", "side"), ("neckline", "shoulder")]),
    st.integers(1, 9), st.floats(0, 40), st.floats(0, 40), st.floats(0, 30),
)  # fmt: skip
def test_they_are_evenly_spaced_between_the_first_and_the_last(
    where: tuple[str, str], count: int, first: float, last: float, inset: float
) -> None:
    edge, mark = where
    piece = front()
    found = places(piece, spacing(edge, mark, count, first, last))
    made = with_points(piece, "button", found, "button")
    total = float(length(chain(edge_path(piece, edge)))[0])
    expected = np.linspace(first, total - last, count) if count > 1 else np.array([first])
    assert along(made, edge, mark) == pytest.approx(expected, abs=1e-6)
    for outer, inner in zip(found, places(piece, spacing(edge, mark, count, first, last, inset)), strict=True):
        assert np.linalg.norm(inner.at - outer.at) == pytest.approx(inset, abs=1e-9)
        cloth = shapely.Polygon(np.concatenate([side.drawn.controls[0, :, 0] for side in piece.ring]))
        assert inset == 0.0 or edge != "centre" or cloth.covers(shapely.Point(inner.at[0]))


@settings(max_examples=30, deadline=None)
@given(st.floats(0.2, 0.8), st.integers(2, 9), st.floats(0, 40), st.floats(0, 40))
def test_one_lies_beside_the_point_and_the_last_no_further_than_asked(y: float, count: int, first: float, last: float) -> None:
    piece = marked(front(np.array([0.8, 1.0, 1.3])), y)
    found = places(piece, spacing("centre", "neckline", count, first, last, through="bust_point"))
    tops = np.stack([place.at[:, 1] for place in found], axis=1)
    neck = chain(edge_path(piece, "centre")).start[:, 1]
    apart = -np.diff(tops, axis=1)
    point = piece.points["bust_point"]
    assert point is not None
    assert apart == pytest.approx(np.broadcast_to(apart[:, :1], apart.shape), abs=3e-9)
    assert neck - tops[:, 0] == pytest.approx(first, abs=1e-9)
    assert (tops[:, -1] >= last - 1e-6).all()
    assert np.abs(tops - point[:, 1:]).min(axis=1) == pytest.approx(0.0, abs=1e-6)


def test_a_buttonhole_begins_a_little_past_its_button() -> None:
    piece = front()
    where = spacing("centre", "neckline", 3, 20.0, 40.0, inset=15.0)
    found = places(piece, where)
    for place, across, onward in zip(
        found,
        holes(piece, found, lanes(20.0), lanes(3.0), "centre", where),
        holes(piece, found, lanes(20.0), lanes(3.0), None, where),
        strict=True,
    ):
        x, y = place.at[0]
        assert np.concatenate([across.start[0], across.end[0]]) == pytest.approx([x - 3.0, y, x + 17.0, y])
        assert np.concatenate([onward.start[0], onward.end[0]]) == pytest.approx([x, y + 3.0, x, y - 17.0])


def test_seen_from_the_other_end_the_point_has_its_mark_and_the_buttonhole_begins_there() -> None:
    piece = marked(front(), 0.7)
    where = spacing("centre", "waistline", 4, 20.0, 40.0, through="bust_point")
    found = places(piece, where)
    point = piece.points["bust_point"]
    assert point is not None
    assert min(abs(place.at[0, 1] - point[0, 1]) for place in found) < 1e-6
    for place, hole in zip(found, holes(piece, found, lanes(20.0), lanes(3.0), None, where), strict=True):
        x, y = place.at[0]
        assert np.concatenate([hole.start[0], hole.end[0]]) == pytest.approx([x, y - 3.0, x, y + 17.0])


@pytest.mark.parametrize(("limit", "fits"), [(4, True), (3, False)])
def test_marks_so_far_apart_are_no_more_than_the_limit(limit: int, fits: bool) -> None:
    where = replace(spacing("centre", "neckline", 2, 20.0, 10.0), many=About(lanes(100.0), limit))
    if fits:
        assert len(places(front(), where)) == 4
        return
    with pytest.raises(Trouble, match="more than 3 find room"):
        places(front(), where)


def test_a_slit_in_a_seam_is_notched_where_it_ends_but_not_close_to_a_corner() -> None:
    piece = front()
    side = piece.sides("side")[0].drawn
    made = with_slit(piece, "opening", part(side, lanes(5.0), lanes(80.0)))
    (notch,) = made.notches[len(piece.notches) :]
    assert made.ring[notch.side].edge == "side"
    assert notch.at == pytest.approx([80.0])


def test_a_buttonhole_is_not_cut_into_the_edge_it_stands_on() -> None:
    piece = front()
    where = spacing("centre", "neckline", 3, 20.0, 40.0)
    with pytest.raises(Trouble, match="on the very edge"):
        holes(piece, places(piece, where), lanes(20.0), lanes(3.0), "centre", where)


def test_marks_on_a_line_inside_are_counted_from_the_end_nearer_to_the_edge_named() -> None:
    whole = unfold(front(), "centre")
    down = places(whole, spacing("centre", "neckline", 4, 20.0, 30.0))
    up = places(whole, spacing("centre", "waistline", 4, 30.0, 20.0))
    assert np.stack([place.at[0] for place in down]) == pytest.approx(np.stack([place.at[0] for place in reversed(up)]))
    assert down[0].at[0] == pytest.approx([0.0, 310.0])
    with pytest.raises(Trouble, match="nothing is set in from it"):
        places(whole, spacing("centre", "neckline", 4, 20.0, 30.0, inset=5.0))


def test_names_are_known_without_a_body_and_stay_through_unfolding_and_mirroring() -> None:
    piece = front()
    found = places(piece, spacing("centre", "neckline", 2, 20.0, 30.0, inset=10.0))
    paths = holes(piece, found, lanes(20.0), lanes(3.0), None, spacing("centre", "neckline", 2, 20.0, 30.0))
    made = with_lines(with_points(piece, "button", found, "button"), "hole", {"k1": paths[0], "k2": paths[1]}, "buttonhole")
    sketch = with_points(piece.sketch(), "button", 2, "button")
    sketch = with_lines(sketch, "hole", dict.fromkeys(("k1", "k2")), "buttonhole")
    assert names_of(made) == names_of(sketch)
    assert set(made.signs) == set(sketch.signs) == {"button.k1", "button.k2", "hole"}
    whole = unfold(made, "centre")
    assert {"left_button.k1", "right_button.k2"} < set(whole.points)
    assert {"left_hole.k1", "right_hole.k2"} < set(whole.edge_names())
    assert set(whole.signs) == {f"{side}_{name}" for side in ("left", "right") for name in made.signs}
    assert set(mirror(made).signs) == set(made.signs)


def test_a_place_is_the_other_piece_moved() -> None:
    pocket = polygon(((0, 0), (80, 0), (80, -90), (0, -90)), ("mouth", "outer", "base", "inner"), {})
    lines = laid(pocket, lanes(0.0, 0.0)[None], np.array([[60.0, 250.0], [70.0, 260.0]]), np.radians(lanes(10.0)))
    assert lines.keys() == laid_names(pocket).keys() == {"mouth", "outer", "base", "inner"}
    made = with_lines(front(np.array([1.0, 1.1])), "pocket", lines, "placement")
    mouth = made.sides("pocket.mouth")[0].drawn
    assert mouth.start[1] == pytest.approx([70.0, 260.0])
    assert mouth.end[1] - mouth.start[1] == pytest.approx(80.0 * np.array([np.cos(np.radians(10)), np.sin(np.radians(10))]))
    assert [float(length(path)[0]) for path in edge_path(made, "pocket")] == pytest.approx([80.0, 90.0, 80.0, 90.0])


def test_a_place_is_laid_by_any_point_of_the_other_piece() -> None:
    pocket = polygon(((0, 0), (80, 0), (80, -90), (0, -90)), ("mouth", "outer", "base", "inner"), {})
    base = laid(pocket, lanes(80.0, -90.0)[None], lanes(60.0, 250.0)[None], np.radians(lanes(90.0)))["base"]
    assert base is not None
    assert base.start[0] == pytest.approx([60.0, 250.0])
    assert base.end[0] == pytest.approx([60.0, 170.0])


@pytest.mark.parametrize(
    ("where", "message"),
    [
        (spacing("centre", "neckline", 3, 200.0, 200.0), "has no room for 3"),
        (spacing("centre", "neckline", 1, 900.0, 0.0), "the marks do not fit on `centre`"),
        (spacing("centre", "neckline", 3, 300.0, 0.0, through="bust_point"), "`bust_point` lies beyond the first or the last"),
        (spacing("centre", "side", 3, 10.0, 10.0), "`side` is not at an end of `centre`"),
    ],
)
def test_what_does_not_fit_is_told(where: Spacing, message: str) -> None:
    with pytest.raises(Trouble, match=message):
        places(marked(front(), 0.5), where)


def test_a_mark_off_the_cloth_or_of_a_taken_name_is_told() -> None:
    piece = skirt([300.0, 400.0])
    out = line(np.array([[100.0, 100.0]]), np.array([[350.0, 300.0]]))
    with pytest.raises(Trouble, match="`vent` does not lie on the piece") as caught:
        with_lines(piece, "vent", {"": out}, "slit")
    assert caught.value.lanes is not None
    assert caught.value.lanes.tolist() == [True, False]
    level_gap = 350.0 - (360.0 - 60.0 * 285.0 / 585.0)  # the side runs straight from (360, 15) to (300, 600)
    assert caught.value.figures["beyond `side` by"][0] == pytest.approx(level_gap * 585.0 / np.hypot(60.0, 585.0))
    with pytest.raises(Trouble, match="there is a `hem` already"):
        with_lines(piece, "hem", {"": out}, "slit")


def test_many_bodies_at_once_are_as_each_alone() -> None:
    grow = np.linspace(0.8, 1.3, 4)
    where = spacing("centre", "neckline", 5, 20.0, 30.0, inset=10.0, through="bust_point")
    together = places(marked(front(grow), 0.4), where)
    for k, factor in enumerate(grow):
        alone = places(marked(front(np.array([factor])), 0.4), where)
        found = np.stack([place.at[k] for place in together])
        assert found == pytest.approx(np.stack([place.at[0] for place in alone]), abs=1e-9)


def test_bodies_whose_mark_lies_beyond_other_edges_are_told_apart() -> None:
    piece = skirt([300.0, 400.0])
    out = line(np.array([[100.0, 300.0]]), np.array([[400.0, 300.0], [200.0, -50.0]]))
    with pytest.raises(Disagreement):
        with_lines(piece, "vent", {"": out}, "slit")
    for lane, edge in enumerate(("side", "hem")):
        one = np.array([lane])
        with pytest.raises(Trouble) as caught:
            with_lines(piece.take(one), "vent", {"": out.take(one)}, "slit")
        assert list(caught.value.figures) == [f"beyond `{edge}` by"]
