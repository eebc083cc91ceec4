"""Notches of one name on the two sides of a seam: they must meet, and what is gathered or eased lies between them as they say."""

import pytest
from godet.jobs.outcome import outcomes
from godet.jobs.results import SeamResult
from support.reports import as_text, report
from support.styles import said, written

TEXT = """language 1
point low = starting_point
point high = low up 30 cm
point wide = low outward {wide} cm
point wide_high = wide up 30 cm
point narrow = low outward 20 cm
point narrow_high = narrow up 30 cm
shape skirt_half {{
    line waist from high to wide_high
    line side from wide_high to wide
    line hem from wide to low
    line centre from low to high
    notch waist at 5 cm from centre called gather_start
    notch waist at 5 cm from side called gather_end
    edge gathering = waist between gather_start and gather_end
}}
shape band_half {{
    line upper from high to narrow_high
    line side from narrow_high to narrow
    line lower from narrow to low
    line centre from low to high
    notch lower at {start} cm from centre called gather_start
    notch lower at 5 cm from side called gather_end
}}
each piece {{
    allow 1 cm
    allow 3 cm on gathering
}}
piece front = skirt_half {{
    cut 2 as pair
    allow 2 cm on side between 10 cm from hem and hem
}}
piece band = band_half {{
    cut 2 as pair
}}
seam waist {how} front.waist to band.lower
"""


def sewn(how: str, wide: float, start: float) -> SeamResult:
    prepared = written(TEXT.format(how=how, wide=wide, start=start))
    assert prepared.style is not None, said(prepared)
    (result,), _ = outcomes(prepared)
    (seam,) = result.seams
    return seam


def test_gathers_lie_between_the_notches_that_say_so() -> None:
    """5 cm flat at each end, 20 cm on 10 cm between the notches."""
    seam = sewn("gathers", 30.0, 5.0)
    assert seam.holds
    rows = {(one.first, one.last): (round(one.left_mm), round(one.right_mm)) for one in seam.stretches}
    assert sorted(rows.values()) == [(50, 50), (50, 50), (200, 100)]
    assert {"gather_start", "gather_end"} in [set(ends) for ends in rows]
    assert [one.told("cm") for one in seam.stretches if one.left_mm > 100] == [
        "from `gather_end` to `gather_start`: 200.0 on 100.0, gathered 2.00 to 1"
    ]


@pytest.mark.parametrize(
    ("how", "wide", "start", "holds"),
    [
        ("joins", 20.0, 5.1, True),
        ("joins", 20.0, 5.3, False),
        ("joins", 20.0, 4.7, False),
        ("eases", 20.4, 4.9, True),
        ("eases", 20.4, 5.3, False),
        ("gathers", 30.0, 5.3, False),
    ],
)
def test_notches_more_than_2_mm_apart_do_not_meet(how: str, wide: float, start: float, holds: bool) -> None:
    assert sewn(how, wide, start).holds is holds


def test_a_notch_that_does_not_meet_is_told_with_both_distances() -> None:
    prepared = written(TEXT.format(how="joins", wide=20.0, start=6.0))
    results, _ = outcomes(prepared)
    (seam,) = results[0].seams
    told = [one.told("cm") for one in seam.stretches if not one.holds]
    assert told
    assert all("150.0 mm along the first edge and 140.0 mm along the second" in one for one in told)
    text = as_text(report(prepared))
    assert "`gather_start` does not meet `gather_start`" in text


def test_an_allowance_for_all_pieces_reaches_a_named_part_and_leaves_a_written_one() -> None:
    (result,), _ = outcomes(written(TEXT.format(how="gathers", wide=30.0, start=5.0)))
    widths = {edge.name: edge.allowance_mm for one in result.pieces if one.name == "front" for edge in one.edges}
    assert widths["gathering"] == 30.0
    assert widths["side between 10 cm from hem and hem"] == 20.0
    assert widths["centre"] == 10.0
