"""`tell`: a word on the bodies on which a condition holds, printed with its numbers; nothing fails for it."""

from __future__ import annotations

import json

import pytest
from godet.jobs.outcome import outcomes
from support.reports import as_json, as_text, report
from support.styles import said, values, written

STYLE = """language 1
style "S"
angle held = smaller of (larger of ({turn}, 10 deg), 40 deg)
number share = smaller of (3/2, 1)
length depth = 4 cm
tell deep when depth more_than 3 cm or held less_than 1 deg "deeper than most"
tell steep when held more_than 45 deg "steeper than most"
tell bare when share equals 1 tolerance 0.1
"""


def test_what_holds_is_told_with_what_is_compared_and_nothing_fails() -> None:
    made = written(STYLE.format(turn="50 deg"))
    ((one,), _) = outcomes(made)
    assert one.holds
    assert not one.checks
    rows = [(told.name, told.text, told.condition, told.figures) for told in one.tidings]
    assert rows == [
        ("deep", "deeper than most", "depth more_than 3 cm or held less_than 1 deg", "40.0 mm, 40.00 deg"),
        ("bare", "", "share equals 1 tolerance 0.1", "1, 1, 0.1"),
    ]


def test_it_stands_in_the_report_and_in_its_json() -> None:
    made = written(STYLE.format(turn="50 deg"))
    whole = report(made)
    assert "told: deep: deeper than most  (40.0 mm, 40.00 deg)\n" in as_text(whole)
    told = json.loads(as_json(whole))["bodies"][0]["tidings"]
    assert [one["name"] for one in told] == ["deep", "bare"]


@pytest.mark.parametrize(("turn", "held"), [("50 deg", "0.698"), ("2 deg", "0.175"), ("20 deg", "0.349")])
def test_angles_and_numbers_are_kept_as_lengths_are(turn: str, held: str) -> None:
    rows = values(written(STYLE.format(turn=turn))).splitlines()
    assert f"held: {held}" in rows
    assert "share: 1.000" in rows


def test_only_like_is_kept_within_like() -> None:
    assert "a length is wanted" in said(written("language 1\nlength a = smaller of (3 cm, 4 deg)\n")).replace("`", "")
