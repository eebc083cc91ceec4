"""The pieces of the bundled styles as a cutter reads them: all data, no words over others, smooth seams, ends marked."""

from __future__ import annotations

import re
from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from godet.drawing.arrange import Title
from godet.drawing.marks import Drawing, Label, Line
from godet.drawing.pages import Paper, paginate
from godet.geometry.length import direction_at, length
from godet.pattern.piece import Side
from support.sheets import on_body, sheet_of
from support.style_runs import PATTERNS

STYLES = sorted(PATTERNS.glob("*.style"))
FOUR = ("soprano_1", "alto_5", "mezzo_2", "soprano_2")  # thin, full, tall, short


def labels(drawing: Drawing) -> list[Label]:
    return [mark for mark in drawing.marks if isinstance(mark, Label)]


@pytest.mark.parametrize("style", STYLES, ids=lambda path: path.stem)
def test_no_words_stand_over_others_and_each_piece_has_all_its_data(style: Path) -> None:
    body = "bass_2" if style.stem in ("mens_trousers", "tenor_shirt") else "alto_5"
    for drawing in sheet_of(style.stem, body).drawings:
        texts = labels(drawing)
        boxes = [shapely.Polygon(one.box) for one in texts]
        pairs = combinations(range(len(boxes)), 2)
        over = [(texts[i].text, texts[k].text) for i, k in pairs if boxes[i].intersection(boxes[k]).area > 1e-6]
        assert not over, (drawing.name, over)
        said = " ".join(one.text for one in texts)
        for data in (drawing.name, "cut ", "allowance", "included: ", "version"):
            assert data in re.sub(" +", " ", said), (drawing.name, data)


@pytest.mark.parametrize("style", STYLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_no_page_is_printed_for_words_alone(style: Path, paper: Paper) -> None:
    drawings = sheet_of(style.stem, "bass_2" if style.stem in ("mens_trousers", "tenor_shirt") else "alto_5").drawings
    pages = paginate(drawings, Title("style"), paper)
    left, bottom, width, height = pages.window
    for page in pages.pages:
        shown = shapely.box(left, bottom, left + width, bottom + height)
        assert any(shapely.Polygon(one.outline + page.shift).intersects(shown) for one in pages.drawings), page.name


def between(one: Side, other: Side) -> float:
    """The angle, degrees, by which the outline turns from one side to the next."""
    a, b = direction_at(one.drawn, length(one.drawn))[0], direction_at(other.drawn, np.zeros(1))[0]
    return float(np.degrees(np.arccos(np.clip(a @ b, -1.0, 1.0))))


@pytest.mark.parametrize("body", FOUR)
def test_the_drape_of_the_concert_top_hangs_from_a_smooth_line(body: str) -> None:
    front = on_body("concert_top", body)[1]["front"]
    legs = [side for side in front.ring if any(name.endswith(("inner_leg", "outer_leg")) for name in side.names)]
    turns = [between(one, other) for one, other in pairwise(legs)]
    assert sum(turn > 2.0 for turn in turns) == 1, turns  # at its end alone


@pytest.mark.parametrize("body", FOUR)
def test_the_slit_of_the_concert_top_is_nicked_at_its_end_on_back_and_facing(body: str) -> None:
    for name in ("back", "back_facing"):
        piece = on_body("concert_top", body)[1][name]
        (centre,) = (k for k, side in enumerate(piece.ring) if "centre" in side.names)
        beside = "slit" in piece.ring[centre - 1].names
        end = 0.0 if beside else float(length(piece.ring[centre].drawn)[0])
        assert end in [pytest.approx(float(notch.at[0]), abs=0.01) for notch in piece.notches if notch.side == centre]


@pytest.mark.parametrize("body", FOUR)
def test_the_trousers_have_their_stitching_nicks_and_grain(body: str) -> None:
    _, pieces = on_body("plain_trousers", body)
    front = next(drawing for drawing in sheet_of("plain_trousers", body).drawings if drawing.name == "front")
    (crease,) = pieces["front"].sides("crease")
    stems = [mark.points for mark in front.marks if isinstance(mark, Line) and mark.layer == "grain" and not mark.filled]
    assert [x for stem in stems for x in stem[:, 0]] == pytest.approx([float(crease.drawn.start[0, 0])] * 2)
    stitched = pieces["front"].sides("fly_stitching_of_the_left")
    cloth = shapely.Polygon(np.concatenate([side.drawn.controls[0, :, 0] for side in pieces["front"].ring])).buffer(3.0)
    assert all(cloth.contains(shapely.LineString(side.drawn.controls[0].reshape(-1, 2))) for side in stitched)
    for name in ("pocket_bag", "pocket_facing"):
        mouth = next(k for k, side in enumerate(pieces[name].ring) if "mouth" in side.names)
        long = float(length(pieces[name].ring[mouth].drawn)[0])
        places = sorted(float(notch.at[0]) for notch in pieces[name].notches if notch.side == mouth)
        assert places == pytest.approx([0.0, long])
