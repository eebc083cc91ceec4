"""Pictures of many bodies: everybody is drawn, what is allowed is hatched, the line lies where it is said to."""

from __future__ import annotations

import numpy as np
import pytest
from godet.drawing.marks import Circle, Label, Line
from godet.drawing.plots import SIDE, WIDE, Pair, Spread, pair, spreads, ticks


def test_each_body_of_a_pair_is_an_open_dot_or_a_filled_one() -> None:
    passed, failed = np.array([[900.0, 700.0], [950.0, 720.0], [990.0, 690.0]]), np.array([[800.0, 790.0], [820.0, 800.0]])
    sheet = pair(Pair("check room fails", "told", ("bust_girth, mm", "waist, mm"), passed, failed, ((1.0, -1.0, 150.0),)))
    open_dots = [mark.centre for mark in sheet.marks if isinstance(mark, Circle)]
    filled = [mark.points.mean(axis=0) for mark in sheet.marks if isinstance(mark, Line) and mark.filled]
    (line,) = (mark.points for mark in sheet.marks if mark.layer == "fold" and isinstance(mark, Line))
    assert (len(open_dots), len(filled)) == (3, 2)
    way = line[1] - line[0]
    sides = [np.sign(way[0] * (at - line[0])[1] - way[1] * (at - line[0])[0]) for at in (*open_dots, *filled)]
    assert sides[:3] == [sides[0]] * 3
    assert sides[3:] == [-sides[0]] * 2
    frame = next(mark.points for mark in sheet.marks if isinstance(mark, Line) and mark.closed and not mark.filled)
    assert np.allclose(np.ptp(frame, axis=0), SIDE)
    assert (line >= frame.min(axis=0) - 1e-6).all()
    assert (line <= frame.max(axis=0) + 1e-6).all()


def test_bars_stand_where_their_numbers_are_and_the_band_is_hatched() -> None:
    row = Spread("waist", "told", -10.0, 2.0, (0, 0, 1, 0, 4, 2, 0, 0, 0, 0), (-4.0, 4.0), (0, 3))
    sheet = spreads("A style", [row])
    bars = [mark.points for mark in sheet.marks if isinstance(mark, Line) and mark.filled and len(mark.points) == 4]
    assert [round(float(np.ptp(one[:, 1])) / float(np.ptp(bars[1][:, 1])), 6) for one in bars] == [0.25, 1.0, 0.5]
    lines = [mark.points for mark in sheet.marks if isinstance(mark, Line)]
    left = min(float(points[:, 0].min()) for points in lines if np.isclose(np.ptp(points[:, 0]), WIDE))
    hatched = np.concatenate([mark.points for mark in sheet.marks if mark.layer == "frame" and isinstance(mark, Line)])
    assert np.allclose([hatched[:, 0].min() - left, hatched[:, 0].max() - left], [0.3 * WIDE, 0.7 * WIDE])
    said = [mark.text for mark in sheet.marks if isinstance(mark, Label)]
    assert {*said} >= {"A style", "waist", "told", "-10", "0", "4", "3 beyond"}
    assert any(text.startswith("Hatched: what is allowed") for text in said)


def test_the_upright_counts_bodies() -> None:
    """A number on the upright stands as high as a bar of so many bodies."""
    sheet = spreads("A style", [Spread("waist", "told", 0.0, 10.0, (1200, 800), (None, None), (0, 0))])
    tops = [float(mark.points[:, 1].max()) for mark in sheet.marks if isinstance(mark, Line) and mark.filled]
    level = {mark.text: mark.at[1] + mark.height / 2 for mark in sheet.marks if isinstance(mark, Label)}
    assert [level["1,200"], level["800"]] == pytest.approx(tops)


@pytest.mark.parametrize(("low", "high"), [(0.0, 1.0), (-5.25, 5.25), (603.0, 987.0), (-1.0, 4000.0), (99.5, 101.0)])
def test_there_are_some_round_ticks(low: float, high: float) -> None:
    found = ticks(low, high)
    assert 4 <= len(found) <= 11
    assert low <= min(found) < max(found) <= high
