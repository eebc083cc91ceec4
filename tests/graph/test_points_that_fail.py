"""Points that cannot be found, told where nothing is cut yet, and with what to write instead."""

from __future__ import annotations

from godet.jobs.outcome import outcomes
from support.doubts import CUT, box
from support.styles import written


def test_a_style_that_cuts_nothing_yet_is_told_what_is_wrong_in_its_shapes() -> None:
    text = (
        "language 1\npoint far = starting_point up 3 cm\npoint near = starting_point outward 3 cm\n"
        "line first from starting_point to near\nline second from far to (far outward 3 cm)\n"
        "point lost = where first crosses second\nshape drawn {\n    line low from starting_point to near\n"
        "    line side from near to lost\n    line back from lost to starting_point\n}\n"
    )
    ((result,), _) = outcomes(written(text))
    assert [one.message for one in result.errors] == ["these do not meet"]


def test_a_level_that_meets_no_edge_in_a_corner_is_told_with_what_to_write() -> None:
    """And what is to be written can be drawn."""
    text = f"language 1\n{box('one', '30 cm', '')}line low from (one_a up 8 cm) to (one_b up 8 cm)\n"
    text += "shape two = one {\n    mark_level waist along low meeting centre, side\n}\npoint spot = SPOT\n"
    text += f"line to_spot from spot to one_a\npiece three = two {{\n    mark to_spot called drawn\n{CUT}}}\n"
    ((result,), _) = outcomes(written(text.replace("SPOT", "two.waist at side")))
    (told,) = result.errors
    assert told.message == "`waist` and `side` do not meet in a corner"
    advice = told.fix.split("`")[1]
    assert advice == "where two.waist crosses two.side"
    ((result,), _) = outcomes(written(text.replace("SPOT", advice)))
    assert result.errors == ()
