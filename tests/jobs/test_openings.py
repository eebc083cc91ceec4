"""Where zips and other openings end is marked on both sides of their seam, so far from its upper end."""

from __future__ import annotations

import numpy as np
import pytest
from godet.drawing.marks import Label, Line, Mark
from godet.jobs.build import Wanted, plate
from godet.jobs.openings import endings
from godet.jobs.outcome import outcomes
from godet.pattern.which_ends import Sewn
from support.panels import panel
from support.styles import written


def endings_of(text: str) -> dict[str, list[tuple[str, float, str]]]:
    prepared = written("language 1\n" + text)
    assert prepared.style is not None, [one.message for one in prepared.diagnostics]
    (result,), _ = outcomes(prepared)
    found = endings(result, Sewn({one.name: one.piece for one in result.pieces}, result.seams))
    return {name: [(one.edge, one.at, one.text) for one in ends] for name, ends in found.items()}


PANELS = panel("front", 150, False, "waist", "centre", "side") + panel("back", 150, True, "waist", "centre", "side")
SEAM = "seam sides joins front.side to back.side\n"


def test_a_zip_ends_so_far_below_the_upper_end_of_its_seam_on_both_pieces() -> None:
    """The sides are 100 mm high, the zip 65 mm: it ends 35 mm above the hem, whichever way a piece runs."""
    found = endings_of(PANELS + SEAM + "closure side_zip in sides as_long_as 6.5 cm\n")
    called = {name: [text for _, _, text in ends] for name, ends in found.items()}
    assert called == {"front": ["side zip ends"], "back": ["side zip ends"]}
    heights = {name: edges[0][1] for name, edges in found.items()}
    assert sorted(heights.values()) == pytest.approx([35.0, 65.0])


@pytest.mark.parametrize(
    ("named", "text"), [("slit in sides as_long_as 4 cm", "slit ends"), ('gap in front.side as_long_as 4 cm "a zip"', "gap ends")]
)
def test_it_is_called_as_the_style_calls_it(named: str, text: str) -> None:
    found = endings_of(PANELS + SEAM + f"closure {named}\n")
    assert {said for ends in found.values() for _, _, said in ends} == {text}
    assert [*found] == (["front", "back"] if "sides" in named else ["front"])


def test_one_on_one_side_says_whose_and_one_in_one_of_two_seams_says_in_which() -> None:
    """Both pieces are cut twice: the zip is in one of the two side seams, or in the seam that is named."""
    found = endings_of(PANELS + SEAM + "closure side_zip in sides as_long_as 4 cm on left\n")
    assert {said for ends in found.values() for _, _, said in ends} == {"side zip ends, wearer's left only"}
    twice = SEAM + "seam others joins front.side to front.side\n"
    found = endings_of(PANELS + twice + "closure side_zip in sides as_long_as 4 cm\n")
    assert {name: [said for _, _, said in ends] for name, ends in found.items()} == {
        "front": ["side zip ends, in sides only"],
        "back": ["side zip ends"],
    }


def test_how_a_raw_edge_is_finished_is_written_along_it() -> None:
    """Not along a seam, nor along a hem, which is drawn as the fold it is."""
    bound = 'sewing side_bound stitch 301 seam "3.05.01" on front.waist + front.side\n'
    prepared = written("language 1\n" + PANELS + SEAM + bound)
    assert prepared.style is not None, [one.message for one in prepared.diagnostics]
    (result,), _ = outcomes(prepared)
    front = plate(prepared, result, prepared.bodies[0], Wanted()).drawings[0]
    said = [mark.text for mark in front.marks if isinstance(mark, Label)]
    assert "waist, side bound" in said
    assert "sides" in said
    assert not [text for text in said if text.startswith("side,")]


def test_one_as_long_as_its_seam_has_no_end_to_mark() -> None:
    assert endings_of(PANELS + SEAM + "closure side_zip in sides as_long_as length of front.side\n") == {}


def test_the_end_is_crossed_on_the_seam_line_and_named() -> None:
    prepared = written("language 1\n" + PANELS + SEAM + "closure side_zip in sides as_long_as 6.5 cm\n")
    assert prepared.style is not None
    (result,), _ = outcomes(prepared)
    for drawing in plate(prepared, result, prepared.bodies[0], Wanted()).drawings:
        marks: list[Mark] = [mark for mark in drawing.marks if mark.source == "side"]
        strokes = [mark.points for mark in marks if isinstance(mark, Line)]
        crosses = [points.mean(axis=0) for points in strokes if np.ptp(points, axis=0) == pytest.approx([5.0, 5.0])]
        assert len(crosses) == 2
        for middle in crosses:
            assert (abs(middle[0]), middle[1]) == pytest.approx((150.0, 35.0))
        assert [mark.text for mark in marks if isinstance(mark, Label)].count("side zip ends") == 1
        snips = [points for points in strokes if points[0, 1] == pytest.approx(35.0) == points[1, 1]]
        ((outer, inner),) = snips
        assert (abs(outer[0]), abs(inner[0])) == pytest.approx((160.0, 155.5))
