"""Ends of edges, truing, drawing a stretch anew, renaming."""

import numpy as np
import pytest
from godet.geometry.length import length, point_at
from godet.geometry.path import end_direction, line, start_direction
from godet.pattern.check import faults
from godet.pattern.darts import open_to_edge
from godet.pattern.edges import as_one, edge_from, edge_length, rename
from godet.pattern.piece import Trouble
from godet.pattern.redrawing import redraw
from godet.pattern.routes import divide
from godet.pattern.slash import evenly, hinged, slash
from godet.pattern.truing import true_edge
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, front, lanes, names_of, skirt
from support.drawn_pieces import front as drawn_front
from test_darts_on_a_piece import diamond, with_waist_dart


def test_the_end_an_edge_is_measured_from_is_told_by_its_neighbour() -> None:
    piece = front()
    assert edge_from(piece, "armhole", "side") == "start"
    assert edge_from(piece, "armhole", "shoulder") == "end"
    assert edge_from(piece, "bust_dart.inner_leg", "armhole") == "end"
    assert edge_from(piece, "bust_dart.inner_leg", "bust_point") == "start"
    assert edge_from(piece, "bust_dart.inner_leg", "bust_dart") == "start"
    with pytest.raises(Trouble, match="`neckline` is not at an end of `armhole`"):
        edge_from(piece, "armhole", "neckline")
    for name in ("armhole", "shoulder"):
        for mark in ("side", "shoulder", "armhole", "neckline"):
            answers = []
            for one in (piece, piece.sketch()):
                try:
                    answers.append(edge_from(one, name, mark))
                except Trouble as trouble:
                    answers.append(trouble.message)  # type: ignore[arg-type]  # words compared with words
            assert answers[0] == answers[1]


def test_a_dart_on_an_edge_does_not_part_it() -> None:
    plain = skirt([240.0])
    piece = with_waist_dart(plain)
    assert edge_from(piece, "waistline", "centre") == edge_from(plain, "waistline", "centre")
    piece = open_to_edge(diamond(plain), "waist_dart", "hem")
    assert edge_from(piece, "hem", "centre") == edge_from(plain, "hem", "centre")
    np.testing.assert_allclose(edge_length(piece, "hem"), edge_length(plain, "hem"))


@settings(max_examples=20, deadline=None)
@given(st.floats(0.05, 0.95), st.booleans())
def test_two_edges_that_meet_are_one_and_a_line_may_end_where_they_met(share: float, turned: bool) -> None:
    before = skirt([240.0, 300.0])
    names = ("side", "waistline") if turned else ("waistline", "side")
    piece = as_one(before, *names, "top")
    both = edge_length(before, "side") + edge_length(before, "waistline")
    np.testing.assert_allclose(edge_length(piece, "top"), both, atol=1e-9)
    for name in names:
        np.testing.assert_allclose(edge_length(piece, f"top.of_{name}"), edge_length(before, name), atol=1e-9)
        assert name in piece.removed
    assert names_of(piece) == names_of(as_one(before.sketch(), *names, "top"))
    met = before.sides("side")[0].drawn.end
    hem = before.sides("hem")[0].drawn
    drawn = line(met, point_at(hem, length(hem) * share))
    parts = [divide(piece, drawn, ("top", "hem"), keep=keep, called="cut") for keep in ("centre", "top.of_side")]
    np.testing.assert_allclose(area(parts[0]) + area(parts[1]), area(before), rtol=1e-9)
    np.testing.assert_allclose(edge_length(parts[0], "top"), edge_length(before, "waistline"), atol=1e-6)


def test_only_edges_that_meet_become_one() -> None:
    before = skirt([240.0])
    with pytest.raises(Trouble, match="do not meet"):
        as_one(before, "hem", "waistline", "top")
    with pytest.raises(Trouble, match="lies on the fold"):
        as_one(before, "hem", "centre", "top")
    with pytest.raises(Trouble, match="there is a `centre` already"):
        as_one(before, "hem", "side", "centre")


