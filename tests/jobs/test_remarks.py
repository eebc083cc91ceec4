"""Numbers in a remark: each body's own, in the unit it was measured in, in the report and on the piece."""

from dataclasses import replace

import numpy as np
from godet.drawing.wording import PieceInfo, Unit, rows_of
from godet.jobs.outcome import outcomes
from godet.meaning.mentioned import mentioned
from godet.syntax.parser import parse
from support.reports import report
from support.styles import written

STYLE = """language 1
style "S"
point low = starting_point
point out = low outward bust_girth / 4
point top = out up 10 cm
length gathered = length of band.lower * 1.5
angle slant = 12.25 deg
piece band {
    line lower from low to out
    line outer from out to top
    line slanted from top to low
    grain up
    cut 1
    allow 1 cm
}
piece front = mirror band {
    grain up
    cut 1
    allow 1 cm
    remark "gather {gathered} to {length of band.lower}, slant {slant}, area {area of band}"
    remark "press"
}
"""

UNITS: tuple[Unit, ...] = ("cm", "in")


def test_each_body_reads_its_own_numbers_in_its_unit() -> None:
    made = written(STYLE)
    slim = replace(made.bodies[0], name="slim", measures={**made.bodies[0].measures, "bust_girth": 812.8}, unit="in")
    prepared = replace(made, bodies=(made.bodies[0], slim))
    both = report(prepared).bodies
    said = [next(list(one.remarks) for one in body.pieces if one.name == "front") for body in both]
    assert said[0] == ["gather 34.5 cm to 23 cm, slant 12.2 deg, area 115 cm2", "press"]
    assert said[1] == ["gather 12 in to 8 in, slant 12.2 deg, area 16 square in", "press"]
    pieces = [next(one for one in result.pieces if one.name == "front") for result in outcomes(prepared)[0]]
    alone = [one.piece.take(np.array([one.lane])) for one in pieces]
    labels = [rows_of(piece, PieceInfo("front", unit=unit)) for piece, unit in zip(alone, UNITS, strict=True)]
    assert [rows[1] for rows in labels] == [rows[0] for rows in said]


def test_a_name_in_a_remark_counts_as_used() -> None:
    assert not [one.message for one in written(STYLE).diagnostics if "never used" in one.message]
    tree, _ = parse(STYLE, "a.style")
    assert {"gathered", "slant"} <= mentioned(tree.sentences)