def test_a_trued_edge_is_one_side_of_nearly_the_same_length_with_its_marks() -> None:
    before = skirt([240.0, 300.0])
    cuts = evenly(before, "hem", "waistline", 5)
    flared = slash(before, cuts, hinged(cuts, "waistline", [lanes(20.0)] * 5)).piece
    piece, moved = true_edge(flared, "hem")
    assert faults(piece) == []
    (hem,), parts = piece.sides("hem"), flared.sides("hem")
    np.testing.assert_allclose(start_direction(hem.drawn), start_direction(parts[0].drawn), atol=1e-9)
    np.testing.assert_allclose(end_direction(hem.drawn), end_direction(parts[-1].drawn), atol=1e-9)
    assert (moved < 3.0).all()
    np.testing.assert_allclose(edge_length(piece, "hem"), edge_length(flared, "hem"), rtol=0.02)
    with pytest.raises(Trouble, match="broken by a dart"):
        true_edge(with_waist_dart(before), "waistline")


def test_a_hem_drawn_anew_shortens_its_neighbours() -> None:
    before = skirt([240.0, 300.0])
    side, centre = before.sides("side")[0].drawn, before.sides("centre")[0].drawn
    a, b = point_at(centre, length(centre) - 100.0), point_at(side, lanes(80.0))
    for path in (line(a, b), line(b, a)):
        piece = redraw(before, ["hem"], [("short_hem", path)])
        assert faults(piece) == []
        np.testing.assert_allclose(edge_length(piece, "side"), length(side) - 80.0)
        np.testing.assert_allclose(edge_length(piece, "centre"), length(centre) - 100.0)
        assert (area(piece) < area(before)).all()
        assert "drawn anew" in piece.removed["hem"]
        promised = redraw(before.sketch(), ["hem"], [("short_hem", None)])
        assert names_of(promised) == names_of(piece)
    with pytest.raises(Trouble, match="does not meet `side`"):
        redraw(before, ["hem"], [("short_hem", line(a, b + 5.0))])
    with pytest.raises(Trouble, match="do not follow each other"):
        redraw(before, ["hem", "waistline"], [("x", line(a, b))])
    with pytest.raises(Trouble, match="cannot begin at `waistline`"):
        redraw(before, ["hem"], [("x", line(a, b))], "waistline")
    halves = [("one", line(b, (a + b) / 2.0)), ("two", line((a + b) / 2.0, a))]
    with pytest.raises(Trouble, match="at which end the new edges begin"):
        redraw(before, ["hem"], halves)
    assert faults(redraw(before, ["hem"], halves, "side")) == []


def test_an_armhole_drawn_anew_takes_its_dart_away() -> None:
    before = front()
    a, b = before.sides("side")[0].drawn.end, before.sides("shoulder")[0].drawn.start
    piece = redraw(before, ["armhole"], [("armhole", line(a, b))])
    assert faults(piece) == []
    assert piece.dart_names() == ()
    assert set(piece.removed) == {"bust_dart", "bust_dart.inner_leg", "bust_dart.outer_leg"}


def test_renaming_takes_the_parts_along_and_refuses_clashes() -> None:
    piece = rename(front(), {"bust_dart": "upper_dart", "side": "flank"})
    assert piece.dart_names() == ("upper_dart",)
    assert "upper_dart.inner_leg" in piece.edge_names()
    assert piece.removed["side"] == "it was renamed `flank`"
    allowed = rename(drawn_front(), {"waistline": "waist"}).finish.allowances
    assert allowed == {"waist" if name == "waistline" else name: one for name, one in drawn_front().finish.allowances.items()}
    swapped = rename(front(), {"side": "shoulder", "shoulder": "side"})
    np.testing.assert_allclose(edge_length(swapped, "side"), edge_length(front(), "shoulder"))
    with pytest.raises(Trouble, match="already"):
        rename(front(), {"side": "shoulder"})
    with pytest.raises(Trouble, match="no `sides`"):
        rename(front(), {"sides": "flank"})
